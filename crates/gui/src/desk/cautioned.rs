//! The cautions with figures that leave the program: a key of each JSON object, the last line of a CSV table, the end of a
//! report.

use barpoise_core::{CAUTIONS, KICKBACK_CAUTION};
use serde::Serialize;

/// Every caution in full, the one of kickback first.
pub fn cautions() -> impl Iterator<Item = &'static str> {
    [KICKBACK_CAUTION].into_iter().chain(CAUTIONS)
}

/// An object with the cautions as its last key.
#[derive(Debug, Serialize)]
pub struct Cautioned<T> {
    #[serde(flatten)]
    row: T,
    cautions: Vec<&'static str>,
}

impl<T> Cautioned<T> {
    /// The same with the cautions.
    pub fn new(row: T) -> Self {
        Self { row, cautions: cautions().collect() }
    }
}

/// Rows as CSV under a line of names, the cautions in a last line that begins with `#`.
///
/// # Errors
/// Where the writer fails.
pub fn csv<T: Serialize>(rows: impl IntoIterator<Item = T>) -> Result<String, String> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer.serialize(row).map_err(|error| error.to_string())?;
    }
    let bytes = writer.into_inner().map_err(|error| error.to_string())?;
    let table = String::from_utf8(bytes).map_err(|error| error.to_string())?;
    Ok(format!("{table}# {}\n", cautions().collect::<Vec<_>>().join(" ")))
}

/// The cautions in full, a line for each.
pub fn lines() -> String {
    cautions().map(|caution| format!("{caution}\n")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Serialize)]
    struct Row {
        reach_m: f64,
    }

    #[test]
    fn every_form_has_every_caution() {
        let json = serde_json::to_string(&Cautioned::new(Row { reach_m: 0.4 })).unwrap();
        let csv = csv([Row { reach_m: 0.4 }]).unwrap();
        assert!(json.starts_with("{\"reach_m\":0.4,\"cautions\":["), "{json}");
        assert_eq!(csv.lines().count(), 3, "{csv}");
        assert!(csv.starts_with("reach_m\n0.4\n# "), "{csv}");
        for caution in cautions() {
            assert!(
                json.contains(caution) && csv.contains(caution) && lines().contains(caution),
                "{caution}"
            );
        }
    }
}
