//! A scene as an SVG document, by the same places and sizes as on the screen.

use super::measure::{line_heights, text_width};
use super::{Canvas, DASH_DOT_PT, DASHED_PT, Dash, Item, Label, PATCH_CORNER_PT, PATCH_PT, Pen, Scene};
use crate::draw::theme::{Ink, Paper, font};
use base64::Engine;
use base64::prelude::BASE64_STANDARD;
use kurbo::{Affine, BezPath};
use std::fmt::Write;

/// Places are written to this share of a point.
const PRECISION: f64 = 1000.0;
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// What a point of the canvas is in the document.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extent {
    /// A pixel.
    Pixels,
    /// A printer's point, 1/72 in: the sheet has a size in millimetres.
    Paper,
}

/// Whether a document carries its typeface, to look the same everywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typeface {
    /// Inside the document.
    Inside,
    /// By name only, for a program that has it.
    Named,
}

/// Writes a drawing as SVG 1.1. Points of the canvas are the document's units; colours are those of the paper. The
/// title is what a screen reader says.
pub fn svg(
    scene: &Scene,
    canvas: &Canvas,
    paper: Paper,
    title: &str,
    extent: Extent,
    typeface: Typeface,
) -> String {
    let mut out = String::new();
    let rect = canvas.rect();
    let (width, height) = (f64::from(rect.width()), f64::from(rect.height()));
    let (wide, high) = match extent {
        Extent::Pixels => (format!("{width}"), format!("{height}")),
        Extent::Paper => {
            (format!("{:.2}mm", width * MM_PER_POINT), format!("{:.2}mm", height * MM_PER_POINT))
        }
    };
    let title = escaped(title);
    let mut put = |line: std::fmt::Arguments<'_>| {
        // Writing into a string cannot fail.
        let _ = out.write_fmt(line);
        out.push('\n');
    };
    put(format_args!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>"));
    put(format_args!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}\" height=\"{high}\" \
         viewBox=\"{} {} {width} {height}\" role=\"img\" aria-label=\"{title}\">",
        rect.left(),
        rect.top()
    ));
    put(format_args!("<title>{title}</title>"));
    if typeface == Typeface::Inside {
        put(format_args!("<style>{}</style>", faces(scene)));
    }
    put(format_args!(
        "<rect x=\"{}\" y=\"{}\" width=\"{width}\" height=\"{height}\" fill=\"{}\"/>",
        rect.left(),
        rect.top(),
        color(paper, Ink::Paper)
    ));
    put(format_args!("<g font-family=\"{}, sans-serif\" stroke-linejoin=\"round\">", font::FAMILY));
    for item in scene.items() {
        put(format_args!("{}", element(item, canvas, paper, typeface)));
    }
    put(format_args!("</g>\n</svg>"));
    out
}

fn element(item: &Item, canvas: &Canvas, paper: Paper, typeface: Typeface) -> String {
    match item {
        Item::Fill { path, ink, opacity } => {
            let clear = if *opacity < 1.0 { format!(" fill-opacity=\"{opacity}\"") } else { String::new() };
            let data = path_data(path, canvas.affine());
            format!("<path fill=\"{}\"{clear} fill-rule=\"evenodd\" d=\"{data}\"/>", color(paper, *ink))
        }
        Item::Stroke { path, pen } => {
            let data = path_data(path, canvas.affine());
            format!("<path fill=\"none\" {} d=\"{data}\"/>", pen_attributes(*pen, canvas, paper))
        }
        Item::Dots { centres, radius, ink } => {
            let mut group = format!("<g fill=\"{}\">", color(paper, *ink));
            let radius = rounded(f64::from(canvas.points(*radius)));
            for centre in centres {
                let at = canvas.to_screen(*centre);
                let (x, y) = (rounded(f64::from(at.x)), rounded(f64::from(at.y)));
                let _ = write!(group, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"/>");
            }
            group + "</g>"
        }
        Item::Text(label) => text(label, canvas, paper, typeface),
    }
}

fn pen_attributes(pen: Pen, canvas: &Canvas, paper: Paper) -> String {
    let enlarged = canvas.enlargement();
    let dashes = |pattern: &[f32]| {
        let lengths: Vec<String> = pattern.iter().map(|pt| format!("{}", pt * enlarged)).collect();
        format!(" stroke-dasharray=\"{}\"", lengths.join(" "))
    };
    let dash = match pen.dash {
        Dash::None => String::new(),
        Dash::Dashed => dashes(&DASHED_PT),
        Dash::DashDot => dashes(&DASH_DOT_PT),
    };
    format!("stroke=\"{}\" stroke-width=\"{}\"{dash}", color(paper, pen.ink), pen.width * enlarged)
}

fn text(label: &Label, canvas: &Canvas, paper: Paper, typeface: Typeface) -> String {
    let size = label.size * canvas.enlargement();
    let (up, down) = line_heights(size, label.strong);
    let place = canvas.place(label, egui::vec2(text_width(&label.text, size, label.strong), up + down));
    let mut out = String::new();
    if label.on_patch {
        let patch = place.expand2(PATCH_PT * canvas.enlargement());
        let _ = write!(
            out,
            "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{:.2}\" height=\"{:.2}\" rx=\"{PATCH_CORNER_PT}\" \
             fill=\"{}\"/>",
            patch.left(),
            patch.top(),
            patch.width(),
            patch.height(),
            color(paper, Ink::Paper)
        );
    }
    // Anchored where the label is, so that a viewer with another typeface still aligns it.
    let (anchor, x) = match label.side {
        super::Side::Middle | super::Side::Above | super::Side::Below => ("middle", place.center().x),
        super::Side::Left => ("end", place.right()),
        super::Side::Right => ("start", place.left()),
    };
    let weight =
        if label.strong { format!(" font-weight=\"{}\"", font::STRONG_WEIGHT) } else { String::new() };
    // A viewer that leaves the typeface inside unused squeezes its own into the same room, where it can.
    let fitted = match typeface {
        Typeface::Inside => {
            format!(" textLength=\"{:.2}\" lengthAdjust=\"spacingAndGlyphs\"", place.width())
        }
        Typeface::Named => String::new(),
    };
    let _ = write!(
        out,
        "<text x=\"{x:.2}\" y=\"{:.2}\" font-size=\"{size}\"{weight}{fitted} text-anchor=\"{anchor}\" \
         fill=\"{}\">{}</text>",
        place.top() + up,
        color(paper, label.ink),
        escaped(&label.text)
    );
    out
}

/// The weights of the typeface that a drawing uses.
fn faces(scene: &Scene) -> String {
    let uses =
        |strong| scene.items().iter().any(|item| matches!(item, Item::Text(label) if label.strong == strong));
    [(false, 400, font::REGULAR), (true, font::STRONG_WEIGHT, font::STRONG)]
        .into_iter()
        .filter(|(strong, ..)| uses(*strong))
        .map(|(_, weight, bytes)| {
            format!(
                "@font-face{{font-family:\"{}\";font-weight:{weight};\
                 src:url(data:font/otf;base64,{}) format(\"opentype\")}}",
                font::FAMILY,
                BASE64_STANDARD.encode(bytes)
            )
        })
        .collect()
}

fn path_data(path: &BezPath, affine: Affine) -> String {
    let round = |p: kurbo::Point| kurbo::Point::new(rounded(p.x), rounded(p.y));
    let placed = path.iter().map(|element| match affine * element {
        kurbo::PathEl::MoveTo(p) => kurbo::PathEl::MoveTo(round(p)),
        kurbo::PathEl::LineTo(p) => kurbo::PathEl::LineTo(round(p)),
        kurbo::PathEl::QuadTo(a, p) => kurbo::PathEl::QuadTo(round(a), round(p)),
        kurbo::PathEl::CurveTo(a, b, p) => kurbo::PathEl::CurveTo(round(a), round(b), round(p)),
        kurbo::PathEl::ClosePath => kurbo::PathEl::ClosePath,
    });
    placed.collect::<BezPath>().to_svg()
}

fn rounded(value: f64) -> f64 {
    (value * PRECISION).round() / PRECISION
}

fn color(paper: Paper, ink: Ink) -> String {
    let color = paper.color(ink);
    format!("#{:02x}{:02x}{:02x}", color.r(), color.g(), color.b())
}

/// Text as XML takes it: what no XML document may hold is left out.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\u{0}'..='\u{8}' | '\u{b}' | '\u{c}' | '\u{e}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::strokes::{Side, file};
    use egui::{Pos2, Rect};
    use kurbo::Point;

    fn sample() -> (Scene, Canvas) {
        let rect = Rect::from_min_size(Pos2::ZERO, egui::vec2(200.0, 100.0));
        let canvas = Canvas::fit(rect, kurbo::Rect::new(0.0, 0.0, 400.0, 200.0));
        let mut scene = canvas.scene();
        scene.fill(kurbo::Shape::to_path(&kurbo::Rect::new(100.0, 50.0, 300.0, 150.0), 0.1), Ink::Ours);
        scene.line(Point::new(0.0, 10.0), Point::new(400.0, 10.0), Pen::solid(Ink::Line, 2.0));
        scene.label(Label::new(Point::new(200.0, 180.0), Side::Middle, "B24 <&> \"24 in\"\u{1}", Ink::Line));
        (scene, canvas)
    }

    #[test]
    fn a_document_can_be_read_and_says_what_it_shows() {
        let (scene, canvas) = sample();
        for typeface in [Typeface::Inside, Typeface::Named] {
            let text = svg(&scene, &canvas, Paper::Light, "A & B", Extent::Pixels, typeface);
            let tree = file::tree(&text).unwrap();
            assert_eq!((tree.size().width(), tree.size().height()), (200.0, 100.0));
            assert!(text.contains("<title>A &amp; B</title>"), "{text}");
            assert!(text.contains("B24 &lt;&amp;&gt; &quot;24 in&quot;</text>"), "{text}");
            assert_eq!(text.contains("base64"), typeface == Typeface::Inside);
        }
    }

    #[test]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels of a small picture")]
    fn millimetres_lie_where_the_canvas_says() {
        let (scene, canvas) = sample();
        let text = svg(&scene, &canvas, Paper::Light, "", Extent::Pixels, Typeface::Named);
        let image = file::pixels(&text, 2.0).unwrap();
        let ours = Paper::Light.color(Ink::Ours);
        let at = |x: f64, y: f64| {
            let place = canvas.to_screen(Point::new(x, y)) * 2.0;
            let pixel = image.pixel(place.x as u32, place.y as u32).unwrap();
            (pixel.red(), pixel.green(), pixel.blue()) == (ours.r(), ours.g(), ours.b())
        };
        for (x, y) in [(102.0, 52.0), (298.0, 52.0), (102.0, 148.0), (298.0, 148.0)] {
            assert!(at(x, y), "inside at {x}, {y}");
        }
        for (x, y) in [(98.0, 100.0), (302.0, 100.0), (200.0, 48.0), (200.0, 152.0)] {
            assert!(!at(x, y), "outside at {x}, {y}");
        }
    }

    #[test]
    fn paper_has_its_size_in_millimetres() {
        let rect = Rect::from_min_size(Pos2::ZERO, egui::vec2(595.276, 841.89));
        let canvas = Canvas::fit(rect, kurbo::Rect::new(0.0, 0.0, 210.0, 297.0));
        let text = svg(&canvas.scene(), &canvas, Paper::Light, "", Extent::Paper, Typeface::Named);
        assert!(text.contains("width=\"210.00mm\" height=\"297.00mm\""), "{text}");
    }
}
