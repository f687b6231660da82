//! The real window: opening it, and saying in one line why it cannot be.

use crate::desk::document::{Document, OpenError};
use crate::desk::recovery::keep_on_panic;
use crate::window::app::{App, OWN_FOLDER};
use std::fmt;
use std::path::Path;

/// Why there is no window.
#[derive(Debug)]
pub enum WindowError {
    /// The yard was refused.
    Open(OpenError),
    /// There is no display to open a window on.
    NoDisplay,
    /// The system would not make the window.
    System(String),
}

impl fmt::Display for WindowError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Open(error) => error.fmt(f),
            Self::NoDisplay => write!(
                f,
                "no display: neither DISPLAY nor WAYLAND_DISPLAY is set; `barpoise figures` works without one"
            ),
            Self::System(reason) => write!(f, "the window could not be opened: {reason}"),
        }
    }
}

impl std::error::Error for WindowError {}

/// Opens the window on a yard, or on the demo where there is none, and returns when it is closed. A file that is refused is
/// told of in the window; a lesson opens in its room.
///
/// # Errors
/// Where the system gives no window; without a display, where the yard is refused.
pub fn open(path: Option<&Path>) -> Result<(), WindowError> {
    let given = path.map(|path| (path.to_owned(), Document::open(path)));
    if cfg!(target_os = "linux") && !has_display() {
        // Without a window a fault of the file is told where the program was called.
        return Err(match given {
            Some((_, Err(error))) => WindowError::Open(error),
            _ => WindowError::NoDisplay,
        });
    }
    let (document, refused) = match given {
        Some((_, Ok(document))) => (document, None),
        Some((path, Err(_))) => (Document::demo().map_err(WindowError::Open)?, Some(path)),
        None => (Document::demo().map_err(WindowError::Open)?, None),
    };
    keep_on_panic();
    let mut viewport = egui::ViewportBuilder::default()
        .with_title("Barpoise")
        .with_app_id("barpoise")
        .with_inner_size([1280.0, 800.0])
        .with_min_inner_size([1000.0, 660.0]);
    if let Some(icon) = icon() {
        viewport = viewport.with_icon(icon);
    }
    let options = eframe::NativeOptions {
        viewport,
        renderer: eframe::Renderer::Glow,
        // For names in scripts that the bundled typeface lacks.
        system_font_fallback: true,
        ..eframe::NativeOptions::default()
    };
    let start = |creation: &eframe::CreationContext<'_>| {
        let mut app = App::start(creation, document);
        if let Some(path) = refused {
            app.open_given(&path, &creation.egui_ctx);
        }
        app
    };
    eframe::run_native(OWN_FOLDER, options, Box::new(|creation| Ok(Box::new(start(creation)))))
        .map_err(|error| WindowError::System(one_line(&error.to_string())))
}

/// The icon of the window; `None` only where the built-in picture were broken, which a test rules out.
pub fn icon() -> Option<egui::IconData> {
    eframe::icon_data::from_png_bytes(include_bytes!("../../packaging/icons/barpoise-128.png")).ok()
}

fn has_display() -> bool {
    ["DISPLAY", "WAYLAND_DISPLAY"]
        .iter()
        .any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}

/// What a library says in many lines, with paths of the machine it was built on, as its first line alone.
fn one_line(text: &str) -> String {
    const LONGEST: usize = 160;
    let line = text.lines().next().unwrap_or_default();
    let line = line.split("src/").next().unwrap_or(line);
    let hint = if std::env::var_os("WAYLAND_DISPLAY").is_some() {
        " (WAYLAND_DISPLAY is set; if no such display runs, unset it)"
    } else {
        ""
    };
    format!("{}{hint}", line.chars().take(LONGEST).collect::<String>())
}
