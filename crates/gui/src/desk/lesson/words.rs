//! Captions with their figures, questions, and what is said of a guess.

use super::near::near;
use super::{Guess, Stage};
use crate::desk::document::Figures;
use crate::desk::format::{self, Units};
use crate::desk::words::weigh_in::counted;
use crate::desk::words::{hold, kickback};
use barpoise_core::lesson::{Figure, Guessed, Piece, Step, Whose};
use barpoise_core::log::{DEFAULT_CONTACT, KickbackRatios, compare_kickback};
use barpoise_core::units::{Angle, Force, Length};
use barpoise_core::{Solved, impact_setup};

/// What stands where a figure is hidden.
const HIDDEN: &str = "____";
/// What stands where a setup is not in the yard, or has no such figure.
const NONE: &str = "(no figure)";

/// A run of a caption.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Span {
    /// What is said.
    pub text: String,
    /// True for a figure from the model.
    pub figure: bool,
}

/// A step's caption; hidden figures leave a blank.
pub fn caption(step: &Step, stage: &Stage, units: Units, hidden: bool) -> Vec<Span> {
    step.caption
        .iter()
        .map(|piece| match piece {
            Piece::Text(text) => Span { text: text.clone(), figure: false },
            Piece::Figure(figure, _) if hidden && !figure.is_name() => {
                Span { text: HIDDEN.to_owned(), figure: true }
            }
            Piece::Figure(figure, whose) => {
                let text = value(*figure, *whose, stage, units).unwrap_or_else(|| NONE.to_owned());
                Span { text, figure: true }
            }
        })
        .collect()
}

fn value(figure: Figure, whose: Whose, stage: &Stage, units: Units) -> Option<String> {
    let figures = stage.of_whom(whose)?;
    let solved = figures.solved();
    Some(match figure {
        Figure::Setup => figures.setup().name().to_owned(),
        Figure::Bar => figures.setup().bar().name().to_owned(),
        Figure::Weight => units.mass(solved.ready_mass()),
        Figure::Hang => format::hang(solved.hang.ok()?),
        Figure::FrontHand => units.hand(solved.hands.ok()?.front),
        Figure::FrontHandShare => times(solved.front_hand_ratio().ok()?),
        Figure::RearHand => units.hand(solved.hands.ok()?.rear),
        Figure::Ahead => ahead(figures, units),
        Figure::Reach => units.length(solved.reach),
        Figure::Links => format!("{} links", solved.links.order()?),
        Figure::PullIn => units.force(solved.pull_in?),
        Figure::OffSpikes => units.force(solved.weight() + solved.pull_in?),
        Figure::ChainEnergy => times(solved.chain_energy_j / stage.setup(0)?.solved().chain_energy_j),
        Figure::SnagEnergy => kickback::energy_times(&snagged(stage.setup(0)?, figures)?),
        Figure::Log => {
            let log = stage.log()?.ok()?;
            units.length(log.job().section().width())
        }
        Figure::Settings => settings(stage)?,
        Figure::HeldLevel => hold::level_said(figures.level().ok().map(Ok)?),
        Figure::HandsWork => units.load_time(stage.log()?.ok()?.cut().ok()?.carry.hands_newton_seconds),
    })
}

/// `1.19 times`.
fn times(ratio: f64) -> String {
    format!("{} times", format::ratio(ratio))
}

/// `62 mm ahead`, the saw held level.
fn ahead(figures: &Figures, units: Units) -> String {
    let grip = figures.setup().powerhead().front_grip();
    let ahead = Length::from_m(figures.solved().saw.centroid.x - grip.x);
    let sense = if ahead < Length::ZERO { "behind" } else { "ahead" };
    format!("{} {sense}", units.length(ahead.abs()))
}

/// `2 settings`, and how much of it they cut where that is not all.
fn settings(stage: &Stage) -> Option<String> {
    let cut = stage.log()?.ok()?.cut().ok()?;
    let count = counted(cut.settings.len(), "setting");
    if cut.cover.left.is_empty() {
        return Some(count);
    }
    Some(format!("{count} for {} of it", format::share_of_section(cut.cover.covered_fraction)))
}

/// A comparison of the two by the planar impact of a snagged chain, never a rating.
fn snagged(first: &Figures, second: &Figures) -> Option<KickbackRatios> {
    let impact = |figures: &Figures| impact_setup(figures.setup(), figures.solved()).ok();
    compare_kickback(&impact(first)?, &impact(second)?, DEFAULT_CONTACT).ok()
}

/// What is asked before a figure is shown.
pub fn question(guessed: Guessed, setup: &str) -> String {
    match guessed {
        Guessed::Hang => format!(
            "Lifted by the front handle alone, how does {setup} come to rest? Turn the saw by its nose, then let it be told."
        ),
        Guessed::Reach => format!(
            "From where on does the bar of {setup} cut? Slide the mark along the bar: from there to the tip is your reach."
        ),
        Guessed::Tip => format!(
            "The bar of {setup} is out of sight. Where is its tip? Slide the mark: with the nose hidden in the wood you must \
             know it as well."
        ),
        Guessed::Weight => format!(
            "What does {setup} weigh ready to work, with bar, chain, fuel and oil? Slide the poise along the beam."
        ),
        Guessed::FrontHand => format!(
            "{setup} is held still and level with both hands. How much does the front hand carry? Slide the poise along \
             the beam."
        ),
    }
}

/// How the guess stands to the figure: `You said 7.00 kg. It is 8.62 kg: 1.62 kg off.` and a kind word.
pub fn guess_words(guess: &Guess, solved: &Solved, units: Units) -> String {
    let Some(truth) = Guess::truth(guess.of, solved) else {
        return "This saw has no such figure: nobody could have guessed it.".to_owned();
    };
    let shown = |value| Guess::shown(guess.of, value, units);
    let off = (truth - guess.value).abs();
    let apart = match guess.of {
        Guessed::Hang => format::angle(Angle::from_rad(off)),
        Guessed::FrontHand => units.force(Force::from_n(off)),
        Guessed::Reach | Guessed::Weight | Guessed::Tip => shown(off),
    };
    let (right, close) = near(guess.of, truth);
    let kind = if off <= right {
        "As good as measured."
    } else if off <= close {
        "Close: you have a feel for it."
    } else {
        "Take it up again and feel for it."
    };
    format!("You said {}. It is {}: {apart} off. {kind}", shown(guess.value), shown(truth))
}

/// The words beside a hanging saw: its name, and its figures where they are shown.
pub fn hung_words(name: &str, solved: &Solved, units: Units, figures: bool) -> Vec<String> {
    let name = format::short_name(name);
    if !figures {
        return vec![name];
    }
    let hang = solved.hang.map_or_else(|reason| reason.to_string(), format::hang);
    let rest = format!("{}, reach {}", units.mass(solved.ready_mass()), units.length(solved.reach));
    vec![format!("{name}, {hang}"), rest]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::desk::document::Document;
    use barpoise_core::lesson::{Cast, built_in, parse_lesson};
    use std::collections::BTreeMap;

    fn text(spans: &[Span]) -> String {
        spans.iter().map(|span| span.text.as_str()).collect()
    }

    #[test]
    fn every_caption_of_the_built_in_lesson_is_filled_from_the_demo() {
        let (document, none) = (Document::demo().unwrap(), BTreeMap::new());
        for step in Cast::new(document.yard(), "Bittern B24", &none).of(&built_in().unwrap()) {
            let step = step.unwrap();
            let stage = Stage::of(&step, &document);
            assert!(stage.is_whole());
            let filled = text(&caption(&step, &stage, Units::default(), false));
            assert!(!filled.contains(NONE) && !filled.contains(HIDDEN) && !filled.contains('{'), "{filled}");
        }
    }

    #[test]
    fn a_figure_is_that_of_the_model_in_the_units_in_use() {
        let names: Vec<&str> = Figure::ALL.iter().map(|(name, _)| *name).collect();
        let document = Document::demo().unwrap();
        for (name, figure) in Figure::ALL.into_iter().filter(|(_, figure)| !figure.of_log()) {
            let source = format!(
                "(version: 1, name: \"x\", steps: [(heading: \"x\", caption: \"{{{name}:2}}\", view: SideBySide, \
                 setups: [\"Bittern B14\", \"Bittern B24\"])])"
            );
            let lesson = parse_lesson(&source, "x").unwrap();
            let step = &lesson.steps()[0];
            let stage = Stage::of(step, &document);
            let filled = text(&caption(step, &stage, Units::default(), false));
            assert_ne!(filled, NONE, "{figure:?} of {names:?}");
            let hidden = text(&caption(step, &stage, Units::default(), true));
            assert_eq!(hidden == HIDDEN, !figure.is_name(), "{figure:?} {hidden}");
        }
        let solved = document.setup_figures("Bittern B24").unwrap();
        let solved = solved.solved();
        let first = document.setup_figures("Bittern B14").unwrap();
        let ratio = solved.chain_energy_j / first.solved().chain_energy_j;
        assert!(ratio > 1.0, "a longer bar brings more energy: {ratio}");
    }

    #[test]
    fn a_guess_is_told_kindly_and_with_how_far_off_it_was() {
        let document = Document::demo().unwrap();
        let figures = document.setup_figures("Bittern B24").unwrap();
        let solved = figures.solved();
        let truth = Guess::truth(Guessed::Weight, solved).unwrap();
        let said = |value| {
            let guess = Guess { of: Guessed::Weight, value, moved: true, told: true };
            guess_words(&guess, solved, Units::default())
        };
        assert!(said(truth).ends_with(": 0.00 kg off. As good as measured."), "{}", said(truth));
        assert!(said(truth - 0.5).contains("0.50 kg off. Close"), "{}", said(truth - 0.5));
        assert!(
            said(truth + 3.0).contains("3.00 kg off. Take it up again and feel for it."),
            "{}",
            said(truth + 3.0)
        );
    }
}
