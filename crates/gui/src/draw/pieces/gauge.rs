//! The tip-heaviness gauge: an arc of words behind the nose of the saw as it hangs, which is the needle.

use crate::draw::strokes::{Label, Pen, Scene, Side, text_width};
use crate::draw::theme::{Ink, size};
use barpoise_core::Feel;
use barpoise_core::units::Angle;
use kurbo::{Affine, Arc, BezPath, Point, Shape, Vec2};

/// The arc lies this far beyond the nose, in points: the handle of the nose stands between.
const BEYOND_PT: f64 = 40.0;
/// From the pointer's foot to its tip, which touches the arc, in points.
const POINTER_PT: f64 = 11.0;
/// Half the width of the pointer's foot, in points.
const POINTER_HALF_PT: f64 = 6.0;
/// The words stand this far outside the arc, in points.
const WORDS_PT: f64 = 16.0;
/// The flag's pole reaches this far outside the arc, in points, and the flag's knob stands at its end.
const POLE_PT: f64 = 30.0;
/// Two texts at the arc have their middles at least so far apart in height, in points.
const TEXT_APART_PT: f64 = 21.0;
/// The scale is drawn at least over this, degrees of hang, nose down positive.
const LEAST_SPAN_DEG: (f64, f64) = (-5.0, 36.0);
/// And so far beyond whatever stands on it.
const SPAN_BEYOND_DEG: f64 = 5.0;
/// The scale ends here whatever stands on it.
const MOST_SPAN_DEG: (f64, f64) = (-60.0, 85.0);
/// A tick for each of these.
const TICK_EVERY_DEG: i32 = 5;

/// The gauge of a saw: where its arc lies.
#[derive(Clone, Copy, Debug)]
pub struct HangGauge {
    grip: Point,
    tip: Vec2,
    span_deg: (f64, f64),
}

/// What stands on the gauge.
#[derive(Clone, Copy, Debug)]
pub struct HangReading<'a> {
    /// How the saw hangs, nose down positive.
    pub hang: Angle,
    /// Half the band within which it hangs 95 times in a hundred.
    pub give_or_take: Option<Angle>,
    /// The same in words, or nothing where numbers are not shown.
    pub words: &'a str,
    /// The person's own limit with its words.
    pub limit: Option<(Angle, &'a str)>,
}

impl HangGauge {
    /// The gauge of a saw held by a grip, whose level nose ends at a point, with room for these angles.
    pub fn new(grip: Point, level_tip: Point, angles: impl IntoIterator<Item = Angle>) -> Self {
        let span = angles.into_iter().fold(LEAST_SPAN_DEG, |(from, to), angle| {
            let deg = angle.as_deg();
            (from.min(deg - SPAN_BEYOND_DEG), to.max(deg + SPAN_BEYOND_DEG))
        });
        let span_deg = (span.0.max(MOST_SPAN_DEG.0), span.1.min(MOST_SPAN_DEG.1));
        Self { grip, tip: level_tip - grip, span_deg }
    }

    /// The point behind the nose of a saw that hangs so, so far beyond the nose, mm.
    pub fn at(&self, hang: Angle, beyond_mm: f64) -> Point {
        let turned = Affine::rotate(-hang.as_rad()) * self.tip.to_point();
        self.grip + turned.to_vec2() * (1.0 + beyond_mm / self.tip.hypot().max(1.0))
    }

    /// The angle of hang at which the nose would point here.
    pub fn hang_at(&self, point: Point) -> Angle {
        let turned = self.tip.atan2() - (point - self.grip).atan2();
        Angle::from_rad(turned.sin().atan2(turned.cos()))
    }

    /// Where the knob of the limit's flag stands, for so many millimetres in a point.
    pub fn flag(&self, limit: Angle, mm_per_pt: f64) -> Point {
        self.at(self.shown(limit), (BEYOND_PT + POLE_PT) * mm_per_pt)
    }

    /// What it covers, for so many millimetres in a point of text.
    pub fn extent(&self, mm_per_pt: f64) -> kurbo::Rect {
        let outside = (BEYOND_PT + WORDS_PT) * mm_per_pt;
        let mut all = kurbo::Rect::from_points(self.grip, self.grip);
        let line = 0.5 * TEXT_APART_PT * mm_per_pt;
        for (deg, text) in self.words().chain([(self.span_deg.0, ""), (self.span_deg.1, "")]) {
            let at = self.at(Angle::from_deg(deg), outside);
            let wide = f64::from(text_width(text, size::BODY, true)) * mm_per_pt;
            all = all.union(kurbo::Rect::new(at.x, at.y - line, at.x + wide, at.y + line));
        }
        all
    }

    /// An angle, or the end of the scale where it lies beyond.
    fn shown(&self, angle: Angle) -> Angle {
        Angle::from_deg(angle.as_deg().clamp(self.span_deg.0, self.span_deg.1))
    }

    /// The bands of the scale with where they begin and end.
    fn bands(&self) -> impl Iterator<Item = (Feel, f64, f64)> {
        let (first, last) = self.span_deg;
        let ends = Feel::EDGES_DEG.into_iter().chain([(Feel::VeryNoseHeavy, f64::MAX)]);
        ends.scan(f64::MIN, move |from, (feel, to)| {
            let band = (feel, from.max(first), to.min(last));
            *from = to;
            Some(band)
        })
        .filter(|(_, from, to)| from < to)
    }

    /// The words of the bands at their middles.
    fn words(&self) -> impl Iterator<Item = (f64, &'static str)> {
        self.bands().map(|(feel, from, to)| (0.5 * (from + to), band_words(feel)))
    }

    fn arc(&self, from_deg: f64, to_deg: f64, beyond_mm: f64) -> BezPath {
        let radius = self.tip.hypot() + beyond_mm;
        let start = self.tip.atan2() - from_deg.to_radians();
        let sweep = -(to_deg - from_deg).to_radians();
        Arc::new(self.grip, (radius, radius), start, sweep, 0.0).to_path(0.05)
    }

    /// Draws the scale with what stands on it.
    pub fn draw(&self, scene: &mut Scene, reading: &HangReading<'_>) {
        self.scale(scene);
        if let Some(wide) = reading.give_or_take {
            self.give_or_take(scene, reading.hang, wide);
        }
        self.pointer(scene, self.shown(reading.hang));
        let mut taken = Vec::new();
        self.said(scene, reading, &mut taken);
        if let Some((limit, words)) = reading.limit {
            self.flag_on(scene, self.shown(limit), words, &mut taken);
        }
        let room = scene.pt(TEXT_APART_PT);
        let outside = scene.pt(BEYOND_PT + WORDS_PT);
        // The band that it hangs in is said with the reading.
        let said = band_words(Feel::of(reading.hang));
        for (deg, text) in self.words().filter(|(_, text)| *text != said) {
            let at = self.at(Angle::from_deg(deg), outside);
            if taken.iter().all(|y: &f64| (y - at.y).abs() >= room) {
                scene.label(Label::new(at, Side::Right, text, Ink::Soft));
            }
        }
    }

    fn scale(&self, scene: &mut Scene) {
        let radius = scene.pt(BEYOND_PT);
        for (feel, from, to) in self.bands() {
            let (ink, width) = band_pen(feel);
            let middle = radius + scene.pt(0.5 * f64::from(width));
            scene.stroke(self.arc(from, to, middle), Pen::solid(ink, width));
        }
        let thin = Pen::solid(Ink::Line, 1.0);
        scene.stroke(self.arc(self.span_deg.0, self.span_deg.1, radius), thin);
        #[expect(clippy::cast_possible_truncation, reason = "degrees of a scale")]
        let (first, last) = (self.span_deg.0.ceil() as i32, self.span_deg.1.floor() as i32);
        for deg in (first..=last).filter(|deg| deg.rem_euclid(TICK_EVERY_DEG) == 0) {
            let at = Angle::from_deg(f64::from(deg));
            let inside = scene.pt(if deg == 0 { 10.0 } else { 5.0 });
            scene.line(self.at(at, radius - inside), self.at(at, radius), thin);
        }
    }

    /// Where the nose may as well be: a wedge between nose and scale, ruled at its ends.
    fn give_or_take(&self, scene: &mut Scene, hang: Angle, wide: Angle) {
        let ends = [self.shown(hang - wide), self.shown(hang + wide)];
        let (inner, outer) = (scene.pt(4.0), scene.pt(BEYOND_PT));
        let [from, to] = ends.map(Angle::as_deg);
        let mut wedge = self.arc(from, to, outer);
        wedge.line_to(self.at(ends[1], inner));
        wedge.extend(self.arc(to, from, inner).iter().skip(1));
        wedge.close_path();
        scene.wash(wedge, Ink::OursMid, 0.45);
        for end in ends {
            scene.line(self.at(end, inner), self.at(end, outer), Pen::solid(Ink::Ours, 1.2));
        }
    }

    fn pointer(&self, scene: &mut Scene, hang: Angle) {
        let tip = self.at(hang, scene.pt(BEYOND_PT));
        let back = (tip - self.grip).normalize();
        let foot = tip - back * scene.pt(POINTER_PT);
        let across = Vec2::new(-back.y, back.x) * scene.pt(POINTER_HALF_PT);
        let mut path = BezPath::new();
        path.move_to(tip);
        path.line_to(foot + across);
        path.line_to(foot - across);
        path.close_path();
        scene.line(self.at(hang, scene.pt(2.0)), foot, Pen::solid(Ink::Line, 2.5));
        scene.fill(path, Ink::Line);
    }

    /// The reading and its feel in words, one under the other at the pointer.
    fn said(&self, scene: &mut Scene, reading: &HangReading<'_>, taken: &mut Vec<f64>) {
        let at = self.at(self.shown(reading.hang), scene.pt(BEYOND_PT + WORDS_PT));
        let over = reading.limit.is_some_and(|(limit, _)| reading.hang > limit);
        let ink = if over { Ink::Warn } else { Ink::Line };
        let line = scene.pt(TEXT_APART_PT);
        let lines = [reading.words, Feel::of(reading.hang).words()];
        let mut y = at.y;
        for (text, high) in lines.into_iter().zip([1.1, 1.0]).filter(|(text, _)| !text.is_empty()) {
            let size = if high > 1.0 { size::STRONG } else { size::BODY };
            let label = Label::new(Point::new(at.x, y), Side::Right, text, ink);
            scene.label(label.sized(size).strong().on_patch());
            taken.push(y);
            y -= line * high;
        }
    }

    /// The person's own limit: a pole across the scale with its words, clear of what is said there already.
    fn flag_on(&self, scene: &mut Scene, limit: Angle, words: &str, taken: &mut Vec<f64>) {
        let pole = [-6.0, POLE_PT - 10.0].map(|pt| self.at(limit, scene.pt(BEYOND_PT + pt)));
        let pen = Pen::solid(Ink::Line, 2.5);
        scene.line(pole[0], pole[1], pen);
        let knob = self.flag(limit, scene.pt(1.0));
        let mut at = knob + Vec2::new(scene.pt(12.0), 0.0);
        let room = scene.pt(TEXT_APART_PT);
        let middle = 0.5 * (taken.first().copied().unwrap_or(at.y) + taken.last().copied().unwrap_or(at.y));
        let step = if at.y < middle { -1.0 } else { 1.0 };
        while taken.iter().any(|y| (y - at.y).abs() < room) {
            at.y += step * scene.pt(3.0);
        }
        taken.push(at.y);
        scene.label(Label::new(at, Side::Right, words, Ink::Line).strong().on_patch());
    }
}

/// The words of a band of the scale.
fn band_words(feel: Feel) -> &'static str {
    match feel {
        Feel::Level => "level",
        other => other.words(),
    }
}

/// Wider as it gets heavier, so that the bands read without their colour.
const fn band_pen(feel: Feel) -> (Ink, f32) {
    match feel {
        Feel::TailHeavy => (Ink::Soft, 3.0),
        Feel::Level => (Ink::Ours, 4.0),
        Feel::SlightlyNoseHeavy => (Ink::OursMid, 6.0),
        Feel::NoseHeavy => (Ink::Warn, 8.0),
        Feel::VeryNoseHeavy => (Ink::Warn, 12.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn gauge() -> HangGauge {
        HangGauge::new(Point::new(-30.0, 115.0), Point::new(690.0, 0.0), [])
    }

    #[test]
    fn the_nose_of_a_saw_that_hangs_so_points_at_its_mark() {
        let gauge = gauge();
        for deg in [-5.0, 0.0, 12.5, 33.0, 80.0] {
            let hang = Angle::from_deg(deg);
            let turned = Affine::rotate_about(-hang.as_rad(), gauge.grip) * Point::new(690.0, 0.0);
            assert!((gauge.at(hang, 0.0) - turned).hypot() < 1e-9, "the mark itself is the nose");
            let beyond = gauge.at(hang, 70.0);
            assert!(((beyond - turned).hypot() - 70.0).abs() < 1e-9, "and lies behind it");
            assert!((gauge.hang_at(beyond).as_deg() - deg).abs() < 1e-9, "and is read back");
        }
    }

    #[test]
    fn the_bands_cover_the_scale_without_gap() {
        let wide =
            HangGauge::new(Point::ORIGIN, Point::new(700.0, -100.0), [-20.0, 50.0].map(Angle::from_deg));
        let bands: Vec<_> = wide.bands().collect();
        assert_eq!(bands.len(), 5);
        assert!(bands.windows(2).all(|pair| (pair[0].2 - pair[1].1).abs() < 1e-12));
        assert!((bands[0].1 + 25.0).abs() < 1e-12 && (bands[4].2 - 55.0).abs() < 1e-12);
        for (feel, from, to) in bands {
            assert_eq!(Feel::of(Angle::from_deg(0.5 * (from + to))), feel);
        }
    }

    #[test]
    fn law_no_two_texts_at_the_arc_meet_wherever_hang_and_limit_lie() {
        for hang in -10..60 {
            for limit in [5, 20, 29, 30, 31, 45, 60] {
                let angles = [hang, limit].map(|deg| Angle::from_deg(f64::from(deg)));
                let gauge = HangGauge::new(Point::new(-30.0, 115.0), Point::new(690.0, 0.0), angles);
                let mut scene = Scene::new(0.6);
                let reading = HangReading {
                    hang: angles[0],
                    give_or_take: Some(Angle::from_deg(6.0)),
                    words: "hangs so",
                    limit: Some((angles[1], "my limit")),
                };
                gauge.draw(&mut scene, &reading);
                let mut heights: Vec<f64> = scene
                    .items()
                    .iter()
                    .filter_map(|item| match item {
                        crate::draw::strokes::Item::Text(label) => Some(label.at.y),
                        _ => None,
                    })
                    .collect();
                heights.sort_by(f64::total_cmp);
                let near = heights.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::MAX, f64::min);
                assert!(near >= scene.pt(TEXT_APART_PT) - 1e-9, "hang {hang}, limit {limit}: {near} mm");
            }
        }
    }
}
