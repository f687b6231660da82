//! SVG documents as pixels and as paper, by one renderer, with the bundled typeface and no other.

use crate::draw::theme::font;
use krilla::geom::Size;
use krilla::metadata::Metadata;
use krilla::page::PageSettings;
use krilla_svg::{SurfaceExt, SvgSettings};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};
use std::fmt;
use std::sync::{Arc, LazyLock};

/// No side of an image may have more pixels.
const MOST_PIXELS: f32 = 20_000.0;
/// Points for each of SVG's pixels, of which an inch has 96.
const POINTS_PER_PIXEL: f32 = 72.0 / 96.0;

static FONTS: LazyLock<Arc<fontdb::Database>> = LazyLock::new(|| {
    let mut fonts = fontdb::Database::new();
    fonts.load_font_data(font::REGULAR.to_vec());
    fonts.load_font_data(font::STRONG.to_vec());
    fonts.set_sans_serif_family(font::FAMILY);
    Arc::new(fonts)
});

/// Why a sheet could not be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SheetError {
    /// The document could not be read.
    Document(String),
    /// The image would be too large, or have no pixels.
    Size,
    /// The renderer failed.
    Render(String),
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Document(reason) => write!(f, "the drawing cannot be read back: {reason}"),
            Self::Size => write!(f, "the image would have no pixels, or more than {MOST_PIXELS} on a side"),
            Self::Render(reason) => write!(f, "the drawing cannot be rendered: {reason}"),
        }
    }
}

impl std::error::Error for SheetError {}

/// An SVG document, read.
pub(super) fn tree(svg: &str) -> Result<Tree, SheetError> {
    let options =
        Options { font_family: font::FAMILY.to_owned(), fontdb: Arc::clone(&FONTS), ..Options::default() };
    Tree::from_str(svg, &options).map_err(|error| SheetError::Document(error.to_string()))
}

/// An SVG document as pixels, so many for each of its own.
pub(super) fn pixels(svg: &str, scale: f32) -> Result<Pixmap, SheetError> {
    let tree = tree(svg)?;
    let (width, height) = (tree.size().width() * scale, tree.size().height() * scale);
    if !(1.0..=MOST_PIXELS).contains(&width) || !(1.0..=MOST_PIXELS).contains(&height) {
        return Err(SheetError::Size);
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked just above")]
    let (width, height) = (width.round() as u32, height.round() as u32);
    let mut image = Pixmap::new(width, height).ok_or(SheetError::Size)?;
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut image.as_mut());
    Ok(image)
}

/// An SVG document as a PNG image, so many pixels for each of its own.
///
/// # Errors
/// [`SheetError::Size`] where that makes none or far too many pixels.
pub fn png(svg: &str, scale: f32) -> Result<Vec<u8>, SheetError> {
    pixels(svg, scale)?.encode_png().map_err(|error| SheetError::Render(error.to_string()))
}

/// An SVG document as a PDF of one page of its size, its text selectable, with a title.
///
/// # Errors
/// [`SheetError`] where the document is none or its size is no page's.
pub fn pdf(svg: &str, title: &str) -> Result<Vec<u8>, SheetError> {
    let tree = tree(svg)?;
    let (width, height) = (tree.size().width() * POINTS_PER_PIXEL, tree.size().height() * POINTS_PER_PIXEL);
    let settings = PageSettings::from_wh(width, height).ok_or(SheetError::Size)?;
    let size = Size::from_wh(width, height).ok_or(SheetError::Size)?;
    let mut document = krilla::Document::new();
    document.set_metadata(Metadata::new().title(title.to_owned()).language("en".to_owned()));
    let mut page = document.start_page_with(settings);
    let mut surface = page.surface();
    surface
        .draw_svg(&tree, size, SvgSettings { embed_text: true, ..SvgSettings::default() })
        .ok_or_else(|| SheetError::Render("the page takes no drawing".to_owned()))?;
    surface.finish();
    page.finish();
    document.finish().map_err(|error| SheetError::Render(format!("{error:?}")))
}
