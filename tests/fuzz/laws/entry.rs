//! What is typed into the form of a reading makes one that the yard takes and the form gives back, or is refused
//! in one line.

use super::laws::is_one_line;
use barpoise::desk::document::Document;
use barpoise::desk::edit::{Edit, Gesture, WeighInEdit};
use barpoise::desk::format::{LengthUnit, MassUnit, Units};
use barpoise::desk::forms::reading::{Entry, Judgement, MeasureKind};
use barpoise_core::record::ReadingFile;
use barpoise_core::units::Angle;

/// Holds the law to a text: its first line picks what is measured, the second is the value, the third the give or take.
pub fn holds(text: &str) {
    let mut lines = text.splitn(3, '\n');
    let mut next = || lines.next().unwrap_or_default();
    let (picks, value, uncertainty) = (next(), next(), next());
    DEMO.with(|demo| {
        let entry =
            Entry { value: value.to_owned(), uncertainty: uncertainty.to_owned(), ..picked(demo, picks) };
        match entry.judge(demo, units(picks)) {
            Judgement::Empty => assert!(value.trim().is_empty(), "{value:?} is not nothing"),
            Judgement::Refused(said) => is_one_line(&said),
            Judgement::FarOff { said, reading, .. } => {
                is_one_line(&said);
                reading.iter().for_each(|reading| is_taken(demo, reading));
            }
            Judgement::Good(reading) => is_taken(demo, &reading),
        }
    });
}

thread_local! {
    static DEMO: Document = match Document::demo() {
        Ok(demo) => demo,
        Err(error) => unreachable!("the demo: {error}"),
    };
}

/// A form with what the characters of a text pick; what it has none for stays as it is.
fn picked(demo: &Document, picks: &str) -> Entry {
    let pick = |place: usize| picks.as_bytes().get(place).map(|byte| usize::from(*byte));
    let yard = demo.yard();
    let share =
        |place| pick(place).map(|byte| f64::from(u32::try_from(byte % 11).unwrap_or_default()) / 10.0);
    let kinds = MeasureKind::ALL;
    Entry {
        kind: pick(0).and_then(|byte| kinds.get(byte % kinds.len()).copied()).unwrap_or_default(),
        setup: pick(1).and_then(|byte| yard.setups().get(byte % 16)).map(|setup| setup.name().to_owned()),
        bar: pick(2).and_then(|byte| yard.bars().get(byte % 16)).map(|bar| bar.name().to_owned()),
        chain: pick(3).and_then(|byte| yard.chains().get(byte % 4)).map(|chain| chain.name().to_owned()),
        fuel: share(4),
        oil: share(5),
        nose_up: Angle::from_deg(share(6).map_or(0.0, |share| share * 120.0 - 60.0)),
        links: pick(7).and_then(|byte| u32::try_from(byte + 16).ok()),
        ..Entry::default()
    }
}

fn units(picks: &str) -> Units {
    let imperial = Units { length: LengthUnit::In, mass: MassUnit::Lb, ..Units::default() };
    if picks.len().is_multiple_of(2) { Units::default() } else { imperial }
}

fn is_taken(demo: &Document, reading: &ReadingFile) {
    let Ok(mut document) = Document::new_yard(demo.yard().clone()) else {
        unreachable!("the demo is no yard");
    };
    document.apply(Edit::WeighIn(WeighInEdit::AddReading(reading.clone())), Gesture::Single);
    assert_eq!(document.refusal(), None, "{reading:?}");
    let Some(index) = document.yard().readings().len().checked_sub(1) else {
        unreachable!("{reading:?} was not added");
    };
    let Some(back) = Entry::of_reading(&document, index) else {
        unreachable!("{reading:?} does not come back");
    };
    match back.judge(&document, Units::default()) {
        Judgement::Good(again) | Judgement::FarOff { reading: Some(again), .. } => {
            assert_eq!(&again, reading)
        }
        other => unreachable!("{reading:?} comes back as {other:?}"),
    }
}
