//! Handouts and pictures, written to a file.

use super::args_drawn::{Ground, Handout as AskedHandout, Moving as Asked, Picture as AskedPicture, View};
use super::figures::setup_named;
use super::{CliError, say_link, units_of};
use crate::desk::document::Log;
use crate::desk::today::today;
use crate::desk::words::weigh_in::counted;
use crate::draw::output::Form;
use crate::draw::pictures::{Moving, Sketch};
use crate::draw::sheet::Handout;
use crate::draw::theme::Paper;
use barpoise_core::file::{Sort, write_whole_over};
use barpoise_core::{Setup, Yard};
use std::io::Write;
use std::path::Path;

/// Writes the handout and says what it holds.
pub(super) fn handout(yard: &Yard, asked: &AskedHandout, err: &mut dyn Write) -> Result<String, CliError> {
    let form = form(&asked.output)?;
    let log = asked.log.map(|diameter| Log::round(diameter, asked.stand.stand())).transpose();
    let log = log.map_err(|fault| CliError::Cut(fault.message))?;
    let handout = Handout {
        yard,
        setups: setups(yard, &asked.setup)?,
        log: log.as_ref(),
        size: asked.paper.size(),
        units: units_of(asked.units),
        date: &today(),
        author: asked.author.as_deref().unwrap_or_default(),
    };
    let sheet = handout.sheet().map_err(|error| CliError::Drawn(error.to_string()))?;
    let bytes = sheet.written(form).map_err(|error| CliError::Drawn(error.to_string()))?;
    let output = Output { path: &asked.output, force: asked.force };
    output.write(&bytes, err)?;
    let count = counted(handout.setups.len(), "setup");
    Ok(format!("{}: {count}, drawn 1 : {}\n", asked.output.display(), sheet.scale()))
}

/// Draws a picture and says where it is.
pub(super) fn picture(yard: &Yard, asked: &AskedPicture, err: &mut dyn Write) -> Result<String, CliError> {
    if let Some(moving) = asked.moving {
        return moving_picture(yard, asked, moving, err);
    }
    let view = asked.view.unwrap_or(View::Bench);
    let form = form(&asked.output)?;
    let chosen = setups(yard, &asked.setup)?;
    let units = units_of(asked.units);
    let first = chosen.first().copied();
    let first = first.ok_or_else(|| CliError::Drawn("the yard has no setup to draw".to_owned()))?;
    let sketch = match view {
        View::Rack => Sketch::rack(&chosen, units),
        View::Bench | View::Log if asked.setup.len() > 1 => {
            return Err(CliError::Drawn("the bench and the log take one setup".to_owned()));
        }
        View::Bench => Sketch::bench(yard, first, units),
        View::Log => {
            let log = asked.lying.log(asked.log)?;
            Sketch::log(yard, first, &log, units).map_err(|fault| CliError::Cut(fault.message))?
        }
    };
    let paper = paper(asked.ground);
    let (width, height) = asked.size;
    let drawn = sketch.drawn(egui::vec2(f32::from(width), f32::from(height)), paper);
    let bytes = drawn.written(form, asked.scale).map_err(|error| CliError::Drawn(error.to_string()))?;
    let output = Output { path: &asked.output, force: asked.force };
    output.write(&bytes, err)?;
    Ok(format!("{}: {}\n", asked.output.display(), drawn.title()))
}

/// Draws a picture that moves and says where it is and how long it runs.
fn moving_picture(
    yard: &Yard,
    asked: &AskedPicture,
    moving: Asked,
    err: &mut dyn Write,
) -> Result<String, CliError> {
    let is_gif = asked.output.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("gif"));
    if !is_gif {
        let words = "a picture that moves ends in .gif";
        return Err(CliError::Drawn(format!("{}: {words}", asked.output.display())));
    }
    if asked.setup.len() > 1 {
        return Err(CliError::Drawn("a picture that moves takes one setup".to_owned()));
    }
    let units = units_of(asked.units);
    let first = setups(yard, &asked.setup)?.first().copied();
    let setup = first.ok_or_else(|| CliError::Drawn("the yard has no setup to draw".to_owned()))?;
    let moving = match moving {
        Asked::Grow => Moving::grow(yard, setup, units),
        Asked::Hang => Moving::hang(yard, setup, units),
        Asked::Cut => {
            let log = asked.lying.log(asked.log)?;
            Moving::cut(yard, setup, &log, units).map_err(|fault| CliError::Cut(fault.message))?
        }
    };
    let moving = moving.ok_or_else(|| CliError::Drawn(format!("{}: nothing of it moves", setup.name())))?;
    let (width, height) = asked.size;
    let size = egui::vec2(f32::from(width), f32::from(height));
    let written = moving.gif(size, paper(asked.ground), asked.scale);
    let bytes = written.map_err(|error| CliError::Drawn(error.to_string()))?;
    let output = Output { path: &asked.output, force: asked.force };
    output.write(&bytes, err)?;
    Ok(format!("{}: {}, {:.0} s\n", asked.output.display(), moving.title(), moving.seconds()))
}

const fn paper(ground: Ground) -> Paper {
    match ground {
        Ground::Light => Paper::Light,
        Ground::Dark => Paper::Dark,
        Ground::Print => Paper::Print,
    }
}

fn form(output: &Path) -> Result<Form, CliError> {
    Form::of(output).map_err(CliError::Drawn)
}

/// Where a drawing goes.
struct Output<'a> {
    path: &'a Path,
    /// Over a drawing of the same form, too.
    force: bool,
}

impl Output<'_> {
    /// Writes it over nothing that is not a drawing of this form.
    fn write(&self, bytes: &[u8], err: &mut dyn Write) -> Result<(), CliError> {
        let ours = Sort::of(bytes);
        let may = |target: &Path, there: Sort| {
            if there == Sort::Empty || (there == ours && self.force) {
                Ok(())
            } else if there == ours {
                Err(format!("{} stands there already (--force writes over it)", ours.words()))
            } else {
                let link = if target == self.path { "" } else { ", where the link leads" };
                Err(format!(
                    "{} stands there{link}, which {} never replaces; name another file",
                    there.words(),
                    ours.words()
                ))
            }
        };
        let written = write_whole_over(self.path, bytes, may);
        let written = written.map_err(|error| CliError::Save(format!("{}: {error}", self.path.display())))?;
        say_link(err, self.path, &written);
        Ok(())
    }
}

/// The setups of these names in this order; all where none is named.
fn setups<'a>(yard: &'a Yard, names: &[String]) -> Result<Vec<&'a Setup>, CliError> {
    if names.is_empty() {
        return Ok(yard.setups().iter().collect());
    }
    names.iter().map(|name| setup_named(yard, name)).collect()
}
