//! Takes in thirty photos of twelve megapixels as the window does, and says how long that takes beside only unfolding
//! them with the same library: a line for the bench. It is never shipped: only the feature `empty-window` builds it.

#![expect(clippy::print_stdout, reason = "a bench speaks to the person at the terminal")]

// The very code of the window, of which the bench needs a part.
#[allow(dead_code)]
#[path = "../../src/photo.rs"]
mod photo;
#[allow(dead_code)]
#[path = "../../src/refusal.rs"]
mod refusal;

use std::error::Error;
use std::time::{Duration, Instant};

use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};

fn main() -> Result<(), Box<dyn Error>> {
    let photos = match std::env::args().nth(1) {
        Some(word) => word.parse()?,
        None => 30,
    };
    let taken = twelve_megapixels()?;
    let unfolded = timed(photos, || image::load_from_memory(&taken).map(drop).map_err(Into::into))?;
    let mut longest = Duration::ZERO;
    let kept = timed(photos, || {
        let begun = Instant::now();
        let ready = photo::ready(&taken).map_err(|refusal| refusal.message)?;
        longest = longest.max(begun.elapsed());
        drop(ready);
        Ok(())
    })?;
    let thousandths = kept.as_micros() * 1000 / unfolded.as_micros().max(1);
    println!(
        "{photos} photos of 12 megapixels, {} KB each: taken in {kept:.1?}, longest {longest:.1?}; only unfolded \
         {unfolded:.1?}; ratio {}.{:02}",
        taken.len() / 1000,
        thousandths / 1000,
        thousandths % 1000 / 10
    );
    Ok(())
}

fn timed(
    times: u32,
    mut work: impl FnMut() -> Result<(), Box<dyn Error>>,
) -> Result<Duration, Box<dyn Error>> {
    let begun = Instant::now();
    for _ in 0..times {
        work()?;
    }
    Ok(begun.elapsed())
}

/// A photo with about as much in it as a roof has: courses of shingles, and grain.
fn twelve_megapixels() -> Result<Vec<u8>, Box<dyn Error>> {
    let mut grain = 0x2545_f491_u32;
    let picture = RgbImage::from_fn(4000, 3000, |x, y| {
        grain ^= grain << 13;
        grain ^= grain >> 17;
        grain ^= grain << 5;
        let course = (y / 40 * 7 + (x + y / 40 * 60) / 120 * 13) % 120;
        let shade = u8::try_from(course + grain % 48).unwrap_or(u8::MAX);
        Rgb([shade.saturating_add(40), shade.saturating_add(30), shade.saturating_add(20)])
    });
    let mut bytes = Vec::new();
    picture.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, 90))?;
    Ok(bytes)
}
