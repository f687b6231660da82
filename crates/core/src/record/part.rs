//! The parts of a yard as a person handles them: found by kind and name, put in, renamed, taken out, with all
//! that names them.

use super::quantity::Part as LearntOf;
use super::{BarFile, ChainFile, LearntFile, MeasuredFile, PowerheadFile, SetupFile, WeighInFile, YardFile};

/// The lists of a yard that hold parts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartKind {
    /// Powerheads.
    #[default]
    Powerhead,
    /// Guide bars.
    Bar,
    /// Saw chains.
    Chain,
    /// What is put together of them.
    Setup,
}

impl PartKind {
    /// Every one, in the order of a yard file.
    pub const ALL: [Self; 4] = [Self::Powerhead, Self::Bar, Self::Chain, Self::Setup];

    /// The word for one.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Powerhead => "powerhead",
            Self::Bar => "bar",
            Self::Chain => "chain",
            Self::Setup => "setup",
        }
    }

    /// The name of its list in the file, with which the path of a fault begins.
    pub const fn list(self) -> &'static str {
        match self {
            Self::Powerhead => "powerheads",
            Self::Bar => "bars",
            Self::Chain => "chains",
            Self::Setup => "setups",
        }
    }

    fn is_learnt_of(self, learnt: &LearntFile) -> bool {
        self == match learnt.what.part() {
            LearntOf::Powerhead => Self::Powerhead,
            LearntOf::Bar => Self::Bar,
            LearntOf::Chain => Self::Chain,
        }
    }
}

/// Which part, by kind and name.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId {
    /// Which list.
    pub kind: PartKind,
    /// Its name.
    pub name: String,
}

impl PartId {
    /// A part of a name.
    pub fn new(kind: PartKind, name: impl Into<String>) -> Self {
        Self { kind, name: name.into() }
    }
}

/// A part as the file writes it.
#[derive(Clone, Debug, PartialEq)]
pub enum PartFile {
    /// A powerhead.
    Powerhead(Box<PowerheadFile>),
    /// A guide bar.
    Bar(Box<BarFile>),
    /// A saw chain.
    Chain(Box<ChainFile>),
    /// A setup.
    Setup(Box<SetupFile>),
}

impl PartFile {
    /// Which list it stands in.
    pub const fn kind(&self) -> PartKind {
        match self {
            Self::Powerhead(_) => PartKind::Powerhead,
            Self::Bar(_) => PartKind::Bar,
            Self::Chain(_) => PartKind::Chain,
            Self::Setup(_) => PartKind::Setup,
        }
    }

    /// Its name.
    pub const fn name(&self) -> &String {
        match self {
            Self::Powerhead(part) => &part.name,
            Self::Bar(part) => &part.name,
            Self::Chain(part) => &part.name,
            Self::Setup(part) => &part.name,
        }
    }

    /// Its name, to be changed.
    pub const fn name_mut(&mut self) -> &mut String {
        match self {
            Self::Powerhead(part) => &mut part.name,
            Self::Bar(part) => &mut part.name,
            Self::Chain(part) => &mut part.name,
            Self::Setup(part) => &mut part.name,
        }
    }

    /// Its note.
    pub const fn note(&self) -> &String {
        match self {
            Self::Powerhead(part) => &part.note,
            Self::Bar(part) => &part.note,
            Self::Chain(part) => &part.note,
            Self::Setup(part) => &part.note,
        }
    }

    /// Its note, to be changed.
    pub const fn note_mut(&mut self) -> &mut String {
        match self {
            Self::Powerhead(part) => &mut part.note,
            Self::Bar(part) => &mut part.note,
            Self::Chain(part) => &mut part.note,
            Self::Setup(part) => &mut part.note,
        }
    }

    /// Kind and name.
    pub fn id(&self) -> PartId {
        PartId::new(self.kind(), self.name().clone())
    }
}

/// What would be left without a part: it names that part.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Users {
    /// Names of setups.
    pub setups: Vec<String>,
    /// Places of readings in their list.
    pub readings: Vec<usize>,
    /// Weigh-ins that taught one of its numbers, by their place in the list.
    pub weigh_ins: Vec<usize>,
}

impl Users {
    /// True where nothing uses it.
    pub const fn is_empty(&self) -> bool {
        self.setups.is_empty() && self.readings.is_empty() && self.weigh_ins.is_empty()
    }
}

impl YardFile {
    /// The names in a list, in order.
    pub fn part_names(&self, kind: PartKind) -> Vec<&str> {
        match kind {
            PartKind::Powerhead => self.powerheads.iter().map(|part| part.name.as_str()).collect(),
            PartKind::Bar => self.bars.iter().map(|part| part.name.as_str()).collect(),
            PartKind::Chain => self.chains.iter().map(|part| part.name.as_str()).collect(),
            PartKind::Setup => self.setups.iter().map(|part| part.name.as_str()).collect(),
        }
    }

    /// The place of a part in its list.
    pub fn part_index(&self, id: &PartId) -> Option<usize> {
        self.part_names(id.kind).iter().position(|name| *name == id.name)
    }

    /// A copy of a part.
    pub fn part(&self, id: &PartId) -> Option<PartFile> {
        let index = self.part_index(id)?;
        Some(match id.kind {
            PartKind::Powerhead => PartFile::Powerhead(Box::new(self.powerheads.get(index)?.clone())),
            PartKind::Bar => PartFile::Bar(Box::new(self.bars.get(index)?.clone())),
            PartKind::Chain => PartFile::Chain(Box::new(self.chains.get(index)?.clone())),
            PartKind::Setup => PartFile::Setup(Box::new(self.setups.get(index)?.clone())),
        })
    }

    /// A name of this kind that is not taken: the wanted one, or that with a number behind it.
    pub fn free_name(&self, kind: PartKind, wanted: &str) -> String {
        let taken = self.part_names(kind);
        if !taken.contains(&wanted) {
            return wanted.to_owned();
        }
        // One of so many numbers is free, as there are fewer parts.
        (2..taken.len() + 3)
            .map(|number| format!("{wanted} {number}"))
            .find(|name| !taken.contains(&name.as_str()))
            .unwrap_or_else(|| wanted.to_owned())
    }

    /// Puts a part behind the others of its list.
    pub fn add_part(&mut self, part: PartFile) {
        match part {
            PartFile::Powerhead(part) => self.powerheads.push(*part),
            PartFile::Bar(part) => self.bars.push(*part),
            PartFile::Chain(part) => self.chains.push(*part),
            PartFile::Setup(part) => self.setups.push(*part),
        }
    }

    /// Puts a part in the place of another of its kind; where its name is a new one, all that named it follow.
    /// False where there is no such part.
    pub fn change_part(&mut self, id: &PartId, part: PartFile) -> bool {
        let Some(index) = self.part_index(id).filter(|_| part.kind() == id.kind) else { return false };
        let name = part.name().clone();
        let put = match part {
            PartFile::Powerhead(part) => self.powerheads.get_mut(index).map(|place| *place = *part),
            PartFile::Bar(part) => self.bars.get_mut(index).map(|place| *place = *part),
            PartFile::Chain(part) => self.chains.get_mut(index).map(|place| *place = *part),
            PartFile::Setup(part) => self.setups.get_mut(index).map(|place| *place = *part),
        };
        if name != id.name {
            self.rename_users(id, &name);
        }
        put.is_some()
    }

    fn rename_users(&mut self, id: &PartId, new: &str) {
        for setup in &mut self.setups {
            if let Some(named) = named_by_setup(setup, id.kind)
                && *named == id.name
            {
                new.clone_into(named);
            }
        }
        for reading in &mut self.readings {
            let named = match (id.kind, &mut reading.measured) {
                (PartKind::Bar, MeasuredFile::Bar { bar, .. }) => Some(bar),
                (PartKind::Chain, MeasuredFile::Loop { chain, .. }) => Some(chain),
                (PartKind::Setup, _) => reading.setup.as_mut(),
                _ => None,
            };
            if let Some(named) = named
                && *named == id.name
            {
                new.clone_into(named);
            }
        }
        for learnt in self.weigh_ins.iter_mut().flat_map(|weigh_in| &mut weigh_in.learnt) {
            if learnt.of == id.name && id.kind.is_learnt_of(learnt) {
                new.clone_into(&mut learnt.of);
            }
        }
    }

    /// All that names a part, and what would go with it: readings of its setups too.
    pub fn users_of(&self, id: &PartId) -> Users {
        let setups: Vec<String> = match id.kind {
            PartKind::Setup => Vec::new(),
            _ => self
                .setups
                .iter()
                .filter(|setup| name_in_setup(setup, id.kind) == Some(&id.name))
                .map(|setup| setup.name.clone())
                .collect(),
        };
        let reads = |measured: &MeasuredFile, on: Option<&String>| match (id.kind, measured) {
            (PartKind::Bar, MeasuredFile::Bar { bar, .. }) => *bar == id.name,
            (PartKind::Chain, MeasuredFile::Loop { chain, .. }) => *chain == id.name,
            (PartKind::Setup, _) => on == Some(&id.name),
            _ => on.is_some_and(|on| setups.contains(on)),
        };
        let readings = self.readings.iter().enumerate();
        let readings = readings.filter(|(_, reading)| reads(&reading.measured, reading.setup.as_ref()));
        let taught = |weigh_in: &WeighInFile| {
            weigh_in.learnt.iter().any(|learnt| learnt.of == id.name && id.kind.is_learnt_of(learnt))
        };
        let weigh_ins = self.weigh_ins.iter().enumerate().filter(|(_, weigh_in)| taught(weigh_in));
        Users {
            readings: readings.map(|(index, _)| index).collect(),
            weigh_ins: weigh_ins.map(|(index, _)| index).collect(),
            setups,
        }
    }

    /// Takes a part out, with all that names it. False where there is no such part.
    pub fn remove_part(&mut self, id: &PartId) -> bool {
        let Some(index) = self.part_index(id) else { return false };
        let users = self.users_of(id);
        let mut place = 0..;
        self.readings.retain(|_| place.next().is_none_or(|place| !users.readings.contains(&place)));
        self.setups.retain(|setup| !users.setups.contains(&setup.name));
        for weigh_in in &mut self.weigh_ins {
            forget(weigh_in, |learnt| learnt.of == id.name && id.kind.is_learnt_of(learnt));
        }
        self.weigh_ins.retain(|weigh_in| !weigh_in.learnt.is_empty());
        match id.kind {
            PartKind::Powerhead => drop(self.powerheads.remove(index)),
            PartKind::Bar => drop(self.bars.remove(index)),
            PartKind::Chain => drop(self.chains.remove(index)),
            PartKind::Setup => drop(self.setups.remove(index)),
        }
        true
    }
}

fn named_by_setup(setup: &mut SetupFile, kind: PartKind) -> Option<&mut String> {
    match kind {
        PartKind::Powerhead => Some(&mut setup.powerhead),
        PartKind::Bar => Some(&mut setup.bar),
        PartKind::Chain => Some(&mut setup.chain),
        PartKind::Setup => None,
    }
}

const fn name_in_setup(setup: &SetupFile, kind: PartKind) -> Option<&String> {
    match kind {
        PartKind::Powerhead => Some(&setup.powerhead),
        PartKind::Bar => Some(&setup.bar),
        PartKind::Chain => Some(&setup.chain),
        PartKind::Setup => None,
    }
}

/// Takes learnt numbers out of a weigh-in, and the correlations that they had.
fn forget(weigh_in: &mut WeighInFile, gone: impl Fn(&LearntFile) -> bool) {
    let stays: Vec<bool> = weigh_in.learnt.iter().map(|learnt| !gone(learnt)).collect();
    let mut pairs = stays.iter().enumerate().flat_map(|(row, own)| {
        let before = stays.iter().take(row);
        before.map(move |other| *own && *other)
    });
    weigh_in.correlations.retain(|_| pairs.next().unwrap_or(true));
    let mut stays = stays.iter();
    weigh_in.learnt.retain(|_| stays.next().copied().unwrap_or(true));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::record::Quantity;
    use crate::yard::Yard;

    fn learnt(what: Quantity, of: &str) -> LearntFile {
        LearntFile {
            what,
            of: of.to_owned(),
            before: None,
            prior: 1.0,
            prior_uncertainty: 0.1,
            value: 1.0,
            uncertainty: 0.05,
        }
    }

    /// The demo with readings and a weigh-in that name its parts.
    fn used() -> YardFile {
        let mut file = demo().unwrap().file().clone();
        let reading = |measured, setup: Option<&str>| {
            super::super::ReadingFile::new(measured, setup.map(str::to_owned))
        };
        let total = MeasuredFile::Total { weight_kg: 9.0, uncertainty_kg: 0.05 };
        let bar = MeasuredFile::Bar { bar: "B24".to_owned(), weight_kg: 1.3, uncertainty_kg: 0.01 };
        file.readings = vec![reading(total, Some("Bittern B24")), reading(bar, None)];
        file.weigh_ins.push(WeighInFile {
            date: "2026-11-25".to_owned(),
            put_back: false,
            learnt: vec![
                learnt(Quantity::DryMass, "Bittern"),
                learnt(Quantity::BarMass, "B24"),
                learnt(Quantity::LinkMass, "3/8 full"),
            ],
            correlations: vec![0.1, 0.2, 0.3],
        });
        Yard::new(file.clone()).unwrap();
        file
    }

    #[test]
    fn all_that_names_a_part_follows_its_new_name() {
        let mut file = used();
        let id = PartId::new(PartKind::Bar, "B24");
        let mut part = file.part(&id).unwrap();
        "Long one".clone_into(part.name_mut());
        assert!(file.change_part(&id, part));
        let yard = Yard::new(file.clone()).unwrap();
        assert_eq!(yard.setup("Bittern B24").unwrap().bar().name(), "Long one");
        assert_eq!(file.weigh_ins[0].learnt[1].of, "Long one");
        let now = PartId::new(PartKind::Bar, "Long one");
        assert_eq!(file.users_of(&now), used().users_of(&id));
        assert!(file.users_of(&id).is_empty());
    }

    #[test]
    fn what_goes_with_a_part_is_what_names_it() {
        for (kind, name) in [
            (PartKind::Powerhead, "Wren"),
            (PartKind::Bar, "B24"),
            (PartKind::Chain, ".325 narrow"),
            (PartKind::Setup, "Bittern B24"),
        ] {
            let (mut file, id) = (used(), PartId::new(kind, name));
            assert!(!file.users_of(&id).is_empty(), "{name} is in use");
            assert!(file.remove_part(&id));
            assert!(file.users_of(&id).is_empty());
            Yard::new(file).unwrap();
        }
    }

    #[test]
    fn the_correlations_that_stay_are_those_of_the_numbers_that_stay() {
        let mut file = used();
        file.remove_part(&PartId::new(PartKind::Bar, "B24"));
        let weigh_in = &file.weigh_ins[0];
        assert_eq!(weigh_in.learnt.len(), 2);
        assert_eq!(weigh_in.correlations, [0.2], "third with first");
        assert_eq!(file.readings.len(), 0);
    }

    #[test]
    fn a_free_name_is_free() {
        let mut file = demo().unwrap().file().clone();
        assert_eq!(file.free_name(PartKind::Bar, "New"), "New");
        for _ in 0..3 {
            let name = file.free_name(PartKind::Bar, "B24");
            assert!(!file.part_names(PartKind::Bar).contains(&name.as_str()));
            let mut part = file.part(&PartId::new(PartKind::Bar, "B24")).unwrap();
            *part.name_mut() = name;
            file.add_part(part);
        }
        assert_eq!(file.bars.last().unwrap().name, "B24 4");
    }
}
