//! The picture with its marks: set by a click, moved by drag and keys under a magnifier.

use super::marking;
use crate::desk::edit::Gesture;
use crate::draw::theme::{self, Ink, Paper};
use crate::window::view_state::{PhotographView, Picture};
use crate::window::widgets::{Handle, Moved, Scale, Steps};
use barpoise_core::ranges::PIXEL;
use barpoise_core::record::{Landmark, PhotographFile, PixelFile};
use egui::{
    Align2, Color32, Id, Key, Modifiers, Pos2, Rect, Response, Role, Sense, Stroke, Ui, Vec2, WidgetInfo,
};

/// Side of the magnifier, points, and how far it stands from the pointer.
const MAGNIFIER: f32 = 150.0;
const BESIDE: f32 = 26.0;
/// How many points of the magnifier a pixel of the photograph has.
const MAGNIFIED: f32 = 6.0;
/// A large step with the keys, pixels.
const LARGE: f64 = 10.0;
/// How near one can look, times the whole picture.
const MOST_ZOOM: f32 = 40.0;

/// Where pixels of the photograph lie on the screen.
#[derive(Clone, Copy)]
struct Place {
    rect: Rect,
    points_per_px: f32,
}

impl Place {
    fn new(room: Rect, picture: &Picture, page: &PhotographView) -> Self {
        let [width, height] = picture.size.map(points);
        let fit = (room.width() / width).min(room.height() / height);
        let points_per_px = fit * page.zoom;
        let rect =
            Rect::from_center_size(room.center() + page.moved, Vec2::new(width, height) * points_per_px);
        Self { rect, points_per_px }
    }

    fn at(&self, pixel: PixelFile) -> Pos2 {
        #[expect(clippy::cast_possible_truncation, reason = "onto the screen")]
        let pixel = Vec2::new(pixel.x_px as f32, pixel.y_px as f32);
        self.rect.min + pixel * self.points_per_px
    }

    fn pixel(&self, at: Pos2) -> PixelFile {
        let from = (at - self.rect.min) / self.points_per_px;
        let tenth = |of: f32| (f64::from(of) * 10.0).round() / 10.0;
        PixelFile { x_px: tenth(from.x), y_px: tenth(from.y) }
    }
}

#[expect(clippy::cast_precision_loss, reason = "sides of pictures are below 2^24")]
const fn points(side: u32) -> f32 {
    side as f32
}

/// Shows it; gives the gesture of what was changed.
pub(super) fn canvas_ui(
    ui: &mut Ui,
    paper: Paper,
    page: &mut PhotographView,
    picture: &Picture,
    file: &mut PhotographFile,
) -> Gesture {
    let (room, response) = ui.allocate_exact_size(ui.available_size(), Sense::click_and_drag());
    let spoken = format!("Photograph of {}", page.head.name);
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, &spoken));
    look(ui, &response, page);
    let place = Place::new(room, picture, page);
    let painter = ui.painter_at(room);
    let whole = Rect::from_min_max(Pos2::ZERO, Pos2::new(1.0, 1.0));
    painter.image(picture.texture.id(), place.rect, whole, Color32::WHITE);
    let next = marking(page, file);
    if response.clicked()
        && let (Some(landmark), Some(at)) = (next, response.interact_pointer_pos())
        && place.rect.contains(at)
    {
        add(page, file, landmark, place.pixel(at));
    }
    lines(ui, room, paper, place, file);
    let mut gesture = Gesture::Single;
    let mut looked_at = response.hover_pos().filter(|at| next.is_some() && place.rect.contains(*at));
    let square_up = file.square_up;
    for landmark in Landmark::ALL.into_iter().filter(|landmark| landmark.is_asked(&square_up)) {
        for index in 0..file.marks_of(landmark).len() {
            let Some(pixel) = file.marks_of(landmark).get(index).copied() else { continue };
            let at = place.at(pixel);
            if !room.contains(at) {
                continue;
            }
            let (moved, response, how) = mark_ui(ui, room, paper, landmark, index, pixel, at);
            if response.dragged() || response.has_focus() {
                looked_at = Some(at);
            }
            if let Some(how) = how {
                let mut marks = file.marks_of(landmark).to_vec();
                match moved {
                    Some(Change::Gone) => drop(marks.remove(index)),
                    Some(Change::To(pos)) => {
                        if let Some(mark) = marks.get_mut(index) {
                            *mark = place.pixel(pos);
                        }
                    }
                    Some(Change::By(by)) => {
                        if let Some(mark) = marks.get_mut(index) {
                            (mark.x_px, mark.y_px) = (mark.x_px + by.0, mark.y_px + by.1);
                        }
                    }
                    None => {}
                }
                file.set_marks(landmark, marks);
                gesture = how;
            }
        }
    }
    if let Some(at) = looked_at {
        magnifier(ui, room, paper, place, picture, at);
    }
    gesture
}

/// Nearer with the wheel at the pointer; moved by a drag beside the marks.
fn look(ui: &Ui, response: &Response, page: &mut PhotographView) {
    if response.dragged() {
        page.moved += response.drag_delta();
    }
    let Some(at) = response.hover_pos() else { return };
    let (scroll, pinch) = ui.input(|input| (input.smooth_scroll_delta().y, input.zoom_delta()));
    let factor = pinch * (scroll / 300.0).exp();
    let zoom = (page.zoom * factor).clamp(1.0, MOST_ZOOM);
    let factor = zoom / page.zoom;
    let from_middle = at - response.rect.center();
    page.moved = from_middle + (page.moved - from_middle) * factor;
    page.zoom = zoom;
    if (page.zoom - 1.0).abs() < f32::EPSILON && !response.dragged() {
        page.moved = Vec2::ZERO;
    }
}

fn add(page: &mut PhotographView, file: &mut PhotographFile, landmark: Landmark, at: PixelFile) {
    let mut marks = file.marks_of(landmark).to_vec();
    if marks.len() >= *landmark.counts().end() {
        return;
    }
    marks.push(at);
    // What takes a fixed number of points is done then; the rest goes on until another is picked.
    let done = marks.len() == *landmark.counts().end();
    page.marking = (!done).then_some(landmark);
    file.set_marks(landmark, marks);
}

/// How a mark is changed.
enum Change {
    To(Pos2),
    By((f64, f64)),
    Gone,
}

fn mark_ui(
    ui: &mut Ui,
    room: Rect,
    paper: Paper,
    landmark: Landmark,
    index: usize,
    pixel: PixelFile,
    at: Pos2,
) -> (Option<Change>, Response, Option<Gesture>) {
    let name = format!("Mark {} of {}, pixels from the left", index + 1, landmark.words());
    let id = Id::unique(("photograph mark", landmark.words(), index));
    let handle = Handle {
        id,
        at,
        name: &name,
        value: pixel.x_px,
        scale: Scale::new(PIXEL.min, PIXEL.max, 1.0),
        steps: Steps::Across,
    };
    let (response, moved) = handle.show(ui);
    let stepped = |small: i32, large: i32| f64::from(small) + LARGE * f64::from(large);
    let mut change = match moved {
        Some(Moved::To(pos, gesture)) => Some((Change::To(pos), gesture)),
        Some(Moved::By { small, large }) => Some((Change::By((stepped(small, large), 0.0)), Gesture::Single)),
        Some(Moved::Set(x)) => Some((Change::By((x - pixel.x_px, 0.0)), Gesture::Single)),
        Some(Moved::Mark(_)) | None => None,
    };
    if response.has_focus() && change.is_none() {
        change = keys(ui).map(|change| (change, Gesture::Single));
    }
    paint_mark(ui, room, paper, &response, at, index);
    match change {
        Some((change, gesture)) => (Some(change), response, Some(gesture)),
        None => (None, response, None),
    }
}

/// Up and down, which the handle leaves, and away.
fn keys(ui: &Ui) -> Option<Change> {
    ui.input_mut(|input| {
        if input.consume_key(Modifiers::NONE, Key::Delete) {
            return Some(Change::Gone);
        }
        let mut down = 0.0;
        for (key, sign) in [(Key::ArrowDown, 1.0), (Key::ArrowUp, -1.0)] {
            for (modifiers, step) in [(Modifiers::SHIFT, LARGE), (Modifiers::NONE, 1.0)] {
                if input.consume_key(modifiers, key) {
                    down += sign * step;
                }
            }
        }
        (down != 0.0).then_some(Change::By((0.0, down)))
    })
}

/// A cross in a ring: light under dark, so that it is seen on any picture.
fn paint_mark(ui: &Ui, room: Rect, paper: Paper, response: &Response, at: Pos2, index: usize) {
    let painter = ui.painter_at(room);
    let grabbed = response.hovered() || response.dragged() || response.has_focus();
    let radius = if grabbed { 9.0 } else { 7.0 };
    for (width, color) in [(4.0, Color32::WHITE), (2.0, paper_ours(paper))] {
        let stroke = Stroke::new(width, color);
        painter.circle_stroke(at, radius, stroke);
        if !grabbed {
            painter.line_segment([at - Vec2::X * 3.0, at + Vec2::X * 3.0], stroke);
            painter.line_segment([at - Vec2::Y * 3.0, at + Vec2::Y * 3.0], stroke);
        }
    }
    if response.has_focus() {
        painter.circle_stroke(at, radius + 4.0, Stroke::new(2.0, Color32::WHITE));
    }
    if index == 0 {
        return;
    }
    let corner = at + Vec2::new(9.0, -9.0);
    painter.text(
        corner + Vec2::splat(1.0),
        Align2::LEFT_BOTTOM,
        (index + 1).to_string(),
        theme::body(),
        Color32::WHITE,
    );
    painter.text(corner, Align2::LEFT_BOTTOM, (index + 1).to_string(), theme::body(), paper_ours(paper));
}

fn paper_ours(paper: Paper) -> Color32 {
    paper.color(Ink::Ours)
}

/// The marks of what has a line, joined.
fn lines(ui: &Ui, room: Rect, paper: Paper, place: Place, file: &PhotographFile) {
    let painter = ui.painter_at(room);
    let square_up = file.square_up;
    for landmark in Landmark::ALL.into_iter().filter(|landmark| landmark.is_asked(&square_up)) {
        let mut at: Vec<Pos2> = file.marks_of(landmark).iter().map(|pixel| place.at(*pixel)).collect();
        if landmark == Landmark::SpikeTips || at.len() < 2 {
            continue;
        }
        if landmark.is_closed() && at.len() > 2 {
            at.extend(at.first().copied());
        }
        for (width, color) in [(3.5, Color32::WHITE), (1.6, paper_ours(paper))] {
            painter.line(at.clone(), Stroke::new(width, color));
        }
    }
}

/// What lies under the pointer, large, beside it.
fn magnifier(ui: &Ui, room: Rect, paper: Paper, place: Place, picture: &Picture, at: Pos2) {
    let right = at.x + BESIDE + MAGNIFIER < room.right();
    let below = at.y - BESIDE - MAGNIFIER < room.top();
    let x = if right { at.x + BESIDE } else { at.x - BESIDE - MAGNIFIER };
    let y = if below { at.y + BESIDE } else { at.y - BESIDE - MAGNIFIER };
    let shown = Rect::from_min_size(Pos2::new(x, y), Vec2::splat(MAGNIFIER));
    let points_per_px = MAGNIFIED.max(1.5 * place.points_per_px);
    let middle = (at - place.rect.min) / place.rect.size();
    let half = Vec2::splat(0.5 * MAGNIFIER / points_per_px)
        / Vec2::new(points(picture.size[0]), points(picture.size[1]));
    let part = Rect::from_min_max((middle - half).to_pos2(), (middle + half).to_pos2());
    let painter = ui.painter_at(room);
    painter.rect_filled(shown, 4.0, paper.color(Ink::Paper));
    painter.image(picture.texture.id(), shown, part, Color32::WHITE);
    let cross = shown.center();
    for (width, color) in [(3.0, Color32::WHITE), (1.0, Color32::BLACK)] {
        let stroke = Stroke::new(width, color);
        for way in [Vec2::X, -Vec2::X, Vec2::Y, -Vec2::Y] {
            painter.line_segment([cross + way * 5.0, cross + way * 22.0], stroke);
        }
    }
    painter.rect_stroke(shown, 4.0, Stroke::new(2.0, paper.color(Ink::Line)), egui::StrokeKind::Inside);
}
