//! What many holds, one after the other, take of the time a person can hold.

use super::cost::{HoldCost, Place};
use super::time::{HoldingTime, Muscles, holding_time, rohmert_time_s};
use std::fmt;

/// One hold of some length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeldFor {
    /// Share of the strength.
    pub share: f64,
    /// How long, s.
    pub seconds: f64,
}

/// Why holds have no sum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum UsedError {
    /// This share of the strength cannot be held at all.
    BeyondStrength(f64),
    /// A share or a time is below zero or not a number.
    NotANumber,
}

impl fmt::Display for UsedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BeyondStrength(share) => write!(f, "{:.0} % is more than this strength", 100.0 * share),
            Self::NotANumber => write!(f, "a share or a time of a hold is below zero or not a number"),
        }
    }
}

impl std::error::Error for UsedError {}

/// The share of the holding time that these holds use: the sum of each one's time over the time it can be held. At 1
/// the average person has to let go.
///
/// That shares of time add up, and that nothing is won back between holds, is our guess; it is on the careful side.
/// A hold below a tenth of the strength uses nothing.
///
/// # Errors
/// At the first hold that cannot be held or is none.
pub fn share_of_time_used(
    muscles: Muscles,
    holds: impl IntoIterator<Item = HeldFor>,
) -> Result<f64, UsedError> {
    let used = |hold: HeldFor| {
        if !(hold.seconds.is_finite() && hold.seconds >= 0.0) {
            return Err(UsedError::NotANumber);
        }
        match holding_time(muscles, hold.share).ok_or(UsedError::NotANumber)? {
            HoldingTime::Lasts(endures) => Ok(hold.seconds / endures.seconds),
            HoldingTime::NotTheEnd => Ok(0.0),
            HoldingTime::BeyondStrength => Err(UsedError::BeyondStrength(hold.share)),
        }
    };
    holds.into_iter().map(used).sum()
}

/// The share of the holding time that each joint of the arms uses over a cut, from what each hold costs and its
/// seconds. A joint that a hand pushes down with uses nothing, since no strength was measured for it.
pub fn used_over_cut(holds: &[(HoldCost, f64)]) -> [(Place, Result<f64, UsedError>); 4] {
    Place::ARMS.map(|place| {
        let held = holds.iter().filter_map(|(cost, seconds)| {
            let share = cost.joint(place)?.holding?.share;
            Some(HeldFor { share, seconds: *seconds })
        });
        (place, share_of_time_used(place.muscles(), held))
    })
}

/// Seconds of rest after `held_s` seconds at this share of strength, by Rohmert 1973, from memory: a rest of
/// `18·(t/T)^1.4·(f − .15)^.5` times the hold, with `T` of [`rohmert_time_s`].
///
/// `None` outside the shares of [`rohmert_time_s`], and for a hold longer than `T` or below zero.
pub fn rest_after_s(share: f64, held_s: f64) -> Option<f64> {
    let longest_s = rohmert_time_s(share)?;
    let allowance = 18.0 * (held_s / longest_s).powf(1.4) * (share - 0.15).sqrt();
    (0.0..=longest_s).contains(&held_s).then_some(allowance * held_s)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::{assert_abs_diff_eq, assert_relative_eq};
    use proptest::prelude::*;

    fn held(share: f64, seconds: f64) -> HeldFor {
        HeldFor { share, seconds }
    }

    #[test]
    fn a_hold_to_its_end_uses_all_and_halves_add_up() {
        // Frey Law & Avin 2010: shoulder at .5 holds 52.84 s.
        let end_s = 14.86 * 0.5_f64.powf(-1.83);
        let used = |holds: &[HeldFor]| share_of_time_used(Muscles::Shoulder, holds.iter().copied());
        assert_relative_eq!(used(&[held(0.5, end_s)]).unwrap(), 1.0, max_relative = 1e-14);
        let two = used(&[held(0.5, 0.25 * end_s), held(0.5, 0.5 * end_s)]).unwrap();
        assert_relative_eq!(two, 0.75, max_relative = 1e-14);
        assert_eq!(used(&[]), Ok(0.0));
        assert_eq!(used(&[held(0.05, 1e4)]), Ok(0.0));
    }

    #[test]
    fn what_cannot_be_held_or_is_no_hold_is_refused() {
        let used = |hold| share_of_time_used(Muscles::Elbow, [held(0.3, 10.0), hold]);
        assert_eq!(used(held(1.2, 1.0)), Err(UsedError::BeyondStrength(1.2)));
        assert_eq!(used(held(-0.1, 1.0)), Err(UsedError::NotANumber));
        assert_eq!(used(held(0.3, -1.0)), Err(UsedError::NotANumber));
        assert_eq!(used(held(0.3, f64::NAN)), Err(UsedError::NotANumber));
        assert_eq!(UsedError::BeyondStrength(1.2).to_string(), "120 % is more than this strength");
    }

    #[test]
    fn rest_after_half_the_longest_hold_at_half_the_strength() {
        // Worked from the formula (Rohmert 1973, from memory): T 66 s, held 33 s; 18 · .5^1.4 · .35^.5 = 4.0352.
        assert_abs_diff_eq!(rest_after_s(0.5, 33.0).unwrap() / 33.0, 4.035_2, epsilon = 0.000_05);
        assert_eq!(rest_after_s(0.5, 0.0), Some(0.0));
        assert_eq!(rest_after_s(0.5, 66.1), None);
        assert_eq!(rest_after_s(0.15, 1.0), None);
        assert_eq!(rest_after_s(0.5, f64::NAN), None);
        assert_eq!(rest_after_s(0.5, -1.0), None);
    }

    proptest! {
        #[test]
        fn law_longer_or_heavier_holds_use_more_and_want_more_rest(
            share in 0.2..0.9_f64, seconds in 1.0..5.0_f64, more in 1.01..1.1_f64,
        ) {
            for muscles in Muscles::ALL {
                let used = |share, seconds| share_of_time_used(muscles, [held(share, seconds)]).unwrap();
                prop_assert!(used(share, seconds) < used(share, seconds * more));
                prop_assert!(used(share, seconds) < used(share * more, seconds));
            }
            prop_assert!(rest_after_s(share, seconds) < rest_after_s(share, seconds * more));
            prop_assert!(rest_after_s(share, seconds) < rest_after_s(share * more, seconds));
        }
    }
}
