//! What stands, for a terminal.

use super::super::page::{CARE, HEAD, Page, TITLE};
use super::super::table::TableOptions;
use super::record::StandingReport;
use super::words;

/// Fewer columns than this show each compartment in a line of its own (a choice: below it, words break).
const NARROW: usize = 64;

/// What stands as a terminal table. Headings carry ANSI styles; print it through a stream that strips them where they are
/// not wanted.
#[must_use]
pub fn table(report: &StandingReport, options: TableOptions) -> String {
    let mut page = Page::new(options.width, ());
    page.head(&words::heading(report), TITLE);
    page.line("");
    for sentence in words::sentences(report) {
        page.item("", &sentence);
    }
    if report.compartments.is_empty() {
        return page.out;
    }
    page.head("What to do", HEAD);
    for (what, names) in words::tasks(report) {
        page.item("- ", &format!("{what}:"));
        page.item("    ", &names);
    }
    if let Some(bees) = words::bees(report) {
        page.item("- ", "Short of bees, give some:");
        page.item("    ", &bees);
    }
    let queens = words::queens(report);
    if !queens.is_empty() {
        page.head("Queens", HEAD);
    }
    for line in &queens {
        page.item("- ", line);
    }
    page.head("How they are", HEAD);
    let rows = report.compartments.iter().map(words::cells);
    if page.width < NARROW {
        for [name, queen, seen, days, bees, brood] in rows {
            let text = format!(
                "{name}: {queen} ({seen}), day {days}, {bees} bees, {brood} frames of brood"
            );
            page.item("- ", &text);
        }
    } else {
        page.table(&words::COLUMNS, rows.map(Vec::from).collect());
    }
    page.head("Cautions", CARE);
    for caution in &report.mind {
        page.item("- ", caution);
    }
    page.out
}
