//! A panel of a trainer's drawing, and how panels share a ground.

use crate::draw::strokes::{Canvas, Label, Pen, Scene, Side, wrapped};
use crate::draw::theme::{Ink, size};
use egui::{Pos2, Rect, pos2, vec2};
use kurbo::{BezPath, Point, Vec2};

/// Between two panels, and between the words of one and its drawing, in points.
const GAP: f32 = 14.0;
const WORDS_GAP: f32 = 6.0;
/// A line of words is so many times as high as its letters.
const LEADING: f32 = 1.3;
/// Room round a drawing for its lines and letters, in points.
const MARGIN: f32 = 8.0;
/// Half the size of the tick or the cross before the words, in points, and what it takes of the line.
const SIGN_PT: f64 = 6.0;
const SIGN_ROOM: f32 = 22.0;

/// Whether a panel shows what is done or what is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    /// Neither of the two.
    Plain,
    /// As it is done.
    Right,
    /// As it must not be.
    Wrong,
}

/// A drawing with words over it.
pub(super) struct Panel<'a> {
    /// What it says.
    pub(super) words: String,
    pub(super) verdict: Verdict,
    /// What it covers, mm.
    pub(super) extent: kurbo::Rect,
    /// What it draws.
    pub(super) draw: Box<dyn Fn(&mut Scene) + 'a>,
}

impl<'a> Panel<'a> {
    pub(super) fn new(words: impl Into<String>, extent: kurbo::Rect, draw: impl Fn(&mut Scene) + 'a) -> Self {
        // A number is not parted from its sign.
        let words = words.into().replace(" %", "\u{a0}%");
        Self { words, verdict: Verdict::Plain, extent, draw: Box::new(draw) }
    }

    /// As it is done.
    pub(super) fn right(self) -> Self {
        Self { verdict: Verdict::Right, ..self }
    }

    /// As it must not be.
    pub(super) fn wrong(self) -> Self {
        Self { verdict: Verdict::Wrong, ..self }
    }

    /// Its words with the verdict, for a reader that does not see it.
    pub(super) fn spoken(&self) -> String {
        match self.verdict {
            Verdict::Plain => self.words.clone(),
            Verdict::Right => format!("right: {}", self.words),
            Verdict::Wrong => format!("wrong: {}", self.words),
        }
    }

    fn lines(&self, width: f32, enlarged: f32) -> Vec<String> {
        let sign = if self.verdict == Verdict::Plain { 0.0 } else { SIGN_ROOM * enlarged };
        wrapped(&self.words, size::BODY * enlarged, true, (width - 2.0 * sign).max(1.0))
    }
}

/// Panels on a ground: in the way, beside or under each other, that leaves the smallest of them largest.
pub(super) fn laid_out(panels: &[Panel<'_>], rect: Rect, enlarged: f32) -> (Scene, Canvas) {
    let page = Canvas::at(rect, rect.min, 1.0).enlarged(enlarged);
    let mut scene = page.scene();
    let beside = cells(panels.len(), rect, enlarged, true);
    let under = cells(panels.len(), rect, enlarged, false);
    let scale = |cells: &[Rect]| {
        let scales = panels
            .iter()
            .zip(cells)
            .map(|(panel, cell)| placed(panels, panel, *cell, enlarged).0.points_per_mm());
        scales.fold(f64::INFINITY, f64::min)
    };
    let cells = if scale(&beside) >= scale(&under) { beside } else { under };
    for (panel, cell) in panels.iter().zip(&cells) {
        let (canvas, lines) = placed(panels, panel, *cell, enlarged);
        let mut drawn = canvas.scene();
        (panel.draw)(&mut drawn);
        scene.add(drawn, page.affine().inverse() * canvas.affine());
        words(&mut scene, panel, &lines, *cell, rect, enlarged);
    }
    (scene, page)
}

fn cells(count: usize, rect: Rect, enlarged: f32, beside: bool) -> Vec<Rect> {
    let many = f32::from(u16::try_from(count.max(1)).unwrap_or(1));
    let gap = GAP * enlarged;
    let share = |whole: f32| ((whole - (many - 1.0) * gap) / many).max(1.0);
    let one = if beside {
        vec2(share(rect.width()), rect.height())
    } else {
        vec2(rect.width(), share(rect.height()))
    };
    let step = if beside { vec2(one.x + gap, 0.0) } else { vec2(0.0, one.y + gap) };
    let at = |index: usize| f32::from(u16::try_from(index).unwrap_or(0)) * step;
    (0..count).map(|index| Rect::from_min_size(rect.min + at(index), one)).collect()
}

/// Where a panel's drawing lies in its cell, and the lines of words over it: all drawings begin at one height.
fn placed(panels: &[Panel<'_>], panel: &Panel<'_>, cell: Rect, enlarged: f32) -> (Canvas, Vec<String>) {
    let lines = panel.lines(cell.width(), enlarged);
    let most = panels.iter().map(|other| other.lines(cell.width(), enlarged).len()).max().unwrap_or_default();
    let high = f32::from(u16::try_from(most).unwrap_or(1)) * size::BODY * LEADING * enlarged;
    let top = (cell.top() + high + WORDS_GAP * enlarged).min(cell.bottom() - 1.0);
    let room = Rect::from_min_max(pos2(cell.left(), top), cell.max).shrink(MARGIN * enlarged);
    (Canvas::fit(room, panel.extent).enlarged(enlarged).within(cell), lines)
}

/// The words centred over a panel, with a tick or a cross before them.
fn words(scene: &mut Scene, panel: &Panel<'_>, lines: &[String], cell: Rect, ground: Rect, enlarged: f32) {
    let at = |place: Pos2| Point::new(f64::from(place.x - ground.min.x), f64::from(ground.min.y - place.y));
    let line = size::BODY * LEADING * enlarged;
    let mut y = cell.top() + 0.5 * line;
    let ink = match panel.verdict {
        Verdict::Plain => Ink::Line,
        Verdict::Right => Ink::Ours,
        Verdict::Wrong => Ink::Danger,
    };
    if let Some(first) = lines.first() {
        let half = 0.5 * crate::draw::strokes::text_width(first, size::BODY * enlarged, true);
        let sign_at = at(pos2(cell.center().x - half - 0.6 * SIGN_ROOM * enlarged, y));
        sign(scene, sign_at, panel.verdict, ink);
    }
    for text in lines {
        let label = Label::new(at(pos2(cell.center().x, y)), Side::Middle, text.clone(), ink);
        scene.label(label.strong());
        y += line;
    }
}

/// A tick or a cross: the verdict does not rest on a colour.
fn sign(scene: &mut Scene, at: Point, verdict: Verdict, ink: Ink) {
    let r = scene.pt(SIGN_PT);
    let strokes: &[[(f64, f64); 3]] = match verdict {
        Verdict::Plain => &[],
        Verdict::Right => &[[(-1.0, 0.0), (-0.3, -0.8), (1.0, 1.0)]],
        Verdict::Wrong => &[[(-0.8, -0.8), (0.0, 0.0), (0.8, 0.8)], [(-0.8, 0.8), (0.0, 0.0), (0.8, -0.8)]],
    };
    for corners in strokes {
        let mut path = BezPath::new();
        for (index, (x, y)) in corners.iter().enumerate() {
            let corner = at + Vec2::new(x * r, y * r);
            if index == 0 { path.move_to(corner) } else { path.line_to(corner) }
        }
        scene.stroke(path, Pen::solid(ink, 2.6));
    }
}
