//! Every command of the window, once: its name, its keys, its menu. The keys, the menus and the sheet of keys all
//! read this table, so they cannot disagree.

use crate::window::view_state::Room;
use egui::{Key, KeyboardShortcut, Modifiers};

/// Something a person can ask of the window from anywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Command {
    /// The page on which a new yard is made.
    NewYard,
    /// A yard from a file.
    Open,
    /// The yard to its file.
    Save,
    /// The yard to another file.
    SaveAs,
    /// A picture that moves, as a file.
    MovingPicture,
    /// The yard as its file has it.
    Revert,
    /// The demo.
    Demo,
    /// What lost windows left.
    Left,
    /// No more window.
    Close,
    /// One step back.
    Undo,
    /// One step forward again.
    Redo,
    /// Go to a room.
    Go(Room),
    /// The keyboard to the next pane.
    NextPane,
    /// The keyboard to the pane before.
    LastPane,
    /// Millimetres and kilograms, or inches and pounds.
    Units,
    /// Light paper or dark.
    Paper,
    /// Larger.
    ZoomIn,
    /// Smaller.
    ZoomOut,
    /// Neither.
    ZoomOff,
    /// The sheet of keys.
    Keys,
    /// Where all assumed numbers come from.
    Sources,
}

/// A menu of the window's head.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Menu {
    /// Yards and their files.
    Yard,
    /// Steps.
    Edit,
    /// Rooms, units, paper, zoom.
    View,
}

impl Menu {
    /// Every menu in the order of the head.
    pub const ALL: [Self; 3] = [Self::Yard, Self::Edit, Self::View];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Yard => "Yard",
            Self::Edit => "Edit",
            Self::View => "View",
        }
    }
}

const NONE: Modifiers = Modifiers::NONE;
const CTRL: Modifiers = Modifiers::COMMAND;
const CTRL_SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);

const fn key(modifiers: Modifiers, key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(modifiers, key)
}

/// The keys of the rooms, in their order.
const NUMBERS: [Key; 9] =
    [Key::Num1, Key::Num2, Key::Num3, Key::Num4, Key::Num5, Key::Num6, Key::Num7, Key::Num8, Key::Num9];

impl Command {
    /// Every command, in the order of the menus.
    pub fn all() -> impl Iterator<Item = Self> {
        use Command as C;
        let yard = [
            C::NewYard,
            C::Open,
            C::Save,
            C::SaveAs,
            C::MovingPicture,
            C::Revert,
            C::Demo,
            C::Left,
            C::Close,
        ];
        let view = [
            C::NextPane,
            C::LastPane,
            C::Units,
            C::Paper,
            C::ZoomIn,
            C::ZoomOut,
            C::ZoomOff,
            C::Keys,
            C::Sources,
        ];
        let rooms = Room::ALL.into_iter().map(C::Go);
        yard.into_iter().chain([C::Undo, C::Redo]).chain(rooms).chain(view)
    }

    /// Its name in menus and on the sheet. `…` where more is asked first.
    pub const fn name(self) -> &'static str {
        match self {
            Self::NewYard => "New yard…",
            Self::Open => "Open…",
            Self::Save => "Save",
            Self::SaveAs => "Save as…",
            Self::MovingPicture => "Moving picture…",
            Self::Revert => "Revert to the file",
            Self::Demo => "Demo yard",
            Self::Left => "Recover unsaved work…",
            Self::Close => "Close",
            Self::Undo => "Undo",
            Self::Redo => "Redo",
            Self::Go(room) => room.name(),
            Self::NextPane => "Next pane",
            Self::LastPane => "Pane before",
            Self::Units => "Metric or inches and pounds",
            Self::Paper => "Light or dark",
            Self::ZoomIn => "Larger",
            Self::ZoomOut => "Smaller",
            Self::ZoomOff => "Normal size",
            Self::Keys => "Keys…",
            Self::Sources => "Where the numbers come from…",
        }
    }

    /// The menu it is in.
    pub const fn menu(self) -> Menu {
        match self {
            Self::NewYard
            | Self::Open
            | Self::Save
            | Self::SaveAs
            | Self::MovingPicture
            | Self::Revert
            | Self::Demo
            | Self::Left
            | Self::Close => Menu::Yard,
            Self::Undo | Self::Redo => Menu::Edit,
            Self::Go(_)
            | Self::NextPane
            | Self::LastPane
            | Self::Units
            | Self::Paper
            | Self::ZoomIn
            | Self::ZoomOut
            | Self::ZoomOff
            | Self::Keys
            | Self::Sources => Menu::View,
        }
    }

    /// Its keys; menus and sheet show the first. None is one that edits a text in a field, as Ctrl+U and Ctrl+W do.
    pub fn keys(self) -> Vec<KeyboardShortcut> {
        match self {
            Self::NewYard => vec![key(CTRL, Key::N)],
            Self::Open => vec![key(CTRL, Key::O)],
            Self::Save => vec![key(CTRL, Key::S)],
            Self::SaveAs => vec![key(CTRL_SHIFT, Key::S)],
            Self::MovingPicture => vec![key(CTRL_SHIFT, Key::M)],
            Self::Revert => vec![key(NONE, Key::F5)],
            Self::Demo => vec![key(CTRL_SHIFT, Key::D)],
            Self::Left => vec![key(CTRL_SHIFT, Key::O)],
            Self::Close => vec![key(CTRL, Key::Q)],
            Self::Undo => vec![key(CTRL, Key::Z)],
            Self::Redo => vec![key(CTRL_SHIFT, Key::Z), key(CTRL, Key::Y)],
            Self::Go(room) => {
                let place = Room::ALL.into_iter().position(|other| other == room);
                let number = place.and_then(|place| NUMBERS.get(place));
                number.into_iter().map(|number| key(CTRL, *number)).collect()
            }
            Self::NextPane => vec![key(NONE, Key::F6)],
            Self::LastPane => vec![key(Modifiers::SHIFT, Key::F6)],
            Self::Units => vec![key(CTRL, Key::M)],
            Self::Paper => vec![key(CTRL, Key::D)],
            Self::ZoomIn => vec![key(CTRL, Key::Plus), key(CTRL, Key::Equals)],
            Self::ZoomOut => vec![key(CTRL, Key::Minus)],
            Self::ZoomOff => vec![key(CTRL, Key::Num0)],
            Self::Keys => vec![key(NONE, Key::F1), key(CTRL, Key::Slash)],
            Self::Sources => vec![key(NONE, Key::F2)],
        }
    }

    /// True where it changes nothing but how the window looks.
    pub(super) const fn only_looks(self) -> bool {
        matches!(self, Self::ZoomIn | Self::ZoomOut | Self::ZoomOff | Self::Paper)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_command_has_keys_of_its_own() {
        let mut taken: Vec<(KeyboardShortcut, Command)> = Vec::new();
        for command in Command::all() {
            assert!(!command.keys().is_empty(), "{command:?} has no key");
            for keys in command.keys() {
                let other = taken.iter().find(|(other, _)| *other == keys);
                assert!(other.is_none(), "{command:?} and {other:?} share {keys:?}");
                taken.push((keys, command));
            }
        }
    }

    #[test]
    fn every_room_and_no_command_twice() {
        let all: Vec<Command> = Command::all().collect();
        for room in Room::ALL {
            assert_eq!(all.iter().filter(|command| **command == Command::Go(room)).count(), 1);
        }
        for (place, command) in all.iter().enumerate() {
            assert_eq!(all.iter().position(|other| other == command), Some(place));
        }
    }
}
