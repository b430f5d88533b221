//! Pictures of dots that stand in for photos.

use std::io::Cursor;

use image::codecs::jpeg::JpegEncoder;
use image::{ImageFormat, Luma, Rgb, RgbImage};

/// A made-up photo: boards with a dark patch.
pub(crate) fn jpeg(width: u32, height: u32, tone: u8) -> Vec<u8> {
    let picture = RgbImage::from_fn(width, height, |x, y| {
        let board = if x / 90 % 2 == 0 { 176 } else { 160 };
        let (dx, dy) = (x.abs_diff(width / 2), y.abs_diff(height / 2));
        let dark = dx * dx + 2 * dy * dy < height * height / 9;
        if dark { Rgb([tone, tone / 2 + 20, 20]) } else { Rgb([board, board - 30, board - 60]) }
    });
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, 70).encode_image(&picture).unwrap();
    bytes
}

/// A made-up signature: one stroke.
pub(crate) fn signature() -> Vec<u8> {
    let mut picture = image::GrayImage::from_pixel(420, 120, Luma([255]));
    for x in 20..400_u32 {
        let wave = (x % 60).abs_diff(30);
        for thick in 0..4 {
            picture.put_pixel(x, 35 + wave + thick + x / 20, Luma([20]));
        }
    }
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, ImageFormat::Png).unwrap();
    bytes.into_inner()
}
