//! The saw to scale, held and hanging, with its balance and its reach.

use crate::desk::document::Figures;
use crate::desk::format::{self, Units};
use crate::draw::pieces::{self, HangGauge, HangReading, mm};
use crate::draw::strokes::{Canvas, Dash, Label, Pen, Scene, Side, text_width};
use crate::draw::theme::{Ink, size};
use barpoise_core::Setup;
use barpoise_core::units::{Angle, Force, Length};
use barpoise_core::weigh_in::COVERAGE;
use egui::{Pos2, Rect};
use kurbo::{Affine, Point, Vec2};

/// Length of a hand's arrow in millimetres of the drawing for each newton.
pub(crate) const HAND_MM_PER_N: f64 = 0.75;
/// Over the bar's middle, what the bar and its chain take, mm.
const OVER_BAR: f64 = 50.0;
/// The rule of rack marks lies this far over that, in points: the name of the danger arc stands between.
const MARKS_OVER_PT: f64 = 30.0;
/// The reach dimension lies this far over the rack marks, in points.
const REACH_OVER_MARKS_PT: f64 = 42.0;
/// Without rack marks it lies this far over the bar, in points.
const REACH_OVER_PT: f64 = 44.0;
/// A reach drawn shorter than this, in points, has no room for its full name between the arrows.
const REACH_NAME_PT: f64 = 242.0;
/// The centre-of-gravity dimension lies this far under the saw, in points.
const OFFSET_BELOW_PT: f64 = 20.0;
/// The plumb line ends this far under that, in points.
const PLUMB_BELOW_PT: f64 = 40.0;
/// The words of the two hands keep so far apart in height, in points.
const HANDS_APART_PT: f64 = 44.0;
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

/// The saw as it hangs is the gauge's needle: a full line, and so much of its ink within.
const NEEDLE: Pen = Pen::solid(Ink::Line, 1.4);
const NEEDLE_WASH: f32 = 0.07;
/// The outline of the setup compared with.
const OTHER: Pen = Pen::solid(Ink::Proposed, 1.4).with_dash(Dash::Dashed);

/// A name ahead of a nose keeps so far off what comes next, in points.
const AHEAD_OF_NOSE_PT: f64 = 16.0;

/// What a picture of the bench shows beside the saw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BenchShows {
    /// The numbers; without them only what they belong to.
    pub figures: bool,
    /// The bars of the rack, and room for the longest that can be drawn.
    pub rack: bool,
    /// The saw as it hangs, behind the saw as it is held, and the gauge whose needle it is.
    pub hanging: bool,
    /// The setup it is compared with, as an outline hung from the same grip.
    pub compared: bool,
    /// The centre of gravity and the plumb line.
    pub balance: bool,
    /// The reach past the spikes.
    pub reach: bool,
    /// The hands and their loads.
    pub hands: bool,
    /// The bar with its chain and the zone on its nose; without it the head alone, its nose out of sight.
    pub bar: bool,
}

impl BenchShows {
    /// All there is.
    pub const ALL: Self = Self {
        figures: true,
        rack: true,
        hanging: true,
        compared: true,
        balance: true,
        reach: true,
        hands: true,
        bar: true,
    };
}

/// A saw on the bench.
#[derive(Clone, Copy, Debug)]
pub struct BenchPicture<'a> {
    /// What is known of the saw.
    pub figures: &'a Figures,
    /// Units of its numbers.
    pub units: Units,
    /// Pitch at which it is held, nose up positive.
    pub held_pitch: Angle,
    /// The person's own limit of the hang, where it is shown.
    pub limit: Option<Angle>,
    /// What is shown beside it.
    pub shows: BenchShows,
}

/// Another setup as it hangs from the same grip.
struct Compared<'a> {
    setup: &'a Setup,
    hang: Angle,
    /// From its saw frame to the drawing, mm.
    hangs: Affine,
    /// Its nose in its saw frame, mm.
    tip: Point,
    tip_from_grip: f64,
}

impl Compared<'_> {
    fn outline(&self, scene: &mut Scene) {
        let mut other = Scene::new(1.0 / scene.pt(1.0));
        pieces::outlined_bar(&mut other, self.setup, OTHER, 0.0);
        pieces::outlined_head(&mut other, self.setup.powerhead(), OTHER, 0.0);
        scene.add(other, self.hangs);
    }

    /// Its name and hang: ahead of its nose where that ends well before the gauge, else behind it under the bar.
    fn name(&self, scene: &mut Scene, gauge_from_grip: f64) {
        let text = format!("{}, {}", format::short_name(self.setup.name()), format::angle(self.hang));
        let wide = scene.pt(f64::from(text_width(&text, size::BODY, false)) + AHEAD_OF_NOSE_PT);
        let (at, side) = if self.tip_from_grip + wide < gauge_from_grip {
            (self.hangs * self.tip, Side::Right)
        } else {
            let under = self.hangs * (self.tip - Vec2::new(OVER_BAR, OVER_BAR));
            (under - Vec2::new(0.0, scene.pt(14.0)), Side::Left)
        };
        scene.label(Label::new(at, side, text, Ink::Proposed).on_patch());
    }
}

/// Where the saw of a picture stands: turned about its front grip to the held pitch.
#[derive(Clone, Copy, Debug)]
pub struct BenchStand {
    /// Place and scale.
    pub canvas: Canvas,
    /// From the saw frame to the drawing, as held, mm.
    pub held: Affine,
    /// The same as it hangs; `None` where it does not.
    pub hanging: Option<Affine>,
    /// Height of the reach dimension in the saw frame, mm.
    pub reach_y: f64,
}

impl BenchStand {
    /// A point of the saw as held on the screen.
    pub fn screen(&self, saw: Point) -> Pos2 {
        self.canvas.to_screen(self.held * saw)
    }

    /// A point of the screen in the frame of the saw as held, mm.
    pub fn saw(&self, screen: Pos2) -> Point {
        self.held.inverse() * self.canvas.to_world(screen)
    }
}

impl BenchPicture<'_> {
    /// Where the saw stands on a canvas.
    pub fn stand(&self, canvas: Canvas) -> BenchStand {
        let reach_y = self.reach_y(canvas.scene().pt(1.0));
        BenchStand { canvas, held: self.held(), hanging: self.hanging(), reach_y }
    }

    /// Fits the picture into a rectangle, with texts and lines so many times their size.
    pub fn fit(&self, rect: Rect, enlarged: f32) -> Canvas {
        Canvas::fit_with_texts(rect, enlarged, |mm_per_pt| self.extent(mm_per_pt))
    }

    /// The drawing.
    pub fn scene(&self, stand: &BenchStand) -> Scene {
        let setup = self.figures.setup();
        let mut scene = stand.canvas.scene();
        let other = self.compared().filter(|_| self.shows.compared);
        if let Some(other) = &other {
            other.outline(&mut scene);
        }
        if let (Some(hanging), true) = (stand.hanging, self.shows.hanging) {
            let mut needle = stand.canvas.scene();
            pieces::outlined_bar(&mut needle, setup, NEEDLE, NEEDLE_WASH);
            pieces::outlined_head(&mut needle, setup.powerhead(), NEEDLE, NEEDLE_WASH);
            scene.add(needle, hanging);
            self.needle_words(&mut scene, hanging);
            self.gauge_on(&mut scene);
        }
        let mut saw = stand.canvas.scene();
        self.saw(&mut saw);
        scene.add(saw, stand.held);
        self.balance(&mut scene, stand);
        if let Some(other) = other {
            other.name(&mut scene, self.tip_from_grip());
        }
        scene
    }

    /// The gauge behind the nose of the saw as it hangs, with room for the longest bar of the rack.
    pub fn gauge(&self) -> HangGauge {
        let figures = self.figures;
        let longest = figures.rack().last().filter(|_| self.shows.rack);
        let hangs = [figures.solved().hang.ok(), longest.and_then(|bar| bar.solved.hang.ok()), self.limit];
        let tip = Point::new(figures.solved().nose.tip_x().as_mm(), 0.0);
        HangGauge::new(self.pivot(), tip, hangs.into_iter().flatten())
    }

    /// How it hangs in words, as sure as it is known.
    fn hang_words(&self, hang: Angle) -> String {
        self.number(match self.figures.bands().hang {
            Some(band) => format::hang_with(hang, band),
            None => format::hang(hang),
        })
    }

    /// What the full outline is, under the bar as it hangs.
    fn needle_words(&self, scene: &mut Scene, hanging: Affine) {
        let tip = self.figures.solved().nose.tip_x().as_mm();
        let under = hanging * Point::new(tip - OVER_BAR, -OVER_BAR);
        let at = under - Vec2::new(0.0, scene.pt(14.0));
        let words = "as it hangs by the front hand";
        let wide = f64::from(text_width(words, size::BODY, false)) + 2.0 * AHEAD_OF_NOSE_PT;
        // Not where it would run into the plumb line.
        if self.shows.figures && at.x - scene.pt(wide) > self.pivot().x {
            scene.label(Label::new(at, Side::Left, words, Ink::Soft).on_patch());
        }
    }

    fn gauge_on(&self, scene: &mut Scene) {
        let Ok(hang) = self.figures.solved().hang else { return };
        let words = self.hang_words(hang);
        let limit = self.limit.map(|limit| (limit, format!("my limit {}", format::whole_angle(limit))));
        let reading = HangReading {
            hang,
            give_or_take: self.figures.bands().hang.map(|band| band * COVERAGE),
            words: &words,
            limit: limit.as_ref().map(|(limit, words)| (*limit, words.as_str())),
        };
        self.gauge().draw(scene, &reading);
    }

    /// The setup it is compared with as it hangs from the same hand.
    fn compared(&self) -> Option<Compared<'_>> {
        let (setup, solved) = (self.figures.compared_setup()?, self.figures.compared()?);
        let hang = solved.hang.ok()?;
        let grip = mm(setup.powerhead().front_grip());
        let hangs = Affine::translate(self.pivot() - grip) * Affine::rotate_about(-hang.as_rad(), grip);
        let tip = Point::new(solved.nose.tip_x().as_mm(), 0.0);
        Some(Compared { setup, hang, hangs, tip, tip_from_grip: (tip - grip).hypot() })
    }

    fn tip_from_grip(&self) -> f64 {
        (Point::new(self.figures.solved().nose.tip_x().as_mm(), 0.0) - self.pivot()).hypot()
    }

    fn pivot(&self) -> Point {
        mm(self.figures.setup().powerhead().front_grip())
    }

    fn held(&self) -> Affine {
        Affine::rotate_about(self.held_pitch.as_rad(), self.pivot())
    }

    fn hanging(&self) -> Option<Affine> {
        let hang = self.figures.solved().hang.ok()?;
        Some(Affine::rotate_about(-hang.as_rad(), self.pivot()))
    }

    /// What must be in sight: the saw as held with the longest bar that can be drawn, the saw as it hangs, the
    /// hands' arrows and the dimensions.
    pub fn extent(&self, mm_per_pt: f64) -> kurbo::Rect {
        let (figures, held) = (self.figures, self.held());
        let head = figures.setup().powerhead();
        let (rear, front) = (mm(head.rear_grip()), self.pivot());
        let now = figures.solved().nose.tip_x();
        let longest = match figures.rack().last() {
            Some(bar) if self.shows.rack => bar.solved.nose.tip_x().max(now),
            _ => now,
        };
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
        let hand = figures.solved().hands.map_or(Force::ZERO, |hands| hands.front.abs());
        let most = if self.shows.rack { figures.most_front_hand() } else { hand };
        let mut points: Vec<Point> = saw(longest).iter().map(|p| held * *p).collect();
        let reach_y = self.reach_y(mm_per_pt);
        if self.shows.reach {
            points.extend([Point::new(longest.as_mm(), reach_y), Point::new(0.0, reach_y)].map(|p| held * p));
        }
        if self.shows.balance {
            points.push(Point::new(front.x, self.offset_y(mm_per_pt) - PLUMB_BELOW_PT * mm_per_pt));
        }
        if self.shows.hands {
            points.push(front + Vec2::new(0.0, most.as_n() * HAND_MM_PER_N + HAND_GAP_PT * mm_per_pt));
        }
        if let (Some(hanging), true) = (self.hanging(), self.shows.hanging) {
            points.extend(saw(now).iter().map(|p| hanging * *p));
            let gauge = self.gauge().extent(mm_per_pt);
            points.extend([Point::new(gauge.x0, gauge.y0), Point::new(gauge.x1, gauge.y1)]);
        }
        let first = points.first().copied().unwrap_or_default();
        points.iter().fold(kurbo::Rect::from_points(first, first), |rect, p| rect.union_pt(*p))
    }

    /// Height of the centre-of-gravity dimension, mm: clear under the head however it is held.
    fn offset_y(&self, mm_per_pt: f64) -> f64 {
        let (head, held) = (self.figures.setup().powerhead(), self.held());
        let (rear, spikes) = (mm(head.rear_grip()), head.spike_line().as_mm());
        let under = [Point::new(rear.x - 80.0, rear.y - 148.0), Point::new(spikes - 50.0, -88.0)];
        under.iter().map(|p| (held * *p).y).fold(f64::MAX, f64::min) - OFFSET_BELOW_PT * mm_per_pt
    }

    /// Height of the reach dimension in the saw frame, mm.
    fn reach_y(&self, mm_per_pt: f64) -> f64 {
        if self.shows.rack {
            marks_y(mm_per_pt) + REACH_OVER_MARKS_PT * mm_per_pt
        } else {
            OVER_BAR + REACH_OVER_PT * mm_per_pt
        }
    }

    /// A number, or nothing where numbers are not shown.
    fn number(&self, text: String) -> String {
        if self.shows.figures { text } else { String::new() }
    }

    /// Everything that turns with the saw.
    fn saw(&self, scene: &mut Scene) {
        let (setup, solved) = (self.figures.setup(), self.figures.solved());
        let head = setup.powerhead();
        pieces::head_under(scene, head);
        if self.shows.bar {
            pieces::bar(scene, setup);
            pieces::chain(scene, setup);
        }
        pieces::covers(scene, head);
        for (tank, fill, ink, name) in [
            (head.fuel_tank(), setup.fuel_fill(), Ink::Fuel, "fuel"),
            (head.oil_tank(), setup.oil_fill(), Ink::Oil, "oil"),
        ] {
            pieces::tank(scene, tank, fill, ink);
            if scene.pt(1.0) < 1.0 / TANK_NAME_SCALE {
                pieces::tank_label(scene, tank, name);
            }
        }
        if !self.shows.bar {
            return;
        }
        self.held_words(scene);
        pieces::kickback_zone(scene, &solved.nose);
        let top = mm(solved.nose.point_at(Angle::from_deg(95.0))) + Vec2::new(0.0, scene.pt(12.0));
        scene.label(Label::new(top, Side::Left, "nose danger arc", Ink::Danger).strong().on_patch());
        if self.shows.rack {
            self.rack_marks(scene);
        }
        if !self.shows.reach {
            return;
        }
        let (spikes, tip) = (head.spike_line().as_mm(), solved.nose.tip_x().as_mm());
        let reach = self.number(format!(" {}", self.units.length(solved.reach)));
        let narrow = (tip - spikes) < scene.pt(REACH_NAME_PT);
        let name = if narrow { "reach" } else { "reach past spikes" };
        pieces::dimension(
            scene,
            Point::new(spikes, OVER_BAR),
            Point::new(tip, OVER_BAR),
            OVER_BAR - self.reach_y(scene.pt(1.0)),
            &format!("{name}{reach}"),
            Ink::Line,
        );
    }

    /// On the plate, where the saw hangs beside it: that this one is held.
    fn held_words(&self, scene: &mut Scene) {
        let (spikes, tip) =
            (self.figures.setup().powerhead().spike_line(), self.figures.solved().nose.tip_x());
        let high = self.figures.setup().bar().body_width().as_mm();
        let pitch = self.held_pitch.as_deg();
        let words = match pitch {
            _ if pitch >= 0.5 => "held nose up",
            _ if pitch <= -0.5 => "held nose down",
            _ => "held level",
        };
        let wide = f64::from(text_width(words, size::BODY, false)) + 2.0 * AHEAD_OF_NOSE_PT;
        let fits = scene.pt(wide) < (tip - spikes).as_mm() - 2.0 * OVER_BAR
            && scene.pt(f64::from(size::BODY)) < high;
        if self.shows.hanging && self.shows.figures && fits {
            let middle = Point::new(0.5 * (spikes + tip).as_mm(), 0.0);
            scene.label(Label::new(middle, Side::Middle, words, Ink::Soft));
        }
    }

    /// The rack's bars on a rule over the bar, each where its chain's tip would be.
    fn rack_marks(&self, scene: &mut Scene) {
        let figures = self.figures;
        let y = marks_y(scene.pt(1.0));
        let from = figures.setup().powerhead().spike_line().as_mm();
        let ends = figures.rack().iter().map(|bar| bar.solved.nose.tip_x().as_mm());
        let to = ends.fold(figures.solved().nose.tip_x().as_mm(), f64::max);
        scene.line(Point::new(from, y), Point::new(to, y), Pen::solid(Ink::Rule, 1.5));
        let current = figures.current_rack_bar().map(|bar| bar.name.as_str());
        let tick = scene.pt(5.0);
        let mut last_name = f64::MIN;
        let now = figures.current_rack_bar().map_or(f64::MIN, |bar| bar.solved.nose.tip_x().as_mm());
        for bar in figures.rack() {
            let on = current == Some(bar.name.as_str());
            let ink = if on { Ink::Ours } else { Ink::Soft };
            let at = Point::new(bar.solved.nose.tip_x().as_mm(), y);
            let pen = Pen::solid(ink, if on { 2.5 } else { 1.5 });
            scene.line(at + Vec2::new(0.0, tick), at - Vec2::new(0.0, tick), pen);
            let name = format::short_name(&bar.name);
            let characters = u32::try_from(name.chars().count()).map_or(0.0, f64::from);
            let room = scene.pt(NAME_ROOM_PT.max(characters * CHARACTER_PT + 8.0));
            if on || (at.x - last_name >= room && (at.x - now).abs() >= room) {
                let label = Label::new(at, Side::Above, name, ink);
                scene.label(if on { label.strong().on_patch() } else { label });
                last_name = at.x;
            }
        }
    }

    /// What stays upright: plumb line, centre of gravity, hands.
    fn balance(&self, scene: &mut Scene, stand: &BenchStand) {
        let (setup, solved) = (self.figures.setup(), self.figures.solved());
        let front = stand.held * self.pivot();
        let rear = stand.held * mm(setup.powerhead().rear_grip());
        let centre = stand.held * mm(solved.saw.centroid);
        if self.shows.balance {
            self.plumb(scene, front, centre);
        }
        if let (Ok(hands), true) = (solved.hands_at(self.held_pitch), self.shows.hands) {
            // Left of its arrow there is room unless the rear handle is held as high.
            let over = |load: Force| scene.pt(HAND_GAP_PT) + load.abs().as_n() * HAND_MM_PER_N;
            let apart = (front.y + over(hands.front)) - (rear.y + over(hands.rear));
            let side = if apart > scene.pt(HANDS_APART_PT) { Side::Left } else { Side::Right };
            self.hand(scene, front, hands.front, "front hand", side);
            self.hand(scene, rear, hands.rear, "rear hand", Side::Above);
        }
    }

    /// The plumb line and how far the centre of gravity lies ahead of it.
    fn plumb(&self, scene: &mut Scene, front: Point, centre: Point) {
        let lowest = self.offset_y(scene.pt(1.0));
        let bottom = lowest - scene.pt(PLUMB_BELOW_PT);
        pieces::plumb_line(scene, front, bottom);
        let beside = Point::new(front.x, bottom + scene.pt(7.0));
        scene.label(Label::new(beside, Side::Left, "plumb line", Ink::Ours).on_patch());
        let ahead = Length::from_mm(centre.x - front.x);
        let sense = if ahead < Length::ZERO { "behind" } else { "ahead" };
        let text = self.number(format!("{} {sense} of the hand", self.units.length(ahead.abs())));
        pieces::offset_dimension(scene, centre, front.x, lowest, &text);
        pieces::centre_of_gravity(scene, centre);
    }

    /// A hand's load: an arrow as long as the load, from the grip up or down onto it.
    fn hand(&self, scene: &mut Scene, grip: Point, load: Force, name: &str, side: Side) {
        let gap = scene.pt(HAND_GAP_PT);
        let length = load.abs().as_n() * HAND_MM_PER_N;
        let (low, high) = (grip + Vec2::new(0.0, gap), grip + Vec2::new(0.0, gap + length));
        let (tail, tip) = if load < Force::ZERO { (high, low) } else { (low, high) };
        pieces::grip_mark(scene, grip);
        if self.shows.figures {
            pieces::arrow(scene, tail, tip, Ink::Hand);
        }
        let short = scene.pt(1.0) > 1.0 / SHORT_NAME_SCALE;
        let name = if short { name.trim_end_matches(" hand") } else { name };
        let text = format!("{name}{}", self.number(format!(" {}", self.units.hand(load))));
        let at = high
            + if side != Side::Above {
                let beside = scene.pt(if side == Side::Left { -8.0 } else { 8.0 });
                Vec2::new(beside, -scene.pt(9.0).min(0.5 * length))
            } else {
                Vec2::new(0.0, scene.pt(4.0))
            };
        scene.label(Label::new(at, side, text, Ink::Hand).strong().on_patch());
    }
}

/// Height of the rule of rack marks in the saw frame, mm.
fn marks_y(mm_per_pt: f64) -> f64 {
    OVER_BAR + MARKS_OVER_PT * mm_per_pt
}
