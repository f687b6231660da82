//! What a page says to a reader that does not see it: its texts in their order, and that the rest is a figure.

use super::page::Mark;
use pdf_writer::types::StructRole;
use pdf_writer::writers::StructElement;
use pdf_writer::{Name, Pdf, Ref, TextStr};

/// Writes the tree of a page whose pieces bear the numbers of these marks.
pub(super) fn write(
    pdf: &mut Pdf,
    root: Ref,
    page: Ref,
    marks: &[Mark],
    title: &str,
    next: &mut impl FnMut() -> Ref,
) {
    let (document, figure, parents) = (next(), next(), next());
    let texts: Vec<Ref> = marks.iter().filter(|mark| **mark == Mark::Text).map(|_| next()).collect();
    let mut tree = pdf.indirect(root).dict();
    tree.pair(Name(b"Type"), Name(b"StructTreeRoot"));
    tree.pair(Name(b"K"), document);
    let mut numbers = tree.insert(Name(b"ParentTree")).dict();
    numbers.insert(Name(b"Nums")).array().item(0).item(parents);
    drop(numbers);
    tree.pair(Name(b"ParentTreeNextKey"), 1);
    drop(tree);

    let numbered = || (0_i32..).zip(marks);
    let mut whole: StructElement<'_> = pdf.indirect(document).start();
    whole.kind(StructRole::Document).parent(root).title(TextStr(title));
    let mut children = whole.children();
    children.struct_element(figure);
    texts.iter().for_each(|text| {
        children.struct_element(*text);
    });
    drop(children);
    drop(whole);

    let mut drawn: StructElement<'_> = pdf.indirect(figure).start();
    drawn.kind(StructRole::Figure).parent(document).page(page).alt(TextStr(title));
    let mut children = drawn.children();
    for (number, _) in numbered().filter(|(_, mark)| **mark == Mark::Drawing) {
        children.marked_content_id(number);
    }
    drop(children);
    drop(drawn);

    let of_text = numbered().filter(|(_, mark)| **mark == Mark::Text);
    for ((number, _), text) in of_text.zip(&texts) {
        let mut said: StructElement<'_> = pdf.indirect(*text).start();
        said.kind(StructRole::P).parent(document).page(page);
        said.children().marked_content_id(number);
    }

    // For each number the element it belongs to.
    let mut texts = texts.iter();
    let belongs = marks.iter().map(|mark| match mark {
        Mark::Text => texts.next().copied().unwrap_or(document),
        Mark::Drawing => figure,
    });
    let belongs: Vec<Ref> = belongs.collect();
    pdf.indirect(parents).array().items(belongs);
}
