//! *From a photograph*: marks on a picture of a head, and what its numbers are by them.

mod canvas;
mod column;
mod picture;

use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, Gesture, PartsEdit};
use crate::draw::theme::Ink;
use crate::window::view_state::{Loading, PhotographView, ViewState};
use barpoise_core::photograph::assumed;
use barpoise_core::record::{Landmark, PartFile, PartId, PartKind, PhotographFile, PowerheadFile};
use egui::{CentralPanel, Context, Panel, RichText, Ui};
use std::path::{Component, Path, PathBuf};

/// Width of the column, points.
const COLUMN: f32 = 380.0;
/// Begins to read a photograph of the picked head.
pub fn open_photograph(document: &Document, view: &mut ViewState, path: &Path, ctx: &Context) {
    let Some(head) = picked_head(document, view) else { return };
    let (read_ctx, wake, file) = (ctx.clone(), ctx.clone(), path.to_owned());
    let loading = Loading::begin(move || picture::read(&file, &read_ctx), move || wake.request_repaint());
    view.photograph = Some(PhotographView::new(head, path, loading));
}

/// The head whose form is open and that is in the yard.
pub(super) fn picked_head(document: &Document, view: &ViewState) -> Option<PartId> {
    let id = view.parts.shown(document)?.id?;
    (id.kind == PartKind::Powerhead).then_some(id)
}

/// Where the photograph kept with a head lies.
pub(super) fn kept_path(document: &Document, head: &PartId) -> Option<PathBuf> {
    let kept = head_file(document, head)?.photograph?;
    let folder = document.path().and_then(Path::parent).unwrap_or(Path::new(""));
    Some(folder.join(kept.path))
}

fn head_file(document: &Document, id: &PartId) -> Option<PowerheadFile> {
    match document.yard().file().part(id)? {
        PartFile::Powerhead(head) => Some(*head),
        _ => None,
    }
}

/// Shows the page. It closes itself.
pub(super) fn photograph_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    let Some(mut page) = view.photograph.take() else { return };
    let came = page.settle();
    let Some(head) = head_file(document, &page.head) else { return };
    let (picture, kept) = (page.picture.clone(), head.photograph.clone());
    let Some(picture) = picture else {
        if waiting_ui(ui, view, &page) {
            view.photograph = Some(page);
        }
        return;
    };
    let path = seen_from(document.path().and_then(Path::parent), &page.path);
    let mut file = match kept {
        // The same picture: its marks go on. Another one under a head that has marks was asked about by *Another photograph*.
        Some(kept) if [kept.width_px, kept.height_px] == picture.size => PhotographFile { path, ..kept },
        _ => assumed::begun(path, picture.size),
    };
    if came {
        page.marking = None;
    }
    let before = file.clone();
    let mut gesture = Gesture::Single;
    let mut stays = true;
    let frame = super::sheet(view.paper);
    Panel::left("photograph column").exact_size(COLUMN).resizable(false).frame(frame).show(ui, |ui| {
        stays = column::column_ui(ui, document, view, edits, &mut page, &mut file, &head);
    });
    CentralPanel::no_frame().frame(super::ground(view.paper)).show(ui, |ui| {
        gesture = canvas::canvas_ui(ui, view.paper, &mut page, &picture, &mut file);
    });
    if file != before {
        let head = PowerheadFile { photograph: Some(file), ..head };
        let change = (page.head.clone(), PartFile::Powerhead(Box::new(head)));
        edits.ask_in(Edit::Parts(PartsEdit::Change(vec![change])), gesture);
    }
    if stays {
        view.photograph = Some(page);
    }
}

/// While there is no picture; false once it is given up.
fn waiting_ui(ui: &mut Ui, view: &ViewState, page: &PhotographView) -> bool {
    CentralPanel::no_frame()
        .frame(super::sheet(view.paper))
        .show(ui, |ui| {
            match &page.refusal {
                Some(refusal) => ui.colored_label(view.paper.color(Ink::Warn), refusal),
                None => ui.label(RichText::new("The photograph is being read.")),
            };
            !ui.button("Back to the form").clicked()
        })
        .inner
}

/// A path as it is seen from a folder, with strokes that every system reads; the bare name where it cannot be, and for a yard
/// that is in no file yet.
fn seen_from(folder: Option<&Path>, path: &Path) -> String {
    let name = || path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let absolute = std::path::absolute(path).ok();
    let Some((folder, path)) = folder.zip(absolute) else { return name() };
    let (from, to): (Vec<Component>, Vec<Component>) =
        (folder.components().collect(), path.components().collect());
    let shared = from.iter().zip(&to).take_while(|(a, b)| a == b).count();
    if shared == 0 {
        return name();
    }
    let up = from.iter().skip(shared).map(|_| "..".to_owned());
    let down = to.iter().skip(shared).map(|part| part.as_os_str().to_string_lossy().into_owned());
    up.chain(down).collect::<Vec<_>>().join("/")
}

/// What is marked: what was picked, or what is missing next.
fn marking(page: &PhotographView, file: &PhotographFile) -> Option<Landmark> {
    page.marking.or_else(|| {
        let mut asked = Landmark::ALL.into_iter().filter(|landmark| landmark.is_asked(&file.square_up));
        asked.find(|landmark| file.marks_of(*landmark).len() < *landmark.counts().start())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_seen_from_the_yards_folder() {
        let seen = |folder: &str, path: &str| seen_from(Some(Path::new(folder)), Path::new(path));
        assert_eq!(seen("/yards", "/yards/bittern.png"), "bittern.png");
        assert_eq!(seen("/yards", "/yards/pictures/bittern.png"), "pictures/bittern.png");
        assert_eq!(seen("/yards/alder", "/yards/bittern.png"), "../bittern.png");
        assert_eq!(seen_from(None, Path::new("/anywhere/bittern.png")), "bittern.png");
    }
}
