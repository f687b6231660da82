//! Drawings as files: in which form.

use std::path::Path;

/// The form of a drawing's file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Lines and text for any size, with the typeface inside.
    Svg,
    /// Pixels.
    Png,
    /// A page, its text selectable.
    Pdf,
}

impl Form {
    /// The form that a file's name asks for by its ending.
    ///
    /// # Errors
    /// One line that names the endings there are.
    pub fn of(path: &Path) -> Result<Self, String> {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            Some("svg") => Ok(Self::Svg),
            Some("png") => Ok(Self::Png),
            Some("pdf") => Ok(Self::Pdf),
            Some(other) => Err(format!("{}: no form goes by .{other}; {ENDINGS}", path.display())),
            None => Err(format!("{}: the name says no form; {ENDINGS}", path.display())),
        }
    }
}

const ENDINGS: &str = "a drawing's file ends in .pdf, .svg or .png";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ending_says_the_form() {
        for (name, form) in [("a.pdf", Form::Pdf), ("b.SVG", Form::Svg), ("c d.v2.png", Form::Png)] {
            assert_eq!(Form::of(Path::new(name)), Ok(form));
        }
        for name in ["a.jpg", "pdf", ".svg"] {
            let refused = Form::of(Path::new(name)).unwrap_err();
            assert!(refused.ends_with(ENDINGS), "{refused}");
        }
    }
}
