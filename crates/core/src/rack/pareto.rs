//! Which of many are beaten by none.

use std::cmp::Ordering;

/// True for each row that no other row beats: none is at least as good in everything and better in something. Less is
/// better throughout; rows of the same values do not beat each other. Infinite values are allowed.
///
/// A row can only be beaten by one that stands before it in lexical order, so each is held against those of the set
/// before it: quick where the set is small, as with measures that go together.
pub fn pareto<const N: usize>(rows: &[[f64; N]]) -> Vec<bool> {
    let lexical = |a: &[f64; N], b: &[f64; N]| {
        a.iter()
            .zip(b)
            .map(|(a, b)| a.partial_cmp(b).unwrap_or_else(|| a.total_cmp(b)))
            .find(|order| order.is_ne())
            .unwrap_or(Ordering::Equal)
    };
    let mut order: Vec<(usize, &[f64; N])> = rows.iter().enumerate().collect();
    order.sort_by(|(_, a), (_, b)| lexical(a, b));
    let mut unbeaten = vec![false; rows.len()];
    let mut set: Vec<&[f64; N]> = Vec::new();
    for (index, row) in order {
        if !set.iter().any(|other| beats(other, row)) {
            set.push(row);
            if let Some(entry) = unbeaten.get_mut(index) {
                *entry = true;
            }
        }
    }
    unbeaten
}

fn beats<const N: usize>(a: &[f64; N], b: &[f64; N]) -> bool {
    let mut better = false;
    for (a, b) in a.iter().zip(b) {
        if a > b {
            return false;
        }
        better |= a < b;
    }
    better
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn law_the_set_is_that_of_trying_every_pair(
            rows in prop::collection::vec(prop::array::uniform3(0_u8..6), 0..60)
        ) {
            let rows: Vec<[f64; 3]> = rows.into_iter().map(|row| row.map(f64::from)).collect();
            let by_pairs: Vec<bool> = rows
                .iter()
                .map(|row| {
                    !rows.iter().any(|other| {
                        (0..3).all(|i| other[i] <= row[i]) && (0..3).any(|i| other[i] < row[i])
                    })
                })
                .collect();
            prop_assert_eq!(pareto(&rows), by_pairs);
        }
    }

    #[test]
    fn equals_do_not_beat_each_other() {
        assert_eq!(pareto(&[[1.0, 2.0], [1.0, 2.0], [2.0, 2.0]]), [true, true, false]);
        assert_eq!(pareto::<2>(&[]), Vec::<bool>::new());
    }
}
