//! The setups as points: what the wood is worth done with them against what one costs the person, with the limits to drag.

use super::row::{Standing, mark};
use crate::desk::document::{Chosen, Document, LIMITS, RackFigures};
use crate::desk::edit::{Edit, Edits, Gesture, RackEdit};
use crate::desk::format::{self, ForceUnit, Units};
use crate::desk::words::rack as words;
use crate::desk::words::weigh_in::capitalised;
use crate::draw::theme::{self, Ink, size};
use crate::window::rooms::chart_marks::value_marks;
use crate::window::view_state::ViewState;
use crate::window::widgets::{self, Choice, Handle, Moved, Steps, pick_list};
use barpoise_core::rack::{Contender, Limit, Measure};
use egui::{
    Align2, ComboBox, Id, Painter, Pos2, Rangef, Rect, RichText, Role, Sense, Stroke, Ui, Vec2, WidgetInfo,
};

/// Room left of, under, right of and over the points, in points.
const LEFT: f32 = 52.0;
const UNDER: f32 = 24.0;
const RIGHT: f32 = 14.0;
const OVER: f32 = 20.0;
/// Room under nothing done, so that its points stand clear of the marks, in points.
const FOOT: f32 = 10.0;
/// Room that the axis leaves beside the outermost setups, as a share of their span.
const BESIDE: f64 = 0.14;
/// A label across takes so many times the room that one upright does.
const MARKS_ACROSS: f32 = 0.4;
/// Steps of the limit's keys, in the shown unit of each measure.
const STEPS: [f64; LIMITS.len()] = [1.0, 0.5, 0.1, 10.0];

/// Heading and chart.
pub(super) fn chart_ui(ui: &mut Ui, document: &Document, view: &mut ViewState, edits: &mut Edits) {
    ui.horizontal(|ui| heading_ui(ui, view));
    plot_ui(ui, document, view, edits);
}

/// What is across the chart.
pub(super) fn heading_ui(ui: &mut Ui, view: &mut ViewState) {
    ui.label(RichText::new("Worth, over").color(view.paper.color(Ink::Soft)));
    let now = across(view);
    let name = |measure: Measure| format!("{} in {}", measure.words(), words::unit(view.units, measure));
    let combo = ComboBox::from_id_salt("rack across").width(176.0).selected_text(name(now));
    let lines = LIMITS.map(|measure| Choice::new(name(measure), measure == now));
    let (list, picked) = pick_list(ui, combo, lines);
    let spoken = format!("Across the chart: {}", name(now));
    list.widget_info(|| WidgetInfo { label: Some(spoken.clone()), ..WidgetInfo::new(Role::ComboBox) });
    view.rack.across = picked.unwrap_or(view.rack.across);
}

/// What a key moves the limit by. Ten newtons are about a kilogram.
fn step(view: &ViewState) -> f64 {
    let step = STEPS.get(view.rack.across).copied().unwrap_or(1.0);
    let heavier = across(view) == Measure::FrontHand && view.units.force != ForceUnit::N;
    if heavier { 0.1 * step } else { step }
}

fn across(view: &ViewState) -> Measure {
    LIMITS.get(view.rack.across).copied().unwrap_or(Measure::FrontHand)
}

/// The scales of the chart; across in shown units, upwards the share.
#[derive(Clone, Copy)]
struct Scale {
    rect: Rect,
    from: f64,
    to: f64,
}

impl Scale {
    #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
    fn at(&self, across: f64, share: f64) -> Pos2 {
        let x = ((across - self.from) / (self.to - self.from)) as f32;
        Pos2::new(
            self.rect.left() + self.rect.width() * x,
            self.rect.bottom() - FOOT - (self.rect.height() - FOOT) * share as f32,
        )
    }

    /// Where the knob of a limit stands.
    fn top(&self, bound: f64) -> Pos2 {
        self.at(bound.clamp(self.from, self.to), 1.0) - Vec2::new(0.0, 8.0)
    }

    fn across(&self, at: Pos2) -> f64 {
        self.from + f64::from((at.x - self.rect.left()) / self.rect.width()) * (self.to - self.from)
    }
}

/// The chart and the limit on it.
pub(super) fn plot_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let (all, response) = ui.allocate_exact_size(ui.available_size(), Sense::hover());
    let Some((figures, chosen)) = document.rack_figures().zip(document.chosen()) else { return };
    let measure = across(view);
    let spoken = format!("Setups by what they are worth, over {}", measure.words());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    let rect = Rect::from_min_max(all.min + Vec2::new(LEFT, OVER), all.max - Vec2::new(RIGHT, UNDER));
    let Some((limit, in_force)) = document.rack().limit(measure) else { return };
    let scale = scale(rect, figures, view.units, limit);
    axes_ui(ui, view, &scale);
    if figures.is_old {
        ui.set_opacity(0.5);
    }
    limit_line_ui(ui.painter(), view, &scale, limit, in_force);
    points_ui(ui, document, view, edits, &scale, figures, chosen);
    limit_ui(ui, view, edits, &scale, limit, in_force);
}

fn scale(rect: Rect, figures: &RackFigures, units: Units, limit: Limit) -> Scale {
    let found = figures.contenders.iter().filter_map(|one| one.value(limit.measure));
    let (low, high) = found
        .map(|value| words::shown(units, limit.measure, value))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
    let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
    let room = BESIDE * (high - low).max(0.1 * high.abs()).max(1e-3);
    // Nothing that is only ever lifted goes below none of it; a hand that pushes down does.
    let from = if low < 0.0 { low - room } else { (low - room).max(0.0) };
    Scale { rect, from, to: high + 1.6 * room }
}

fn axes_ui(ui: &Ui, view: &ViewState, scale: &Scale) {
    let paper = view.paper;
    let (rule, soft) = (Stroke::new(1.0, paper.color(Ink::Rule)), paper.color(Ink::Soft));
    let painter = ui.painter();
    let shares: &[f64] =
        if scale.rect.height() < 130.0 { &[0.0, 0.5, 1.0] } else { &[0.0, 0.25, 0.5, 0.75, 1.0] };
    for share in shares {
        let at = scale.at(scale.from, *share);
        painter.hline(scale.rect.x_range(), at.y, rule);
        let text = format::ratio(*share);
        painter.text(at - Vec2::new(6.0, 0.0), Align2::RIGHT_CENTER, text, theme::body(), soft);
    }
    painter.hline(scale.rect.x_range(), scale.rect.bottom(), Stroke::new(1.0, soft));
    for mark in value_marks((scale.from, scale.to), MARKS_ACROSS * scale.rect.width()) {
        let at = scale.at(mark.value, 0.0);
        let at = Pos2::new(at.x, scale.rect.bottom());
        painter.vline(at.x, Rangef::new(at.y, at.y + 4.0), Stroke::new(1.0, soft));
        let text = format::axis(format::tidy((mark.value * 100.0).round() / 100.0));
        painter.text(at + Vec2::new(0.0, 6.0), Align2::CENTER_TOP, text, theme::body(), soft);
    }
}

fn points_ui(
    ui: &mut Ui,
    document: &Document,
    view: &ViewState,
    edits: &mut Edits,
    scale: &Scale,
    figures: &RackFigures,
    chosen: &Chosen,
) {
    let paper = view.paper;
    let measure = across(view);
    let on_bench = document.bench().base().name();
    let mut taken: Vec<Rect> = Vec::new();
    let places = chosen.choice.order.iter().enumerate();
    let admitted =
        places.map(|(place, ranked)| (ranked.index, Some((place + 1, ranked.unbeaten == Some(true)))));
    let refused = chosen.choice.refused.iter().map(|(index, _)| (*index, None));
    let scales = document.rack().preferences().scales;
    let shown: Vec<(&Contender, Standing, Pos2)> = admitted
        .chain(refused)
        .filter_map(|(index, place)| {
            let one = figures.contenders.get(index)?;
            let across = words::shown(view.units, measure, one.value(measure)?);
            Some((one, place, scale.at(across, scales.score(&one.values).score)))
        })
        .collect();
    if let Some((limit, _)) = document.rack().limit(measure) {
        let top = scale.top(words::shown(view.units, measure, limit.bound));
        taken.push(Rect::from_center_size(top, Vec2::new(26.0, 20.0)));
    }
    let marks: Vec<Pos2> = shown.iter().map(|(_, _, at)| *at).collect();
    taken.extend(marks.iter().map(|at| Rect::from_center_size(*at, Vec2::splat(11.0))));
    let painter = ui.painter().clone();
    for (_, _, at) in shown.iter().filter(|(one, _, _)| one.solved.setup == on_bench) {
        painter.circle_stroke(*at, 11.0, Stroke::new(1.5, paper.color(Ink::Line)));
    }
    // What is under the axis are its marks.
    let within = scale.rect.expand2(Vec2::new(RIGHT, OVER)).with_max_y(scale.rect.bottom());
    for (one, place, at) in shown {
        let ink = match place {
            Some((1, _)) | Some((_, true)) => Ink::Ours,
            Some((_, false)) => Ink::Soft,
            None => Ink::Warn,
        };
        let name = &one.solved.setup;
        let font = if matches!(place, Some((1, _))) { theme::strong(size::BODY) } else { theme::body() };
        let text = painter.layout_no_wrap(name.clone(), font, paper.color(ink));
        let must = name == on_bench || matches!(place, Some((1, _)));
        if let Some(label) = free_place(at, text.size(), within, (&taken, &marks), must) {
            painter.rect_filled(label, 2.0, paper.color(Ink::Paper).gamma_multiply(0.8));
            painter.galley(label.min, text, paper.color(ink));
            taken.push(label);
        }
        if matches!(place, Some((_, false))) {
            painter.circle(at, 4.5, paper.color(Ink::Paper), Stroke::new(2.0, paper.color(ink)));
        } else {
            mark(&painter, at, place, paper.color(ink), paper.color(Ink::Paper));
        }
        point_ui(ui, view, edits, one, at, scales.score(&one.values).score);
    }
}

/// Right of the point, left of it, over or under it: the first that lies on nothing else and nearer to its own mark than to
/// any other. Where there is none, the one that goes on and the one on the bench are named all the same, where least is
/// covered.
fn free_place(
    at: Pos2,
    size: Vec2,
    within: Rect,
    (taken, marks): (&[Rect], &[Pos2]),
    must: bool,
) -> Option<Rect> {
    /// As if so many square points of another text were covered, where a name stands nearer to another's mark.
    const ANOTHERS: f32 = 400.0;
    let side = Vec2::new(14.0, -0.5 * size.y);
    let places = [
        at + side,
        at + Vec2::new(-14.0 - size.x, side.y),
        at + Vec2::new(-0.5 * size.x, -12.0 - size.y),
        at + Vec2::new(-0.5 * size.x, 12.0),
        at + Vec2::new(9.0, -6.0 - size.y),
        at + Vec2::new(9.0, 6.0),
        at + Vec2::new(-9.0 - size.x, -6.0 - size.y),
        at + Vec2::new(-9.0 - size.x, 6.0),
    ]
    .map(|corner| Rect::from_min_size(corner, size));
    let covers = |label: &Rect| -> f32 {
        let shared = taken.iter().map(|other| other.expand(1.5).intersect(*label));
        let covered: f32 = shared.filter(|shared| shared.is_positive()).map(|shared| shared.area()).sum();
        let own = label.distance_to_pos(at);
        let anothers = marks.iter().any(|other| *other != at && label.distance_to_pos(*other) <= own);
        covered + if anothers { ANOTHERS } else { 0.0 }
    };
    let inside = places.into_iter().filter(|label| within.contains_rect(*label));
    let best = inside.map(|label| (label, covers(&label))).min_by(|a, b| a.1.total_cmp(&b.1));
    best.filter(|(_, covered)| must || *covered <= 0.0).map(|(label, _)| label)
}

/// A click takes the setup to the bench, as one on its row does; the keys do so from there.
fn point_ui(ui: &mut Ui, view: &ViewState, edits: &mut Edits, one: &Contender, at: Pos2, worth: f64) {
    let name = &one.solved.setup;
    let rect = Rect::from_center_size(at, Vec2::splat(size::HIT));
    let response = ui.interact(rect, Id::unique(("rack point", name)), Sense::CLICK);
    if response.clicked() {
        edits.ask(Edit::PickSetup(name.clone()));
    }
    let measure = across(view);
    response.on_hover_text(format!(
        "{name}\nworth {}\n{} {}",
        format::ratio(worth),
        measure.words(),
        words::value_or_none(view.units, measure, one.value(measure))
    ));
}

fn limit_line_ui(painter: &Painter, view: &ViewState, scale: &Scale, limit: Limit, in_force: bool) {
    let (ink, width) = if in_force { (Ink::Ours, 2.0) } else { (Ink::Soft, 1.0) };
    let top = scale.top(words::shown(view.units, limit.measure, limit.bound));
    let ends = [top, Pos2::new(top.x, scale.rect.bottom())];
    let pen = Stroke::new(width, view.paper.color(ink));
    painter.extend(egui::Shape::dashed_line(&ends, pen, 7.0, 5.0));
}

/// The limit: an upright line with a knob. Out of force it is thin and open; moved, it is in force.
fn limit_ui(ui: &mut Ui, view: &ViewState, edits: &mut Edits, scale: &Scale, limit: Limit, in_force: bool) {
    let (paper, units, measure) = (view.paper, view.units, limit.measure);
    let bound = words::shown(units, measure, limit.bound);
    let top = scale.top(bound);
    let name = format!("Limit of {} in {}", measure.words(), words::unit(units, measure));
    let id = Id::unique(("rack limit line", measure));
    let step = step(view);
    let ends = widgets::Scale::new(scale.from, scale.to, step);
    let handle = Handle { id, at: top, name: &name, value: bound, scale: ends, steps: Steps::Across };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, paper, Steps::Across);
    limit_label_ui(ui.painter(), view, scale, top, limit, in_force);
    response.on_hover_cursor(egui::CursorIcon::ResizeHorizontal).on_hover_text(format!(
        "{}{}",
        capitalised(&words::limit(units, &limit)),
        force_words(in_force)
    ));
    let to = match moved {
        None => return,
        Some(Moved::To(at, gesture)) => {
            let at = scale.across(at).clamp(scale.from, scale.to);
            ((at / step).round() * step, gesture)
        }
        Some(Moved::By { small, large }) => {
            (bound + step * (f64::from(small) + 10.0 * f64::from(large)), Gesture::Single)
        }
        Some(Moved::Mark(marks)) => (bound + 10.0 * step * f64::from(marks), Gesture::Single),
        Some(Moved::Set(value)) => (value, Gesture::Single),
    };
    let bound = words::from_shown(units, measure, to.0.max(0.0));
    edits.ask_in(Edit::Rack(RackEdit::Limit(Limit { measure, bound })), to.1);
}

const fn force_words(in_force: bool) -> &'static str {
    if in_force { "" } else { ", out of force" }
}

fn limit_label_ui(
    painter: &Painter,
    view: &ViewState,
    scale: &Scale,
    top: Pos2,
    limit: Limit,
    in_force: bool,
) {
    let way = if in_force { "at most" } else { "no limit" };
    let text = if in_force {
        format!("{way} {}", words::short_value(view.units, limit.measure, limit.bound))
    } else {
        way.to_owned()
    };
    let ink = view.paper.color(if in_force { Ink::Ours } else { Ink::Soft });
    let right = top.x > scale.rect.center().x;
    let (at, align) = if right {
        (top - Vec2::new(14.0, 0.0), Align2::RIGHT_CENTER)
    } else {
        (top + Vec2::new(14.0, 0.0), Align2::LEFT_CENTER)
    };
    let galley = painter.layout_no_wrap(text, theme::strong(size::BODY), ink);
    let place = align.anchor_size(at, galley.size());
    painter.rect_filled(place.expand(2.0), 2.0, view.paper.color(Ink::Paper));
    painter.galley(place.min, galley, ink);
}
