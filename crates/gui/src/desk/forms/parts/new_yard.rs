//! A yard from nothing: its name, and the first head, bar and chain by what can be read off them.

use crate::desk::format;
use crate::desk::today::today;
use barpoise_core::propose::{
    Drive, common_bar, common_chain, common_powerhead, propose_bar, propose_chain, propose_powerhead,
    unmark_proposed,
};
use barpoise_core::record::{
    MeasuredFile, NoseFile, PartFile, PartKind, ReadingFile, SetupFile, YARD_VERSION, YardFile,
};
use barpoise_core::units::{Length, Mass};
use barpoise_core::weigh_in::{Choice, SawMeasure, applied, fit};
use barpoise_core::{Fault, Yard};
use std::sync::Arc;

/// The fields that are asked for, by kind and path.
pub const NEW_YARD_FIELDS: &[(PartKind, &[&str])] = &[
    (
        PartKind::Powerhead,
        &[
            "name",
            "mount",
            "sprocket.teeth",
            "sprocket.pitch_in",
            "longest_bar_in",
            "engine_size_cm3",
            "power_kw",
            "dry_mass_kg",
        ],
    ),
    (PartKind::Bar, &["name", "marked_length_in", "marked_drive_links", "gauge_mm", "construction"]),
    (PartKind::Chain, &["name", "sequence"]),
];

/// The page as it stands.
#[derive(Clone, Debug)]
pub struct NewYard {
    name: String,
    head: PartFile,
    bar: PartFile,
    chain: PartFile,
    taped_reach: Option<Length>,
    ready_weight: Option<Mass>,
    made: Arc<Result<Yard, Vec<Fault>>>,
}

impl PartialEq for NewYard {
    fn eq(&self, other: &Self) -> bool {
        self.file() == other.file()
    }
}

impl Default for NewYard {
    fn default() -> Self {
        let head = common_powerhead("My saw");
        let PartFile::Powerhead(file) = &head else { return Self::of(head.clone(), head.clone(), head) };
        let drive = Drive::of(file, None);
        let (bar, chain) = (common_bar("Bar", &file.mount, &drive), common_chain("Chain", drive.pitch_in));
        Self::of(head, bar, chain)
    }
}

impl NewYard {
    fn of(head: PartFile, bar: PartFile, chain: PartFile) -> Self {
        let mut new = Self {
            name: "My yard".to_owned(),
            head,
            bar,
            chain,
            taped_reach: None,
            ready_weight: None,
            made: Arc::new(Err(Vec::new())),
        };
        new.make();
        new
    }

    /// What tape and scale said is in the numbers from the start; where it does not go with them, it stands as a reading.
    fn make(&mut self) {
        let read = |yard: Yard| match fit(&yard, &Choice::Automatic) {
            Ok(found) => applied(&yard, &found, &today()).unwrap_or(yard),
            Err(_) => yard,
        };
        self.made = Arc::new(Yard::new(self.file()).map(read));
    }

    /// The reach that was taped.
    pub const fn taped_reach(&self) -> Option<Length> {
        self.taped_reach
    }

    /// Takes a taped reach, or none.
    pub fn tape_reach(&mut self, reach: Option<Length>) {
        self.taped_reach = reach;
        self.make();
    }

    /// What the saw weighed ready to work.
    pub const fn ready_weight(&self) -> Option<Mass> {
        self.ready_weight
    }

    /// Takes what it weighed, or nothing.
    pub fn weigh(&mut self, weight: Option<Mass>) {
        self.ready_weight = weight;
        self.make();
    }

    /// Name of the yard.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Another name for the yard.
    pub fn rename(&mut self, name: String) {
        self.name = name;
        self.make();
    }

    /// The part of a kind; the head where there is none.
    pub const fn part(&self, kind: PartKind) -> &PartFile {
        match kind {
            PartKind::Bar => &self.bar,
            PartKind::Chain => &self.chain,
            PartKind::Powerhead | PartKind::Setup => &self.head,
        }
    }

    /// Takes a value; what is proposed or shared between the parts follows it.
    pub fn take(&mut self, kind: PartKind, path: &str, put: impl FnOnce(&mut PartFile)) {
        let part = match kind {
            PartKind::Bar => &mut self.bar,
            PartKind::Chain => &mut self.chain,
            PartKind::Powerhead | PartKind::Setup => &mut self.head,
        };
        put(part);
        unmark_proposed(part, path);
        self.agree(kind == PartKind::Powerhead && path == "sprocket.pitch_in");
        self.make();
    }

    /// One mount, one pitch, one gauge.
    fn agree(&mut self, pitch_is_own: bool) {
        let (PartFile::Powerhead(head), PartFile::Bar(bar), PartFile::Chain(chain)) =
            (&mut self.head, &mut self.bar, &mut self.chain)
        else {
            return;
        };
        propose_powerhead(head);
        bar.mount.clone_from(&head.mount);
        bar.nose = NoseFile::Sprocket { pitch_in: head.sprocket.pitch_in };
        chain.pitch_in = head.sprocket.pitch_in;
        chain.gauge_mm = bar.gauge_mm;
        propose_chain(chain);
        propose_bar(bar, &Drive::of(head, Some(chain)));
        if pitch_is_own {
            unmark_proposed(&mut self.bar, "nose.pitch_in");
            unmark_proposed(&mut self.chain, "pitch_in");
        }
        if !barpoise_core::propose::is_proposed(&self.bar, "gauge_mm") {
            unmark_proposed(&mut self.chain, "gauge_mm");
        }
    }

    /// The file of it.
    pub fn file(&self) -> YardFile {
        let setup = SetupFile {
            name: format!("{} {}", self.head.name(), self.bar.name()),
            note: String::new(),
            powerhead: self.head.name().clone(),
            bar: self.bar.name().clone(),
            chain: self.chain.name().clone(),
            drive_links: None,
            fuel_fill: 1.0,
            oil_fill: 1.0,
            extras: Vec::new(),
        };
        let mut file = YardFile {
            version: YARD_VERSION,
            name: self.name.trim().to_owned(),
            note: String::new(),
            person: None,
            powerheads: Vec::new(),
            bars: Vec::new(),
            chains: Vec::new(),
            readings: self.readings(&setup.name),
            setups: vec![setup],
            weigh_ins: Vec::new(),
            woods: Vec::new(),
        };
        for part in [&self.head, &self.bar, &self.chain] {
            file.add_part(part.clone());
        }
        file
    }

    fn readings(&self, setup: &str) -> Vec<ReadingFile> {
        let of = |measured| ReadingFile::new(measured, Some(setup.to_owned()));
        let reach = self.taped_reach.map(|reach| {
            of(MeasuredFile::Reach {
                past_spikes_mm: format::tidy(reach.as_mm()),
                uncertainty_mm: SawMeasure::Reach.common_uncertainty() * 1e3,
            })
        });
        let weight = self.ready_weight.map(|weight| {
            of(MeasuredFile::Total {
                weight_kg: format::tidy(weight.as_kg()),
                uncertainty_kg: SawMeasure::Total.common_uncertainty(),
            })
        });
        weight.into_iter().chain(reach).collect()
    }

    /// The yard, or what is wrong with it.
    pub const fn made(&self) -> &Arc<Result<Yard, Vec<Fault>>> {
        &self.made
    }
}
