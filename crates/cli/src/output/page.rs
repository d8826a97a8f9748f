//! A page for the terminal: headings, wrapped paragraphs and tables of one width.

use anstyle::{AnsiColor, Style};
use comfy_table::presets::NOTHING;
use comfy_table::{ColumnConstraint, ContentArrangement, Table, Width};
use std::fmt::Write;
use unicode_width::UnicodeWidthStr;

pub(super) const TITLE: Style = Style::new().bold();
pub(super) const HEAD: Style = AnsiColor::Cyan.on_default().bold();
pub(super) const CARE: Style = AnsiColor::Yellow.on_default();

/// Narrowest and widest layout, in columns: below, tables fall apart; above, lines are hard
/// to follow (a choice).
const WIDTHS: std::ops::RangeInclusive<usize> = 40..=120;

/// Lines break between words, not at the hyphens of a date.
fn whole_words<'a>(width: usize) -> textwrap::Options<'a> {
    textwrap::Options::new(width).word_splitter(textwrap::WordSplitter::NoHyphenation)
}

/// A page, with the words that its writer needs.
pub(super) struct Page<W> {
    pub(super) out: String,
    pub(super) width: usize,
    pub(super) words: W,
}

impl<W> Page<W> {
    /// An empty page of so many columns, kept between 40 and 120.
    pub(super) fn new(width: usize, words: W) -> Self {
        Self {
            out: String::new(),
            width: width.clamp(*WIDTHS.start(), *WIDTHS.end()),
            words,
        }
    }

    pub(super) fn line(&mut self, text: &str) {
        self.out.push_str(text.trim_end());
        self.out.push('\n');
    }

    /// A heading, with an empty line before it where it is not the first.
    pub(super) fn head(&mut self, text: &str, style: Style) {
        if !self.out.is_empty() {
            self.out.push('\n');
        }
        self.styled(text, style);
    }

    /// A wrapped paragraph in one style.
    pub(super) fn styled(&mut self, text: &str, style: Style) {
        for line in textwrap::wrap(text, whole_words(self.width)) {
            let _ = writeln!(self.out, "{style}{line}{style:#}");
        }
    }

    /// A wrapped paragraph whose first line starts with `lead` and the rest below its end.
    pub(super) fn item(&mut self, lead: &str, text: &str) {
        let indent = " ".repeat(lead.width());
        let options = whole_words(self.width)
            .initial_indent(lead)
            .subsequent_indent(&indent);
        for line in textwrap::wrap(text, options) {
            self.line(&line);
        }
    }

    /// What figures end with: cautions, and in detail what the honey estimate assumes.
    pub(super) fn end(
        mut self,
        cautions: &[String],
        assumptions: &[String],
        detailed: bool,
    ) -> String {
        self.head("Cautions", CARE);
        for caution in cautions {
            self.item("- ", caution);
        }
        if detailed {
            self.head("About the honey estimate", HEAD);
            for line in assumptions {
                self.item("- ", line);
            }
        }
        self.out
    }

    /// Whether a table fits without a line broken.
    pub(super) fn fits(&self, header: &[&str], rows: &[Vec<String>]) -> bool {
        let column = |(place, head): (usize, &&str)| {
            let cells = rows.iter().filter_map(|row| row.get(place));
            let widest = cells
                .map(|cell| cell.width())
                .fold(head.width(), usize::max);
            widest.saturating_add(2)
        };
        let columns = header.iter().enumerate().map(column);
        columns.fold(0, usize::saturating_add) <= self.width
    }

    pub(super) fn table(&mut self, header: &[&str], rows: Vec<Vec<String>>) {
        let words = |cell: &str| cell.split_whitespace().map(|word| word.width()).max();
        let column = |(place, head): (usize, &&str)| {
            let cells = rows.iter().filter_map(|row| row.get(place));
            let widest = cells.filter_map(|cell| words(cell)).max().unwrap_or(0);
            widest.max(words(head).unwrap_or(0)).saturating_add(2)
        };
        let least: Vec<usize> = header.iter().enumerate().map(column).collect();
        if least
            .iter()
            .fold(0, |sum: usize, width| sum.saturating_add(*width))
            > self.width
        {
            // No word and no figure is broken: where there is no room, each cell has its own line.
            for row in rows {
                for (nth, (head, cell)) in header.iter().zip(row).enumerate() {
                    match nth {
                        0 => self.item("", &cell),
                        _ => self.item("  ", &format!("{head}: {cell}")),
                    }
                }
            }
            return;
        }
        let tight = !self.fits(header, &rows);
        let mut table = Table::new();
        table
            .load_style(NOTHING)
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(u16::try_from(self.width).unwrap_or(80))
            .set_header(header.to_vec())
            .add_rows(rows);
        if tight {
            let bound = |width: usize| {
                let width = u16::try_from(width).unwrap_or(u16::MAX);
                ColumnConstraint::LowerBoundary(Width::Fixed(width))
            };
            table.set_constraints(least.into_iter().map(bound));
        }
        for line in table.lines() {
            self.line(&line);
        }
    }
}
