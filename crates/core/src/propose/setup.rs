//! A setup of parts that go together.

use crate::record::SetupFile;
use crate::saw::{Fittings, Setup};
use crate::yard::Yard;
use std::sync::Arc;

/// The first parts of a yard that go together and are no setup yet, else the first that go together at all, both
/// tanks full; those of `head` where it has any. `None` where nothing goes together.
pub fn propose_setup(yard: &Yard, head: Option<&str>) -> Option<SetupFile> {
    let mut heads: Vec<_> = yard.powerheads().iter().collect();
    heads.sort_by_key(|other| head != Some(other.name()));
    let all = heads.iter().flat_map(|head| {
        let bars =
            yard.bars().iter().flat_map(move |bar| yard.chains().iter().map(move |chain| (bar, chain)));
        bars.filter_map(|(bar, chain)| {
            let parts = (Arc::clone(head), Arc::clone(bar), Arc::clone(chain));
            let full = Fittings { fuel_fill: 1.0, oil_fill: 1.0, extras: Vec::new() };
            Setup::new(format!("{} {}", head.name(), bar.name()), parts.0, parts.1, parts.2, None, full).ok()
        })
    });
    let mut all = all.peekable();
    let first = all.peek().cloned();
    let is_new = |setup: &Setup| {
        !yard.setups().iter().any(|other| {
            other.powerhead().name() == setup.powerhead().name() && other.bar().name() == setup.bar().name()
        })
    };
    let setup = all.find(is_new).or(first)?;
    let order = setup.links().order();
    Some(SetupFile {
        name: setup.name().to_owned(),
        note: String::new(),
        powerhead: setup.powerhead().name().to_owned(),
        bar: setup.bar().name().to_owned(),
        chain: setup.chain().name().to_owned(),
        drive_links: order.filter(|count| *count != setup.bar().marked_drive_links()),
        fuel_fill: 1.0,
        oil_fill: 1.0,
        extras: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;

    #[test]
    fn a_proposed_setup_goes_into_the_yard() {
        for head in ["Bittern", "Wren"] {
            let mut file = demo().unwrap().file().clone();
            file.setups.retain(|setup| setup.bar != "B18" && setup.bar != "B18 narrow");
            file.readings.clear();
            let yard = Yard::new(file.clone()).unwrap();
            let setup = propose_setup(&yard, Some(head)).unwrap();
            assert_eq!(setup.powerhead, head);
            file.setups.push(setup);
            Yard::new(file).unwrap();
        }
    }
}
