//! What may be asked on the command line, and the help that says so.

use super::args_drawn::{HANDOUT, Handout, PICTURE, Picture};
use super::args_log::LogArgs;
use super::args_person::PersonArgs;
use crate::desk::words::rack::CUTS_TOLD;
use barpoise_core::Range;
use barpoise_core::log::limits;
use barpoise_core::measure_text::{MeasureError, read_angle, read_force, read_length, read_mass, read_share};
use barpoise_core::rack::{Anchors, Limit, MOST_WEIGHT, Measure, Otherwise};
use barpoise_core::units::{Angle, Force, Length, Mass};
use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

const JOB: &str = "\
Compare chainsaw guide bars on your own powerheads before you buy or fit one: how the saw hangs, what
each hand carries, what it weighs ready to work, and how far it reaches past the spikes.

Everything is computed from a yard file: your powerheads, bars and chains, measured with a tape and a
scale. Without a file the program shows its demo yard, the Alder Flat woodlot, which is invented.";

const MORE: &str = "\
Examples:
  barpoise                                       open the window on the demo yard
  barpoise my.yard.ron                           open it on your own yard
  barpoise check my.yard.ron                     find out what is wrong with a yard, or what goes together
  barpoise figures                               every setup of the demo yard as a table
  barpoise figures my.yard.ron --units in-lb     the same of your own, in inches and pounds
  barpoise figures --setup \"Bittern B24\" --json    one setup for another program
  barpoise cut --setup \"Bittern B24\" --diameter 740mm
                                                 how that saw takes a log apart
  barpoise choose --wood \"Larch stems\"          which setup goes on for that wood, and why
  barpoise handout my.yard.ron --log 560mm -o tailgate.pdf
                                                 a sheet of paper to explain the setups with
  barpoise weigh-in my.yard.ron                  what your own readings teach, --apply to write it back

Signs and frame:
  Side-on, the bar to the right: x runs from the centre of the drive sprocket to the nose, y up.
  Hang is the angle at which the saw comes to rest, lifted by the front handle alone: 0 is level, nose down
  is positive. Hands are for the saw held level: lifting is positive, a negative rear hand pushes down.
  Reach counts from the tips of the spikes to the outermost cutter at the nose.

Exit codes:
  0 done, 1 the yard or the name of a setup was refused, 2 the command was not understood

Cautions:
  These figures compare setups; they rate nothing. A longer bar does not reduce kickback: it brings more
  energy. Two hands, thumb round the front handle; chain brake tested; know where the nose is; not above
  shoulder height. The maker's manual, local rules and a qualified trainer come first.";

const FIGURES: &str = "\
Computes every figure of all setups, or of one.

Without --json or --csv: a table for people, in the units of --units.
With --json: an array with one object for each setup, also where there is only one; null where a figure
does not exist. With --csv: one line for each setup under a line of names; empty where a figure does not
exist; the cautions in a last line that begins with #. Both are always in SI units, which the names end
in: m, kg, kg_m2, rad, n (newton), n_m (newton metre), s. Signs and frame: see barpoise --help.

The level hold is that of the yard's person, or of an average one, who stands upright and holds the saw
level; it compares saws and says nothing of anybody's health.";

const CUT: &str = "\
Plans how a setup takes a log apart with the fewest settings of the spikes, and says for each where the
nose is and who carries the saw.

Lengths take mm, cm, m or in; a plain number is millimetres. With --json: one object in SI units; with
--csv: one line for each setting. Bark angles run counter-clockwise from the far side (180 degrees is the
near side, 90 the top); swings count from straight into the wood, nose up positive from the near side.

Only what this saw can do in the hands of the person in the yard is planned. A yard without one has an
average man, whom the options of the person replace piece by piece. Poses are geometry of such a body, not
advice.

Examples:
  barpoise cut --setup \"Bittern B18\" --diameter 560mm --stand one-side
  barpoise cut --setup \"Bittern B18\" --diameter 560mm --survey women --stature 1690mm --kneel no";

const WEIGH_IN: &str = "\
Fits the numbers of a yard's powerheads, bars and chains to the readings in it, and says what they teach,
how surely, which reading does not go with the others, which numbers stay mixed, and what to measure next.

How readings are written stands at the end of the demo yard. What is known without readings counts too: the
yard's own numbers, with the uncertainties it states or common ones. ± is one standard uncertainty.

With --apply the fitted values, their uncertainty, their correlations and today's date are written into the
file, whole or not at all; nothing is written if anything fails. The old values stay in its history.
With --json: one object, in SI units, weights in kg as a scale shows them.";

const CHOOSE: &str = "\
Puts every setup of a yard through one of its woods, by plans that the yard's person can hold, and says
which goes on, what it is better at than the next, and what to watch: limits first, then one order by what
everything is worth. With --numbers also the figures of every setup.

Measures, over all cuts of the wood: done and one-setting are shares, more is better and a bound is at
least; tangle-time (s with the nose out among branches in 100 cuts), nose-out (how far it is out there),
lifts (in 100 cuts), effort (share of what the arms can hold, each cut), time (s in 100 cuts), front-hand,
weight, hang and fuel (mL in 100 cuts): less is better and a bound is at most. A weight, 0 to 10, says how
much one counts; a scale says where it is no burden and where it is as bad as it gets. No setup's worth
hangs on which others there are.

Weights and scales to begin with are our guess. Cuts that a saw does not do from where the
sawyer may stand go by the means of --undone. Thresholds of what suits what are our guess. With --json: an
array with one object for each setup, in SI units, null where there is no value; with --csv: one line for
each setup, empty where there is none.

Example:
  barpoise choose --wood \"Poplar butts\" --limit hang=25deg --weigh front-hand=3";

const CHECK: &str = "\
Reads a yard and says what is in it: which bars go on which powerheads, with which loops, and where each
setup's tensioner stands. A yard that is refused gets one line for each fault, with the file, the line,
the column, the field, its value and what is allowed.";

/// How the program is called.
#[derive(Debug, Parser)]
#[command(
    name = "barpoise",
    version,
    about = "Compare chainsaw guide bars on your own powerheads",
    long_about = JOB,
    after_help = "More, with examples and cautions: barpoise --help",
    after_long_help = MORE,
    args_conflicts_with_subcommands = true,
    disable_help_subcommand = true
)]
pub(super) struct Args {
    #[command(subcommand)]
    pub(super) command: Option<Command>,
    /// Yard file to open the window on [default: the demo yard]
    #[arg(value_name = "FILE")]
    pub(super) file: Option<PathBuf>,
}

/// What can be done without a window.
#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Print the figures of all setups, or of one
    #[command(long_about = FIGURES)]
    Figures(Figures),
    /// Say how a setup takes a log apart
    #[command(long_about = CUT)]
    Cut(Cut),
    /// Choose among a yard's setups for a wood
    #[command(long_about = CHOOSE)]
    Choose(Choose),
    /// Say what the readings in a yard teach of its saws
    #[command(long_about = WEIGH_IN)]
    WeighIn(WeighIn),
    /// Write a sheet of paper that explains a yard's setups
    #[command(long_about = HANDOUT)]
    Handout(Handout),
    /// Write a drawing of the bench, the log or the rack
    #[command(long_about = PICTURE)]
    Picture(Picture),
    /// Check a yard or a lesson and say what it holds
    #[command(long_about = CHECK)]
    Check {
        /// File of a yard or a lesson to check
        #[arg(value_name = "FILE")]
        file: PathBuf,
    },
}

/// Which figures, and in which form.
#[derive(Debug, ClapArgs)]
pub(super) struct Figures {
    /// Yard file [default: the demo yard]
    #[arg(value_name = "FILE")]
    pub(super) file: Option<PathBuf>,
    /// Only the setup of this name
    #[arg(long, value_name = "NAME")]
    pub(super) setup: Option<String>,
    #[command(flatten)]
    pub(super) person: PersonArgs,
    /// As JSON, in SI units
    #[arg(long, conflicts_with = "csv")]
    pub(super) json: bool,
    /// As CSV, in SI units
    #[arg(long)]
    pub(super) csv: bool,
    /// Units of the table
    #[arg(long, value_enum, default_value_t = Units::MmKg, conflicts_with_all = ["json", "csv"])]
    pub(super) units: Units,
}

/// Which setup, which log, and in which form.
#[derive(Debug, ClapArgs)]
pub(super) struct Cut {
    /// Yard file [default: the demo yard]
    #[arg(value_name = "FILE")]
    pub(super) file: Option<PathBuf>,
    /// The setup of this name
    #[arg(long, value_name = "NAME")]
    pub(super) setup: String,
    /// Diameter of the log, such as 560mm, 56 cm, 22 in
    #[arg(long, value_name = "LENGTH", value_parser = diameter, allow_hyphen_values = true)]
    pub(super) diameter: Length,
    #[command(flatten)]
    pub(super) lying: LogArgs,
    #[command(flatten)]
    pub(super) person: PersonArgs,
    /// As JSON, in SI units
    #[arg(long, conflicts_with = "csv")]
    pub(super) json: bool,
    /// As CSV, in SI units
    #[arg(long)]
    pub(super) csv: bool,
    /// Units of the words
    #[arg(long, value_enum, default_value_t = Units::MmKg, conflicts_with_all = ["json", "csv"])]
    pub(super) units: Units,
}

/// Which wood, what is wanted, and in which form.
#[derive(Debug, ClapArgs)]
pub(super) struct Choose {
    /// Yard file [default: the demo yard]
    #[arg(value_name = "FILE")]
    pub(super) file: Option<PathBuf>,
    /// The wood of this name
    #[arg(long, value_name = "NAME")]
    pub(super) wood: String,
    /// A bound that must be kept, such as hang=20deg, weight=9kg, front-hand=110N, nose-out=40cm, done=90%
    #[arg(long, value_name = "MEASURE=BOUND", value_parser = limit)]
    pub(super) limit: Vec<Limit>,
    /// How much a measure counts, such as front-hand=2; 0 for not at all
    #[arg(long, value_name = "MEASURE=WEIGHT", value_parser = weight)]
    pub(super) weigh: Vec<(Measure, f64)>,
    /// Where a measure is no burden and where it is as bad as it gets, such as front-hand=50N..150N
    #[arg(long, value_name = "MEASURE=FINE..BAD", value_parser = scale)]
    pub(super) scale: Vec<(Measure, Anchors)>,
    /// What becomes of cuts that a saw does not do: other-side, left, or the name of another setup
    #[arg(long, value_name = "MEANS", value_parser = otherwise, default_value = "other-side")]
    pub(super) undone: Otherwise,
    /// The numbers of every setup as well
    #[arg(long)]
    pub(super) numbers: bool,
    /// Admit setups that do not suit themselves as well
    #[arg(long)]
    pub(super) unsuited: bool,
    #[command(flatten)]
    pub(super) person: PersonArgs,
    /// As JSON, in SI units
    #[arg(long, conflicts_with = "csv")]
    pub(super) json: bool,
    /// As CSV, in SI units
    #[arg(long)]
    pub(super) csv: bool,
    /// Units of the words
    #[arg(long, value_enum, default_value_t = Units::MmKg, conflicts_with_all = ["json", "csv"])]
    pub(super) units: Units,
}

/// A measure as it is written on the command line.
pub(super) const fn measure_name(measure: Measure) -> &'static str {
    match measure {
        Measure::OneSetting => "one-setting",
        Measure::Done => "done",
        Measure::TangleTime => "tangle-time",
        Measure::NoseOut => "nose-out",
        Measure::Lifts => "lifts",
        Measure::Effort => "effort",
        Measure::Time => "time",
        Measure::Fuel => "fuel",
        Measure::Weight => "weight",
        Measure::Hang => "hang",
        Measure::FrontHand => "front-hand",
    }
}

fn measure_and_rest(text: &str) -> Result<(Measure, &str), String> {
    let (name, rest) = text.split_once('=').ok_or("it is written MEASURE=VALUE")?;
    let found = Measure::ALL.into_iter().find(|measure| measure_name(*measure) == name.trim());
    let known = || Measure::ALL.map(measure_name).join(", ");
    let measure = found.ok_or_else(|| format!("there is no measure `{name}`; there is {}", known()))?;
    Ok((measure, rest.trim()))
}

fn limit(text: &str) -> Result<Limit, String> {
    let (measure, rest) = measure_and_rest(text)?;
    Ok(Limit { measure, bound: bound(measure, rest)? })
}

/// A value of a measure: with its unit, or in SI; times in seconds, lifts and fuel in mL for 100 cuts, shares as such.
fn bound(measure: Measure, rest: &str) -> Result<f64, String> {
    let read = |value: Result<f64, MeasureError>| value.map_err(|error| error.to_string());
    let bound = match measure {
        Measure::OneSetting | Measure::Done | Measure::Effort => read(read_share(rest))
            .and_then(|share| if share > 1.0 { Err(beyond_all(rest, share)) } else { Ok(share) }),
        Measure::NoseOut => read(read_length(rest, Length::from_mm).map(Length::as_m)),
        Measure::Weight => read(read_mass(rest, Mass::from_kg).map(Mass::as_kg)),
        Measure::Hang => read(read_angle(rest).map(Angle::as_rad)),
        Measure::FrontHand => read(read_force(rest, Force::from_n).map(Force::as_n)),
        Measure::TangleTime | Measure::Time | Measure::Lifts | Measure::Fuel => {
            number(rest).map(|value| value / CUTS_TOLD)
        }
    }?;
    if bound.is_finite() && bound >= 0.0 {
        Ok(bound)
    } else {
        Err(format!("a bound is 0 or more, not `{rest}`"))
    }
}

/// The refusal of a share above one: a plain number was probably per cent.
fn beyond_all(rest: &str, share: f64) -> String {
    let is_plain = rest.parse::<f64>().is_ok();
    if is_plain && share <= 100.0 {
        format!("a share is 0 to 1 or 0 % to 100 %: write {rest}% or {}", share / 100.0)
    } else {
        format!("a share is 0 to 1 or 0 % to 100 %, not `{rest}`")
    }
}

fn scale(text: &str) -> Result<(Measure, Anchors), String> {
    let (measure, rest) = measure_and_rest(text)?;
    let (fine, bad) = rest.split_once("..").ok_or("a scale is written MEASURE=FINE..BAD")?;
    let anchors = Anchors::new(measure, bound(measure, fine.trim())?, bound(measure, bad.trim())?);
    Ok((measure, anchors.map_err(|fault| fault.message)?))
}

/// What becomes of cuts that a saw does not do, on the command line.
fn otherwise(text: &str) -> Result<Otherwise, String> {
    Ok(match text {
        "other-side" => Otherwise::OtherSide,
        "left" => Otherwise::LeftLying,
        saw => Otherwise::OtherSaw(saw.to_owned()),
    })
}

fn number(text: &str) -> Result<f64, String> {
    text.parse().map_err(|_| format!("`{text}` is not a number"))
}

fn weight(text: &str) -> Result<(Measure, f64), String> {
    const WEIGHT: Range = Range::new("weight", "", 0.0, MOST_WEIGHT);
    let (measure, rest) = measure_and_rest(text)?;
    let weight = number(rest)?;
    WEIGHT.refusal(weight).map_or(Ok((measure, weight)), Err)
}

/// Which yard, and whether to write what was learnt.
#[derive(Debug, ClapArgs)]
pub(super) struct WeighIn {
    /// Yard file with readings
    #[arg(value_name = "FILE")]
    pub(super) file: PathBuf,
    /// As JSON, in SI units
    #[arg(long)]
    pub(super) json: bool,
    /// Write what was learnt into the file
    #[arg(long)]
    pub(super) apply: bool,
    /// Apply readings that contradict each other as well
    #[arg(long, requires = "apply")]
    pub(super) even_so: bool,
    /// Say in the numbers of statistics how the readings go together
    #[arg(long, conflicts_with = "json")]
    pub(super) statistics: bool,
    /// Units of the words
    #[arg(long, value_enum, default_value_t = Units::MmKg, conflicts_with = "json")]
    pub(super) units: Units,
}

pub(super) fn diameter(text: &str) -> Result<Length, String> {
    within(text, &limits::LOG_DIAMETER)
}

pub(super) fn within(text: &str, range: &Range) -> Result<Length, String> {
    let allowed = format!("{} is {}…{} {}", range.what, range.min, range.max, range.unit);
    let length = read_length(text, Length::from_mm).map_err(|error| format!("{error}; {allowed}"))?;
    range.refusal(length.as_mm()).map_or(Ok(length), Err)
}

/// Units of the table for people.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(super) enum Units {
    /// Millimetres, kilograms, newtons
    MmKg,
    /// Inches, pounds, pounds-force
    InLb,
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory;

    #[test]
    fn the_arguments_are_well_formed() {
        Args::command().debug_assert();
    }

    #[test]
    fn help_fits_an_ordinary_terminal() {
        for line in [JOB, MORE, FIGURES, CUT, CHOOSE, WEIGH_IN, HANDOUT, PICTURE, CHECK]
            .iter()
            .flat_map(|text| text.lines())
        {
            assert!(line.chars().count() <= 108, "{line}");
        }
    }
}
