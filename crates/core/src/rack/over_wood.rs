//! One setup over a whole mix of wood.

use super::effort::Effort;
use super::log_cut::{Doing, LogCut, log_cut_at, section, workplace};
use super::otherwise::OtherMeans;
use super::rates::{Otherwise, WorkRates};
use super::sawing::{Burns, Sawing};
use crate::fault::Fault;
use crate::log::Workplace;
use crate::saw::{Setup, Solved};
use crate::units::{Area, Length, Volume};
use crate::yard::Wood;

/// What a setup does with a mix, over all of its cuts: those it does not do cost what they cost by other means
/// ([`Otherwise`]). Shares are of all cuts, and the first four of them make one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OverWood {
    /// All cuts of the mix.
    pub cuts: f64,
    /// Share of the cuts done with the spikes set once.
    pub one_setting: f64,
    /// Share done from one side by setting again.
    pub resetting: f64,
    /// Share that needs both sides.
    pub both_sides: f64,
    /// Share that cannot be cut.
    pub cannot: f64,
    /// Share done by this saw from where the sawyer may stand.
    pub done: f64,
    /// Share left lying, by this saw and by other means.
    pub left: f64,
    /// Section of all cuts.
    pub area: Area,
    /// Time with the nose's upper quadrant out of the log among branches, for each cut, the mean, s.
    pub tangle_s_per_cut: f64,
    /// How far the tip is out in that time, the mean over it; `None` where it never is.
    pub out_mean: Option<Length>,
    /// The farthest it is out in each cut, the mean over the cuts, 0 for those in which it never is.
    pub out_per_cut: Length,
    /// The farthest of all.
    pub out_worst: Length,
    /// Lifts to the bark for each cut, the mean.
    pub lifts_per_cut: f64,
    /// Force times time of the weight in the hands for each cut, the mean, N·s.
    pub hands_newton_seconds_per_cut: f64,
    /// What each cut takes of the person, the mean; its worst shares are those of all cuts. `None` where a hold has no cost
    /// that is known.
    pub effort: Option<Effort>,
    /// Share of the holding time used in a cut by the joint that uses most of it there: the mean over the cuts.
    pub used_per_cut: Option<f64>,
    /// Time in the wood at full power over the mix, s.
    pub cutting_s: f64,
    /// Time to touch down, slide off and pull back over the mix, s.
    pub resetting_s: f64,
    /// Time that cuts by other means take beside that, over the mix, s.
    pub otherwise_s: f64,
    /// Fuel for the mix.
    pub fuel: Volume,
    /// Bar oil for the mix.
    pub oil: Volume,
}

impl OverWood {
    /// True where any of the wood is cut, by this saw or by other means. Where none is, the means over all cuts are no
    /// figures of a cut.
    pub fn makes_cuts(&self) -> bool {
        self.cutting_s > 0.0
    }

    /// Time for each cut, the mean, s: in the wood, setting, and by other means.
    pub fn time_s_per_cut(&self) -> f64 {
        (self.cutting_s + self.resetting_s + self.otherwise_s) / self.cuts
    }

    /// Cuts in a day, rest as the model asks for it included; `None` where what it takes of the person is not known, or no
    /// cut is made.
    pub fn cuts_in_a_day(&self, rates: &WorkRates) -> Option<f64> {
        if !self.makes_cuts() {
            return None;
        }
        Some(rates.day_s / (self.time_s_per_cut() + self.effort?.rest_s))
    }
}

/// Puts a setup through a mix by plans, for each diameter, that the person can hold with it.
///
/// # Errors
/// A bar too short past the spikes to cut with.
pub fn over_wood(
    setup: &Setup,
    solved: &Solved,
    wood: &Wood,
    rates: &WorkRates,
    means: &OtherMeans,
) -> Result<OverWood, Fault> {
    let cuts = cuts_of(setup, solved, wood, rates)?;
    over_wood_with(setup, wood, rates, means, cuts.iter().map(Ok))
}

/// The cut of every kind of log of a wood, in the order of [`kinds`].
pub(super) fn cuts_of(
    setup: &Setup,
    solved: &Solved,
    wood: &Wood,
    rates: &WorkRates,
) -> Result<Vec<LogCut>, Fault> {
    let sawing = Sawing::new(setup, solved, wood, rates)?;
    cuts_at(&sawing, &workplaces(&sawing, wood)?, wood, rates)
}

/// Where the person can hold a saw about the logs of each diameter of a wood, in its order.
pub(super) fn workplaces(sawing: &Sawing, wood: &Wood) -> Result<Vec<Workplace>, Fault> {
    wood.logs().iter().map(|log| workplace(wood, sawing, log.diameter)).collect()
}

/// The cut of every kind of log where its workplaces are known.
pub(super) fn cuts_at(
    sawing: &Sawing,
    places: &[Workplace],
    wood: &Wood,
    rates: &WorkRates,
) -> Result<Vec<LogCut>, Fault> {
    // The tangled and the clear log of a diameter are held alike.
    let cut = |kind: LogKind| {
        let mut known = wood.logs().iter().zip(places);
        let found = known.find(|(log, _)| (log.diameter - kind.diameter).as_mm().abs() <= 0.0);
        found.map_or(Ok(LogCut::CANNOT), |(_, place)| {
            log_cut_at(wood, sawing, rates, place, kind.diameter, kind.tangled)
        })
    };
    kinds(wood).map(cut).collect()
}

/// Logs of a mix that are cut alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogKind {
    /// Diameter of the section.
    pub diameter: Length,
    /// True for those with branches behind them.
    pub tangled: bool,
    /// How many cuts; a share of a count need not be whole.
    pub cuts: f64,
}

/// Every diameter of a mix with and without tangle, thin and thick in the order of the wood.
pub fn kinds(wood: &Wood) -> impl Iterator<Item = LogKind> + '_ {
    wood.logs().iter().flat_map(|log| {
        [(true, wood.tangled_share()), (false, 1.0 - wood.tangled_share())]
            .into_iter()
            .filter(|(_, share)| *share > 0.0)
            .map(|(tangled, share)| LogKind {
                diameter: log.diameter,
                tangled,
                cuts: f64::from(log.cuts) * share,
            })
    })
}

/// The same with each kind's cut from elsewhere, in the order of [`kinds`], such as from a [`super::ReachTable`].
///
/// # Errors
/// Whatever the cuts' source refuses.
pub fn over_wood_with<'a>(
    setup: &Setup,
    wood: &Wood,
    rates: &WorkRates,
    means: &OtherMeans,
    cuts: impl Iterator<Item = Result<&'a LogCut, Fault>>,
) -> Result<OverWood, Fault> {
    let sink = Sink { wood, rates, means, burns: Burns::new(setup, rates) };
    let mut sums = Sums::new();
    for ((place, kind), cut) in kinds(wood).enumerate().zip(cuts) {
        sink.add(&mut sums, place, &kind, cut?);
    }
    Ok(sums.told(wood.cuts()))
}

/// Each kind of log of a wood by itself, in the order of [`kinds`].
pub(super) fn over_each(
    setup: &Setup,
    wood: &Wood,
    rates: &WorkRates,
    means: &OtherMeans,
    cuts: &[LogCut],
) -> Vec<OverWood> {
    let sink = Sink { wood, rates, means, burns: Burns::new(setup, rates) };
    let one = |(place, (kind, cut)): (usize, (LogKind, &LogCut))| {
        let mut sums = Sums::new();
        sink.add(&mut sums, place, &kind, cut);
        sums.told(kind.cuts)
    };
    kinds(wood).zip(cuts).enumerate().map(one).collect()
}

/// Where the cuts of one saw go: done, done by other means, or left lying.
struct Sink<'a> {
    wood: &'a Wood,
    rates: &'a WorkRates,
    means: &'a OtherMeans,
    burns: Burns,
}

impl Sink<'_> {
    fn add(&self, sums: &mut Sums, place: usize, kind: &LogKind, cut: &LogCut) {
        let (count, lifted) = (kind.cuts, self.wood.lifted_share());
        sums.sort(cut.doing, count);
        sums.area_m2 += count * section(kind.diameter).as_m2();
        let walks = self.rates.otherwise == Otherwise::OtherSide && cut.doing == Doing::BothSides;
        if cut.doing.is_done(self.wood.stand()) {
            sums.done += count;
            sums.cut(cut, &self.burns, lifted, count, 0.0);
        } else if walks {
            sums.cut(cut, &self.burns, lifted, count, self.rates.walk_round_s);
        } else if let Some((other, burns)) = self.means.cut(place) {
            sums.cut(other, burns, lifted, count, self.rates.fetch_s);
        } else {
            sums.left += count;
            sums.otherwise_s += count * self.rates.left_lying_s;
        }
    }
}

struct Sums {
    one: f64,
    again: f64,
    both: f64,
    cannot: f64,
    done: f64,
    left: f64,
    area_m2: f64,
    tangle_s: f64,
    out_m_s: f64,
    out_m: f64,
    out_worst_m: f64,
    lifts: f64,
    hands: f64,
    effort: Option<Effort>,
    used: f64,
    cutting_s: f64,
    resetting_s: f64,
    otherwise_s: f64,
    fuel_m3: f64,
    oil_m3: f64,
}

impl Sums {
    fn new() -> Self {
        Self {
            one: 0.0,
            again: 0.0,
            both: 0.0,
            cannot: 0.0,
            done: 0.0,
            left: 0.0,
            area_m2: 0.0,
            tangle_s: 0.0,
            out_m_s: 0.0,
            out_m: 0.0,
            out_worst_m: 0.0,
            lifts: 0.0,
            hands: 0.0,
            effort: Some(Effort::default()),
            used: 0.0,
            cutting_s: 0.0,
            resetting_s: 0.0,
            otherwise_s: 0.0,
            fuel_m3: 0.0,
            oil_m3: 0.0,
        }
    }

    fn sort(&mut self, doing: Doing, count: f64) {
        match doing {
            Doing::OneSetting => self.one += count,
            Doing::Resetting => self.again += count,
            Doing::BothSides => self.both += count,
            Doing::Cannot => self.cannot += count,
        }
    }

    /// So many cuts of one kind, each with so much walking besides.
    fn cut(&mut self, cut: &LogCut, burns: &Burns, lifted: f64, count: f64, walk_s: f64) {
        self.tangle_s += count * cut.tangle_s;
        self.out_m_s += count * cut.tangle_s * cut.out_mean.as_m();
        self.out_m += count * cut.out_farthest.as_m();
        self.out_worst_m = self.out_worst_m.max(cut.out_farthest.as_m());
        self.lifts += count * f64::from(cut.settings);
        let held_s = cut.cutting_s - cut.pressed_up_s;
        let weight_n = cut.hands_n_s / (cut.moving_s + cut.pressed_up_s).max(f64::MIN_POSITIVE);
        self.hands += count * (cut.hands_n_s + lifted * held_s * weight_n);
        match (&mut self.effort, &cut.effort, &cut.lifted) {
            (Some(sum), Some(carried), Some(held)) => {
                sum.add(carried, count * (1.0 - lifted));
                sum.add(held, count * lifted);
                let used = (1.0 - lifted) * carried.most() + lifted * held.most();
                self.used += count * used;
            }
            (sum, _, _) => *sum = None,
        }
        self.cutting_s += count * cut.cutting_s;
        self.resetting_s += count * cut.moving_s;
        self.otherwise_s += count * walk_s;
        self.fuel_m3 += count * (cut.cutting_s * burns.fuel_m3_s + cut.moving_s * burns.idle_m3_s);
        self.oil_m3 += count * cut.cutting_s * burns.oil_m3_s;
    }

    fn told(&self, cuts: f64) -> OverWood {
        OverWood {
            cuts,
            one_setting: self.one / cuts,
            resetting: self.again / cuts,
            both_sides: self.both / cuts,
            cannot: self.cannot / cuts,
            done: self.done / cuts,
            left: self.left / cuts,
            area: Area::from_m2(self.area_m2),
            tangle_s_per_cut: self.tangle_s / cuts,
            out_mean: (self.tangle_s > 0.0).then(|| Length::from_m(self.out_m_s / self.tangle_s)),
            out_per_cut: Length::from_m(self.out_m / cuts),
            out_worst: Length::from_m(self.out_worst_m),
            lifts_per_cut: self.lifts / cuts,
            hands_newton_seconds_per_cut: self.hands / cuts,
            effort: self.effort.map(|effort| effort.over(cuts)),
            used_per_cut: self.effort.map(|_| self.used / cuts),
            cutting_s: self.cutting_s,
            resetting_s: self.resetting_s,
            otherwise_s: self.otherwise_s,
            fuel: Volume::from_m3(self.fuel_m3),
            oil: Volume::from_m3(self.oil_m3),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::measure::{Better, Measure};
    use super::*;
    use crate::file;
    use crate::saw::solve;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(crate::few_cases::few_cases(24))]

        /// Leaving one more kind of log lying betters nothing, unless the cut itself was worse than as bad as it gets.
        #[test]
        fn law_one_more_cut_left_lying_betters_no_measure(
            setup in 0_usize..8, wood in 0_usize..4, left in prop::collection::vec(any::<bool>(), 20), one in 0_usize..20
        ) {
            let yard = file::demo().unwrap();
            let (setup, wood) = (&yard.setups()[setup], &yard.woods()[wood]);
            let rates = WorkRates { otherwise: Otherwise::LeftLying, ..WorkRates::default() };
            let solved = solve(setup);
            let cuts = cuts_of(setup, &solved, wood, &rates).unwrap();
            let one = one % cuts.len();
            let over = |skip: bool| {
                let cuts = cuts.iter().enumerate().map(|(place, cut)| {
                    let lies = left[place] && place != one || skip && place == one;
                    Ok(if lies { &LogCut::CANNOT } else { cut })
                });
                over_wood_with(setup, wood, &rates, &OtherMeans::default(), cuts).unwrap()
            };
            let alone = &over_each(setup, wood, &rates, &OtherMeans::default(), &cuts)[one];
            let (done, skipped) = (over(false), over(true));
            prop_assume!(cuts[one].doing.is_done(wood.stand()));
            prop_assert!(skipped.left > done.left);
            for measure in Measure::ALL {
                let bad = if measure == Measure::Time { rates.left_lying_s } else { measure.common_anchors().bad() };
                let (Some(own), Some(done), Some(skipped)) = (
                    measure.value(&solved, alone), measure.value(&solved, &done), measure.value(&solved, &skipped)
                ) else { continue };
                if measure.better() == Better::More || own <= bad {
                    prop_assert!(
                        measure.cost(skipped) >= measure.cost(done) - 1e-9,
                        "{measure:?}: {done} done, {skipped} left lying"
                    );
                }
            }
        }
    }
}
