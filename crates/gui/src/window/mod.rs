//! The window: its frame, its rooms, and the commands that work everywhere.

pub mod app;
pub mod commands;
mod files;
mod open;
pub mod rooms;
pub mod view_state;
pub mod widgets;

pub use app::App;
pub use open::{WindowError, icon, open};
