//! What a valid yard holds, and what goes together in it.

use crate::desk::words::weigh_in::counted;
use barpoise_core::{Bar, Chain, Fittings, Powerhead, Setup, Yard, loop_counts_that_close};
use std::path::Path;
use std::sync::Arc;

/// The report on a yard that was read without a fault.
pub(super) fn report(yard: &Yard, file: &Path) -> String {
    let mut text = format!(
        "{}: in order\n{}: {}, {}, {}, {}\n",
        file.display(),
        yard.name(),
        counted(yard.powerheads().len(), "powerhead"),
        counted(yard.bars().len(), "bar"),
        counted(yard.chains().len(), "chain"),
        counted(yard.setups().len(), "setup"),
    );
    for head in yard.powerheads() {
        text.push_str(&head_report(yard, head));
    }
    text.push_str(&unused(yard));
    text.push_str(&setups_report(yard));
    text
}

/// Which bars go on a head, with which chains, and which loops close.
fn head_report(yard: &Yard, head: &Arc<Powerhead>) -> String {
    let mut text = format!("\n{} takes\n", head.name());
    let fits: Vec<Fit> = yard.bars().iter().filter_map(|bar| Fit::new(yard, head, bar)).collect();
    if fits.is_empty() {
        text.push_str("  no bar of this yard\n");
    }
    let name_width = width(fits.iter().map(|fit| fit.bar.name()));
    let loops_width = width(fits.iter().map(|fit| fit.loops.as_str()));
    for fit in &fits {
        let (bar, loops) = (fit.bar.name(), &fit.loops);
        let chains = fit.chains.join(", ");
        let note =
            if is_longer_than_meant(head, fit.bar) { "  longer than the head is meant for" } else { "" };
        text.push_str(&format!("  {bar:name_width$}  {loops:loops_width$}  with {chains}{note}\n"));
    }
    text
}

/// A bar that goes on a head.
struct Fit<'a> {
    bar: &'a Bar,
    chains: Vec<&'a str>,
    loops: String,
}

impl<'a> Fit<'a> {
    fn new(yard: &'a Yard, head: &Arc<Powerhead>, bar: &'a Arc<Bar>) -> Option<Self> {
        let fitting: Vec<&Arc<Chain>> =
            yard.chains().iter().filter(|chain| goes_together(head, bar, chain)).collect();
        let first = fitting.first()?;
        Some(Self {
            bar,
            loops: closing(&loop_counts_that_close(head, bar, first), bar.marked_drive_links()),
            chains: fitting.iter().map(|chain| chain.name()).collect(),
        })
    }
}

fn goes_together(head: &Arc<Powerhead>, bar: &Arc<Bar>, chain: &Arc<Chain>) -> bool {
    let (head, bar, chain) = (Arc::clone(head), Arc::clone(bar), Arc::clone(chain));
    Setup::new("", head, bar, chain, None, Fittings::default()).is_ok()
}

fn closing(counts: &[u32], marked: u32) -> String {
    let loops = match counts {
        [] => "no loop closes".to_owned(),
        [one] => format!("a loop of {one} links closes"),
        [first, .., last] => format!("loops of {first} to {last} links close"),
    };
    if counts.contains(&marked) { loops } else { format!("{loops}, not the marked {marked}") }
}

fn is_longer_than_meant(head: &Powerhead, bar: &Bar) -> bool {
    head.longest_bar().is_some_and(|longest| bar.marked_length() > longest)
}

/// Bars that go on no head of the yard.
fn unused(yard: &Yard) -> String {
    let idle: Vec<&str> = yard
        .bars()
        .iter()
        .filter(|bar| yard.powerheads().iter().all(|head| Fit::new(yard, head, bar).is_none()))
        .map(|bar| bar.name())
        .collect();
    if idle.is_empty() {
        String::new()
    } else {
        format!("\nno head and chain of this yard take {}\n", idle.join(", "))
    }
}

fn setups_report(yard: &Yard) -> String {
    let mut text = "\nsetups\n".to_owned();
    let name_width = width(yard.setups().iter().map(Setup::name));
    for setup in yard.setups() {
        let name = setup.name();
        let links = setup.links().exact();
        let out_mm = setup.tensioner_out().as_mm();
        let travel_mm = setup.powerhead().tensioner_travel().as_mm();
        let note = if is_longer_than_meant(setup.powerhead(), setup.bar()) {
            ", bar longer than the head is meant for"
        } else {
            ""
        };
        text.push_str(&format!(
            "  {name:name_width$}  {links:3} links, tensioner {out_mm:4.1} of {travel_mm} mm out{note}\n"
        ));
    }
    text
}

fn width<'a>(cells: impl Iterator<Item = &'a str>) -> usize {
    cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
}
