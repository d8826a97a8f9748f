//! JSON and YAML, the schema of both, and the text of a table.

use super::Report;
use serde::Serialize;

/// A report as JSON, indented, with a newline at the end.
///
/// # Errors
/// If the writer of the format refuses; a bug if it ever happens.
pub fn json(report: &impl Serialize) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(report).map(|text| text + "\n")
}

/// A report as YAML.
///
/// # Errors
/// If the writer of the format refuses; a bug if it ever happens.
pub fn yaml(report: &impl Serialize) -> Result<String, serde_yaml::SerializeError> {
    let text = serde_yaml::to_string(report)?;
    Ok(if text.ends_with('\n') {
        text
    } else {
        text + "\n"
    })
}

/// What was written as comma-separated values.
pub(super) fn table_text(writer: csv::Writer<Vec<u8>>) -> Result<String, csv::Error> {
    let bytes = writer.into_inner();
    let bytes = bytes.map_err(|error| csv::Error::from(error.into_error()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// JSON schema of a plan, for JSON and YAML alike.
#[must_use]
pub fn plan_schema() -> serde_json::Value {
    schemars::schema_for!(Report).to_value()
}
