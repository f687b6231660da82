//! Where each number comes from that a hold is computed with.

use super::back::{DISC_ALONG_TRUNK, DISC_DESIGN_LINE, DISC_UPPER_LINE, MUSCLE_LEVER_M};
use super::cost::NEXT_TO_NOTHING;
use super::spread::STRENGTH_VARIATION;
use super::strength::{WOMEN_BACK, WOMEN_SHOULDER};
use crate::assumption::{Assumption, Size, guess, known};
use crate::mark::Mark;

/// A mark for each number whose effect a user sees.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HoldMarks {
    /// Lengths, masses and centres of the parts of the body.
    pub segments: Mark,
    /// Strength of the elbow.
    pub elbow_strength: Mark,
    /// Strength of the shoulder, and women's share of it.
    pub shoulder_strength: Mark,
    /// That an arm turned aside to its grip is as strong as one held straight forward.
    pub turned_aside: Mark,
    /// Strength of the back.
    pub back_strength: Mark,
    /// Women's share of the strength of the back.
    pub women_back: Mark,
    /// How much stronger and weaker people are than the average.
    pub spread: Mark,
    /// Holding time, and the band of half of all people.
    pub holding_time: Mark,
    /// Rohmert's holding time, the check on it.
    pub rohmert: Mark,
    /// That shares of holding time add up over a cut.
    pub time_used: Mark,
    /// Rest after a hold.
    pub rest: Mark,
    /// Moment of the bent body.
    pub bend_moment: Mark,
    /// Place of the lowest disc.
    pub disc_place: Mark,
    /// Lever of the back's muscles.
    pub muscle_lever: Mark,
    /// Weight above the disc.
    pub weight_above: Mark,
    /// The two lines that the force on the disc is compared with.
    pub disc_lines: Mark,
}

const DE_LEVA: &str = "de Leva 1996, J. Biomech. 29(9):1223–1230, Table 4";
const FREY_LAW: &str = "Frey Law & Avin 2010, Ergonomics 53(1):109–129, Table 2";

/// The marks.
pub const HOLD_MARKS: HoldMarks = HoldMarks {
    segments: Mark::SecondHand(DE_LEVA),
    elbow_strength: Mark::FromMemory("Stobbe 1982, in Chaffin & Andersson, Occupational Biomechanics"),
    shoulder_strength: Mark::Published(
        "Dynamic shoulder flexion strength for use in occupational risk analysis, abstract",
    ),
    turned_aside: Mark::OurGuess,
    back_strength: Mark::Published(
        "J. Electromyogr. Kinesiol. 2012;22(6):814–820, Table 2, after Chaffin 1999",
    ),
    women_back: Mark::OurGuess,
    spread: Mark::SecondHand("La Delfa & Potvin 2017, Appl. Ergon. 59:410–421"),
    holding_time: Mark::SecondHand(FREY_LAW),
    rohmert: Mark::SecondHand("Rohmert 1960"),
    time_used: Mark::OurGuess,
    rest: Mark::FromMemory("Rohmert 1973"),
    bend_moment: Mark::SecondHand(DE_LEVA),
    disc_place: Mark::OurGuess,
    muscle_lever: Mark::SecondHand("worked textbook example"),
    weight_above: Mark::FromMemory(DE_LEVA),
    disc_lines: Mark::SecondHand("NIOSH 1981, Pub. 81-122"),
};

impl HoldMarks {
    /// What each number is, in plain words, with its size and mark, in the order in which it is told.
    pub const fn list(&self) -> [Assumption; 19] {
        [
            known("lengths and weights of the body's parts", Size::Many, self.segments),
            known("strength of the elbow", Size::Many, self.elbow_strength),
            known("strength of the shoulder", Size::Many, self.shoulder_strength),
            known("women's share of it", Size::Share(WOMEN_SHOULDER), self.shoulder_strength),
            known("an arm turned aside as strong as one straight ahead", Size::Many, self.turned_aside),
            known("strength of the back", Size::Many, self.back_strength),
            known("women's share of the back's", Size::Share(WOMEN_BACK), self.women_back),
            known("how strengths differ, share of the mean", Size::Share(STRENGTH_VARIATION), self.spread),
            known("holding time", Size::Many, self.holding_time),
            known("the check on holding time", Size::Many, self.rohmert),
            known("holds of a cut added up, nothing won back between them", Size::Many, self.time_used),
            known("rest after a hold", Size::Many, self.rest),
            known("moment of the bent body", Size::Many, self.bend_moment),
            known(
                "place of the lowest disc, share of the trunk",
                Size::Share(DISC_ALONG_TRUNK),
                self.disc_place,
            ),
            known("lever of the back's muscles", Size::Length(MUSCLE_LEVER_M), self.muscle_lever),
            known("weight above the disc", Size::Many, self.weight_above),
            known(
                "lower line for the force on the disc",
                Size::In(DISC_DESIGN_LINE.as_n(), "N"),
                self.disc_lines,
            ),
            known("upper line for it", Size::In(DISC_UPPER_LINE.as_n(), "N"), self.disc_lines),
            guess("a moment that is next to nothing, share of the strength", Size::Share(NEXT_TO_NOTHING)),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_mark_is_listed_once_under_its_own_name() {
        let list = HOLD_MARKS.list();
        for (at, Assumption { what, mark, .. }) in list.iter().enumerate() {
            assert!(list[at + 1..].iter().all(|other| other.what != *what), "{what} twice");
            assert!(mark.source().is_some() || *mark == Mark::OurGuess, "{what}: {mark}");
        }
        // The struct's pattern fails to compile where a field is added and not looked for here.
        let HoldMarks {
            segments,
            elbow_strength,
            shoulder_strength,
            turned_aside,
            back_strength,
            women_back,
            spread,
            holding_time,
            rohmert,
            time_used,
            rest,
            bend_moment,
            disc_place,
            muscle_lever,
            weight_above,
            disc_lines,
        } = HOLD_MARKS;
        for mark in [
            segments,
            elbow_strength,
            shoulder_strength,
            turned_aside,
            back_strength,
            women_back,
            spread,
            holding_time,
            rohmert,
            time_used,
            rest,
            bend_moment,
            disc_place,
            muscle_lever,
            weight_above,
            disc_lines,
        ] {
            assert!(list.iter().any(|one| one.mark == mark), "{mark}");
        }
    }
}
