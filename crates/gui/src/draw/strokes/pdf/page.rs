//! What stands on the page: paths and texts of the document, one after the other.

use super::faces::Faces;
use crate::draw::strokes::SheetError;
use crate::draw::strokes::file::bytes_of;
use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Name, Str, TextStr};
use resvg::tiny_skia::PathSegment;
use resvg::usvg::layout::{PositionedGlyph, Span};
use resvg::usvg::{self, FillRule, Group, LineCap, LineJoin, Node, Paint, Path, Transform};

/// Letters whose places differ by less than this share of their size stand on one line.
const SAME_LINE: f32 = 1e-4;

/// Writes the page's content.
pub(super) struct Painter {
    pub(super) content: Content,
    pub(super) faces: Faces,
    /// The opacities used, named by their place here.
    pub(super) clear: Vec<f32>,
    /// What each numbered piece of the page is.
    pub(super) marks: Vec<Mark>,
}

/// A piece of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    /// Something that is read.
    Text,
    /// Something that is seen.
    Drawing,
}

/// True where all letters of a span are the bundled typeface's, which a page carries.
fn is_bundled(span: &Span) -> bool {
    span.positioned_glyphs.iter().all(|glyph| bytes_of(glyph.font).is_some())
}

/// The name of an opacity by its place among those used.
pub(super) fn clear_name(at: usize) -> String {
    format!("O{at}")
}

fn none_of_ours(what: &str) -> SheetError {
    SheetError::Render(format!("no drawing has {what}"))
}

impl Painter {
    pub(super) fn new(faces: Faces) -> Self {
        Self { content: Content::new(), faces, clear: Vec::new(), marks: Vec::new() }
    }

    /// Writes a group and all in it, placed on the page.
    pub(super) fn paint(&mut self, group: &Group, placed: [f32; 6]) -> Result<(), SheetError> {
        if group.should_isolate() || group.clip_path().is_some() || group.mask().is_some() {
            return Err(none_of_ours("groups with effects"));
        }
        self.content.save_state().transform(placed);
        for node in group.children() {
            match node {
                Node::Group(inner) => self.paint(inner, matrix(inner.transform()))?,
                Node::Path(path) => {
                    self.begin(Mark::Drawing);
                    self.path(path)?;
                    self.content.end_marked_content();
                }
                Node::Text(text) if text.layouted().iter().all(is_bundled) => {
                    self.begin(Mark::Text);
                    text.layouted().iter().try_for_each(|span| self.span(span))?;
                    self.content.end_marked_content();
                }
                Node::Text(text) => {
                    self.begin_outlined(text);
                    self.outlined(text.flattened(), Transform::identity())?;
                    self.content.end_marked_content();
                }
                Node::Image(_) => return Err(none_of_ours("images")),
            }
        }
        self.content.restore_state();
        Ok(())
    }

    fn begin(&mut self, mark: Mark) {
        let number = i32::try_from(self.marks.len()).unwrap_or(i32::MAX);
        self.marks.push(mark);
        let name = match mark {
            Mark::Text => Name(b"P"),
            Mark::Drawing => Name(b"Figure"),
        };
        self.content.begin_marked_content_with_properties(name).properties().identify(number);
    }

    /// A text whose letters are drawn: a reader has its words beside them.
    fn begin_outlined(&mut self, text: &usvg::Text) {
        let number = i32::try_from(self.marks.len()).unwrap_or(i32::MAX);
        self.marks.push(Mark::Text);
        let words: String = text.chunks().iter().map(usvg::TextChunk::text).collect();
        let mut content = self.content.begin_marked_content_with_properties(Name(b"P"));
        content.properties().identify(number).actual_text(TextStr(&words));
    }

    /// The outlines of letters of the system's fonts. A picture in the place of a letter is left out.
    fn outlined(&mut self, group: &Group, placed: Transform) -> Result<(), SheetError> {
        let placed = placed.pre_concat(group.transform());
        self.content.save_state().transform(matrix(placed));
        for node in group.children() {
            match node {
                Node::Group(inner) => self.outlined(inner, Transform::identity())?,
                Node::Path(path) => self.path(path)?,
                Node::Text(_) | Node::Image(_) => {}
            }
        }
        self.content.restore_state();
        Ok(())
    }

    fn path(&mut self, path: &Path) -> Result<(), SheetError> {
        if !path.is_visible() {
            return Ok(());
        }
        if let Some(fill) = path.fill() {
            let [r, g, b] = color(fill.paint())?;
            self.content.save_state().set_fill_rgb(r, g, b);
            self.opacity(fill.opacity().get());
            self.outline(path);
            match fill.rule() {
                FillRule::NonZero => self.content.fill_nonzero(),
                FillRule::EvenOdd => self.content.fill_even_odd(),
            };
            self.content.restore_state();
        }
        if let Some(stroke) = path.stroke() {
            self.content.save_state();
            self.pen(stroke)?;
            self.outline(path);
            self.content.stroke().restore_state();
        }
        Ok(())
    }

    fn pen(&mut self, stroke: &usvg::Stroke) -> Result<(), SheetError> {
        let [r, g, b] = color(stroke.paint())?;
        self.content.set_stroke_rgb(r, g, b).set_line_width(stroke.width().get());
        self.content.set_line_cap(match stroke.linecap() {
            LineCap::Butt => LineCapStyle::ButtCap,
            LineCap::Round => LineCapStyle::RoundCap,
            LineCap::Square => LineCapStyle::ProjectingSquareCap,
        });
        self.content.set_line_join(match stroke.linejoin() {
            LineJoin::Miter | LineJoin::MiterClip => LineJoinStyle::MiterJoin,
            LineJoin::Round => LineJoinStyle::RoundJoin,
            LineJoin::Bevel => LineJoinStyle::BevelJoin,
        });
        self.content.set_miter_limit(stroke.miterlimit().get());
        if let Some(dashes) = stroke.dasharray() {
            self.content.set_dash_pattern(dashes.iter().copied(), stroke.dashoffset());
        }
        self.opacity(stroke.opacity().get());
        Ok(())
    }

    fn opacity(&mut self, opacity: f32) {
        if opacity >= 1.0 {
            return;
        }
        let known = self.clear.iter().position(|known| known.total_cmp(&opacity).is_eq());
        let at = known.unwrap_or_else(|| {
            self.clear.push(opacity);
            self.clear.len() - 1
        });
        self.content.set_parameters(Name(clear_name(at).as_bytes()));
    }

    fn outline(&mut self, path: &Path) {
        let mut pen = resvg::tiny_skia::Point::zero();
        for segment in path.data().segments() {
            match segment {
                PathSegment::MoveTo(to) => {
                    self.content.move_to(to.x, to.y);
                    pen = to;
                }
                PathSegment::LineTo(to) => {
                    self.content.line_to(to.x, to.y);
                    pen = to;
                }
                PathSegment::QuadTo(bend, to) => {
                    // A page has cubics alone: both its bends lie two thirds of the way to this one.
                    let toward = |end: f32, bend: f32| end + 2.0 / 3.0 * (bend - end);
                    let (x1, y1) = (toward(pen.x, bend.x), toward(pen.y, bend.y));
                    let (x2, y2) = (toward(to.x, bend.x), toward(to.y, bend.y));
                    self.content.cubic_to(x1, y1, x2, y2, to.x, to.y);
                    pen = to;
                }
                PathSegment::CubicTo(first, second, to) => {
                    self.content.cubic_to(first.x, first.y, second.x, second.y, to.x, to.y);
                    pen = to;
                }
                PathSegment::Close => {
                    self.content.close_path();
                }
            }
        }
    }

    fn span(&mut self, span: &Span) -> Result<(), SheetError> {
        if !span.visible {
            return Ok(());
        }
        let Some(fill) = span.fill.as_ref().filter(|_| span.stroke.is_none()) else {
            return Err(none_of_ours("texts in outline"));
        };
        let [r, g, b] = color(fill.paint())?;
        for line in [&span.overline, &span.underline].into_iter().flatten() {
            self.path(line)?;
        }
        self.content.save_state().set_fill_rgb(r, g, b);
        self.opacity(fill.opacity().get());
        self.content.begin_text();
        let mut rest = span.positioned_glyphs.as_slice();
        while let Some(first) = rest.first() {
            let alike = |next: &&PositionedGlyph| on_one_line(first, next);
            let (line, after) = rest.split_at(rest.iter().take_while(alike).count().max(1));
            self.line(line)?;
            rest = after;
        }
        self.content.end_text().restore_state();
        span.line_through.as_ref().map_or(Ok(()), |line| self.path(line))
    }

    /// Letters of one font on one line, each where the document has it.
    fn line(&mut self, letters: &[PositionedGlyph]) -> Result<(), SheetError> {
        let Some(first) = letters.first() else { return Ok(()) };
        let size = first.font_size();
        let face = self.faces.face(first.font)?;
        self.content.set_font(Name(face.name().as_bytes()), size);
        // The place of a letter takes its own units; the page's letters are `size` high.
        let per_em = face.units_per_em() / size;
        let start = first.outline_transform();
        self.content.set_text_matrix(matrix(start.pre_scale(per_em, per_em)));
        let mut shown = self.content.show_positioned();
        let mut items = shown.items();
        let mut at = 0.0;
        for letter in letters {
            // Along the line, in thousandths of its height.
            let wanted = 1000.0 * along(start, letter.outline_transform()) / face.units_per_em();
            if (wanted - at).abs() > 1000.0 * SAME_LINE {
                items.adjust(at - wanted);
                at = wanted;
            }
            let (code, width) = face.letter(letter.id.0, &letter.text);
            items.show(Str(&code.to_be_bytes()));
            at += width;
        }
        Ok(())
    }
}

/// How far a letter stands along the first one's line, in units of its font.
fn along(first: Transform, letter: Transform) -> f32 {
    let (dx, dy) = (letter.tx - first.tx, letter.ty - first.ty);
    (dx * first.sx + dy * first.ky) / (first.sx * first.sx + first.ky * first.ky)
}

fn on_one_line(first: &PositionedGlyph, other: &PositionedGlyph) -> bool {
    let (a, b) = (first.outline_transform(), other.outline_transform());
    let same = |x: f32, y: f32| (x - y).abs() <= SAME_LINE * (a.sx.abs() + a.ky.abs());
    let off = (b.tx - a.tx) * a.ky - (b.ty - a.ty) * a.sx;
    let along = a.sx.hypot(a.ky);
    first.font == other.font
        && first.font_size().total_cmp(&other.font_size()).is_eq()
        && same(a.sx, b.sx)
        && same(a.kx, b.kx)
        && same(a.ky, b.ky)
        && same(a.sy, b.sy)
        && (off / along).abs() <= SAME_LINE * first.font_size()
}

fn color(paint: &Paint) -> Result<[f32; 3], SheetError> {
    match paint {
        Paint::Color(color) => {
            Ok([color.red, color.green, color.blue].map(|channel| f32::from(channel) / 255.0))
        }
        _ => Err(none_of_ours("gradients and patterns")),
    }
}

fn matrix(transform: Transform) -> [f32; 6] {
    [transform.sx, transform.ky, transform.kx, transform.sy, transform.tx, transform.ty]
}
