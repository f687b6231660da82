//! Who plays a lesson's parts in the open yard: the setups that fit them, or what a trainer picked, or why nobody can.

use super::log::LogWidth;
use super::model::{Lesson, Step, View};
use super::role::Role;
use super::words::{Piece, Whose};
use crate::assumption::{Assumption, Size, guess};
use crate::log::limits::LOG_DIAMETER;
use crate::saw::{Construction, Setup};
use crate::units::Length;
use crate::yard::Yard;
use std::collections::BTreeMap;
use std::fmt;

/// Lengths this near are one length: two bars of one stamp differ by less when they are measured.
const ONE_LENGTH: Length = Length::from_mm(2.0);
/// A log made to the reach of a bar is so wide that one can say it.
const ROUND_LOG_MM: f64 = 10.0;

/// What is taken where a lesson finds its players in a yard.
pub const CAST_ASSUMPTIONS: [Assumption; 2] = [
    guess("bars are of one length where reach or mark differ by less than", Size::Length(ONE_LENGTH.as_m())),
    guess("a lesson's log made to a bar is rounded to", Size::Length(Length::from_mm(ROUND_LOG_MM).as_m())),
];

/// Why nobody in a yard can play a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unplayed {
    /// The head on the bench has but one length of bar.
    OneLength {
        /// The head.
        head: String,
    },
    /// No two heads have bars of one marked length.
    NoSameStamp,
    /// No head has a solid and a light bar of one marked length.
    NoLightPair,
    /// A setup would stand beside itself.
    Twice {
        /// The setup.
        setup: String,
    },
}

impl fmt::Display for Unplayed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OneLength { head } => {
                write!(f, "{head} has bars of one length alone in this yard; it takes two")
            }
            Self::NoSameStamp => write!(f, "no two heads of this yard have bars of the same marked length"),
            Self::NoLightPair => {
                write!(f, "no head of this yard has a solid and a light bar of the same marked length")
            }
            Self::Twice { setup } => write!(f, "{setup} would play two parts of it"),
        }
    }
}

/// The open yard as a company: its setups, what is on the bench, and what was picked by hand.
#[derive(Clone, Copy, Debug)]
pub struct Cast<'y> {
    yard: &'y Yard,
    bench: Option<&'y Setup>,
    picked: &'y BTreeMap<Role, String>,
}

impl<'y> Cast<'y> {
    /// `bench` names the setup on the bench; the yard's first stands in where it has none of that name. A pick that
    /// cannot play its part counts as none.
    pub fn new(yard: &'y Yard, bench: &str, picked: &'y BTreeMap<Role, String>) -> Self {
        let bench = yard.setup(bench).or_else(|| yard.setups().first());
        Self { yard, bench, picked }
    }

    /// Each step with the names of those who play in it, or why it cannot be shown.
    pub fn of(&self, lesson: &Lesson) -> Vec<Result<Step, Unplayed>> {
        lesson.steps().iter().map(|step| self.step(step)).collect()
    }

    /// One step; a step that names its setups itself stays as it is.
    ///
    /// # Errors
    /// Why nobody can play one of its parts.
    pub fn step(&self, step: &Step) -> Result<Step, Unplayed> {
        let mut played = step.clone();
        for role in &step.roles {
            played.setups.extend(self.players(*role)?.iter().map(|setup| setup.name().to_owned()));
        }
        let twice =
            |(index, name): (usize, &String)| played.setups.iter().take(index).any(|other| other == name);
        if let Some(setup) =
            played.setups.iter().enumerate().find(|place| !step.roles.is_empty() && twice(*place))
        {
            return Err(Unplayed::Twice { setup: setup.1.clone() });
        }
        let last = played.setups.len().saturating_sub(1);
        for piece in &mut played.caption {
            if let Piece::Figure(_, whose @ Whose::Last) = piece {
                *whose = Whose::Nth(last);
            }
        }
        if let View::Log(log) = &mut played.view
            && let LogWidth::Reaches { of, .. } = log.width
        {
            let by = match of {
                Some(role) => self.players(role)?.into_iter().next(),
                None => played.setups.first().and_then(|name| self.yard.setup(name)),
            };
            if let Some(setup) = by {
                log.width = LogWidth::Is(round_log(log.width.for_reach(setup.reach())));
            }
        }
        Ok(played)
    }

    /// Who plays a part.
    ///
    /// # Errors
    /// Why nobody can.
    pub fn players(&self, role: Role) -> Result<Vec<&'y Setup>, Unplayed> {
        if role == Role::EachBar {
            return self.each_bar();
        }
        let able = self.able(role)?;
        let picked = self.picked.get(&role).and_then(|name| able.iter().find(|setup| setup.name() == name));
        Ok(picked.or_else(|| self.first_choice(role, &able)).into_iter().copied().collect())
    }

    /// Who can play a part, in the yard's order.
    ///
    /// # Errors
    /// Why nobody can.
    pub fn able(&self, role: Role) -> Result<Vec<&'y Setup>, Unplayed> {
        let all = || self.yard.setups().iter();
        let able: Vec<&Setup> = match role {
            Role::OnBench => all().collect(),
            Role::Shortest | Role::Longest | Role::EachBar => {
                self.lengths()?;
                all().collect()
            }
            Role::SameStamp => all().filter(|one| all().any(|other| same_stamp(one, other))).collect(),
            Role::SameStampOtherHead => {
                let one = self.players(Role::SameStamp)?;
                all().filter(|other| one.iter().any(|one| same_stamp(one, other))).collect()
            }
            Role::Solid => all().filter(|one| all().any(|other| lighter(one, other))).collect(),
            Role::Light => {
                let one = self.players(Role::Solid)?;
                all().filter(|other| one.iter().any(|one| lighter(one, other))).collect()
            }
        };
        match role {
            Role::SameStamp | Role::SameStampOtherHead if able.is_empty() => Err(Unplayed::NoSameStamp),
            Role::Solid | Role::Light if able.is_empty() => Err(Unplayed::NoLightPair),
            _ => Ok(able),
        }
    }

    /// Where nobody was picked: the ends of the row, else what is on the bench, else its head's, else the first.
    fn first_choice<'a>(&self, role: Role, able: &'a [&'y Setup]) -> Option<&'a &'y Setup> {
        let row = self.lengths().unwrap_or_default();
        let end = match role {
            Role::Shortest => row.first(),
            Role::Longest => row.last(),
            _ => None,
        };
        let is_end = |setup: &&&Setup| end.is_some_and(|end| end.name() == setup.name());
        let on_bench = |setup: &&&Setup| self.on_bench().is_some_and(|bench| bench.name() == setup.name());
        let of_its_head = |setup: &&&Setup| self.on_bench().is_some_and(|bench| same_head(bench, setup));
        let found = able.iter().find(is_end).or_else(|| able.iter().find(on_bench));
        found.or_else(|| able.iter().find(of_its_head)).or_else(|| able.first())
    }

    /// What plays the part of the bench.
    fn on_bench(&self) -> Option<&'y Setup> {
        let picked = self.picked.get(&Role::OnBench).and_then(|name| self.yard.setup(name));
        picked.or(self.bench)
    }

    /// One setup for each length of bar of the head on the bench, the shortest first. Of one length the plain one, which
    /// grows into the next: solid before light, then as the yard has them.
    fn lengths(&self) -> Result<Vec<&'y Setup>, Unplayed> {
        let Some(bench) = self.on_bench() else { return Err(Unplayed::OneLength { head: String::new() }) };
        let mut row: Vec<&Setup> =
            self.yard.setups().iter().filter(|setup| same_head(setup, bench)).collect();
        row.sort_by(|a, b| {
            let plain = |setup: &Setup| setup.bar().construction() != Construction::Solid;
            plain(a).cmp(&plain(b))
        });
        let mut lengths: Vec<&Setup> = Vec::new();
        for setup in row {
            if !lengths.iter().any(|other| (other.reach() - setup.reach()).abs() <= ONE_LENGTH) {
                lengths.push(setup);
            }
        }
        lengths.sort_by(|a, b| a.reach().as_m().total_cmp(&b.reach().as_m()));
        if lengths.len() < 2 {
            return Err(Unplayed::OneLength { head: bench.powerhead().name().to_owned() });
        }
        Ok(lengths)
    }

    /// Four at most: the ends, and what lies evenly between.
    fn each_bar(&self) -> Result<Vec<&'y Setup>, Unplayed> {
        let lengths = self.lengths()?;
        let (_, most) = Role::EachBar.players();
        if lengths.len() <= most {
            return Ok(lengths);
        }
        let (last, gaps) = (lengths.len() - 1, most - 1);
        let places = (0..most).map(|place| (place * last + gaps / 2) / gaps);
        Ok(places.filter_map(|place| lengths.get(place).copied()).collect())
    }
}

fn same_head(a: &Setup, b: &Setup) -> bool {
    a.powerhead().name() == b.powerhead().name()
}

fn one_mark(a: &Setup, b: &Setup) -> bool {
    (a.bar().marked_length() - b.bar().marked_length()).abs() <= ONE_LENGTH
}

fn same_stamp(a: &Setup, b: &Setup) -> bool {
    !same_head(a, b) && one_mark(a, b)
}

/// True where the second is a light bar for the solid first.
fn lighter(solid: &Setup, light: &Setup) -> bool {
    same_head(solid, light)
        && one_mark(solid, light)
        && solid.bar().construction() == Construction::Solid
        && matches!(light.bar().construction(), Construction::Lightened(_))
}

fn round_log(width: Length) -> Length {
    let mm = (width.as_mm() / ROUND_LOG_MM).round() * ROUND_LOG_MM;
    Length::from_mm(mm.clamp(LOG_DIAMETER.min, LOG_DIAMETER.max))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::lesson::{built_in, parse_lesson};

    fn names(yard: &Yard, bench: &str, picked: &BTreeMap<Role, String>, role: Role) -> Vec<String> {
        let players = Cast::new(yard, bench, picked).players(role).unwrap();
        players.into_iter().map(|setup| setup.name().to_owned()).collect()
    }

    #[test]
    fn the_demo_yard_plays_every_part() {
        let (yard, none) = (demo().unwrap(), BTreeMap::new());
        let play = |role| names(&yard, "Bittern B24", &none, role);
        assert_eq!(play(Role::OnBench), ["Bittern B24"]);
        assert_eq!(play(Role::Shortest), ["Bittern B14"]);
        assert_eq!(play(Role::Longest), ["Bittern B30"]);
        assert_eq!(play(Role::EachBar), ["Bittern B14", "Bittern B18", "Bittern B24", "Bittern B30"]);
        // B24 has no counterpart on the other head, the first of its head that has one plays.
        assert_eq!(play(Role::SameStamp), ["Bittern B14"]);
        assert_eq!(play(Role::SameStampOtherHead), ["Wren B14"]);
        assert_eq!(play(Role::Solid), ["Bittern B24"]);
        assert_eq!(play(Role::Light), ["Bittern B24 light"]);
        // The other head's own row.
        assert_eq!(names(&yard, "Wren B18", &none, Role::EachBar), ["Wren B14", "Wren B18"]);
        assert_eq!(names(&yard, "Wren B18", &none, Role::SameStampOtherHead), ["Bittern B18"]);
    }

    #[test]
    fn a_pick_plays_where_it_can_and_draws_its_partner_after_it() {
        let yard = demo().unwrap();
        let picked = BTreeMap::from([
            (Role::SameStamp, "Wren B18".to_owned()),
            (Role::Light, "Wren B14".to_owned()),
            (Role::Longest, "Bittern B18".to_owned()),
        ]);
        let play = |role| names(&yard, "Bittern B24", &picked, role);
        assert_eq!(
            (play(Role::SameStamp), play(Role::SameStampOtherHead)),
            (vec!["Wren B18".into()], vec!["Bittern B18".into()])
        );
        assert_eq!(
            play(Role::Light),
            ["Bittern B24 light"],
            "Wren B14 is not light: it cannot play the part"
        );
        assert_eq!(play(Role::Longest), ["Bittern B18"]);
    }

    #[test]
    fn a_yard_of_one_setup_says_why_nobody_can_play_beside_it() {
        let mut file = demo().unwrap().file().clone();
        file.readings.clear();
        file.setups.truncate(1);
        let (yard, none) = (Yard::new(file).unwrap(), BTreeMap::new());
        let cast = Cast::new(&yard, "nowhere", &none);
        assert_eq!(cast.players(Role::OnBench).unwrap().len(), 1);
        let said = |role| cast.players(role).unwrap_err().to_string();
        assert_eq!(said(Role::Longest), "Bittern has bars of one length alone in this yard; it takes two");
        assert_eq!(
            said(Role::SameStampOtherHead),
            "no two heads of this yard have bars of the same marked length"
        );
        assert_eq!(
            said(Role::Light),
            "no head of this yard has a solid and a light bar of the same marked length"
        );
        let steps = cast.of(&built_in().unwrap());
        assert!(steps.iter().any(Result::is_ok) && steps.iter().any(Result::is_err));
    }

    #[test]
    fn a_step_is_filled_with_names_places_and_a_log_to_the_reach() {
        let text = "(version: 2, name: \"x\", steps: [\
            (heading: \"a\", caption: \"{hang:last}\", roles: [EachBar], view: SideBySide),\
            (heading: \"b\", caption: \"{log}\", roles: [Longest], view: Log(reaches: 1.2, reach_of: OnBench)),\
            (heading: \"c\", caption: \"Twice.\", roles: [OnBench, Longest], view: SideBySide)])";
        let (yard, lesson) = (demo().unwrap(), parse_lesson(text, "x").unwrap());
        let none = BTreeMap::new();
        let steps = Cast::new(&yard, "Bittern B30", &none).of(&lesson);
        let first = steps[0].as_ref().unwrap();
        assert_eq!(first.setups.len(), 4);
        assert!(matches!(first.caption[..], [Piece::Figure(_, Whose::Nth(3))]), "{:?}", first.caption);
        let View::Log(log) = &steps[1].as_ref().unwrap().view else { panic!() };
        let LogWidth::Is(width) = log.width else { panic!() };
        let wanted = 1.2 * yard.setup("Bittern B30").unwrap().reach().as_mm();
        assert!(
            (width.as_mm() - wanted).abs() <= 5.0 + 1e-9 && (width.as_mm() % 10.0).abs() < 1e-9,
            "{width:?}"
        );
        assert_eq!(steps[2], Err(Unplayed::Twice { setup: "Bittern B30".into() }));
    }
}
