//! Undo and redo: whole states, one for each step. A yard is shared, not copied.

use super::{Bench, Log, Rack};
use crate::desk::edit::Gesture;
use barpoise_core::Yard;
use barpoise_core::weigh_in::Choice;
use std::sync::Arc;

/// Steps kept; an old one falls off the end.
const DEPTH: usize = 500;

/// What a step takes back.
#[derive(Clone, Debug)]
pub(super) struct Snapshot {
    pub(super) bench: Bench,
    pub(super) log: Log,
    pub(super) yard: Arc<Yard>,
    pub(super) choice: Choice,
    pub(super) rack: Rack,
}

#[derive(Debug)]
struct Step {
    name: &'static str,
    gesture: Gesture,
    snapshot: Snapshot,
}

/// The steps behind and ahead.
#[derive(Debug, Default)]
pub(super) struct History {
    behind: Vec<Step>,
    ahead: Vec<Step>,
}

impl History {
    /// Notes the state before a step. Edits of one drag make one step.
    pub(super) fn record(&mut self, before: Snapshot, name: &'static str, gesture: Gesture) {
        self.ahead.clear();
        let same_drag = matches!(gesture, Gesture::Drag(_))
            && self.behind.last().is_some_and(|last| last.gesture == gesture && last.name == name);
        if same_drag {
            return;
        }
        if self.behind.len() == DEPTH {
            self.behind.remove(0);
        }
        self.behind.push(Step { name, gesture, snapshot: before });
    }

    pub(super) fn undo(&mut self, now: Snapshot) -> Option<Snapshot> {
        let step = self.behind.pop()?;
        self.ahead.push(Step { snapshot: now, ..step_like(&step) });
        Some(step.snapshot)
    }

    pub(super) fn redo(&mut self, now: Snapshot) -> Option<Snapshot> {
        let step = self.ahead.pop()?;
        self.behind.push(Step { snapshot: now, ..step_like(&step) });
        Some(step.snapshot)
    }

    pub(super) fn undo_step(&self) -> Option<&'static str> {
        self.behind.last().map(|step| step.name)
    }

    pub(super) fn redo_step(&self) -> Option<&'static str> {
        self.ahead.last().map(|step| step.name)
    }
}

/// The same step, no longer open for the rest of its drag.
fn step_like(step: &Step) -> Step {
    Step { name: step.name, gesture: Gesture::Single, snapshot: step.snapshot.clone() }
}
