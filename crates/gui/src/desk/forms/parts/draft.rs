//! A part as it stands in the form while the yard does not take it yet, and the reasons.

use crate::desk::document::{Document, yard_after};
use crate::desk::edit::PartsEdit;
use barpoise_core::propose::{Drive, propose_bar, propose_chain, propose_powerhead, unmark_proposed};
use barpoise_core::record::{PartFile, PartId, PartKind, YardFile};
use barpoise_core::{Fault, Yard};
use std::sync::Arc;

/// A part that waits.
#[derive(Clone, Debug)]
pub struct Draft {
    /// The part of the yard that it would change; `None` for a new one.
    pub id: Option<PartId>,
    /// The part as the form has it.
    pub part: PartFile,
    faults: Vec<Fault>,
    judged: Option<Arc<Yard>>,
}

impl PartialEq for Draft {
    fn eq(&self, other: &Self) -> bool {
        self.id == other.id && self.part == other.part
    }
}

impl Draft {
    /// A part in the form.
    pub const fn new(id: Option<PartId>, part: PartFile) -> Self {
        Self { id, part, faults: Vec::new(), judged: None }
    }

    /// A part as it stands in the yard.
    pub(super) fn settled(id: PartId, part: PartFile, yard: &Arc<Yard>) -> Self {
        Self { id: Some(id), part, faults: Vec::new(), judged: Some(Arc::clone(yard)) }
    }

    /// The edit that would put it into the yard.
    pub fn edit(&self) -> PartsEdit {
        match &self.id {
            Some(id) => PartsEdit::Change(vec![(id.clone(), self.part.clone())]),
            None => PartsEdit::Add(self.part.clone()),
        }
    }

    /// Looks again at what is wrong, where the yard or the part changed.
    pub fn judge(&mut self, document: &Document) {
        let yard = document.shared_yard();
        if self.judged.as_ref().is_some_and(|judged| Arc::ptr_eq(judged, yard)) {
            return;
        }
        self.faults = yard_after(yard, &self.edit()).err().unwrap_or_default();
        self.judged = Some(Arc::clone(yard));
    }

    /// Another value was put in the part.
    pub fn touched(&mut self) {
        self.judged = None;
    }

    /// What is wrong with it.
    pub fn faults(&self) -> &[Fault] {
        &self.faults
    }

    /// What begins the paths of its own faults.
    pub fn own_path(&self, file: &YardFile) -> String {
        let kind = self.part.kind();
        let index = match &self.id {
            Some(id) => file.part_index(id).unwrap_or_default(),
            None => file.part_names(kind).len(),
        };
        format!("{}[{index}]", kind.list())
    }

    /// Takes a value that a person put: it is no longer proposed, and what is still proposed follows it.
    pub fn take(&mut self, path: &str, put: impl FnOnce(&mut PartFile), yard: &Yard) {
        put(&mut self.part);
        unmark_proposed(&mut self.part, path);
        if let ("marked_drive_links", PartFile::Bar(bar)) = (path, &mut self.part) {
            // What a tape taught of the nose, it taught of another count.
            bar.nose_place_mm = None;
        }
        if !matches!(path, "name" | "note") {
            propose(&mut self.part, yard.file());
        }
        self.touched();
    }
}

/// Puts the proposed values in a part anew, from what is known of it.
pub(super) fn propose(part: &mut PartFile, file: &YardFile) {
    match part {
        PartFile::Powerhead(head) => propose_powerhead(head),
        PartFile::Chain(chain) => propose_chain(chain),
        PartFile::Setup(_) => {}
        PartFile::Bar(bar) => {
            let head = file.powerheads.iter().find(|head| head.mount == bar.mount);
            let drive = head.or_else(|| file.powerheads.first()).map(|head| {
                let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
                let chain = file.chains.iter().find(|chain| {
                    same(chain.pitch_in, head.sprocket.pitch_in) && same(chain.gauge_mm, bar.gauge_mm)
                });
                Drive::of(head, chain)
            });
            if let Some(drive) = drive {
                propose_bar(bar, &drive);
            }
        }
    }
}

/// A new part to begin with: what suits the head on the bench.
pub(super) fn beginning(document: &Document, kind: PartKind) -> Option<PartFile> {
    use barpoise_core::propose::{common_bar, common_chain, common_powerhead, propose_setup};
    let (yard, file) = (document.yard(), document.yard().file());
    let base = document.bench().base();
    let head = file.powerheads.iter().find(|head| head.name == base.powerhead().name())?;
    let name = file.free_name(kind, &format!("New {}", kind.word()));
    let mut part = match kind {
        PartKind::Powerhead => common_powerhead(&name),
        PartKind::Bar => common_bar(&name, &head.mount, &Drive::of(head, None)),
        PartKind::Chain => common_chain(&name, head.sprocket.pitch_in),
        PartKind::Setup => {
            let mut setup = propose_setup(yard, Some(&head.name))?;
            setup.name = file.free_name(kind, &setup.name);
            PartFile::Setup(Box::new(setup))
        }
    };
    if let PartFile::Bar(bar) = &mut part {
        bar.gauge_mm = base.bar().gauge().as_mm();
    }
    if let PartFile::Chain(chain) = &mut part {
        chain.gauge_mm = base.bar().gauge().as_mm();
    }
    if let Some(gauge) = part.number("gauge_mm") {
        part.set_number("gauge_mm", Some(crate::desk::format::tidy(gauge)));
    }
    propose(&mut part, file);
    Some(part)
}
