//! The curve as Markdown, to print or to keep.

use super::super::markdown::{head, list, row, text};
use super::report::CurveReport;
use super::rows::cells;
use super::words;
use std::fmt::Write;

/// The curve as Markdown, with every sentence and every row of the table, but no chart.
#[must_use]
pub fn markdown(report: &CurveReport) -> String {
    let mut out = format!("# {}\n\n", text(&words::heading(report)));
    let mut sentences = words::sentences(report).into_iter();
    if let Some(answer) = sentences.next() {
        let _ = writeln!(out, "**{}**\n", text(&answer));
    }
    for sentence in sentences {
        let _ = writeln!(out, "- {}", text(&sentence));
    }
    out.push('\n');
    if report.points.len() > 1 {
        points(&mut out, report);
    }
    let mind: Vec<_> = report.mind.iter().map(|line| text(line)).collect();
    list(&mut out, "Cautions", &mind);
    let assumed = report.estimate_assumptions.iter();
    let assumed: Vec<_> = assumed.map(|line| text(line)).collect();
    list(&mut out, "About the honey estimate", &assumed);
    out.truncate(out.trim_end().len());
    out + "\n"
}

fn points(out: &mut String, report: &CurveReport) {
    let cells = cells(report);
    let safe = |line: &[String]| line.iter().map(|cell| text(cell)).collect::<Vec<_>>();
    let columns = safe(&cells.columns);
    let columns: Vec<&str> = columns.iter().map(String::as_str).collect();
    head(out, "Every step", &columns);
    for line in &cells.rows {
        row(out, &safe(line));
    }
    out.push('\n');
    if let Some(joined) = cells.joined {
        let _ = writeln!(out, "{joined}\n");
    }
}
