//! What a bent back holds: the moment about the lowest disc, whose part of it is whose, and the force on the disc.

use super::super::ranges as body_ranges;
use super::ranges as hold_ranges;
use super::strength::People;
use crate::fault::{Checker, Fault};
use crate::units::{Angle, Force, Length, Mass, STANDARD_GRAVITY_M_S2, Torque};

/// Lever of the muscles that straighten the back about the lowest disc, m: worked textbook example, as quoted by others.
pub(super) const MUSCLE_LEVER_M: f64 = 0.05;
/// Where the lowest disc lies from the hips to the shoulders, as a share of the way: our guess, near usual models.
pub(super) const DISC_ALONG_TRUNK: f64 = 0.2;

/// The line above which a task should be designed anew: NIOSH 1981 (Pub. 81-122), as quoted by others.
pub const DISC_DESIGN_LINE: Force = Force::from_n(3400.0);
/// The line that should never be passed: NIOSH 1981 (Pub. 81-122), as quoted by others.
pub const DISC_UPPER_LINE: Force = Force::from_n(6400.0);

impl People {
    /// Moment of the body above the lowest disc, arms hanging, over weight × stature × sin of the bend: computed from
    /// de Leva 1996.
    const fn moment_share(self) -> f64 {
        match self {
            Self::Men => 0.0955,
            Self::Women => 0.0883,
        }
    }

    /// Share of the body's weight above the lowest disc: head, both arms, upper and middle trunk by de Leva 1996, Table
    /// 4, the parts of the trunk from memory (with the lower one, .1117 and .1247, they make its whole of .4346 and
    /// .4257).
    const fn weight_above(self) -> f64 {
        match self {
            Self::Men => 0.0694 + 2.0 * (0.0271 + 0.0162 + 0.0061) + 0.1596 + 0.1633,
            Self::Women => 0.0668 + 2.0 * (0.0255 + 0.0138 + 0.0056) + 0.1545 + 0.1465,
        }
    }
}

/// Where a force on the disc lies against the two published lines. They were drawn for lifting by hand, so that they
/// compare here and judge nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum DiscLine {
    /// Below [`DISC_DESIGN_LINE`].
    UnderDesign,
    /// From there to [`DISC_UPPER_LINE`].
    OverDesign,
    /// Above that.
    OverUpper,
}

impl DiscLine {
    /// Where a force lies.
    pub fn of(compression: Force) -> Self {
        if compression < DISC_DESIGN_LINE {
            Self::UnderDesign
        } else if compression <= DISC_UPPER_LINE {
            Self::OverDesign
        } else {
            Self::OverUpper
        }
    }
}

/// The force along the spine on the lowest disc, from the moment that the back's muscles hold with a lever of 50 mm and
/// the weight above the disc with what the hands carry, at this bend.
pub fn disc_compression(moment: Torque, weight_above_and_hands: Force, bend: Angle) -> Force {
    Force::from_n(
        moment.as_n_m().abs() / MUSCLE_LEVER_M + weight_above_and_hands.as_n() * bend.as_rad().cos(),
    )
}

/// The trunk of a person.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trunk {
    people: People,
    stature_m: f64,
    weight_n: f64,
    hip_to_shoulder_m: f64,
}

/// What a back holds. Moments are positive where the back has to be straightened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackLoad {
    /// From the bent body, its arms hanging.
    pub bend: Torque,
    /// From the arms' own weight being stretched ahead.
    pub arms: Torque,
    /// From what the hands carry.
    pub saw: Torque,
    /// Force on the lowest disc.
    pub compression: Force,
}

impl BackLoad {
    /// The whole moment.
    pub fn moment(&self) -> Torque {
        self.bend + self.arms + self.saw
    }

    /// The shares of the body and of the saw in the moment, 1 together; `None` where one of them relieves the back.
    pub fn body_and_saw(&self) -> Option<(f64, f64)> {
        let body = self.bend + self.arms;
        let whole = self.moment();
        (body >= Torque::ZERO && self.saw >= Torque::ZERO && whole > Torque::ZERO)
            .then(|| (body / whole, self.saw / whole))
    }
}

impl Trunk {
    /// The trunk of a person of this stature and mass.
    ///
    /// # Errors
    /// A fault for each number outside its range in [`crate::person::ranges`] or [`hold::ranges`](super::ranges).
    pub fn new(
        people: People,
        stature: Length,
        body_mass: Mass,
        hip_to_shoulder: Length,
    ) -> Result<Self, Vec<Fault>> {
        let mut check = Checker::new("", "trunk");
        check.number("stature_mm", &body_ranges::STATURE, stature.as_mm());
        check.number("body_mass_kg", &body_ranges::BODY_MASS, body_mass.as_kg());
        check.number("hip_to_shoulder_mm", &hold_ranges::TRUNK, hip_to_shoulder.as_mm());
        check.finish(Self {
            people,
            stature_m: stature.as_m(),
            weight_n: body_mass.as_kg() * STANDARD_GRAVITY_M_S2,
            hip_to_shoulder_m: hip_to_shoulder.as_m(),
        })
    }

    /// How far the shoulder is ahead of the lowest disc at this bend, m.
    pub fn shoulder_ahead_m(&self, bend: Angle) -> f64 {
        (1.0 - DISC_ALONG_TRUNK) * self.hip_to_shoulder_m * bend.as_rad().sin()
    }

    /// What the back holds at this bend, with the moment of both arms' own weight about the shoulders and, for each
    /// hand, its force (lifting positive) and how far its grip is ahead of the shoulder in metres.
    pub fn load(&self, bend: Angle, arms_ahead: Torque, hands: [(Force, f64); 2]) -> BackLoad {
        let body = self.weight_n * self.stature_m * bend.as_rad().sin() * self.people.moment_share();
        let ahead_m = self.shoulder_ahead_m(bend);
        let saw: f64 = hands.iter().map(|(force, grip_m)| force.as_n() * (ahead_m + grip_m)).sum();
        let carried: f64 = hands.iter().map(|(force, _)| force.as_n()).sum();
        let above = Force::from_n(self.people.weight_above() * self.weight_n + carried);
        let (bend_moment, saw) = (Torque::from_n_m(body), Torque::from_n_m(saw));
        let compression = disc_compression(bend_moment + arms_ahead + saw, above, bend);
        BackLoad { bend: bend_moment, arms: arms_ahead, saw, compression }
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use approx::{assert_abs_diff_eq, assert_relative_eq};
    use proptest::prelude::*;

    const NO_HANDS: [(Force, f64); 2] = [(Force::ZERO, 0.0); 2];

    fn deg(value: f64) -> Angle {
        Angle::from_deg(value)
    }

    pub fn mean_man() -> Trunk {
        // ANSUR II (Gordon et al. 2014, NATICK/TR-15/007): 1.756 m, 85.5 kg; trunk .286 of the stature.
        let stature = Length::from_m(1.756);
        Trunk::new(People::Men, stature, Mass::from_kg(85.5), stature * 0.286).unwrap()
    }

    #[test]
    fn a_lift_presses_the_disc_as_in_the_worked_example() {
        // Worked textbook example, as quoted by others: 20 kg at .40 m and 40 kg at .20 m, 45°, muscles at .05 m, g
        // 9.81: 157.0 N·m, 3555 N; with the load at .25 m 127.5 N·m, 2967 N. Both printed to the last digit shown.
        const G: f64 = 9.81;
        for (load_at_m, n_m, n) in [(0.40, 157.0, 3555.0), (0.25, 127.5, 2967.0)] {
            let moment = G * (20.0 * load_at_m + 40.0 * 0.20);
            assert_abs_diff_eq!(moment, n_m, epsilon = 0.05);
            let pressed = disc_compression(Torque::from_n_m(moment), Force::from_n(60.0 * G), deg(45.0));
            assert_abs_diff_eq!(pressed.as_n(), n, epsilon = 0.5);
        }
    }

    #[test]
    fn twelve_kilograms_reach_the_design_line_as_in_the_worked_example() {
        // Same example: 40 kg at .25 m, load at .50 m, 60°: 3400 N at 12 kg, by the formula 12.05.
        const G: f64 = 9.81;
        let pressed = |kg: f64| {
            let moment = Torque::from_n_m(G * (40.0 * 0.25 + kg * 0.50));
            disc_compression(moment, Force::from_n((40.0 + kg) * G), deg(60.0))
        };
        assert!(pressed(12.0) < DISC_DESIGN_LINE && pressed(12.1) > DISC_DESIGN_LINE);
        assert_abs_diff_eq!(pressed(12.05).as_n(), 3400.0, epsilon = 1.0);
        assert_eq!(DiscLine::of(pressed(12.0)), DiscLine::UnderDesign);
        assert_eq!(DiscLine::of(pressed(12.1)), DiscLine::OverDesign);
        assert_eq!(DiscLine::of(DISC_UPPER_LINE), DiscLine::OverDesign);
        assert_eq!(DiscLine::of(Force::from_n(6401.0)), DiscLine::OverUpper);
    }

    #[test]
    fn a_man_bent_forty_degrees_holds_himself_and_then_a_saw() {
        // Computed outside from de Leva 1996: 90.4 N·m, 2122 N; with 83 N at .45 m from the disc 127.7 N·m, 2933 N. K is
        // given to three digits, so a moment of 90 is known to .05 N·m; over the lever of .05 m that is 1 N, and half a
        // newton more is the last digit's.
        const OF_K: f64 = 0.05 + 0.05;
        const OF_K_OVER_LEVER: f64 = 1.0 + 0.5;
        let trunk = mean_man();
        let empty = trunk.load(deg(40.0), Torque::ZERO, NO_HANDS);
        assert_abs_diff_eq!(empty.moment().as_n_m(), 90.4, epsilon = OF_K);
        assert_abs_diff_eq!(empty.compression.as_n(), 2122.0, epsilon = OF_K_OVER_LEVER);
        let from_shoulder_m = 0.45 - trunk.shoulder_ahead_m(deg(40.0));
        let hands = [(Force::from_n(83.0), from_shoulder_m), (Force::ZERO, 0.0)];
        let with_saw = trunk.load(deg(40.0), Torque::ZERO, hands);
        assert_abs_diff_eq!(with_saw.moment().as_n_m(), 127.7, epsilon = OF_K);
        assert_abs_diff_eq!(with_saw.compression.as_n(), 2933.0, epsilon = OF_K_OVER_LEVER);
        let (body, saw) = with_saw.body_and_saw().unwrap();
        assert!(body > saw, "the bend costs more than the saw: {body} and {saw}");
        assert_relative_eq!(body + saw, 1.0, max_relative = 1e-14);
    }

    #[test]
    fn the_trunks_parts_make_the_whole() {
        // De Leva 1996, Table 4: trunk .4346 and .4257; legs .1416 + .0433 + .0137 and .1478 + .0481 + .0129 each; the
        // table of women sums to .9999.
        let legs = [2.0 * (0.1416 + 0.0433 + 0.0137), 2.0 * (0.1478 + 0.0481 + 0.0129)];
        assert_abs_diff_eq!(People::Men.weight_above() + 0.1117 + legs[0], 1.0, epsilon = 1e-12);
        assert_abs_diff_eq!(People::Women.weight_above() + 0.1247 + legs[1], 0.9999, epsilon = 1e-12);
    }

    #[test]
    fn upright_with_empty_hands_a_back_holds_only_weight() {
        let load = mean_man().load(deg(0.0), Torque::ZERO, NO_HANDS);
        assert_eq!(load.moment(), Torque::ZERO);
        assert_eq!(load.body_and_saw(), None);
        assert_relative_eq!(load.compression.as_n(), 0.4911 * 85.5 * 9.806_65, max_relative = 1e-12);
    }

    #[test]
    fn a_body_that_is_none_is_refused_with_every_fault() {
        let faults =
            Trunk::new(People::Men, Length::from_mm(9.0), Mass::from_kg(f64::NAN), Length::ZERO).unwrap_err();
        assert_eq!(faults.len(), 3, "{faults:?}");
        assert!(faults.iter().all(|fault| fault.message.contains("outside")), "{faults:?}");
    }

    proptest! {
        #[test]
        fn law_a_back_is_linear_in_the_hands_forces(
            bend in 0.0..90.0_f64, front in -50.0..150.0_f64, rear in -50.0..50.0_f64, factor in 0.0..3.0_f64,
        ) {
            let at = |factor: f64| {
                let hands = [(Force::from_n(front * factor), 0.4), (Force::from_n(rear * factor), 0.1)];
                mean_man().load(deg(bend), Torque::from_n_m(9.0), hands)
            };
            let linear = at(0.0).moment() + (at(1.0).moment() - at(0.0).moment()) * factor;
            assert_abs_diff_eq!(linear.as_n_m(), at(factor).moment().as_n_m(), epsilon = 1e-10);
        }

        #[test]
        fn law_a_deeper_bend_costs_more(bend in 0.0..80.0_f64, more in 0.1..10.0_f64, grip_m in 0.0..0.5_f64) {
            let load = |bend| mean_man().load(deg(bend), Torque::ZERO, [(Force::from_n(70.0), grip_m), (Force::ZERO, 0.0)]);
            prop_assert!(load(bend).moment() < load(bend + more).moment());
        }
    }
}
