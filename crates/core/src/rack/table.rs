//! A quick way to a log's cut for very many bars of one head.
//!
//! For each kind of log of a wood the full plan is made for bars of some reaches once; every other bar takes the cut of the
//! next shorter one. What is exact, to [`REACH_STEP`] of reach: from which reach on a log is done in one setting, by setting
//! again, from both sides, and in how many settings. What is taken over from the next shorter reach: the nose in branches,
//! and what it takes of the person.
//!
//! Where the person can hold the head about a log is found once and shared among all bars on it: it hangs on the bar only
//! by its weight and balance, which are taken of the bar of the middle reach.

use super::log_cut::{LogCut, log_cut_at, workplace};
use super::over_wood::{LogKind, kinds};
use super::rates::WorkRates;
use super::sawing::Sawing;
use crate::fault::Fault;
use crate::log::Workplace;
use crate::units::Length;
use crate::yard::Wood;
use std::ops::ControlFlow;

/// Where the kind of cut changes between two reaches, the change is found this closely.
pub const REACH_STEP: Length = Length::from_mm(1.0);
/// Reaches planned for each kind of log before the changes between them are looked for.
const NODES: u32 = 16;
/// No kind of log has more changes looked for than this between two reaches.
const MOST_CHANGES: usize = 4;

/// Cuts of every kind of log of a wood over the reach of the bar, for one head and person.
#[derive(Clone, Debug)]
pub struct ReachTable {
    /// One for each kind of the wood's logs; each by rising reach, m, and each entry holds from there up to the next.
    columns: Vec<Vec<(f64, LogCut)>>,
}

impl ReachTable {
    /// Plans a wood for reaches from `shortest` to `longest`; `at` makes up the saw of a reach. `told` hears the share that
    /// is done, 0 to 1, and may stop the work: then there is no table.
    ///
    /// # Errors
    /// A reach out of range, or whatever `at` refuses.
    pub fn new(
        wood: &Wood,
        rates: &WorkRates,
        at: &dyn Fn(Length) -> Result<Sawing, Fault>,
        shortest: Length,
        longest: Length,
        told: &mut dyn FnMut(f64) -> ControlFlow<()>,
    ) -> Result<Option<Self>, Fault> {
        let middle = at((shortest + longest) * 0.5)?;
        let all: Vec<LogKind> = kinds(wood).collect();
        let count = f64::from(u32::try_from(all.len()).unwrap_or(u32::MAX));
        let (mut columns, mut done) = (Vec::with_capacity(all.len()), 0.0);
        let mut place: Option<(Length, Workplace)> = None;
        for kind in &all {
            if told(done / count).is_break() {
                return Ok(None);
            }
            let known = place.take().filter(|(diameter, _)| *diameter == kind.diameter);
            let (_, workplace) = place.insert(match known {
                Some(known) => known,
                None => (kind.diameter, workplace(wood, &middle, kind.diameter)?),
            });
            let cut = |reach: Length| {
                let sawing = at(reach)?;
                log_cut_at(wood, &sawing, rates, workplace, kind.diameter, kind.tangled)
            };
            columns.push(column(&cut, shortest, longest)?);
            done += 1.0;
        }
        Ok(Some(Self { columns }))
    }

    /// How a bar of this reach cuts the logs of a kind, by its place among [`kinds`]: nothing for a kind that the wood does
    /// not have, or a reach below the table's.
    pub fn cut(&self, reach: Length, place: usize) -> &LogCut {
        let Some(nodes) = self.columns.get(place) else { return &LogCut::CANNOT };
        let after = nodes.partition_point(|(from, _)| *from <= reach.as_m());
        let node = after.checked_sub(1).and_then(|place| nodes.get(place));
        node.map_or(&LogCut::CANNOT, |(_, cut)| cut)
    }
}

fn column(
    cut: &dyn Fn(Length) -> Result<LogCut, Fault>,
    shortest: Length,
    longest: Length,
) -> Result<Vec<(f64, LogCut)>, Fault> {
    let mut nodes: Vec<(Length, LogCut)> = Vec::new();
    for node in 0..=NODES {
        let reach = shortest + (longest - shortest) * (f64::from(node) / f64::from(NODES));
        let here = cut(reach)?;
        if let Some((mut below, mut kind)) = nodes.last().map(|(reach, cut)| (*reach, *cut)) {
            // Each change between the two: several may lie close together.
            for _ in 0..MOST_CHANGES {
                if same_kind(&kind, &here) {
                    break;
                }
                let (mut low, mut high, mut next) = (below, reach, here);
                while high - low > REACH_STEP {
                    let middle = (low + high) * 0.5;
                    let there = cut(middle)?;
                    if same_kind(&there, &kind) {
                        low = middle;
                    } else {
                        (high, next) = (middle, there);
                    }
                }
                nodes.push((high, next));
                (below, kind) = (high, next);
            }
        }
        nodes.push((reach, here));
    }
    Ok(nodes.into_iter().map(|(reach, cut)| (reach.as_m(), cut)).collect())
}

fn same_kind(a: &LogCut, b: &LogCut) -> bool {
    a.doing == b.doing && a.settings == b.settings
}
