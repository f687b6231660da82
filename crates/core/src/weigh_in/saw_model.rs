//! A setup as its four mass sums, with exact derivatives by every number that can be learnt.
//!
//! Mass, first moments and the second moment about the sprocket centre are polynomials of the unknowns, and every
//! figure is a closed form of those four sums: so are all derivatives.

use crate::geometry::{Point, Vector};
use crate::record::COUNT;
use crate::saw::{MassPart, Setup, Tank};
use crate::units::{Angle, STANDARD_GRAVITY_M_S2};
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
}

/// One saw.
#[derive(Clone, Debug)]
pub(super) struct SawModel {
    fixed: Sums,
    fuel: Fluid,
    oil: Fluid,
    bar_per_kg: Sums,
    loop_per_kg_of_link: Sums,
    tip_x_m: f64,
    front_grip: Point,
    rear_grip: Point,
    values: Values,
}

/// What is in a tank: its place follows the tank's corner.
#[derive(Clone, Copy, Debug)]
struct Fluid {
    mass_kg: f64,
    from_corner: Vector,
    inertia_kg_m2: f64,
}

impl Fluid {
    fn new(tank: &Tank, fill: f64) -> Self {
        let fluid = tank.fluid(fill);
        Self {
            mass_kg: fluid.mass_kg,
            from_corner: fluid.centroid - tank.corner(),
            inertia_kg_m2: fluid.inertia_kg_m2,
        }
    }

    /// The sums with the corner at (x, y), and their derivatives by x and by y.
    fn sums(&self, x: f64, y: f64) -> (Sums, Sums, Sums) {
        let (m, cx, cy) = (self.mass_kg, x + self.from_corner.x, y + self.from_corner.y);
        (
            Sums::new(m, m * cx, m * cy, self.inertia_kg_m2 + m * (cx * cx + cy * cy)),
            Sums::new(0.0, m, 0.0, 2.0 * m * cx),
            Sums::new(0.0, 0.0, m, 2.0 * m * cy),
        )
    }
}

fn sums_of(part: &MassPart) -> Sums {
    let (m, c) = (part.mass_kg, part.centroid);
    Sums::new(m, m * c.x, m * c.y, part.inertia_kg_m2 + m * c.coords.norm_squared())
}

impl SawModel {
    pub(super) fn new(setup: &Setup) -> Self {
        let head = setup.powerhead();
        let bar = setup.bar().part(setup.nose_centre());
        let links = setup.links().exact();
        let kg_per_m = links / setup.path().length().as_m();
        let lines = setup.path().lines();
        Self {
            fixed: setup.extras().iter().map(|extra| sums_of(&extra.part)).sum(),
            fuel: Fluid::new(head.fuel_tank(), setup.fuel_fill()),
            oil: Fluid::new(head.oil_tank(), setup.oil_fill()),
            bar_per_kg: sums_of(&bar) / bar.mass_kg,
            loop_per_kg_of_link: lines.iter().map(|line| sums_of(&MassPart::line(kg_per_m, line))).sum(),
            tip_x_m: setup.nose_zone().tip_x().as_m(),
            front_grip: head.front_grip(),
            rear_grip: head.rear_grip(),
            values: values_of(setup),
        }
    }

    /// The yard's own values.
    pub(super) const fn values(&self) -> &Values {
        &self.values
    }

    fn sums(&self, values: &Values) -> (Sums, [Sums; COUNT]) {
        let [m, x, y, k, _, fuel_x, fuel_y, oil_x, oil_y, link, bar] = *values;
        let spread = k * k + x * x + y * y;
        let (fuel, by_fuel_x, by_fuel_y) = self.fuel.sums(fuel_x, fuel_y);
        let (oil, by_oil_x, by_oil_y) = self.oil.sums(oil_x, oil_y);
        let sums = self.fixed
            + Sums::new(m, m * x, m * y, m * spread)
            + fuel
            + oil
            + self.loop_per_kg_of_link * link
            + self.bar_per_kg * bar;
        let slopes = [
            Sums::new(1.0, x, y, spread),
            Sums::new(0.0, m, 0.0, 2.0 * m * x),
            Sums::new(0.0, 0.0, m, 2.0 * m * y),
            Sums::new(0.0, 0.0, 0.0, 2.0 * m * k),
            Sums::zeros(),
            by_fuel_x,
            by_fuel_y,
            by_oil_x,
            by_oil_y,
            self.loop_per_kg_of_link,
            self.bar_per_kg,
        ];
        (sums, slopes)
    }

    /// A figure, SI (weights in kg, as a scale shows them), and its derivatives. `None` where it has no value: no
    /// stable hang, grips in one plumb line.
    pub(super) fn figure(&self, figure: Figure, values: &Values) -> Option<(f64, Gradient)> {
        let (sums, slopes) = self.sums(values);
        let spike_line_m = values[SPIKE_LINE];
        let (value, by_sums, by_spike_line) = match figure {
            Figure::Measured(SawMeasure::Reach) => (self.tip_x_m - spike_line_m, Sums::zeros(), -1.0),
            Figure::Measured(SawMeasure::BalancePoint) => {
                let (mass, x) = (sums.x, sums.y / sums.x);
                (x - spike_line_m, Sums::new(-x / mass, 1.0 / mass, 0.0, 0.0), -1.0)
            }
            other => {
                let (value, by_sums) = self.of_sums(other, &sums)?;
                (value, by_sums, 0.0)
            }
        };
        let mut gradient = slopes.map(|slope| slope.dot(&by_sums));
        if let Some(entry) = gradient.get_mut(SPIKE_LINE) {
            *entry += by_spike_line;
        }
        (value.is_finite() && gradient.iter().all(|slope| slope.is_finite())).then_some((value, gradient))
    }

    /// A figure of the four sums alone, and its derivatives by them.
    fn of_sums(&self, figure: Figure, sums: &Sums) -> Option<(f64, Sums)> {
        let f = self.front_grip;
        // Moments about the front grip with the saw level: ahead of it, and below it.
        let by_ahead = Sums::new(-f.x, 1.0, 0.0, 0.0);
        let by_below = Sums::new(f.y, 0.0, -1.0, 0.0);
        let (ahead, below) = (by_ahead.dot(sums), by_below.dot(sums));
        let by_inertia = Sums::new(f.coords.norm_squared(), -2.0 * f.x, -2.0 * f.y, 1.0);
        let inertia = by_inertia.dot(sums);
        match figure {
            Figure::Measured(SawMeasure::Total) => Some((sums.x, Sums::new(1.0, 0.0, 0.0, 0.0))),
            Figure::Measured(SawMeasure::RearGrip { nose_up }) => {
                let by_sums = self.rear_share(nose_up)?;
                Some((by_sums.dot(sums), by_sums))
            }
            Figure::Measured(SawMeasure::FrontGrip { nose_up }) => {
                let by_sums = Sums::new(1.0, 0.0, 0.0, 0.0) - self.rear_share(nose_up)?;
                Some((by_sums.dot(sums), by_sums))
            }
            Figure::Measured(SawMeasure::Hang) => (below > 0.0).then(|| {
                let square = ahead * ahead + below * below;
                (ahead.atan2(below), (by_ahead * below - by_below * ahead) / square)
            }),
            Figure::Measured(SawMeasure::SwingPeriod) => {
                let arm = ahead.hypot(below);
                if inertia <= 0.0 || arm <= 0.0 || below <= 0.0 {
                    return None;
                }
                let by_arm = (by_ahead * ahead + by_below * below) / arm;
                let period = 2.0 * PI * (inertia / (STANDARD_GRAVITY_M_S2 * arm)).sqrt();
                Some((period, (by_inertia / inertia - by_arm / arm) * (0.5 * period)))
            }
            Figure::NoseMoment => Some((ahead * STANDARD_GRAVITY_M_S2, by_ahead * STANDARD_GRAVITY_M_S2)),
            Figure::SwingInertia => Some((inertia, by_inertia)),
            Figure::Measured(SawMeasure::Reach | SawMeasure::BalancePoint) => None,
        }
    }

    /// The weight at the rear grip as a linear form of the sums, the saw held at this angle.
    fn rear_share(&self, nose_up: Angle) -> Option<Sums> {
        const LEAST_SPAN_M: f64 = 1e-3;
        let (sin, cos) = nose_up.as_rad().sin_cos();
        let (f, span) = (self.front_grip, self.rear_grip - self.front_grip);
        let span_m = span.x * cos - span.y * sin;
        (span_m.abs() >= LEAST_SPAN_M).then(|| Sums::new(-f.x * cos + f.y * sin, cos, -sin, 0.0) / span_m)
    }
}

/// Place of the spike line in [`Values`].
const SPIKE_LINE: usize = 4;
/// Place of the bar's mass.
pub(super) const BAR_MASS: usize = 10;

fn values_of(setup: &Setup) -> Values {
    let head = setup.powerhead();
    let dry = head.dry();
    let (fuel, oil) = (head.fuel_tank().corner(), head.oil_tank().corner());
    [
        dry.mass_kg,
        dry.centroid.x,
        dry.centroid.y,
        (dry.inertia_kg_m2 / dry.mass_kg).sqrt(),
        head.spike_line().as_m(),
        fuel.x,
        fuel.y,
        oil.x,
        oil.y,
        setup.chain().link_mass().as_kg(),
        setup.bar().mass().as_kg(),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::demo;
    use crate::saw::solve;
    use crate::weigh_in::Quantity;
    use approx::assert_relative_eq;

    const FIGURES: [Figure; 10] = [
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
    ];

    #[test]
    fn spike_line_and_bar_stand_where_they_are_looked_up() {
        assert_eq!(Quantity::ALL[SPIKE_LINE], Quantity::SpikeLine);
        assert_eq!(Quantity::ALL[BAR_MASS], Quantity::BarMass);
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
                    let at = |steps: f64| {
                        let mut values = *model.values();
                        values[i] += steps * h;
                        model.figure(figure, &values).unwrap().0
                    };
                    let difference = (8.0 * (at(1.0) - at(-1.0)) - (at(2.0) - at(-2.0))) / (12.0 * h);
                    assert_relative_eq!(slope, difference, max_relative = 1e-8, epsilon = 1e-9);
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
