//! The rows of an answer.

use crate::support::spareframe;
use serde_json::Value;

/// The rows of an answer in JSON.
pub fn rows(args: &[&str]) -> Vec<Value> {
    let mut all = vec!["probe"];
    all.extend(args);
    all.extend(["--format", "json", "-q"]);
    spareframe(&all).json()["rows"].as_array().unwrap().clone()
}

pub fn names(rows: &[Value]) -> Vec<&str> {
    rows.iter()
        .map(|row| row["name"].as_str().unwrap())
        .collect()
}
