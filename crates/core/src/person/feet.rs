//! Where the feet stand through a cut: as long as they can in one place, then a step.

use super::reach::{HipWindow, feet, hips};
use super::stance::Stance;
use super::standing::Standing;
use super::why_not::WhyNot;
use crate::geometry::Point;

impl Standing {
    /// Where the middle between the feet is at each of a row of holds (place of the spikes, direction of the bar), x in
    /// the frame of the log, m: the fewest steps that go with them all. Between two holds with different places the
    /// person takes a step.
    ///
    /// # Errors
    /// Why the first of them cannot be held that cannot.
    pub fn footing(&self, holds: &[(Point, f64)]) -> Result<Vec<f64>, WhyNot> {
        let mut places = Vec::with_capacity(holds.len());
        let mut common: Vec<(f64, f64)> = Vec::new();
        let mut stood = 0_usize;
        // A run of holds with a common place lasts as long as it can; its place is known at its end.
        let settle = |places: &mut Vec<f64>, common: &[(f64, f64)], count: usize| {
            let widest = common.iter().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
            let out_m = widest.map_or(0.0, |(from, to)| 0.5 * (from + to));
            let x_m = self.flip(Point::new(out_m, 0.0)).x;
            places.extend(std::iter::repeat_n(x_m, count));
        };
        for (spikes, direction_rad) in holds {
            self.look(*spikes, *direction_rad)?;
            let here = self.feet_places(*spikes, *direction_rad);
            let both = meet(&common, &here);
            if stood > 0 && both.is_empty() {
                settle(&mut places, &common, stood);
                (common, stood) = (here, 1);
            } else {
                common = if stood == 0 { here } else { both };
                stood += 1;
            }
        }
        settle(&mut places, &common, stood);
        Ok(places)
    }

    /// As [`Self::look`], the feet standing with their middle at `feet_x_m`, m in the frame of the log: the least
    /// laborious posture that goes with it, or `None` where none does.
    pub fn look_from(&self, feet_x_m: f64, spikes: Point, direction_rad: f64) -> Option<Stance> {
        let feet_m = self.flip(Point::new(feet_x_m, 0.0)).x;
        if !self.can(spikes, direction_rad) {
            return None;
        }
        let ask = self.arms.ask(&self.held(spikes, direction_rad));
        self.choices.iter().zip(&self.decisive).find_map(|(choice, decisive)| {
            let (posture, balance) = (&choice.posture, &choice.balance);
            let window = HipWindow::of(decisive, &self.arms, &self.ground, &ask)?;
            let (from, to) = window.over(posture, balance, &ask, feet_m)?.widest()?;
            Some(self.stance_over(choice, &ask, 0.5 * (from + to), feet_m))
        })
    }

    /// Where the middle between the feet may be for a hold, in any posture, outward of the log: intervals in order.
    fn feet_places(&self, spikes: Point, direction_rad: f64) -> Vec<(f64, f64)> {
        let ask = self.arms.ask(&self.held(spikes, direction_rad));
        let mut places: Vec<(f64, f64)> = self
            .choices
            .iter()
            .zip(&self.decisive)
            .filter_map(|(choice, decisive)| {
                let (posture, balance) = (&choice.posture, &choice.balance);
                let (from, to) = hips(decisive, &self.arms, &self.ground, &ask)?;
                // Both ends move outward with the hip.
                Some((feet(posture, balance, &ask, from).0, feet(posture, balance, &ask, to).1))
            })
            .collect();
        places.sort_by(|a, b| a.0.total_cmp(&b.0));
        places.into_iter().fold(Vec::new(), |mut joined: Vec<(f64, f64)>, next| {
            match joined.last_mut() {
                Some(last) if next.0 <= last.1 => last.1 = last.1.max(next.1),
                _ => joined.push(next),
            }
            joined
        })
    }
}

/// What two lists of intervals have in common.
fn meet(a: &[(f64, f64)], b: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let both = a.iter().flat_map(|x| b.iter().map(move |y| (x.0.max(y.0), x.1.min(y.1))));
    both.filter(|(from, to)| from <= to).collect()
}
