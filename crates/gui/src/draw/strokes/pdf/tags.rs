//! What a page says to a reader that does not see it: its texts in their order, and that the rest is a figure.

use super::page::Mark;
use pdf_writer::types::StructRole;
use pdf_writer::writers::StructElement;
use pdf_writer::{Name, Pdf, Ref, TextStr};

/// Writes the tree of pages, each with the marks whose numbers its pieces bear.
pub(super) fn write(
    pdf: &mut Pdf,
    root: Ref,
    pages: &[(Ref, &[Mark])],
    title: &str,
    next: &mut impl FnMut() -> Ref,
) {
    let document = next();
    let said: Vec<Said<'_>> = pages
        .iter()
        .map(|(page, marks)| {
            let (page, figure, parents) = (*page, next(), next());
            let texts = marks.iter().filter(|mark| **mark == Mark::Text).map(|_| next()).collect();
            Said { page, marks, figure, parents, texts }
        })
        .collect();
    let mut tree = pdf.indirect(root).dict();
    tree.pair(Name(b"Type"), Name(b"StructTreeRoot"));
    tree.pair(Name(b"K"), document);
    let mut numbers = tree.insert(Name(b"ParentTree")).dict();
    let mut list = numbers.insert(Name(b"Nums")).array();
    let mut keys = 0_i32;
    for page in &said {
        list.item(keys).item(page.parents);
        keys += 1;
    }
    drop(list);
    drop(numbers);
    tree.pair(Name(b"ParentTreeNextKey"), keys);
    drop(tree);

    let mut whole: StructElement<'_> = pdf.indirect(document).start();
    whole.kind(StructRole::Document).parent(root).title(TextStr(title));
    let mut children = whole.children();
    for page in &said {
        children.struct_element(page.figure);
        page.texts.iter().for_each(|text| {
            children.struct_element(*text);
        });
    }
    drop(children);
    drop(whole);
    said.iter().for_each(|page| page.write(pdf, document, title));
}

/// The elements of one page.
struct Said<'a> {
    page: Ref,
    marks: &'a [Mark],
    figure: Ref,
    parents: Ref,
    texts: Vec<Ref>,
}

impl Said<'_> {
    fn write(&self, pdf: &mut Pdf, document: Ref, title: &str) {
        let numbered = || (0_i32..).zip(self.marks);
        let mut drawn: StructElement<'_> = pdf.indirect(self.figure).start();
        drawn.kind(StructRole::Figure).parent(document).page(self.page).alt(TextStr(title));
        let mut children = drawn.children();
        for (number, _) in numbered().filter(|(_, mark)| **mark == Mark::Drawing) {
            children.marked_content_id(number);
        }
        drop(children);
        drop(drawn);

        let of_text = numbered().filter(|(_, mark)| **mark == Mark::Text);
        for ((number, _), text) in of_text.zip(&self.texts) {
            let mut said: StructElement<'_> = pdf.indirect(*text).start();
            said.kind(StructRole::P).parent(document).page(self.page);
            said.children().marked_content_id(number);
        }

        // For each number the element it belongs to.
        let mut texts = self.texts.iter();
        let belongs = self.marks.iter().map(|mark| match mark {
            Mark::Text => texts.next().copied().unwrap_or(document),
            Mark::Drawing => self.figure,
        });
        let belongs: Vec<Ref> = belongs.collect();
        pdf.indirect(self.parents).array().items(belongs);
    }
}
