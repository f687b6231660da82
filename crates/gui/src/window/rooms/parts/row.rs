//! One row of the form: name, field, what is proposed, how it is measured, and what is wrong.

use crate::desk::format::Units;
use crate::desk::forms::parts::{Field, Value, option_text, options, text};
use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::widgets::{Choice, MeasureField, pick_list};
use barpoise_core::propose::is_proposed;
use barpoise_core::record::{PartFile, PartKind};
use egui::{Align, ComboBox, Id, Layout, RichText, Ui};

/// Widths of the name and of the field, in points; a form wider than `WIDE` has the hints beside the fields.
const NAME: f32 = 168.0;
pub(super) const FIELD: f32 = 120.0;
const WORDS: f32 = 210.0;
const WIDE: f32 = 570.0;
/// Where a form is too narrow for both, in points, the name has this share of it.
const NARROW: f32 = 410.0;
const NAME_SHARE: f32 = 0.34;
/// Longest name and longest note, in characters.
const LONGEST_NAME: usize = 80;
const LONGEST_NOTE: usize = 600;

/// What was put in a field.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Put {
    /// A number, or none where it may be left out.
    Number(Option<f64>),
    /// A text or an option.
    Text(String),
}

/// What a row needs to know beside its part.
#[derive(Debug)]
pub(super) struct Row<'a> {
    /// Tells this part's fields from those of another.
    pub(super) salt: &'a str,
    /// Units.
    pub(super) units: Units,
    /// Light or dark.
    pub(super) paper: Paper,
    /// Names of its kind that are taken by others.
    pub(super) taken: &'a [String],
    /// Options of a pick that depend on the yard: the key and its text.
    pub(super) offered: &'a [(String, String)],
    /// What is wrong with the field.
    pub(super) wrong: &'a [String],
}

/// What stands round a field, whatever it holds.
#[derive(Debug)]
pub(super) struct Line<'a> {
    /// Light or dark.
    pub(super) paper: Paper,
    /// Name of the field.
    pub(super) label: &'a str,
    /// How it is measured.
    pub(super) hint: &'a str,
    /// A word behind the field where its value is nobody's own, and what it means.
    pub(super) mark: Option<(&'a str, &'a str)>,
    /// What is wrong with the field.
    pub(super) wrong: &'a [String],
}

impl Line<'_> {
    /// Shows it round a field; the field gets the width that a text or a pick has.
    pub(super) fn show<T>(&self, ui: &mut Ui, field: impl FnOnce(&mut Ui, f32) -> T) -> T {
        let wide = ui.available_width() >= WIDE;
        let soft = self.paper.color(Ink::Soft);
        let (name_width, words_width) = widths(ui.available_width());
        let put = ui
            .horizontal(|ui| {
                let name = egui::Label::new(RichText::new(self.label).color(soft)).wrap();
                ui.allocate_ui_with_layout(
                    egui::vec2(name_width, size::HIT),
                    Layout::left_to_right(Align::Center),
                    |ui| {
                        ui.set_min_width(name_width);
                        ui.add(name);
                    },
                );
                let cell = if wide { egui::vec2(WORDS, size::HIT) } else { ui.available_size_before_wrap() };
                let put = ui
                    .allocate_ui_with_layout(
                        egui::vec2(cell.x, size::HIT),
                        Layout::left_to_right(Align::Center),
                        |ui| {
                            ui.set_min_width(cell.x);
                            let put = field(ui, words_width);
                            self.mark_ui(ui);
                            put
                        },
                    )
                    .inner;
                if wide && !self.hint.is_empty() {
                    ui.add(egui::Label::new(RichText::new(self.hint).color(soft)).wrap());
                }
                put
            })
            .inner;
        if !wide && !self.hint.is_empty() {
            indented(ui, name_width, |ui| {
                ui.add(egui::Label::new(RichText::new(self.hint).color(soft)).wrap());
            });
        }
        for wrong in self.wrong {
            indented(ui, name_width, |ui| {
                let text = RichText::new(wrong).color(self.paper.color(Ink::Warn));
                ui.add(egui::Label::new(text).wrap());
            });
        }
        ui.add_space(2.0);
        put
    }

    fn mark_ui(&self, ui: &mut Ui) {
        let Some((word, meaning)) = self.mark else { return };
        let mark = RichText::new(word).font(theme::strong(size::BODY));
        ui.label(mark.color(self.paper.color(Ink::Proposed))).on_hover_text(meaning);
    }
}

impl Row<'_> {
    /// Shows a field; gives what was put in it.
    pub(super) fn show(&self, ui: &mut Ui, field: &Field, part: &PartFile) -> Option<Put> {
        let proposed = is_proposed(part, field.path);
        let mark =
            proposed.then_some(("proposed", "Our guess, no source. It is yours once you type over it."));
        let Field { label, hint, .. } = *field;
        let line = Line { paper: self.paper, label, hint, mark, wrong: self.wrong };
        line.show(ui, |ui, words_width| self.field_ui(ui, field, part, proposed, words_width))
    }

    fn field_ui(
        &self,
        ui: &mut Ui,
        field: &Field,
        part: &PartFile,
        proposed: bool,
        words_width: f32,
    ) -> Option<Put> {
        let tail = if proposed { ", proposed" } else { "" };
        let id = field_id(self.salt, field.path);
        match field.value {
            Value::Number { unit, range, optional } => {
                let unit_name = unit.name(self.units);
                let name = match unit_name {
                    "" => format!("{}{tail}", field.label),
                    _ => format!("{} in {unit_name}{tail}", field.label),
                };
                let value = part.number(field.path);
                let shown = value.map_or_else(String::new, |value| unit.shown(self.units, value));
                let read = |text: &str| {
                    if optional && text.trim().is_empty() {
                        return Ok(None);
                    }
                    let value = unit.read(self.units, text).map_err(|error| error.to_string())?;
                    let whole = unit != crate::desk::forms::parts::FieldUnit::Count || value.fract() == 0.0;
                    if !whole {
                        return Err("a whole count".to_owned());
                    }
                    let allowed = || format!("{} can be {}", field.label, unit.range(self.units, range));
                    if range.holds(value) { Ok(Some(value)) } else { Err(allowed()) }
                };
                let field = MeasureField { id, name: &name, shown, width: FIELD.min(words_width) };
                field.show(ui, self.paper, read).1.map(Put::Number)
            }
            Value::Text => {
                let is_name = field.path == "name";
                let longest = if field.path == "note" { LONGEST_NOTE } else { LONGEST_NAME };
                let read = |text: &str| {
                    let text = text.trim();
                    if text.is_empty() && field.path != "note" {
                        return Err(format!("{} must not be empty", field.label));
                    }
                    if is_name && self.taken.iter().any(|taken| taken == text) {
                        return Err(format!("there is a {} named {text} already", part.kind().word()));
                    }
                    Ok(text.to_owned())
                };
                let width = if field.path == "note" { ui.available_width().min(420.0) } else { words_width };
                let shown = text(part, field.path).to_owned();
                let field = MeasureField { id, name: field.label, shown, width };
                field.show_up_to(longest, ui, self.paper, read).1.map(Put::Text)
            }
            Value::Pick => self.pick_ui(ui, field, part, words_width).map(Put::Text),
        }
    }

    fn pick_ui(&self, ui: &mut Ui, field: &Field, part: &PartFile, width: f32) -> Option<String> {
        let own: Vec<(String, String)> = options(field.path)
            .iter()
            .map(|option| ((*option).to_owned(), option_text(field.path, option)))
            .collect();
        let all = if own.is_empty() { self.offered } else { &own };
        let key = match (part.kind(), field.path) {
            (PartKind::Setup, "drive_links") => {
                part.number("drive_links").map_or_else(String::new, |links| format!("{links:.0}"))
            }
            _ => text(part, field.path).to_owned(),
        };
        let shown = all.iter().find(|(option, _)| *option == key).map_or(&key, |(_, text)| text);
        let combo = ComboBox::from_id_salt(("part pick", self.salt, field.path))
            .width(width)
            .height(420.0)
            .truncate()
            .selected_text(RichText::new(shown).font(theme::strong(size::BODY)));
        let lines = all.iter().map(|(option, text)| Choice::new(text.clone(), *option == key));
        let (list, picked) = pick_list(ui, combo, lines);
        let value = shown.clone();
        list.widget_info(|| egui::WidgetInfo {
            label: Some(field.label.to_owned()),
            current_text_value: Some(value.clone()),
            ..egui::WidgetInfo::new(egui::Role::ComboBox)
        });
        picked.and_then(|index| all.get(index)).map(|(option, _)| option.clone())
    }
}

/// Widths of the name and of a text or a pick in a form of this width, in points.
pub(super) fn widths(form: f32) -> (f32, f32) {
    if form >= NARROW {
        return (NAME, WORDS);
    }
    let name = NAME_SHARE * form;
    // The pick's frame and the gap between the two.
    (name, (form - name - 26.0).clamp(60.0, WORDS))
}

/// The field of a form.
pub(super) fn field_id(salt: &str, path: &str) -> Id {
    Id::unique(("part field", salt, path))
}

/// Under the field.
fn indented(ui: &mut Ui, name_width: f32, add: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        ui.add_space(name_width + ui.spacing().item_spacing.x);
        ui.vertical(add);
    });
}
