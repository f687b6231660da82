//! SVG documents as pages of paper: the same paths and letters as the image has, their text selectable.

mod faces;
mod page;
mod tags;
#[cfg(test)]
mod tests;

use super::file::{SheetError, tree};
use faces::Faces;
use flate2::Compression;
use flate2::write::ZlibEncoder;
use page::{Mark, Painter, clear_name};
use pdf_writer::{Content, Filter, Finish, Name, Pdf, Rect, Ref, TextStr};
use resvg::usvg::Tree;
use std::io::Write;

/// Points for each of SVG's pixels, of which an inch has 96.
const POINTS_PER_PIXEL: f32 = 72.0 / 96.0;
/// No side of a page may have more points, by the PDF standard.
const MOST_POINTS: f32 = 14_400.0;

/// What a PDF says of itself.
#[derive(Clone, Copy, Debug)]
pub struct About<'a> {
    /// What it is.
    pub title: &'a str,
    /// Who made it; empty where nobody says so.
    pub author: &'a str,
}

/// SVG documents as the pages of a PDF, each of its document's size, their text selectable and each of their texts a
/// paragraph for a reader that does not see it, the lines of a page a figure that is told by the title.
///
/// # Errors
/// [`SheetError`] where a document is none, its size is no page's, or it holds what no drawing of ours has.
pub fn pdf(documents: &[String], about: &About<'_>) -> Result<Vec<u8>, SheetError> {
    let mut faces = Faces::default();
    let mut pages = Vec::with_capacity(documents.len());
    for document in documents {
        let painted = Painted::of(&tree(document)?, faces)?;
        faces = painted.1;
        pages.push(painted.0);
    }
    written(pages, faces, about)
}

/// A page that is drawn and not yet in the document.
struct Painted {
    width: f32,
    height: f32,
    content: Content,
    clear: Vec<f32>,
    marks: Vec<Mark>,
}

impl Painted {
    /// Draws a page with the typefaces of those before it.
    fn of(tree: &Tree, faces: Faces) -> Result<(Self, Faces), SheetError> {
        let (width, height) =
            (tree.size().width() * POINTS_PER_PIXEL, tree.size().height() * POINTS_PER_PIXEL);
        if !(1.0..=MOST_POINTS).contains(&width) || !(1.0..=MOST_POINTS).contains(&height) {
            return Err(SheetError::Size);
        }
        let mut painter = Painter::new(faces);
        // A page has y up, from its lower edge.
        painter.paint(tree.root(), [POINTS_PER_PIXEL, 0.0, 0.0, -POINTS_PER_PIXEL, 0.0, height])?;
        let Painter { content, faces, clear, marks } = painter;
        Ok((Self { width, height, content, clear, marks }, faces))
    }
}

fn written(painted: Vec<Painted>, faces: Faces, about: &About<'_>) -> Result<Vec<u8>, SheetError> {
    let mut pdf = Pdf::new();
    let mut last = 0;
    let mut next = || {
        last += 1;
        Ref::new(last)
    };
    let (catalog, pages, info, tags) = (next(), next(), next(), next());
    let mut root = pdf.catalog(catalog);
    root.pages(pages).lang(TextStr("en"));
    root.viewer_preferences().display_doc_title(true);
    root.mark_info().marked(true);
    root.pair(Name(b"StructTreeRoot"), tags);
    root.finish();
    let mut document = pdf.document_info(info);
    document.title(TextStr(about.title));
    if !about.author.is_empty() {
        document.author(TextStr(about.author));
    }
    document.finish();
    let sheets: Vec<Ref> = painted.iter().map(|_| next()).collect();
    let marked = sheets.iter().copied().zip(painted.iter().map(|page| page.marks.as_slice()));
    tags::write(&mut pdf, tags, &marked.collect::<Vec<_>>(), about.title, &mut next);
    pdf.pages(pages).kids(sheets.iter().copied()).count(i32::try_from(sheets.len()).unwrap_or(i32::MAX));

    let faces: Vec<_> = faces.used().map(|face| (face, next())).collect();
    for (place, (page, sheet)) in (0_i32..).zip(painted.into_iter().zip(sheets)) {
        let contents = next();
        let clear: Vec<_> =
            page.clear.iter().enumerate().map(|(at, opacity)| (at, *opacity, next())).collect();
        let mut sheet = pdf.page(sheet);
        sheet.parent(pages).media_box(Rect::new(0.0, 0.0, page.width, page.height)).contents(contents);
        sheet.struct_parents(place);
        let mut resources = sheet.resources();
        let mut fonts = resources.fonts();
        for (face, at) in &faces {
            fonts.pair(Name(face.name().as_bytes()), *at);
        }
        fonts.finish();
        let mut states = resources.ext_g_states();
        for (at, _, id) in &clear {
            states.pair(Name(clear_name(*at).as_bytes()), *id);
        }
        states.finish();
        resources.finish();
        sheet.finish();
        for (_, opacity, id) in &clear {
            pdf.ext_graphics(*id).non_stroking_alpha(*opacity).stroking_alpha(*opacity);
        }
        pdf.stream(contents, &packed(&page.content.finish())?).filter(Filter::FlateDecode);
    }
    for (face, at) in faces {
        face.write(&mut pdf, at, &mut next)?;
    }
    Ok(pdf.finish())
}

/// As streams of a PDF are packed.
fn packed(bytes: &[u8]) -> Result<Vec<u8>, SheetError> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::default());
    encoder
        .write_all(bytes)
        .and_then(|()| encoder.finish())
        .map_err(|error| SheetError::Render(error.to_string()))
}
