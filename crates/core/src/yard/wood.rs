//! A mix of wood to be cut.

use crate::fault::{Checker, Fault};
use crate::log::{LogJob, LogSection, Stand, Tangle, limits};
use crate::person::Person;
use crate::ranges;
use crate::record::{StandFile, WoodFile};
use crate::units::{Area, Length};

/// One diameter of a mix and how often it is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LogCount {
    /// Diameter of the section.
    pub diameter: Length,
    /// How many cuts.
    pub cuts: u32,
}

/// How much work the wood takes, and where that is known from.
#[derive(Clone, Debug, PartialEq)]
pub struct Hardness {
    /// What wood, in what state.
    pub name: String,
    /// Energy to turn a volume of it into chips, J/cm³.
    pub energy_j_cm3: f64,
    /// The source, or *common practice*.
    pub source: String,
}

/// More diameters than anyone tells apart; each is planned for every setup.
const MOST_DIAMETERS: usize = 200;

/// A checked mix of wood. It has at least one cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Wood {
    name: String,
    note: String,
    logs: Vec<LogCount>,
    tangled_share: f64,
    lifted_share: f64,
    stand: Stand,
    clearance: Length,
    hardness: Hardness,
    person: Person,
}

impl From<StandFile> for Stand {
    fn from(file: StandFile) -> Self {
        match file {
            StandFile::OneSide => Self::OneSide,
            StandFile::BothSides => Self::BothSides,
            StandFile::WalkRound => Self::WalkRound,
        }
    }
}

impl From<Stand> for StandFile {
    fn from(stand: Stand) -> Self {
        match stand {
            Stand::OneSide => Self::OneSide,
            Stand::BothSides => Self::BothSides,
            Stand::WalkRound => Self::WalkRound,
        }
    }
}

impl Wood {
    /// Checks a mirror; `index` is its place in the yard's list.
    ///
    /// # Errors
    /// Every field out of its range, and a mix without a cut.
    pub fn new(file: &WoodFile, index: usize) -> Result<Self, Vec<Fault>> {
        let mut check = Checker::new(format!("woods[{index}]"), format!("wood {}", file.name));
        check.name("name", &file.name);
        if file.diameters.is_empty() {
            check.fault("diameters", "a wood needs at least one diameter");
        } else if file.diameters.len() > MOST_DIAMETERS {
            let many = file.diameters.len();
            check.fault("diameters", format_args!("{many} diameters, at most {MOST_DIAMETERS}"));
        }
        for (place, entry) in file.diameters.iter().enumerate() {
            check.number(
                &format!("diameters[{place}].diameter_mm"),
                &limits::LOG_DIAMETER,
                entry.diameter_mm,
            );
            check.number(&format!("diameters[{place}].cuts"), &ranges::CUTS, f64::from(entry.cuts));
        }
        check.number("tangled_share", &ranges::SHARE_OF_CUTS, file.tangled_share);
        check.number("lifted_share", &ranges::SHARE_OF_CUTS, file.lifted_share);
        check.number("above_ground_mm", &limits::CLEARANCE, file.above_ground_mm);
        check.name("hardness.name", &file.hardness.name);
        check.name("hardness.source", &file.hardness.source);
        check.number(
            "hardness.cutting_energy_j_per_cm3",
            &limits::SPECIFIC_ENERGY,
            file.hardness.cutting_energy_j_per_cm3,
        );
        let log = |entry: &crate::record::DiameterFile| LogCount {
            diameter: Length::from_mm(entry.diameter_mm),
            cuts: entry.cuts,
        };
        check.finish(Self {
            name: file.name.clone(),
            note: file.note.clone(),
            logs: file.diameters.iter().map(log).collect(),
            tangled_share: file.tangled_share,
            lifted_share: file.lifted_share,
            stand: file.stand.into(),
            clearance: Length::from_mm(file.above_ground_mm),
            hardness: Hardness {
                name: file.hardness.name.clone(),
                energy_j_cm3: file.hardness.cutting_energy_j_per_cm3,
                source: file.hardness.source.clone(),
            },
            person: Person::default(),
        })
    }

    /// Unique name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Free text.
    pub fn note(&self) -> &str {
        &self.note
    }

    /// Diameters and counts, in the order of the file.
    pub fn logs(&self) -> &[LogCount] {
        &self.logs
    }

    /// Share of the cuts made in tangle, 0 to 1.
    pub const fn tangled_share(&self) -> f64 {
        self.tangled_share
    }

    /// Share of the cuts made with the saw in the hands, 0 to 1.
    pub const fn lifted_share(&self) -> f64 {
        self.lifted_share
    }

    /// Where the sawyer may stand.
    pub const fn stand(&self) -> Stand {
        self.stand
    }

    /// Height of the logs' undersides above the ground.
    pub const fn clearance(&self) -> Length {
        self.clearance
    }

    /// How much work the wood takes.
    pub const fn hardness(&self) -> &Hardness {
        &self.hardness
    }

    /// All cuts.
    pub fn cuts(&self) -> f64 {
        self.logs.iter().map(|log| f64::from(log.cuts)).sum()
    }

    /// All that is to be cut through.
    pub fn area(&self) -> Area {
        let square = |log: &LogCount| log.diameter.as_m().powi(2) * f64::from(log.cuts);
        Area::from_m2(std::f64::consts::FRAC_PI_4 * self.logs.iter().map(square).sum::<f64>())
    }

    /// The same wood before another person; without one, an average man cuts it.
    #[must_use]
    pub fn with_person(mut self, person: Person) -> Self {
        self.person = person;
        self
    }

    /// Who cuts it, and the slope they stand on.
    pub const fn person(&self) -> &Person {
        &self.person
    }

    /// One of its logs, cut by its person from this stand, with or without tangle behind it.
    ///
    /// # Errors
    /// None for a diameter of the mix, which is checked.
    pub fn job(&self, diameter: Length, stand: Stand, tangled: bool) -> Result<LogJob, Fault> {
        let tangle = if tangled { Tangle::Far } else { Tangle::None };
        let section = LogSection::round(diameter, self.clearance)?;
        Ok(LogJob::new(section, stand).with_tangle(tangle).with_person(self.person))
    }
}

#[cfg(test)]
mod tests {
    use crate::Yard;
    use crate::file::demo;
    use crate::record::DiameterFile;

    #[test]
    fn a_wood_and_a_yard_of_too_many_are_refused_with_the_number() {
        let mut file = demo().unwrap().file().clone();
        let cut = |diameter_mm| DiameterFile { diameter_mm, cuts: 1 };
        file.woods[0].diameters = (0..200).map(|more| cut(300.0 + f64::from(more))).collect();
        assert!(Yard::new(file.clone()).is_ok());
        file.woods[0].diameters.push(cut(250.0));
        let said = Yard::new(file.clone()).unwrap_err()[0].to_string();
        assert_eq!(said, "woods[0].diameters: wood Poplar butts: 201 diameters, at most 200");
        file.woods.truncate(1);
        file.woods[0].diameters.truncate(1);
        file.woods = (0..101)
            .map(|number| {
                let mut wood = file.woods[0].clone();
                wood.name = format!("Wood {number}");
                wood
            })
            .collect();
        let said = Yard::new(file).unwrap_err()[0].to_string();
        assert_eq!(said, "woods: 101 woods, at most 100");
    }
}
