//! One figure over the bar length, without and with the readings, and the readings as points.

use crate::desk::document::{CurvePoint, Document, LearntBar, SetupLearnt};
use crate::desk::format::{Dimension, Units, middle};
use crate::draw::theme::{self, Ink, Paper, size};
use crate::window::rooms::chart_marks::still_plot;
use crate::window::view_state::{Charted, ViewState};
use crate::window::widgets::middle_label;
use barpoise_core::Solved;
use barpoise_core::units::Length;
use barpoise_core::units::{Angle, STANDARD_GRAVITY_M_S2};
use barpoise_core::weigh_in::{Bands, COVERAGE, Knowledge, Measured, Reading, SawMeasure};
use egui::{Align, Layout, RichText, Stroke, Ui};
use egui_plot::{
    FilledArea, HoverPosition, Line, LineStyle, MarkerShape, PlotBounds, PlotPoint, PlotPoints, Points, Text,
    VLine,
};

/// A held pitch nearer to level than this is level, on the chart of level hand loads.
const LEVEL: Angle = Angle::from_deg(0.5);
/// Opacity of a band.
const BAND: f32 = 0.35;
/// Room over and under all that is drawn, as shares of its height; under it stand the names of the bars.
const MARGIN_SHARE: f64 = 0.06;
const NAMES_SHARE: f64 = 0.16;
/// Room that a bar's name needs, in points, and what the axes take.
const NAME_ROOM: f64 = 46.0;
/// So many letters of it go into that.
const NAME_LETTERS: usize = 6;
/// The head's name takes no more than this, in points.
const WIDEST_HEAD: f32 = 260.0;
const AXES_ROOM: f32 = 70.0;
/// Half the width of an error bar's ends, as a share of the axis.
const CAP_SHARE: f64 = 0.008;

impl Charted {
    const ALL: [Self; 4] = [Self::Hang, Self::Weight, Self::Reach, Self::FrontHand];

    const fn name(self) -> &'static str {
        match self {
            Self::Hang => "Hang",
            Self::Weight => "Weight",
            Self::Reach => "Reach",
            Self::FrontHand => "Front hand",
        }
    }

    const fn dimension(self) -> Dimension {
        match self {
            Self::Hang => Dimension::Angle,
            Self::Weight => Dimension::Mass,
            Self::Reach => Dimension::Length,
            Self::FrontHand => Dimension::Force,
        }
    }

    /// The figure, SI.
    fn figure(self, solved: &Solved) -> Option<f64> {
        match self {
            Self::Hang => solved.hang.ok().map(Angle::as_rad),
            Self::Weight => Some(solved.ready_mass().as_kg()),
            Self::Reach => Some(solved.reach.as_m()),
            Self::FrontHand => solved.hands.ok().map(|hands| hands.front.as_n()),
        }
    }

    /// Its standard uncertainty, SI.
    fn band(self, bands: &Bands) -> Option<f64> {
        match self {
            Self::Hang => bands.hang.map(Angle::as_rad),
            Self::Weight => bands.ready_mass.map(barpoise_core::units::Mass::as_kg),
            Self::Reach => bands.reach.map(barpoise_core::units::Length::as_m),
            Self::FrontHand => bands.front_hand.map(barpoise_core::units::Force::as_n),
        }
    }

    /// What one SI unit of a reading is of this figure, where the reading measures it.
    fn of_reading(self, measured: &Measured) -> Option<f64> {
        let Measured::Saw { measure, .. } = measured else { return None };
        match (self, measure) {
            (Self::Hang, SawMeasure::Hang)
            | (Self::Weight, SawMeasure::Total)
            | (Self::Reach, SawMeasure::Reach) => Some(1.0),
            (Self::FrontHand, SawMeasure::FrontGrip { nose_up }) if nose_up.abs() < LEVEL => {
                Some(STANDARD_GRAVITY_M_S2)
            }
            _ => None,
        }
    }
}

/// Shows the chart.
pub(super) fn chart_ui(ui: &mut Ui, document: &Document, view: &mut ViewState) {
    let Some(setup) = view.entry.setup(document) else { return };
    let weigh_in = document.weigh_in();
    let Some(learnt) = weigh_in.of_setup(setup.name()) else { return };
    ui.horizontal_wrapped(|ui| {
        let (font, ink) = (theme::strong(size::STRONG), view.paper.color(Ink::Line));
        middle_label(ui, setup.powerhead().name(), &font, ink, WIDEST_HEAD);
        for charted in Charted::ALL {
            if ui.selectable_label(view.charted == charted, charted.name()).clicked() {
                view.charted = charted;
            }
        }
    });
    legend_ui(ui, document, view);
    ui.with_layout(Layout::top_down(Align::Min), |ui| plot_ui(ui, document, view, learnt));
}

/// What the lines and points are.
fn legend_ui(ui: &mut Ui, document: &Document, view: &ViewState) {
    let (paper, charted) = (view.paper, view.charted);
    let soft = |text: &str| RichText::new(text).color(paper.color(Ink::Soft));
    let has_fit = document.weigh_in().fit().is_ok();
    ui.horizontal_wrapped(|ui| {
        let units = view.units;
        let axes =
            format!("{} against bar length ({})", units.unit_name(charted.dimension()), units.length_unit());
        ui.label(soft(&axes));
        if has_fit {
            swatch(ui, paper, Swatch::Dashed, "without");
        }
        let words = if has_fit {
            "with\u{a0}readings,\u{a0}95\u{a0}%\u{a0}band"
        } else {
            "as it is known now, 95\u{a0}% band"
        };
        swatch(ui, paper, Swatch::Band, words);
        let is_read = |reading: &Reading| charted.of_reading(reading.measured()).is_some();
        if document.yard().readings().iter().any(is_read) {
            ui.label(soft("■\u{a0}read"));
        }
    });
}

/// A sample of a line.
#[derive(Clone, Copy)]
enum Swatch {
    Dashed,
    Band,
}

/// A sample and what it stands for.
fn swatch(ui: &mut Ui, paper: Paper, swatch: Swatch, text: &str) {
    ui.add_space(8.0);
    let (rect, _) = ui.allocate_exact_size(egui::vec2(24.0, 14.0), egui::Sense::hover());
    let ends = [rect.left_center(), rect.right_center()];
    match swatch {
        Swatch::Dashed => {
            let stroke = Stroke::new(2.0, paper.color(Ink::Soft));
            ui.painter().extend(egui::Shape::dashed_line(&ends, stroke, 5.0, 3.0));
        }
        Swatch::Band => {
            ui.painter().rect_filled(rect, 0.0, paper.color(Ink::OursMid).gamma_multiply(BAND));
            ui.painter().line_segment(ends, Stroke::new(2.5, paper.color(Ink::Ours)));
        }
    }
    ui.label(RichText::new(text).color(paper.color(Ink::Soft)));
}

/// Beside the rack's shortest and longest bar the chart shows this share of the way between them, and at least so much.
const BESIDE_SHARE: f64 = 0.12;
const BESIDE_MM: f64 = 40.0;

/// A reading on the chart, in shown units.
struct Mark {
    at: [f64; 2],
    uncertainty: f64,
    left_out: bool,
    disagrees: bool,
    index: usize,
}

fn plot_ui(ui: &mut Ui, document: &Document, view: &ViewState, learnt: &SetupLearnt) {
    let (paper, units, charted) = (view.paper, view.units, view.charted);
    let shown = |si: f64| units.axis_value(charted.dimension(), si);
    let has_fit = document.weigh_in().fit().is_ok();
    let before = line_of(&learnt.before, units, charted);
    let after = line_of(&learnt.after, units, charted);
    let band = band_of(&learnt.after, units, charted);
    let marks = marks(document, learnt, units, charted);
    let width = f64::from(ui.available_width() - AXES_ROOM);
    let plot = still_plot(ui, paper, "weigh-in chart", units).label_formatter(move |position| {
        let (HoverPosition::NearDataPoint { position, .. } | HoverPosition::Elsewhere { position }) =
            position;
        read_off(learnt, units, charted, *position)
    });
    let span = span(learnt, units);
    let bounds = bounds(&[&before, &after], &band, &marks, span);
    plot.show(ui, |plot| {
        plot.set_plot_bounds(bounds);
        let rule = Stroke::new(1.0, paper.color(Ink::Rule));
        for bar in &learnt.rack {
            plot.vline(
                VLine::new("rack", units.length_value(bar.bar.overall))
                    .stroke(rule)
                    .style(LineStyle::dotted_loose()),
            );
        }
        let area = FilledArea::new("band", &band.0, &band.1, &band.2);
        plot.add(area.fill_color(paper.color(Ink::OursMid).gamma_multiply(BAND)).allow_hover(false));
        if has_fit {
            let stroke = Stroke::new(2.0, paper.color(Ink::Soft));
            plot.line(
                Line::new("without", PlotPoints::from(before))
                    .stroke(stroke)
                    .style(LineStyle::dashed_dense()),
            );
        }
        plot.line(
            Line::new("with", PlotPoints::from(after)).stroke(Stroke::new(2.5, paper.color(Ink::Ours))),
        );
        let rack: Vec<[f64; 2]> = learnt
            .rack
            .iter()
            .filter_map(|bar| {
                Some([units.length_value(bar.bar.overall), shown(charted.figure(&bar.bar.solved)?)])
            })
            .collect();
        for (name, x) in names(learnt, units, width) {
            let name = RichText::new(name).font(theme::body()).color(paper.color(Ink::Soft));
            let at = PlotPoint::new(x, bounds.min()[1]);
            plot.text(Text::new("name", at, name).anchor(egui::Align2::LEFT_BOTTOM));
        }
        plot.points(Points::new("rack", PlotPoints::from(rack)).radius(3.5).color(paper.color(Ink::Ours)));
        let cap = CAP_SHARE * bounds.width();
        for mark in &marks {
            mark_ui(plot, paper, mark, cap);
        }
    });
}

/// All that is drawn with room round it, and more of it below for the names of the bars.
fn bounds(lines: &[&Vec<[f64; 2]>], band: &Band, marks: &[Mark], (left, right): (f64, f64)) -> PlotBounds {
    let seen = |x: f64| (left..=right).contains(&x);
    let of_lines = lines.iter().flat_map(|line| line.iter()).filter(|[x, _]| seen(*x)).map(|[_, y]| *y);
    let of_marks =
        marks.iter().flat_map(|mark| [mark.at[1] - mark.uncertainty, mark.at[1] + mark.uncertainty]);
    let ends = band.1.iter().zip(&band.2).flat_map(|(low, high)| [*low, *high]);
    let of_band = band.0.iter().flat_map(|x| [*x, *x]).zip(ends).filter(|(x, _)| seen(*x)).map(|(_, y)| y);
    let all = of_lines.chain(of_marks).chain(of_band);
    let (low, high) = all.fold((f64::MAX, f64::MIN), |(low, high), y| (low.min(y), high.max(y)));
    let (low, high) = if low <= high { (low, high) } else { (0.0, 1.0) };
    let room = (high - low).max(1e-3);
    PlotBounds::from_min_max([left, low - NAMES_SHARE * room], [right, high + MARGIN_SHARE * room])
}

/// From a little under the rack's shortest bar to a little over its longest, in shown units.
fn span(learnt: &SetupLearnt, units: Units) -> (f64, f64) {
    let (shortest, longest) = barpoise_core::BarFamily::span();
    let ends = |length: Length| units.length_value(length);
    let lengths = learnt.rack.iter().map(|bar| ends(bar.bar.overall));
    let (from, to) = lengths.fold((f64::MAX, f64::MIN), |(from, to), x| (from.min(x), to.max(x)));
    if from > to {
        return (ends(shortest), ends(longest));
    }
    let beside = (BESIDE_SHARE * (to - from)).max(ends(Length::from_mm(BESIDE_MM)));
    (from - beside, to + beside)
}

/// The rack's bars that have room for their names, each with its length.
fn names(learnt: &SetupLearnt, units: Units, width_pt: f64) -> Vec<(String, f64)> {
    let (from, to) = span(learnt, units);
    let room = NAME_ROOM * (to - from) / width_pt.max(1.0);
    let mut named: Vec<(String, f64)> = Vec::new();
    for bar in &learnt.rack {
        let x = units.length_value(bar.bar.overall);
        if named.last().is_none_or(|(_, last)| x - last >= room) {
            named.push((format!(" {}", middle(&bar.bar.name, NAME_LETTERS)), x));
        }
    }
    named
}

fn mark_ui(plot: &mut egui_plot::PlotUi<'_>, paper: Paper, mark: &Mark, cap: f64) {
    let ink = match (mark.left_out, mark.disagrees) {
        (true, _) => Ink::Soft,
        (false, true) => Ink::Warn,
        (false, false) => Ink::Line,
    };
    let stroke = Stroke::new(1.8, paper.color(ink));
    let [x, y] = mark.at;
    let name = format!("reading {}", mark.index + 1);
    let (low, high) = (y - mark.uncertainty, y + mark.uncertainty);
    let ends = [
        vec![[x, low], [x, high]],
        vec![[x - cap, low], [x + cap, low]],
        vec![[x - cap, high], [x + cap, high]],
    ];
    for end in ends {
        plot.line(Line::new(name.clone(), PlotPoints::from(end)).stroke(stroke).allow_hover(false));
    }
    let shape = if mark.disagrees { MarkerShape::Cross } else { MarkerShape::Square };
    let point = Points::new(name, PlotPoints::from(vec![mark.at])).shape(shape).color(paper.color(ink));
    plot.points(point.radius(if mark.disagrees { 8.0 } else { 4.5 }).filled(!mark.left_out));
}

fn line_of(points: &[CurvePoint], units: Units, charted: Charted) -> Vec<[f64; 2]> {
    points
        .iter()
        .filter_map(|point| {
            let figure = charted.figure(&point.solved)?;
            Some([units.length_value(point.overall), units.axis_value(charted.dimension(), figure)])
        })
        .collect()
}

/// Lengths, lower ends and upper ends of the 95 % band.
type Band = (Vec<f64>, Vec<f64>, Vec<f64>);

fn band_of(points: &[CurvePoint], units: Units, charted: Charted) -> Band {
    let mut band = (Vec::new(), Vec::new(), Vec::new());
    for point in points {
        let figures =
            charted.figure(&point.solved).zip(point.bands.as_ref().and_then(|bands| charted.band(bands)));
        if let Some((figure, uncertainty)) = figures {
            let shown = |si: f64| units.axis_value(charted.dimension(), si);
            band.0.push(units.length_value(point.overall));
            band.1.push(shown(figure - COVERAGE * uncertainty));
            band.2.push(shown(figure + COVERAGE * uncertainty));
        }
    }
    band
}

/// The readings that measure this figure on a bar of the chart. One at other levels in the tanks, or on another
/// chain, lies as far from the curve as it lies from what is expected of it.
fn marks(document: &Document, learnt: &SetupLearnt, units: Units, charted: Charted) -> Vec<Mark> {
    let weigh_in = document.weigh_in();
    let after = weigh_in.after();
    let head = learnt.rack.first().map(|bar| bar.bar.setup.powerhead().name());
    let disagrees = weigh_in.fit().ok().and_then(|fit| fit.disagreement.as_ref()).map(|off| off.index);
    let mark = |(index, reading): (usize, &Reading)| {
        let measured = reading.measured();
        let factor = charted.of_reading(measured)?;
        let Measured::Saw { setup, .. } = measured else { return None };
        if Some(setup.powerhead().name()) != head {
            return None;
        }
        let LearntBar { bar, .. } = learnt.rack.iter().find(|bar| bar.bar.name == setup.bar().name())?;
        let (expected, _) = Knowledge::expected(after, after.readings().get(index)?.measured())?;
        let figure = charted.figure(&bar.solved)? + factor * (reading.value() - expected);
        let shown = |si: f64| units.axis_value(charted.dimension(), si);
        Some(Mark {
            at: [units.length_value(bar.overall), shown(figure)],
            uncertainty: shown(factor * reading.uncertainty()),
            left_out: reading.left_out(),
            disagrees: disagrees == Some(index),
            index,
        })
    };
    document.yard().readings().iter().enumerate().filter_map(mark).collect()
}

/// What the curve with the readings says at a length.
fn read_off(learnt: &SetupLearnt, units: Units, charted: Charted, at: PlotPoint) -> Option<String> {
    let away = |point: &&CurvePoint| (units.length_value(point.overall) - at.x).abs();
    let near = learnt.after.iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
    let figure = charted.figure(&near.solved)?;
    let band = near.bands.as_ref().and_then(|bands| charted.band(bands)).unwrap_or(0.0);
    Some(format!("{}\n{}", units.length(near.overall), units.known(charted.dimension(), figure, band)))
}
