//! A yard to put tables into, and what comes of it.
#![allow(dead_code, reason = "each test file takes what it needs")]

use spareframe::inspect::{By, Inspected, inspect};
use spareframe::scenario::{Finding, Severity};

pub const YARD: &str = "\
# Colonies in May
spareframe: 2
day: 2031-05-20
sites: {home: {at: [48.1, 11.5]}, far: {at: [48.2, 11.5]}}
colonies:
  # by the gate
  Ash:                      # strong
    site: home
    role: nucleus
    frames:                 # seen on 12 May
      - {count: 6, brood: 65 %, sealed: 60 %, stores: 15 %}   # upper box
      - count: 1            # hers
        brood: 60 %
        queen: yes
      - {count: 3, stores: 80 %}
    extra bees: 3_500
  \"2\": {site: home, role: nucleus, brood: 4 combs, stores: 2, bees: 9 frames}
  Elm:
    site: far
    role: nucleus
    brood: 5 combs          # of the record card
    stores: 2 frames

recipes: {r: {lines: [{brood: 30 %}], bees: 700}}
boxes: {b: {count: 2, site: far, recipe: r}}
";

pub fn put(table: &str, scenario: &str, by: Option<By>, recount: bool) -> Inspected {
    inspect(
        ("t.csv", table.as_bytes()),
        ("s.yaml", scenario.as_bytes()),
        by,
        recount,
    )
}

/// The new text; the table must be right, but for brood of which it does not say how it was counted.
pub fn into(table: &str, scenario: &str) -> String {
    let found = put(table, scenario, None, false);
    let unsaid = |f: &&Finding| f.code == "two-meanings" && f.severity == Severity::Warning;
    let wrong: Vec<&Finding> = found.findings.iter().filter(|f| !unsaid(f)).collect();
    assert!(wrong.is_empty(), "{table}: {wrong:?}");
    found.text.unwrap()
}

/// Lines that are otherwise, old and new.
pub fn otherwise(old: &str, new: &str) -> Vec<String> {
    let lines = similar(old, new);
    lines
        .into_iter()
        .filter(|line| !line.starts_with(' '))
        .collect()
}

pub fn similar(old: &str, new: &str) -> Vec<String> {
    let difference = similar::TextDiff::from_lines(old, new);
    let changes = difference.iter_all_changes();
    changes
        .map(|c| format!("{}{}", c.tag(), c.value().trim_end()))
        .collect()
}

pub fn errors(table: &str) -> Vec<String> {
    let found = put(table, YARD, None, false);
    assert_eq!(found.text, None, "{table}");
    let all = found.findings.iter();
    let all = all.filter(|f| f.severity == Severity::Error);
    all.map(|f| {
        format!(
            "{}:{} {}: {} -> {}",
            f.line, f.column, f.code, f.found, f.way_out
        )
    })
    .collect()
}
