//! An SVG document as a page of paper: the same paths and letters as the image has, its text selectable.

mod faces;
mod page;
mod tags;
#[cfg(test)]
mod tests;

use super::file::{SheetError, tree};
use faces::Faces;
use flate2::Compression;
use flate2::write::ZlibEncoder;
use page::{Painter, clear_name};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, TextStr};
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

/// An SVG document as a PDF of one page of its size, its text selectable and each of its texts a paragraph for a reader
/// that does not see it, the lines a figure that is told by the title.
///
/// # Errors
/// [`SheetError`] where the document is none, its size is no page's, or it holds what no drawing of ours has.
pub fn pdf(svg: &str, about: &About<'_>) -> Result<Vec<u8>, SheetError> {
    let tree = tree(svg)?;
    let (width, height) = (tree.size().width() * POINTS_PER_PIXEL, tree.size().height() * POINTS_PER_PIXEL);
    if !(1.0..=MOST_POINTS).contains(&width) || !(1.0..=MOST_POINTS).contains(&height) {
        return Err(SheetError::Size);
    }
    written(&tree, width, height, about)
}

fn written(tree: &Tree, width: f32, height: f32, about: &About<'_>) -> Result<Vec<u8>, SheetError> {
    let mut painter = Painter::new(Faces::default());
    // A page has y up, from its lower edge.
    painter.paint(tree.root(), [POINTS_PER_PIXEL, 0.0, 0.0, -POINTS_PER_PIXEL, 0.0, height])?;
    let Painter { content, faces, clear, marks } = painter;

    let mut pdf = Pdf::new();
    let mut last = 0;
    let mut next = || {
        last += 1;
        Ref::new(last)
    };
    let (catalog, pages, page, contents, info) = (next(), next(), next(), next(), next());
    let tags = next();
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
    tags::write(&mut pdf, tags, page, &marks, about.title, &mut next);
    pdf.pages(pages).kids([page]).count(1);

    let faces: Vec<_> = faces.used().map(|face| (face, next())).collect();
    let clear: Vec<_> = clear.into_iter().enumerate().map(|(at, opacity)| (at, opacity, next())).collect();
    let mut sheet = pdf.page(page);
    sheet.parent(pages).media_box(Rect::new(0.0, 0.0, width, height)).contents(contents);
    sheet.struct_parents(0);
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
    pdf.stream(contents, &packed(&content.finish())?).filter(Filter::FlateDecode);
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
