//! The cautions with figures that leave the program: a key of each JSON object, the last line of a CSV table, the end of a
//! report.

use barpoise_core::{CAUTIONS, KICKBACK_CAUTION};
use serde::Serialize;
use std::borrow::Cow;

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
    let table = without_formulas(&bytes).map_err(|error| error.to_string())?;
    Ok(format!("{table}# {}\n", cautions().collect::<Vec<_>>().join(" ")))
}

/// The same table, in which no text is taken for a formula: one that begins as a formula does has an apostrophe before it,
/// which a spreadsheet reads as *this is text*.
fn without_formulas(table: &[u8]) -> Result<String, Box<dyn std::error::Error>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(table);
    let mut writer = csv::Writer::from_writer(Vec::new());
    for record in reader.records() {
        let record = record?;
        writer.write_record(record.iter().map(|field| as_text(field).into_owned()))?;
    }
    Ok(String::from_utf8(writer.into_inner().map_err(|error| error.to_string())?)?)
}

fn as_text(field: &str) -> Cow<'_, str> {
    let begins = field.starts_with(['=', '+', '-', '@', '\t', '\r']);
    if begins && field.parse::<f64>().is_err() {
        Cow::Owned(format!("'{field}"))
    } else {
        Cow::Borrowed(field)
    }
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

    #[derive(Serialize)]
    struct Named {
        name: &'static str,
        hang_rad: f64,
    }

    #[test]
    fn no_name_becomes_a_formula_and_every_number_stays_one() {
        for (name, written) in [
            ("=HYPERLINK(1)", "'=HYPERLINK(1)"),
            ("+B24", "'+B24"),
            ("-B24", "'-B24"),
            ("@B24", "'@B24"),
            ("B24 = solid", "B24 = solid"),
            ("B, 24", "\"B, 24\""),
        ] {
            let table = csv([Named { name, hang_rad: -0.25 }]).unwrap();
            assert_eq!(table.lines().nth(1).unwrap(), format!("{written},-0.25"), "{name}");
        }
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
