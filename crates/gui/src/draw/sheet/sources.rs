//! Where the numbers of the sheet come from, and how sure they are.

use super::Row;
use super::page::Page;
use crate::desk::format::Units;
use crate::desk::sources::{HEADING, Topic, by_mark, counted};
use crate::desk::words::hold;
use crate::desk::words::limits::beyond_longest_bar;
use crate::draw::theme::{Ink, size};
use barpoise_core::weigh_in::{Knowledge, newest_weigh_in};
use barpoise_core::{Mark, Powerhead, Yard};

/// A sentence or two for each head on the sheet.
pub(super) fn sources(
    page: &mut Page,
    yard: &Yard,
    units: Units,
    rows: &[Row<'_>],
    has_log: bool,
    told: Assumed,
) {
    let mut heads: Vec<&Powerhead> = Vec::new();
    for row in rows {
        let head = row.setup.powerhead();
        if !heads.iter().any(|known| known.name() == head.name()) {
            heads.push(head);
        }
    }
    let mut words: Vec<String> = heads.into_iter().map(|head| of_head(yard, head)).collect();
    words.extend(rows.iter().filter_map(|row| {
        let beyond = beyond_longest_bar(row.setup.beyond_longest_bar())?;
        Some(format!("{}: {beyond}.", row.setup.name()))
    }));
    words.push(
        "Bars and chains are as the yard's file has them. Hands are for the saw held level, forces straight up and \
         down. ± is one standard uncertainty."
            .to_owned(),
    );
    if let Some(level) = rows.iter().find_map(|row| row.figures.level().ok()) {
        words.push(hold::level_marks(units, &level.strength.words()));
    }
    page.line(HEADING, Ink::Line, size::BODY, true);
    page.paragraph(&words.join(" "), Ink::Soft, size::BODY, false);
    assumed(page, units, has_log, told);
}

/// How assumed numbers are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Assumed {
    /// What the figures of a setup take, each with its size and its mark; cuts, poses and holds would fill the sheet.
    Whole,
    /// How many bear which mark.
    InFew,
}

/// What the figures take where nobody measured, in small letters, and what the marks mean.
fn assumed(page: &mut Page, units: Units, has_log: bool, told: Assumed) {
    const SMALL: f32 = 11.5;
    const ALL: [Topic; 5] = [Topic::Saw, Topic::Cut, Topic::Pose, Topic::Hold, Topic::Proposed];
    let used = ALL.into_iter().filter(|topic| has_log || !matches!(topic, Topic::Cut | Topic::Pose));
    let is_whole = |topic: &Topic| told == Assumed::Whole && *topic == Topic::Saw;
    let (whole, few): (Vec<Topic>, Vec<Topic>) = used.partition(is_whole);
    let mut words = by_mark(units, &whole);
    let few: Vec<String> = few.into_iter().map(counted).collect();
    words.push(format!("{}; they stand in the window, menu View. {}.", few.join("; "), Mark::LEGEND));
    page.paragraph(&words.join(" "), Ink::Soft, SMALL, false);
}

fn of_head(yard: &Yard, head: &Powerhead) -> String {
    let name = head.name();
    let file = yard.file().powerheads.iter().find(|file| file.name == name);
    let note = file.map_or("", |file| file.note.trim());
    let mut words = if note.is_empty() { format!("{name}.") } else { format!("{name}: {note}") };
    if !words.ends_with(['.', '!', '?']) {
        words.push('.');
    }
    words.push_str(&match newest_weigh_in(yard) {
        Some(weigh_in) if weigh_in.learnt.iter().any(|learnt| learnt.of == name) => {
            format!(" Weighed in {}.", weigh_in.date)
        }
        _ if Knowledge::is_stated(yard, name) => " Uncertainty as the file states it.".to_owned(),
        _ => " Not weighed in: ± as common for numbers read off, wider where only proposed.".to_owned(),
    });
    words
}
