//! A panel of a trainer's drawing, and how panels share a ground.

use crate::draw::pieces;
use crate::draw::strokes::{Canvas, Label, Pen, Scene, Side, wrapped};
use crate::draw::theme::{Ink, size};
use egui::{Pos2, Rect, pos2, vec2};
use kurbo::{Point, Vec2};

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
    let smallest =
        |placed: &[Placed]| placed.iter().map(|one| one.canvas.points_per_mm()).fold(f64::INFINITY, f64::min);
    let (beside, under) = (placed(panels, rect, enlarged, true), placed(panels, rect, enlarged, false));
    let placed = if smallest(&beside) >= smallest(&under) { beside } else { under };
    for (panel, one) in panels.iter().zip(placed) {
        let mut drawn = one.canvas.scene();
        (panel.draw)(&mut drawn);
        scene.add(drawn, page.affine().inverse() * one.canvas.affine());
        words(&mut scene, panel, &one, rect, enlarged);
    }
    (scene, page)
}

/// Where a panel lies: its cell, the lines of words at its top, and its drawing under them.
struct Placed {
    cell: Rect,
    lines: Vec<String>,
    canvas: Canvas,
}

/// Panels beside each other or under each other; all drawings begin at one height of their cells.
fn placed(panels: &[Panel<'_>], rect: Rect, enlarged: f32, beside: bool) -> Vec<Placed> {
    let cells = cells(panels.len(), rect, enlarged, beside);
    let with_lines = panels.iter().zip(cells).map(|(panel, cell)| {
        let lines = panel.lines(cell.width(), enlarged);
        (panel, cell, lines)
    });
    let with_lines: Vec<_> = with_lines.collect();
    let most = with_lines.iter().map(|(_, _, lines)| lines.len()).max().unwrap_or_default();
    let high = f32::from(u16::try_from(most).unwrap_or(1)) * size::BODY * LEADING * enlarged;
    with_lines
        .into_iter()
        .map(|(panel, cell, lines)| {
            let top = (cell.top() + high + WORDS_GAP * enlarged).min(cell.bottom() - 1.0);
            let room = Rect::from_min_max(pos2(cell.left(), top), cell.max).shrink(MARGIN * enlarged);
            let canvas = Canvas::fit(room, panel.extent).enlarged(enlarged).within(cell);
            Placed { cell, lines, canvas }
        })
        .collect()
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

/// The words centred over a panel, with a tick or a cross before them.
fn words(scene: &mut Scene, panel: &Panel<'_>, placed: &Placed, ground: Rect, enlarged: f32) {
    let Placed { cell, lines, .. } = placed;
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
        let path = pieces::through(corners.iter().map(|(x, y)| at + Vec2::new(x * r, y * r)));
        scene.stroke(path, Pen::solid(ink, 2.6));
    }
}
