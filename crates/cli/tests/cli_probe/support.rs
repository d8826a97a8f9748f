//! Scenarios, and the rows of an answer.

use crate::cli_support::spareframe;
use serde_json::Value;
use std::path::Path;

pub fn file(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    let path = folder.join(format!("{name}.yaml"));
    path.to_str().unwrap().to_owned()
}

pub fn text(name: &str) -> String {
    std::fs::read_to_string(file(name)).unwrap()
}

/// The rows of an answer in JSON.
pub fn rows(args: &[&str]) -> Vec<Value> {
    let mut all = vec!["probe"];
    all.extend(args);
    all.extend(["--format", "json", "-q"]);
    let text = spareframe(&all).stdout("{...").check();
    let report: Value = serde_json::from_str(&text).unwrap();
    report["rows"].as_array().unwrap().clone()
}

pub fn names(rows: &[Value]) -> Vec<&str> {
    rows.iter()
        .map(|row| row["name"].as_str().unwrap())
        .collect()
}
