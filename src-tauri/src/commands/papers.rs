//! Photos and signatures, in and out.

use std::sync::Arc;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use office::Desk;
use tauri::async_runtime::spawn_blocking;

use super::call::InRoom;
use crate::photo;
use crate::refusal::Refusal;
use crate::room::held;
use crate::views::{Attached, PaperForm};
use office::Act;

#[tauri::command]
pub(crate) async fn attach(room: InRoom<'_>, paper: PaperForm) -> Result<Attached, Refusal> {
    room.admit(Act::KeepPhoto)?;
    // Reading a photo takes a while: neither the window nor the writing thread waits for it.
    let name = paper.name.clone();
    let (ready, original) = spawn_blocking(move || ready(&paper)).await.map_err(|_| Refusal::broken())??;
    room.write(Act::KeepPhoto, move |writing| {
        keep(&mut writing.desk, &ready, original.as_ref(), name.as_deref())
    })
    .await
}

/// Keeps the picture as it is shown and, where asked, the file as it came.
fn keep(
    desk: &mut Desk,
    ready: &photo::Ready,
    original: Option<&photo::Original>,
    name: Option<&str>,
) -> Result<Attached, Refusal> {
    // The original first: a picture without it would say that there never was one.
    let original = original
        .map(|came| office::attach(desk, &came.bytes, &came.media_type, name).map(|kept| kept.hash))
        .transpose()?;
    let kept = office::attach(desk, &ready.bytes, ready.media_type, name)?;
    Ok(Attached {
        original: original.filter(|hash| *hash != kept.hash),
        id: kept.id,
        hash: kept.hash,
        media_type: kept.media_type,
        bytes: kept.bytes,
    })
}

fn ready(paper: &PaperForm) -> Result<(photo::Ready, Option<photo::Original>), Refusal> {
    if paper.bytes_base64.len() / 4 * 3 > photo::MOST_BYTES {
        return Err(Refusal::of_field(
            "photo",
            "The file has more than 40 MiB, which is the most.",
            "Take the picture at a smaller size.",
        ));
    }
    if !paper.media_type.starts_with("image/") {
        let message = format!("The file is of the kind “{}”, which is no photo.", paper.media_type);
        return Err(Refusal::of_field("photo", message, "Choose a photo: JPEG, PNG or WebP."));
    }
    let bytes = STANDARD
        .decode(&paper.bytes_base64)
        .map_err(|_| Refusal::of_field("photo", "The photo did not arrive whole.", "Choose it again."))?;
    let ready = photo::ready(&bytes)?;
    let media_type = paper.media_type.clone();
    Ok((ready, paper.original.then_some(photo::Original { bytes, media_type })))
}

#[tauri::command]
pub(crate) async fn attachment(room: InRoom<'_>, hash: String, preview: bool) -> Result<String, Refusal> {
    room.admit(Act::SeeSitePhoto)?;
    if preview && let Some(small) = held(&room.previews).get(&hash) {
        return Ok(small);
    }
    let asked = hash.clone();
    let (bytes, media_type) =
        room.read(Act::SeeSitePhoto, move |desk| Ok(office::paper(desk, &asked)?)).await?;
    // Not while reading: many photos wait for one another here, and would keep as many files open.
    let beside = Arc::clone(&room);
    let shown = spawn_blocking(move || {
        if !preview {
            return Ok(data_url(&bytes, &media_type));
        }
        let small = photo::preview(&bytes)?;
        let small = data_url(&small.bytes, small.media_type);
        held(&beside.previews).put(hash, small.clone());
        Ok(small)
    });
    shown.await.map_err(|_| Refusal::broken())?
}

fn data_url(bytes: &[u8], media_type: &str) -> String {
    format!("data:{media_type};base64,{}", STANDARD.encode(bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_base64_or_not_a_photo_is_refused_at_its_field() {
        let paper = |text: &str| PaperForm {
            bytes_base64: text.to_owned(),
            media_type: "image/jpeg".to_owned(),
            name: None,
            original: false,
        };
        for text in ["?", "aGVsbG8=", ""] {
            assert_eq!(ready(&paper(text)).unwrap_err().field.as_deref(), Some("photo"), "{text}");
        }
        assert_eq!(data_url(b"hi", "image/png"), "data:image/png;base64,aGk=");
    }

    #[test]
    fn a_photo_is_kept_as_shown_and_as_it_came() {
        let home = tempfile::tempdir().unwrap();
        let path = home.path().join("firm.tearoff");
        let mut desk = office::sample::write(&path, &mut |_, _| true).unwrap();
        let came = photo::tests::sideways(400, 300);
        let paper = |original| PaperForm {
            bytes_base64: STANDARD.encode(&came),
            media_type: "image/jpeg".to_owned(),
            name: Some("valley.jpg".to_owned()),
            original,
        };
        let (clean, as_it_came) = ready(&paper(true)).unwrap();
        let kept = keep(&mut desk, &clean, as_it_came.as_ref(), None).unwrap();
        let original = kept.original.unwrap();
        assert_ne!(original, kept.hash);
        assert_eq!(office::paper(&desk, &original).unwrap().0, came);
        assert_ne!(office::paper(&desk, &kept.hash).unwrap().0, came);
        let (clean, as_it_came) = ready(&paper(false)).unwrap();
        assert_eq!(keep(&mut desk, &clean, as_it_came.as_ref(), None).unwrap().original, None);
    }
}
