//! Weighted non-linear least squares, with covariance and an honest answer where there is none.
//!
//! A [`Misfit`] gives residuals already divided by their standard uncertainty, and their derivatives; [`minimise`]
//! finds the values with the least sum of squares by the Levenberg–Marquardt method (Moré, *The Levenberg-Marquardt
//! algorithm: implementation and theory*, 1978: damping scaled by the columns of the Jacobian). Each step is solved
//! by an orthogonal factorisation of the Jacobian itself, never of its square.

mod chi_square;

pub use chi_square::chi_square_above;

use nalgebra::{DMatrix, DVector};
use std::fmt;

/// Evaluations after which the search gives up.
pub const MOST_STEPS: usize = 200;
/// A step that moves every residual by less than this share of a standard uncertainty (or of the residuals' own
/// norm, where that is larger) ends the search: far below anything a scale can tell, far above rounding.
const STEP_TOLERANCE: f64 = 1e-11;
/// Singular values of the column-scaled Jacobian below this share of the largest count as nothing: rounding
/// leaves some 1e-15 of a direction that the rows do not see at all.
const RANK_TOLERANCE: f64 = 1e-10;
const FIRST_DAMPING: f64 = 1e-3;
const DAMPING_FACTOR: f64 = 10.0;
/// Beyond this damping a step is nothing: the search is stuck at the edge of what is allowed.
const MOST_DAMPING: f64 = 1e16;

/// What is to be fitted.
pub trait Misfit {
    /// How many unknowns there are.
    fn unknowns(&self) -> usize;

    /// Residuals (computed minus observed, over the standard uncertainty) and their derivatives, one row for each
    /// residual and one column for each unknown. `None` where the model has no value there.
    fn at(&self, values: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)>;
}

/// The values with the least sum of squares.
#[derive(Clone, Debug, PartialEq)]
pub struct Minimum {
    /// One value for each unknown.
    pub values: DVector<f64>,
    /// Their covariance where the stated uncertainties hold: the inverse of the squared Jacobian. Where all
    /// uncertainties are only known to be equal, multiply by `chi_square / freedom`.
    pub covariance: DMatrix<f64>,
    /// Sum of the squared residuals.
    pub chi_square: f64,
    /// Rows less unknowns.
    pub freedom: usize,
    /// The residuals there.
    pub residuals: DVector<f64>,
    /// Their derivatives there.
    pub jacobian: DMatrix<f64>,
    /// Evaluations that were needed.
    pub steps: usize,
}

/// Why there are no fitted values.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FitError {
    /// There is nothing to fit.
    NoUnknowns,
    /// The model has no value where the search would begin.
    NoStart,
    /// The rows do not determine the unknowns: only `rank` directions of them.
    Undetermined {
        /// Directions that the rows see.
        rank: usize,
        /// Unknowns asked for.
        unknowns: usize,
    },
    /// The search went on without end, or ran into the edge of what is allowed; no values are given.
    DidNotConverge {
        /// Evaluations made.
        steps: usize,
    },
}

impl fmt::Display for FitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoUnknowns => write!(f, "there is nothing to fit"),
            Self::NoStart => write!(f, "the model has no value at the numbers to begin with"),
            Self::Undetermined { rank, unknowns } => {
                write!(f, "the readings settle only {rank} of {unknowns} unknowns")
            }
            Self::DidNotConverge { steps } => write!(f, "the fit did not converge in {steps} steps"),
        }
    }
}

impl std::error::Error for FitError {}

/// Finds the least sum of squares from `start` on.
///
/// # Errors
/// [`FitError`]: nothing to fit, no value at the start, too few rows, or no convergence within [`MOST_STEPS`].
///
/// ```
/// use barpoise_core::least_squares::{Misfit, minimise};
/// use nalgebra::{DMatrix, DVector};
///
/// /// One unknown read twice, once three times as well.
/// struct TwoReadings;
/// impl Misfit for TwoReadings {
///     fn unknowns(&self) -> usize { 1 }
///     fn at(&self, x: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)> {
///         Some((DVector::from_vec(vec![(x[0] - 10.0) / 3.0, (x[0] - 20.0) / 1.0]), DMatrix::from_row_slice(2, 1, &[1.0 / 3.0, 1.0])))
///     }
/// }
/// let found = minimise(&TwoReadings, DVector::from_vec(vec![0.0]))?;
/// assert!((found.values[0] - 19.0).abs() < 1e-12, "weights 1 : 9");
/// assert!((found.covariance[(0, 0)] - 0.9).abs() < 1e-12);
/// # Ok::<(), barpoise_core::least_squares::FitError>(())
/// ```
pub fn minimise(misfit: &impl Misfit, start: DVector<f64>) -> Result<Minimum, FitError> {
    if misfit.unknowns() == 0 {
        return Err(FitError::NoUnknowns);
    }
    let mut values = start;
    let (mut residuals, mut jacobian) = evaluated(misfit, &values).ok_or(FitError::NoStart)?;
    if residuals.len() < values.len() {
        return Err(FitError::Undetermined { rank: residuals.len(), unknowns: values.len() });
    }
    let mut scale = column_norms(&jacobian);
    let mut damping = 0.0;
    let mut steps = 1;
    while steps < MOST_STEPS && damping < MOST_DAMPING {
        let step = damped_step(&jacobian, &residuals, &scale, damping);
        let Some(step) = step else {
            // Undamped and singular: a little damping picks the shortest way.
            damping = raised(damping);
            steps += 1;
            continue;
        };
        let moved = step.component_mul(&scale).norm();
        let done = moved <= STEP_TOLERANCE * residuals.norm().max(1.0) && damping < FIRST_DAMPING;
        let trial = &values + step;
        steps += 1;
        match evaluated(misfit, &trial) {
            Some((next, slopes)) if done || no_worse(next.norm_squared(), residuals.norm_squared()) => {
                (values, residuals, jacobian) = (trial, next, slopes);
                if done {
                    return finished(values, residuals, jacobian, steps);
                }
                let norms = column_norms(&jacobian);
                scale.zip_apply(&norms, |kept, now| *kept = kept.max(now));
                damping = if damping <= FIRST_DAMPING { 0.0 } else { damping / DAMPING_FACTOR };
            }
            _ if done => return finished(values, residuals, jacobian, steps),
            _ => damping = raised(damping),
        }
    }
    let seen = rank(&jacobian);
    if seen < values.len() {
        return Err(FitError::Undetermined { rank: seen, unknowns: values.len() });
    }
    Err(FitError::DidNotConverge { steps })
}

/// Near the least value sums of squares differ by no more than rounding leaves of them.
fn no_worse(next: f64, now: f64) -> bool {
    const ROUNDING: f64 = 1e-12;
    const NOTHING: f64 = 1e-22;
    next <= now * (1.0 + ROUNDING) + NOTHING
}

fn raised(damping: f64) -> f64 {
    (damping * DAMPING_FACTOR).max(FIRST_DAMPING)
}

fn evaluated(misfit: &impl Misfit, values: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)> {
    let finite = |numbers: &[f64]| numbers.iter().all(|value| value.is_finite());
    misfit.at(values).filter(|(rows, slopes)| finite(rows.as_slice()) && finite(slopes.as_slice()))
}

fn column_norms(jacobian: &DMatrix<f64>) -> DVector<f64> {
    DVector::from_iterator(jacobian.ncols(), jacobian.column_iter().map(|column| column.norm()))
}

/// The step that solves `[J; √λ D] δ = [−r; 0]`; `None` where that has no one answer.
fn damped_step(
    jacobian: &DMatrix<f64>,
    residuals: &DVector<f64>,
    scale: &DVector<f64>,
    damping: f64,
) -> Option<DVector<f64>> {
    let (rows, columns) = jacobian.shape();
    // Columns are scaled to length one, so that an unknown's unit changes nothing.
    let inverse = scale.map(|norm| if norm > 0.0 { 1.0 / norm } else { 1.0 });
    let mut system = DMatrix::zeros(rows + columns, columns);
    system.rows_mut(0, rows).copy_from(jacobian);
    for (mut column, factor) in system.column_iter_mut().zip(inverse.iter()) {
        column *= *factor;
    }
    system.rows_mut(rows, columns).fill_diagonal(damping.sqrt());
    let mut right = DVector::zeros(rows + columns);
    right.rows_mut(0, rows).copy_from(&-residuals);
    let factors = system.qr();
    let triangle = factors.r();
    let least = triangle.diagonal().iter().fold(f64::INFINITY, |least, value| least.min(value.abs()));
    if least < RANK_TOLERANCE {
        return None;
    }
    factors.q_tr_mul(&mut right);
    let scaled = triangle.solve_upper_triangular(&right.rows(0, columns))?;
    Some(scaled.component_mul(&inverse))
}

fn finished(
    values: DVector<f64>,
    residuals: DVector<f64>,
    jacobian: DMatrix<f64>,
    steps: usize,
) -> Result<Minimum, FitError> {
    let unknowns = values.len();
    let covariance =
        covariance(&jacobian).ok_or_else(|| FitError::Undetermined { rank: rank(&jacobian), unknowns })?;
    Ok(Minimum {
        chi_square: residuals.norm_squared(),
        freedom: residuals.len() - unknowns,
        values,
        covariance,
        residuals,
        jacobian,
        steps,
    })
}

/// How many directions of the unknowns the rows see, each column scaled to length one.
pub fn rank(jacobian: &DMatrix<f64>) -> usize {
    let singular = scaled_columns(jacobian).0.singular_values();
    let largest = singular.max();
    singular.iter().filter(|value| **value > RANK_TOLERANCE * largest && **value > 0.0).count()
}

fn scaled_columns(jacobian: &DMatrix<f64>) -> (DMatrix<f64>, DVector<f64>) {
    let inverse = column_norms(jacobian).map(|norm| if norm > 0.0 { 1.0 / norm } else { 1.0 });
    let mut scaled = jacobian.clone();
    for (mut column, factor) in scaled.column_iter_mut().zip(inverse.iter()) {
        column *= *factor;
    }
    (scaled, inverse)
}

/// `(JᵀJ)⁻¹` by the orthogonal factorisation; `None` where the rows do not determine every unknown.
fn covariance(jacobian: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    if rank(jacobian) < jacobian.ncols() {
        return None;
    }
    let (scaled, inverse) = scaled_columns(jacobian);
    let triangle = scaled.qr().r();
    let root = triangle.solve_upper_triangular(&DMatrix::identity(jacobian.ncols(), jacobian.ncols()))?;
    let scale = DMatrix::from_diagonal(&inverse);
    let covariance = &scale * &root * root.transpose() * &scale;
    // Symmetric to the last digit.
    Some((&covariance + covariance.transpose()) * 0.5)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// The valley of Rosenbrock's function, a common trial for a search: its least value is 0 at (1, 1).
    struct Valley;

    impl Misfit for Valley {
        fn unknowns(&self) -> usize {
            2
        }
        fn at(&self, x: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)> {
            let rows = DVector::from_vec(vec![10.0 * (x[1] - x[0] * x[0]), 1.0 - x[0]]);
            Some((rows, DMatrix::from_row_slice(2, 2, &[-20.0 * x[0], 10.0, -1.0, 0.0])))
        }
    }

    #[test]
    fn a_bent_valley_is_followed_to_its_end() {
        let found = minimise(&Valley, DVector::from_vec(vec![-1.2, 1.0])).unwrap();
        assert_relative_eq!(found.values[0], 1.0, max_relative = 1e-10);
        assert_relative_eq!(found.values[1], 1.0, max_relative = 1e-10);
        assert!(found.chi_square < 1e-18, "{}", found.chi_square);
    }

    /// Runs off towards an infinite value.
    struct NoLeast;

    impl Misfit for NoLeast {
        fn unknowns(&self) -> usize {
            1
        }
        fn at(&self, x: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)> {
            Some((DVector::from_vec(vec![(-x[0]).exp()]), DMatrix::from_row_slice(1, 1, &[-(-x[0]).exp()])))
        }
    }

    #[test]
    fn what_has_no_least_does_not_converge() {
        // exp(−x) falls for ever: the step is always 1, until the residual itself is nothing.
        match minimise(&NoLeast, DVector::from_vec(vec![0.0])) {
            Ok(found) => {
                assert!(found.values[0] > 20.0, "only where nothing is left of the residual: {found:?}")
            }
            Err(error) => assert!(matches!(error, FitError::DidNotConverge { .. }), "{error}"),
        }
    }

    /// Sees only the sum of two unknowns.
    struct OnlyTheSum;

    impl Misfit for OnlyTheSum {
        fn unknowns(&self) -> usize {
            2
        }
        fn at(&self, x: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)> {
            let sum = x[0] + x[1];
            Some((
                DVector::from_vec(vec![sum - 3.0, 2.0 * sum - 7.0]),
                DMatrix::from_row_slice(2, 2, &[1.0, 1.0, 2.0, 2.0]),
            ))
        }
    }

    #[test]
    fn what_the_rows_do_not_tell_apart_is_refused() {
        let refused = minimise(&OnlyTheSum, DVector::from_vec(vec![0.0, 0.0]));
        assert_eq!(refused, Err(FitError::Undetermined { rank: 1, unknowns: 2 }));
    }

    /// Allowed only below 2, with its least value at 3.
    struct Fenced;

    impl Misfit for Fenced {
        fn unknowns(&self) -> usize {
            1
        }
        fn at(&self, x: &DVector<f64>) -> Option<(DVector<f64>, DMatrix<f64>)> {
            (x[0] <= 2.0)
                .then(|| (DVector::from_vec(vec![x[0] - 3.0]), DMatrix::from_row_slice(1, 1, &[1.0])))
        }
    }

    #[test]
    fn a_least_value_outside_what_is_allowed_is_not_given() {
        assert!(matches!(
            minimise(&Fenced, DVector::from_vec(vec![0.0])),
            Err(FitError::DidNotConverge { .. })
        ));
        assert_eq!(minimise(&Fenced, DVector::from_vec(vec![5.0])), Err(FitError::NoStart));
    }
}
