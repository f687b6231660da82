//! SVG documents as pixels and as paper, by one renderer, with the bundled typeface, and with the system's for letters that it
//! lacks.

use super::measure::is_bundled;
use crate::draw::theme::font;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::fontdb::{Database, ID, Source};
use resvg::usvg::{Options, Tree};
use std::collections::HashMap;
use std::fmt;
use std::sync::{Arc, LazyLock, Mutex, PoisonError};

/// No side of an image may have more pixels.
const MOST_PIXELS: f32 = 20_000.0;

/// The bundled typeface, as the renderer knows it.
struct Fonts {
    database: Arc<Database>,
    bytes: Vec<(ID, &'static [u8])>,
}

static FONTS: LazyLock<Fonts> = LazyLock::new(|| {
    let mut database = Database::new();
    let mut bytes = Vec::new();
    for font in [font::REGULAR, font::STRONG] {
        let loaded = database.load_font_source(Source::Binary(Arc::new(font)));
        bytes.extend(loaded.into_iter().map(|id| (id, font)));
    }
    database.set_sans_serif_family(font::FAMILY);
    Fonts { database: Arc::new(database), bytes }
});

/// The same with the system's fonts after it: looked for when a letter is first met that the bundled one lacks.
static WITH_SYSTEM: LazyLock<Arc<Database>> = LazyLock::new(|| {
    let mut database = Database::clone(&FONTS.database);
    database.load_system_fonts();
    database.set_sans_serif_family(font::FAMILY);
    Arc::new(database)
});

/// How wide a letter that the bundled typeface lacks is in the first font of the system that has it, over its height.
pub(super) fn system_width(letter: char) -> Option<f32> {
    static KNOWN: LazyLock<Mutex<HashMap<char, Option<f32>>>> = LazyLock::new(Mutex::default);
    let mut known = KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    *known.entry(letter).or_insert_with(|| {
        WITH_SYSTEM.faces().find_map(|face| {
            WITH_SYSTEM.with_face_data(face.id, |data, index| {
                let face = ttf_parser::Face::parse(data, index).ok()?;
                let advance = face.glyph_hor_advance(face.glyph_index(letter)?)?;
                Some(f32::from(advance) / f32::from(face.units_per_em()))
            })?
        })
    })
}

/// The bundled font that the renderer calls by this name; `None` for one of the system.
pub(super) fn bytes_of(id: ID) -> Option<&'static [u8]> {
    FONTS.bytes.iter().find(|(known, _)| *known == id).map(|(_, bytes)| *bytes)
}

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
    let options = Options {
        font_family: font::FAMILY.to_owned(),
        fontdb: Arc::clone(if svg.chars().all(is_bundled) { &FONTS.database } else { &WITH_SYSTEM }),
        ..Options::default()
    };
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

/// An SVG document as a PNG image, so many pixels for each of its own, of which an inch has 96; the image says its
/// resolution.
///
/// # Errors
/// [`SheetError::Size`] where that makes none or far too many pixels.
pub fn png(svg: &str, scale: f32) -> Result<Vec<u8>, SheetError> {
    let image = pixels(svg, scale)?.encode_png().map_err(|error| SheetError::Render(error.to_string()))?;
    Ok(with_resolution(image, scale * PIXELS_PER_METRE))
}

/// Pixels of SVG in a metre.
const PIXELS_PER_METRE: f32 = 96.0 / 0.0254;
/// What a PNG image begins with: its signature and the chunk of its size.
const PNG_HEAD: usize = 8 + 25;

/// The same image with the chunk that says how many pixels a metre has (*pHYs*, ISO/IEC 15948, 11.3.4.3), after its head.
fn with_resolution(image: Vec<u8>, per_metre: f32) -> Vec<u8> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a positive number of pixels"
    )]
    let per_metre = (per_metre.round() as u32).to_be_bytes();
    const IN_METRES: u8 = 1;
    let mut chunk = b"pHYs".to_vec();
    chunk.extend(per_metre);
    chunk.extend(per_metre);
    chunk.push(IN_METRES);
    let mut sum = flate2::Crc::new();
    sum.update(&chunk);
    let Some((head, rest)) = image.split_at_checked(PNG_HEAD) else { return image };
    let long = u32::try_from(chunk.len() - 4).unwrap_or(0);
    [head, &long.to_be_bytes(), &chunk, &sum.sum().to_be_bytes(), rest].concat()
}
