//! Captions: text with places for figures.

use crate::file::nearest::nearest;

/// A figure that a caption can name; its value comes from the model.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Figure {
    /// Name of the setup.
    Setup,
    /// Name of its bar.
    Bar,
    /// Weight ready to work.
    Weight,
    /// Hang from the front handle.
    Hang,
    /// Load in the front hand, the saw held level.
    FrontHand,
    /// That load over the weight.
    FrontHandShare,
    /// Load in the rear hand, the saw held level.
    RearHand,
    /// How far the centre of gravity lies ahead of the front hand, the saw held level.
    Ahead,
    /// Reach past the spikes.
    Reach,
    /// Links of chain to order.
    Links,
    /// The most that the chain pulls at full power.
    PullIn,
    /// Weight and pull-in together: what the hands hold off the spikes.
    OffSpikes,
    /// Energy of the running chain over that of the step's first setup.
    ChainEnergy,
    /// Energy that a snagged chain brings into the saw over that of the step's first setup: a comparison.
    SnagEnergy,
    /// Diameter of the log.
    Log,
    /// Spike settings of the plan.
    Settings,
    /// Force times time in the hands for one cut.
    HandsWork,
    /// How long the yard's person holds the saw level, and what ends it.
    HeldLevel,
}

impl Figure {
    /// All, as they are written in a caption.
    pub const ALL: [(&'static str, Self); 18] = [
        ("setup", Self::Setup),
        ("bar", Self::Bar),
        ("weight", Self::Weight),
        ("hang", Self::Hang),
        ("front_hand", Self::FrontHand),
        ("front_hand_share", Self::FrontHandShare),
        ("rear_hand", Self::RearHand),
        ("ahead", Self::Ahead),
        ("reach", Self::Reach),
        ("links", Self::Links),
        ("pull_in", Self::PullIn),
        ("off_spikes", Self::OffSpikes),
        ("chain_energy", Self::ChainEnergy),
        ("snag_energy", Self::SnagEnergy),
        ("log", Self::Log),
        ("settings", Self::Settings),
        ("hands_work", Self::HandsWork),
        ("held_level", Self::HeldLevel),
    ];

    /// True for what belongs to a log and not to a saw alone.
    pub const fn of_log(self) -> bool {
        matches!(self, Self::Log | Self::Settings | Self::HandsWork)
    }

    /// True for what names something and gives no guess away.
    pub const fn is_name(self) -> bool {
        matches!(self, Self::Setup | Self::Bar | Self::Log)
    }
}

/// A piece of a caption.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece {
    /// Words.
    Text(String),
    /// A figure of one of the step's setups.
    Figure(Figure, Whose),
}

/// Which of a step's setups a figure is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// Counted from 0.
    Nth(usize),
    /// The last, however many there are.
    Last,
}

/// A caption in pieces; line breaks and runs of blanks count as one blank.
///
/// # Errors
/// One line for each place that names no figure.
pub(super) fn pieces(caption: &str) -> Result<Vec<Piece>, Vec<String>> {
    let caption = caption.split_whitespace().collect::<Vec<_>>().join(" ");
    let (mut pieces, mut faults) = (Vec::new(), Vec::new());
    let mut rest = caption.as_str();
    while let Some((before, after)) = rest.split_once('{') {
        if !before.is_empty() {
            pieces.push(Piece::Text(before.to_owned()));
        }
        let Some((inside, beyond)) = after.split_once('}') else {
            faults.push(format!("the place `{{{after}` is not closed with `}}`"));
            rest = "";
            break;
        };
        match place(inside) {
            Ok(piece) => pieces.push(piece),
            Err(fault) => faults.push(fault),
        }
        rest = beyond;
    }
    if !rest.is_empty() {
        pieces.push(Piece::Text(rest.to_owned()));
    }
    if faults.is_empty() { Ok(pieces) } else { Err(faults) }
}

/// `weight`, or `weight:2` for the step's second setup, or `weight:last`.
fn place(inside: &str) -> Result<Piece, String> {
    let (name, number) = inside.split_once(':').unwrap_or((inside, "1"));
    let figure = Figure::ALL.iter().find(|(known, _)| *known == name).map(|(_, figure)| *figure);
    let Some(figure) = figure else {
        let known: Vec<&str> = Figure::ALL.iter().map(|(name, _)| *name).collect();
        let hint =
            nearest(name, &known).map_or_else(String::new, |close| format!(", did you mean `{close}`?"));
        return Err(format!("there is no figure `{{{inside}}}`{hint} (known: {})", known.join(", ")));
    };
    if number == "last" {
        return Ok(Piece::Figure(figure, Whose::Last));
    }
    match number.parse::<usize>() {
        Ok(number @ 1..=super::checks::MOST_SIDE_BY_SIDE) => {
            Ok(Piece::Figure(figure, Whose::Nth(number - 1)))
        }
        _ => Err(format!(
            "in `{{{inside}}}` the setup's number must be 1…{} or last",
            super::checks::MOST_SIDE_BY_SIDE
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_caption_comes_apart_into_words_and_figures() {
        let found = pieces("It weighs {weight},\n   and the other {weight:2}.").unwrap();
        assert_eq!(
            found,
            [
                Piece::Text("It weighs ".to_owned()),
                Piece::Figure(Figure::Weight, Whose::Nth(0)),
                Piece::Text(", and the other ".to_owned()),
                Piece::Figure(Figure::Weight, Whose::Nth(1)),
                Piece::Text(".".to_owned()),
            ]
        );
        assert_eq!(pieces("no figure").unwrap(), [Piece::Text("no figure".to_owned())]);
        assert!(pieces("").unwrap().is_empty());
        assert_eq!(pieces("{hang:last}").unwrap(), [Piece::Figure(Figure::Hang, Whose::Last)]);
    }

    #[test]
    fn a_place_for_no_figure_is_told_with_the_nearest() {
        let faults = pieces("{wieght} and {reach:9} and {hang").unwrap_err();
        assert_eq!(faults.len(), 3, "{faults:?}");
        assert!(
            faults[0].starts_with("there is no figure `{wieght}`, did you mean `weight`? (known: setup, bar")
        );
        assert_eq!(faults[1], "in `{reach:9}` the setup's number must be 1…4 or last");
        assert_eq!(faults[2], "the place `{hang` is not closed with `}`");
    }
}
