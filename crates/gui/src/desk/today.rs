//! What day it is.

use std::time::{SystemTime, UNIX_EPOCH};

const SECONDS_A_DAY: u64 = 86_400;

/// Today's date at Greenwich, as ISO 8601 writes it: `2026-11-25`.
pub fn today() -> String {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs());
    date(seconds / SECONDS_A_DAY)
}

/// The date of a count of days since 1970-01-01, by the rule of leap years.
fn date(mut days: u64) -> String {
    let is_leap =
        |year: u64| year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let mut year = 1970;
    while days >= if is_leap(year) { 366 } else { 365 } {
        days -= if is_leap(year) { 366 } else { 365 };
        year += 1;
    }
    let february = if is_leap(year) { 29 } else { 28 };
    let mut month = 1;
    for length in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] {
        if days < length {
            break;
        }
        days -= length;
        month += 1;
    }
    format!("{year:04}-{month:02}-{:02}", days + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_have_their_dates() {
        assert_eq!(date(0), "1970-01-01");
        assert_eq!(date(58), "1970-02-28");
        assert_eq!(date(59), "1970-03-01");
        // 30 years of 365 days and 7 leap days.
        assert_eq!(date(30 * 365 + 7), "2000-01-01");
        assert_eq!(date(30 * 365 + 7 + 59), "2000-02-29");
        assert_eq!(date(30 * 365 + 7 + 365), "2000-12-31");
        // 1 764 028 800 s is 2025-11-25T00:00:00Z by `date -u -d @1764028800`.
        assert_eq!(date(1_764_028_800 / SECONDS_A_DAY), "2025-11-25");
    }
}
