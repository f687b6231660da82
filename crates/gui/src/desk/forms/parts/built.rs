//! What follows from the part in the form, computed once for each change of it.

use super::draft::Draft;
use super::shown::PartShown;
use crate::desk::document::{Document, users_words};
use barpoise_core::record::{PartFile, SetupFile};
use barpoise_core::units::Length;
use barpoise_core::{Bar, Chain, Fittings, Powerhead, Setup, Solved, Yard, loop_counts_that_close, solve};
use std::sync::Arc;

/// Two pitches or gauges closer than this are one: a tenth of the trade's smallest step.
const SAME: Length = Length::from_mm(0.01);

/// The part as its numbers make it.
#[derive(Debug)]
pub struct Built {
    part: PartFile,
    yard: Arc<Yard>,
    /// What is drawn; `None` where the numbers make no part.
    pub shown: Option<PartShown>,
    /// The figures of a setup.
    pub solved: Option<Solved>,
    /// With which loops a bar closes on each head of its mount; `None` where the yard has no chain for it.
    pub heads: Vec<(String, Option<Vec<u32>>)>,
    /// The count stamped on a setup's bar, and those that close.
    pub loops: Option<(u32, Vec<u32>)>,
    /// What uses the part, as words; empty for nothing.
    pub users: String,
}

impl Built {
    pub(super) fn new(draft: &Draft, document: &Document) -> Self {
        let yard = Arc::clone(document.shared_yard());
        let shown = shown(&yard, draft);
        let heads = match &shown {
            Some(PartShown::Bar(bar)) => heads(&yard, bar),
            _ => Vec::new(),
        };
        let solved = match &shown {
            Some(PartShown::Setup(setup)) => Some(solve(setup)),
            _ => None,
        };
        let loops = match &draft.part {
            PartFile::Setup(file) => parts_of(&yard, file).map(|(head, bar, chain)| {
                (bar.marked_drive_links(), loop_counts_that_close(head, bar, chain))
            }),
            _ => None,
        };
        let users = draft.id.as_ref().map(|id| users_words(&yard.file().users_of(id)));
        Self { part: draft.part.clone(), shown, solved, heads, loops, users: users.unwrap_or_default(), yard }
    }

    /// True where it is still what follows.
    pub(super) fn is_of(&self, draft: &Draft, document: &Document) -> bool {
        Arc::ptr_eq(&self.yard, document.shared_yard()) && self.part == draft.part
    }
}

fn parts_of<'a>(
    yard: &'a Yard,
    file: &SetupFile,
) -> Option<(&'a Arc<Powerhead>, &'a Arc<Bar>, &'a Arc<Chain>)> {
    Some((
        yard.powerheads().iter().find(|item| item.name() == file.powerhead)?,
        yard.bars().iter().find(|item| item.name() == file.bar)?,
        yard.chains().iter().find(|item| item.name() == file.chain)?,
    ))
}

fn shown(yard: &Yard, draft: &Draft) -> Option<PartShown> {
    match &draft.part {
        PartFile::Powerhead(file) => Some(PartShown::Powerhead(Box::new(Powerhead::new(file, 0).ok()?))),
        PartFile::Bar(file) => Some(PartShown::Bar(Box::new(Bar::new(file, 0).ok()?))),
        PartFile::Chain(file) => Some(PartShown::Chain(Chain::new(file, 0).ok()?)),
        PartFile::Setup(file) => {
            let own = yard.setup(&file.name).filter(|_| draft.id.is_some() && draft.faults().is_empty());
            if let Some(own) = own {
                return Some(PartShown::Setup(Box::new(own.clone())));
            }
            let (head, bar, chain) = parts_of(yard, file)?;
            let parts = (Arc::clone(head), Arc::clone(bar), Arc::clone(chain));
            let fittings =
                Fittings { fuel_fill: file.fuel_fill, oil_fill: file.oil_fill, extras: Vec::new() };
            let links = Some(file.drive_links.unwrap_or_else(|| bar.marked_drive_links()));
            let setup = Setup::new(file.name.clone(), parts.0, parts.1, parts.2, links, fittings).ok()?;
            Some(PartShown::Setup(Box::new(setup)))
        }
    }
}

fn heads(yard: &Yard, bar: &Bar) -> Vec<(String, Option<Vec<u32>>)> {
    let same = |a: Length, b: Length| (a - b).abs() < SAME;
    let on = |head: &Arc<Powerhead>| {
        let chain = yard
            .chains()
            .iter()
            .find(|chain| same(chain.pitch(), head.sprocket().pitch) && same(chain.gauge(), bar.gauge()));
        (head.name().to_owned(), chain.map(|chain| loop_counts_that_close(head, bar, chain)))
    };
    yard.powerheads().iter().filter(|head| head.mount() == bar.mount()).map(on).collect()
}
