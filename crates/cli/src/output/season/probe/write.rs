//! Alternatives of a season for a terminal, and as Markdown.

use super::super::words as season;
use super::record::{ProbeSeason, SeasonRow};
use super::words;
use crate::output::TableOptions;
use crate::output::markdown::{head, list, row, text};
use crate::output::page::{HEAD, Page, TITLE};
use crate::output::probe::named;
use crate::output::words::clean;
use std::fmt::Write;
use unicode_width::UnicodeWidthStr;

const OTHERWISE: &str = "What changes (outlook)";

fn title(report: &ProbeSeason) -> String {
    season::titled(
        "What if, over the season",
        report.title.as_ref(),
        &report.day,
    )
}

/// Alternatives for a terminal; where the table is too wide, each has lines of its own.
#[must_use]
pub fn table(report: &ProbeSeason, options: TableOptions) -> String {
    let mut page = Page::new(options.width, ());
    page.head(&title(report), TITLE);
    page.line("");
    for sentence in words::sentences(report) {
        page.item("", &sentence);
    }
    page.line("");
    let whole = words::columns(report);
    let cells = |row: &SeasonRow, name: &dyn Fn(&str) -> String| -> Vec<String> {
        let named = [row.number.to_string(), name(&row.name)].into_iter();
        named.chain(words::figures(report, row)).collect()
    };
    let without = report.rows.iter();
    let without = without.map(|row| cells(row, &|_| String::new()));
    let without: Vec<Vec<String>> = without.collect();
    let room = |columns: &[String]| page.width.saturating_sub(wide(columns, &without));
    let narrow = season::narrow(&whole);
    let columns = match room(&whole) >= LEAST_NAME || room(&narrow) < LEAST_NAME {
        true => whole,
        false => narrow,
    };
    let room = room(&columns);
    let columns: Vec<&str> = columns.iter().map(String::as_str).collect();
    let named = |name: &str| match room >= LEAST_NAME {
        true => named(name, room),
        false => clean(name),
    };
    let rows: Vec<Vec<String>> = report.rows.iter().map(|row| cells(row, &named)).collect();
    match room >= LEAST_NAME {
        true => page.table(&columns, rows),
        false => lines(&mut page, &columns, &rows),
    }
    page.item("", &words::legend(report));
    page.head(OTHERWISE, HEAD);
    for row in report.rows.iter().skip(1) {
        page.item("", &format!("{}  {}", row.number, clean(&row.name)));
        for note in words::notes(report, row) {
            page.item("   - ", &note);
        }
    }
    let mut cautions = report.mind.clone();
    cautions.push(words::WHOLE.to_owned());
    page.end(&cautions, &report.estimate_assumptions, options.verbose)
}

/// Fewest columns for names of alternatives in a table (a choice).
const LEAST_NAME: usize = 18;

/// Columns that a table takes beside what stands in its second.
fn wide(columns: &[String], rows: &[Vec<String>]) -> usize {
    let all = columns.iter().enumerate().filter(|(at, _)| *at != 1);
    let of = all.map(|(at, head)| {
        let cells = rows.iter().filter_map(|row| row.get(at));
        cells
            .map(|cell| cell.width())
            .fold(head.width(), usize::max)
            + 2
    });
    of.sum::<usize>() + 2
}

/// The same figures, in lines under the name of each.
fn lines(page: &mut Page<()>, columns: &[&str], rows: &[Vec<String>]) {
    for cells in rows {
        let [number, name, figures @ ..] = &cells[..] else {
            continue;
        };
        page.item(&format!("{number}  "), name);
        let heads = columns.iter().skip(2).zip(figures);
        let all = heads.filter(|(_, figure)| !figure.is_empty());
        let all: Vec<String> = all
            .map(|(head, figure)| match head.strip_suffix(" kg") {
                Some(head) => format!("{} {figure} kg", head.to_lowercase()),
                None => format!("{} {figure}", head.to_lowercase()),
            })
            .collect();
        page.item("   ", &all.join("; "));
    }
}

/// Alternatives as Markdown.
#[must_use]
pub fn markdown(report: &ProbeSeason) -> String {
    let mut out = format!("# {}\n\n", text(&title(report)));
    for sentence in words::sentences(report) {
        let _ = writeln!(out, "{}\n", text(&sentence));
    }
    let columns = words::columns(report);
    let columns: Vec<&str> = columns.iter().map(String::as_str).collect();
    head(&mut out, "Alternatives (outlook)", &columns);
    for of in &report.rows {
        let named = [of.number.to_string(), text(&of.name)].into_iter();
        let cells: Vec<String> = named.chain(words::figures(report, of)).collect();
        row(&mut out, &cells);
    }
    let _ = writeln!(out, "\n{}\n", text(&words::legend(report)));
    let rows = report.rows.iter().skip(1);
    let notes = rows.map(|row| {
        let notes = words::notes(report, row).join("; ");
        format!("{}: {}", text(&row.name), text(&notes))
    });
    list(&mut out, OTHERWISE, &notes.collect::<Vec<_>>());
    let all = |lines: &[String]| -> Vec<String> { lines.iter().map(|line| text(line)).collect() };
    let mut cautions = all(&report.mind);
    cautions.push(text(words::WHOLE));
    list(&mut out, "Cautions", &cautions);
    let assumed = all(&report.estimate_assumptions);
    list(&mut out, "About the honey estimate", &assumed);
    out.truncate(out.trim_end().len());
    out + "\n"
}
