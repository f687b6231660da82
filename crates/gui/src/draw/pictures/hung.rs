//! Saws hung by their front grips from one plumb line, one under the other, to one scale.

use crate::draw::pieces::{self, mm};
use crate::draw::strokes::{Canvas, Label, Pen, Scene, Side, text_width};
use crate::draw::theme::{Ink, size};
use barpoise_core::{Setup, Solved};
use egui::Rect;
use kurbo::{Affine, Point, Vec2};

/// Between two saws, and between a saw and its words, in points.
const GAP_PT: f64 = 8.0;
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
        let turned = self.solved.hang.map_or(0.0, |hang| -hang.as_rad());
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
    /// Where the saws go: for each from the saw frame to the drawing, mm. The plumb line is at 0 across.
    pub fn places(&self, mm_per_pt: f64) -> Vec<Affine> {
        let mut top = 0.0;
        self.saws
            .iter()
            .enumerate()
            .map(|(index, saw)| {
                let extent = self.extent_of(index, saw);
                let (spare, high) = self.row(&extent, saw, mm_per_pt);
                let grip = top - spare - extent.y1;
                top -= high;
                Affine::translate((0.0, grip)) * saw.as_it_hangs()
            })
            .collect()
    }

    fn extent_of(&self, index: usize, saw: &Hung<'_>) -> kurbo::Rect {
        let behind = self.behind.iter().filter(|_| index == 0);
        behind.fold(saw.extent(), |rect, other| rect.union(other.extent()))
    }

    /// What is left over a saw where its words are higher than itself, and the height of its row, mm.
    fn row(&self, extent: &kurbo::Rect, saw: &Hung<'_>, mm_per_pt: f64) -> (f64, f64) {
        let spare = (saw.words_high_pt() * mm_per_pt - extent.height()).max(0.0);
        (0.5 * spare, extent.height() + spare + GAP_PT * mm_per_pt)
    }

    /// Where the plumb line ends, mm of the drawing.
    pub fn bottom_mm(&self, mm_per_pt: f64) -> f64 {
        self.world(mm_per_pt).y0
    }

    fn world(&self, mm_per_pt: f64) -> kurbo::Rect {
        let mut world = kurbo::Rect::ZERO;
        let mut high = 0.0;
        for (index, saw) in self.saws.iter().enumerate() {
            let extent = self.extent_of(index, saw);
            high += self.row(&extent, saw, mm_per_pt).1;
            world.x0 = world.x0.min(extent.x0);
            world.x1 = world.x1.max(extent.x1);
        }
        let all = self.saws.iter().chain(&self.behind);
        let words = all.map(Hung::words_wide_pt).fold(0.0, f64::max);
        let beyond = if words > 0.0 { (words + GAP_PT) * mm_per_pt } else { 0.0 };
        kurbo::Rect::new(world.x0, -high - PLUMB_PT * mm_per_pt, world.x1 + beyond, PLUMB_PT * mm_per_pt)
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
        let words_x = self
            .saws
            .iter()
            .enumerate()
            .map(|(index, saw)| self.extent_of(index, saw).x1)
            .fold(0.0, f64::max);
        for (index, (saw, place)) in self.saws.iter().zip(self.places(pt)).enumerate() {
            let grip = place * mm(saw.setup.powerhead().front_grip());
            for other in self.behind.iter().filter(|_| index == 0) {
                let mut outline = canvas.scene();
                let pen = Pen::solid(Ink::Soft, 1.2);
                pieces::outlined_bar(&mut outline, other.setup, pen, GHOST);
                scene.add(outline, Affine::translate(grip.to_vec2()) * other.as_it_hangs());
            }
            let mut one = canvas.scene();
            pieces::silhouette(&mut one, saw.setup);
            pieces::kickback_zone(&mut one, &saw.solved.nose);
            scene.add(one, place);
            pieces::centre_of_gravity(&mut scene, place * mm(saw.solved.saw.centroid));
            pieces::grip_mark(&mut scene, grip);
            let extent = self.extent_of(index, saw);
            let middle = grip.y + 0.5 * (extent.y0 + extent.y1);
            words(&mut scene, saw, Point::new(words_x, middle));
        }
        scene
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
