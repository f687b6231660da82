//! The plan in the words a sawyer would say: one card for each setting.

use super::run::at_work;
use crate::document::{Cut, Document, Step};
use crate::format;
use crate::theme::{self, Ink, size};
use crate::view_state::ViewState;
use barpoise_core::log_section::{
    LogJob, NoseState, PLUNGE_RULE, Setting, SettingPlace, SwingStart, Touches, underside_leads,
};
use barpoise_core::units::{Angle, Length};
use egui::{Align2, Frame, Margin, RichText, Sense, Stroke, Ui, Vec2};

/// The cards; a click runs the cut to that setting.
pub(super) fn steps_ui(ui: &mut Ui, document: &Document, job: &LogJob, cut: &Cut, view: &mut ViewState) {
    let now = at_work(document, view).map(|(index, _)| index);
    for (index, (setting, step)) in cut.settings.iter().zip(&cut.steps).enumerate() {
        card_ui(ui, job, view, index, setting, step, now == Some(index));
    }
}

fn card_ui(
    ui: &mut Ui,
    job: &LogJob,
    view: &mut ViewState,
    index: usize,
    setting: &Setting,
    step: &Step,
    on: bool,
) {
    let paper = view.paper;
    let fill = if on { paper.color(Ink::OursPale) } else { paper.color(Ink::Sheet) };
    let card = Frame::new().fill(fill).corner_radius(4.0).inner_margin(Margin::symmetric(6, 4));
    let response = card.show(ui, |ui| {
        ui.horizontal_top(|ui| {
            number_ui(ui, view, index, on);
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 2.0;
                let head = heading(setting);
                ui.add(egui::Label::new(RichText::new(head).font(theme::strong(size::BODY))).wrap());
                for (text, ink) in sentences(job, view, setting, step) {
                    ui.add(egui::Label::new(RichText::new(text).color(paper.color(ink))).wrap());
                }
            });
        });
        ui.set_min_width(ui.available_width());
    });
    let id = egui::Id::unique(("log card", index));
    let click = ui.interact(response.response.rect, id, Sense::click());
    let name = format!("Go to setting {}", index + 1);
    click.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Button, true, &name));
    if click.has_focus() {
        let edge = Stroke::new(2.0, paper.color(Ink::Line));
        ui.painter().rect_stroke(response.response.rect, 4.0, edge, egui::StrokeKind::Inside);
    }
    if click.clicked() {
        view.cut_run = u32::try_from(index).map_or(0.0, f64::from) + 0.5;
        view.cut_plays = false;
    }
}

fn number_ui(ui: &mut Ui, view: &ViewState, index: usize, on: bool) {
    let (rect, _) = ui.allocate_exact_size(Vec2::splat(26.0), Sense::hover());
    let ours = view.paper.color(Ink::Ours);
    let (fill, ink) =
        if on { (ours, view.paper.color(Ink::Sheet)) } else { (view.paper.color(Ink::Sheet), ours) };
    ui.painter().circle(rect.center(), 12.0, fill, Stroke::new(2.0, ours));
    let text = (index + 1).to_string();
    ui.painter().text(rect.center(), Align2::CENTER_CENTER, text, theme::strong(size::BODY), ink);
}

/// `Near side: spikes at 180°, swing 146° down`.
fn heading(setting: &Setting) -> String {
    let place = SettingPlace::of(setting).words(setting.side());
    let mut letters = place.chars();
    let place: String =
        letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default();
    let way = if underside_leads(setting) { "down" } else { "up" };
    let bark = Angle::from_deg(setting.bark().as_deg().rem_euclid(360.0));
    format!(
        "{place}: spikes at {}, swing {} {way}",
        format::whole_angle(bark),
        format::whole_angle(setting.swing())
    )
}

/// What a sawyer would say of a setting, each with its colour.
fn sentences(job: &LogJob, view: &ViewState, setting: &Setting, step: &Step) -> Vec<(String, Ink)> {
    let mut said = Vec::new();
    match step.start {
        SwingStart::TouchDown { .. } => {
            said.push(("Lay the bar on the bark and in, then set the spikes.".to_owned(), Ink::Soft))
        }
        SwingStart::Plunge => said.push((PLUNGE_RULE.to_owned(), Ink::Danger)),
        SwingStart::Free => {}
    }
    said.push(nose_words(view, step));
    for contact in &step.contacts {
        let what = match contact.touches {
            Touches::UncutWood => "uncut wood",
            Touches::Tangle => "the tangle",
        };
        let (from, to) = (share_of_swing(setting, contact.from_rad), share_of_swing(setting, contact.to_rad));
        let text = format!(
            "Danger quadrant touches {what} from {} to {} of the swing.",
            format::percent(from),
            format::percent(to)
        );
        said.push((text, Ink::Danger));
    }
    let slides = setting.slides_off(job);
    let carries = if setting.stand_off() > Length::ZERO {
        "Held off the spikes: your hands carry weight and pull-in."
    } else if slides {
        "The log carries the saw; your hands take it for the last slide."
    } else {
        "The log carries the saw."
    };
    said.push((carries.to_owned(), Ink::Soft));
    if step.nose.into_ground_m > 0.0 {
        let depth = view.units.length(Length::from_m(step.nose.into_ground_m));
        said.push((format!("The nose would go {depth} into the ground."), Ink::Danger));
    }
    said
}

fn share_of_swing(setting: &Setting, at_rad: f64) -> f64 {
    let turn = (setting.to() - setting.from()).as_rad();
    if turn == 0.0 { 0.0 } else { (at_rad - setting.from().as_rad()) / turn }
}

/// The nose in one sentence, red where it is out of the log.
fn nose_words(view: &ViewState, step: &Step) -> (String, Ink) {
    let length = |metres: f64| view.units.length(Length::from_m(metres));
    let nose = &step.nose;
    if nose.out_max_m > 0.0 {
        let sight = if nose.is_hidden() { "hidden" } else { "in sight" };
        let angle = format::whole_angle(Angle::from_rad(nose.out_rad));
        let text = format!(
            "Nose out of the log up to {}, through {angle} of the swing, {sight}.",
            length(nose.out_max_m)
        );
        return (text, Ink::Danger);
    }
    let open = nose.phases.iter().any(|phase| phase.state == NoseState::OpenKerf);
    let text = match (nose.buried_max_m > 0.0, open) {
        (true, true) => format!(
            "Nose buried, up to {} short of the far bark, then in the open kerf.",
            length(nose.buried_max_m)
        ),
        (true, false) => format!("Nose buried, up to {} short of the far bark.", length(nose.buried_max_m)),
        (false, _) => "Nose in the open kerf.".to_owned(),
    };
    (text, Ink::Soft)
}
