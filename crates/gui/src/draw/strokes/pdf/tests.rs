//! The page, read back by another's reader, against what the document's own reader says of it.

use super::{About, POINTS_PER_PIXEL, SheetError, Tree, tree};
use crate::draw::theme::font;
use pdf_extract::content::{Content, Operation};
use pdf_extract::{Document, Object};
use resvg::usvg::{Group, Node, Transform};

fn pdf(svg: &str, title: &str) -> Result<Vec<u8>, SheetError> {
    super::pdf(&[svg.to_owned()], &About { title, author: "" })
}

/// Places are written and read in single precision; a letter's may be off by this share of its height.
const NEAR: f32 = 0.01;

fn document(inside: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"105mm\" height=\"148mm\" viewBox=\"10 20 297.6 419.5\">\
         <g font-family=\"{}\" stroke-linejoin=\"round\">{inside}</g></svg>",
        font::FAMILY
    )
}

fn sample() -> String {
    document(
        "<path fill=\"#104050\" fill-opacity=\"0.25\" fill-rule=\"evenodd\" d=\"M20 40 L120 40 Q150 90 120 140 C100 160 40 160 20 140 Z\"/>\
         <path fill=\"none\" stroke=\"#a01020\" stroke-width=\"2.5\" stroke-dasharray=\"6 4\" d=\"M30 200 L220 260\"/>\
         <circle cx=\"200\" cy=\"90\" r=\"12\"/>\
         <text x=\"40\" y=\"300\" font-size=\"12\">Wren B18: 434 mm × 3°</text>\
         <text x=\"280\" y=\"330\" font-size=\"15\" font-weight=\"600\" text-anchor=\"end\">AVAVA To</text>\
         <text x=\"60\" y=\"380\" font-size=\"9\" transform=\"rotate(-20 60 380)\">turned</text>",
    )
}

type Matrix = [f32; 6];

/// A place of the inner matrix's, in the outer one's.
fn times(outer: Matrix, inner: Matrix) -> Matrix {
    let [a, b, c, d, e, f] = inner;
    let at = |x: f32, y: f32, z: f32| {
        [outer[0] * x + outer[2] * y + outer[4] * z, outer[1] * x + outer[3] * y + outer[5] * z]
    };
    let ([a, b], [c, d], [e, f]) = (at(a, b, 0.0), at(c, d, 0.0), at(e, f, 1.0));
    [a, b, c, d, e, f]
}

fn numbers(operation: &Operation) -> Vec<f32> {
    operation.operands.iter().filter_map(|operand| operand.as_float().ok()).collect()
}

/// What a page's content puts where: corners and bends of its paths, and each letter's number and place.
#[derive(Default)]
struct Drawn {
    path_points: Vec<[f32; 2]>,
    letters: Vec<(u16, [f32; 2])>,
}

/// Follows a page's content by the rules of the standard, for the operators that stand there.
fn drawn(page: &[u8], widths: impl Fn(&str, u16) -> f32) -> Drawn {
    let mut drawn = Drawn::default();
    let (mut now, mut kept) = ([1.0, 0.0, 0.0, 1.0, 0.0, 0.0], Vec::new());
    let (mut text, mut face, mut size) = (now, String::new(), 0.0);
    for operation in Content::decode(page).unwrap().operations {
        let given = numbers(&operation);
        match operation.operator.as_str() {
            "q" => kept.push(now),
            "Q" => now = kept.pop().unwrap(),
            "cm" => now = times(now, given.try_into().unwrap()),
            "m" | "l" | "c" => {
                for point in given.chunks(2) {
                    let placed = times(now, [1.0, 0.0, 0.0, 1.0, point[0], point[1]]);
                    drawn.path_points.push([placed[4], placed[5]]);
                }
            }
            "Tf" => {
                face = String::from_utf8(operation.operands[0].as_name().unwrap().to_vec()).unwrap();
                size = given[0];
            }
            "Tm" => text = given.try_into().unwrap(),
            "TJ" => {
                let mut along = 0.0;
                for item in operation.operands[0].as_array().unwrap() {
                    let Object::String(bytes, _) = item else {
                        along -= item.as_float().unwrap() / 1000.0 * size;
                        continue;
                    };
                    for code in bytes.chunks(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]])) {
                        let placed = times(times(now, text), [1.0, 0.0, 0.0, 1.0, along, 0.0]);
                        drawn.letters.push((code, [placed[4], placed[5]]));
                        along += widths(&face, code) / 1000.0 * size;
                    }
                }
            }
            _ => {}
        }
    }
    assert!(kept.is_empty());
    drawn
}

/// The page's content, and the widths of its fonts as they stand in the file.
fn read(pdf: &[u8]) -> Drawn {
    let document = Document::load_mem(pdf).unwrap();
    let page = *document.get_pages().get(&1).unwrap();
    let fonts = document.get_page_fonts(page).unwrap();
    let width = |face: &str, code: u16| {
        let font = fonts.get(face.as_bytes()).unwrap();
        let letters = font.get(b"DescendantFonts").unwrap().as_array().unwrap()[0].as_reference().unwrap();
        let widths = document.get_dictionary(letters).unwrap().get(b"W").unwrap().as_array().unwrap();
        let of = widths.chunks(3).find(|entry| entry[0].as_i64().unwrap() == i64::from(code));
        of.unwrap()[2].as_float().unwrap()
    };
    drawn(&document.get_page_content(page).unwrap(), width)
}

/// The same from the tree: each node's own places, which it knows itself.
fn expected(tree: &Tree) -> Drawn {
    fn walk(group: &Group, out: &mut Drawn) {
        for node in group.children() {
            let placed = |transform: Transform, x: f32, y: f32| {
                let mut point = resvg::tiny_skia::Point::from_xy(x, y);
                transform.map_point(&mut point);
                [point.x, point.y]
            };
            match node {
                Node::Group(inner) => walk(inner, out),
                Node::Path(path) => {
                    let points = path.data().points();
                    out.path_points.extend(points.iter().map(|p| placed(path.abs_transform(), p.x, p.y)));
                }
                Node::Text(text) => {
                    for letter in text.layouted().iter().flat_map(|span| &span.positioned_glyphs) {
                        let own = letter.outline_transform();
                        out.letters.push((letter.id.0, placed(text.abs_transform(), own.tx, own.ty)));
                    }
                }
                Node::Image(_) => unreachable!("there is none"),
            }
        }
    }
    let mut out = Drawn::default();
    walk(tree.root(), &mut out);
    out
}

fn on_page(tree: &Tree, [x, y]: [f32; 2]) -> [f32; 2] {
    [x * POINTS_PER_PIXEL, (tree.size().height() - y) * POINTS_PER_PIXEL]
}

#[test]
fn letters_and_corners_stand_where_the_document_has_them() {
    let svg = sample();
    let tree = tree(&svg).unwrap();
    let (page, wanted) = (read(&pdf(&svg, "sample").unwrap()), expected(&tree));
    assert_eq!(page.letters.len(), wanted.letters.len());
    assert!(page.letters.len() > 30);
    for ((code, at), (glyph, place)) in page.letters.iter().zip(&wanted.letters) {
        let [x, y] = on_page(&tree, *place);
        let off = (at[0] - x).hypot(at[1] - y);
        assert!(off < NEAR, "letter {glyph}, {code} on the page, is off by {off} at {at:?}");
    }
    // A bend of SVG's is two on the page: all its other points are there, in their order.
    let mut points = page.path_points.iter();
    let mut met = 0;
    for place in &wanted.path_points {
        let [x, y] = on_page(&tree, *place);
        if let Some(at) = points.clone().position(|at| (at[0] - x).hypot(at[1] - y) < NEAR) {
            points.nth(at);
            met += 1;
        }
    }
    let bends = tree_bends(&tree);
    assert_eq!(met + bends, wanted.path_points.len());
}

/// How many points of the document's paths are bends of curves with one.
fn tree_bends(tree: &Tree) -> usize {
    fn count(group: &Group) -> usize {
        group
            .children()
            .iter()
            .map(|node| match node {
                Node::Group(inner) => count(inner),
                Node::Path(path) => {
                    let segments = path.data().segments();
                    segments.filter(|one| matches!(one, resvg::tiny_skia::PathSegment::QuadTo(..))).count()
                }
                _ => 0,
            })
            .sum()
    }
    count(tree.root())
}

#[test]
fn texts_are_read_back_word_for_word() {
    let said = pdf_extract::extract_text_from_mem(&pdf(&sample(), "sample").unwrap()).unwrap();
    for text in ["Wren B18: 434 mm × 3°", "AVAVA To", "turned"] {
        assert!(said.contains(text), "{text}: {said}");
    }
}

#[test]
fn a_title_in_any_script_is_kept() {
    let title = "Höfe 木 (two)\\";
    let document = Document::load_mem(&pdf(&sample(), title).unwrap()).unwrap();
    let info = document.trailer.get(b"Info").unwrap().as_reference().unwrap();
    let kept = document.get_dictionary(info).unwrap().get(b"Title").unwrap();
    assert_eq!(pdf_extract::decode_text_string(kept).unwrap(), title);
}

#[test]
fn what_no_drawing_has_is_refused_and_not_left_out() {
    let gradient = "<linearGradient id=\"g\"><stop stop-color=\"red\"/><stop offset=\"1\" stop-color=\"blue\"/></linearGradient>\
                    <rect width=\"90\" height=\"90\" fill=\"url(#g)\"/>";
    let clip = "<clipPath id=\"c\"><circle r=\"50\"/></clipPath><g clip-path=\"url(#c)\"><rect width=\"90\" height=\"90\"/></g>";
    let faded = "<g opacity=\"0.5\"><rect width=\"90\" height=\"90\"/><circle r=\"50\"/></g>";
    let outline = "<text y=\"50\" stroke=\"red\">outline</text>";
    for inside in [gradient, clip, faded, outline] {
        let refused = pdf(&document(inside), "");
        assert!(matches!(refused, Err(SheetError::Render(_))), "{inside}");
    }
    let huge = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"30000\" height=\"10\"/>";
    assert_eq!(pdf(huge, ""), Err(SheetError::Size));
    assert!(matches!(pdf("<svg", ""), Err(SheetError::Document(_))));
}

#[test]
fn an_empty_page_is_a_page() {
    let page = read(&pdf(&document(""), "").unwrap());
    assert!(page.letters.is_empty() && page.path_points.is_empty());
}

#[test]
fn every_piece_of_the_page_is_in_the_tree_that_a_screen_reader_goes_by() {
    let bytes = super::pdf(&[sample()], &About { title: "sample", author: "Alder Flat woodlot" }).unwrap();
    let document = Document::load_mem(&bytes).unwrap();
    let catalog = document.catalog().unwrap();
    assert!(catalog.get(b"MarkInfo").unwrap().as_dict().unwrap().get(b"Marked").unwrap().as_bool().unwrap());
    let follow = |object: &Object| document.get_object(object.as_reference().unwrap()).unwrap().clone();
    let root = follow(catalog.get(b"StructTreeRoot").unwrap());
    let whole = follow(root.as_dict().unwrap().get(b"K").unwrap());
    let children = whole.as_dict().unwrap().get(b"K").unwrap().as_array().unwrap().clone();
    let kinds: Vec<(String, Vec<i64>)> = children
        .iter()
        .map(|child| {
            let child = follow(child);
            let child = child.as_dict().unwrap();
            let kind = String::from_utf8(child.get(b"S").unwrap().as_name().unwrap().to_vec()).unwrap();
            let pieces = child.get(b"K").unwrap().as_array().unwrap();
            (kind, pieces.iter().map(|piece| piece.as_i64().unwrap()).collect())
        })
        .collect();
    let texts = kinds.iter().filter(|(kind, _)| kind == "P").count();
    let figures: Vec<_> = kinds.iter().filter(|(kind, _)| kind == "Figure").collect();
    assert_eq!((texts, figures.len()), (3, 1), "{kinds:?}");
    // Each piece once, and each that the page has.
    let mut pieces: Vec<i64> = kinds.iter().flat_map(|(_, pieces)| pieces.clone()).collect();
    pieces.sort_unstable();
    let page = *document.get_pages().get(&1).unwrap();
    let content = Content::decode(&document.get_page_content(page).unwrap()).unwrap();
    let begun = content.operations.iter().filter(|operation| operation.operator == "BDC").count();
    let ended = content.operations.iter().filter(|operation| operation.operator == "EMC").count();
    assert_eq!((begun, ended), (6, 6));
    assert_eq!(pieces, (0..6).collect::<Vec<i64>>());
    let info = follow(document.trailer.get(b"Info").unwrap());
    let author = info.as_dict().unwrap().get(b"Author").unwrap().clone();
    assert_eq!(pdf_extract::decode_text_string(&author).unwrap(), "Alder Flat woodlot");
}
