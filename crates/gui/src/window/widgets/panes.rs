//! The panes of the window, which F6 goes through: each says where it is in every pass, and the keys go to the first thing
//! in it that takes them.

use egui::{Context, Id, LayerId, Rect, Ui};

/// A pane of a pass.
#[derive(Clone, Copy, Debug)]
struct Pane {
    rect: Rect,
    layer: LayerId,
    is_main: bool,
}

/// The panes of a pass, in the order in which they were shown.
#[derive(Clone, Debug, Default)]
struct Panes {
    pass: u64,
    panes: Vec<Pane>,
}

fn id() -> Id {
    Id::unique("panes")
}

/// Says that a pane of the window lies here: what is left of a ui.
pub fn pane(ui: &Ui) {
    say(ui, false);
}

/// The same of the pane of a room in which one is when one comes into it.
pub fn main_pane(ui: &Ui) {
    say(ui, true);
}

fn say(ui: &Ui, is_main: bool) {
    let pass = ui.ctx().cumulative_pass_nr();
    let pane = Pane {
        rect: ui.available_rect_before_wrap().intersect(ui.clip_rect()),
        layer: ui.layer_id(),
        is_main,
    };
    ui.data_mut(|data| {
        let said: &mut Panes = data.get_temp_mut_or_default(id());
        if said.pass != pass {
            *said = Panes { pass, panes: Vec::new() };
        }
        said.panes.push(pane);
    });
}

/// Takes the keyboard to the next pane of this pass that has something for it, or to the one before.
pub fn go_to_pane(ctx: &Context, forward: bool) {
    let panes = in_order(ctx);
    let count = panes.len();
    let focused = ctx.memory(|memory| memory.focused()).and_then(|id| ctx.read_response(id));
    let now = focused.and_then(|focused| {
        let at = focused.rect.center();
        let holding = panes.iter().enumerate().filter(|(_, pane)| pane.rect.contains(at));
        holding.min_by(|a, b| a.1.rect.area().total_cmp(&b.1.rect.area())).map(|(index, _)| index)
    });
    for step in 1..=count {
        let index = match (now, forward) {
            (Some(now), true) => (now + step) % count,
            (Some(now), false) => (now + count - step % count) % count,
            (None, true) => step - 1,
            (None, false) => count - step,
        };
        if panes.get(index).is_some_and(|pane| focus_first(ctx, pane, &panes)) {
            return;
        }
    }
}

/// Takes the keyboard into the room that was just shown.
pub fn go_to_main_pane(ctx: &Context) {
    let panes = in_order(ctx);
    if let Some(pane) = panes.iter().find(|pane| pane.is_main) {
        focus_first(ctx, pane, &panes);
    }
}

/// The panes as one reads them: from the top of the window in columns from the left.
fn in_order(ctx: &Context) -> Vec<Pane> {
    let said: Panes = ctx.data(|data| data.get_temp(id())).unwrap_or_default();
    let mut panes = said.panes;
    panes.retain(|pane| pane.rect.is_positive());
    let window = ctx.content_rect();
    let band = |pane: &Pane| {
        // What goes across the window stands over or under all columns.
        let across = pane.rect.width() > 0.9 * window.width();
        if across && pane.rect.top() > window.center().y { 2 } else { i32::from(!across) }
    };
    panes.sort_by(|a, b| {
        let places = |pane: &Pane| (pane.rect.left(), pane.rect.top());
        band(a)
            .cmp(&band(b))
            .then(places(a).0.total_cmp(&places(b).0))
            .then(places(a).1.total_cmp(&places(b).1))
    });
    panes
}

/// Gives the keyboard to the first thing in a pane, and in no smaller pane within it, that takes it.
fn focus_first(ctx: &Context, pane: &Pane, panes: &[Pane]) -> bool {
    let within =
        panes.iter().filter(|other| other.rect.area() < pane.rect.area() && other.layer == pane.layer);
    let smaller: Vec<Rect> = within.map(|other| other.rect).collect();
    let first = ctx.viewport(|viewport| {
        let widgets = viewport.this_pass.widgets.get_layer(pane.layer);
        let mut takes = widgets.filter(|widget| {
            let at = widget.rect.center();
            widget.enabled
                && widget.sense.is_focusable()
                && pane.rect.expand(1.0).contains(at)
                && !smaller.iter().any(|rect| rect.contains(at))
        });
        takes.next().map(|widget| widget.id)
    });
    if let Some(id) = first {
        ctx.memory_mut(|memory| memory.request_focus(id));
        ctx.request_repaint();
    }
    first.is_some()
}
