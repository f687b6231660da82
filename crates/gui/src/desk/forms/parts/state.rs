//! What the room of the parts remembers while it is open: which part is picked, and what waits in forms.

use super::built::Built;
use super::draft::{Draft, beginning};
use super::new_yard::NewYard;
use crate::desk::document::{Document, yard_after};
use crate::desk::edit::{Edit, Edits, PartsEdit};
use barpoise_core::record::{PartFile, PartId, PartKind};
use std::sync::Arc;

/// What the form shows.
#[derive(Clone, Debug, PartialEq)]
pub enum Picked {
    /// A part of the yard, and its place in its list, for when its name is gone.
    Part(PartId, usize),
    /// The part that is being made.
    New,
    /// The person in the yard.
    Person,
}

/// The room's memory.
#[derive(Clone, Debug, Default)]
pub struct PartsState {
    /// What is picked; `None` for the setup on the bench.
    pub picked: Option<Picked>,
    /// Letters that the list is narrowed to.
    pub filter: String,
    /// Changes that the yard does not take yet.
    pub waiting: Vec<Draft>,
    /// The part that is being made.
    pub new: Option<Draft>,
    /// The part that is asked about before it is deleted.
    pub deleting: Option<PartId>,
    /// The yard that is being made.
    pub new_yard: Option<NewYard>,
    /// What follows from the picked part.
    pub built: Option<Arc<Built>>,
    /// The name is to be typed next.
    pub name_next: bool,
    /// What is picked once this pass is drawn, so that a field that is left by the click still takes its value.
    pub next: Option<Picked>,
    /// The path of the field that is being typed: its measure is lit up on the drawing.
    pub lit: Option<&'static str>,
    /// How many forms were begun: what was typed in one never shows in the next.
    pub begun: u32,
}

impl PartialEq for PartsState {
    fn eq(&self, other: &Self) -> bool {
        self.picked == other.picked
            && self.filter == other.filter
            && self.waiting == other.waiting
            && self.new == other.new
            && self.new_yard == other.new_yard
    }
}

impl PartsState {
    /// Goes on with what is still there: after an undo a picked or waiting part may be gone.
    pub fn settle(&mut self, document: &Document) {
        let file = document.yard().file();
        self.waiting.retain_mut(|draft| {
            let there = draft.id.as_ref().and_then(|id| file.part(id));
            let waits = there.is_some_and(|there| there != draft.part);
            draft.judge(document);
            waits
        });
        if let Some(new) = &mut self.new {
            new.judge(document);
        }
        let gone = |id: &PartId| file.part_index(id).is_none();
        self.deleting.take_if(|id| gone(id));
        match &mut self.picked {
            Some(Picked::New) if self.new.is_none() => self.picked = None,
            Some(Picked::Part(id, index)) => match file.part_index(id) {
                Some(place) => *index = place,
                None => {
                    let names = file.part_names(id.kind);
                    let near = names.get(*index).or_else(|| names.last());
                    self.picked = near.map(|name| Picked::Part(PartId::new(id.kind, *name), *index));
                }
            },
            _ => {}
        }
        if self.picked.is_none() {
            let wanted = PartId::new(PartKind::Setup, document.bench().base().name());
            let id = if gone(&wanted) {
                file.part_names(PartKind::Setup).first().map(|name| PartId::new(PartKind::Setup, *name))
            } else {
                Some(wanted)
            };
            self.picked = id.map(|id| Picked::Part(id, 0));
        }
        let shown = self.shown(document);
        let built = self
            .built
            .take()
            .filter(|built| shown.as_ref().is_some_and(|shown| built.is_of(shown, document)));
        self.built = built.or_else(|| Some(Arc::new(Built::new(shown.as_ref()?, document))));
    }

    /// For another yard: nothing of the one before.
    #[must_use]
    pub fn emptied(&self) -> Self {
        Self { begun: self.begun.wrapping_add(1), ..Self::default() }
    }

    /// Goes on to what was picked while the pass was drawn.
    pub fn turn(&mut self) -> bool {
        let Some(next) = self.next.take() else { return false };
        self.picked = Some(next);
        self.deleting = None;
        true
    }

    /// Picks a part of the yard.
    pub fn pick(&mut self, id: PartId) {
        self.picked = Some(Picked::Part(id, 0));
        self.deleting = None;
    }

    /// Begins a new part.
    pub fn begin(&mut self, document: &Document, kind: PartKind) {
        if self.new.as_ref().is_none_or(|new| new.part.kind() != kind) {
            self.new = beginning(document, kind).map(|part| Draft::new(None, part));
            self.begun = self.begun.wrapping_add(1);
            self.name_next = self.new.is_some();
        }
        if self.new.is_some() {
            self.next = Some(Picked::New);
        }
    }

    /// The part in the form as it stands, waiting or not.
    pub fn shown(&self, document: &Document) -> Option<Draft> {
        match self.picked.as_ref()? {
            Picked::New => self.new.clone(),
            Picked::Person => None,
            Picked::Part(id, _) => {
                let waiting = self.waiting.iter().find(|draft| draft.id.as_ref() == Some(id));
                waiting.cloned().or_else(|| {
                    let yard = document.shared_yard();
                    Some(Draft::settled(id.clone(), yard.file().part(id)?, yard))
                })
            }
        }
    }

    /// Which changes wait, as words: `Changes of B24 and B30 wait`; `None` where none does.
    pub fn waiting_words(&self) -> Option<String> {
        let names: Vec<&str> =
            self.waiting.iter().filter_map(|draft| draft.id.as_ref()).map(|id| id.name.as_str()).collect();
        match names.as_slice() {
            [] => None,
            [name] => Some(format!("Changes of {name} wait")),
            [first @ .., last] => Some(format!("Changes of {} and {last} wait", first.join(", "))),
        }
    }

    /// True where changes of this part wait.
    pub fn waits(&self, id: &PartId) -> bool {
        self.waiting.iter().any(|draft| draft.id.as_ref() == Some(id))
    }

    /// A value was put in the form: asks for the change where the yard takes it, alone or with all that waits;
    /// otherwise it waits too.
    pub fn take(&mut self, mut draft: Draft, document: &Document, edits: &mut Edits) {
        draft.judge(document);
        let Some(id) = draft.id.clone() else {
            self.new = Some(draft);
            return;
        };
        self.waiting.retain(|other| other.id.as_ref() != Some(&id));
        if draft.faults().is_empty() {
            self.follow(&id, &draft.part);
            edits.ask(Edit::Parts(draft.edit()));
            return;
        }
        self.waiting.push(draft);
        let together = PartsEdit::Change(
            self.waiting.iter().filter_map(|draft| Some((draft.id.clone()?, draft.part.clone()))).collect(),
        );
        if self.waiting.len() > 1 && yard_after(document.yard(), &together).is_ok() {
            for draft in std::mem::take(&mut self.waiting) {
                if let Some(id) = &draft.id {
                    self.follow(id, &draft.part);
                }
            }
            edits.ask(Edit::Parts(together));
        }
    }

    /// What is picked goes by its new name.
    fn follow(&mut self, id: &PartId, part: &PartFile) {
        if let Some(Picked::Part(picked, _)) = &mut self.picked
            && picked == id
        {
            *picked = part.id();
        }
    }

    /// Puts the new part into the yard.
    pub fn add(&mut self, document: &Document, edits: &mut Edits) {
        let good = |new: &mut Draft| {
            new.judge(document);
            new.faults().is_empty()
        };
        if let Some(new) = self.new.take_if(good) {
            self.pick(new.part.id());
            edits.ask(Edit::Parts(new.edit()));
        }
    }

    /// Gives a draft up.
    pub fn give_up(&mut self, id: Option<&PartId>) {
        match id {
            None => {
                self.new = None;
                self.picked = None;
            }
            Some(id) => {
                self.begun = self.begun.wrapping_add(1);
                self.waiting.retain(|draft| draft.id.as_ref() != Some(id));
            }
        }
    }
}
