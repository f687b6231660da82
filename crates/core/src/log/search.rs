//! The fewest candidates that take every mark: a search that always goes on with the sample fewest can reach.

use super::candidates::{Candidate, Marks};

/// No plan is longer than this.
pub(super) const MOST_SETTINGS: usize = 6;
/// Sets that take the target, and candidates tried, for each number of settings: caps, reached only where very many do
/// the same, or by five and six settings about a log of nearly twice the reach.
const MOST_SETS: u32 = 4_000;
const MOST_TRIES: u32 = 300_000;

/// Hands `visit` every set of exactly `count` candidates that takes the target, as indices in no order, some of them
/// more than once.
pub(super) fn each_set(
    count: usize,
    candidates: &[Candidate],
    target: Marks,
    visit: &mut dyn FnMut(&[usize]),
) {
    // Samples few can reach come first.
    let mut order: Vec<(usize, usize)> = target
        .indices()
        .map(|sample| (candidates.iter().filter(|c| c.marks.has(sample)).count(), sample))
        .collect();
    order.sort_unstable();
    let order = order.into_iter().map(|(_, sample)| sample).collect();
    let most_marks = candidates.iter().map(|candidate| candidate.marks.count()).max().unwrap_or(0);
    let mut search =
        Search { candidates, order, visit, chosen: Vec::with_capacity(count), sets: 0, tries: 0, most_marks };
    search.go_on(count, target);
}

struct Search<'a> {
    candidates: &'a [Candidate],
    order: Vec<usize>,
    visit: &'a mut dyn FnMut(&[usize]),
    chosen: Vec<usize>,
    sets: u32,
    tries: u32,
    most_marks: u32,
}

impl Search<'_> {
    fn go_on(&mut self, count: usize, left: Marks) {
        if count == 0 || self.sets >= MOST_SETS || self.tries >= MOST_TRIES {
            return;
        }
        // What is left must be within reach of `count` candidates that share nothing.
        if u32::try_from(count).is_ok_and(|count| left.count() > count * self.most_marks) {
            return;
        }
        self.tries += u32::try_from(self.candidates.len()).unwrap_or(u32::MAX);
        // A set that needs fewer than `count` is found earlier; any candidate would do for the rest of this one.
        let rarest = self.order.iter().copied().find(|sample| left.has(*sample));
        for (index, candidate) in self.candidates.iter().enumerate() {
            if rarest.is_some_and(|sample| !candidate.marks.has(sample)) || self.chosen.contains(&index) {
                continue;
            }
            let left = left.without(&candidate.marks);
            self.chosen.push(index);
            if count > 1 {
                self.go_on(count - 1, left);
            } else if left.is_empty() {
                self.sets += 1;
                (self.visit)(&self.chosen);
            }
            self.chosen.pop();
        }
    }
}
