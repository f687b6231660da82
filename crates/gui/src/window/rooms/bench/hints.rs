//! Three hints of the first minute: the nose, the gauge, the rooms. They are closed for good.

use crate::draw::theme::{self, Ink, size};
use crate::window::view_state::ViewState;
use egui::{Align2, Frame, Label, Margin, Pos2, Rect, RichText, Stroke, Ui, UiBuilder, Vec2};

/// How far a card keeps off the drawing's edge, and no card is higher than this, in points.
const OFF: f32 = 10.0;
const HIGH: f32 = 92.0;

/// What the hints point at.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pointed {
    pub(super) nose: Pos2,
    pub(super) needle: Pos2,
}

/// A hint on its card.
struct Hint {
    words: &'static str,
    wide: f32,
    corner: Align2,
    to: Option<Pos2>,
}

/// Shows the hints over the drawing until they are closed.
pub(super) fn hints_ui(ui: &mut Ui, view: &mut ViewState, room: Rect, at: Pointed) {
    if !view.hints_shown {
        return;
    }
    let hints = [
        Hint {
            words: "1  Drag the nose: the bar grows, and every figure with it.",
            wide: 196.0,
            corner: Align2::RIGHT_TOP,
            to: Some(at.nose),
        },
        Hint {
            words: "2  The hanging saw is the needle. The flag is your own limit: drag it along.",
            wide: 210.0,
            corner: Align2::LEFT_BOTTOM,
            to: Some(at.needle),
        },
        Hint {
            words: "3  Up there: Log is a cut, Rack which bar goes on, Weigh-in your own saw.",
            wide: 340.0,
            corner: Align2::LEFT_TOP,
            to: None,
        },
    ];
    for hint in hints {
        card_ui(ui, view, room.shrink(OFF), &hint);
    }
}

/// A card with a line to what it is about; the one that points at nothing closes them all.
fn card_ui(ui: &mut Ui, view: &mut ViewState, room: Rect, hint: &Hint) {
    let ours = Stroke::new(1.5, view.paper.color(Ink::Ours));
    let mut place = hint.corner.align_size_within_rect(Vec2::new(hint.wide, HIGH), room);
    if let (Some(to), true) = (hint.to, hint.corner == Align2::LEFT_BOTTOM) {
        // Near what it points at, and out of its way.
        place = place.translate(Vec2::new((to.x - room.left() - 1.8 * hint.wide).max(0.0), 0.0));
    }
    let frame = Frame::new().fill(view.paper.color(Ink::Sheet)).stroke(ours).corner_radius(4.0);
    let mut within = ui.new_child(UiBuilder::new().max_rect(place));
    let card = frame.inner_margin(Margin::symmetric(10, 6)).show(&mut within, |ui| {
        ui.set_width(hint.wide - 22.0);
        ui.add(Label::new(RichText::new(hint.words).font(theme::strong(size::BODY))).wrap());
        if hint.to.is_none() && ui.button("Close the hints").clicked() {
            view.hints_shown = false;
        }
    });
    if let Some(to) = hint.to {
        ui.painter().line_segment([card.response.rect.clamp(to), to], ours);
    }
}
