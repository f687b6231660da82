//! How much room a text takes in the bundled typeface, and letters that it lacks in the system's, for sheets that no window
//! lays out.

use super::file::system_width;
use crate::draw::theme::font;
use std::sync::LazyLock;
use ttf_parser::Face;

/// A character that no font here has counts as this share of its height.
const UNKNOWN: f32 = 0.6;

static REGULAR: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(font::REGULAR, 0).ok());
static STRONG: LazyLock<Option<Face<'static>>> = LazyLock::new(|| Face::parse(font::STRONG, 0).ok());

fn face(strong: bool) -> Option<&'static Face<'static>> {
    if strong { STRONG.as_ref() } else { REGULAR.as_ref() }
}

/// Width of a text of this height, both in points, without kerning.
pub fn text_width(text: &str, size: f32, strong: bool) -> f32 {
    let face = face(strong);
    let of = |character| {
        let face = face?;
        let advance = face.glyph_hor_advance(face.glyph_index(character)?)?;
        Some(f32::from(advance) / f32::from(face.units_per_em()))
    };
    let wide = |character| of(character).or_else(|| system_width(character)).unwrap_or(UNKNOWN);
    text.chars().map(wide).sum::<f32>() * size
}

/// True for a letter of the bundled typeface, and for what no typeface draws.
pub(super) fn is_bundled(letter: char) -> bool {
    letter.is_control()
        || letter == '\u{feff}'
        || face(false).is_some_and(|face| face.glyph_index(letter).is_some())
}

/// From the top of a line of this height to its baseline and on to its bottom, points.
pub(super) fn line_heights(size: f32, strong: bool) -> (f32, f32) {
    face(strong).map_or((0.8 * size, 0.2 * size), |face| {
        let em = f32::from(face.units_per_em());
        let (up, down) = (f32::from(face.ascender()), f32::from(face.descender()));
        (up / em * size, (f32::from(face.line_gap()) - down) / em * size)
    })
}

/// Breaks a text into lines no wider than so many points, a word that is wider where it must be.
pub fn wrapped(text: &str, size: f32, strong: bool, width: f32) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        match lines.last_mut() {
            Some(line) if text_width(&format!("{line} {word}"), size, strong) <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => broken(word, size, strong, width, &mut lines),
        }
    }
    lines
}

/// A word in as many lines as it takes.
fn broken(word: &str, size: f32, strong: bool, width: f32, lines: &mut Vec<String>) {
    let mut line = String::new();
    for letter in word.chars() {
        line.push(letter);
        if text_width(&line, size, strong) > width && line.chars().nth(1).is_some() {
            line.pop();
            lines.push(std::mem::replace(&mut line, letter.to_string()));
        }
    }
    lines.push(line);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::theme;

    /// The window lays texts out by whole pixels of its glyphs.
    const PIXELS: f32 = 0.02;

    #[test]
    fn a_text_is_as_wide_as_in_the_window() {
        let ctx = egui::Context::default();
        theme::install(&ctx);
        ctx.run_ui(egui::RawInput::default(), |ui| {
            for text in ["reach past spikes 634 mm", "20.4 ± 0.7° nose down", "⌀ 560 mm × 4 → 3/8 in"]
            {
                for (strong, font) in [(false, theme::plain(15.0)), (true, theme::strong(15.0))] {
                    let galley = ui.painter().layout_no_wrap(text.to_owned(), font, egui::Color32::BLACK);
                    let (there, here) = (galley.size().x, text_width(text, 15.0, strong));
                    assert!((there - here).abs() < PIXELS * there, "{text}: {there} {here}");
                    let (up, down) = line_heights(15.0, strong);
                    assert!((galley.size().y - up - down).abs() < 1.0, "{} {up} {down}", galley.size().y);
                }
            }
        })
        .textures_delta
        .clear();
    }

    #[test]
    fn lines_are_no_wider_than_asked_and_lose_no_word() {
        let text = "Know where the nose is; where it is out of sight, keep the left arm straight.";
        let lines = wrapped(text, 9.0, false, 120.0);
        assert!(lines.len() > 2, "{lines:?}");
        assert!(lines.iter().all(|line| text_width(line, 9.0, false) <= 120.0), "{lines:?}");
        assert_eq!(lines.join(" "), text);
        let broken = wrapped("an overlong-word", 9.0, false, 24.0);
        assert!(broken.iter().all(|line| text_width(line, 9.0, false) <= 24.0), "{broken:?}");
        assert_eq!(broken.concat(), "anoverlong-word");
        assert_eq!(wrapped("ab", 9.0, false, 1.0), ["a", "b"], "one letter at least");
    }
}
