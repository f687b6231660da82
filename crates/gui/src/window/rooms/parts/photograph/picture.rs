//! Reading a photograph beside the window: turned upright, made small enough, or refused in one line.

use crate::window::view_state::Picture;
use barpoise_core::ranges::PICTURE_SIDE;
use egui::{ColorImage, Context, TextureOptions};
use image::metadata::Orientation;
use image::{DynamicImage, ImageDecoder, ImageError, ImageFormat, ImageReader, Limits};
use std::io::Cursor;
use std::path::Path;

/// A larger picture is shown scaled down to this.
const MOST_SHOWN: f64 = 60e6;
/// A larger picture is refused: decoded, it would fill a small machine's memory.
const MOST_PIXELS: u64 = 200_000_000;
/// No photograph's file is larger.
const MOST_BYTES: u64 = 400_000_000;
/// What decoding may take: sixteen bits of four colours for each pixel, and as much again to turn it.
const MOST_ALLOCATED: u64 = 16 * MOST_PIXELS;

/// Reads a photograph and hands it to the painter.
///
/// # Errors
/// One line that names the file and says what is wrong with it.
pub(super) fn read(path: &Path, ctx: &Context) -> Result<Picture, String> {
    let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
    let said = |why: &str| format!("{name} {why}");
    let length = std::fs::metadata(path).map_err(|error| said(&format!("cannot be read: {error}")))?.len();
    if length > MOST_BYTES {
        return Err(said(&format!("is too large: more than {} MB", MOST_BYTES / 1_000_000)));
    }
    let bytes = std::fs::read(path).map_err(|error| said(&format!("cannot be read: {error}")))?;
    let upright = decoded(&bytes).map_err(|why| said(&why))?;
    let size = [upright.width(), upright.height()];
    let most_side = ctx.input(|input| input.max_texture_side);
    let shown = ColorImage::from_rgba_unmultiplied(
        shown_size(size, most_side),
        &scaled(upright, most_side).into_rgba8(),
    );
    Ok(Picture { texture: ctx.load_texture(name.as_str(), shown, TextureOptions::LINEAR), size })
}

/// The pixels of a picture file, turned upright as it says.
///
/// # Errors
/// What is wrong with it.
fn decoded(bytes: &[u8]) -> Result<DynamicImage, String> {
    if bytes.is_empty() {
        return Err("is empty: 0 bytes".to_owned());
    }
    let no_picture = || "is no JPEG, PNG or WebP picture".to_owned();
    let mut reader = ImageReader::new(Cursor::new(bytes)).with_guessed_format().map_err(|_| no_picture())?;
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_ALLOCATED);
    reader.limits(limits);
    if reader.format().is_none() {
        return Err(no_picture());
    }
    let is_whole = match reader.format() {
        Some(ImageFormat::Jpeg) => ends(bytes),
        Some(ImageFormat::WebP) => is_as_long_as_it_says(bytes),
        // A PNG's decoder says so itself.
        _ => true,
    };
    let mut decoder = reader.into_decoder().map_err(|error| words(&error))?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        let millions = MOST_PIXELS / 1_000_000;
        return Err(format!("has {width} × {height} pixels; at most {millions} million in all are read"));
    }
    if let Some(side) = [width, height].into_iter().find(|side| !PICTURE_SIDE.holds(f64::from(*side))) {
        return Err(format!("cannot be used: {}", PICTURE_SIDE.refusal(f64::from(side)).unwrap_or_default()));
    }
    if !is_whole {
        return Err(TOO_EARLY.to_owned());
    }
    let orientation = decoder.orientation().unwrap_or(Orientation::NoTransforms);
    let mut picture = DynamicImage::from_decoder(decoder).map_err(|error| words(&error))?;
    picture.apply_orientation(orientation);
    Ok(picture)
}

const TOO_EARLY: &str = "ends too early: the picture is not whole";

/// Whether a JPEG's last scan is followed by an end: the decoder fills up what is missing. Within a scan neither of these
/// pairs of bytes can stand.
fn ends(bytes: &[u8]) -> bool {
    let last = |marker: u8| bytes.windows(2).rposition(|pair| pair == [0xff, marker]);
    last(0xd9) > last(0xda)
}

/// Whether a WebP has all the bytes that its first eight promise behind them.
fn is_as_long_as_it_says(bytes: &[u8]) -> bool {
    let length = bytes.get(4..8).and_then(|four| <[u8; 4]>::try_from(four).ok()).map(u32::from_le_bytes);
    length
        .and_then(|length| usize::try_from(length).ok())
        .is_some_and(|length| bytes.len() >= length.saturating_add(8))
}

fn words(error: &ImageError) -> String {
    match error {
        ImageError::IoError(error) if error.kind() == std::io::ErrorKind::UnexpectedEof => {
            TOO_EARLY.to_owned()
        }
        ImageError::Unsupported(_) => "is no JPEG, PNG or WebP picture that can be read".to_owned(),
        ImageError::Limits(_) => "takes more memory than a photograph may".to_owned(),
        other => {
            let line = other.to_string();
            format!("cannot be read: {}", line.lines().next().unwrap_or_default())
        }
    }
}

/// Width and height that are shown of a picture.
fn shown_size([width, height]: [u32; 2], most_side: usize) -> [usize; 2] {
    let (w, h) = (f64::from(width), f64::from(height));
    let most_side = f64::from(u32::try_from(most_side).unwrap_or(u32::MAX));
    let share = (MOST_SHOWN / (w * h)).sqrt().min(most_side / w.max(h)).min(1.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "smaller than what it was")]
    let side = |of: f64| ((of * share).floor() as usize).max(1);
    [side(w), side(h)]
}

fn scaled(picture: DynamicImage, most_side: usize) -> DynamicImage {
    let was = [picture.width(), picture.height()];
    let [width, height] = shown_size(was, most_side).map(|side| u32::try_from(side).unwrap_or(u32::MAX));
    if [width, height] == was { picture } else { picture.thumbnail_exact(width, height) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::{Rgb, RgbImage};

    /// Red at the upper left, else grey; wider than high.
    fn picture() -> DynamicImage {
        let red = |x: u32, y: u32| if x < 40 && y < 40 { Rgb([250, 10, 10]) } else { Rgb([90, 90, 90]) };
        DynamicImage::ImageRgb8(RgbImage::from_fn(160, 120, red))
    }

    fn written(format: ImageFormat) -> Vec<u8> {
        let mut bytes = Cursor::new(Vec::new());
        picture().write_to(&mut bytes, format).unwrap();
        bytes.into_inner()
    }

    /// A JPEG whose camera was held on its side: an APP1 with one entry, orientation, behind the first marker.
    fn turned(orientation: u8) -> Vec<u8> {
        let mut exif = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0".to_vec();
        exif.extend([orientation, 0, 0, 0, 0, 0, 0]);
        let length = u16::try_from(exif.len() + 2).unwrap().to_be_bytes();
        let plain = written(ImageFormat::Jpeg);
        [&plain[..2], &[0xff, 0xe1], &length, &exif, &plain[2..]].concat()
    }

    #[test]
    fn each_kind_is_read() {
        for format in [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP] {
            let found = decoded(&written(format)).unwrap();
            assert_eq!((found.width(), found.height()), (160, 120), "{format:?}");
        }
    }

    #[test]
    fn a_picture_is_turned_as_its_camera_was() {
        let is_red = |picture: &DynamicImage, x: u32, y: u32| {
            let Rgb([r, g, _]) = *picture.to_rgb8().get_pixel(x, y);
            r > 180 && g < 80
        };
        // Where the first row and column of the file lie: 1 top left, 3 bottom right, 6 right top, 8 left bottom.
        for (orientation, size, at) in [
            (1, (160, 120), (10, 10)),
            (3, (160, 120), (150, 110)),
            (6, (120, 160), (110, 10)),
            (8, (120, 160), (10, 150)),
        ] {
            let found = decoded(&turned(orientation)).unwrap();
            assert_eq!((found.width(), found.height()), size, "{orientation}");
            assert!(is_red(&found, at.0, at.1), "{orientation}");
        }
    }

    #[test]
    fn what_is_no_whole_picture_is_refused_in_a_line() {
        let cut = |bytes: Vec<u8>| bytes[..bytes.len() * 2 / 3].to_vec();
        // The head of a PNG of 30 000 by 30 000, one bit each.
        let mut huge = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\x75\x30\0\0\x75\x30\x01\0\0\0\0".to_vec();
        let mut crc = flate2::Crc::new();
        crc.update(&huge[12..29]);
        huge.extend(crc.sum().to_be_bytes());
        huge.extend(b"\0\0\0\0IDAT\x35\xaf\x06\x1e");
        for (bytes, wanted) in [
            (Vec::new(), "is empty"),
            (b"This is no picture, only a note that was renamed.\n".to_vec(), "is no JPEG, PNG or WebP"),
            (huge, "has 30000 × 30000 pixels"),
            (cut(written(ImageFormat::Jpeg)), "ends too early"),
            (cut(written(ImageFormat::Png)), "ends too early"),
            (cut(written(ImageFormat::WebP)), "ends too early"),
        ] {
            let said = decoded(&bytes).unwrap_err();
            assert!(said.contains(wanted), "{wanted}: {said}");
            assert_eq!(said.lines().count(), 1);
        }
    }

    #[test]
    fn what_is_shown_is_small_enough_and_keeps_its_shape() {
        for (size, most_side) in
            [([6000, 4000], 16_384), ([12_000, 9000], 16_384), ([6000, 4000], 2048), ([29_000, 16], 8192)]
        {
            let [width, height] = shown_size(size, most_side);
            assert!(width * height <= 60_000_000 && width.max(height) <= most_side, "{size:?}");
        }
        assert_eq!(shown_size([6000, 4000], 16_384), [6000, 4000]);
        assert_eq!(shown_size([6000, 4000], 3000), [3000, 2000]);
    }
}
