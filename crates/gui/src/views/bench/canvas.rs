//! The saw to scale, with everything on it that can be grabbed.

use crate::document::Document;
use crate::drawing::{self, mm};
use crate::edit::{Edit, Edits, Gesture};
use crate::format;
use crate::scene::{self, Canvas, Label, Pen, Scene, Side};
use crate::theme::{Ink, Paper};
use crate::view_state::ViewState;
use crate::widgets::{Handle, Moved, Steps};
use barpoise_core::units::{Angle, Force, Length};
use barpoise_core::{BarFamily, Tank};
use egui::{Id, Pos2, Rect, Role, Ui, WidgetInfo};
use kurbo::{Affine, Point};

/// The nose handle stands this far past the chain's tip, in points.
const NOSE_HANDLE_PT: f32 = 20.0;
/// The nose snaps to a rack bar within this distance, in points, unless Alt is held.
const SNAP_PT: f32 = 6.0;
/// Length of a hand's arrow in millimetres of the drawing for each newton.
const HAND_MM_PER_N: f64 = 0.75;
/// Height of the rule of rack marks in the saw frame, mm.
const MARKS_Y: f64 = -76.0;
/// The reach dimension lies this far under the rack marks, in points.
const REACH_BELOW_MARKS_PT: f64 = 44.0;
/// The centre-of-gravity dimension lies this far under the saw, in points.
const OFFSET_BELOW_PT: f64 = 20.0;
/// The plumb line ends this far under that, in points.
const PLUMB_BELOW_PT: f64 = 40.0;
/// A hand's arrow begins this far from its grip, in points.
const HAND_GAP_PT: f64 = 12.0;
/// Mean width of a character of the rack's names, in points.
const CHARACTER_PT: f64 = 8.4;
/// Rack names closer than this, in points, would run into each other.
const NAME_ROOM_PT: f64 = 40.0;
/// Drawn smaller than this, in points for each millimetre, the two hands' full names would meet.
const SHORT_NAME_SCALE: f64 = 0.4;
/// Drawn smaller than this, in points for each millimetre, a tank has no room for its name.
const TANK_NAME_SCALE: f64 = 0.45;
/// Room kept round the drawing, in points: the nose handle stands past the tip.
const FIT_MARGIN_PT: f32 = NOSE_HANDLE_PT + 16.0;
const SMALL_STEP: Length = Length::from_mm(1.0);
const LARGE_STEP: Length = Length::from_mm(10.0);
const FILL_STEP: f64 = 0.05;
const FILL_LARGE_STEP: f64 = 0.25;

const NOSE_ID: &str = "bench nose";
const FUEL_ID: &str = "bench fuel";
const OIL_ID: &str = "bench oil";

/// Where the saw stands: turned about its front grip to the held pitch.
struct Stand {
    canvas: Canvas,
    held: Affine,
    hanging: Option<Affine>,
}

impl Stand {
    fn screen(&self, saw: Point) -> Pos2 {
        self.canvas.to_screen(self.held * saw)
    }

    fn saw(&self, screen: Pos2) -> Point {
        self.held.inverse() * self.canvas.to_world(screen)
    }
}

/// Shows the drawing and its handles.
pub(super) fn canvas_ui(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits) {
    let (rect, response) = ui.allocate_exact_size(ui.available_size(), egui::Sense::hover());
    let spoken = spoken_summary(document, view);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    let stand = stand(ui, rect, document, view);
    let scene = bench_scene(document, view, &stand);
    let painter = ui.painter_at(rect);
    scene::paint(&scene, &stand.canvas, &painter, view.paper);
    nose_handle(ui, document, view, edits, &stand);
    let setup = document.figures().setup();
    let head = setup.powerhead();
    let fuel = (head.fuel_tank(), setup.fuel_fill());
    if let Some((fill, gesture)) =
        level_handle(ui, view.paper, &stand, FUEL_ID, "Fuel level in percent", fuel)
    {
        edits.ask_in(Edit::FuelFill(fill), gesture);
    }
    let oil = (head.oil_tank(), setup.oil_fill());
    if let Some((fill, gesture)) = level_handle(ui, view.paper, &stand, OIL_ID, "Oil level in percent", oil) {
        edits.ask_in(Edit::OilFill(fill), gesture);
    }
}

fn spoken_summary(document: &Document, view: &ViewState) -> String {
    let solved = document.figures().solved();
    let hang =
        solved.hang.map_or_else(|error| error.to_string(), |hang| format!("hangs {}", format::hang(hang)));
    let reach = view.units.length(solved.reach);
    format!("Saw to scale, {}: {hang}, reach past spikes {reach}", document.figures().setup().name())
}

/// The scale and place of the drawing. It holds still while something on it is dragged, so that what is
/// grabbed stays under the pointer, and fits itself again afterwards.
fn stand(ui: &Ui, rect: Rect, document: &Document, view: &ViewState) -> Stand {
    let setup = document.figures().setup();
    let pivot = mm(setup.powerhead().front_grip());
    let held = Affine::rotate_about(view.held_pitch().as_rad(), pivot);
    let hanging =
        document.figures().solved().hang.ok().map(|hang| Affine::rotate_about(-hang.as_rad(), pivot));
    let dragging = [NOSE_ID, FUEL_ID, OIL_ID].iter().any(|id| ui.ctx().is_being_dragged(Id::unique(*id)));
    let fit = || fitted(rect, document, held, hanging);
    let canvas = Canvas::held(ui, Id::unique("bench canvas"), rect, dragging, fit);
    Stand { canvas, held, hanging }
}

/// Texts keep their size whatever the scale, so the room they need in millimetres is known only once the
/// scale is: a few rounds bring it within a point.
fn fitted(rect: Rect, document: &Document, held: Affine, hanging: Option<Affine>) -> Canvas {
    let mut mm_per_pt = 1.5;
    let mut canvas = Canvas::fit(rect, kurbo::Rect::ZERO);
    for _ in 0..3 {
        canvas = Canvas::fit(rect.shrink(FIT_MARGIN_PT), extent(document, held, hanging, mm_per_pt));
        mm_per_pt = 1.0 / canvas.points_per_mm();
    }
    canvas
}

/// What must be in sight: the saw as held with the longest bar that can be drawn, the saw as it hangs, the
/// hands' arrows and the dimensions.
fn extent(document: &Document, held: Affine, hanging: Option<Affine>, mm_per_pt: f64) -> kurbo::Rect {
    let figures = document.figures();
    let head = figures.setup().powerhead();
    let rear = mm(head.rear_grip());
    let front = mm(head.front_grip());
    let longest = figures.curve().last().map_or(Length::ZERO, |point| point.solved.nose.tip_x());
    let now = figures.solved().nose.tip_x();
    let saw = |tip: Length| {
        [
            Point::new(rear.x - 100.0, rear.y - 150.0),
            Point::new(rear.x - 100.0, rear.y + 40.0),
            Point::new(rear.x, rear.y + 60.0),
            Point::new(80.0, front.y + 50.0),
            Point::new(tip.as_mm(), 50.0),
            Point::new(tip.as_mm(), -50.0),
        ]
    };
    let most = figures.most_front_hand().as_n() * HAND_MM_PER_N;
    let mut points: Vec<Point> = saw(longest.max(now)).iter().map(|p| held * *p).collect();
    let reach_y = reach_y(mm_per_pt);
    points.extend([Point::new(longest.as_mm(), reach_y), Point::new(0.0, reach_y)].map(|p| held * p));
    points.push(Point::new(front.x, offset_y(document, held, mm_per_pt) - PLUMB_BELOW_PT * mm_per_pt));
    points.push(front + kurbo::Vec2::new(0.0, most + HAND_GAP_PT * mm_per_pt));
    if let Some(hanging) = hanging {
        points.extend(saw(now).iter().map(|p| hanging * *p));
    }
    let first = points.first().copied().unwrap_or_default();
    points.iter().fold(kurbo::Rect::from_points(first, first), |rect, p| rect.union_pt(*p))
}

/// Height of the reach dimension in the saw frame, mm.
fn reach_y(mm_per_pt: f64) -> f64 {
    MARKS_Y - REACH_BELOW_MARKS_PT * mm_per_pt
}

/// Height of the centre-of-gravity dimension, mm: clear under the head however it is held.
fn offset_y(document: &Document, held: Affine, mm_per_pt: f64) -> f64 {
    let head = document.figures().setup().powerhead();
    let (rear, spikes) = (mm(head.rear_grip()), head.spike_line().as_mm());
    let under = [Point::new(rear.x - 80.0, rear.y - 148.0), Point::new(spikes - 50.0, -88.0)];
    under.iter().map(|p| (held * *p).y).fold(f64::MAX, f64::min) - OFFSET_BELOW_PT * mm_per_pt
}

fn bench_scene(document: &Document, view: &ViewState, stand: &Stand) -> Scene {
    let figures = document.figures();
    let setup = figures.setup();
    let mut scene = Scene::new(stand.canvas.points_per_mm());
    if let Some(hanging) = stand.hanging {
        let mut ghost = Scene::new(stand.canvas.points_per_mm());
        drawing::ghost_bar(&mut ghost, setup);
        drawing::ghost_head(&mut ghost, setup.powerhead());
        scene.add(ghost, hanging);
    }
    let mut saw = Scene::new(stand.canvas.points_per_mm());
    saw_scene(&mut saw, document, view);
    scene.add(saw, stand.held);
    balance_scene(&mut scene, document, view, stand);
    scene
}

/// Everything that turns with the saw.
fn saw_scene(scene: &mut Scene, document: &Document, view: &ViewState) {
    let figures = document.figures();
    let (setup, solved) = (figures.setup(), figures.solved());
    let head = setup.powerhead();
    drawing::head_under(scene, head);
    drawing::bar(scene, setup);
    drawing::chain(scene, setup);
    drawing::covers(scene, head);
    for (tank, fill, ink, name) in [
        (head.fuel_tank(), setup.fuel_fill(), Ink::Fuel, "fuel"),
        (head.oil_tank(), setup.oil_fill(), Ink::Oil, "oil"),
    ] {
        drawing::tank(scene, tank, fill, ink);
        if scene.pt(1.0) < 1.0 / TANK_NAME_SCALE {
            drawing::tank_label(scene, tank, name);
        }
    }
    drawing::kickback_zone(scene, &solved.nose);
    let arc_label = mm(solved.nose.point_at(Angle::from_deg(80.0)));
    scene.label(Label {
        at: arc_label + kurbo::Vec2::new(0.0, scene.pt(6.0)),
        side: Side::Above,
        text: "nose danger arc".to_owned(),
        ink: Ink::Danger,
        strong: true,
        on_patch: true,
    });
    rack_marks(scene, document);
    let (spikes, tip) = (head.spike_line().as_mm(), solved.nose.tip_x().as_mm());
    let text = format!("reach past spikes {}", view.units.length(solved.reach));
    drawing::dimension(
        scene,
        Point::new(spikes, -50.0),
        Point::new(tip, -50.0),
        -50.0 - reach_y(scene.pt(1.0)),
        &text,
        Ink::Line,
    );
}

/// The rack's bars on a rule under the bar, each where its chain's tip would be.
fn rack_marks(scene: &mut Scene, document: &Document) {
    let figures = document.figures();
    let from = figures.setup().powerhead().spike_line().as_mm();
    let to = figures.curve().last().map_or(from, |point| point.solved.nose.tip_x().as_mm());
    scene.line(Point::new(from, MARKS_Y), Point::new(to, MARKS_Y), Pen::solid(Ink::Rule, 1.5));
    let current = figures.current_rack_bar().map(|bar| bar.name.as_str());
    let tick = scene.pt(5.0);
    let mut last_name = f64::MIN;
    let now = figures.current_rack_bar().map_or(f64::MIN, |bar| bar.solved.nose.tip_x().as_mm());
    for bar in figures.rack() {
        let on = current == Some(bar.name.as_str());
        let ink = if on { Ink::Ours } else { Ink::Soft };
        let at = Point::new(bar.solved.nose.tip_x().as_mm(), MARKS_Y);
        let pen = Pen::solid(ink, if on { 2.5 } else { 1.5 });
        scene.line(at + kurbo::Vec2::new(0.0, tick), at - kurbo::Vec2::new(0.0, tick), pen);
        let characters = u32::try_from(bar.name.chars().count()).map_or(0.0, f64::from);
        let room = scene.pt(NAME_ROOM_PT.max(characters * CHARACTER_PT + 8.0));
        if on || (at.x - last_name >= room && (at.x - now).abs() >= room) {
            scene.label(Label {
                at,
                side: Side::Below,
                text: bar.name.clone(),
                ink,
                strong: on,
                on_patch: on,
            });
            last_name = at.x;
        }
    }
}

/// What stays upright: plumb line, centre of gravity, hands.
fn balance_scene(scene: &mut Scene, document: &Document, view: &ViewState, stand: &Stand) {
    let figures = document.figures();
    let (setup, solved) = (figures.setup(), figures.solved());
    let front = stand.held * mm(setup.powerhead().front_grip());
    let rear = stand.held * mm(setup.powerhead().rear_grip());
    let centre = stand.held * mm(solved.saw.centroid);
    let lowest = offset_y(document, stand.held, scene.pt(1.0));
    let bottom = lowest - scene.pt(PLUMB_BELOW_PT);
    drawing::plumb_line(scene, front, bottom);
    scene.label(Label {
        at: Point::new(front.x, bottom + scene.pt(7.0)),
        side: Side::Left,
        text: "plumb line".to_owned(),
        ink: Ink::Ours,
        strong: false,
        on_patch: true,
    });
    let ahead = Length::from_mm(centre.x - front.x);
    let sense = if ahead < Length::ZERO { "behind" } else { "ahead" };
    let text = format!("{} {sense}", view.units.length(ahead.abs()));
    drawing::offset_dimension(scene, centre, front.x, lowest, &text);
    drawing::centre_of_gravity(scene, centre);
    if let Ok(hands) = solved.hands_at(view.held_pitch()) {
        hand(scene, front, hands.front, "front hand", Side::Right, view);
        hand(scene, rear, hands.rear, "rear hand", Side::Above, view);
    }
}

/// A hand's load: an arrow as long as the load, from the grip up or down onto it.
fn hand(scene: &mut Scene, grip: Point, load: Force, name: &str, side: Side, view: &ViewState) {
    let gap = scene.pt(HAND_GAP_PT);
    let length = load.abs().as_n() * HAND_MM_PER_N;
    let (low, high) = (grip + kurbo::Vec2::new(0.0, gap), grip + kurbo::Vec2::new(0.0, gap + length));
    let (tail, tip) = if load < Force::ZERO { (high, low) } else { (low, high) };
    drawing::arrow(scene, tail, tip, Ink::Hand);
    drawing::grip_mark(scene, grip);
    let name = if scene.pt(1.0) > 1.0 / SHORT_NAME_SCALE { name.trim_end_matches(" hand") } else { name };
    let text = format!("{name} {}", view.units.hand(load));
    let at = high
        + if side == Side::Right {
            kurbo::Vec2::new(scene.pt(8.0), -scene.pt(9.0).min(0.5 * length))
        } else {
            kurbo::Vec2::new(0.0, scene.pt(4.0))
        };
    scene.label(Label { at, side, text, ink: Ink::Hand, strong: true, on_patch: true });
}

fn nose_handle(ui: &mut Ui, document: &Document, view: &ViewState, edits: &mut Edits, stand: &Stand) {
    let figures = document.figures();
    let tip = Point::new(figures.solved().nose.tip_x().as_mm(), 0.0);
    let along = stand.screen(tip + kurbo::Vec2::new(1.0, 0.0)) - stand.screen(tip);
    let past = along.normalized() * NOSE_HANDLE_PT;
    let overall = figures.setup().bar().overall_length();
    let name = format!("Nose, bar length in {}", view.units.length_unit());
    let handle = Handle {
        id: Id::unique(NOSE_ID),
        at: stand.screen(tip) + past,
        name: &name,
        value: view.units.length_value(overall),
        steps: Steps::Across,
    };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, view.paper, Steps::Across);
    let response = response.on_hover_cursor(egui::CursorIcon::ResizeHorizontal);
    response.on_hover_text("Drag the nose. Arrow keys: 1 mm, with Shift 10 mm. Page Up, Page Down: next bar on the rack. Alt: no snap.");
    match moved {
        Some(Moved::To(point, gesture)) => {
            let snap = ui.input(|input| !input.modifiers.alt);
            edits.ask_in(nose_to(document, stand, point - past, snap), gesture);
        }
        Some(moved) => {
            if let Some(edit) = length_edit(document, view, moved) {
                edits.ask(edit);
            }
        }
        None => {}
    }
}

/// The edit that brings the chain's tip to a point of the screen, or to a rack bar's tip close by.
fn nose_to(document: &Document, stand: &Stand, tip: Pos2, snap: bool) -> Edit {
    let figures = document.figures();
    let wanted = Length::from_mm(stand.saw(tip).x);
    let reach = Length::from_mm(f64::from(SNAP_PT) / stand.canvas.points_per_mm());
    let near = figures
        .rack()
        .iter()
        .map(|bar| (bar, (bar.solved.nose.tip_x() - wanted).abs()))
        .filter(|(_, distance)| snap && *distance <= reach)
        .min_by(|a, b| a.1.as_m().total_cmp(&b.1.as_m()));
    match near {
        Some((bar, _)) => Edit::SnapToBar(bar.name.clone()),
        None => Edit::BarLength(figures.family().overall_with_tip_at(wanted)),
    }
}

/// The edit that a key or a screen reader means on the bar length, shared with the slider beneath.
pub(crate) fn length_edit(document: &Document, view: &ViewState, moved: Moved) -> Option<Edit> {
    let figures = document.figures();
    let now = figures.setup().bar().overall_length();
    match moved {
        Moved::To(..) => None,
        Moved::By { small, large } => {
            Some(Edit::BarLength(now + SMALL_STEP * f64::from(small) + LARGE_STEP * f64::from(large)))
        }
        Moved::Set(value) => {
            let length: fn(f64) -> Length = view.units.length_from();
            Some(Edit::BarLength(length(value)))
        }
        Moved::Mark(marks) => {
            let longer = |bar: &&crate::document::RackBar| bar.overall.as_m() > now.as_m() + 1e-6;
            let shorter = |bar: &&crate::document::RackBar| bar.overall.as_m() < now.as_m() - 1e-6;
            let rack = figures.rack();
            let next = if marks > 0 { rack.iter().find(longer) } else { rack.iter().rev().find(shorter) };
            let (shortest, longest) = BarFamily::span();
            Some(match next {
                Some(bar) => Edit::SnapToBar(bar.name.clone()),
                None => Edit::BarLength(if marks > 0 { longest } else { shortest }),
            })
        }
    }
}

/// A tank's level: a knob on the fluid's surface.
fn level_handle(
    ui: &mut Ui,
    paper: Paper,
    stand: &Stand,
    id: &str,
    name: &str,
    (tank, fill): (&Tank, f64),
) -> Option<(f64, Gesture)> {
    let corner = mm(tank.corner());
    let at = Point::new(corner.x + tank.size().x * 1e3, drawing::tank_level_mm(tank, fill));
    let handle =
        Handle { id: Id::unique(id), at: stand.screen(at), name, value: fill * 100.0, steps: Steps::UpDown };
    let (response, moved) = handle.show(ui);
    Handle::paint_knob(ui, &response, paper, Steps::UpDown);
    let what = name.split(" in ").next().unwrap_or(name);
    response
        .on_hover_cursor(egui::CursorIcon::ResizeVertical)
        .on_hover_text(format!("{what} {}", format::percent(fill)));
    let height = tank.size().y * 1e3;
    Some(match moved? {
        Moved::To(point, gesture) => ((stand.saw(point).y - corner.y) / height, gesture),
        Moved::By { small, large } => {
            (fill + FILL_STEP * f64::from(small) + FILL_LARGE_STEP * f64::from(large), Gesture::Single)
        }
        Moved::Mark(marks) => (if marks > 0 { 1.0 } else { 0.0 }, Gesture::Single),
        Moved::Set(percent) => (percent / 100.0, Gesture::Single),
    })
}
