//! A whole yard, checked: every part valid, every setup closing.

use super::named::Named;
use super::reading::{KnownParts, Reading};
use super::wood::Wood;
use crate::fault::{Checker, Fault, clipped};
use crate::geometry::Point;
use crate::person::Person;
use crate::ranges;
use crate::record::{
    ExtraFile, OLDEST_YARD_VERSION, PersonFile, SetupFile, WeighInFile, YARD_VERSION, YardFile,
};
use crate::saw::{Bar, Chain, Extra, Fittings, MassPart, Powerhead, Setup};
use crate::units::{Length, Mass};
use std::collections::HashSet;
use std::sync::Arc;

/// A valid yard. It keeps the mirror it was made from, so that what is written is what was read.
#[derive(Clone, Debug)]
pub struct Yard {
    file: YardFile,
    person: Person,
    powerheads: Vec<Arc<Powerhead>>,
    bars: Vec<Arc<Bar>>,
    chains: Vec<Arc<Chain>>,
    setups: Vec<Setup>,
    readings: Vec<Reading>,
    woods: Vec<Wood>,
}

impl Yard {
    /// Checks a mirror.
    ///
    /// # Errors
    /// Every fault found: parts first; setups are only put together from parts that are valid.
    pub fn new(file: YardFile) -> Result<Self, Vec<Fault>> {
        let mut faults = yard_faults(&file);
        let person = match file.person.as_ref().map(Person::try_from).transpose() {
            Ok(person) => person.unwrap_or_default(),
            Err(found) => {
                faults.extend(found);
                Person::default()
            }
        };
        let powerheads = built(&file.powerheads, &mut faults, Powerhead::new);
        let bars = built(&file.bars, &mut faults, Bar::new);
        let chains = built(&file.chains, &mut faults, Chain::new);
        let known = Known {
            powerheads: Named::new(
                "powerhead",
                names(&file.powerheads, |head| &head.name),
                &powerheads,
                |head| head.name(),
            ),
            bars: Named::new("bar", names(&file.bars, |bar| &bar.name), &bars, |bar| bar.name()),
            chains: Named::new("chain", names(&file.chains, |chain| &chain.name), &chains, |chain| {
                chain.name()
            }),
        };
        let mut setups = Vec::new();
        for (index, setup) in file.setups.iter().enumerate() {
            match known.setup(setup, index) {
                Ok(setup) => setups.extend(setup),
                Err(found) => faults.extend(found),
            }
        }
        let parts = KnownParts {
            setups: Named::new("setup", names(&file.setups, |setup| &setup.name), &setups, Setup::name),
            bars: known.bars,
            chains: known.chains,
        };
        let mut readings = Vec::new();
        for (index, reading) in file.readings.iter().enumerate() {
            match Reading::new(reading, index, &parts) {
                Ok(reading) => readings.extend(reading),
                Err(found) => faults.extend(found),
            }
        }
        let mut woods = Vec::new();
        for (index, wood) in file.woods.iter().enumerate() {
            match Wood::new(wood, index) {
                Ok(wood) => woods.push(wood.with_person(person)),
                Err(found) => faults.extend(found),
            }
        }
        for (index, weigh_in) in file.weigh_ins.iter().enumerate() {
            faults.extend(weigh_in_faults(weigh_in, index));
        }
        if faults.is_empty() {
            Ok(Self { file, person, powerheads, bars, chains, setups, readings, woods })
        } else {
            Err(faults)
        }
    }

    /// The mirror this yard was made from.
    pub const fn file(&self) -> &YardFile {
        &self.file
    }

    /// Name of the yard.
    pub fn name(&self) -> &str {
        &self.file.name
    }

    /// Where the numbers come from.
    pub fn note(&self) -> &str {
        &self.file.note
    }

    /// The person who cuts; where the file has none, an average man, which their words say.
    pub const fn person(&self) -> &Person {
        &self.person
    }

    /// The same yard with this person in it, who cuts its woods too.
    #[must_use]
    pub fn with_person(mut self, person: Person) -> Self {
        self.file.person = Some(PersonFile::from(&person));
        self.woods = self.woods.into_iter().map(|wood| wood.with_person(person)).collect();
        self.person = person;
        self
    }

    /// True where the file has a person of its own.
    pub const fn has_person(&self) -> bool {
        self.file.person.is_some()
    }

    /// Powerheads in file order.
    pub fn powerheads(&self) -> &[Arc<Powerhead>] {
        &self.powerheads
    }

    /// Guide bars in file order.
    pub fn bars(&self) -> &[Arc<Bar>] {
        &self.bars
    }

    /// Chains in file order.
    pub fn chains(&self) -> &[Arc<Chain>] {
        &self.chains
    }

    /// Setups in file order.
    pub fn setups(&self) -> &[Setup] {
        &self.setups
    }

    /// Readings in file order.
    pub fn readings(&self) -> &[Reading] {
        &self.readings
    }

    /// The wood ahead, in file order.
    pub fn woods(&self) -> &[Wood] {
        &self.woods
    }

    /// The wood of this name.
    pub fn wood(&self, name: &str) -> Option<&Wood> {
        self.woods.iter().find(|wood| wood.name() == name)
    }

    /// The setup of this name.
    pub fn setup(&self, name: &str) -> Option<&Setup> {
        self.setups.iter().find(|setup| setup.name() == name)
    }
}

/// Most characters of a name that a message repeats.
const LONGEST_SHOWN: usize = 40;
/// More woods than anyone lays out.
const MOST_WOODS: usize = 100;
/// More readings than anyone takes; a fit of them is still quick.
const MOST_READINGS: usize = 1000;

fn yard_faults(file: &YardFile) -> Vec<Fault> {
    let mut check = Checker::new("", "");
    if !(OLDEST_YARD_VERSION..=YARD_VERSION).contains(&file.version) {
        check.fault(
            "version",
            format_args!("version {} is not {OLDEST_YARD_VERSION}…{YARD_VERSION}", file.version),
        );
    }
    if file.version == OLDEST_YARD_VERSION {
        for (list, used) in [
            ("readings", !file.readings.is_empty()),
            ("weigh_ins", !file.weigh_ins.is_empty()),
            ("woods", !file.woods.is_empty()),
            ("person", file.person.is_some()),
        ] {
            if used {
                check.fault(list, format_args!("version 1 has no {list} (write version: {YARD_VERSION})"));
            }
        }
    }
    if file.readings.len() > MOST_READINGS {
        check.fault("readings", format_args!("{} readings, at most {MOST_READINGS}", file.readings.len()));
    }
    if file.woods.len() > MOST_WOODS {
        check.fault("woods", format_args!("{} woods, at most {MOST_WOODS}", file.woods.len()));
    }
    check.name("name", &file.name);
    if file.setups.is_empty() {
        check.fault("setups", "a yard needs at least one setup");
    }
    duplicates(&mut check, "powerheads", file.powerheads.iter().map(|item| item.name.as_str()));
    duplicates(&mut check, "bars", file.bars.iter().map(|item| item.name.as_str()));
    duplicates(&mut check, "chains", file.chains.iter().map(|item| item.name.as_str()));
    duplicates(&mut check, "woods", file.woods.iter().map(|item| item.name.as_str()));
    duplicates(&mut check, "setups", file.setups.iter().map(|item| item.name.as_str()));
    check.finish(()).err().unwrap_or_default()
}

/// What a weigh-in wrote is kept as it is; it only has to be something that a weigh-in can write.
fn weigh_in_faults(file: &WeighInFile, index: usize) -> Vec<Fault> {
    let mut check = Checker::new(format!("weigh_ins[{index}]"), format!("weigh-in {}", index + 1));
    if !is_a_date(&file.date) {
        check.fault(
            "date",
            format_args!("`{}` is no date such as 2026-11-25", clipped(&file.date, LONGEST_SHOWN)),
        );
    }
    for (row, learnt) in file.learnt.iter().enumerate() {
        check.name(&format!("learnt[{row}].of"), &learnt.of);
        let numbers = [
            ("before", learnt.before.unwrap_or_default()),
            ("prior", learnt.prior),
            ("value", learnt.value),
            ("prior_uncertainty", learnt.prior_uncertainty),
            ("uncertainty", learnt.uncertainty),
        ];
        for (field, value) in numbers {
            let least = if field.ends_with("uncertainty") { 0.0 } else { f64::NEG_INFINITY };
            if !value.is_finite() || value < least {
                check.fault(&format!("learnt[{row}].{field}"), format_args!("{value} is not possible here"));
            }
        }
    }
    let pairs = file.learnt.len() * file.learnt.len().saturating_sub(1) / 2;
    if file.correlations.len() != pairs {
        check.fault(
            "correlations",
            format_args!(
                "{} learnt numbers make {pairs} pairs with a correlation each, here are {}",
                file.learnt.len(),
                file.correlations.len()
            ),
        );
    }
    for (place, value) in file.correlations.iter().enumerate() {
        check.number(&format!("correlations[{place}]"), &ranges::CORRELATION, *value);
    }
    check.finish(()).err().unwrap_or_default()
}

/// Year, month and day, as ISO 8601 writes them.
fn is_a_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let number = |part: &str, digits: usize| {
        (part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit()))
            .then(|| part.parse::<u32>().ok())
            .flatten()
    };
    match parts.as_slice() {
        [year, month, day] => {
            number(year, 4).is_some()
                && number(month, 2).is_some_and(|month| (1..=12).contains(&month))
                && number(day, 2).is_some_and(|day| (1..=31).contains(&day))
        }
        _ => false,
    }
}

fn duplicates<'a>(check: &mut Checker, list: &str, names: impl Iterator<Item = &'a str>) {
    let mut seen = HashSet::new();
    for (index, name) in names.enumerate() {
        if !seen.insert(name) {
            check.fault(
                &format!("{list}[{index}].name"),
                format_args!("the name `{}` is taken by an earlier entry", clipped(name, LONGEST_SHOWN)),
            );
        }
    }
}

fn built<F, T>(
    files: &[F],
    faults: &mut Vec<Fault>,
    build: impl Fn(&F, usize) -> Result<T, Vec<Fault>>,
) -> Vec<Arc<T>> {
    let mut items = Vec::new();
    for (index, file) in files.iter().enumerate() {
        match build(file, index) {
            Ok(item) => items.push(Arc::new(item)),
            Err(found) => faults.extend(found),
        }
    }
    items
}

fn names<F>(files: &[F], name_of: impl Fn(&F) -> &String) -> impl Iterator<Item = &str> {
    files.iter().map(move |file| name_of(file).as_str())
}

/// The parts that setups are put together from.
struct Known<'a> {
    powerheads: Named<'a, Arc<Powerhead>>,
    bars: Named<'a, Arc<Bar>>,
    chains: Named<'a, Arc<Chain>>,
}

impl Known<'_> {
    /// Puts a setup together; `Ok(None)` where a part it names is in the file but was refused for itself.
    fn setup(&self, file: &SetupFile, index: usize) -> Result<Option<Setup>, Vec<Fault>> {
        let mut check = Checker::new(format!("setups[{index}]"), format!("setup {}", file.name));
        check.name("name", &file.name);
        let parts = (
            self.powerheads.find(&mut check, "powerhead", &file.powerhead),
            self.bars.find(&mut check, "bar", &file.bar),
            self.chains.find(&mut check, "chain", &file.chain),
        );
        check.number("fuel_fill", &ranges::FILL, file.fuel_fill);
        check.number("oil_fill", &ranges::FILL, file.oil_fill);
        if let Some(count) = file.drive_links {
            check.number("drive_links", &ranges::DRIVE_LINKS, f64::from(count));
        }
        let extras =
            file.extras.iter().enumerate().map(|(i, extra)| checked_extra(&mut check, i, extra)).collect();
        let (Some(powerhead), Some(bar), Some(chain)) = parts else {
            return check.finish(None);
        };
        if !check.is_clean() {
            return check.finish(None);
        }
        let links = file.drive_links.unwrap_or_else(|| bar.marked_drive_links());
        let fittings = Fittings { fuel_fill: file.fuel_fill, oil_fill: file.oil_fill, extras };
        let parts = (Arc::clone(powerhead), Arc::clone(bar), Arc::clone(chain));
        match Setup::new(file.name.clone(), parts.0, parts.1, parts.2, Some(links), fittings) {
            Ok(setup) => Ok(Some(setup)),
            Err(error) => {
                // A count that was left out stands on the bar, so the setup itself is to blame.
                let field = if file.drive_links.is_none() && error.field() == "drive_links" {
                    "bar"
                } else {
                    error.field()
                };
                check.fault(field, error);
                check.finish(None)
            }
        }
    }
}

fn checked_extra(check: &mut Checker, index: usize, file: &ExtraFile) -> Extra {
    check.name(&format!("extras[{index}].name"), &file.name);
    let mut number =
        |field: &str, range, value| check.number(&format!("extras[{index}].{field}"), range, value);
    let mass = Mass::from_kg(number("mass_kg", &ranges::EXTRA_MASS, file.mass_kg));
    let x = Length::from_mm(number("at.x_mm", &ranges::EXTRA_COORDINATE, file.at.x_mm));
    let y = Length::from_mm(number("at.y_mm", &ranges::EXTRA_COORDINATE, file.at.y_mm));
    Extra { name: file.name.clone(), part: MassPart::point(mass, Point::new(x.as_m(), y.as_m())) }
}
