//! Where each number comes from that a hold is computed with.

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
    /// What each number is, in plain words, with its mark, in the order in which a sheet lists them.
    pub fn list(&self) -> [(&'static str, Mark); 16] {
        [
            ("lengths and weights of the body's parts", self.segments),
            ("strength of the elbow", self.elbow_strength),
            ("strength of the shoulder", self.shoulder_strength),
            ("the same of an arm turned aside", self.turned_aside),
            ("strength of the back", self.back_strength),
            ("women's share of it", self.women_back),
            ("how strengths differ", self.spread),
            ("holding time", self.holding_time),
            ("the check on holding time", self.rohmert),
            ("holds of a cut added up", self.time_used),
            ("rest after a hold", self.rest),
            ("moment of the bent body", self.bend_moment),
            ("place of the lowest disc", self.disc_place),
            ("lever of the back's muscles", self.muscle_lever),
            ("weight above the disc", self.weight_above),
            ("lines for the force on the disc", self.disc_lines),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_mark_is_listed_once_under_its_own_name() {
        let list = HOLD_MARKS.list();
        for (at, (name, mark)) in list.iter().enumerate() {
            assert!(list[at + 1..].iter().all(|(other, _)| other != name), "{name} twice");
            assert!(mark.source().is_some() || *mark == Mark::OurGuess, "{name}: {mark}");
        }
        // As many as fields: the struct's pattern fails to compile where one is added and not listed here.
        let HoldMarks {
            segments: _,
            elbow_strength: _,
            shoulder_strength: _,
            turned_aside: _,
            back_strength: _,
            women_back: _,
            spread: _,
            holding_time: _,
            rohmert: _,
            time_used: _,
            rest: _,
            bend_moment: _,
            disc_place: _,
            muscle_lever: _,
            weight_above: _,
            disc_lines: _,
        } = HOLD_MARKS;
        assert_eq!(list.len(), 16);
    }
}
