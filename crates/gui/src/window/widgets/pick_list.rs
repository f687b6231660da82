//! A list to pick from that keys go through as in any other program: Enter opens it on what is picked and closes it again,
//! Escape leaves it as it was, Up and Down take the last and the next whether it is open or not.

use egui::{Button, ComboBox, EventFilter, Id, Key, Modifiers, Response, Ui};

/// One line of a list.
#[derive(Clone, Debug)]
pub struct Choice {
    text: String,
    is_picked: bool,
    refusal: Option<String>,
}

impl Choice {
    /// A line that can be picked.
    pub fn new(text: impl Into<String>, is_picked: bool) -> Self {
        Self { text: text.into(), is_picked, refusal: None }
    }

    /// The same line with the reason why it cannot be picked, if there is one.
    #[must_use]
    pub fn refused(self, refusal: Option<String>) -> Self {
        Self { refusal, ..self }
    }
}

/// Shows the list; tells the place of a line that was picked anew.
pub fn pick_list(
    ui: &mut Ui,
    combo: ComboBox<'_>,
    choices: impl IntoIterator<Item = Choice>,
) -> (Response, Option<usize>) {
    let choices: Vec<Choice> = choices.into_iter().collect();
    let mut outcome = None;
    let shown = combo.show_ui(ui, |ui| {
        let first_pass = opened_now(ui);
        outcome = lines_ui(ui, &choices, first_pass);
    });
    let is_open = shown.inner.is_some();
    let response = shown.response;
    let picked = match outcome {
        Some(outcome) => {
            response.request_focus();
            outcome
        }
        None if is_open => None,
        None => stepped(ui, &response, &choices),
    };
    let place = choices.iter().position(|choice| choice.is_picked);
    ui.ctx().accesskit_node_builder(response.id, |node| {
        node.set_size_of_set(choices.len());
        if let Some(place) = place {
            node.set_position_in_set(place + 1);
        }
    });
    (response, picked.filter(|index| Some(*index) != place))
}

/// True in the first pass in which a list is open.
fn opened_now(ui: &Ui) -> bool {
    let (id, now) = (ui.scope_id().with("open list"), ui.ctx().cumulative_pass_nr());
    let last: Option<u64> = ui.data(|data| data.get_temp(id));
    ui.data_mut(|data| data.insert_temp(id, now));
    last.is_none_or(|last| last + 1 < now)
}

/// The open list. It is over once a line is picked (`Some(Some(…))`) or left (`Some(None)`).
fn lines_ui(ui: &mut Ui, choices: &[Choice], first_pass: bool) -> Option<Option<usize>> {
    let mut outcome = None;
    let mut ids: Vec<(usize, Id)> = Vec::new();
    let mut focused = None;
    for (index, choice) in choices.iter().enumerate() {
        let button = Button::selectable(choice.is_picked, &choice.text);
        let mut line = ui.add_enabled(choice.refusal.is_none(), button);
        ui.ctx().accesskit_node_builder(line.id, |node| {
            node.set_position_in_set(index + 1);
            node.set_size_of_set(choices.len());
        });
        if let Some(refusal) = &choice.refusal {
            line = line.on_disabled_hover_text(refusal);
        } else {
            ids.push((index, line.id));
        }
        if line.has_focus() {
            focused = Some(index);
            line.scroll_to_me(None);
        }
        if first_pass && choice.is_picked {
            line.request_focus();
        }
        if line.clicked() {
            outcome = Some(Some(index));
        }
    }
    if first_pass
        && !choices.iter().any(|choice| choice.is_picked)
        && let Some((_, id)) = ids.first()
    {
        ui.memory_mut(|memory| memory.request_focus(*id));
    }
    if let Some(now) = focused {
        if let Some((_, id)) = ids.iter().find(|(index, _)| *index == now) {
            let keys = EventFilter { vertical_arrows: true, escape: true, ..EventFilter::default() };
            ui.memory_mut(|memory| memory.set_focus_lock_filter(*id, keys));
        }
        let next = match step(ui) {
            steps if steps > 0 => ids.iter().find(|(index, _)| *index > now),
            steps if steps < 0 => ids.iter().rev().find(|(index, _)| *index < now),
            _ => None,
        };
        if let Some((_, id)) = next {
            ui.memory_mut(|memory| memory.request_focus(*id));
        }
    }
    if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
        outcome = Some(None);
    }
    if outcome.is_some() {
        ui.close();
    }
    outcome
}

/// Up and Down on the closed list.
fn stepped(ui: &Ui, response: &Response, choices: &[Choice]) -> Option<usize> {
    if !response.has_focus() {
        return None;
    }
    let keys = EventFilter { vertical_arrows: true, ..EventFilter::default() };
    ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, keys));
    let now = choices.iter().position(|choice| choice.is_picked);
    let mut open =
        choices.iter().enumerate().filter(|(_, choice)| choice.refusal.is_none()).map(|(at, _)| at);
    match step(ui) {
        steps if steps > 0 => open.find(|index| now.is_none_or(|now| *index > now)),
        steps if steps < 0 => open.rfind(|index| now.is_some_and(|now| *index < now)),
        _ => None,
    }
}

/// So many lines down: the Down keys less the Up keys of this pass.
fn step(ui: &Ui) -> i32 {
    ui.input_mut(|input| {
        let downs = input.count_and_consume_key(Modifiers::NONE, Key::ArrowDown);
        let ups = input.count_and_consume_key(Modifiers::NONE, Key::ArrowUp);
        i32::try_from(downs).unwrap_or(0) - i32::try_from(ups).unwrap_or(0)
    })
}
