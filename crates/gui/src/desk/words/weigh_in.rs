//! What is said of readings, of what they taught, and of what to measure next.

use crate::desk::format::{self, Dimension, Units};
use barpoise_core::units::{Angle, Length, Mass};
use barpoise_core::weigh_in::{
    CannotFit, Counted, DRAWS, Disagreement, DrawCheck, Fit, FittedReading, Learnt, Measured, Mixed,
    NextReading, Quantity, Reading, SawMeasure, Slip, Unknown,
};

/// What was measured, without on what: `hang angle`.
pub fn measure(measured: &Measured) -> &'static str {
    match measured {
        Measured::Saw { measure, .. } => match measure {
            SawMeasure::Total => "total weight",
            SawMeasure::FrontGrip { .. } => "weight at the front grip",
            SawMeasure::RearGrip { .. } => "weight at the rear grip",
            SawMeasure::Hang => "hang angle",
            SawMeasure::BalancePoint => "balance point",
            SawMeasure::Reach => "reach past the spikes",
            SawMeasure::SwingPeriod => "swing period",
        },
        Measured::Bar(_) => "weight of the bar",
        Measured::Loop { .. } => "weight of the loop",
    }
}

/// What was measured on what: `hang angle of Bittern B24`, with what is unlike the yard's setup.
pub fn measure_of(measured: &Measured) -> String {
    match measured {
        Measured::Saw { setup, measure: what } => {
            let mut text = format!("{} of {}", measure(measured), setup.name());
            if let SawMeasure::FrontGrip { nose_up } | SawMeasure::RearGrip { nose_up } = what
                && *nose_up != Angle::ZERO
            {
                text.push_str(&format!(", held {}", format::hang(Angle::ZERO - *nose_up)));
            }
            text
        }
        Measured::Bar(bar) => format!("weight of {} alone", bar.name()),
        Measured::Loop { chain, links } => format!("weight of a loop of {links} links, {}", chain.name()),
    }
}

/// The levels in the tanks that a reading was taken with, such as `fuel 50 %, oil 100 %`; nothing for a part alone.
pub fn levels(measured: &Measured) -> Option<String> {
    match measured {
        Measured::Saw { setup, .. } => Some(format!(
            "fuel {}, oil {}",
            format::percent(setup.fuel_fill()),
            format::percent(setup.oil_fill())
        )),
        Measured::Bar(_) | Measured::Loop { .. } => None,
    }
}

/// The SI unit of a measure's value; weights are in kg, as a scale shows them.
pub const fn si_unit(measured: &Measured) -> &'static str {
    match measured {
        Measured::Saw { measure: SawMeasure::Hang, .. } => "rad",
        Measured::Saw { measure: SawMeasure::BalancePoint | SawMeasure::Reach, .. } => "m",
        Measured::Saw { measure: SawMeasure::SwingPeriod, .. } => "s",
        _ => "kg",
    }
}

/// A value of a measure (SI, weights in kg) with its standard uncertainty: `9.05 ± 0.05 kg`.
pub fn value(units: Units, measured: &Measured, value: f64, uncertainty: f64) -> String {
    match measured {
        Measured::Saw { measure: SawMeasure::Hang, .. } => {
            format::angle_with(Angle::from_rad(value), Angle::from_rad(uncertainty))
        }
        Measured::Saw { measure: SawMeasure::BalancePoint | SawMeasure::Reach, .. } => {
            units.length_with(Length::from_m(value), Length::from_m(uncertainty))
        }
        Measured::Saw { measure: SawMeasure::SwingPeriod, .. } => format::seconds_with(value, uncertainty),
        _ => units.mass_with(Mass::from_kg(value), Mass::from_kg(uncertainty)),
    }
}

/// What kind of value a measure gives.
pub const fn dimension(measured: &Measured) -> Dimension {
    match measured {
        Measured::Saw { measure, .. } => match measure {
            SawMeasure::Hang => Dimension::Angle,
            SawMeasure::BalancePoint | SawMeasure::Reach => Dimension::Length,
            SawMeasure::SwingPeriod => Dimension::Time,
            SawMeasure::Total | SawMeasure::FrontGrip { .. } | SawMeasure::RearGrip { .. } => Dimension::Mass,
        },
        Measured::Bar(_) | Measured::Loop { .. } => Dimension::Mass,
    }
}

/// What kind of value a number of a part is.
pub const fn quantity_dimension(quantity: Quantity) -> Dimension {
    match quantity {
        Quantity::DryMass | Quantity::BarMass => Dimension::Mass,
        Quantity::LinkMass => Dimension::LinkMass,
        Quantity::FuelCapacity | Quantity::OilCapacity => Dimension::Volume,
        _ => Dimension::Length,
    }
}

/// `8.10 kg`: a value of a measure (SI) alone, in the decimals that go with its uncertainty.
pub fn value_alone(units: Units, measured: &Measured, value: f64, uncertainty: f64) -> String {
    units.known_value(dimension(measured), value, uncertainty)
}

/// Why a value is refused: `weight must be 2.00 kg to 25.00 kg`.
pub fn allowed(units: Units, measured: &Measured) -> String {
    let (range, si) = (measured.range(), measured.si_per_file_unit());
    let shown = |value: f64| value_alone(units, measured, value * si, 0.0);
    format!("{} must be {} to {}", range.what, shown(range.min), shown(range.max))
}

/// Why a standard uncertainty is refused: `give or take must be 0.0005 kg to 2.0 kg`.
pub fn allowed_give_or_take(units: Units, measured: &Measured) -> String {
    let (range, si) = (measured.uncertainty_range(), measured.si_per_file_unit());
    let shown = |value: f64| value_alone(units, measured, value * si, value * si);
    format!("give or take must be {} to {}", shown(range.min), shown(range.max))
}

/// Why nothing was learnt, and what to do.
pub fn cannot_fit(units: Units, reason: &CannotFit) -> String {
    match reason {
        CannotFit::NoReadings => "No reading is used yet: add one, or take one in again.".to_owned(),
        CannotFit::NothingNoticed => {
            "No reading depends on any of the picked numbers: pick others, or let the program pick."
                .to_owned()
        }
        CannotFit::OutOfRange { unknown: which, value } => {
            let (range, si) = (which.quantity.range(), which.quantity.si_per_file_unit());
            let shown = |value: f64| units.known_value(quantity_dimension(which.quantity), value, 0.0);
            format!(
                "The readings ask for a {} of {}, outside {} to {}: one of them must be wrong.",
                unknown(which),
                shown(*value),
                shown(range.min * si),
                shown(range.max * si)
            )
        }
        CannotFit::Search(_) => {
            "No numbers were found that fit: one of the readings must be far off.".to_owned()
        }
    }
}

/// True where the readings, or one of them, do not go with the rest.
pub fn is_doubtful(fit: &Fit) -> bool {
    fit.disagreement.is_some() || fit.probability.is_some_and(|probability| probability < 0.05)
}

/// How much the readings settle of what they touch.
pub fn settled(fit: &Fit) -> String {
    let numbers = counted(fit.learnt.len(), "number");
    match fit.settled {
        0 => format!("They bear on {numbers} and say less of them than was known before."),
        settled if settled < fit.learnt.len() => format!(
            "They bear on {numbers} and pin down {} of them; the rest is what was known before.",
            counted(settled, "combination")
        ),
        _ => format!("They pin down {numbers}."),
    }
}

/// What was read, with its standard uncertainty.
pub fn read(units: Units, reading: &Reading) -> String {
    value(units, reading.measured(), reading.value(), reading.uncertainty())
}

/// A number of a part: `dry mass of Bittern`.
pub fn unknown(unknown: &Unknown) -> String {
    match unknown.quantity {
        Quantity::BarMass => format!("mass of {}", unknown.of),
        _ => format!("{} of {}", unknown.quantity.words(), unknown.of),
    }
}

/// A number's value (SI) with its standard uncertainty.
pub fn quantity(units: Units, quantity: Quantity, value: f64, uncertainty: f64) -> String {
    match quantity {
        Quantity::DryMass | Quantity::BarMass => {
            units.mass_with(Mass::from_kg(value), Mass::from_kg(uncertainty))
        }
        // A link weighs grams, in either unit system.
        Quantity::LinkMass => format::grams_with(Mass::from_kg(value), Mass::from_kg(uncertainty)),
        Quantity::FuelCapacity | Quantity::OilCapacity => units.known(Dimension::Volume, value, uncertainty),
        _ => units.length_with(Length::from_m(value), Length::from_m(uncertainty)),
    }
}

/// A learnt number: what was known before, and what is known now.
pub fn learnt(units: Units, learnt: &Learnt) -> (String, String) {
    let of = learnt.unknown.quantity;
    (
        quantity(units, of, learnt.prior.value, learnt.prior.uncertainty),
        quantity(units, of, learnt.value, learnt.uncertainty),
    )
}

/// How a reading lies to the fit: `0.4 deviations below`: standard deviations, what was read against what is expected.
pub fn off(fitted: &FittedReading) -> String {
    match fitted.standardised {
        None => "followed as it is".to_owned(),
        Some(off) => {
            let size = format::times_of_deviation(off.abs());
            if off < 0.0 { format!("{size} deviations below") } else { format!("{size} deviations above") }
        }
    }
}

/// Below this chance readings contradict each other.
const CONTRADICT: f64 = 0.001;

/// True for a fit whose readings contradict each other or what was known: its uncertainties then mean nothing.
pub fn contradicts<E>(fit: Result<&Fit, E>) -> bool {
    fit.is_ok_and(|fit| fit.probability.is_some_and(|probability| probability < CONTRADICT))
}

/// What the readings together say of each other and of what was known.
pub fn agreement(fit: &Fit) -> String {
    let alone = fit.readings.len() == 1;
    match fit.probability {
        None => "There is nothing to judge the readings by.",
        Some(probability) if probability < CONTRADICT => {
            "The readings contradict each other or what was known."
        }
        Some(probability) if probability < 0.05 && alone => {
            "The reading lies farther from what was known than it should."
        }
        Some(probability) if probability < 0.05 => "The readings go together badly.",
        Some(probability) if probability > 0.995 && !alone => {
            "The readings lie closer together than their give or take says: they may be better than you think."
        }
        Some(_) if alone => "The reading goes with what was known.",
        Some(_) => "The readings go together.",
    }
    .to_owned()
}

/// The same in the numbers of statistics, for those who ask: `Chi-square 3.1 over 4 readings; 54 % of such sets are as
/// far apart.`
pub fn agreement_in_numbers(fit: &Fit) -> Option<String> {
    let probability = fit.probability?;
    let readings = counted(fit.freedom, "reading");
    let sum = format!("Chi-square {} over {readings}", format::two_digits(fit.chi_square));
    Some(format!("{sum}; {} of such sets are as far apart.", chance(probability)))
}

/// A reading is told of where it moved by more than this many of its own standard uncertainties.
const MOVED: f64 = 2.0;

/// What was read far from what the yard expected, and which number took it up: `Your reach past the spikes of Wren B14
/// is 27 mm less than expected before: likely the count of links on B14.`
pub fn moved(units: Units, fit: &Fit, fitted: &FittedReading, measured: &Measured) -> Option<String> {
    let (value, uncertainty) = fitted.read;
    let off = value - fitted.expected_before;
    if off.abs() < MOVED * uncertainty {
        return None;
    }
    let (place, _) = fitted.mostly?;
    let number = &fit.learnt.get(place)?.unknown;
    let asked = fit.counts.iter().any(|count| *count.bar == *number.of);
    let cause = match number.quantity {
        Quantity::NosePlace if asked => format!("the count of links on {}", number.of),
        Quantity::NosePlace => format!("the stretch of the chain on {}", number.of),
        _ => format!("the {}", unknown(number)),
    };
    let way = match measured {
        Measured::Saw { measure: SawMeasure::Hang, .. } if off > 0.0 => "more nose down",
        Measured::Saw { measure: SawMeasure::Hang, .. } => "less nose down",
        _ if off > 0.0 => "more",
        _ => "less",
    };
    let size = units.known_value(dimension(measured), off.abs(), uncertainty);
    Some(format!("Your {} is {size} {way} than the yard expected: likely {cause}.", measure_of(measured)))
}

/// Chances from which a count is told as fitting, and below which as not.
const FITS: f64 = 0.10;
const DOES_NOT: f64 = 0.02;

/// What the readings say of a loop that nobody counted.
pub fn links(count: &Counted) -> String {
    let mut fitting: Vec<_> = count.chances.iter().filter(|chance| chance.now >= FITS).collect();
    fitting.sort_by(|a, b| b.now.total_cmp(&a.now));
    let fitting: Vec<String> =
        fitting.iter().map(|chance| format!("{} ({})", chance.links, format::percent(chance.now))).collect();
    let against: Vec<String> = count
        .chances
        .iter()
        .filter(|chance| chance.now < DOES_NOT && chance.before >= DOES_NOT)
        .map(|chance| chance.links.to_string())
        .collect();
    let mut text =
        format!("Nobody counted the loop on {}. The readings fit {} links", count.bar, either(&fitting));
    if !against.is_empty() {
        text.push_str(&format!(", not {}", either(&against)));
    }
    text.push_str(". Count them once: it settles where the nose is.");
    text
}

/// `59`, `59 or 60`, `59, 60 or 61`.
fn either(words: &[String]) -> String {
    match words {
        [] => "none of the".to_owned(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} or {last}", rest.join(", ")),
    }
}

/// Counts that are offered to be picked: those that the readings do not rule out.
pub fn counts_to_pick(count: &Counted) -> impl Iterator<Item = u32> {
    count.chances.iter().filter(|chance| chance.now >= DOES_NOT).map(|chance| chance.links)
}

/// A small probability: what rounds to nothing is not nothing.
fn chance(probability: f64) -> String {
    if probability < 0.01 { "under 1\u{a0}%".to_owned() } else { format::percent(probability) }
}

/// What is wrong with the reading that does not go with the others.
pub fn disagreement(disagreement: &Disagreement, measured: &Measured) -> String {
    let number = disagreement.index + 1;
    let size = format::times_of_deviation(disagreement.standardised.abs());
    let without = match disagreement.probability_without {
        Some(probability) if probability >= 0.05 => {
            "Without it the rest go together: measure it again, or leave it out."
        }
        Some(_) => "Even without it the rest do not go together: look at the others as well.",
        None => "There is no other reading to hold it against: measure it again.",
    };
    format!(
        "Reading {number}, the {}, does not go with the rest: {size} standard deviations off. {without}",
        measure_of(measured)
    )
}

/// The same beside the reading itself: `does not go with the others: 3.4 standard deviations off; …`.
pub fn disagreement_here(disagreement: &Disagreement) -> String {
    let size = format::times_of_deviation(disagreement.standardised.abs());
    let without = match disagreement.probability_without {
        Some(probability) if probability >= 0.05 => "; without it the rest agree",
        Some(_) => "; even without it the rest do not agree",
        None => "",
    };
    format!("does not go with the others: {size} standard deviations off{without}")
}

/// Which numbers the readings leave mixed, and what would separate them.
pub fn mixed(mixed: &Mixed) -> String {
    let names: Vec<String> = mixed.unknowns.iter().map(unknown).collect();
    let open = match names.as_slice() {
        [] => return String::new(),
        [one] => format!("These readings say little of the {one}"),
        [first, second] => format!("These readings do not tell the {first} from the {second}"),
        [rest @ .., last] => {
            format!("These readings do not tell apart the {} and the {last}", rest.join(", the "))
        }
    };
    match &mixed.separated_by {
        Some(by) if names.len() > 1 => format!("{open}; {} would help to separate them.", with_article(by)),
        Some(by) => format!("{open}; {} would.", with_article(by)),
        None => format!("{open}; nothing that could be measured here would."),
    }
}

fn with_article(measured: &Measured) -> String {
    format!("the {}", measure_of(measured))
}

/// What a reading would bring.
pub fn next(next: &NextReading) -> String {
    format!(
        "{} would bring the hang over the rack from ± {} to ± {}",
        capitalised(&with_article(&next.measured)),
        format::uncertainty_of_angle(next.hang_now),
        format::uncertainty_of_angle(next.hang_then)
    )
}

/// Beyond this share a band drawn straight misleads.
const CROOKED: f64 = 0.1;

/// True where the linear bands mislead.
pub fn misleads(check: DrawCheck) -> bool {
    check.apart > CROOKED
}

/// How well the linear bands agree with drawing; a share is told as the next whole percent.
pub fn draws(check: DrawCheck) -> String {
    let (share, draws) = (format::percent((check.apart * 100.0).ceil() / 100.0), format::thousands(DRAWS));
    if misleads(check) {
        format!("Careful: {draws} draws differ from the bands by {share}; the bands are only a rough guide.")
    } else {
        format!("{draws} draws agree with the bands within {share}.")
    }
}

/// What is said where a saw does not hang in some of the draws.
pub fn no_hang(check: DrawCheck) -> Option<String> {
    let share = 1.0 - check.hangs;
    (share > 0.0).then(|| format!("In {} of them a saw has no stable hang.", format::percent(share)))
}

/// A question about a value that is far off; `expected` is what is expected, with its standard uncertainty (SI).
pub fn slip(units: Units, measured: &Measured, slip: Slip, expected: (f64, f64), uncertainty: f64) -> String {
    let about = value(units, measured, expected.0, expected.1);
    let meant = slip.mended().map(|mended| value(units, measured, mended, uncertainty));
    let question = match slip {
        Slip::DecimalPoint(_) => "Did the decimal point slip?",
        Slip::Pounds(_) => "Are these pounds?",
        Slip::Kilograms(_) => "Are these kilograms?",
        Slip::Inches(_) => "Are these inches?",
        Slip::Sign(_) if matches!(measured, Measured::Saw { measure: SawMeasure::BalancePoint, .. }) => {
            "Behind the spikes counts negative. Is it behind?"
        }
        Slip::Sign(_) => "Nose down is positive, nose up negative. Is it the other way round?",
        Slip::Unexplained => "That is far off. Is it the right setup, with the right levels in the tanks?",
    };
    match meant {
        Some(meant) => {
            /// Within this many standard deviations a value fits.
            const FITS: f64 = 3.0;
            let off = slip.mended().map_or(0.0, |mended| (mended - expected.0).abs());
            let fits = off <= FITS * expected.1.hypot(uncertainty);
            let word = if fits { "would fit" } else { "would be nearer" };
            format!("Expected is about {about}. {question} {meant} {word}.")
        }
        None => format!("Expected is about {about}. {question}"),
    }
}

/// `1 reading`, `3 readings`.
pub fn counted(count: usize, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// The first letter as a sentence begins.
pub fn capitalised(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}
