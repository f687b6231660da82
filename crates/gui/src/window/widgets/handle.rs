//! A painted thing that can be grabbed, stepped with keys, and read aloud.

use crate::desk::edit::Gesture;
use crate::draw::theme::{Ink, Paper, size};
use egui::accesskit::Action;
use egui::{EventFilter, Id, Key, Modifiers, Pos2, Rect, Response, Sense, Stroke, Ui, Vec2, WidgetInfo};

/// A grabbable point of a drawing.
#[derive(Debug)]
pub struct Handle<'a> {
    /// Stable id.
    pub id: Id,
    /// Where it is, points.
    pub at: Pos2,
    /// What it moves, with the unit: `Bar length in millimetres`.
    pub name: &'a str,
    /// The present value in that unit.
    pub value: f64,
    /// Its ends and what an arrow key moves it by, in that unit.
    pub scale: Scale,
    /// Which way the arrow keys go.
    pub steps: Steps,
}

/// The ends of a value and its small step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scale {
    from: f64,
    to: f64,
    step: f64,
}

impl Scale {
    /// Degrees, once round either way.
    pub const ROUND: Self = Self::new(-360.0, 360.0, 1.0);

    /// From one end to the other by steps.
    pub const fn new(from: f64, to: f64, step: f64) -> Self {
        Self { from, to, step }
    }
}

/// Along which axis a handle moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Steps {
    /// Left and right.
    Across,
    /// Up and down.
    UpDown,
}

/// How a handle was moved in this pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Moved {
    /// Dragged so that its centre should be here.
    To(Pos2, Gesture),
    /// Stepped by keys: so many small and so many large steps, forward positive.
    By {
        /// Arrow keys.
        small: i32,
        /// Arrow keys with Shift.
        large: i32,
    },
    /// To the next (1) or last (−1) mark: PageUp, PageDown.
    Mark(i32),
    /// A screen reader set the value, in the unit of the name.
    Set(f64),
}

/// What a drag remembers: where on the handle it was grabbed, and which drag it is.
#[derive(Clone, Copy)]
struct Grab {
    offset: Vec2,
    gesture: Gesture,
}

fn keyboard_id() -> Id {
    Id::unique("handle with the keyboard")
}

impl Handle<'_> {
    /// Lays the handle over the drawing. Paint it afterwards, from the response.
    pub fn show(&self, ui: &mut Ui) -> (Response, Option<Moved>) {
        let rect = Rect::from_center_size(self.at, Vec2::splat(size::HIT));
        let response = ui.interact(rect, self.id, Sense::click_and_drag());
        let (name, value) = (self.name, self.value);
        response.widget_info(|| WidgetInfo::slider(true, value, name));
        ui.ctx().accesskit_node_builder(self.id, |node| {
            node.add_action(Action::Increment);
            node.add_action(Action::Decrement);
            node.add_action(Action::SetValue);
            node.set_min_numeric_value(self.scale.from);
            node.set_max_numeric_value(self.scale.to);
            node.set_numeric_value_step(self.scale.step);
            node.set_value(self.spoken());
        });
        if response.drag_started() || response.clicked() {
            response.request_focus();
        }
        if response.has_focus() {
            let pass = ui.ctx().cumulative_pass_nr();
            ui.data_mut(|data| data.insert_temp(keyboard_id(), pass));
        }
        let moved = self.dragged(ui, &response).or_else(|| self.stepped(ui, &response));
        (response, moved)
    }

    /// The value as it is told: as fine as the small step, with the unit of the name.
    fn spoken(&self) -> String {
        let unit = self.name.rsplit_once(" in ").map_or("", |(_, unit)| unit);
        let finer =
            (0..3).find(|decimals| self.scale.step >= 10.0_f64.powi(-decimals) * (1.0 - 1e-9)).unwrap_or(3);
        format!("{:.*} {unit}", usize::try_from(finer).unwrap_or(0), self.value).trim_end().to_owned()
    }

    /// True while a handle of any drawing has the keyboard: it takes the arrows and leaves the other keys.
    pub fn has_keyboard(ui: &Ui) -> bool {
        let last: Option<u64> = ui.data(|data| data.get_temp(keyboard_id()));
        let focused = ui.memory(|memory| memory.focused().is_some());
        focused && last.is_some_and(|last| last + 1 >= ui.ctx().cumulative_pass_nr())
    }

    fn dragged(&self, ui: &Ui, response: &Response) -> Option<Moved> {
        if response.drag_started() {
            let pressed = ui.input(|input| input.pointer.press_origin()).unwrap_or(self.at);
            let gesture = Gesture::Drag(ui.ctx().cumulative_pass_nr());
            ui.data_mut(|data| data.insert_temp(self.id, Grab { offset: self.at - pressed, gesture }));
        }
        if !response.dragged() {
            return None;
        }
        let grab = ui.data(|data| data.get_temp::<Grab>(self.id))?;
        Some(Moved::To(response.interact_pointer_pos()? + grab.offset, grab.gesture))
    }

    fn stepped(&self, ui: &Ui, response: &Response) -> Option<Moved> {
        let set = ui.input(|input| {
            input.accesskit_action_requests(self.id, Action::SetValue).find_map(|request| {
                match request.data {
                    Some(egui::accesskit::ActionData::NumericValue(value)) if value.is_finite() => {
                        Some(value)
                    }
                    _ => None,
                }
            })
        });
        if let Some(value) = set {
            return Some(Moved::Set(value));
        }
        let spoken = ui.input(|input| {
            let count = |action| input.num_accesskit_action_requests(self.id, action);
            i32::try_from(count(Action::Increment)).unwrap_or(0)
                - i32::try_from(count(Action::Decrement)).unwrap_or(0)
        });
        if spoken != 0 {
            return Some(Moved::By { small: spoken, large: 0 });
        }
        if !response.has_focus() {
            return None;
        }
        let filter = EventFilter { horizontal_arrows: true, vertical_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(self.id, filter));
        let (forward, back) = match self.steps {
            Steps::Across => (Key::ArrowRight, Key::ArrowLeft),
            Steps::UpDown => (Key::ArrowUp, Key::ArrowDown),
        };
        ui.input_mut(|input| {
            let mut net = |modifiers, forward, back| {
                let ups = input.count_and_consume_key(modifiers, forward);
                let downs = input.count_and_consume_key(modifiers, back);
                i32::try_from(ups).unwrap_or(0) - i32::try_from(downs).unwrap_or(0)
            };
            let large = net(Modifiers::SHIFT, forward, back);
            let small = net(Modifiers::NONE, forward, back);
            let mark = net(Modifiers::NONE, Key::PageUp, Key::PageDown);
            match (small, large, mark) {
                (0, 0, 0) => None,
                (0, 0, mark) => Some(Moved::Mark(mark)),
                (small, large, _) => Some(Moved::By { small, large }),
            }
        })
    }

    /// Paints a knob that carries a number, filled while it is the one at work.
    pub fn paint_numbered(ui: &Ui, response: &Response, paper: Paper, number: usize, at_work: bool) {
        let at = response.rect.center();
        let ours = paper.color(Ink::Ours);
        let (fill, text) =
            if at_work { (ours, paper.color(Ink::Sheet)) } else { (paper.color(Ink::Sheet), ours) };
        let grabbed = response.hovered() || response.dragged();
        ui.painter().circle(at, 12.0, fill, Stroke::new(if grabbed { 3.0 } else { 2.0 }, ours));
        let font = crate::draw::theme::strong(size::BODY);
        ui.painter().text(at, egui::Align2::CENTER_CENTER, number.to_string(), font, text);
        if response.has_focus() {
            ui.painter().circle_stroke(at, 15.5, Stroke::new(2.0, paper.color(Ink::Line)));
        }
    }

    /// Paints the usual knob: a disc with a ring, thicker when grabbed, with a second ring for focus.
    pub fn paint_knob(ui: &Ui, response: &Response, paper: Paper, arrows: Steps) {
        let at = response.rect.center();
        let painter = ui.painter();
        let grabbed = response.hovered() || response.dragged();
        let ours = paper.color(Ink::Ours);
        let radius = 9.0;
        painter.circle(
            at,
            radius,
            paper.color(Ink::Sheet),
            Stroke::new(if grabbed { 3.0 } else { 2.0 }, ours),
        );
        let (along, across) = match arrows {
            Steps::Across => (Vec2::X, Vec2::Y),
            Steps::UpDown => (Vec2::Y, Vec2::X),
        };
        for side in [-1.0, 1.0] {
            let tip = at + along * side * 6.0;
            let back = at + along * side * 2.5;
            let points = vec![back + across * 3.0, tip, back - across * 3.0];
            painter.add(egui::Shape::line(points, Stroke::new(1.6, ours)));
        }
        if response.has_focus() {
            painter.circle_stroke(at, radius + 3.5, Stroke::new(2.0, paper.color(Ink::Line)));
        }
    }
}
