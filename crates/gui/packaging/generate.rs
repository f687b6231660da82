//! The files of the packaging that follow from others: manual pages and completions from the definition of the command
//! line, icons of every size from the drawings.

use barpoise::cli;
use clap_complete::Shell;
use clap_mangen::roff::{Roff, roman};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree};
use std::error::Error;

/// A file, by its path under the packaging's folder.
pub type Made = (String, Vec<u8>);

const DRAWING: &str = include_str!("icons/barpoise.svg");
/// The same with less in it.
const SMALL_DRAWING: &str = include_str!("icons/barpoise-small.svg");
/// Sides of the icons in pixels, each with the drawing that reads best there.
const ICONS: [(u16, &str); 5] =
    [(16, SMALL_DRAWING), (32, SMALL_DRAWING), (48, DRAWING), (128, DRAWING), (256, DRAWING)];

/// Every file that follows from others.
///
/// # Errors
/// Where a drawing cannot be read or painted.
pub fn files() -> Result<Vec<Made>, Box<dyn Error>> {
    let mut made = manual()?;
    made.extend(completions());
    for (side, drawing) in ICONS {
        made.push((format!("icons/barpoise-{side}.png"), icon(side, drawing)?));
    }
    Ok(made)
}

/// A page for the program and one for each command.
fn manual() -> Result<Vec<Made>, Box<dyn Error>> {
    let mut program = cli::command();
    program.build();
    let mut pages = vec![page(&program)?];
    for command in program.get_subcommands() {
        pages.push(page(command)?);
    }
    Ok(pages)
}

fn page(command: &clap::Command) -> Result<Made, Box<dyn Error>> {
    let name = command.get_display_name().unwrap_or_else(|| command.get_name()).to_owned();
    let man = clap_mangen::Man::new(command.clone().display_name(&name));
    let mut text = Vec::new();
    man.render_title(&mut text)?;
    man.render_name_section(&mut text)?;
    man.render_synopsis_section(&mut text)?;
    man.render_description_section(&mut text)?;
    man.render_options_section(&mut text)?;
    if command.has_subcommands() {
        man.render_subcommands_section(&mut text)?;
    }
    if let Some(more) = command.get_after_long_help() {
        sections(&more.to_string()).to_writer(&mut text)?;
    }
    Ok((format!("man/{name}.1"), text))
}

/// The end of the long help as sections: each begins with its name and a colon. Examples keep their lines.
fn sections(help: &str) -> Roff {
    let mut page = Roff::new();
    for paragraph in help.split("\n\n") {
        let (name, body) = paragraph.split_once(":\n").unwrap_or(("Notes", paragraph));
        page.control("SH", [name.to_uppercase().as_str()]);
        let keeps_lines = name == "Examples";
        if keeps_lines {
            page.control("nf", []);
        }
        let lines = body.lines().map(|line| line.strip_prefix("  ").unwrap_or(line));
        page.text(lines.flat_map(|line| [roman(line), roman("\n")]).collect::<Vec<_>>());
        if keeps_lines {
            page.control("fi", []);
        }
    }
    page
}

fn completions() -> Vec<Made> {
    [(Shell::Bash, "barpoise.bash"), (Shell::Zsh, "_barpoise"), (Shell::Fish, "barpoise.fish")]
        .into_iter()
        .map(|(shell, name)| {
            let mut text = Vec::new();
            clap_complete::generate(shell, &mut cli::command(), "barpoise", &mut text);
            (format!("completions/{name}"), text)
        })
        .collect()
}

fn icon(side: u16, drawing: &str) -> Result<Vec<u8>, Box<dyn Error>> {
    let tree = Tree::from_str(drawing, &Options::default())?;
    let mut pixels = Pixmap::new(side.into(), side.into()).ok_or("an icon needs a size")?;
    let scale = f32::from(side) / tree.size().width();
    resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixels.as_mut());
    Ok(pixels.encode_png()?)
}
