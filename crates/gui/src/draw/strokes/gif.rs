//! SVG documents one after the other as a picture that moves.

use super::SheetError;
use super::file::pixels;
use gif::{DisposalMethod, Encoder, Frame, Repeat};

/// How finely the colours of a frame are chosen: 1 is finest and slowest.
const SPEED: i32 = 10;

/// The frames, each an SVG document with the hundredths of a second that it stays, as a GIF that runs over and over.
///
/// Of each frame only the part that differs from the one before is written.
///
/// # Errors
/// [`SheetError::Size`] where a frame has no or far too many pixels; what the renderer or the encoder says.
pub fn gif(frames: impl Iterator<Item = (String, u16)>, scale: f32) -> Result<Vec<u8>, SheetError> {
    let failed = |error: gif::EncodingError| SheetError::Render(error.to_string());
    let mut encoder: Option<Encoder<Vec<u8>>> = None;
    let mut before: Option<Vec<u8>> = None;
    for (svg, hundredths) in frames {
        let image = pixels(&svg, scale)?;
        let side = |pixels: u32| u16::try_from(pixels).map_err(|_| SheetError::Size);
        let (width, height) = (side(image.width())?, side(image.height())?);
        let encoder = match &mut encoder {
            Some(encoder) => encoder,
            None => {
                let mut new = Encoder::new(Vec::new(), width, height, &[]).map_err(failed)?;
                new.set_repeat(Repeat::Infinite).map_err(failed)?;
                encoder.insert(new)
            }
        };
        let now = image.take();
        let changed = before
            .as_deref()
            .map_or(Some(Part::whole(width, height)), |before| Part::changed(before, &now, width));
        // A frame in which nothing moves still takes its time.
        let part = changed.unwrap_or(Part { left: 0, top: 0, width: 1, height: 1 });
        let mut cut = part.cut(&now, width);
        let mut frame = Frame::from_rgba_speed(part.width, part.height, &mut cut, SPEED);
        frame.left = part.left;
        frame.top = part.top;
        frame.delay = hundredths;
        frame.dispose = DisposalMethod::Keep;
        encoder.write_frame(&frame).map_err(failed)?;
        before = Some(now);
    }
    let encoder = encoder.ok_or(SheetError::Size)?;
    encoder.into_inner().map_err(|error| SheetError::Render(error.to_string()))
}

/// A rectangle of an image, pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Part {
    left: u16,
    top: u16,
    width: u16,
    height: u16,
}

impl Part {
    const fn whole(width: u16, height: u16) -> Self {
        Self { left: 0, top: 0, width, height }
    }

    /// The least rectangle outside of which two images of this width are the same; none where they are altogether.
    fn changed(before: &[u8], now: &[u8], width: u16) -> Option<Self> {
        let row = 4 * usize::from(width);
        let (mut left, mut right, mut top, mut bottom) = (u16::MAX, 0, u16::MAX, 0);
        for (y, (old, new)) in (0_u16..).zip(before.chunks_exact(row).zip(now.chunks_exact(row))) {
            let pairs = (0_u16..).zip(old.chunks_exact(4).zip(new.chunks_exact(4)));
            for (x, _) in pairs.filter(|(_, (old, new))| old != new) {
                (left, right) = (left.min(x), right.max(x));
                (top, bottom) = (top.min(y), bottom.max(y));
            }
        }
        (left <= right).then(|| Self { left, top, width: right - left + 1, height: bottom - top + 1 })
    }

    /// Its pixels, RGBA.
    fn cut(self, image: &[u8], width: u16) -> Vec<u8> {
        let rows = image.chunks_exact(4 * usize::from(width)).skip(self.top.into()).take(self.height.into());
        rows.flat_map(|row| row.iter().skip(4 * usize::from(self.left)).take(4 * usize::from(self.width)))
            .copied()
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_changed_is_cut_out() {
        let before = vec![0_u8; 4 * 6 * 5];
        let mut now = before.clone();
        for (x, y) in [(2, 1), (4, 3)] {
            now[4 * (6 * y + x)] = 9;
        }
        let part = Part::changed(&before, &now, 6).unwrap();
        assert_eq!(part, Part { left: 2, top: 1, width: 3, height: 3 });
        let cut = part.cut(&now, 6);
        assert_eq!(cut.len(), 4 * 9);
        assert_eq!((cut[0], cut[4 * 8]), (9, 9), "its corners");
        assert_eq!(Part::changed(&now, &now, 6), None);
    }
}
