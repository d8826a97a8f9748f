//! The curve for a terminal: the answer, then a table with a bar for each row.

use super::super::page::{CARE, HEAD, Page, TITLE};
use super::super::table::TableOptions;
use super::super::words::clean;
use super::chart::Chart;
use super::report::{CountedIn, CurveReport};
use super::rows::{Row, rows};
use super::words;
use unicode_width::UnicodeWidthStr;

/// The curve as a terminal table. Headings carry ANSI styles; print it through a stream that
/// strips them where they are not wanted.
#[must_use]
pub fn table(report: &CurveReport, options: TableOptions) -> String {
    let mut page = Page::new(options.width, ());
    page.head(&words::heading(report), TITLE);
    page.line("");
    let mut sentences = words::sentences(report).into_iter();
    if let Some(answer) = sentences.next() {
        page.styled(&answer, TITLE);
    }
    for sentence in sentences {
        page.item("", &sentence);
    }
    if report.points.len() > 1 {
        chart(&mut page, report);
    }
    page.head("Mind", CARE);
    for caution in &report.mind {
        page.item("- ", caution);
    }
    if options.verbose {
        page.head("About the honey estimate", HEAD);
        for line in &report.estimate_assumptions {
            page.item("- ", line);
        }
    }
    page.out
}

fn chart(page: &mut Page<()>, report: &CurveReport) {
    page.line("");
    let several = report.points.iter().any(|point| point.kinds.len() > 1);
    if several {
        let kinds = report.points.first().map_or(&[][..], |point| &point.kinds);
        let names: Vec<_> = kinds.iter().map(|kind| clean(&kind.box_kind)).collect();
        page.item("", &format!("By kind: {}.", names.join(" + ")));
    }
    let rows = rows(report);
    let mut table: Vec<Vec<String>> = vec![header(report, several)];
    table.extend(rows.iter().map(|row| cells(report, row, several)));
    let columns = table[0].len();
    let widths: Vec<usize> = (0..columns)
        .map(|column| {
            table
                .iter()
                .map(|row| row[column].width())
                .max()
                .unwrap_or(0)
        })
        .collect();
    let marks = rows.iter().map(|row| row.mark().width()).max().unwrap_or(0);
    let used: usize = widths.iter().map(|width| width + 2).sum();
    let room = page.width.saturating_sub(used + marks + 1);
    let chart = Chart::new(report, room);
    for (number, cells) in table.iter().enumerate() {
        let mut line = String::new();
        for (cell, width) in cells.iter().zip(&widths) {
            line += &" ".repeat(width.saturating_sub(cell.width()));
            line += cell;
            line += "  ";
        }
        match number.checked_sub(1).and_then(|index| rows.get(index)) {
            None => page.styled(line.trim_end(), HEAD),
            Some(row) => {
                line += &chart.bar(row.point);
                line += " ";
                line += row.mark();
                page.line(&line);
            }
        }
    }
    for line in words::legend(report, rows.iter().any(Row::is_joined)) {
        page.item("", &line);
    }
}

fn header(report: &CurveReport, several: bool) -> Vec<String> {
    let amount = match report.counted_in {
        CountedIn::Compartments => "Stocked",
        CountedIn::Worth => "Worth",
    };
    let mut header = vec![amount.to_owned()];
    if several {
        header.push("By kind".to_owned());
    }
    header.extend(["Honey kg", "Step kg"].map(str::to_owned));
    header
}

fn cells(report: &CurveReport, row: &Row, several: bool) -> Vec<String> {
    let mut cells = vec![row.amount(report)];
    if several {
        cells.push(row.kinds());
    }
    cells.extend(row.figures());
    cells
}
