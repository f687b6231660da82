//! Where each number comes from that a cut is planned and reckoned with.

use super::carry::{PHASE_TIMES_MARK, PhaseTimes};
use super::help::{LONGER_BY_M, RAISED_BY_M};
use super::job::{EYE_DISTANCE_M, SWING_RAD, TANGLE_ABOVE_M};
use super::kickback::{CHAIN_AND_DRUM, CHAIN_DRUM_AND_ENGINE, DEFAULT_CONTACT};
use super::plan::{EFFORT_STEP, HIDDEN_STEP_M, MOST_MORE, MOTION_COST};
use super::rate::{CUTTING_ENERGY_MARK, DEFAULT_KERF, DEFAULT_SPECIFIC_ENERGY_J_CM3, KERF_MARK};
use super::relief::RELIEF_SHARE;
use super::slide::BEHIND_M;
use super::stand::{FARTHEST_OVER_RAD, LOWEST_UNDER_RAD};
use super::workplace::{INTO_GROUND_M, MOST_LIFT};
use crate::assumption::{Assumption, Size, guess, known, practice};
use crate::saw::{DRIVE_EFFICIENCY, DRIVE_EFFICIENCY_MARK};

const fn last(of: &[f64]) -> f64 {
    match of {
        [.., last] => *last,
        [] => 0.0,
    }
}

/// Everything whose effect a user sees where a log is cut, beside the person's body.
pub const CUT_ASSUMPTIONS: [Assumption; 22] = {
    let (times, mark) = (PhaseTimes::COMMON, PHASE_TIMES_MARK);
    [
        known(
            "share of the engine's power at the chain",
            Size::Share(DRIVE_EFFICIENCY),
            DRIVE_EFFICIENCY_MARK,
        ),
        known("kerf", Size::Length(DEFAULT_KERF.as_m()), KERF_MARK),
        known(
            "energy to cut wood that is not said to be hard or soft",
            Size::In(DEFAULT_SPECIFIC_ENERGY_J_CM3, "J/cm³"),
            CUTTING_ENERGY_MARK,
        ),
        known("time to set the saw", Size::Time(times.touch_down_s()), mark),
        known("time to take it off", Size::Time(times.last_slide_s()), mark),
        known("time to pull back and set again", Size::Time(times.pull_back_s()), mark),
        practice("depth of the relief, share of the log", Size::Share(RELIEF_SHARE)),
        practice("over the top first, then down the side, one side finished before the other", Size::Many),
        guess("the eye from the bark", Size::Length(EYE_DISTANCE_M)),
        guess("branches above the log", Size::Length(TANGLE_ABOVE_M)),
        guess("swing of the bar either way from straight in", Size::Angle(SWING_RAD)),
        guess("bark that is tried on the far side, above its middle", Size::Angle(FARTHEST_OVER_RAD)),
        guess("bark that is tried on your side, round to", Size::Angle(LOWEST_UNDER_RAD)),
        guess("wood that a slide takes behind the spikes", Size::Length(BEHIND_M)),
        guess("the nose into the ground at the end of a cut", Size::Length(INTO_GROUND_M)),
        guess("a hand lifts with no more than the saw's weight times", Size::In(MOST_LIFT, "")),
        guess("the nose's way out of sight is compared in steps of", Size::Length(HIDDEN_STEP_M)),
        guess("settings more than the fewest, to keep the nose in sight", Size::Count(MOST_MORE)),
        guess("effort is compared in steps of, a bend squared", Size::In(EFFORT_STEP, "rad²")),
        guess("each change of motion within a setting counts", Size::In(MOTION_COST, "rad²")),
        guess("help by raising the log, at most by", Size::Length(last(&RAISED_BY_M))),
        practice("help by a longer bar, at most by", Size::Length(last(&LONGER_BY_M))),
    ]
};

/// Everything that the comparison of two setups by a snagged chain rests on.
pub const SNAG_ASSUMPTIONS: [Assumption; 3] = [
    guess("contact on the nose, from its tip towards the top", Size::Angle(DEFAULT_CONTACT.as_rad())),
    known("what the drum adds to the chain", Size::Mass(CHAIN_AND_DRUM.added.as_kg()), CHAIN_AND_DRUM.mark),
    known(
        "what drum and engine add, the clutch holding",
        Size::Mass(CHAIN_DRUM_AND_ENGINE.added.as_kg()),
        CHAIN_DRUM_AND_ENGINE.mark,
    ),
];
