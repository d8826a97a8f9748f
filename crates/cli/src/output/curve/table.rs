//! The curve for a terminal: the answer, then a table with a bar for each row.

use super::super::page::{HEAD, Page, TITLE};
use super::super::table::TableOptions;
use super::super::words::clean;
use super::chart::{Chart, FEWEST};
use super::report::{CountedIn, CurveReport};
use super::rows::{Row, rows};
use super::words;
use unicode_width::UnicodeWidthStr;

/// Between two columns.
const GAP: &str = "  ";

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
    page.end(&report.mind, &report.estimate_assumptions, options.verbose)
}

fn chart(page: &mut Page<()>, report: &CurveReport) {
    page.line("");
    let rows = rows(report);
    let kinds = kinds(report);
    let layout = Layout::fitting(report, &rows, kinds.len() > 1, page.width);
    match (kinds.len(), layout.parts.by_kind) {
        (0 | 1, _) => {}
        (_, true) => page.item("", &format!("By kind: {}.", kinds.join(" + "))),
        (_, false) => page.item("", "By kind: in a wider table, or with --format csv."),
    }
    let chart = Chart::new(report, layout.room);
    page.styled(&layout.line(&layout.header(report)), HEAD);
    for row in &rows {
        let cells = layout.line(&layout.cells(report, row));
        let bar = chart.bar(row.point);
        page.line(&format!("{cells}{bar} {}", row.mark(layout.parts.short)));
    }
    let joined = rows.iter().any(Row::is_joined);
    let bars = layout.room >= FEWEST;
    for line in words::legend(report, joined, bars, layout.parts.short) {
        page.item("", &line);
    }
}

fn kinds(report: &CurveReport) -> Vec<String> {
    let kinds = report.points.first().map_or(&[][..], |point| &point.kinds);
    kinds.iter().map(|kind| clean(&kind.box_kind)).collect()
}

/// What a layout shows.
#[derive(Clone, Copy)]
struct Parts {
    by_kind: bool,
    /// Marks are single characters.
    short: bool,
    /// A column of honey; the bars show it, too.
    honey: bool,
}

/// For the narrowest page.
const BRIEFEST: Parts = Parts {
    by_kind: false,
    short: true,
    honey: false,
};

/// Which columns there are, and how wide.
struct Layout {
    parts: Parts,
    widths: Vec<usize>,
    /// Columns for the bars.
    room: usize,
}

impl Layout {
    /// The fullest layout that leaves room for bars, or else the briefest.
    fn fitting(report: &CurveReport, rows: &[Row], several: bool, width: usize) -> Self {
        let honey = words::estimated(report);
        let fuller = [(true, false), (true, true), (false, false), (false, true)];
        let fuller = fuller.into_iter().map(|(by_kind, short)| Parts {
            by_kind,
            short,
            honey,
        });
        let mut layouts = fuller
            .filter(|parts| several || !parts.by_kind)
            .map(|parts| Self::of(report, rows, parts, width));
        layouts
            .find(|layout| layout.room >= FEWEST)
            .unwrap_or_else(|| Self::of(report, rows, BRIEFEST, width))
    }

    fn of(report: &CurveReport, rows: &[Row], parts: Parts, width: usize) -> Self {
        let mut layout = Self {
            parts,
            widths: Vec::new(),
            room: 0,
        };
        let mut lines = vec![layout.header(report)];
        lines.extend(rows.iter().map(|row| layout.cells(report, row)));
        let widest = |column: usize| lines.iter().map(|line| line[column].width()).max();
        layout.widths = (0..lines[0].len()).filter_map(widest).collect();
        let marks = rows.iter().map(|row| row.mark(parts.short).width()).max();
        let used: usize = layout.widths.iter().map(|width| width + GAP.len()).sum();
        layout.room = width.saturating_sub(used + marks.unwrap_or(0) + 1);
        layout
    }

    fn header(&self, report: &CurveReport) -> Vec<String> {
        let amount = match report.counted_in {
            CountedIn::Compartments => "Stocked",
            CountedIn::Worth => "Worth",
        };
        let by_kind = self.parts.by_kind.then_some("By kind");
        let header = [amount].into_iter().chain(by_kind);
        let honey = self.parts.honey.then_some("Honey kg");
        let header = header.chain(["Cost kg"]).chain(honey).chain(["kg each"]);
        header.map(str::to_owned).collect()
    }

    fn cells(&self, report: &CurveReport, row: &Row) -> Vec<String> {
        let by_kind = self.parts.by_kind.then(|| row.kinds());
        let cells = [row.amount(report)].into_iter().chain(by_kind);
        cells.chain(row.figures(self.parts.honey)).collect()
    }

    /// Cells to the right of their columns.
    fn line(&self, cells: &[String]) -> String {
        let mut line = String::new();
        for (cell, width) in cells.iter().zip(&self.widths) {
            line += &" ".repeat(width.saturating_sub(cell.width()));
            line += cell;
            line += GAP;
        }
        line
    }
}
