//! What day it is.

/// Today's date where the person is, as ISO 8601 writes it: `2026-11-25`.
pub fn today() -> String {
    jiff::ZonedDateTime::now().date().to_string()
}
