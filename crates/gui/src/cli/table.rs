//! The figures as a table for people: figures down, setups across.

use super::args::Units;
use super::sources;
use crate::desk::cautioned;
use crate::desk::format::plain;
use crate::desk::sources::Topic;
use crate::desk::words::{hold, limits};
use barpoise_core::person::{Person, held_level};
use barpoise_core::units::{Force, Inertia, Length, Mass, Torque};
use barpoise_core::{Feel, Solved};

/// A block of setups is no wider than this, unless a single name is.
const WIDEST: usize = 96;
const GAP: &str = "  ";
const NO_FIGURE: &str = "-";

/// What the figures are; `{how}` and `{who}` are of the hold.
const LEGEND: &str = "\
hang          lifted by the front handle alone; 0 is level, nose down is +
hands         saw held level; lifting is +, pushing down is -
nose moment   of the weight about the front handle; nose down is +
reach         from the tips of the spikes to the cutters at the nose
balance       from the sprocket's centre: ahead to the nose, up to the front handle
held level    {how};
              share of the strength that ends it first, and how long; half of people between the last two
              {who}
";

/// The whole table, with the reason for each figure that does not exist, and a legend.
pub(super) fn table(yard: &str, solved: &[Solved], person: &Person, units: Units) -> String {
    let lines = lines(units, *person);
    let label_width = width(lines.iter().map(|line| line.label.as_str()));
    let columns: Vec<Vec<String>> = solved
        .iter()
        .map(|solved| {
            let figures = lines.iter().map(|line| (line.figure)(solved));
            std::iter::once(solved.setup.clone()).chain(figures).collect()
        })
        .collect();
    let mut text = format!("{yard}\n");
    for block in blocks(&columns, label_width) {
        text.push('\n');
        let labels = std::iter::once("").chain(lines.iter().map(|line| line.label.as_str()));
        for (row, label) in labels.enumerate() {
            let mut printed = format!("{label:label_width$}");
            for column in block {
                let cell = column.get(row).map_or("", String::as_str);
                let width = width(column.iter().map(String::as_str));
                printed.push_str(GAP);
                printed.push_str(&format!("{cell:>width$}"));
            }
            text.push_str(printed.trim_end());
            text.push('\n');
        }
    }
    let reasons: String = solved.iter().map(|solved| reasons(solved, person)).collect();
    if !reasons.is_empty() {
        text.push('\n');
        text.push_str(&reasons);
    }
    text.push('\n');
    let how = hold::level_how(super::units_of(units));
    text.push_str(&LEGEND.replace("{how}", &how).replace("{who}", &person.words()));
    text.push('\n');
    text.push_str(&sources::lines(super::units_of(units), &[Topic::Saw, Topic::Hold]));
    text.push('\n');
    text.push_str(&cautioned::lines());
    text
}

/// Why a setup lacks figures or is out, a line for each.
fn reasons(solved: &Solved, person: &Person) -> String {
    let hang = solved.hang.err().map(|reason| reason.to_string());
    let hands = solved.hands.err().map(|reason| reason.to_string());
    // A hold without hands lacks its figure for the same reason.
    let level = held_level(person, solved).err().filter(|_| hands.is_none());
    let level = level.map(|reason| format!("held level: {reason}"));
    let lines = hang
        .into_iter()
        .chain(hands)
        .chain(level)
        .chain(limits::beyond_longest_bar(solved.beyond_longest_bar));
    lines.map(|reason| format!("{}: {reason}\n", solved.setup)).collect()
}

/// Setups that fit side by side, at least one a block.
fn blocks(columns: &[Vec<String>], label_width: usize) -> Vec<&[Vec<String>]> {
    let mut blocks = Vec::new();
    let mut rest = columns;
    while !rest.is_empty() {
        let mut used = label_width;
        let fitting = rest
            .iter()
            .take_while(|column| {
                used += GAP.len() + width(column.iter().map(String::as_str));
                used <= WIDEST
            })
            .count();
        let (block, others) = rest.split_at(fitting.max(1));
        blocks.push(block);
        rest = others;
    }
    blocks
}

fn width<'a>(cells: impl Iterator<Item = &'a str>) -> usize {
    cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
}

struct Line {
    label: String,
    figure: Box<dyn Fn(&Solved) -> String>,
}

/// How each quantity is written in a system of units: its unit, its reading, its decimals.
struct Written {
    mass: (&'static str, fn(Mass) -> f64, usize),
    length: (&'static str, fn(Length) -> f64, usize),
    force: (&'static str, fn(Force) -> f64, usize),
    torque: (&'static str, fn(Torque) -> f64, usize),
    inertia: (&'static str, fn(Inertia) -> f64, usize),
}

const MM_KG: Written = Written {
    mass: ("kg", Mass::as_kg, 2),
    length: ("mm", Length::as_mm, 0),
    force: ("N", Force::as_n, 0),
    torque: ("N·m", Torque::as_n_m, 1),
    inertia: ("kg·m²", Inertia::as_kg_m2, 2),
};

const IN_LB: Written = Written {
    mass: ("lb", Mass::as_lb, 2),
    length: ("in", Length::as_in, 1),
    force: ("lbf", Force::as_lbf, 1),
    torque: ("lbf·ft", Torque::as_lbf_ft, 1),
    inertia: ("lb·ft²", Inertia::as_lb_ft2, 1),
};

fn lines(units: Units, person: Person) -> Vec<Line> {
    let ends = move |s: &Solved| held_level(&person, s).ok()?.cost.ends_first();
    let half = move |s: &Solved| ends(s)?.1.time.lasts()?.half;
    let Written { mass, length, force, torque, inertia } = match units {
        Units::MmKg => MM_KG,
        Units::InLb => IN_LB,
    };
    vec![
        quantity("ready weight", mass, |s| Some(s.ready_mass())),
        quantity("hang", ("°", barpoise_core::units::Angle::as_deg, 1), |s| s.hang.ok()),
        Line {
            label: "feel".to_owned(),
            figure: Box::new(|s| s.hang.map_or(NO_FIGURE, |hang| Feel::of(hang).words()).to_owned()),
        },
        quantity("front hand", force, |s| s.hands.ok().map(|hands| hands.front)),
        quantity("rear hand", force, |s| s.hands.ok().map(|hands| hands.rear)),
        quantity("front hand / weight", ("", f64::from, 2), |s| s.front_hand_ratio().ok()),
        quantity("nose moment", torque, |s| Some(s.nose_moment)),
        quantity("swing inertia", inertia, |s| Some(s.swing_inertia)),
        quantity("inertia at balance", inertia, |s| Some(Inertia::from_kg_m2(s.saw.inertia_kg_m2))),
        quantity("balance ahead", length, |s| Some(Length::from_m(s.saw.centroid.x))),
        quantity("balance up", length, |s| Some(Length::from_m(s.saw.centroid.y))),
        quantity("reach", length, |s| Some(s.reach)),
        quantity("nose tip", length, |s| Some(s.nose.tip_x())),
        quantity("drive links", ("", f64::from, 0), |s| s.links.order().map(f64::from)),
        quantity("loop length", length, |s| Some(s.loop_length)),
        quantity("sprocket to nose", length, |s| Some(s.centre_distance)),
        quantity("bar", mass, |s| Some(s.masses.bar)),
        quantity("chain", mass, |s| Some(s.masses.chain)),
        quantity("fuel and oil", mass, |s| Some(s.masses.fluids())),
        figure("held level, ends at", move |s| Some(ends(s)?.0.part().to_owned())),
        figure("held level, % of strength", move |s| Some(plain(100.0 * ends(s)?.1.share, 0))),
        figure("held level, s", move |s| Some(plain(ends(s)?.1.time.lasts()?.seconds, 0))),
        figure("half from, s", move |s| Some(plain(half(s)?.0, 0))),
        figure("half to, s", move |s| Some(plain(half(s)?.1, 0))),
    ]
}

fn figure(label: &str, text: impl Fn(&Solved) -> Option<String> + 'static) -> Line {
    let figure = move |solved: &Solved| text(solved).unwrap_or_else(|| NO_FIGURE.to_owned());
    Line { label: label.to_owned(), figure: Box::new(figure) }
}

fn quantity<Q: 'static>(
    name: &str,
    (unit, read, decimals): (&str, fn(Q) -> f64, usize),
    figure: fn(&Solved) -> Option<Q>,
) -> Line {
    let label = if unit.is_empty() { name.to_owned() } else { format!("{name}, {unit}") };
    Line {
        label,
        figure: Box::new(move |solved| {
            figure(solved).map_or_else(|| NO_FIGURE.to_owned(), |value| plain(read(value), decimals))
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_hold_what_fits_and_never_nothing() {
        let column = |width: usize| vec!["x".repeat(width)];
        let columns = [column(40), column(40), column(200), column(8)];
        let sizes: Vec<_> = blocks(&columns, 10).iter().map(|block| block.len()).collect();
        assert_eq!(sizes, [2, 1, 1]);
    }
}
