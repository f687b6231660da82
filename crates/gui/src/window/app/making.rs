//! Moving pictures made for a file: on a thread of their own, for they take seconds.

use super::{App, Notice};
use crate::draw::pictures::Moving;
use crate::window::files::Making;
use crate::window::view_state::Room;
use barpoise_core::file::write_whole;
use egui::Context;
use std::path::Path;
use std::sync::mpsc::{TryRecvError, channel};

/// Size of a moving picture, points: of a message on a phone.
const SIZE: egui::Vec2 = egui::vec2(800.0, 500.0);
const PIXELS: f32 = 0.8;

impl App {
    /// Begins a moving picture of what the room is about: in the room *Log* its cut, else the bar growing in the hand.
    pub(super) fn make_moving(&mut self, path: &Path, ctx: &Context) {
        if !path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("gif")) {
            let said = format!("{}: a picture that moves ends in .gif", path.display());
            self.notice = Some(Notice::warning("Not saved", said));
            return;
        }
        let (send, made) = channel();
        let (yard, units, paper) =
            (std::sync::Arc::clone(self.document.shared_yard()), self.view.units, self.view.paper);
        let setup = self.document.figures().setup().clone();
        let log = (self.view.room == Room::Log).then(|| self.document.log().clone());
        let ctx = ctx.clone();
        let work = move || {
            let moving = match &log {
                Some(log) => Moving::cut(&yard, &setup, log, units).map_err(|fault| fault.message),
                None => Ok(Moving::grow(&yard, &setup, units).or_else(|| Moving::hang(&yard, &setup, units))),
            };
            let bytes = moving
                .and_then(|moving| moving.ok_or_else(|| format!("{}: nothing of it moves", setup.name())))
                .and_then(|moving| moving.gif(SIZE, paper, PIXELS).map_err(|error| error.to_string()));
            // The window may be closed by now; then nobody waits for it.
            let _ = send.send(bytes);
            ctx.request_repaint();
        };
        match std::thread::Builder::new().name("moving picture".to_owned()).spawn(work) {
            Ok(_) => {
                let said = format!("{} is being drawn and saved in a moment", path.display());
                self.notice = Some(Notice::good("Moving picture", said));
                self.files.making = Some(Making { path: path.to_owned(), made });
            }
            Err(error) => self.notice = Some(Notice::warning("Not saved", error.to_string())),
        }
    }

    /// Writes a picture that is done.
    pub(super) fn tend_making(&mut self) {
        let Some(making) = &self.files.making else { return };
        let made = match making.made.try_recv() {
            Ok(made) => made,
            Err(TryRecvError::Empty) => return,
            Err(TryRecvError::Disconnected) => Err("it could not be drawn".to_owned()),
        };
        let path = making.path.clone();
        self.files.making = None;
        let shown = path.display();
        let written =
            made.and_then(|bytes| write_whole(&path, &bytes).map_err(|error| format!("{shown}: {error}")));
        self.notice = Some(match written {
            Ok(_) => Notice::good("Saved", shown.to_string()),
            Err(reason) => Notice::warning("Not saved", reason),
        });
    }
}
