//! The same bands by drawing: a check of the linear ones, and of how crooked a figure is.

use super::bands::Bands;
use super::knowledge::{Knowledge, filled};
use super::saw_model::{Figure, SawModel};
use crate::saw::Setup;
use crate::units::{Angle, Force, Inertia, Length, Mass, Torque};
use crate::yard::SawMeasure;
use nalgebra::{DVector, SymmetricEigen};

/// Figures of one setup over many draws of what is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// Mean and standard deviation of the weight ready to work.
    pub ready_mass: (Mass, Mass),
    /// Mean and standard deviation of the hang angle, over the draws that hang at all.
    pub hang: (Angle, Angle),
    /// Mean and standard deviation of the load in the front hand, the saw level.
    pub front_hand: (Force, Force),
    /// Mean and standard deviation of the load in the rear hand, the saw level.
    pub rear_hand: (Force, Force),
    /// Mean and standard deviation of the nose moment.
    pub nose_moment: (Torque, Torque),
    /// Mean and standard deviation of the inertia about the front grip.
    pub swing_inertia: (Inertia, Inertia),
    /// Mean and standard deviation of the reach past the spikes.
    pub reach: (Length, Length),
    /// Share of the draws in which the saw has a stable hang.
    pub hangs: f64,
}

/// Draws the numbers of `knowledge` from a normal distribution of its covariance (JCGM 101:2008, 6.4.8) and computes
/// the figures of each setup anew. The same seed draws the same numbers.
pub fn draw(knowledge: &Knowledge, setups: &[&Setup], draws: u32, seed: u64) -> Vec<Drawn> {
    let eigen = SymmetricEigen::new(knowledge.covariance().clone());
    // A covariance may be short of rank; its square root by eigenvalues then still exists.
    let mut root = eigen.eigenvectors;
    for (mut column, value) in root.column_iter_mut().zip(eigen.eigenvalues.iter()) {
        column *= value.max(0.0).sqrt();
    }
    let mut normal = Normal::new(seed);
    let mut saws: Vec<_> = setups
        .iter()
        .map(|setup| (SawModel::new(setup), knowledge.slots(setup), [Moments::default(); FIGURES.len()]))
        .collect();
    let mut standard = DVector::zeros(knowledge.values().len());
    let mut values = knowledge.values().clone();
    for _ in 0..draws {
        standard.iter_mut().for_each(|entry| *entry = normal.next());
        values.copy_from(knowledge.values());
        values.gemv(1.0, &root, &standard, 1.0);
        for (model, slots, moments) in &mut saws {
            let own = filled(model.values(), slots, &values);
            for (moments, figure) in moments.iter_mut().zip(FIGURES) {
                moments.add(model.figure(figure, &own).map(|(value, _)| value));
            }
        }
    }
    saws.iter().map(|(_, _, moments)| told(moments, draws)).collect()
}

/// Draws against which bands are held.
pub const DRAWS: u32 = 10_000;
/// Where they begin: the same for everyone who asks.
pub const DRAW_SEED: u64 = 1;
/// An uncertainty below these shows as nothing; shares of it mean nothing either.
const LEAST_HANG: Angle = Angle::from_deg(1e-4);
const LEAST_MASS: Mass = Mass::from_kg(1e-6);

/// The linear bands of setups against [`DRAWS`] draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DrawCheck {
    /// The farthest that a band's width and the draws' spread are apart, as a share of the draws' spread.
    pub apart: f64,
    /// The smallest share of the draws in which a saw hangs at all.
    pub hangs: f64,
}

impl DrawCheck {
    /// Holds bands against draws of the same setups.
    pub fn of<'a>(held: impl IntoIterator<Item = (&'a Bands, &'a Drawn)>) -> Self {
        held.into_iter().fold(Self { apart: 0.0, hangs: 1.0 }, |worst, (bands, drawn)| Self {
            apart: worst.apart.max(apart(bands, drawn)),
            hangs: worst.hangs.min(drawn.hangs),
        })
    }
}

fn apart(bands: &Bands, drawn: &Drawn) -> f64 {
    let share =
        |band: f64, drawn: f64, least: f64| if drawn > least { (band / drawn - 1.0).abs() } else { 0.0 };
    let hang =
        bands.hang.map_or(0.0, |band| share(band.as_rad(), drawn.hang.1.as_rad(), LEAST_HANG.as_rad()));
    let mass = bands
        .ready_mass
        .map_or(0.0, |band| share(band.as_kg(), drawn.ready_mass.1.as_kg(), LEAST_MASS.as_kg()));
    hang.max(mass)
}

/// What is drawn, in the order of [`Drawn`]'s fields.
const FIGURES: [Figure; 7] = [
    Figure::Measured(SawMeasure::Total),
    Figure::Measured(SawMeasure::Hang),
    Figure::Measured(SawMeasure::FrontGrip { nose_up: Angle::ZERO }),
    Figure::Measured(SawMeasure::RearGrip { nose_up: Angle::ZERO }),
    Figure::NoseMoment,
    Figure::SwingInertia,
    Figure::Measured(SawMeasure::Reach),
];

fn told(moments: &[Moments; FIGURES.len()], draws: u32) -> Drawn {
    fn pair<T>(moments: Moments, of: impl Fn(f64) -> T) -> (T, T) {
        (of(moments.mean), of(moments.deviation()))
    }
    let [mass, hang, front, rear, moment, inertia, reach] = *moments;
    Drawn {
        ready_mass: pair(mass, Mass::from_kg),
        hang: pair(hang, Angle::from_rad),
        front_hand: pair(front, Force::from_kgf),
        rear_hand: pair(rear, Force::from_kgf),
        nose_moment: pair(moment, Torque::from_n_m),
        swing_inertia: pair(inertia, Inertia::from_kg_m2),
        reach: pair(reach, Length::from_m),
        hangs: if draws == 0 { 0.0 } else { hang.count / f64::from(draws) },
    }
}

/// Mean and spread of a stream (Welford 1962, as in Knuth, TAOCP 2, 4.2.2).
#[derive(Clone, Copy, Debug, Default)]
struct Moments {
    count: f64,
    mean: f64,
    squares: f64,
}

impl Moments {
    fn add(&mut self, value: Option<f64>) {
        let Some(value) = value else { return };
        self.count += 1.0;
        let off = value - self.mean;
        self.mean += off / self.count;
        self.squares += off * (value - self.mean);
    }

    fn deviation(&self) -> f64 {
        if self.count < 2.0 { 0.0 } else { (self.squares / (self.count - 1.0)).sqrt() }
    }
}

/// Standard normal numbers: Marsaglia's polar method over SplitMix64.
#[derive(Debug)]
struct Normal {
    state: u64,
    spare: Option<f64>,
}

impl Normal {
    const fn new(seed: u64) -> Self {
        Self { state: seed, spare: None }
    }

    /// Even over 0 to 1.
    fn even(&mut self) -> f64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        // The upper 53 bits are a whole number that a float holds exactly.
        #[expect(clippy::cast_precision_loss, reason = "53 bits")]
        let whole = ((z ^ (z >> 31)) >> 11) as f64;
        whole / 9_007_199_254_740_992.0
    }

    fn next(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let (a, b) = (2.0 * self.even() - 1.0, 2.0 * self.even() - 1.0);
            let square = a * a + b * b;
            if square > 0.0 && square < 1.0 {
                let factor = (-2.0 * square.ln() / square).sqrt();
                self.spare = Some(b * factor);
                return a * factor;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_drawn_numbers_are_normal() {
        let mut normal = Normal::new(7);
        let draws: Vec<f64> = (0..100_000).map(|_| normal.next()).collect();
        let share = |most: f64| {
            let within = draws.iter().filter(|value| value.abs() < most).count();
            f64::from(u32::try_from(within).unwrap()) / 1e5
        };
        let mean = draws.iter().sum::<f64>() / 1e5;
        // Five standard errors of a mean and of a share over 100 000 draws.
        assert!(mean.abs() < 5.0 / 316.2, "{mean}");
        for (most, normal_share) in [(1.0, 0.682_689), (1.959_964, 0.95), (3.0, 0.997_300)] {
            let error = (normal_share * (1.0 - normal_share) / 1e5_f64).sqrt();
            assert!((share(most) - normal_share).abs() < 5.0 * error, "{} within {most}", share(most));
        }
    }

    #[test]
    fn a_band_twice_as_wide_as_the_draws_is_apart_by_all_of_them() {
        let yard = crate::file::demo().unwrap();
        let setup = yard.setup("Bittern B24").unwrap();
        let knowledge = Knowledge::of(&yard, [setup]);
        let drawn = draw(&knowledge, &[setup], DRAWS, DRAW_SEED).remove(0);
        let (mass, hang) = (Some(drawn.ready_mass.1), Some(drawn.hang.1));
        let same = Bands { ready_mass: mass, hang, ..knowledge.bands(setup) };
        let twice = Bands { hang: hang.map(|hang| hang * 2.0), ..same };
        let check = |bands: &Bands| DrawCheck::of([(bands, &drawn)]);
        assert!(check(&same).apart < 1e-12, "{:?}", check(&same));
        assert!((check(&twice).apart - 1.0).abs() < 1e-12, "{:?}", check(&twice));
        assert_eq!(DrawCheck::of([(&same, &drawn), (&twice, &drawn)]), check(&twice), "the worst counts");
        assert_eq!(DrawCheck::of([]), DrawCheck { apart: 0.0, hangs: 1.0 }, "nothing drawn, nothing apart");
    }
}
