//! A steelyard on which a weight or a load is guessed: the poise slides along the beam, and the beam tips once the
//! figure is told.

use super::look::Look;
use crate::desk::document::Figures;
use crate::desk::format;
use crate::desk::lesson::{Guess, GuessScale, Kept};
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::{Handle, Moved, Scale, Steps};
use barpoise_core::lesson::Guessed;
use egui::{Align2, Id, Pos2, Rect, Sense, Shape, Stroke, Ui, Vec2};

/// Height of the strip, in points.
const HEIGHT: f32 = 138.0;
/// The short arm, and room at the ends, in points.
const SHORT_ARM: f32 = 60.0;
const END: f32 = 26.0;
/// The beam's end tips by no more than so many points, and fully for a guess that is off by this share of the figure.
const MOST_TILT: f32 = 20.0;
const FULL_TILT_AT: f64 = 0.3;

struct Beam {
    pivot: Pos2,
    long: f32,
    scale: GuessScale,
    tilt: f32,
}

impl Beam {
    /// The place of a value on the beam, so far under it.
    fn at(&self, value: f64, under: f32) -> Pos2 {
        #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
        let along = ((value - self.scale.from) / (self.scale.to - self.scale.from)) as f32 * self.long;
        self.along(along, under)
    }

    fn along(&self, along: f32, under: f32) -> Pos2 {
        self.pivot + Vec2::new(along, under).rotate(self.tilt)
    }

    fn value_at(&self, point: Pos2) -> f64 {
        self.scale.from + f64::from((point.x - self.pivot.x) / self.long) * (self.scale.to - self.scale.from)
    }
}

trait Rotate {
    fn rotate(self, rad: f32) -> Self;
}

impl Rotate for Vec2 {
    fn rotate(self, rad: f32) -> Self {
        egui::emath::Rot2::from_angle(rad) * self
    }
}

/// Shows the beam; the poise is a handle until the figure is told.
pub(super) fn beam_ui(ui: &mut Ui, view: &mut ViewState, look: &Look, of: Guessed, figures: &Figures) {
    let scale = GuessScale::of(of, figures.solved(), look.units);
    let kept = view.teach.guesses.get(&view.teach.step).copied();
    let mut guess = kept.unwrap_or_else(|| Guess::open(of, &scale));
    let truth = Guess::truth(of, figures.solved()).filter(|_| guess.told);
    let (rect, _) = ui.allocate_exact_size(Vec2::new(ui.available_width(), look.pt(HEIGHT)), Sense::hover());
    let beam = beam(rect, look, scale, truth.map(|truth| (guess.value, truth)));
    paint_beam(ui, look, of, &beam);
    if let Some(truth) = truth {
        paint_truth(ui, look, of, &beam, truth, view.teach.figures_hidden);
    }
    let name = Guess::name(of, look.units);
    let at = beam.at(guess.value, look.pt(22.0));
    paint_kept(ui, view, look, &beam);
    paint_poise(ui, look, &beam, guess.value);
    if guess.told {
        return;
    }
    let value = Guess::spoken(of, guess.value, look.units);
    let said = |value| Guess::spoken(of, value, look.units);
    let ends = Scale::new(said(scale.from), said(scale.to), said(scale.from + scale.step) - said(scale.from));
    let handle =
        Handle { id: Id::unique("lesson guess"), at, name: &name, value, scale: ends, steps: Steps::Across };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, look.paper, Steps::Across);
    let to = match moved {
        None => return,
        Some(Moved::To(point, _)) => beam.value_at(point),
        Some(Moved::By { small, large }) => {
            guess.value + scale.step * f64::from(small) + scale.large_step * f64::from(large)
        }
        Some(Moved::Mark(marks)) => guess.value + scale.mark * f64::from(marks),
        Some(Moved::Set(value)) => Guess::from_spoken(of, value, look.units),
    };
    guess.move_to(to, &scale);
    view.teach.guesses.insert(view.teach.step, guess);
}

fn beam(rect: Rect, look: &Look, scale: GuessScale, told: Option<(f64, f64)>) -> Beam {
    let left = rect.left() + look.pt(END + SHORT_ARM);
    let pivot = Pos2::new(left, rect.top() + look.pt(52.0));
    let long = (rect.right() - look.pt(END) - left).max(1.0);
    // Too heavy a guess lets the long arm sink, too light a one lets it rise.
    let tilt = told.map_or(0.0, |(guess, truth)| {
        #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
        let share = ((guess - truth) / (FULL_TILT_AT * truth.abs().max(f64::MIN_POSITIVE))) as f32;
        share.clamp(-1.0, 1.0) * (look.pt(MOST_TILT) / long).min(1.0).asin()
    });
    Beam { pivot, long, scale, tilt }
}

fn paint_beam(ui: &Ui, look: &Look, of: Guessed, beam: &Beam) {
    let painter = ui.painter();
    let ink = look.color(Ink::Line);
    let line = |width: f32| Stroke::new(look.pt(width), ink);
    painter.line_segment([beam.along(-look.pt(SHORT_ARM), 0.0), beam.along(beam.long, 0.0)], line(5.0));
    let mut value = beam.scale.from;
    let every = named_every(ui, look, of, beam);
    let mut count = 0_u32;
    while value <= beam.scale.to + 1e-6 * beam.scale.mark {
        let top = beam.at(value, 0.0);
        painter.line_segment([top, beam.at(value, -look.pt(11.0))], line(1.4));
        let spoken = Guess::spoken(of, value, look.units);
        let text = format::axis((spoken * 10.0).round() / 10.0);
        let galley = painter.layout_no_wrap(text, look.body(), look.color(Ink::Soft));
        let place = Align2::CENTER_BOTTOM.anchor_size(beam.at(value, -look.pt(12.0)), galley.size());
        if count.is_multiple_of(every) {
            painter.galley(place.min, galley, look.color(Ink::Soft));
        }
        value += beam.scale.mark;
        count += 1;
    }
    let tail = beam.along(-look.pt(SHORT_ARM), 0.0);
    let pan = tail + Vec2::new(0.0, look.pt(26.0));
    painter.line_segment([tail, pan], line(1.5));
    painter.rect(
        Rect::from_center_size(pan + Vec2::new(0.0, look.pt(9.0)), look.pt(1.0) * Vec2::new(34.0, 18.0)),
        1.0,
        look.color(Ink::Sheet),
        line(2.0),
        egui::StrokeKind::Middle,
    );
    painter.circle(beam.pivot, look.pt(7.0), look.color(Ink::Sheet), line(2.5));
}

/// Every so many marks there is room for a number.
fn named_every(ui: &Ui, look: &Look, of: Guessed, beam: &Beam) -> u32 {
    let most = format::axis(Guess::spoken(of, beam.scale.to, look.units).round());
    let wide = ui.painter().layout_no_wrap(most, look.body(), look.color(Ink::Soft)).size().x + look.pt(8.0);
    let apart = beam.at(beam.scale.from + beam.scale.mark, 0.0).x - beam.at(beam.scale.from, 0.0).x;
    [1_u8, 2, 5, 10].into_iter().find(|every| apart * f32::from(*every) >= wide).map_or(20, u32::from)
}

/// The guesses that others have made, each as a notch over the beam with its name where there is room.
fn paint_kept(ui: &Ui, view: &ViewState, look: &Look, beam: &Beam) {
    let Some(asked) = view.teach.record.asked(view.teach.step) else { return };
    let color = look.color(Ink::Proposed);
    let mut ends: Vec<Rect> = Vec::new();
    for (name, kept) in asked.said.iter().filter(|(name, _)| !name.is_empty()) {
        let Kept::Value(value) = *kept else { continue };
        let (foot, top) = (beam.at(value, look.pt(4.0)), beam.at(value, look.pt(18.0)));
        ui.painter().line_segment([foot, top], Stroke::new(look.pt(3.0), color));
        let galley = ui.painter().layout_no_wrap(name.clone(), look.body(), color);
        let place = Align2::CENTER_TOP.anchor_size(top, galley.size());
        if !ends.iter().any(|other| other.intersects(place)) {
            ui.painter().galley(place.min, galley, color);
            ends.push(place);
        }
    }
}

/// A bell that hangs from the beam.
fn paint_poise(ui: &Ui, look: &Look, beam: &Beam, value: f64) {
    let thread = [beam.at(value, 0.0), beam.at(value, look.pt(34.0))];
    ui.painter().line_segment(thread, Stroke::new(look.pt(1.5), look.color(Ink::Line)));
    let bob = beam.at(value, look.pt(34.0));
    let bell = [(-8.0, 0.0), (8.0, 0.0), (13.0, 22.0), (-13.0, 22.0)];
    let points = bell.iter().map(|(x, y)| bob + Vec2::new(look.pt(*x), look.pt(*y))).collect();
    ui.painter().add(Shape::convex_polygon(points, look.color(Ink::Proposed), Stroke::NONE));
}

/// Where the poise would hold the beam level: a mark under the beam with the figure.
fn paint_truth(ui: &Ui, look: &Look, of: Guessed, beam: &Beam, truth: f64, hidden: bool) {
    let ours = look.color(Ink::Ours);
    let at = beam.at(truth, look.pt(3.0));
    let wedge = [at, at + look.pt(1.0) * Vec2::new(7.0, 14.0), at + look.pt(1.0) * Vec2::new(-7.0, 14.0)];
    ui.painter().add(Shape::convex_polygon(wedge.to_vec(), ours, Stroke::NONE));
    if hidden {
        return;
    }
    let words = Guess::shown(of, truth, look.units);
    let galley = ui.painter().layout_no_wrap(words, look.strong(), ours);
    let under = at + Vec2::new(0.0, look.pt(60.0));
    let place = Align2::CENTER_TOP.anchor_size(under, galley.size());
    let room = ui.max_rect();
    let shift = (room.left() - place.left()).max(0.0) - (place.right() - room.right()).max(0.0);
    let leader = [at + Vec2::new(0.0, look.pt(14.0)), Pos2::new(at.x, place.top())];
    ui.painter().line_segment(leader, Stroke::new(look.pt(1.5), ours));
    ui.painter().galley(place.min + Vec2::new(shift, 0.0), galley, ours);
}
