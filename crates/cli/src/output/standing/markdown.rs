//! What stands, as Markdown, to print or to keep.

use super::super::markdown::{head, list, row, text};
use super::record::StandingReport;
use super::words;
use std::fmt::Write;

/// What stands, as Markdown.
#[must_use]
pub fn markdown(report: &StandingReport) -> String {
    let mut out = format!("# {}\n\n", text(&words::heading(report)));
    for sentence in words::sentences(report) {
        let _ = writeln!(out, "{}\n", text(&sentence));
    }
    let mut tasks: Vec<String> = words::tasks(report)
        .into_iter()
        .map(|(what, names)| format!("{}: {}", text(&what), text(&names)))
        .collect();
    let bees = words::bees(report).map(|bees| format!("Short of bees, give some: {}", text(&bees)));
    tasks.extend(bees);
    list(&mut out, "What to do", &tasks);
    let queens: Vec<_> = words::queens(report).iter().map(|l| text(l)).collect();
    list(&mut out, "Queens", &queens);
    if !report.compartments.is_empty() {
        head(&mut out, "How they are", &words::COLUMNS);
        for compartment in &report.compartments {
            row(&mut out, &words::cells(compartment).map(|cell| text(&cell)));
        }
        out.push('\n');
        let mind: Vec<_> = report.mind.iter().map(|line| text(line)).collect();
        list(&mut out, "Cautions", &mind);
    }
    out.truncate(out.trim_end().len());
    out + "\n"
}
