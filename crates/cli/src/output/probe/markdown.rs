//! The alternatives as Markdown, to print or to keep.

use super::super::markdown::{head, list, row, text};
use super::report::ProbeReport;
use super::words;
use std::fmt::Write;

/// The alternatives as Markdown.
#[must_use]
pub fn markdown(report: &ProbeReport) -> String {
    let mut out = format!("# {}\n\n", text(&words::heading(report)));
    for sentence in words::sentences(report) {
        let _ = writeln!(out, "{}\n", text(&sentence));
    }
    figures(&mut out, report);
    let noted = words::noted(report).into_iter();
    let noted: Vec<String> = noted
        .map(|(name, notes)| format!("{}: {}", text(&name), text(&notes.join("; "))))
        .collect();
    list(&mut out, "What changes at the colonies", &noted);
    let mut mind: Vec<_> = report.mind.iter().map(|line| text(line)).collect();
    mind.push(text(words::WHOLE_PLAN));
    list(&mut out, "Cautions", &mind);
    let assumed = report.estimate_assumptions.iter();
    let assumed: Vec<_> = assumed.map(|line| text(line)).collect();
    list(&mut out, "About the honey estimate", &assumed);
    out.truncate(out.trim_end().len());
    out + "\n"
}

fn figures(out: &mut String, report: &ProbeReport) {
    let worth = words::worth_matters(report);
    let Some(today) = report.rows.first() else {
        return;
    };
    let mut columns = vec!["No", "Alternative", "Compartments"];
    if worth {
        columns.push("Worth");
    }
    columns.extend(["Honey given up (estimate)", "Cost (in honey)"]);
    head(out, "Alternatives", &columns);
    for alternative in &report.rows {
        let compartments = words::compartments(alternative, today);
        let compartments: Vec<_> = compartments.iter().map(|line| text(line)).collect();
        let mut cells = vec![
            alternative.number.to_string(),
            text(&alternative.name),
            compartments.join("<br>"),
        ];
        if worth {
            cells.push(words::worth(alternative));
        }
        cells.extend([words::honey(alternative), words::price(alternative)]);
        row(out, &cells);
    }
    out.push('\n');
}
