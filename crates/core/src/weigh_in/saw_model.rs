//! A setup as its four mass sums, with exact derivatives by every number that can be learnt.
//!
//! Mass, first moments and the second moment about the sprocket centre are polynomials of the unknowns, and every
//! figure is a closed form of those four sums: so are all derivatives.

use crate::geometry::{Point, Vector};
use crate::record::COUNT;
use crate::saw::{LoopPath, MassPart, Setup, Tank};
use crate::units::{Angle, Length, STANDARD_GRAVITY_M_S2};
use crate::yard::SawMeasure;
use nalgebra::SVector;
use std::f64::consts::PI;

/// Mass kg (`x`), first moments kg·m along x (`y`) and along y (`z`), second moment kg·m² about the sprocket centre
/// (`w`): the names in brackets are those of a four-vector's entries.
type Sums = SVector<f64, 4>;

/// The values of every [`super::Quantity`] for one saw, SI, in the order of [`super::Quantity::ALL`].
pub(super) type Values = [f64; COUNT];
/// Derivatives by them.
pub(super) type Gradient = [f64; COUNT];

/// What is computed from a saw.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Figure {
    /// What a reading measures.
    Measured(SawMeasure),
    /// Moment of the weight about the front grip, N·m, nose down positive.
    NoseMoment,
    /// Inertia about the front grip, kg·m².
    SwingInertia,
    /// Height of the saw's centre of gravity above the bar's middle line, m.
    CentreHeight,
}

/// One saw.
#[derive(Clone, Debug)]
pub(super) struct SawModel {
    fixed: Sums,
    fuel: Fluid,
    oil: Fluid,
    bar_per_kg: Sums,
    loop_per_kg_of_link: Loop,
    tip_x_m: f64,
    values: Values,
}

/// What is in a tank: its place follows the tank's corner, its mass what the tank holds.
#[derive(Clone, Copy, Debug)]
struct Fluid {
    kg_per_m3: f64,
    from_corner: Vector,
    gyration_m2: f64,
}

impl Fluid {
    fn new(tank: &Tank, fill: f64) -> Self {
        let fluid = tank.fluid(fill);
        Self {
            kg_per_m3: fluid.mass_kg / tank.capacity().as_m3(),
            from_corner: fluid.centroid - tank.corner(),
            gyration_m2: if fluid.mass_kg > 0.0 { fluid.inertia_kg_m2 / fluid.mass_kg } else { 0.0 },
        }
    }

    /// The sums with the corner at (x, y) in a tank that holds this much, and their derivatives by x, y and that.
    fn sums(&self, x: f64, y: f64, capacity_m3: f64) -> (Sums, [Sums; 3]) {
        let (m, cx, cy) = (self.kg_per_m3 * capacity_m3, x + self.from_corner.x, y + self.from_corner.y);
        let per_kg = Sums::new(1.0, cx, cy, self.gyration_m2 + cx * cx + cy * cy);
        let by_x = Sums::new(0.0, m, 0.0, 2.0 * m * cx);
        let by_y = Sums::new(0.0, 0.0, m, 2.0 * m * cy);
        (per_kg * m, [by_x, by_y, per_kg * self.kg_per_m3])
    }
}

/// The loop's sums for each kilogram of a link, with its nose moved: the parabola through three places of the nose.
///
/// The rails' lean is all that is not a parabola by itself; it moves the loop's centre by less than a micrometre.
#[derive(Clone, Debug)]
struct Loop {
    here: Sums,
    slope: Sums,
    bend: Sums,
}

impl Loop {
    /// The places of the nose to either side through which the parabola goes, m.
    const APART_M: f64 = 0.02;

    fn new(setup: &Setup) -> Self {
        let links = setup.links().exact();
        let at = |path: &LoopPath| -> Sums {
            let kg_per_m = links / path.length().as_m();
            path.lines().iter().map(|line| sums_of(&MassPart::line(kg_per_m, line))).sum()
        };
        let here = at(setup.path());
        let moved = |by: f64| setup.path().with_nose_moved(Length::from_m(by)).map(|path| at(&path));
        // A loop too short to lose this much stands still.
        let (Some(out), Some(back)) = (moved(Self::APART_M), moved(-Self::APART_M)) else {
            return Self { here, slope: Sums::zeros(), bend: Sums::zeros() };
        };
        Self {
            slope: (out - back) / (2.0 * Self::APART_M),
            bend: (out + back - here * 2.0) / Self::APART_M.powi(2),
            here,
        }
    }

    /// The sums with the nose moved by this, and their derivative by it.
    fn sums(&self, by: f64) -> (Sums, Sums) {
        (self.here + self.slope * by + self.bend * (0.5 * by * by), self.slope + self.bend * by)
    }
}

/// The sums of something moved along the bar by this, and their derivative by it.
fn moved(sums: &Sums, by: f64) -> (Sums, Sums) {
    let (m, x) = (sums.x, sums.y);
    let moved = Sums::new(m, x + m * by, sums.z, sums.w + 2.0 * x * by + m * by * by);
    (moved, Sums::new(0.0, m, 0.0, 2.0 * (x + m * by)))
}

fn sums_of(part: &MassPart) -> Sums {
    let (m, c) = (part.mass_kg, part.centroid);
    Sums::new(m, m * c.x, m * c.y, part.inertia_kg_m2 + m * c.coords.norm_squared())
}

impl SawModel {
    pub(super) fn new(setup: &Setup) -> Self {
        let head = setup.powerhead();
        let bar = setup.bar().part(setup.nose_centre());
        Self {
            fixed: setup.extras().iter().map(|extra| sums_of(&extra.part)).sum(),
            fuel: Fluid::new(head.fuel_tank(), setup.fuel_fill()),
            oil: Fluid::new(head.oil_tank(), setup.oil_fill()),
            bar_per_kg: sums_of(&bar) / bar.mass_kg,
            loop_per_kg_of_link: Loop::new(setup),
            tip_x_m: setup.nose_zone().tip_x().as_m(),
            values: values_of(setup),
        }
    }

    /// The yard's own values.
    pub(super) const fn values(&self) -> &Values {
        &self.values
    }

    fn sums(&self, values: &Values) -> (Sums, [Sums; COUNT]) {
        let [m, x, y, k, .., fuel_x, fuel_y, fuel_m3, oil_x, oil_y, oil_m3, link, bar, nose] = *values;
        let spread = k * k + x * x + y * y;
        let (fuel, [by_fuel_x, by_fuel_y, by_fuel]) = self.fuel.sums(fuel_x, fuel_y, fuel_m3);
        let (oil, [by_oil_x, by_oil_y, by_oil]) = self.oil.sums(oil_x, oil_y, oil_m3);
        let out = nose - self.values[NOSE_PLACE];
        let (bar_per_kg, bar_by_nose) = moved(&self.bar_per_kg, out);
        let (loop_per_kg, loop_by_nose) = self.loop_per_kg_of_link.sums(out);
        let sums = self.fixed
            + Sums::new(m, m * x, m * y, m * spread)
            + fuel
            + oil
            + loop_per_kg * link
            + bar_per_kg * bar;
        let slopes = [
            Sums::new(1.0, x, y, spread),
            Sums::new(0.0, m, 0.0, 2.0 * m * x),
            Sums::new(0.0, 0.0, m, 2.0 * m * y),
            Sums::new(0.0, 0.0, 0.0, 2.0 * m * k),
            Sums::zeros(),
            Sums::zeros(),
            Sums::zeros(),
            Sums::zeros(),
            Sums::zeros(),
            by_fuel_x,
            by_fuel_y,
            by_fuel,
            by_oil_x,
            by_oil_y,
            by_oil,
            loop_per_kg,
            bar_per_kg,
            bar_by_nose * bar + loop_by_nose * link,
        ];
        (sums, slopes)
    }

    /// A figure, SI (weights in kg, as a scale shows them), and its derivatives. `None` where it has no value: no
    /// stable hang, grips in one plumb line.
    pub(super) fn figure(&self, figure: Figure, values: &Values) -> Option<(f64, Gradient)> {
        let (sums, slopes) = self.sums(values);
        let spike_line_m = values[SPIKE_LINE];
        let (value, by_sums, own) = match figure {
            Figure::Measured(SawMeasure::Reach) => {
                let tip_x_m = self.tip_x_m + values[NOSE_PLACE] - self.values[NOSE_PLACE];
                (tip_x_m - spike_line_m, Sums::zeros(), Own { spike_line: -1.0, nose: 1.0, ..Own::default() })
            }
            Figure::Measured(SawMeasure::BalancePoint) => {
                let (mass, x) = (sums.x, sums.y / sums.x);
                let own = Own { spike_line: -1.0, ..Own::default() };
                (x - spike_line_m, Sums::new(-x / mass, 1.0 / mass, 0.0, 0.0), own)
            }
            Figure::CentreHeight => {
                let (mass, y) = (sums.x, sums.z / sums.x);
                (y, Sums::new(-y / mass, 0.0, 1.0 / mass, 0.0), Own::default())
            }
            other => of_sums(other, &sums, &Grips::of(values))?,
        };
        let mut gradient = slopes.map(|slope| slope.dot(&by_sums));
        let Own { spike_line, nose, front, rear } = own;
        for (place, slope) in [
            (SPIKE_LINE, spike_line),
            (NOSE_PLACE, nose),
            (FRONT_GRIP, front.x),
            (FRONT_GRIP + 1, front.y),
            (REAR_GRIP, rear.x),
            (REAR_GRIP + 1, rear.y),
        ] {
            if let Some(entry) = gradient.get_mut(place) {
                *entry += slope;
            }
        }
        (value.is_finite() && gradient.iter().all(|slope| slope.is_finite())).then_some((value, gradient))
    }
}

/// Derivatives of a figure by what it depends on beside the sums.
#[derive(Clone, Copy, Debug, Default)]
struct Own {
    spike_line: f64,
    nose: f64,
    front: Vector,
    rear: Vector,
}

/// Where the hands are.
struct Grips {
    front: Point,
    rear: Point,
}

impl Grips {
    fn of(values: &Values) -> Self {
        let [_, _, _, _, _, front_x, front_y, rear_x, rear_y, ..] = *values;
        Self { front: Point::new(front_x, front_y), rear: Point::new(rear_x, rear_y) }
    }
}

/// A figure of the four sums and the grips, and its derivatives by them.
fn of_sums(figure: Figure, sums: &Sums, grips: &Grips) -> Option<(f64, Sums, Own)> {
    let (f, mass) = (grips.front, sums.x);
    let own = |front: Vector| Own { front, ..Own::default() };
    // Moments about the front grip with the saw level: ahead of it, and below it. Both follow the grip.
    let by_ahead = Sums::new(-f.x, 1.0, 0.0, 0.0);
    let by_below = Sums::new(f.y, 0.0, -1.0, 0.0);
    let (ahead, below) = (by_ahead.dot(sums), by_below.dot(sums));
    let (grip_ahead, grip_below) = (Vector::new(-mass, 0.0), Vector::new(0.0, mass));
    let by_inertia = Sums::new(f.coords.norm_squared(), -2.0 * f.x, -2.0 * f.y, 1.0);
    let inertia = by_inertia.dot(sums);
    let grip_inertia = Vector::new(2.0 * (f.x * mass - sums.y), 2.0 * (f.y * mass - sums.z));
    match figure {
        Figure::Measured(SawMeasure::Total) => Some((mass, Sums::new(1.0, 0.0, 0.0, 0.0), Own::default())),
        Figure::Measured(SawMeasure::RearGrip { nose_up }) => rear_share(nose_up, sums, grips),
        Figure::Measured(SawMeasure::FrontGrip { nose_up }) => {
            let (rear, by_sums, by) = rear_share(nose_up, sums, grips)?;
            let by_sums = Sums::new(1.0, 0.0, 0.0, 0.0) - by_sums;
            Some((mass - rear, by_sums, Own { front: -by.front, rear: -by.rear, ..Own::default() }))
        }
        Figure::Measured(SawMeasure::Hang) => (below > 0.0).then(|| {
            let square = ahead * ahead + below * below;
            let by_grip = (grip_ahead * below - grip_below * ahead) / square;
            (ahead.atan2(below), (by_ahead * below - by_below * ahead) / square, own(by_grip))
        }),
        Figure::Measured(SawMeasure::SwingPeriod) => {
            let arm = ahead.hypot(below);
            if inertia <= 0.0 || arm <= 0.0 || below <= 0.0 {
                return None;
            }
            let by_arm = (by_ahead * ahead + by_below * below) / arm;
            let grip_arm = (grip_ahead * ahead + grip_below * below) / arm;
            let period = 2.0 * PI * (inertia / (STANDARD_GRAVITY_M_S2 * arm)).sqrt();
            let by_grip = (grip_inertia / inertia - grip_arm / arm) * (0.5 * period);
            Some((period, (by_inertia / inertia - by_arm / arm) * (0.5 * period), own(by_grip)))
        }
        Figure::NoseMoment => {
            let g = STANDARD_GRAVITY_M_S2;
            Some((ahead * g, by_ahead * g, own(grip_ahead * g)))
        }
        Figure::SwingInertia => Some((inertia, by_inertia, own(grip_inertia))),
        Figure::CentreHeight | Figure::Measured(SawMeasure::Reach | SawMeasure::BalancePoint) => None,
    }
}

/// The weight at the rear grip, the saw held at this angle, and its derivatives.
fn rear_share(nose_up: Angle, sums: &Sums, grips: &Grips) -> Option<(f64, Sums, Own)> {
    const LEAST_SPAN_M: f64 = 1e-3;
    let (sin, cos) = nose_up.as_rad().sin_cos();
    let (f, span) = (grips.front, grips.rear - grips.front);
    let span_m = span.x * cos - span.y * sin;
    (span_m.abs() >= LEAST_SPAN_M).then(|| {
        let by_sums = Sums::new(-f.x * cos + f.y * sin, cos, -sin, 0.0) / span_m;
        let rear = by_sums.dot(sums);
        let across = Vector::new(cos, -sin) / span_m;
        (rear, by_sums, Own { front: across * (rear - sums.x), rear: across * -rear, ..Own::default() })
    })
}

/// Places in [`Values`].
const SPIKE_LINE: usize = 4;
const FRONT_GRIP: usize = 5;
const REAR_GRIP: usize = 7;
pub(super) const BAR_MASS: usize = 16;
pub(super) const NOSE_PLACE: usize = 17;

fn values_of(setup: &Setup) -> Values {
    let head = setup.powerhead();
    let dry = head.dry();
    let (fuel, oil) = (head.fuel_tank(), head.oil_tank());
    let (front, rear) = (head.front_grip(), head.rear_grip());
    [
        dry.mass_kg,
        dry.centroid.x,
        dry.centroid.y,
        (dry.inertia_kg_m2 / dry.mass_kg).sqrt(),
        head.spike_line().as_m(),
        front.x,
        front.y,
        rear.x,
        rear.y,
        fuel.corner().x,
        fuel.corner().y,
        fuel.capacity().as_m3(),
        oil.corner().x,
        oil.corner().y,
        oil.capacity().as_m3(),
        setup.chain().link_mass().as_kg(),
        setup.bar().mass().as_kg(),
        setup.bar().nose_place().as_m(),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::record::Quantity;
    use crate::saw::solve;
    use approx::assert_relative_eq;

    const FIGURES: [Figure; 11] = [
        Figure::Measured(SawMeasure::Total),
        Figure::Measured(SawMeasure::FrontGrip { nose_up: Angle::ZERO }),
        Figure::Measured(SawMeasure::FrontGrip { nose_up: Angle::from_deg(25.0) }),
        Figure::Measured(SawMeasure::RearGrip { nose_up: Angle::from_deg(-18.0) }),
        Figure::Measured(SawMeasure::Hang),
        Figure::Measured(SawMeasure::BalancePoint),
        Figure::Measured(SawMeasure::Reach),
        Figure::Measured(SawMeasure::SwingPeriod),
        Figure::NoseMoment,
        Figure::SwingInertia,
        Figure::CentreHeight,
    ];

    #[test]
    fn numbers_stand_where_they_are_looked_up() {
        assert_eq!(Quantity::ALL[SPIKE_LINE], Quantity::SpikeLine);
        assert_eq!(Quantity::ALL[FRONT_GRIP], Quantity::FrontGripX);
        assert_eq!(Quantity::ALL[REAR_GRIP], Quantity::RearGripX);
        assert_eq!(Quantity::ALL[BAR_MASS], Quantity::BarMass);
        assert_eq!(Quantity::ALL[NOSE_PLACE], Quantity::NosePlace);
    }

    #[test]
    fn law_the_sums_give_the_figures_of_solve() {
        for setup in demo().unwrap().setups() {
            let (model, solved) = (SawModel::new(setup), solve(setup));
            let figure = |figure| model.figure(figure, model.values()).unwrap().0;
            let measured = |measure| figure(Figure::Measured(measure));
            let within = 1e-12;
            assert_relative_eq!(
                measured(SawMeasure::Total),
                solved.ready_mass().as_kg(),
                max_relative = within
            );
            assert_relative_eq!(measured(SawMeasure::Hang), solved.hang.unwrap().as_rad(), epsilon = within);
            assert_relative_eq!(measured(SawMeasure::Reach), solved.reach.as_m(), max_relative = within);
            for deg in [0.0, 30.0, -45.0] {
                let nose_up = Angle::from_deg(deg);
                let hands = solved.hands_at(nose_up).unwrap();
                let front = measured(SawMeasure::FrontGrip { nose_up });
                let rear = measured(SawMeasure::RearGrip { nose_up });
                assert_relative_eq!(front, hands.front.as_kgf(), max_relative = 1e-11, epsilon = 1e-11);
                assert_relative_eq!(rear, hands.rear.as_kgf(), max_relative = 1e-11, epsilon = 1e-11);
            }
            let inertia = figure(Figure::SwingInertia);
            assert_relative_eq!(inertia, solved.swing_inertia.as_kg_m2(), max_relative = within);
            let moment = figure(Figure::NoseMoment);
            assert_relative_eq!(moment, solved.nose_moment.as_n_m(), epsilon = 1e-11);
            let ahead = measured(SawMeasure::BalancePoint) + setup.powerhead().spike_line().as_m();
            assert_relative_eq!(ahead, solved.saw.centroid.x, epsilon = within);
            assert_relative_eq!(figure(Figure::CentreHeight), solved.saw.centroid.y, epsilon = within);
        }
    }

    /// The closed form of the compound pendulum (any textbook: T = 2π √(I/(m·g·r))), on a saw whose inertia is
    /// taken from the parts by another way.
    #[test]
    fn the_period_is_that_of_a_compound_pendulum() {
        for setup in demo().unwrap().setups() {
            let solved = solve(setup);
            let grip = setup.powerhead().front_grip();
            let arm = (solved.saw.centroid - grip).norm();
            let torque = solved.saw.mass_kg * STANDARD_GRAVITY_M_S2 * arm;
            let expected = 2.0 * PI * (solved.saw.inertia_about(grip).as_kg_m2() / torque).sqrt();
            let model = SawModel::new(setup);
            let (period, _) =
                model.figure(Figure::Measured(SawMeasure::SwingPeriod), model.values()).unwrap();
            assert_relative_eq!(period, expected, max_relative = 1e-12);
            assert!((0.5..2.5).contains(&period), "{period} s");
        }
    }

    #[test]
    fn law_every_derivative_is_the_limit_of_differences() {
        for setup in demo().unwrap().setups() {
            let model = SawModel::new(setup);
            for figure in FIGURES {
                let (_, gradient) = model.figure(figure, model.values()).unwrap();
                for (i, slope) in gradient.into_iter().enumerate() {
                    // Central differences of four points: the error falls with the fourth power of the step.
                    let h = 1e-3 * model.values()[i].abs().max(0.01);
                    // What rounding leaves of a difference over so small a step.
                    let rounding = 5e-14 / h;
                    let at = |steps: f64| {
                        let mut values = *model.values();
                        values[i] += steps * h;
                        model.figure(figure, &values).unwrap().0
                    };
                    let difference = (8.0 * (at(1.0) - at(-1.0)) - (at(2.0) - at(-2.0))) / (12.0 * h);
                    assert_relative_eq!(slope, difference, max_relative = 1e-8, epsilon = rounding);
                }
            }
        }
    }

    #[test]
    fn a_saw_that_turns_over_has_no_hang_and_no_period() {
        let yard = demo().unwrap();
        let model = SawModel::new(yard.setup("Bittern B14").unwrap());
        let mut values = *model.values();
        values[2] = 0.6;
        assert!(model.figure(Figure::Measured(SawMeasure::Hang), &values).is_none());
        assert!(model.figure(Figure::Measured(SawMeasure::SwingPeriod), &values).is_none());
        assert!(model.figure(Figure::Measured(SawMeasure::Total), &values).is_some());
    }
}
