//! Photos on their way in: turned upright, without place or device data, and no larger than they need to be.

use std::collections::VecDeque;
use std::io::Cursor;
use std::sync::{Mutex, PoisonError};

use image::codecs::jpeg::JpegEncoder;
use image::{DynamicImage, ImageDecoder, ImageFormat, ImageReader, Limits};

use crate::refusal::Refusal;

/// The longer side of a photo that is kept, in pixels: enough to read a tape measure on.
const LONGEST_PX: u32 = 2048;
/// The longer side of a preview, in pixels.
const PREVIEW_PX: u32 = 320;
/// The largest file that is read: 40 MiB.
pub(crate) const MOST_BYTES: usize = 40 * 1024 * 1024;
/// The longest side that is decoded, in pixels, and the most memory for it.
const MOST_PX: u32 = 20_000;
const MOST_MEMORY: u64 = 512 * 1024 * 1024;

const QUALITY: u8 = 86;

/// One photo is unfolded at a time: each may take half a gigabyte, and the window needs the rest of the machine.
static UNFOLDING: Mutex<()> = Mutex::new(());

/// Small pictures that were made lately, by the hash of what they show: a page that is seen again makes none anew.
#[derive(Debug, Default)]
pub(crate) struct Previews(VecDeque<(String, String)>);

impl Previews {
    /// So many are kept, of some ten thousand bytes each.
    const MOST: usize = 240;

    pub(crate) fn get(&mut self, hash: &str) -> Option<String> {
        let at = self.0.iter().position(|(kept, _)| kept == hash)?;
        let found = self.0.remove(at)?;
        let text = found.1.clone();
        self.0.push_back(found);
        Some(text)
    }

    pub(crate) fn put(&mut self, hash: String, text: String) {
        self.0.retain(|(kept, _)| *kept != hash);
        self.0.push_back((hash, text));
        while self.0.len() > Self::MOST {
            self.0.pop_front();
        }
    }

    pub(crate) fn clear(&mut self) {
        self.0.clear();
    }
}

/// A photo as it is kept.
#[derive(Debug)]
pub(crate) struct Ready {
    pub(crate) bytes: Vec<u8>,
    pub(crate) media_type: &'static str,
}

/// A photo as it came, with whatever it says of where and with what it was taken.
#[derive(Debug)]
pub(crate) struct Original {
    pub(crate) bytes: Vec<u8>,
    pub(crate) media_type: String,
}

/// Makes a photo ready to be kept. Whatever the file said of where and with what it was taken is left behind, because
/// the picture is written anew.
pub(crate) fn ready(bytes: &[u8]) -> Result<Ready, Refusal> {
    if bytes.is_empty() {
        return Err(Refusal::of_field("photo", "The file is empty.", "Take the picture again."));
    }
    if bytes.len() > MOST_BYTES {
        let size = bytes.len().div_ceil(1024 * 1024);
        let message = format!("The file has {size} MiB, and 40 MiB is the most.");
        return Err(Refusal::of_field("photo", message, "Take the picture at a smaller size."));
    }
    let (image, format) = decoded(bytes, LONGEST_PX)?;
    // Lines of ink stay sharp and clear as PNG; everything else is a photograph.
    if format == ImageFormat::Png { png(&image) } else { jpeg(&image) }
}

/// A small picture of a kept photo.
pub(crate) fn preview(bytes: &[u8]) -> Result<Ready, Refusal> {
    let (image, format) = decoded(bytes, PREVIEW_PX)?;
    if format == ImageFormat::Png { png(&image) } else { jpeg(&image) }
}

/// Reads a picture, no longer on a side than asked for, and turned upright.
fn decoded(bytes: &[u8], longest: u32) -> Result<(DynamicImage, ImageFormat), Refusal> {
    if is_heic(bytes) {
        return Err(Refusal::of_field(
            "photo",
            "The camera keeps its photos as HEIC, which cannot be read here.",
            "Set the camera to JPEG, often called “most compatible”, in its settings under format, and take it again.",
        ));
    }
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|_| no_photo())?;
    let format = reader.format().ok_or_else(no_photo)?;
    // Named, because what the reading library can do besides depends on who else in the program uses it.
    if !matches!(format, ImageFormat::Jpeg | ImageFormat::Png | ImageFormat::WebP) {
        return Err(no_photo());
    }
    // A photograph that stops half-way is decoded by some with gray for the rest: no proof of anything.
    if format == ImageFormat::Jpeg && !is_whole_jpeg(bytes) {
        return Err(cut_short("it ends in the middle"));
    }
    let mut limits = Limits::default();
    limits.max_image_width = Some(MOST_PX);
    limits.max_image_height = Some(MOST_PX);
    limits.max_alloc = Some(MOST_MEMORY);
    reader.limits(limits);
    let _alone = UNFOLDING.lock().unwrap_or_else(PoisonError::into_inner);
    let mut decoder = reader.into_decoder().map_err(|error| unread(&error))?;
    let upright = decoder.orientation().map_err(|error| unread(&error))?;
    let image = DynamicImage::from_decoder(decoder).map_err(|error| unread(&error))?;
    // Made small first: a small picture is turned in a third of the time.
    let mut image = within(image, longest);
    image.apply_orientation(upright);
    Ok((image, format))
}

/// Whether a file says of itself that it is HEIC: the brand in the box that it begins with (ISO/IEC 14496-12, 4.3), one
/// of those of ISO/IEC 23008-12.
fn is_heic(bytes: &[u8]) -> bool {
    let brands: [&[u8; 4]; 8] = [b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"];
    bytes.get(4..8) == Some(b"ftyp") && brands.iter().any(|brand| bytes.get(8..12) == Some(brand.as_slice()))
}

fn within(image: DynamicImage, longest: u32) -> DynamicImage {
    if image.width().max(image.height()) <= longest {
        return image;
    }
    // Each pixel is the mean of those it stands for. A smoother filter takes four times as long, works in floats that
    // need three times the memory, and shows no more of a rafter.
    image.thumbnail(longest, longest)
}

fn jpeg(image: &DynamicImage) -> Result<Ready, Refusal> {
    let mut bytes = Vec::new();
    let encoder = JpegEncoder::new_with_quality(&mut bytes, QUALITY);
    image.to_rgb8().write_with_encoder(encoder).map_err(|error| unread(&error))?;
    Ok(Ready { bytes, media_type: "image/jpeg" })
}

fn png(image: &DynamicImage) -> Result<Ready, Refusal> {
    let mut bytes = Cursor::new(Vec::new());
    image.write_to(&mut bytes, ImageFormat::Png).map_err(|error| unread(&error))?;
    Ok(Ready { bytes: bytes.into_inner(), media_type: "image/png" })
}

/// Whether the picture's own end follows its beginning. A small picture inside the Exif part has an end of its own, so
/// the parts before the picture are stepped over by their lengths (ITU-T T.81, B.1).
fn is_whole_jpeg(bytes: &[u8]) -> bool {
    const SCAN: u8 = 0xda;
    const END: [u8; 2] = [0xff, 0xd9];
    let mut at = 2;
    while let Some(&[0xff, marker, high, low]) = bytes.get(at..at + 4) {
        if marker == SCAN {
            return bytes.get(at..).is_some_and(|rest| rest.windows(2).any(|pair| pair == END));
        }
        at += 2 + usize::from(u16::from_be_bytes([high, low]));
    }
    false
}

fn no_photo() -> Refusal {
    Refusal::of_field(
        "photo",
        "The file is not a photo that can be read here: JPEG, PNG and WebP can.",
        "Take the picture as JPEG, or save it as one.",
    )
}

fn unread(error: &image::ImageError) -> Refusal {
    if matches!(error, image::ImageError::Limits(_)) {
        let message = format!("The photo is larger than {MOST_PX} pixels on a side, or than memory allows.");
        return Refusal::of_field("photo", message, "Take the picture at a smaller size.");
    }
    cut_short(&error.to_string())
}

fn cut_short(why: &str) -> Refusal {
    Refusal::of_field(
        "photo",
        format!("The photo could not be read to its end ({why}). Nothing was kept of it."),
        "Take it again, or copy it again if it came from elsewhere.",
    )
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use image::{Rgb, RgbImage};

    /// A JPEG, red on the left and blue on the right, that says in its Exif part that it was taken on its side.
    pub(crate) fn sideways(width: u32, height: u32) -> Vec<u8> {
        let picture =
            RgbImage::from_fn(
                width,
                height,
                |x, _| {
                    if x < width / 2 { Rgb([250, 0, 0]) } else { Rgb([0, 0, 250]) }
                },
            );
        let plain = jpeg(&DynamicImage::ImageRgb8(picture)).unwrap().bytes;
        // TIFF 6.0: little-endian, one directory with one entry, tag 0x0112 (orientation), a short of value 6.
        let mut tiff = b"II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0\x06\0\0\0\0\0\0\0".to_vec();
        tiff.extend_from_slice(b"made with a camera");
        let mut part = b"Exif\0\0".to_vec();
        part.extend_from_slice(&tiff);
        let length = u16::try_from(part.len() + 2).unwrap().to_be_bytes();
        let mut bytes = vec![0xff, 0xd8, 0xff, 0xe1, length[0], length[1]];
        bytes.extend_from_slice(&part);
        bytes.extend_from_slice(&plain[2..]);
        bytes
    }

    fn has(bytes: &[u8], words: &[u8]) -> bool {
        bytes.windows(words.len()).any(|window| window == words)
    }

    #[test]
    fn a_photo_is_turned_upright_made_smaller_and_says_nothing_of_the_camera() {
        let taken = sideways(3000, 1000);
        assert!(has(&taken, b"camera"));
        let kept = ready(&taken).unwrap();
        assert_eq!(kept.media_type, "image/jpeg");
        assert!(!has(&kept.bytes, b"camera") && !has(&kept.bytes, b"Exif"));
        let image = image::load_from_memory(&kept.bytes).unwrap().to_rgb8();
        assert_eq!(image.dimensions(), (683, 2048));
        // Turned a quarter to the right, what was on the left is on top.
        assert!(image.get_pixel(340, 100)[0] > 200, "red is not on top");
        assert!(image.get_pixel(340, 1900)[2] > 200, "blue is not below");
        let small = preview(&kept.bytes).unwrap();
        assert_eq!(image::load_from_memory(&small.bytes).unwrap().height(), 320);
    }

    #[test]
    fn a_signature_stays_as_clear_as_it_was_drawn() {
        let drawn = png(&DynamicImage::new_rgba8(300, 120)).unwrap().bytes;
        let kept = ready(&drawn).unwrap();
        assert_eq!(kept.media_type, "image/png");
        assert_eq!(image::load_from_memory(&kept.bytes).unwrap().to_rgba8().get_pixel(0, 0)[3], 0);
    }

    #[test]
    fn what_is_no_photo_or_only_half_of_one_is_refused_in_words() {
        let whole = sideways(400, 300);
        let refused = |bytes: &[u8]| ready(bytes).unwrap_err();
        assert!(refused(b"%PDF-1.7 something").message.contains("not a photo"));
        assert!(refused(b"").message.contains("empty"));
        for length in [20, 120, whole.len() / 2, whole.len() - 2] {
            let half = refused(&whole[..length]);
            assert_eq!(half.field.as_deref(), Some("photo"));
            assert!(half.message.contains("could not be read"), "{length}: {}", half.message);
        }
        assert!(refused(&vec![0; MOST_BYTES + 1]).message.contains("40 MiB is the most"));
    }

    /// The check that ends each part of a PNG (ISO/IEC 15948, annex D).
    fn check_of(part: &[u8]) -> [u8; 4] {
        let mut check = u32::MAX;
        for byte in part {
            check ^= u32::from(*byte);
            for _ in 0..8 {
                check = if check & 1 == 1 { (check >> 1) ^ 0xedb8_8320 } else { check >> 1 };
            }
        }
        (!check).to_be_bytes()
    }

    #[test]
    fn a_small_file_that_unfolds_beyond_all_measure_is_refused_before_it_does() {
        let mut bomb = png(&DynamicImage::new_rgb8(8, 8)).unwrap().bytes;
        // The head says how large it is: bytes 16 to 24, with their check behind.
        for side in [16, 20] {
            bomb[side..side + 4].copy_from_slice(&30_000_u32.to_be_bytes());
        }
        let check = check_of(&bomb[12..29]);
        bomb[29..33].copy_from_slice(&check);
        let refusal = ready(&bomb).unwrap_err();
        assert_eq!(refusal.field.as_deref(), Some("photo"));
        assert!(refusal.message.contains("larger than 20000 pixels"), "{}", refusal.message);
    }

    /// A picture altered in one to three places by a seed: bits turned, bytes lost or doubled, its end cut off.
    fn altered(whole: &[u8], seed: u64) -> Vec<u8> {
        // The multiplier and increment of Knuth's MMIX generator.
        let mut state = seed;
        let mut below = |most: usize| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            usize::try_from(state >> 33).unwrap() % most.max(1)
        };
        let mut bytes = whole.to_vec();
        for _ in 0..=below(3) {
            // Half of them where the picture says what it is.
            let from = if below(2) == 0 { below(bytes.len().min(200)) } else { below(bytes.len()) };
            let to = (from + 1 + below(30)).min(bytes.len());
            match below(5) {
                0 => bytes.truncate(from),
                1 => drop(bytes.drain(from..to)),
                2 => {
                    let again = bytes[from..to].to_vec();
                    bytes.splice(from..from, again);
                }
                3 => bytes[from..to].fill(0xff),
                _ => bytes[from] ^= 1 << below(8),
            }
            if bytes.is_empty() {
                break;
            }
        }
        bytes
    }

    /// An altered picture over which anything fell is kept in `tests/fuzz/found`, and tried again here.
    #[test]
    fn a_picture_altered_anywhere_is_read_or_refused() {
        let found = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/fuzz/found");
        for file in std::fs::read_dir(&found).into_iter().flatten().flatten() {
            if file.file_name().to_string_lossy().starts_with("photos-") {
                let _ = (
                    ready(&std::fs::read(file.path()).unwrap()),
                    preview(&std::fs::read(file.path()).unwrap()),
                );
            }
        }
        let soak = std::env::var_os("TEAROFF_SOAK").is_some();
        let (first, rounds) = if soak { (u64::from(std::process::id()), 20_000) } else { (1, 150) };
        let mut webp = Vec::new();
        let drawn = DynamicImage::new_rgb8(60, 40);
        drawn.write_to(&mut Cursor::new(&mut webp), ImageFormat::WebP).unwrap();
        let mut taken = 0;
        for whole in [sideways(60, 40), png(&drawn).unwrap().bytes, webp] {
            for seed in first..first + rounds {
                let bytes = altered(&whole, seed);
                let read = std::panic::catch_unwind(|| ready(&bytes).is_ok());
                let Ok(was_taken) = read else {
                    std::fs::create_dir_all(&found).unwrap();
                    std::fs::write(found.join(format!("photos-{seed}-{}", whole.len())), &bytes).unwrap();
                    panic!("a picture made of seed {seed} is kept in tests/fuzz/found");
                };
                taken += u64::from(was_taken);
            }
        }
        assert!(taken > 0 && taken < 3 * rounds, "{taken} of {} were taken", 3 * rounds);
    }

    #[test]
    fn what_a_file_holds_counts_and_not_what_it_is_called() {
        let drawn = png(&DynamicImage::new_rgb8(40, 30)).unwrap().bytes;
        // Whatever name and kind it came with, it is known by its own first bytes.
        assert_eq!(ready(&drawn).unwrap().media_type, "image/png");
        let half = ready(&drawn[..drawn.len() / 2]).unwrap_err();
        assert!(half.message.contains("could not be read"), "{}", half.message);
        assert!(ready(b"GIF89a and nothing more").unwrap_err().message.contains("not"));
        // A telephone's usual kind is named, with what to set at the camera.
        let heic = ready(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic").unwrap_err();
        assert!(heic.message.contains("HEIC") && heic.remedy.contains("JPEG"), "{heic:?}");
        assert!(!ready(b"\0\0\0\x18ftypisom").unwrap_err().message.contains("HEIC"));
    }

    #[test]
    fn small_pictures_are_kept_until_newer_ones_need_the_room() {
        let mut kept = Previews::default();
        for number in 0..Previews::MOST {
            kept.put(number.to_string(), format!("picture {number}"));
        }
        // What was looked at last goes last.
        assert_eq!(kept.get("0").as_deref(), Some("picture 0"));
        kept.put("new".to_owned(), "picture new".to_owned());
        assert_eq!((kept.get("1"), kept.get("0").is_some()), (None, true));
        kept.put("0".to_owned(), "again".to_owned());
        assert_eq!(kept.get("0").as_deref(), Some("again"));
        kept.clear();
        assert_eq!(kept.get("new"), None);
    }

    #[test]
    fn photos_that_come_at_once_are_unfolded_one_by_one() {
        let taken = sideways(600, 400);
        let alone = UNFOLDING.lock().unwrap();
        let reading: Vec<_> = (0..4)
            .map(|_| {
                let taken = taken.clone();
                std::thread::spawn(move || ready(&taken).map(|kept| kept.bytes))
            })
            .collect();
        std::thread::sleep(std::time::Duration::from_millis(50));
        assert!(reading.iter().all(|one| !one.is_finished()), "one did not wait for its turn");
        drop(alone);
        let mut kept: Vec<Vec<u8>> = reading.into_iter().map(|one| one.join().unwrap().unwrap()).collect();
        kept.dedup();
        assert_eq!(kept.len(), 1);
    }
}
