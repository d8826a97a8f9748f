//! The reasons for a terminal, and as Markdown.

use super::record::WhyReport;
use super::sections::{Item, lead, sections};
use crate::output::TableOptions;
use crate::output::markdown::{list, text};
use crate::output::page::{HEAD, Page, TITLE};
use crate::output::words::clean;
use std::fmt::Write;

fn title(report: &WhyReport) -> String {
    let mut title = "What holds the plan back".to_owned();
    for part in [&report.title, &report.day].into_iter().flatten() {
        let _ = write!(title, ", {}", clean(part));
    }
    title
}

/// The reasons for a terminal. `verbose` shows every item, each offer as a setting, and what the honey
/// estimate assumes.
#[must_use]
pub fn table(report: &WhyReport, options: TableOptions) -> String {
    let mut page = Page::new(options.width, ());
    page.head(&title(report), TITLE);
    page.line("");
    for line in lead(report) {
        page.item("", &line);
    }
    for section in sections(report, options.verbose) {
        page.head(&section.title, HEAD);
        for item in section.items {
            page.item("- ", &item.text);
            // Not wrapped, so that they can be copied.
            for set in &item.sets {
                page.line(&format!("    --set {}", quoted(set)));
            }
        }
    }
    if options.verbose {
        page.head("About the honey estimate", HEAD);
        for line in &report.estimate_assumptions {
            page.item("- ", line);
        }
    }
    page.out
}

/// A setting as one word of a shell.
pub(in crate::output) fn quoted(set: &str) -> String {
    format!("'{}'", set.replace('\'', r"'\''"))
}

/// A setting in a code span that may hold backticks, after a comma.
pub(in crate::output) fn code(set: &str) -> String {
    let raw = format!("--set {}", quoted(set));
    let mut fence = "`".to_owned();
    while raw.contains(&fence) {
        fence.push('`');
    }
    format!(", {fence} {raw} {fence}")
}

/// The reasons as Markdown, every item.
#[must_use]
pub fn markdown(report: &WhyReport) -> String {
    let mut out = format!("# {}\n\n", text(&title(report)));
    for line in lead(report) {
        let _ = writeln!(out, "{}\n", text(&line));
    }
    for section in sections(report, true) {
        let item = |item: &Item| {
            let sets: String = item.sets.iter().map(|set| code(set)).collect();
            format!("{}{sets}", text(&item.text))
        };
        let items: Vec<String> = section.items.iter().map(item).collect();
        list(&mut out, &section.title, &items);
    }
    let assumptions = report.estimate_assumptions.iter();
    let assumptions: Vec<String> = assumptions.map(|line| text(line)).collect();
    list(&mut out, "About the honey estimate", &assumptions);
    while out.ends_with("\n\n") {
        out.pop();
    }
    out
}
