//! The days for a terminal: the answer, then a row with a bar for each day.

use super::super::calendar::words::written;
use super::super::page::{HEAD, Page, TITLE};
use super::super::table::TableOptions;
use super::report::{DayReport, WhenReport};
use super::words;
use unicode_width::UnicodeWidthStr;

/// Between two columns.
const GAP: &str = "  ";
/// Fewest columns that a bar is of use in, and widest bar (a choice).
const BAR: std::ops::RangeInclusive<usize> = 6..=30;

/// The days as a terminal table. Headings carry ANSI styles; print it through a stream that strips
/// them where they are not wanted.
#[must_use]
pub fn table(report: &WhenReport, options: TableOptions) -> String {
    let mut page = Page::new(options.width, ());
    page.head(&words::heading(report), TITLE);
    page.line("");
    for sentence in words::sentences(report) {
        page.item("", &sentence);
    }
    page.line("");
    days(&mut page, report);
    for line in words::legend(report) {
        page.item("", &line);
    }
    let held = words::held_back(report);
    if !held.is_empty() {
        page.head("What holds back", HEAD);
        for (days, limits) in held {
            page.item("- ", &format!("{days}: {limits}"));
        }
    }
    let raised = words::raised(report);
    if !raised.is_empty() {
        page.head("Combs to raise", HEAD);
        for line in raised {
            page.item("- ", &line);
        }
    }
    page.end(&report.mind, &report.estimate_assumptions, options.verbose)
}

type Column = (&'static str, fn(&DayReport) -> String);

/// The columns, of which a narrow page has the first ones.
const COLUMNS: [Column; 5] = [
    ("Day", |day| written(&day.day)),
    ("Stocked", words::stocked),
    ("Cells", words::cells),
    ("Honey kg", words::honey),
    ("Sugar kg", words::sugar),
];

fn days(page: &mut Page<()>, report: &WhenReport) {
    let dated = words::dated(report);
    let columns = COLUMNS
        .into_iter()
        .filter(|(name, _)| dated || *name != "Cells");
    let columns: Vec<Column> = columns.collect();
    let header = columns.iter().map(|(name, _)| (*name).to_owned());
    let mut lines: Vec<Vec<String>> = vec![header.collect()];
    let cells = |day| columns.iter().map(|(_, cell)| cell(day)).collect();
    lines.extend(report.days.iter().map(cells));
    let widest = |column: usize| {
        lines
            .iter()
            .map(|line| line[column].width())
            .max()
            .unwrap_or(0)
    };
    let mut widths: Vec<usize> = (0..columns.len()).map(widest).collect();
    let used = |widths: &[usize]| widths.iter().map(|width| width + GAP.len()).sum::<usize>();
    while widths.len() > 2 && used(&widths) > page.width {
        widths.pop();
    }
    let room = page.width.saturating_sub(used(&widths)).min(*BAR.end());
    let most = report
        .days
        .iter()
        .map(|day| day.compartments_in_all)
        .max()
        .unwrap_or(0);
    let bar = |day: &DayReport| {
        let share = |count: u64| usize::try_from(count * room as u64 / most.max(1)).unwrap_or(0);
        "#".repeat(share(day.compartments_stocked.into()))
    };
    for (at, line) in lines.iter().enumerate() {
        let mut out = String::new();
        for (cell, width) in line.iter().zip(&widths) {
            out += cell;
            out += &" ".repeat(width.saturating_sub(cell.width()));
            out += GAP;
        }
        let day = at.checked_sub(1).and_then(|at| report.days.get(at));
        if let Some(day) = day.filter(|_| room >= *BAR.start()) {
            out += &bar(day);
        }
        match at {
            0 => page.styled(out.trim_end(), HEAD),
            _ => page.line(out.trim_end()),
        }
    }
}
