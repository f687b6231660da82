//! The form of the picked part, and what can be done with it.

use super::PartsAsk;
use super::extras::extras_ui;
use super::photograph::{kept_path, picked_head};
use super::row::{Put, Row, field_id};
use crate::desk::document::{Document, users_words};
use crate::desk::edit::{Edit, Edits, PartsEdit};
use crate::desk::forms::parts::{Draft, Field, Section, fields, set_text};
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{at_right, focus_to_type_over, is_refused, scrolled, width_at_right};
use barpoise_core::Yard;
use barpoise_core::propose::proposed_words;
use barpoise_core::record::{PartFile, PartId, PartKind};
use egui::{CollapsingHeader, Id, RichText, ScrollArea, Ui};

/// A form narrower than this, in points, has its buttons under its title.
const ONE_LINE: f32 = 430.0;
/// Pitches in inches or gauges in millimetres further apart than this are two.
const APART: f64 = 1e-4;

/// Shows the form.
pub(super) fn form_ui(
    ui: &mut Ui,
    document: &Document,
    view: &mut ViewState,
    edits: &mut Edits,
) -> Option<PartsAsk> {
    let Some(mut draft) = view.parts.shown(document) else {
        ui.label("Nothing is picked.");
        return None;
    };
    let wants_add = head_ui(ui, document, view, edits, &draft);
    let ask = photograph_ui(ui, document, view);
    let salt = salt(view, &draft);
    if draft.id.is_none() && any_refused(ui, &salt) {
        ui.colored_label(view.paper.color(Ink::Warn), "A value below is refused.");
    }
    faults_ui(ui, document, view, &draft);
    if draft.id.is_none() && std::mem::take(&mut view.parts.name_next) {
        focus_to_type_over(ui, field_id(&salt, "name"), draft.part.name());
    }
    scrolled(ScrollArea::vertical().id_salt(("part form", &salt)).auto_shrink(false), ui, |ui| {
        let (given, lit) = sections_ui(ui, document, view, &draft, &salt);
        if lit != view.parts.lit {
            view.parts.lit = lit;
            ui.ctx().request_repaint();
        }
        if let Some((path, put)) = given {
            draft.take(path, |part| apply(part, path, put), document.yard());
            view.parts.take(draft, document, edits);
        } else if let PartFile::Setup(setup) = &draft.part
            && let Some(extras) = extras_ui(ui, view, setup, &salt)
        {
            let put = |part: &mut PartFile| {
                if let PartFile::Setup(setup) = part {
                    setup.extras = extras;
                }
            };
            draft.take("extras", put, document.yard());
            view.parts.take(draft, document, edits);
        }
        ui.add_space(12.0);
    });
    // After the fields: the one that was left by this click has given its value by now.
    if wants_add && !any_refused(ui, &salt) {
        view.parts.add(document, edits);
    }
    ask
}

/// A head of the yard can be measured on a photograph; marks that were kept can be looked at again.
fn photograph_ui(ui: &mut Ui, document: &Document, view: &ViewState) -> Option<PartsAsk> {
    let head = picked_head(document, view)?;
    let mut ask = None;
    ui.horizontal_wrapped(|ui| {
        if let Some(path) = kept_path(document, &head)
            && ui.button("Marks on its photograph").clicked()
        {
            ask = Some(PartsAsk::Kept(path));
        }
        if ui.button("From a photograph…").clicked() {
            ask = Some(PartsAsk::Photograph);
        }
    });
    ask
}

/// Tells the fields of one form from those of every other.
fn salt(view: &ViewState, draft: &Draft) -> String {
    let begun = view.parts.begun;
    match &draft.id {
        Some(id) => format!("{begun} {:?} {}", id.kind, id.name),
        None => format!("new {begun}"),
    }
}

/// True while a field of this form stands refused.
fn any_refused(ui: &Ui, salt: &str) -> bool {
    PartKind::ALL.into_iter().flat_map(fields).any(|field| is_refused(ui, field_id(salt, field.path)))
}

/// Puts what was typed or picked.
pub(super) fn apply(part: &mut PartFile, path: &str, put: Put) {
    match put {
        Put::Number(value) => {
            part.set_number(path, value);
        }
        Put::Text(text) if path == "drive_links" => {
            part.set_number(path, text.parse().ok());
        }
        Put::Text(text) => set_text(part, path, &text),
    }
}

/// Title and buttons; true where a new part is to be added.
fn head_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits, draft: &Draft) -> bool {
    let kind = draft.part.kind();
    let mut wants_add = false;
    let title = match &draft.id {
        Some(id) => format!("{} {}", capitalised(kind.word()), id.name),
        None => format!("New {}", kind.word()),
    };
    let title = egui::Label::new(RichText::new(title).font(theme::strong(size::TITLE))).truncate();
    let mut buttons = |ui: &mut Ui| match &draft.id {
        Some(id) => actions_ui(ui, document, view, edits, id),
        None => {
            if ui.button("Cancel").clicked() {
                view.parts.give_up(None);
            }
            let text = RichText::new(format!("Add {}", kind.word())).font(theme::strong(size::BODY));
            let good = draft.faults().is_empty();
            wants_add = ui.add_enabled(good, egui::Button::new(text)).clicked();
        }
    };
    if ui.available_width() < ONE_LINE {
        ui.add(title);
        ui.horizontal_wrapped(|ui| buttons(ui));
    } else {
        ui.horizontal(|ui| {
            let id = Id::unique("part at right");
            let room = ui.available_width() - width_at_right(ui, id) - ui.spacing().item_spacing.x;
            ui.allocate_ui(egui::vec2(room.max(0.0), size::HIT), |ui| ui.add(title));
            at_right(ui, id, buttons);
        });
    }
    if let Some(id) = draft.id.as_ref().filter(|id| view.parts.deleting.as_ref() == Some(*id)) {
        delete_ui(ui, document, view, edits, id);
    }
    if let Some(refusal) = document.refusal().filter(|refusal| matches!(refusal.edit, Edit::Parts(_))) {
        let text = RichText::new(capitalised(&refusal.reason)).color(view.paper.color(Ink::Warn));
        ui.add(egui::Label::new(text).wrap());
    }
    let proposed = proposed_words(draft.part.note()).len();
    if proposed > 0 {
        let words = format!(
            "{proposed} of these values are proposed, not measured: our guess, no source. Type over them as you measure."
        );
        let words = if proposed == 1 {
            words.replace("values are", "values is").replace("them", "it")
        } else {
            words
        };
        ui.add(egui::Label::new(RichText::new(words).color(view.paper.color(Ink::Proposed))).wrap());
    }
    wants_add
}

fn actions_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits, id: &PartId) {
    if id.kind == PartKind::Setup {
        let on = document.bench().base().name() == id.name;
        if ui.add_enabled(!on, egui::Button::new("Put on the bench")).clicked() {
            edits.ask(Edit::PickSetup(id.name.clone()));
        }
    }
    if ui.button("Duplicate").clicked() {
        let name = crate::desk::document::duplicate_name(document.yard().file(), id);
        edits.ask(Edit::Parts(PartsEdit::Duplicate(id.clone())));
        view.parts.pick(PartId::new(id.kind, name));
    }
    if ui.button("Delete…").clicked() {
        if document.yard().file().users_of(id).is_empty() && !is_last_setup(document, id) {
            edits.ask(Edit::Parts(PartsEdit::Delete { id: id.clone(), with_users: false }));
        } else {
            view.parts.deleting = Some(id.clone());
        }
    }
}

fn is_last_setup(document: &Document, id: &PartId) -> bool {
    let file = document.yard().file();
    let gone = file.users_of(id).setups.len() + usize::from(id.kind == PartKind::Setup);
    gone > 0 && file.setups.len() <= gone
}

/// What would go with a part that is in use.
fn delete_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits, id: &PartId) {
    let warn = view.paper.color(Ink::Warn);
    let users = document.yard().file().users_of(id);
    let last = is_last_setup(document, id);
    let words = match (users.is_empty(), last) {
        (_, true) => "A yard needs at least one setup, and none would be left.".to_owned(),
        (true, false) => String::new(),
        (false, false) => format!("{} is in use by {}.", id.name, users_words(&users)),
    };
    ui.add(egui::Label::new(RichText::new(words).color(warn)).wrap());
    ui.horizontal(|ui| {
        if !last && ui.button("Delete these too").clicked() {
            edits.ask(Edit::Parts(PartsEdit::Delete { id: id.clone(), with_users: true }));
            view.parts.deleting = None;
        }
        if ui.button("Keep it").clicked() {
            view.parts.deleting = None;
        }
    });
}

/// What is wrong elsewhere than in a field of this form.
fn faults_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, draft: &Draft) {
    if draft.faults().is_empty() {
        return;
    }
    let warn = view.paper.color(Ink::Warn);
    let own = format!("{}.", draft.own_path(document.yard().file()));
    let lead = match draft.id {
        Some(_) => "This change waits: the yard would not go together with it. The yard is as it was.",
        None => "It does not go together yet.",
    };
    ui.add(egui::Label::new(RichText::new(lead).font(theme::strong(size::BODY)).color(warn)).wrap());
    for fault in draft.faults().iter().filter(|fault| !fault.path.starts_with(&own)) {
        ui.add(egui::Label::new(RichText::new(capitalised(&fault.message)).color(warn)).wrap());
    }
    if let Some(id) = &draft.id
        && ui.button("Give the change up").clicked()
    {
        view.parts.give_up(Some(id));
    }
}

/// The fields; what was put into one, and the one that has the keyboard.
fn sections_ui(
    ui: &mut Ui,
    document: &Document,
    view: &ViewState,
    draft: &Draft,
    salt: &str,
) -> (Option<(&'static str, Put)>, Option<&'static str>) {
    let (file, kind) = (document.yard().file(), draft.part.kind());
    let own_name = draft.id.as_ref().map(|id| id.name.as_str());
    let taken: Vec<String> =
        file.part_names(kind).into_iter().filter(|name| Some(*name) != own_name).map(str::to_owned).collect();
    let own_path = draft.own_path(file);
    let (mut given, mut lit) = (None, None);
    for section in Section::ALL {
        let of_section =
            fields(kind).iter().filter(|field| field.section == section && field.applies(&draft.part));
        let mut rows = |ui: &mut Ui| {
            for field in of_section.clone() {
                let wrong = faults_of(draft, &own_path, field);
                let offered = offered(document.yard(), view, draft, field);
                let row = Row {
                    salt,
                    units: view.units,
                    paper: view.paper,
                    taken: &taken,
                    offered: &offered,
                    wrong: &wrong,
                };
                if let Some(put) = row.show(ui, field, &draft.part) {
                    given = Some((field.path, put));
                }
                if ui.memory(|memory| memory.has_focus(field_id(salt, field.path))) {
                    lit = Some(field.path);
                }
            }
        };
        if of_section.clone().next().is_none() {
            continue;
        }
        let heading = RichText::new(section.name()).font(theme::strong(size::STRONG));
        if section == Section::Rare {
            let wrong = of_section.clone().any(|field| !faults_of(draft, &own_path, field).is_empty());
            CollapsingHeader::new(heading)
                .id_salt(("part section", salt, section.name()))
                .open(wrong.then_some(true))
                .show(ui, |ui| rows(ui));
        } else {
            ui.add_space(6.0);
            ui.label(heading);
            rows(ui);
        }
    }
    (given, lit)
}

/// The faults of one field; the name of their owner stands at the top of the form already.
fn faults_of(draft: &Draft, own_path: &str, field: &Field) -> Vec<String> {
    let path = format!("{own_path}.{}", field.path);
    let own = draft.faults().iter().filter(|fault| fault.path == path);
    own.map(|fault| {
        capitalised(fault.message.split_once(": ").map_or(fault.message.as_str(), |(_, why)| why))
    })
    .collect()
}

/// What a setup can be put together of; what does not go with the rest says so.
fn offered(yard: &Yard, view: &ViewState, draft: &Draft, field: &Field) -> Vec<(String, String)> {
    let PartFile::Setup(setup) = &draft.part else { return Vec::new() };
    let option = |name: &str, but: &str| (name.to_owned(), format!("{name}{but}"));
    let file = yard.file();
    let head = file.powerheads.iter().find(|head| head.name == setup.powerhead);
    let bar = file.bars.iter().find(|bar| bar.name == setup.bar);
    let apart = |a: f64, b: Option<f64>| b.is_some_and(|b| (a - b).abs() > APART);
    match field.path {
        "powerhead" => file.powerheads.iter().map(|head| option(&head.name, "")).collect(),
        "bar" => {
            let but = |mount: &String| match head {
                Some(head) if head.mount != *mount => " · other mount",
                _ => "",
            };
            file.bars.iter().map(|bar| option(&bar.name, but(&bar.mount))).collect()
        }
        "chain" => {
            let but = |pitch: f64, gauge: f64| {
                if apart(pitch, head.map(|head| head.sprocket.pitch_in)) {
                    " · other pitch"
                } else if apart(gauge, bar.map(|bar| bar.gauge_mm)) {
                    " · other gauge"
                } else {
                    ""
                }
            };
            file.chains.iter().map(|chain| option(&chain.name, but(chain.pitch_in, chain.gauge_mm))).collect()
        }
        "drive_links" => {
            let Some((stamped, closing)) = view.parts.built.as_ref().and_then(|built| built.loops.as_ref())
            else {
                return Vec::new();
            };
            let closing = closing.iter().map(|links| (links.to_string(), format!("{links}, closes")));
            std::iter::once((String::new(), format!("{stamped}, as stamped"))).chain(closing).collect()
        }
        _ => Vec::new(),
    }
}
