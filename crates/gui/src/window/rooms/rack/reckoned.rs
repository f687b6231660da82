//! What everything is reckoned with: from where on something suits, and what work takes. All of it is the person's.

use super::section_ui;
use crate::desk::document::Document;
use crate::desk::edit::{Edit, Edits, RackEdit};
use crate::desk::format;
use crate::desk::sources::Topic;
use crate::desk::words::rack as words;
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::Ink;
use crate::window::rooms::sources::sources_fold_ui;
use crate::window::view_state::ViewState;
use crate::window::widgets::{Choice, MeasureField, pick_list};
use barpoise_core::log::{PhaseTimes, limits};
use barpoise_core::measure_text::read_in;
use barpoise_core::rack::{CheckKind, Otherwise, Threshold, WorkRates};
use barpoise_core::units::Length;
use barpoise_core::{Range, ranges};
use egui::{Align, ComboBox, Id, Layout, RichText, Role, Ui, WidgetInfo};

const S_PER_MIN: f64 = 60.0;
const S_PER_HOUR: f64 = 3600.0;
/// Width of a field, in points.
const FIELD: f32 = 64.0;

/// Shows thresholds and rates, folded away until they are asked for.
pub(super) fn reckoned_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    section_ui(ui, view.paper, "What it is reckoned with");
    soft(ui, view, &format!("{} Change what you know better.", words::RECKONED_WITH));
    ui.collapsing("From where on it suits", |ui| {
        for kind in CheckKind::ALL {
            threshold_ui(ui, document, view, edits, kind);
        }
    });
    ui.collapsing("What work takes", |ui| rates_ui(ui, document, view, edits));
    sources_fold_ui(ui, view, &Topic::RACK);
}

fn threshold_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, kind: CheckKind) {
    let now = document.rack().thresholds().of(kind);
    let unit = words::check_unit(kind);
    ui.label(capitalised(kind.words()));
    ui.horizontal(|ui| {
        let number = |ui: &mut Ui, word: &str, value: f64| {
            soft(ui, view, word);
            let name = format!("{} {word}, in {unit}", capitalised(kind.words()));
            let id = Id::unique(("rack threshold", kind, word));
            field_ui(ui, view, id, &name, value, &ranges::THRESHOLD)
        };
        let suits = number(ui, "suits", now.suits);
        let marginal = number(ui, "marginal", now.marginal);
        soft(ui, view, unit);
        if suits.is_some() || marginal.is_some() {
            let threshold =
                Threshold { suits: suits.unwrap_or(now.suits), marginal: marginal.unwrap_or(now.marginal) };
            edits.ask(Edit::Rack(RackEdit::Threshold(kind, threshold)));
        }
    });
    let refused = document.refusal().filter(
        |refusal| matches!(&refusal.edit, Edit::Rack(RackEdit::Threshold(other, _)) if *other == kind),
    );
    if let Some(refusal) = refused {
        ui.label(RichText::new(capitalised(&refusal.reason)).color(view.paper.color(Ink::Warn)));
    }
}

fn rates_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let now = document.rack().rates();
    let mut next = now.clone();
    let times = now.times;
    let mut row = |name: &str, unit: &str, value: f64, range: &Range, take: &mut dyn FnMut(f64)| {
        ui.horizontal(|ui| {
            ui.label(name);
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                soft(ui, view, unit);
                let id = Id::unique(("rack rate", name));
                if let Some(value) = field_ui(ui, view, id, &format!("{name}, in {unit}"), value, range) {
                    take(value);
                }
            });
        });
    };
    row("Kerf", "mm", now.kerf.as_mm(), &limits::KERF, &mut |mm| next.kerf = Length::from_mm(mm));
    let efficiency = now.drive_efficiency;
    row("Power at the chain", "share", efficiency, &limits::DRIVE_EFFICIENCY, &mut |share| {
        next.drive_efficiency = share;
    });
    let mut set = |touch: f64, slide: f64, pull: f64| {
        if let Ok(times) = PhaseTimes::new(touch, slide, pull) {
            next.times = times;
        }
    };
    let (touch, slide, pull) = (times.touch_down_s(), times.last_slide_s(), times.pull_back_s());
    row("Touch-down", "s", touch, &limits::PHASE_TIME, &mut |s| set(s, slide, pull));
    row("Last slide", "s", slide, &limits::PHASE_TIME, &mut |s| set(touch, s, pull));
    row("Pull back and set again", "s", pull, &limits::PHASE_TIME, &mut |s| set(touch, slide, s));
    let fuel = now.fuel_g_per_kwh;
    row("Fuel for work", "g/kWh", fuel, &ranges::FUEL_FOR_WORK, &mut |g| next.fuel_g_per_kwh = g);
    let idle = now.idle_ml_per_min;
    row("Fuel at idle", "mL/min", idle, &ranges::IDLE_FUEL, &mut |ml| next.idle_ml_per_min = ml);
    for (name, seconds, take) in [
        (
            "Walk round and back",
            now.walk_round_s,
            (|rates, s| rates.walk_round_s = s) as fn(&mut WorkRates, f64),
        ),
        ("Fetch another saw", now.fetch_s, |rates, s| rates.fetch_s = s),
        ("A cut left lying", now.left_lying_s, |rates, s| rates.left_lying_s = s),
        ("Change bar and chain", now.swap_bar_s, |rates, s| rates.swap_bar_s = s),
    ] {
        row(name, "min", seconds / S_PER_MIN, &ranges::MINUTES, &mut |min| take(&mut next, min * S_PER_MIN));
    }
    let swaps = now.swaps_per_100;
    row("Changes in 100 cuts", "", swaps, &ranges::SWAPS, &mut |count| next.swaps_per_100 = count);
    let hours = now.day_s / S_PER_HOUR;
    row("Cutting in a day", "h", hours, &ranges::HOURS, &mut |hours| next.day_s = hours * S_PER_HOUR);
    soft(ui, view, "Cuts that a saw does not do from where you may stand");
    otherwise_ui(ui, document, &mut next);
    if next != *now {
        edits.ask(Edit::Rack(RackEdit::Rates(next)));
    }
}

/// By which other means undone cuts go.
fn otherwise_ui(ui: &mut Ui, document: &Document, rates: &mut WorkRates) {
    let said = |otherwise: &Otherwise| match otherwise {
        Otherwise::OtherSide => "from the other side".to_owned(),
        Otherwise::OtherSaw(name) => format!("by {name}"),
        Otherwise::LeftLying => "left lying".to_owned(),
    };
    let now = said(&rates.otherwise);
    let combo = ComboBox::from_id_salt("rack otherwise").selected_text(&now).width(200.0);
    let others = document.yard().setups().iter().map(|setup| Otherwise::OtherSaw(setup.name().to_owned()));
    let means: Vec<_> = [Otherwise::OtherSide, Otherwise::LeftLying].into_iter().chain(others).collect();
    let lines = means.iter().map(|means| Choice::new(said(means), rates.otherwise == *means));
    let (list, picked) = pick_list(ui, combo, lines.collect::<Vec<_>>());
    if let Some(picked) = picked.and_then(|index| means.into_iter().nth(index)) {
        rates.otherwise = picked;
    }
    let spoken = format!("Cuts not done go {now}");
    list.widget_info(|| WidgetInfo { label: Some(spoken.clone()), ..WidgetInfo::new(Role::ComboBox) });
}

fn field_ui(ui: &mut Ui, view: &ViewState, id: Id, name: &str, value: f64, range: &Range) -> Option<f64> {
    let field = MeasureField { id, name, shown: format::axis(format::tidy(value)), width: FIELD };
    let read = |text: &str| {
        let value = read_in(text, range.unit).map_err(|error| error.to_string())?;
        range.refusal(value).map_or(Ok(value), Err)
    };
    field.show(ui, view.paper, read).1
}

fn soft(ui: &mut Ui, view: &ViewState, text: &str) {
    ui.label(RichText::new(text).color(view.paper.color(Ink::Soft)));
}
