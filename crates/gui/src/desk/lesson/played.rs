//! A lesson as the open yard plays it: each step with its setups, or why it is left out.

use crate::desk::document::Document;
use barpoise_core::Yard;
use barpoise_core::lesson::{Cast, Lesson, Role, Step};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The steps of a lesson with those who play in them; found anew where lesson, yard, bench or a pick changes.
#[derive(Clone, Debug, Default)]
pub struct Played {
    steps: Vec<Result<Step, String>>,
    of: Option<FoundIn>,
}

/// What the players were found in.
#[derive(Clone, Debug)]
struct FoundIn {
    lesson: Arc<Lesson>,
    yard: Arc<Yard>,
    bench: String,
    picked: BTreeMap<Role, String>,
}

/// What was found, whatever it was found in.
impl PartialEq for Played {
    fn eq(&self, other: &Self) -> bool {
        self.steps == other.steps
    }
}

impl Played {
    /// Finds who plays; true where anything changed since.
    pub fn find(
        &mut self,
        lesson: &Arc<Lesson>,
        document: &Document,
        picked: &BTreeMap<Role, String>,
    ) -> bool {
        let (yard, bench) = (document.shared_yard(), document.bench().base().name());
        let known = self.of.as_ref().is_some_and(|of| {
            let same = Arc::ptr_eq(&of.lesson, lesson) && Arc::ptr_eq(&of.yard, yard);
            same && of.bench == bench && of.picked == *picked
        });
        if !known {
            let steps = Cast::new(yard, bench, picked).of(lesson);
            self.steps = steps.into_iter().map(|step| step.map_err(|reason| reason.to_string())).collect();
            self.of = Some(FoundIn {
                lesson: Arc::clone(lesson),
                yard: Arc::clone(yard),
                bench: bench.to_owned(),
                picked: picked.clone(),
            });
        }
        !known
    }

    /// A step with its setups; `None` where it is left out, or the lesson has not been played yet.
    pub fn step(&self, index: usize) -> Option<&Step> {
        self.steps.get(index)?.as_ref().ok()
    }

    /// Why a step is left out.
    pub fn left_out(&self, index: usize) -> Option<&str> {
        self.steps.get(index)?.as_ref().err().map(String::as_str)
    }
}
