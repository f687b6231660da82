//! What to measure next.

use super::fit::{expected_of, placed};
use super::knowledge::Knowledge;
use super::saw_model::{Figure, SawModel};
use crate::record::{Part, Unknown};
use crate::saw::{OriginBar, Setup};
use crate::units::Angle;
use crate::yard::{Measured, SawMeasure, Yard};
use nalgebra::DVector;
use std::collections::HashSet;
use std::sync::Arc;

/// A scale that hangs from a grip shows nothing sensible below this.
const LEAST_GRIP_KG: f64 = 0.2;

/// A reading that could be taken, and what it would be worth.
#[derive(Clone, Debug, PartialEq)]
pub struct NextReading {
    /// What to measure.
    pub measured: Measured,
    /// Standard uncertainty of the hang over the rack, root mean square, as it is now.
    pub hang_now: Angle,
    /// The same after the reading, taken with the common uncertainty of its kind.
    pub hang_then: Angle,
}

/// The measures that could be taken of the heads, bars and chains that these numbers belong to.
pub(super) fn candidates(yard: &Yard, unknowns: &[Unknown]) -> Vec<Measured> {
    let heads: HashSet<&str> = unknowns
        .iter()
        .filter(|unknown| unknown.quantity.part() == Part::Powerhead)
        .map(|unknown| &*unknown.of)
        .collect();
    let setups = yard.setups().iter().filter(|setup| heads.contains(setup.powerhead().name()));
    candidates_on(setups)
}

fn candidates_on<'a>(setups: impl Iterator<Item = &'a Setup>) -> Vec<Measured> {
    let level = Angle::ZERO;
    let mut found = Vec::new();
    let (mut bars, mut loops) = (HashSet::new(), HashSet::new());
    for setup in setups {
        let model = SawModel::new(setup);
        for measure in [
            SawMeasure::Total,
            SawMeasure::Hang,
            SawMeasure::FrontGrip { nose_up: level },
            SawMeasure::RearGrip { nose_up: level },
            SawMeasure::BalancePoint,
            SawMeasure::Reach,
            SawMeasure::SwingPeriod,
        ] {
            let expected = model.figure(Figure::Measured(measure), model.values());
            let at_grip = matches!(measure, SawMeasure::FrontGrip { .. } | SawMeasure::RearGrip { .. });
            if expected.is_some_and(|(value, _)| !at_grip || value > LEAST_GRIP_KG) {
                found.push(Measured::Saw { setup: Box::new(setup.clone()), measure });
            }
        }
        if bars.insert(setup.bar().name()) {
            found.push(Measured::Bar(Arc::clone(setup.bar())));
        }
        if let (true, Some(links)) = (loops.insert(setup.chain().name()), setup.links().order()) {
            found.push(Measured::Loop { chain: Arc::clone(setup.chain()), links });
        }
    }
    found
}

/// The most useful readings to take of a head, best first: those that bring the uncertainty of the hang over all
/// its setups down most, as the linear model foresees it. `yard` is one to which all that is known was applied.
pub fn next_readings(yard: &Yard, head: &str, most: usize) -> Vec<NextReading> {
    let setups: Vec<&Setup> = yard.setups().iter().filter(|setup| setup.powerhead().name() == head).collect();
    let knowledge = Knowledge::of(yard, setups.iter().copied());
    let hangs: Vec<DVector<f64>> = setups
        .iter()
        .filter_map(|setup| {
            let model = SawModel::new(setup);
            let (_, gradient) = model.figure(Figure::Measured(SawMeasure::Hang), model.values())?;
            Some(knowledge.spread(setup, &[OriginBar::itself(setup.bar().name())], &gradient))
        })
        .collect();
    if hangs.is_empty() {
        return Vec::new();
    }
    let spread_of: Vec<DVector<f64>> = hangs.iter().map(|hang| knowledge.spread_along(hang)).collect();
    let now: Vec<f64> = hangs.iter().zip(&spread_of).map(|(hang, spread)| hang.dot(spread)).collect();
    let places = placed(knowledge.unknowns());
    let mut found: Vec<NextReading> = candidates_on(setups.iter().copied())
        .into_iter()
        .filter_map(|measured| {
            let (_, slopes) = expected_of(&measured, &places, knowledge.values())?;
            // A reading is of one saw: of all the numbers known it follows those of its parts alone.
            let slopes: Vec<(usize, f64)> =
                slopes.iter().copied().enumerate().filter(|(_, slope)| *slope != 0.0).collect();
            let by = |row: usize| -> f64 {
                slopes.iter().map(|(at, slope)| slope * knowledge.covariance()[(row, *at)]).sum()
            };
            let own: f64 = slopes.iter().map(|(at, slope)| slope * by(*at)).sum();
            let noise = measured.common_uncertainty().powi(2) + own;
            let along = |spread: &DVector<f64>| -> f64 {
                slopes.iter().filter_map(|(at, slope)| Some(slope * spread.get(*at)?)).sum()
            };
            let then = spread_of.iter().zip(&now).map(|(spread, now)| now - along(spread).powi(2) / noise);
            Some(NextReading {
                measured,
                hang_now: root_mean(now.iter().copied()),
                hang_then: root_mean(then),
            })
        })
        .collect();
    found.sort_by(|a, b| a.hang_then.as_rad().total_cmp(&b.hang_then.as_rad()));
    found.truncate(most);
    found
}

fn root_mean(variances: impl Iterator<Item = f64>) -> Angle {
    let (sum, count) = variances.fold((0.0, 0.0), |(sum, count), variance| (sum + variance, count + 1.0));
    Angle::from_rad((sum / f64::max(count, 1.0)).max(0.0).sqrt())
}
