//! The diameters of the wood as bars whose tops can be dragged, each as tall as it has cuts.

use crate::desk::edit::{Edit, Edits, Gesture, RackEdit};
use crate::desk::format;
use crate::draw::theme::{self, Ink};
use crate::window::rooms::chart_marks::value_marks;
use crate::window::view_state::ViewState;
use crate::window::widgets::{self, Handle, MeasureField, Moved, Steps};
use barpoise_core::log::limits;
use barpoise_core::measure_text::read_length;
use barpoise_core::rack::{LogCount, Wood};
use barpoise_core::ranges;
use barpoise_core::units::Length;
use egui::{Align2, Id, Key, Pos2, Rangef, Rect, RichText, Role, Sense, Stroke, Ui, Vec2, WidgetInfo};

const HEIGHT: f32 = 190.0;
/// Room left of and under the bars for the marks, and over them for the knobs, in points.
const LEFT: f32 = 34.0;
const UNDER: f32 = 24.0;
const OVER: f32 = 16.0;
/// Widths of a bar in points.
const BAR: (f32, f32) = (5.0, 22.0);
/// A label across takes so many times the room that one upright does.
const MARKS_ACROSS: f32 = 0.5;
/// A click adds a diameter on this grid.
const GRID_MM: f64 = 10.0;
/// Cuts for the larger step of the keys.
const LARGE: i64 = 10;

/// The scales of the chart.
#[derive(Clone, Copy, PartialEq)]
struct Scale {
    rect: Rect,
    thick_mm: f64,
    most: f64,
}

impl Scale {
    fn of(rect: Rect, wood: &Wood) -> Self {
        let thick_mm = wood.logs().iter().map(|log| log.diameter.as_mm()).fold(0.0, f64::max);
        let most = wood.logs().iter().map(|log| f64::from(log.cuts)).fold(0.0, f64::max);
        Self { rect, thick_mm: (thick_mm * 1.15).max(100.0), most: (most * 1.2).max(5.0) }
    }

    #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
    fn at(&self, diameter: Length, cuts: f64) -> Pos2 {
        let x = diameter.as_mm() / self.thick_mm;
        let y = (cuts / self.most).min(1.0);
        Pos2::new(
            self.rect.left() + self.rect.width() * x as f32,
            self.rect.bottom() - self.rect.height() * y as f32,
        )
    }

    fn diameter(&self, at: Pos2) -> Length {
        let share = f64::from((at.x - self.rect.left()) / self.rect.width());
        Length::from_mm((share * self.thick_mm / GRID_MM).round() * GRID_MM)
    }

    #[expect(clippy::cast_possible_truncation, reason = "clamped to the range of counts")]
    fn cuts(&self, at: Pos2) -> i64 {
        let share = f64::from((self.rect.bottom() - at.y) / self.rect.height());
        (share * self.most).round().clamp(ranges::CUTS.min, ranges::CUTS.max) as i64
    }
}

/// Shows the histogram, the picked diameter and a row to add one.
pub(super) fn histogram_ui(ui: &mut Ui, view: &mut ViewState, edits: &mut Edits, wood: &Wood) {
    let caption = format!("Cuts by diameter in {}", view.units.length_unit_in_full());
    ui.label(RichText::new(caption).color(view.paper.color(Ink::Soft)));
    let (all, response) = ui.allocate_exact_size(Vec2::new(ui.available_width(), HEIGHT), Sense::CLICK);
    let rect = Rect::from_min_max(all.min + Vec2::new(LEFT, OVER), all.max - Vec2::new(8.0, UNDER));
    let summary = crate::desk::words::rack::wood(view.units, wood);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("Diameters: {summary}")));
    let scale = scale(ui, rect, wood);
    let added = response.clicked().then(|| response.interact_pointer_pos()).flatten();
    if let Some(at) = added.filter(|at| rect.contains(*at)) {
        let log = LogCount { diameter: scale.diameter(at), cuts: u32::try_from(scale.cuts(at)).unwrap_or(1) };
        edits.ask(Edit::Rack(RackEdit::AddDiameter { wood: wood.name().to_owned(), log }));
    }
    response.on_hover_text(
        "Click to add a diameter. Drag a bar's top, or step it with the arrow keys. Delete removes it.",
    );
    axes_ui(ui, view, &scale);
    for place in 0..wood.logs().len() {
        bar_ui(ui, view, edits, wood, &scale, place);
    }
    ui.label(RichText::new(summary).color(view.paper.color(Ink::Soft)));
    picked_ui(ui, view, edits, wood);
    add_ui(ui, view, edits, wood);
}

/// The scale holds still while a top is dragged.
fn scale(ui: &Ui, rect: Rect, wood: &Wood) -> Scale {
    let id = Id::unique("rack histogram scale");
    let dragged = (0..wood.logs().len()).any(|place| ui.ctx().is_being_dragged(handle_id(place)));
    let kept = ui.data(|data| data.get_temp::<Scale>(id)).filter(|kept| dragged && kept.rect == rect);
    let scale = kept.unwrap_or_else(|| Scale::of(rect, wood));
    ui.data_mut(|data| data.insert_temp(id, scale));
    scale
}

fn handle_id(place: usize) -> Id {
    Id::unique(("rack cuts", place))
}

fn axes_ui(ui: &Ui, view: &ViewState, scale: &Scale) {
    let paper = view.paper;
    let (rule, soft) = (Stroke::new(1.0, paper.color(Ink::Rule)), paper.color(Ink::Soft));
    let painter = ui.painter();
    for mark in value_marks((0.0, scale.most), scale.rect.height()) {
        let at = scale.at(Length::ZERO, mark.value);
        painter.hline(scale.rect.x_range(), at.y, rule);
        let text = format::axis(mark.value);
        painter.text(at - Vec2::new(6.0, 0.0), Align2::RIGHT_CENTER, text, theme::body(), soft);
    }
    let thick = view.units.length_value(Length::from_mm(scale.thick_mm));
    for mark in value_marks((0.0, thick), MARKS_ACROSS * scale.rect.width()) {
        let at = scale.at(view.units.length_from()(mark.value), 0.0);
        painter.vline(at.x, Rangef::new(at.y, at.y + 4.0), Stroke::new(1.0, soft));
        let text = format::axis(mark.value);
        painter.text(at + Vec2::new(0.0, 6.0), Align2::CENTER_TOP, text, theme::body(), soft);
    }
    painter.hline(scale.rect.x_range(), scale.rect.bottom(), Stroke::new(1.5, soft));
}

#[expect(clippy::cast_precision_loss, reason = "a width on the screen")]
fn bar_ui(ui: &mut Ui, view: &mut ViewState, edits: &mut Edits, wood: &Wood, scale: &Scale, place: usize) {
    let Some(log) = wood.logs().get(place) else { return };
    let paper = view.paper;
    let top = scale.at(log.diameter, f64::from(log.cuts));
    let width = (0.6 * scale.rect.width() / wood.logs().len() as f32).clamp(BAR.0, BAR.1);
    let bar = Rect::from_x_y_ranges(
        Rangef::new(top.x - 0.5 * width, top.x + 0.5 * width),
        Rangef::new(top.y, scale.rect.bottom()),
    );
    let picked = view.rack.diameter == Some(place);
    let edge = if picked {
        Stroke::new(2.0, paper.color(Ink::Ours))
    } else {
        Stroke::new(1.0, paper.color(Ink::Bark))
    };
    ui.painter().rect(bar, 0.0, paper.color(Ink::Wood), edge, egui::StrokeKind::Inside);
    let name = format!("Cuts of {}", view.units.length(log.diameter));
    let id = handle_id(place);
    let handle = Handle {
        id,
        at: top,
        name: &name,
        value: f64::from(log.cuts),
        scale: widgets::Scale::new(ranges::CUTS.min, ranges::CUTS.max, 1.0),
        steps: Steps::UpDown,
    };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, paper, Steps::UpDown);
    if response.gained_focus() || response.clicked() || response.dragged() {
        view.rack.diameter = Some(place);
    }
    let wood_name = || wood.name().to_owned();
    if response.has_focus() && ui.input(|input| input.key_pressed(Key::Delete)) {
        edits.ask(Edit::Rack(RackEdit::RemoveDiameter { wood: wood_name(), place }));
    }
    let text = format!("{name}, {}", log.cuts);
    response.on_hover_cursor(egui::CursorIcon::ResizeVertical).on_hover_text(text);
    let (cuts, gesture) = match moved {
        None => return,
        Some(Moved::To(at, gesture)) => (scale.cuts(at), gesture),
        Some(Moved::By { small, large }) => {
            (i64::from(log.cuts) + i64::from(small) + LARGE * i64::from(large), Gesture::Single)
        }
        Some(Moved::Mark(marks)) => (i64::from(log.cuts) + LARGE * i64::from(marks), Gesture::Single),
        #[expect(clippy::cast_possible_truncation, reason = "checked by the wood")]
        Some(Moved::Set(value)) => (value.round() as i64, Gesture::Single),
    };
    let cuts = u32::try_from(cuts.max(1)).unwrap_or(u32::MAX);
    if cuts != log.cuts {
        edits.ask_in(Edit::Rack(RackEdit::SetCuts { wood: wood_name(), place, cuts }), gesture);
    }
}

/// The diameter that was touched last, by number.
fn picked_ui(ui: &mut Ui, view: &mut ViewState, edits: &mut Edits, wood: &Wood) {
    let place = view.rack.diameter.unwrap_or(0);
    let Some(log) = wood.logs().get(place) else { return };
    ui.horizontal(|ui| {
        let name = view.units.length(log.diameter);
        ui.label(RichText::new(&name).font(theme::strong(theme::size::BODY)));
        let spoken = format!("Number of cuts of {name}");
        let field = MeasureField {
            id: Id::unique(("rack cuts field", place)),
            name: &spoken,
            shown: log.cuts.to_string(),
            width: 56.0,
        };
        let read = |text: &str| {
            let cuts = text.trim().parse::<u32>().map_err(|_| "a whole number of cuts".to_owned())?;
            ranges::CUTS.refusal(f64::from(cuts)).map_or(Ok(cuts), Err)
        };
        if let (_, Some(cuts)) = field.show(ui, view.paper, read) {
            edits.ask(Edit::Rack(RackEdit::SetCuts { wood: wood.name().to_owned(), place, cuts }));
        }
        ui.label("cuts");
        let remove = ui.button("Remove").on_hover_text(format!("Remove {name}"));
        if remove.clicked() {
            view.rack.diameter = None;
            edits.ask(Edit::Rack(RackEdit::RemoveDiameter { wood: wood.name().to_owned(), place }));
        }
    });
}

fn add_ui(ui: &mut Ui, view: &mut ViewState, edits: &mut Edits, wood: &Wood) {
    ui.horizontal(|ui| {
        let units = view.units;
        let read = |text: &str| {
            let length = read_length(text, units.length_from()).map_err(|error| error.to_string())?;
            limits::LOG_DIAMETER.refusal(length.as_mm()).map_or(Ok(length), Err)
        };
        ui.label(RichText::new("Add a diameter").color(view.paper.color(Ink::Soft)));
        let field = MeasureField {
            id: Id::unique("rack new diameter"),
            name: "Diameter to add",
            shown: view.rack.new_diameter.clone(),
            width: 80.0,
        };
        if let (_, Some(diameter)) = field.show(ui, view.paper, read) {
            let log = LogCount { diameter, cuts: 1 };
            edits.ask(Edit::Rack(RackEdit::AddDiameter { wood: wood.name().to_owned(), log }));
        }
    });
}
