//! What drives the chain, and what its pull does.

use super::parts::Sprocket;
use crate::mark::Mark;
use crate::units::{Force, Length, Mass, Power, Speed};

/// Share of the engine's power that reaches the chain; the clutch is taken not to slip.
pub const DRIVE_EFFICIENCY: f64 = 0.9;
/// Where that comes from.
pub const DRIVE_EFFICIENCY_MARK: Mark = Mark::OurGuess;

/// Chain speed: `teeth × 2 × pitch × rpm / 60`.
pub fn chain_speed(sprocket: Sprocket, rpm: f64) -> Speed {
    Speed::from_m_s(f64::from(sprocket.teeth) * 2.0 * sprocket.pitch.as_m() * rpm / 60.0)
}

/// The most that the chain can pull the saw into the wood: `power × efficiency / chain speed`; `None` for a
/// chain that stands still.
pub fn pull_in_force(power: Power, efficiency: f64, speed: Speed) -> Option<Force> {
    (speed > Speed::ZERO).then(|| Force::from_n(power.as_w() * efficiency / speed.as_m_s()))
}

/// Energy of motion of a chain of this mass, J: `½·m·v²`.
pub fn chain_energy_j(chain: Mass, speed: Speed) -> f64 {
    0.5 * chain.as_kg() * speed.as_m_s().powi(2)
}

/// Cutters in the wood over a depth: depth / cutter spacing.
pub fn cutters_in_wood(depth: Length, spacing: Length) -> f64 {
    depth / spacing
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn seven_teeth_of_three_eighths_at_ten_thousand_turns() {
        // 7 × 19.05 mm × 10 000 / 60, worked by hand.
        let speed = chain_speed(Sprocket { teeth: 7, pitch: Length::from_in(0.375) }, 10_000.0);
        assert_relative_eq!(speed.as_m_s(), 22.225, max_relative = 1e-12);
        let pull = pull_in_force(Power::from_kw(4.0), 0.9, speed).unwrap();
        assert_relative_eq!(pull.as_n() * speed.as_m_s(), 3600.0, max_relative = 1e-12);
    }

    #[test]
    fn a_standing_chain_has_no_pull_figure() {
        assert_eq!(pull_in_force(Power::from_kw(4.0), 0.9, Speed::ZERO), None);
    }
}
