//! What a view may ask of the document. Nothing else changes it.

use barpoise_core::units::{Angle, Length};

/// One change, as a person means it.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Put one of the yard's setups on the bench.
    PickSetup(String),
    /// Change the head.
    PickPowerhead(String),
    /// Change the bar to another of the rack, of any construction.
    PickBar(String),
    /// Change the chain.
    PickChain(String),
    /// Move the nose: a bar of this overall length of the same family.
    BarLength(Length),
    /// Move the nose to a rack bar of the same family.
    SnapToBar(String),
    /// Fuel, 0 empty to 1 full.
    FuelFill(f64),
    /// Bar oil, 0 empty to 1 full.
    OilFill(f64),
    /// The limit mark on the hang scale.
    HangLimit(Angle),
    /// The setup to compare with, or none.
    CompareWith(Option<String>),
    /// One step back.
    Undo,
    /// One step forward again.
    Redo,
}

impl Edit {
    /// The step's name in the menu.
    pub const fn step_name(&self) -> &'static str {
        match self {
            Self::PickSetup(_) => "pick setup",
            Self::PickPowerhead(_) => "pick powerhead",
            Self::PickBar(_) => "pick bar",
            Self::PickChain(_) => "pick chain",
            Self::BarLength(_) | Self::SnapToBar(_) => "move the nose",
            Self::FuelFill(_) => "fuel level",
            Self::OilFill(_) => "oil level",
            Self::HangLimit(_) => "hang limit",
            Self::CompareWith(_) => "compare",
            Self::Undo | Self::Redo => "",
        }
    }
}

/// Edits of one drag share a gesture, and so make one undo step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gesture {
    /// A whole change by itself: a pick, a key press, a typed value.
    Single,
    /// Part of a drag, which began at this pass of the window.
    Drag(u64),
}

/// What the views of one pass ask for, in the order in which they asked.
#[derive(Debug, Default)]
pub struct Edits {
    list: Vec<(Edit, Gesture)>,
}

impl Edits {
    /// Asks for a whole change.
    pub fn ask(&mut self, edit: Edit) {
        self.list.push((edit, Gesture::Single));
    }

    /// Asks for a change that is part of a drag.
    pub fn ask_in(&mut self, edit: Edit, gesture: Gesture) {
        self.list.push((edit, gesture));
    }

    /// Takes all that was asked.
    pub fn take(&mut self) -> Vec<(Edit, Gesture)> {
        std::mem::take(&mut self.list)
    }
}
