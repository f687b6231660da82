//! Saws to one scale at one plumb line: hung as a fan from one hand, so that the noses can be compared, or held level one
//! under the other, so that nothing of how they hang is told.

use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{Canvas, Label, Pen, Scene, Side, text_width};
use crate::draw::theme::{Ink, size};
use barpoise_core::{Setup, Solved};
use egui::Rect;
use kurbo::{Affine, Point, Vec2};

/// Between two saws, and between a saw and its words, in points.
const GAP_PT: f64 = 8.0;
/// Between the bars of a fan and its words, in points: room for the threads.
const LEADER_PT: f64 = 44.0;
/// The plumb line reaches so far over the first grip and under the last saw, in points.
const PLUMB_PT: f64 = 16.0;
/// Over and under a bar's middle what its chain takes, mm.
const HALF_BAR_MM: f64 = 60.0;
/// A line of words is so many times as high as its letters.
const LEADING: f64 = 1.35;
/// The least and the largest scale, points for each millimetre, and how often their middle is tried.
const SCALES: (f64, f64) = (0.01, 4.0);
const HALVINGS: u32 = 40;
/// How strongly the saws behind a growing one show.
const GHOST: f32 = 0.06;

/// A saw with the words beside it: its name first.
#[derive(Clone, Debug)]
pub struct Hung<'a> {
    /// The saw.
    pub setup: &'a Setup,
    /// Its figures.
    pub solved: &'a Solved,
    /// The words, from the top.
    pub words: Vec<String>,
    /// It is held level, whatever it hangs like.
    pub level: bool,
}

/// Saws on one plumb line.
#[derive(Clone, Debug)]
pub struct HungPicture<'a> {
    /// From the top.
    pub saws: Vec<Hung<'a>>,
    /// Others, as outlines behind the first: hung from the same grip.
    pub behind: Vec<Hung<'a>>,
}

impl Hung<'_> {
    /// From the saw frame to a drawing whose origin is the front grip, as the saw hangs; level where it does not.
    pub fn as_it_hangs(&self) -> Affine {
        let turned = if self.level { 0.0 } else { self.solved.hang.map_or(0.0, |hang| -hang.as_rad()) };
        Affine::rotate(turned) * Affine::translate(-mm(self.setup.powerhead().front_grip()).to_vec2())
    }

    /// What it covers about its grip, mm.
    fn extent(&self) -> kurbo::Rect {
        let head = pieces::head_extent(self.setup.powerhead());
        let tip = self.solved.nose.tip_x().as_mm();
        let corners = [
            Point::new(head.x0, head.y0),
            Point::new(head.x0, head.y1),
            Point::new(head.x1, head.y0),
            Point::new(head.x1, head.y1),
            Point::new(tip, HALF_BAR_MM),
            Point::new(tip, -HALF_BAR_MM),
        ];
        let hangs = self.as_it_hangs();
        corners.iter().fold(kurbo::Rect::ZERO, |rect, corner| rect.union_pt(hangs * *corner))
    }

    fn words_wide_pt(&self) -> f64 {
        let widths =
            self.words.iter().enumerate().map(|(line, text)| text_width(text, size::BODY, line == 0));
        f64::from(widths.fold(0.0, f32::max))
    }

    fn words_high_pt(&self) -> f64 {
        u32::try_from(self.words.len()).map_or(0.0, f64::from) * f64::from(size::BODY) * LEADING
    }
}

impl HungPicture<'_> {
    /// True where the saws hang: all from one hand.
    fn is_fan(&self) -> bool {
        !self.saws.iter().any(|saw| saw.level)
    }

    /// Where the saws go: for each from the saw frame to the drawing, mm. The plumb line is at 0 across.
    pub fn places(&self, mm_per_pt: f64) -> Vec<Affine> {
        if self.is_fan() {
            return self.saws.iter().map(Hung::as_it_hangs).collect();
        }
        let mut top = 0.0;
        let place = |saw: &Hung<'_>| {
            let extent = saw.extent();
            let (spare, high) = row(&extent, saw, mm_per_pt);
            let grip = top - spare - extent.y1;
            top -= high;
            Affine::translate((0.0, grip)) * saw.as_it_hangs()
        };
        self.saws.iter().map(place).collect()
    }

    /// Where the plumb line ends, mm of the drawing.
    pub fn bottom_mm(&self, mm_per_pt: f64) -> f64 {
        self.world(mm_per_pt).y0
    }

    /// All saws, those behind too.
    fn all(&self) -> impl Iterator<Item = &Hung<'_>> {
        self.saws.iter().chain(&self.behind)
    }

    fn saws_extent(&self) -> kurbo::Rect {
        self.all().map(Hung::extent).reduce(|all, one| all.union(one)).unwrap_or_default()
    }

    fn world(&self, mm_per_pt: f64) -> kurbo::Rect {
        let extent = self.saws_extent();
        let words = self.all().map(Hung::words_wide_pt).fold(0.0, f64::max);
        let gap = if self.is_fan() { LEADER_PT } else { GAP_PT };
        let beyond = if words > 0.0 { (words + gap) * mm_per_pt } else { 0.0 };
        let plumb = PLUMB_PT * mm_per_pt;
        let (x0, x1) = (extent.x0.min(0.0), extent.x1 + beyond);
        if !self.is_fan() {
            let high: f64 = self.saws.iter().map(|saw| row(&saw.extent(), saw, mm_per_pt).1).sum();
            return kurbo::Rect::new(x0, -high - plumb, x1, plumb);
        }
        let words: f64 = self.saws.iter().map(|saw| saw.words_high_pt() + GAP_PT).sum();
        let short = (words * mm_per_pt - extent.height()).max(0.0);
        kurbo::Rect::new(x0, extent.y0 - 0.5 * short - plumb, x1, extent.y1 + 0.5 * short + plumb)
    }

    /// Fits the picture into a rectangle, with texts and lines so many times their size.
    pub fn fit(&self, rect: Rect, enlarged: f32) -> Canvas {
        let (wide, high) = (f64::from(rect.width()), f64::from(rect.height()));
        let world = |points_per_mm: f64| self.world(f64::from(enlarged) / points_per_mm);
        let holds = |points_per_mm: f64| {
            let world = world(points_per_mm);
            world.width() * points_per_mm <= wide && world.height() * points_per_mm <= high
        };
        // What is needed grows with the scale: the largest that holds lies between the two.
        let (mut low, mut top) = SCALES;
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + top);
            if holds(middle) { low = middle } else { top = middle }
        }
        let fitted = world(low);
        let canvas = Canvas::fit(rect, fitted);
        // At that scale to the last digit, so that the words have the room they were given.
        let corner = canvas.to_screen(Point::new(fitted.x0, fitted.y1));
        #[expect(clippy::cast_possible_truncation, reason = "the screen is f32 by egui's choice")]
        let origin = corner + egui::vec2((-fitted.x0 * low) as f32, (fitted.y1 * low) as f32);
        Canvas::at(rect, origin, low).enlarged(enlarged)
    }

    /// The drawing.
    pub fn scene(&self, canvas: &Canvas) -> Scene {
        let mut scene = canvas.scene();
        let pt = scene.pt(1.0);
        let world = self.world(pt);
        pieces::plumb_line(&mut scene, Point::new(0.0, world.y1), world.y0 + 14.0 * pt);
        for other in &self.behind {
            let mut outline = canvas.scene();
            let pen = Pen::solid(Ink::Soft, 1.2);
            pieces::outlined_bar(&mut outline, other.setup, pen, GHOST);
            scene.add(outline, other.as_it_hangs());
        }
        let fan = self.is_fan();
        // The first lies before the others, its head alone in full.
        let placed: Vec<(&Hung<'_>, Affine)> = self.saws.iter().zip(self.places(pt)).collect();
        for (index, (saw, place)) in placed.iter().enumerate().rev() {
            let mut one = canvas.scene();
            if fan && index > 0 {
                let pen = Pen::solid(Ink::Soft, 1.0);
                pieces::outlined_head(&mut one, saw.setup.powerhead(), pen, GHOST);
                pieces::outlined_bar(&mut one, saw.setup, Pen::solid(Ink::Steel, 2.4), GHOST);
            } else {
                pieces::silhouette(&mut one, saw.setup);
            }
            pieces::kickback_zone(&mut one, &saw.solved.nose);
            scene.add(one, *place);
        }
        for (saw, place) in &placed {
            if !saw.level {
                pieces::centre_of_gravity(&mut scene, *place * mm(saw.solved.saw.centroid));
            }
            pieces::grip_mark(&mut scene, *place * mm(saw.setup.powerhead().front_grip()));
        }
        let words_x = self.saws_extent().x1;
        if fan {
            fan_words(&mut scene, &placed, words_x, &world);
            return scene;
        }
        for (saw, place) in &placed {
            let grip = *place * mm(saw.setup.powerhead().front_grip());
            let extent = saw.extent();
            words(&mut scene, saw, Point::new(words_x, grip.y + 0.5 * (extent.y0 + extent.y1)));
        }
        scene
    }
}

/// What is left over a saw where its words are higher than itself, and the height of its row, mm.
fn row(extent: &kurbo::Rect, saw: &Hung<'_>, mm_per_pt: f64) -> (f64, f64) {
    let spare = (saw.words_high_pt() * mm_per_pt - extent.height()).max(0.0);
    (0.5 * spare, extent.height() + spare + GAP_PT * mm_per_pt)
}

/// The words of a fan in one column, in the order of the noses, each with a thread to its nose.
fn fan_words(scene: &mut Scene, placed: &[(&Hung<'_>, Affine)], words_x: f64, world: &kurbo::Rect) {
    let tip = |(saw, place): &(&Hung<'_>, Affine)| *place * Point::new(saw.solved.nose.tip_x().as_mm(), 0.0);
    let mut order: Vec<&(&Hung<'_>, Affine)> =
        placed.iter().filter(|(saw, _)| !saw.words.is_empty()).collect();
    order.sort_by(|a, b| tip(b).y.total_cmp(&tip(a).y));
    let high = |saw: &Hung<'_>| scene.pt(saw.words_high_pt() + GAP_PT);
    // From the top, each as near to its nose as those over it leave it; what then runs out below moves all up.
    let mut middles: Vec<f64> = Vec::with_capacity(order.len());
    let mut free = world.y1;
    for one in &order {
        let half = 0.5 * high(one.0);
        let middle = tip(one).y.min(free - half);
        free = middle - half;
        middles.push(middle);
    }
    let mut least = world.y0;
    for (one, middle) in order.iter().zip(&mut middles).rev() {
        let half = 0.5 * high(one.0);
        *middle = middle.max(least + half);
        least = *middle + half;
    }
    let column = words_x + scene.pt(LEADER_PT - GAP_PT);
    let gap = scene.pt(4.0);
    for (one, middle) in order.into_iter().zip(middles) {
        let at = Point::new(column, middle);
        let from = tip(one) + Vec2::new(gap, 0.0);
        scene.line(from, at, Pen::solid(Ink::Soft, 1.0));
        words(scene, one.0, at);
    }
}

/// The words of a saw, their middle at a height.
fn words(scene: &mut Scene, saw: &Hung<'_>, at: Point) {
    let line = scene.pt(f64::from(size::BODY) * LEADING);
    let count = u32::try_from(saw.words.len()).map_or(0.0, f64::from);
    for (index, text) in saw.words.iter().enumerate() {
        let down = (u32::try_from(index).map_or(0.0, f64::from) + 0.5 - 0.5 * count) * line;
        let at = at - Vec2::new(0.0, down);
        let ink = if index == 0 { Ink::Line } else { Ink::Soft };
        let label = Label::new(at, Side::Right, text.clone(), ink);
        scene.label(if index == 0 { label.strong() } else { label });
    }
}
