//! A quick way to a log's cut for very many bars.
//!
//! For each diameter of a mix the full plan is made for bars of some reaches once; every other bar takes the plan of the
//! next shorter one. What is exact: from which reach on a log is done in one setting, by setting again, from both sides,
//! and in how many settings, to [`REACH_STEP`] of reach. What is taken over: the bar's width is that of one typical bar,
//! and the hidden way of the nose and the settings that touch down or slide off are those of the next shorter reach. On
//! the demo yard the hidden way is then up to a third off, everything else the same.

use super::log_cut::{LogCut, log_cut};
use crate::fault::Fault;
use crate::log::CuttingBar;
use crate::units::Length;
use crate::yard::Wood;
use std::ops::ControlFlow;

/// Where the kind of cut changes between two reaches, the change is found this closely.
pub const REACH_STEP: Length = Length::from_mm(0.05);
/// Reaches planned for each diameter before the changes between them are looked for.
const NODES: u32 = 16;

/// Cuts of every diameter of a wood over the reach of the bar.
#[derive(Clone, Debug)]
pub struct ReachTable {
    columns: Vec<Column>,
}

#[derive(Clone, Debug)]
struct Column {
    diameter: Length,
    tangled: bool,
    /// By rising reach; each holds from its reach on up to the next.
    nodes: Vec<(f64, LogCut)>,
}

impl ReachTable {
    /// Plans a wood for reaches from `shortest` to `longest` with bars as wide as `like`. `told` hears the share that is
    /// done, 0 to 1, and may stop the work: then there is no table.
    ///
    /// # Errors
    /// A reach out of range, or too short for so wide a bar.
    pub fn new(
        wood: &Wood,
        like: &CuttingBar,
        shortest: Length,
        longest: Length,
        told: &mut dyn FnMut(f64) -> ControlFlow<()>,
    ) -> Result<Option<Self>, Fault> {
        let tangles: Vec<bool> = [(true, wood.tangled_share()), (false, 1.0 - wood.tangled_share())]
            .into_iter()
            .filter(|(_, share)| *share > 0.0)
            .map(|(tangled, _)| tangled)
            .collect();
        let mut diameters: Vec<Length> = wood.logs().iter().map(|log| log.diameter).collect();
        diameters.sort_by(|a, b| a.as_m().total_cmp(&b.as_m()));
        diameters.dedup();
        let all = f64::from(u32::try_from(diameters.len() * tangles.len()).unwrap_or(u32::MAX));
        let (mut columns, mut done) = (Vec::new(), 0.0);
        for diameter in diameters {
            for tangled in &tangles {
                if told(done / all).is_break() {
                    return Ok(None);
                }
                columns.push(Column::new(wood, like, diameter, *tangled, shortest, longest)?);
                done += 1.0;
            }
        }
        Ok(Some(Self { columns }))
    }

    /// How a bar of this reach cuts a log of the wood: nothing for a diameter that the wood does not have, or a reach
    /// below the table's.
    pub fn cut(&self, reach: Length, diameter: Length, tangled: bool) -> LogCut {
        let found = self.columns.binary_search_by(|column| {
            column.diameter.as_m().total_cmp(&diameter.as_m()).then((!column.tangled).cmp(&!tangled))
        });
        let column = found.ok().and_then(|place| self.columns.get(place));
        column.map_or(LogCut::CANNOT, |column| column.at(reach.as_m()))
    }
}

impl Column {
    fn new(
        wood: &Wood,
        like: &CuttingBar,
        diameter: Length,
        tangled: bool,
        shortest: Length,
        longest: Length,
    ) -> Result<Self, Fault> {
        let cut = |reach: Length| log_cut(wood, &like.with_reach(reach)?, diameter, tangled);
        let mut nodes: Vec<(Length, LogCut)> = Vec::new();
        for node in 0..=NODES {
            let reach = shortest + (longest - shortest) * (f64::from(node) / f64::from(NODES));
            let here = cut(reach)?;
            if let Some((mut below, mut kind)) = nodes.last().map(|(reach, cut)| (*reach, *cut)) {
                // Each change between the two: several may lie close together.
                while !same_kind(&kind, &here) {
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
        let nodes = nodes.into_iter().map(|(reach, cut)| (reach.as_m(), cut)).collect();
        Ok(Self { diameter, tangled, nodes })
    }

    fn at(&self, reach_m: f64) -> LogCut {
        let after = self.nodes.partition_point(|(from, _)| *from <= reach_m);
        let node = after.checked_sub(1).and_then(|place| self.nodes.get(place));
        node.map_or(LogCut::CANNOT, |(_, cut)| *cut)
    }
}

fn same_kind(a: &LogCut, b: &LogCut) -> bool {
    a.doing == b.doing && a.settings == b.settings
}
