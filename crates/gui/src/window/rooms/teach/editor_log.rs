//! Fields of a step's log: how wide it is, how it lies, who cuts it, and the settings of a cut made by hand.

use super::editor::one_of;
use super::look::Look;
use crate::desk::document::Document;
use crate::desk::forms::person::{people_of, take_people};
use crate::draw::theme::{self, Ink, size};
use crate::window::rooms::person_fields::people_ui;
use barpoise_core::lesson::{BindFile, LiesFile, SettingFile, TangleFile, ViewFile, WayFile};
use barpoise_core::log::OwnSetting;
use barpoise_core::person::Person;
use barpoise_core::record::{PersonFile, StandFile};
use egui::{CollapsingHeader, DragValue, RichText, Ui};

/// A log is made so many times as wide as the reach at first.
const FIRST_REACHES: f64 = 1.2;
/// As wide as this where it is not made to a bar, mm.
const FIRST_DIAMETER_MM: f64 = 560.0;
const STANDS: [StandFile; 3] = [StandFile::OneSide, StandFile::BothSides, StandFile::WalkRound];
const TANGLES: [TangleFile; 3] = [TangleFile::None, TangleFile::Near, TangleFile::Far];
const BINDS: [BindFile; 3] = [BindFile::None, BindFile::Top, BindFile::Bottom];

/// The log that a step begins with.
pub(super) fn new_log() -> ViewFile {
    ViewFile::Log {
        diameter_mm: None,
        reaches: Some(FIRST_REACHES),
        reach_of: None,
        stand: StandFile::OneSide,
        lies: None,
        person: None,
        settings: Vec::new(),
        runs: false,
    }
}

/// The fields; nothing for any other view.
pub(super) fn log_ui(ui: &mut Ui, document: &Document, look: &Look, view: &mut ViewFile) {
    let take = ui
        .button("Take it from the room Log")
        .on_hover_text("The log that lies there, who cuts it, and the settings made by hand");
    if take.clicked() {
        *view = taken(document, matches!(view, ViewFile::Log { runs: true, .. }));
    }
    let ViewFile::Log { diameter_mm, reaches, stand, lies, person, settings, runs, .. } = view else {
        return;
    };
    width_ui(ui, diameter_mm, reaches);
    one_of(ui, look, "Cut", stand, &STANDS, |stand| match stand {
        StandFile::OneSide => "from one side",
        StandFile::BothSides => "from both sides",
        StandFile::WalkRound => "all round",
    });
    let mut how = lies.clone().unwrap_or_default();
    lies_ui(ui, look, &mut how);
    *lies = Some(how).filter(|how| *how != LiesFile::default());
    person_ui(ui, document, person);
    settings_ui(ui, look, settings);
    ui.checkbox(runs, "The cut runs when the step is shown");
}

fn width_ui(ui: &mut Ui, diameter_mm: &mut Option<f64>, reaches: &mut Option<f64>) {
    ui.horizontal_wrapped(|ui| {
        let mut by_reach = reaches.is_some();
        if ui.checkbox(&mut by_reach, "Made to the bar").changed() {
            (*diameter_mm, *reaches) =
                if by_reach { (None, Some(FIRST_REACHES)) } else { (Some(FIRST_DIAMETER_MM), None) };
        }
        if let Some(times) = reaches {
            ui.add(DragValue::new(times).speed(0.05).suffix(" × reach"));
        }
        if let Some(mm) = diameter_mm {
            ui.add(DragValue::new(mm).speed(5.0).suffix(" mm wide"));
        }
    });
}

fn lies_ui(ui: &mut Ui, look: &Look, lies: &mut LiesFile) {
    ui.horizontal_wrapped(|ui| {
        ui.add(DragValue::new(&mut lies.height_over_width).speed(0.02).prefix("height ").suffix(" × width"));
        ui.add(DragValue::new(&mut lies.above_ground_mm).speed(5.0).suffix(" mm above ground"));
    });
    one_of(ui, look, "Brush", &mut lies.tangle, &TANGLES, |tangle| match tangle {
        TangleFile::None => "none",
        TangleFile::Near => "near side",
        TangleFile::Far => "far side",
    });
    one_of(ui, look, "Bind", &mut lies.bind, &BINDS, |bind| match bind {
        BindFile::None => "none",
        BindFile::Top => "top bind",
        BindFile::Bottom => "bottom bind",
    });
}

fn person_ui(ui: &mut Ui, document: &Document, person: &mut Option<Box<PersonFile>>) {
    let mut own = person.is_some();
    let tick = ui.checkbox(&mut own, "Cut by a person of its own");
    if tick.on_hover_text("Else the person of the open yard cuts").changed() {
        *person = own.then(|| Box::new(PersonFile::from(document.yard().person())));
    }
    let Some(person) = person else { return };
    ui.horizontal_wrapped(|ui| {
        ui.add(DragValue::new(&mut person.stature_mm).speed(5.0).suffix(" mm tall"));
        if let Some(people) = people_ui(ui, people_of(person)) {
            take_people(person, people);
        }
        ui.checkbox(&mut person.can_kneel, "Can kneel");
        ui.add(DragValue::new(&mut person.slope_deg).speed(0.5).prefix("slope ").suffix("°"));
    });
}

fn settings_ui(ui: &mut Ui, look: &Look, settings: &mut Vec<SettingFile>) {
    let words = match settings.len() {
        0 => "Settings: as planned".to_owned(),
        many => format!("Settings by hand: {many}"),
    };
    let title = RichText::new(words).font(theme::strong(size::BODY)).color(look.color(Ink::Line));
    CollapsingHeader::new(title).id_salt("lesson settings").show(ui, |ui| {
        let mut out = None;
        for (index, setting) in settings.iter_mut().enumerate() {
            ui.horizontal_wrapped(|ui| {
                ui.label(look.text(format!("{}.", index + 1), Ink::Soft));
                let angles = [
                    ("spikes ", &mut setting.bark_deg),
                    ("from ", &mut setting.from_deg),
                    ("to ", &mut setting.to_deg),
                ];
                for (prefix, angle) in angles {
                    ui.add(DragValue::new(angle).speed(1.0).prefix(prefix).suffix("°"));
                }
                for (words, way) in [("laid on", &mut setting.lay_on), ("runs off", &mut setting.run_off)] {
                    let mut on = *way != WayFile::None;
                    if ui.checkbox(&mut on, words).changed() {
                        *way = if on { WayFile::Wood } else { WayFile::None };
                    }
                }
                ui.checkbox(&mut setting.from_below, "from below");
                ui.checkbox(&mut setting.from_far_side, "far side");
                if ui.button("Out").clicked() {
                    out = Some(index);
                }
            });
        }
        if let Some(out) = out {
            settings.remove(out);
        }
        ui.horizontal_wrapped(|ui| {
            if ui.button("One more setting").clicked() {
                settings.push(settings.last().cloned().unwrap_or_else(first_setting));
            }
            let planned = ui.add_enabled(!settings.is_empty(), egui::Button::new("As planned"));
            if planned.on_hover_text("The plan cuts").clicked() {
                settings.clear();
            }
        });
    });
}

/// Spikes at the near side, the bar let down through the wood.
fn first_setting() -> SettingFile {
    SettingFile {
        bark_deg: 180.0,
        from_far_side: false,
        from_deg: 30.0,
        to_deg: -30.0,
        lay_on: WayFile::Wood,
        run_off: WayFile::None,
        from_below: false,
    }
}

/// The log of the room *Log*, with its person and the settings that were made by hand there.
fn taken(document: &Document, runs: bool) -> ViewFile {
    let log = document.log();
    let figures = document.log_figures();
    let own = log.own_settings().and(figures).and_then(|figures| {
        let cut = figures.cut().ok()?;
        let own = |setting| SettingFile::of(&OwnSetting::of(setting, figures.job(), &cut.bar));
        Some(cut.settings.iter().map(own).collect())
    });
    let yards: &Person = document.yard().person();
    let lies = LiesFile {
        height_over_width: log.height().map_or(1.0, |height| height / log.width()),
        above_ground_mm: log.clearance().as_mm(),
        tangle: log.tangle().into(),
        bind: log.bind().into(),
    };
    ViewFile::Log {
        diameter_mm: Some(log.width().as_mm()),
        reaches: None,
        reach_of: None,
        stand: log.stand().into(),
        lies: Some(lies).filter(|lies| *lies != LiesFile::default()),
        person: (!yards.is_average()).then(|| Box::new(PersonFile::from(yards))),
        settings: own.unwrap_or_default(),
        runs,
    }
}
