//! How long ago something was, as words.

use std::time::Duration;

/// `just now`, `3 minutes ago`, `2 days ago`: whole units, rounded down.
pub fn age(ago: Duration) -> String {
    const UNITS: [(u64, &str, &str); 3] =
        [(86_400, "day", "days"), (3_600, "hour", "hours"), (60, "minute", "minutes")];
    let seconds = ago.as_secs();
    let fits = UNITS.into_iter().find(|(unit, _, _)| seconds >= *unit);
    fits.map_or_else(
        || "just now".to_owned(),
        |(unit, one, many)| match seconds / unit {
            1 => format!("1 {one} ago"),
            count => format!("{count} {many} ago"),
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ages_are_told_in_whole_units() {
        let told = |seconds| age(Duration::from_secs(seconds));
        assert_eq!(told(59), "just now");
        assert_eq!(told(60), "1 minute ago");
        assert_eq!(told(3_599), "59 minutes ago");
        assert_eq!(told(7_300), "2 hours ago");
        assert_eq!(told(86_400 * 3 + 5), "3 days ago");
    }
}
