//! The curve as Markdown, to print or to keep.

use super::super::markdown::{head, list, row, text};
use super::report::{CountedIn, CurveReport};
use super::rows::{Row, rows};
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
    list(&mut out, "Mind", &mind);
    let assumed = report.estimate_assumptions.iter();
    let assumed: Vec<_> = assumed.map(|line| text(line)).collect();
    list(&mut out, "About the honey estimate", &assumed);
    out.truncate(out.trim_end().len());
    out + "\n"
}

fn points(out: &mut String, report: &CurveReport) {
    let kinds = report.points.first().map_or(&[][..], |point| &point.kinds);
    let several = kinds.len() > 1;
    let names: Vec<_> = kinds.iter().map(|kind| text(&kind.box_kind)).collect();
    let by_kind = names.join(" + ");
    let price = format!("Price of the step, kg for each {}", words::unit(report));
    let mut columns = vec![match report.counted_in {
        CountedIn::Compartments => "Compartments",
        CountedIn::Worth => "Worth",
    }];
    if several {
        columns.push(&by_kind);
    }
    columns.extend(["Honey given up (estimate), kg", &price, "Mind"]);
    let rows = rows(report);
    head(out, "Every step", &columns);
    for point in &rows {
        let mut cells = vec![point.amount(report)];
        if several {
            cells.push(point.kinds());
        }
        cells.extend(point.figures().map(|figure| text(&figure)));
        cells.push(point.mark(false).to_owned());
        row(out, &cells);
    }
    out.push('\n');
    if rows.iter().any(Row::is_joined) {
        let _ = writeln!(out, "{}\n", words::JOINED);
    }
}
