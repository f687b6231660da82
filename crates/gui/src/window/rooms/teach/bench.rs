//! One setup to scale, and the guesses that are made on it: how it hangs, and from where on it reaches.

use super::look::Look;
use super::pointing::{Pointed, pointing_ui};
use crate::desk::document::Figures;
use crate::desk::lesson::{Guess, GuessScale, Kept};
use crate::draw::pictures::{BenchPicture, BenchShows, BenchStand, HAND_MM_PER_N};
use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{self, Canvas, Dash, Label, Pen, Scene, Side};
use crate::draw::theme::Ink;
use crate::window::view_state::ViewState;
use crate::window::widgets::{Handle, Moved, Scale, Steps};
use barpoise_core::lesson::{Guessed, Step, Thing};
use barpoise_core::units::Angle;
use egui::{Id, Pos2, Rect, Role, Ui, Vec2, WidgetInfo};
use kurbo::{Affine, Point};

/// Room kept round the drawing, and how far a handle stands off what it moves, in points.
const MARGIN: egui::Vec2 = egui::vec2(46.0, 18.0);
const KNOB_OFF: f32 = 22.0;
/// The mark along the bar reaches from here to there across it, mm.
const MARK_MM: (f64, f64) = (-72.0, 62.0);
/// How strongly the guess shows behind the saw.
const GUESS_WASH: f32 = 0.10;
/// Names of kept guesses nearer than this would run into each other, in points.
const NAMES_APART_PT: f64 = 44.0;

/// Shows the drawing in what is left of the room.
pub(super) fn bench_ui(ui: &mut Ui, view: &mut ViewState, look: &Look, step: &Step, figures: &Figures) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), egui::Sense::hover());
    let name = figures.setup().name();
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("{name} to scale")));
    let scale = step.guess.map(|of| GuessScale::of(of, figures.solved(), look.units));
    let guess = step.guess.zip(scale).map(|(of, scale)| {
        view.teach.guesses.get(&view.teach.step).copied().unwrap_or_else(|| Guess::open(of, &scale))
    });
    let picture = picture(view, look, step, figures, guess.as_ref());
    let stand = picture.stand(fit(&picture, rect, look, step.guess, scale.as_ref()));
    let mut drawn = picture.scene(&stand);
    if step.point_at.contains(&Thing::Weight) && !view.teach.waits_for_guess() {
        weight(&mut drawn, &stand, figures, view, look);
    }
    if let Some(guess) = &guess {
        guess_marks(&mut drawn, &stand, figures, guess);
        kept_marks(&mut drawn, &stand, figures, view, guess.of);
    }
    strokes::paint(&drawn, &stand.canvas, &ui.painter_at(rect), look.paper);
    if !view.teach.waits_for_guess() {
        let things = pointed(step, figures, &stand);
        pointing_ui(ui, look, &drawn, &stand.canvas, &things);
    }
    if let (Some(guess), Some(scale)) = (guess, scale) {
        guess_handle(ui, view, look, figures, &stand, guess, &scale);
    }
}

/// What the picture shows; what would give a guess away is left out until it is told.
fn picture<'a>(
    view: &ViewState,
    look: &Look,
    step: &Step,
    figures: &'a Figures,
    guess: Option<&Guess>,
) -> BenchPicture<'a> {
    let waits = view.teach.waits_for_guess();
    let hang = step.guess == Some(Guessed::Hang);
    // The saw is turned by the guess, and then hangs as it does.
    let held_pitch = match guess {
        Some(guess) if hang && waits => Angle::from_rad(-guess.value),
        _ if hang => figures.solved().hang.map_or(Angle::ZERO, |hang| Angle::ZERO - hang),
        _ => Angle::ZERO,
    };
    // Only what the step is about: the eye has one thing to go to.
    let about = |things: &[Thing]| things.iter().any(|thing| step.point_at.contains(thing));
    let shows = BenchShows {
        figures: !view.teach.hides_figures(),
        rack: false,
        hanging: !hang && step.point_at.contains(&Thing::Hang),
        compared: false,
        balance: !waits && about(&[Thing::Weight, Thing::CentreOfGravity, Thing::PlumbLine]),
        reach: !(waits && step.guess == Some(Guessed::Reach)) && about(&[Thing::Spikes, Thing::Reach]),
        hands: about(&[Thing::FrontHand, Thing::RearHand]) || step.guess == Some(Guessed::FrontHand),
        bar: !(waits && step.guess == Some(Guessed::Tip)),
    };
    BenchPicture { figures, units: look.units, held_pitch, limit: None, shows }
}

/// Place and scale; where the saw is turned, with room for every turn, so that nothing moves but the saw.
fn fit(
    picture: &BenchPicture<'_>,
    rect: Rect,
    look: &Look,
    guessed: Option<Guessed>,
    scale: Option<&GuessScale>,
) -> Canvas {
    const TURNS_DEG: [f64; 5] = [15.0, 0.0, -20.0, -40.0, -60.0];
    let inner = rect.shrink2(look.pt(1.0) * MARGIN);
    let turned = |deg: f64| BenchPicture { held_pitch: Angle::from_deg(deg), ..*picture };
    let world = |mm_per_pt: f64| {
        if let Some(scale) = scale.filter(|_| guessed == Some(Guessed::Tip)) {
            // As wide as the scale, so that the edge of the drawing gives nothing away.
            let grip = mm(picture.figures.setup().powerhead().front_grip()).x;
            let to = Point::new(grip + scale.to * 1e3, 0.0);
            return picture.extent(mm_per_pt).union_pt(to);
        }
        if guessed != Some(Guessed::Hang) {
            return picture.extent(mm_per_pt);
        }
        let shows = BenchShows { figures: true, balance: true, ..picture.shows };
        TURNS_DEG
            .iter()
            .map(|deg| BenchPicture { shows, ..turned(*deg) }.extent(mm_per_pt))
            .reduce(|all, one| all.union(one))
            .unwrap_or_default()
    };
    let mut mm_per_pt = 1.5;
    let mut canvas = Canvas::fit(inner, kurbo::Rect::ZERO);
    for _ in 0..6 {
        canvas = Canvas::fit(inner, world(mm_per_pt)).enlarged(look.enlarged);
        mm_per_pt = canvas.scene().pt(1.0);
    }
    canvas.within(rect)
}

/// The weight, straight down from the centre of gravity, to the scale of the hands' arrows.
fn weight(scene: &mut Scene, stand: &BenchStand, figures: &Figures, view: &ViewState, look: &Look) {
    let solved = figures.solved();
    let from = stand.held * mm(solved.saw.centroid);
    let to = from - kurbo::Vec2::new(0.0, solved.weight().as_n() * HAND_MM_PER_N);
    pieces::arrow(scene, from, to, Ink::Line);
    let words = if view.teach.hides_figures() {
        "weight".to_owned()
    } else {
        format!("weight {}", look.units.mass(solved.ready_mass()))
    };
    scene.label(Label::new(from.midpoint(to), Side::Right, words, Ink::Line).strong().on_patch());
}

/// Where the guess stands.
fn guess_marks(scene: &mut Scene, stand: &BenchStand, figures: &Figures, guess: &Guess) {
    match guess.of {
        Guessed::Hang if guess.told => {
            let setup = figures.setup();
            let pivot = mm(setup.powerhead().front_grip());
            let mut outline = Scene::new(1.0 / scene.pt(1.0));
            let pen = Pen::solid(Ink::Proposed, 2.0).with_dash(Dash::Dashed);
            pieces::outlined_bar(&mut outline, setup, pen, GUESS_WASH);
            // On the far side of the saw, and clear of the nose, which has a label of its own.
            let above = figures.solved().hang.is_ok_and(|hang| guess.value < hang.as_rad());
            let (side, y) = if above { (Side::Above, 45.0) } else { (Side::Below, -45.0) };
            let at = Point::new(0.42 * mm(figures.solved().nose.centre).x, y);
            outline.label(Label::new(at, side, "your guess", Ink::Proposed).strong().on_patch());
            scene.add(outline, Affine::rotate_about(-guess.value, pivot));
        }
        Guessed::Reach | Guessed::Tip => {
            let x = mark_x(guess.of, guess.value, figures);
            let (low, high) = (Point::new(x, MARK_MM.0), Point::new(x, MARK_MM.1));
            let pen = Pen::solid(Ink::Proposed, 3.0);
            let pen = if guess.told { pen.with_dash(Dash::Dashed) } else { pen };
            scene.line(stand.held * low, stand.held * high, pen);
            // Beside the knob, off the saw.
            let off = kurbo::Vec2::new(scene.pt(10.0), -scene.pt(f64::from(KNOB_OFF)));
            let label = Label::new(stand.held * low + off, Side::Right, "your guess", Ink::Proposed);
            scene.label(label.strong().on_patch());
        }
        _ => {}
    }
}

/// What is dragged: the nose about the front grip, or the mark along the bar.
fn guess_handle(
    ui: &mut Ui,
    view: &mut ViewState,
    look: &Look,
    figures: &Figures,
    stand: &BenchStand,
    mut guess: Guess,
    scale: &GuessScale,
) {
    if guess.told || !matches!(guess.of, Guessed::Hang | Guessed::Reach | Guessed::Tip) {
        return;
    }
    let tip = Point::new(figures.solved().nose.tip_x().as_mm(), 0.0);
    let grip = stand.screen(mm(figures.setup().powerhead().front_grip()));
    let off = look.pt(KNOB_OFF);
    let (at, steps) = match guess.of {
        Guessed::Hang => {
            let tip_at = stand.screen(tip);
            let along = stand.screen(tip + kurbo::Vec2::new(1.0, 0.0)) - tip_at;
            (tip_at + along.normalized() * off, Steps::UpDown)
        }
        _ => {
            let mark = Point::new(mark_x(guess.of, guess.value, figures), MARK_MM.0);
            (stand.screen(mark) + Vec2::new(0.0, off), Steps::Across)
        }
    };
    let name = Guess::name(guess.of, look.units);
    let value = Guess::spoken(guess.of, guess.value, look.units);
    let said = |value| Guess::spoken(guess.of, value, look.units);
    let ends = Scale::new(said(scale.from), said(scale.to), said(scale.from + scale.step) - said(scale.from));
    let handle = Handle { id: Id::unique("lesson guess"), at, name: &name, value, scale: ends, steps };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, look.paper, steps);
    let Some(moved) = moved else { return };
    let to = match (moved, guess.of) {
        (Moved::To(point, _), Guessed::Hang) => guess.value + turn(grip, at, point),
        (Moved::To(point, _), _) => {
            let canvas = &stand.canvas;
            guess.value + along(guess.of) * f64::from(point.x - at.x) / canvas.points_per_mm() / 1e3
        }
        (Moved::Set(value), of) => Guess::from_spoken(of, value, look.units),
        (moved, of) => stepped(of, guess.value, scale, moved),
    };
    guess.move_to(to, scale);
    view.teach.guesses.insert(view.teach.step, guess);
}

/// 1 where a guess grows to the right, else -1.
const fn along(of: Guessed) -> f64 {
    match of {
        Guessed::Tip => 1.0,
        Guessed::Hang | Guessed::Reach | Guessed::Weight | Guessed::FrontHand => -1.0,
    }
}

/// Where the mark of a guess stands along the bar, mm from the sprocket.
fn mark_x(of: Guessed, value: f64, figures: &Figures) -> f64 {
    let from = match of {
        Guessed::Tip => mm(figures.setup().powerhead().front_grip()).x,
        _ => figures.solved().nose.tip_x().as_mm(),
    };
    from + along(of) * value * 1e3
}

/// The guesses that others have made: what the class thinks, before it is told.
fn kept_marks(scene: &mut Scene, stand: &BenchStand, figures: &Figures, view: &ViewState, of: Guessed) {
    let Some(asked) = view.teach.record.asked(view.teach.step) else { return };
    let pen = Pen::solid(Ink::Proposed, 1.4);
    let mut named: Vec<Point> = Vec::new();
    for (name, kept) in asked.said.iter().filter(|(name, _)| !name.is_empty()) {
        let Kept::Value(value) = *kept else { continue };
        let (from, to, side) = match of {
            Guessed::Hang => {
                // From the grip to where the tip of the turned saw would be, beyond the bar's end.
                let grip = mm(figures.setup().powerhead().front_grip());
                let tip = Point::new(figures.solved().nose.tip_x().as_mm(), 0.0);
                let turned = Affine::rotate_about(-value, grip);
                let (near, far) = (turned * tip, turned * (tip + kurbo::Vec2::new(scene.pt(26.0), 0.0)));
                (near, far, Side::Right)
            }
            Guessed::Reach | Guessed::Tip => {
                let x = mark_x(of, value, figures);
                let (low, high) = (Point::new(x, MARK_MM.1), Point::new(x, MARK_MM.1 + scene.pt(16.0)));
                (stand.held * low, stand.held * high, Side::Above)
            }
            Guessed::Weight | Guessed::FrontHand => continue,
        };
        scene.line(from, to, pen);
        let near = |other: &Point| (*other - to).hypot() < scene.pt(NAMES_APART_PT);
        if !named.iter().any(near) {
            scene.label(Label::new(to, side, name.clone(), Ink::Proposed));
            named.push(to);
        }
    }
}

/// Keys: the arrow up raises the nose, the arrow to the right shortens the reach and moves the tip out.
fn stepped(of: Guessed, value: f64, scale: &GuessScale, moved: Moved) -> f64 {
    let way = along(of);
    match moved {
        Moved::By { small, large } => {
            value + way * (scale.step * f64::from(small) + scale.large_step * f64::from(large))
        }
        Moved::Mark(marks) => value + way * scale.mark * f64::from(marks),
        Moved::To(..) | Moved::Set(_) => value,
    }
}

/// How far a point turned about another on the screen, rad, clockwise positive: nose down.
fn turn(about: Pos2, from: Pos2, to: Pos2) -> f64 {
    let (a, b) = (from - about, to - about);
    f64::from((a.x * b.y - a.y * b.x).atan2(a.dot(b)))
}

/// Where the things of a step are.
fn pointed(step: &Step, figures: &Figures, stand: &BenchStand) -> Vec<Pointed> {
    let (setup, solved) = (figures.setup(), figures.solved());
    let head = setup.powerhead();
    let front = mm(head.front_grip());
    let spikes = head.spike_line().as_mm();
    let on_screen = |thing: Thing| match thing {
        Thing::Weight => {
            let down = kurbo::Vec2::new(0.0, solved.weight().as_n() * HAND_MM_PER_N);
            stand.canvas.to_screen(stand.held * mm(solved.saw.centroid) - down)
        }
        Thing::CentreOfGravity => stand.screen(mm(solved.saw.centroid)),
        Thing::Hang => match stand.hanging.filter(|_| step.guess != Some(Guessed::Hang)) {
            Some(hanging) => stand.canvas.to_screen(hanging * mm(solved.nose.centre)),
            None => stand.screen(mm(solved.nose.centre)),
        },
        Thing::PlumbLine => {
            let below = Point::new(front.x, front.y - 180.0);
            stand.canvas.to_screen(below)
        }
        Thing::FrontHand => stand.screen(front),
        Thing::RearHand => stand.screen(mm(head.rear_grip())),
        Thing::Spikes => stand.screen(Point::new(spikes, 0.0)),
        Thing::Reach => stand.screen(Point::new(spikes, stand.reach_y)),
        Thing::Tip => stand.screen(Point::new(solved.nose.tip_x().as_mm(), 0.0)),
        Thing::DangerArc | Thing::Nose | Thing::Settings | Thing::BarkInReach => {
            stand.screen(mm(solved.nose.centre))
        }
    };
    let numbered = step.point_at.iter().enumerate();
    let nose = stand.canvas.points(solved.nose.radius.as_mm());
    let reaches = |thing: &Thing| if thing.is_round_nose() { nose } else { 0.0 };
    numbered
        .map(|(index, thing)| Pointed { index, at: vec![on_screen(*thing)], reaches: reaches(thing) })
        .collect()
}
