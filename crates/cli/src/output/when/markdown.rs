//! The days as Markdown, to print or to keep.

use super::super::markdown::{head, list, row, text};
use super::report::WhenReport;
use super::words;
use std::fmt::Write;

/// The days as Markdown.
#[must_use]
pub fn markdown(report: &WhenReport) -> String {
    let mut out = format!("# {}\n\n", text(&words::heading(report)));
    for sentence in words::sentences(report) {
        let _ = writeln!(out, "{}\n", text(&sentence));
    }
    head(&mut out, "Days", &words::COLUMNS);
    for day in &report.days {
        row(&mut out, &words::cells_of(day));
    }
    out.push('\n');
    for line in words::legend(report) {
        let _ = writeln!(out, "{}\n", text(&line));
    }
    let held = words::held_back(report).into_iter();
    let held: Vec<String> = held
        .map(|(days, limits)| format!("{}: {}", text(&days), text(&limits)))
        .collect();
    list(&mut out, "What holds back", &held);
    let all = |lines: &[String]| -> Vec<String> { lines.iter().map(|line| text(line)).collect() };
    list(&mut out, "Combs to raise", &all(&words::raised(report)));
    list(&mut out, "Cautions", &all(&report.mind));
    list(
        &mut out,
        "About the honey estimate",
        &all(&report.estimate_assumptions),
    );
    out.truncate(out.trim_end().len());
    out + "\n"
}
