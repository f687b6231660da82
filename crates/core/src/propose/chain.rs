//! A chain from its pitch, gauge and sequence.

use super::note::noted;
use super::rounded;
use crate::ranges;
use crate::record::{ChainFile, PartKind, SequenceFile};
use crate::units::Length;

/// Mass for each drive link over pitch squared and gauge, g/mm³.
pub(super) const LINK_MASS_G_MM3: f64 = 0.0385;
/// What the skip sequences keep of a full complement's mass.
pub(super) const SEMI_SKIP_SHARE: f64 = 0.95;
pub(super) const FULL_SKIP_SHARE: f64 = 0.9;
pub(super) const CUTTER_OVER_PITCH: f64 = 0.735;
pub(super) const RIVET_OVER_PITCH: f64 = 0.63;

/// Rivet line above the rail for a pitch.
pub(super) fn rail_to_rivet_mm(pitch_in: f64) -> f64 {
    rounded(RIVET_OVER_PITCH * Length::from_in(pitch_in).as_mm(), 0.5, &ranges::RAIL_TO_RIVET)
}

/// Puts a proposed value in every field that the chain's note names as proposed.
pub fn propose_chain(chain: &mut ChainFile) {
    let proposed = |path: &str| noted(PartKind::Chain, &chain.note, path);
    let pitch_mm = Length::from_in(chain.pitch_in).as_mm();
    let share = match chain.sequence {
        SequenceFile::FullComplement => 1.0,
        SequenceFile::SemiSkip => SEMI_SKIP_SHARE,
        SequenceFile::FullSkip => FULL_SKIP_SHARE,
    };
    let (mass, cutter, rivet) =
        (proposed("mass_per_drive_link_g"), proposed("cutter_height_mm"), proposed("rail_to_rivet_mm"));
    if mass {
        let grams = share * LINK_MASS_G_MM3 * pitch_mm.powi(2) * chain.gauge_mm;
        chain.mass_per_drive_link_g = rounded(grams, 0.1, &ranges::LINK_MASS);
    }
    if cutter {
        chain.cutter_height_mm = rounded(CUTTER_OVER_PITCH * pitch_mm, 0.5, &ranges::CUTTER_HEIGHT);
    }
    if rivet {
        chain.rail_to_rivet_mm = rail_to_rivet_mm(chain.pitch_in);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::propose::mark_proposed;
    use crate::record::PartFile;
    use crate::saw::Chain;
    use proptest::prelude::*;

    fn proposed(like: &ChainFile) -> ChainFile {
        let mut part = PartFile::Chain(Box::new(ChainFile { note: String::new(), ..like.clone() }));
        mark_proposed(&mut part, None);
        let PartFile::Chain(mut chain) = part else { unreachable!() };
        propose_chain(&mut chain);
        *chain
    }

    #[test]
    fn the_demos_chains_come_near_to_themselves() {
        for chain in &demo().unwrap().file().chains {
            let guess = proposed(chain);
            let near = |a: f64, b: f64, within: f64| {
                assert!((a - b).abs() <= within, "{}: {a} for {b}", chain.name);
            };
            near(guess.mass_per_drive_link_g, chain.mass_per_drive_link_g, 0.35);
            near(guess.cutter_height_mm, chain.cutter_height_mm, 0.5);
            near(guess.rail_to_rivet_mm, chain.rail_to_rivet_mm, 0.5);
        }
    }

    proptest! {
        #[test]
        fn law_a_proposed_chain_passes_its_checks(pitch_in in 0.2..0.8_f64, gauge_mm in 0.9..2.5_f64) {
            for sequence in [SequenceFile::FullComplement, SequenceFile::SemiSkip, SequenceFile::FullSkip] {
                let like = demo().unwrap().file().chains[0].clone();
                let chain = proposed(&ChainFile { pitch_in, gauge_mm, sequence, ..like });
                prop_assert!(Chain::new(&chain, 0).is_ok());
            }
        }
    }
}
