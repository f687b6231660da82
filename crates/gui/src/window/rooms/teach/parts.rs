//! Who plays a step's parts, another setup in the place of one, and the steps that nobody in this yard can play.

use super::look::Look;
use crate::desk::document::Document;
use crate::desk::words::weigh_in::{capitalised, counted};
use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use crate::window::widgets::{Choice, pick_list};
use barpoise_core::lesson::{Cast, Role, Step};
use egui::{CollapsingHeader, ComboBox, Label, RichText, Ui};

/// Width of a list of setups, in points.
const PICK: f32 = 220.0;

/// Each part of the step with the setup that plays it.
pub(super) fn parts_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, step: &Step) {
    let roles = step.roles.iter().copied().filter(|role| *role != Role::EachBar);
    let roles: Vec<Role> = roles.collect();
    if roles.is_empty() {
        return;
    }
    let title = RichText::new("Play it with…").font(theme::strong(size::BODY));
    CollapsingHeader::new(title).id_salt("lesson parts").show(ui, |ui| {
        for (role, player) in roles.into_iter().zip(&step.setups) {
            part_ui(ui, document, view, role, player);
        }
    });
}

fn part_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, role: Role, player: &str) {
    let cast = Cast::new(document.yard(), document.bench().base().name(), &view.teach.picked);
    let able = cast.able(role).unwrap_or_default();
    let label = ui.label(RichText::new(capitalised(role.words())).color(view.paper.color(Ink::Soft)));
    let text = RichText::new(player).font(theme::strong(size::BODY));
    let combo = ComboBox::from_id_salt(("lesson part", role)).width(PICK).truncate().selected_text(text);
    let lines = able.iter().map(|setup| Choice::new(setup.name(), setup.name() == player));
    let (list, picked) = pick_list(ui, combo, lines);
    list.labelled_by(label.id);
    let name = picked.and_then(|index| able.get(index)).map(|setup| setup.name().to_owned());
    if let Some(name) = name {
        view.teach.pick(role, &name);
    }
}

/// The steps that are left out, each with why.
pub(super) fn left_out_ui(ui: &mut Ui, view: &ViewState, look: &Look) {
    let left_out: Vec<String> =
        view.teach.left_out().map(|(step, reason)| format!("{}: {reason}.", step.heading)).collect();
    if left_out.is_empty() {
        return;
    }
    let title = format!("{} left out with this yard", counted(left_out.len(), "step"));
    let title = RichText::new(title).font(theme::strong(size::BODY)).color(look.color(Ink::Warn));
    CollapsingHeader::new(title).id_salt("lesson left out").show(ui, |ui| {
        for line in left_out {
            ui.add(Label::new(look.text(line, Ink::Soft)).wrap());
        }
    });
}
