//! Photos and signatures, in and out.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use office::Kept;
use tauri::async_runtime::spawn_blocking;

use super::InRoom;
use crate::photo;
use crate::refusal::Refusal;
use crate::room::For;
use crate::views::PaperForm;

#[tauri::command]
pub(crate) async fn attach(room: InRoom<'_>, paper: PaperForm) -> Result<Kept, Refusal> {
    room.admit(For::Anyone, "Keeping a photo")?;
    // Reading a photo takes a while: neither the window nor the writing thread waits for it.
    let name = paper.name.clone();
    let ready = spawn_blocking(move || ready(&paper)).await.map_err(|_| Refusal::broken())??;
    room.write(move |writing| {
        Ok(office::attach(&mut writing.desk, &ready.bytes, ready.media_type, name.as_deref())?)
    })
    .await
}

fn ready(paper: &PaperForm) -> Result<photo::Ready, Refusal> {
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
    photo::ready(&bytes)
}

#[tauri::command]
pub(crate) async fn attachment(room: InRoom<'_>, hash: String, preview: bool) -> Result<String, Refusal> {
    room.admit(For::Anyone, "A photo")?;
    room.read(move |desk| {
        let (bytes, media_type) = office::paper(desk, &hash)?;
        if preview {
            let small = photo::preview(&bytes)?;
            return Ok(data_url(&small.bytes, small.media_type));
        }
        Ok(data_url(&bytes, &media_type))
    })
    .await
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
        };
        for text in ["?", "aGVsbG8=", ""] {
            assert_eq!(ready(&paper(text)).unwrap_err().field.as_deref(), Some("photo"), "{text}");
        }
        assert_eq!(data_url(b"hi", "image/png"), "data:image/png;base64,aGk=");
    }
}
