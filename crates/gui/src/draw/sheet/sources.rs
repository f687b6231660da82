//! Where the numbers of the sheet come from, and how sure they are.

use super::Row;
use super::page::Page;
use crate::desk::format::Units;
use crate::desk::words::hold;
use crate::desk::words::limits::beyond_longest_bar;
use crate::draw::theme::{Ink, size};
use barpoise_core::weigh_in::{Knowledge, newest_weigh_in};
use barpoise_core::{Powerhead, Yard};

/// A sentence or two for each head on the sheet.
pub(super) fn sources(page: &mut Page, yard: &Yard, units: Units, rows: &[Row<'_>]) {
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
    page.line("Where the numbers come from", Ink::Line, size::BODY, true);
    page.paragraph(&words.join(" "), Ink::Soft, size::BODY, false);
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
