//! Numbers and readings that have nothing to do with each other, each group to be fitted by itself.
//!
//! Two numbers belong together where one reading depends on both, and so does whatever such numbers lead on to. What is
//! known before any reading ties no two numbers, so the least sum of squares of all is that of each group: heads that
//! share no bar and no chain are fitted apart, which for many heads takes a time that grows with their count and not with
//! its cube.

use super::fit::{Fit, Learnt, disagreement};
use crate::least_squares::chi_square_above;
use crate::record::Quantity;
use nalgebra::DMatrix;

/// Numbers that belong together, and the readings of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Group {
    /// Places among all numbers, in order.
    pub(super) unknowns: Vec<usize>,
    /// Places among the readings, in order.
    pub(super) readings: Vec<usize>,
}

/// The groups of so many numbers, by the numbers that each reading depends on; in the order of their first numbers. A
/// reading of nothing stands in the first.
pub(super) fn groups(unknowns: usize, reads: &[Vec<usize>]) -> Vec<Group> {
    let mut leads: Vec<usize> = (0..unknowns).collect();
    for places in reads {
        for pair in places.windows(2) {
            if let [one, other] = *pair {
                let (a, b) = (first(&mut leads, one), first(&mut leads, other));
                if let Some(lead) = leads.get_mut(a.max(b)) {
                    *lead = a.min(b);
                }
            }
        }
    }
    let firsts: Vec<usize> = (0..unknowns).map(|place| first(&mut leads, place)).collect();
    let mut numbers = vec![None; unknowns];
    let mut groups: Vec<Group> = Vec::new();
    for (place, lead) in firsts.iter().enumerate() {
        let Some(number) = numbers.get_mut(*lead) else { continue };
        let number = *number.get_or_insert_with(|| {
            groups.push(Group { unknowns: Vec::new(), readings: Vec::new() });
            groups.len() - 1
        });
        if let Some(group) = groups.get_mut(number) {
            group.unknowns.push(place);
        }
    }
    for (reading, places) in reads.iter().enumerate() {
        let number = places.first().and_then(|place| firsts.get(*place)).and_then(|lead| numbers.get(*lead));
        if let Some(group) = groups.get_mut(number.copied().flatten().unwrap_or(0)) {
            group.readings.push(reading);
        }
    }
    groups
}

/// The least number that a number is known to belong with; ways that were gone are made shorter.
fn first(leads: &mut [usize], place: usize) -> usize {
    let mut lead = place;
    while let Some(next) = leads.get(lead).copied().filter(|next| *next != lead) {
        if let Some(beyond) = leads.get(next).copied()
            && let Some(entry) = leads.get_mut(lead)
        {
            *entry = beyond;
        }
        lead = next;
    }
    lead
}

/// One fit of all numbers out of the fits of their groups.
pub(super) fn joined(unknowns: usize, parts: Vec<(Group, Fit)>) -> Fit {
    let mut learnt: Vec<Option<Learnt>> = vec![None; unknowns];
    let mut all = Fit {
        learnt: Vec::new(),
        covariance: DMatrix::zeros(unknowns, unknowns),
        counts: Vec::new(),
        readings: Vec::new(),
        chi_square: 0.0,
        freedom: 0,
        probability: None,
        disagreement: None,
        settled: 0,
        mixed: Vec::new(),
        steps: 0,
    };
    for (group, fit) in parts {
        let place = |own: usize| group.unknowns.get(own).copied();
        for (own, found) in fit.learnt.into_iter().enumerate() {
            if let Some(entry) = place(own).and_then(|place| learnt.get_mut(place)) {
                *entry = Some(found);
            }
        }
        for (column, to_column) in group.unknowns.iter().enumerate() {
            for (row, to_row) in group.unknowns.iter().enumerate() {
                let own = fit.covariance.get((row, column)).copied();
                if let (Some(entry), Some(own)) = (all.covariance.get_mut((*to_row, *to_column)), own) {
                    *entry = own;
                }
            }
        }
        all.readings.extend(fit.readings.into_iter().map(|mut reading| {
            reading.mostly = reading.mostly.and_then(|(own, by)| Some((place(own)?, by)));
            reading
        }));
        all.counts.extend(fit.counts);
        all.mixed.extend(fit.mixed);
        all.chi_square += fit.chi_square;
        all.freedom += fit.freedom;
        all.settled += fit.settled;
        all.steps = all.steps.max(fit.steps);
    }
    all.learnt = learnt.into_iter().flatten().collect();
    all.readings.sort_by_key(|reading| reading.index);
    let nose = |bar: &str| {
        let is =
            |learnt: &Learnt| learnt.unknown.quantity == Quantity::NosePlace && *learnt.unknown.of == *bar;
        all.learnt.iter().position(is)
    };
    all.counts.sort_by_cached_key(|counted| nose(&counted.bar));
    all.mixed.sort_by(|a, b| a.unknowns.first().cmp(&b.unknowns.first()));
    all.probability = chi_square_above(all.chi_square, all.freedom);
    all.disagreement = disagreement(&all.readings, all.chi_square, all.freedom);
    all
}

#[cfg(test)]
mod tests {
    use super::super::fit::fitted_in;
    use super::*;
    use crate::Yard;
    use crate::file::demo;
    use crate::record::{MeasuredFile, ReadingFile, YardFile};
    use crate::weigh_in::{Choice, fit};
    use approx::assert_relative_eq;

    /// The joint fit and those apart stop within this of the least sum, in shares of an uncertainty.
    const WITHIN: f64 = 1e-7;

    /// The demo so many times, with names of their own and readings that differ.
    fn many(times: usize, shared_chains: bool) -> Yard {
        let demo = demo().unwrap().file().clone();
        let mut all = YardFile {
            powerheads: vec![],
            bars: vec![],
            chains: vec![],
            setups: vec![],
            readings: vec![],
            ..demo.clone()
        };
        all.weigh_ins.clear();
        for copy in 0..times {
            let name = |name: &str| format!("{name} {copy}");
            let chain = |own: &str| if shared_chains { own.to_owned() } else { name(own) };
            all.powerheads.extend(demo.powerheads.iter().cloned().map(|mut head| {
                head.name = name(&head.name);
                head
            }));
            all.bars.extend(demo.bars.iter().cloned().map(|mut bar| {
                bar.name = name(&bar.name);
                bar
            }));
            if copy == 0 || !shared_chains {
                all.chains.extend(demo.chains.iter().cloned().map(|mut own| {
                    own.name = chain(&own.name);
                    own
                }));
            }
            all.setups.extend(demo.setups.iter().cloned().map(|mut setup| {
                setup.name = name(&setup.name);
                setup.powerhead = name(&setup.powerhead);
                setup.bar = name(&setup.bar);
                setup.chain = chain(&setup.chain);
                setup
            }));
            let off = 0.01 * copy as f64;
            for (setup, hang, reach) in [("Bittern B24", 18.0, 560.0), ("Wren B14", 6.0, 330.0)] {
                for measured in [
                    MeasuredFile::Hang { nose_down_deg: hang + off, uncertainty_deg: 1.0 },
                    MeasuredFile::Reach { past_spikes_mm: reach - off, uncertainty_mm: 3.0 },
                ] {
                    all.readings.push(ReadingFile::new(measured, Some(name(setup))));
                }
            }
        }
        Yard::new(all).unwrap()
    }

    #[test]
    fn numbers_belong_together_by_readings_and_by_what_those_lead_to() {
        let group = |unknowns: &[usize], readings: &[usize]| Group {
            unknowns: unknowns.to_vec(),
            readings: readings.to_vec(),
        };
        let found = groups(6, &[vec![4, 1], vec![0], vec![], vec![1, 5], vec![2, 3]]);
        assert_eq!(found, [group(&[0], &[1, 2]), group(&[1, 4, 5], &[0, 3]), group(&[2, 3], &[4])]);
    }

    #[test]
    fn law_heads_fitted_apart_are_as_fitted_together() {
        for shared in [false, true] {
            let yard = many(3, shared);
            let apart = fit(&yard, &Choice::Automatic).unwrap();
            let together = fitted_in(&yard, &Choice::Automatic, |unknowns, reads| {
                vec![Group { unknowns: (0..unknowns).collect(), readings: (0..reads.len()).collect() }]
            })
            .unwrap();
            assert_eq!(apart.learnt.len(), together.learnt.len());
            for (a, b) in apart.learnt.iter().zip(&together.learnt) {
                assert_eq!(a.unknown, b.unknown);
                assert_relative_eq!(a.value, b.value, epsilon = WITHIN * b.prior.uncertainty);
                assert_relative_eq!(a.uncertainty, b.uncertainty, epsilon = WITHIN * b.prior.uncertainty);
            }
            for (i, (a, b)) in apart.covariance.iter().zip(together.covariance.iter()).enumerate() {
                let (row, column) = (i % apart.learnt.len(), i / apart.learnt.len());
                let scale = apart.learnt[row].prior.uncertainty * apart.learnt[column].prior.uncertainty;
                assert!((a - b).abs() <= WITHIN * scale, "{row}, {column}: {a} and {b}");
            }
            assert_eq!(apart.readings.len(), together.readings.len());
            for (a, b) in apart.readings.iter().zip(&together.readings) {
                assert_eq!((a.index, a.read), (b.index, b.read));
                assert_relative_eq!(a.expected, b.expected, max_relative = WITHIN);
                assert_relative_eq!(a.standardised.unwrap(), b.standardised.unwrap(), epsilon = 1e-5);
                assert_eq!(a.mostly.map(|(place, _)| place), b.mostly.map(|(place, _)| place));
            }
            assert_relative_eq!(apart.chi_square, together.chi_square, max_relative = WITHIN);
            assert_eq!((apart.freedom, apart.settled), (together.freedom, together.settled));
            assert_eq!(apart.mixed, together.mixed);
            assert_eq!(
                apart.counts.iter().map(|count| &count.bar).collect::<Vec<_>>(),
                together.counts.iter().map(|count| &count.bar).collect::<Vec<_>>()
            );
            assert_eq!(
                apart.disagreement.map(|found| found.index),
                together.disagreement.map(|found| found.index)
            );
        }
    }

    #[test]
    fn heads_without_shared_parts_are_each_as_alone() {
        let (alone, three) = (many(1, false), many(3, false));
        let (alone, three) =
            (fit(&alone, &Choice::Automatic).unwrap(), fit(&three, &Choice::Automatic).unwrap());
        assert_eq!(three.learnt.len(), 3 * alone.learnt.len());
        for learnt in &alone.learnt {
            assert_relative_eq!(three.of(&learnt.unknown).unwrap().value, learnt.value, max_relative = 1e-12);
        }
        assert!(three.steps <= alone.steps + 2, "as many steps as the longest of them: {}", three.steps);
    }
}
