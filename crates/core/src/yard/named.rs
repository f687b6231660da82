//! What others of a yard call by name: the names that stand in the file, and what is valid behind them.

use crate::fault::{Checker, clipped};
use std::cell::OnceCell;
use std::collections::HashMap;

/// Most characters of a name that a message repeats.
const LONGEST_SHOWN: usize = 40;
/// Names that a message lists; more are counted.
const MOST_LISTED: usize = 12;

/// Things of one kind by their names. Each is found, and missed, without going through all of them.
pub(crate) struct Named<'a, T> {
    kind: &'static str,
    /// `None` for what stands in the file but was refused for itself.
    by_name: HashMap<&'a str, Option<&'a T>>,
    /// The words for which names there are, once they were needed.
    listed: OnceCell<String>,
}

impl<'a, T> Named<'a, T> {
    /// The names of a list of the file, and what is valid of it; of two that share a name the first counts.
    pub(crate) fn new(
        kind: &'static str,
        names: impl Iterator<Item = &'a str>,
        valid: &'a [T],
        name_of: impl Fn(&'a T) -> &'a str,
    ) -> Self {
        let mut by_name: HashMap<&str, Option<&T>> = names.map(|name| (name, None)).collect();
        for item in valid {
            by_name.entry(name_of(item)).or_default().get_or_insert(item);
        }
        Self { kind, by_name, listed: OnceCell::new() }
    }

    /// The valid one of this name. A name that does not stand in the file is noted as a fault of this field.
    pub(crate) fn find(&self, check: &mut Checker, field: &str, name: &str) -> Option<&'a T> {
        match self.by_name.get(name) {
            Some(found) => *found,
            None => {
                let (kind, listed) = (self.kind, self.listed());
                check.fault(
                    field,
                    format_args!(
                        "there is no {kind} named `{}`; there is {listed}",
                        clipped(name, LONGEST_SHOWN)
                    ),
                );
                None
            }
        }
    }

    fn listed(&self) -> &str {
        self.listed.get_or_init(|| {
            let mut names: Vec<&str> = self.by_name.keys().copied().collect();
            names.sort_unstable();
            listed(&names)
        })
    }
}

fn listed(names: &[&str]) -> String {
    let mut shown: Vec<_> = names.iter().take(MOST_LISTED).map(|name| clipped(name, LONGEST_SHOWN)).collect();
    match names.len() {
        0 => "none".to_owned(),
        1..=MOST_LISTED => shown.join(", "),
        more => {
            shown.push(format!("{} more", more - MOST_LISTED));
            shown.join(", ")
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_refused_for_itself_is_no_unknown_name() {
        let names = ["b", "a", "a"];
        let valid = ["a", "a"];
        let known = Named::new("bar", names.into_iter(), &valid, |name| name);
        let mut check = Checker::new("setups[0]", "setup S");
        assert!(std::ptr::eq(known.find(&mut check, "bar", "a").unwrap(), &valid[0]), "the first of a name");
        assert_eq!(known.find(&mut check, "bar", "b"), None);
        assert!(check.is_clean());
        assert_eq!(known.find(&mut check, "bar", "c"), None);
        let said = check.finish(()).unwrap_err();
        assert_eq!(said[0].to_string(), "setups[0].bar: setup S: there is no bar named `c`; there is a, b");
    }

    #[test]
    fn many_names_are_counted_and_put_into_words_once() {
        let names: Vec<String> = (0..8000).map(|number| format!("B{number:04}")).collect();
        let none: [&str; 0] = [];
        let known = Named::new("bar", names.iter().map(String::as_str), &none, |name| name);
        let mut check = Checker::new("", "");
        known.find(&mut check, "bar", "x");
        let first = known.listed().as_ptr();
        known.find(&mut check, "bar", "y");
        assert_eq!(known.listed().as_ptr(), first, "made once, however many ask");
        assert!(known.listed().starts_with("B0000, B0001") && known.listed().ends_with(", 7988 more"));
    }
}
