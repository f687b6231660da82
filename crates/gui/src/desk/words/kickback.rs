//! Two setups compared by what a snagged chain does to them, in words: ratios over what may turn with the chain, energy and
//! what reaches the arms first.

use crate::desk::format::{self, Units};
use barpoise_core::log::{KickbackRatios, RatioSpan, TURNING};

/// Each figure with its name: what the arms get first, then how fast it goes.
pub fn rows(ratios: &KickbackRatios) -> [(&'static str, String); 4] {
    let shown = |span: RatioSpan| format::times_between(span.least, span.most);
    [
        ("Energy into the saw", shown(ratios.energy)),
        ("Turn that the arms must stop", shown(ratios.to_stop)),
        ("Speed of the nose", shown(ratios.nose_speed)),
        ("Pitch rate", shown(ratios.pitch_rate)),
    ]
}

/// What the ratios rest on.
pub fn rests_on(units: Units) -> String {
    let ends = TURNING.first().zip(TURNING.last());
    let turning = ends.map_or_else(String::new, |(least, most)| {
        format!(
            "From {} to {} ({} more at the chain; {}). ",
            least.what,
            most.what,
            units.mass(most.added),
            most.mark.words()
        )
    });
    format!("{turning}A comparison by a planar impact, never a rating.")
}

/// `1.07 to 1.80 times`, and that less is no less danger where it is less.
pub fn energy_times(ratios: &KickbackRatios) -> String {
    let RatioSpan { least, most } = ratios.energy;
    let below = if least < 1.0 { "; below 1 is not less danger" } else { "" };
    format!("{} to {} times{below}", format::ratio(least), format::ratio(most))
}

#[cfg(test)]
mod tests {
    use super::*;
    use barpoise_core::file::demo;
    use barpoise_core::log::{DEFAULT_CONTACT, compare_kickback};
    use barpoise_core::{impact_setup, solve};

    fn ratios(first: &str, second: &str) -> KickbackRatios {
        let yard = demo().unwrap();
        let of = |name| {
            let setup = yard.setup(name).unwrap();
            impact_setup(setup, &solve(setup)).unwrap()
        };
        compare_kickback(&of(first), &of(second), DEFAULT_CONTACT).unwrap()
    }

    #[test]
    fn energy_leads_and_what_it_rests_on_is_said_with_its_mark() {
        let [(first, energy), (second, _), ..] = rows(&ratios("Bittern B14", "Bittern B24"));
        assert!(first.contains("Energy") && second.contains("arms"), "{first}, {second}");
        assert_eq!(energy, "× 1.07 … 1.80");
        let said = rests_on(Units::default());
        for part in ["the chain alone", "clutch holding", "1.50 kg", "our guess", "never a rating"] {
            assert!(said.contains(part), "{said}");
        }
    }

    #[test]
    fn no_ratio_below_one_goes_without_its_words() {
        let longer = ratios("Bittern B14", "Bittern B24");
        assert_eq!(energy_times(&longer), "1.07 to 1.80 times");
        assert!(longer.no_less_danger().is_some(), "it turns more slowly");
        let shorter = ratios("Bittern B24", "Bittern B14");
        assert!(energy_times(&shorter).ends_with("; below 1 is not less danger"));
        assert!(shorter.no_less_danger().is_some());
        assert_eq!(ratios("Bittern B24", "Bittern B24").no_less_danger(), None);
    }
}
