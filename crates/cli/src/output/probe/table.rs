//! The alternatives for a terminal: a table of figures, then what changes in the colonies.

use super::super::page::{HEAD, Page, TITLE};
use super::super::table::TableOptions;
use super::super::words::clean;
use super::report::{ProbeReport, Row};
use super::words;

/// Fewer columns than this show each alternative in lines of its own (a choice: below it, the
/// table breaks in the middle of words).
const NARROW: usize = 64;

/// The alternatives as a terminal table. Headings carry ANSI styles; print it through a stream
/// that strips them where they are not wanted.
#[must_use]
pub fn table(report: &ProbeReport, options: TableOptions) -> String {
    let mut page = Page::new(options.width, ());
    page.head(&words::heading(report), TITLE);
    page.line("");
    for sentence in words::sentences(report) {
        page.item("", &sentence);
    }
    page.line("");
    if page.width < NARROW {
        lines(&mut page, report);
    } else {
        figures(&mut page, report);
    }
    changes(&mut page, report);
    let mut cautions = report.mind.clone();
    cautions.push(words::WHOLE_PLAN.to_owned());
    page.end(&cautions, &report.estimate_assumptions, options.verbose)
}

fn figures(page: &mut Page<()>, report: &ProbeReport) {
    let worth = words::worth_matters(report);
    let Some(today) = report.rows.first() else {
        return;
    };
    let row = |row: &Row| {
        let mut cells = vec![
            row.number.to_string(),
            named(&row.name, page.width.saturating_sub(FIGURES)),
            words::compartments(row, today).join("\n"),
        ];
        if worth {
            cells.push(words::worth(row));
        }
        cells.extend([words::honey(row), words::price(row)]);
        cells
    };
    let mut header = vec!["No", "Alternative", "Compartments"];
    if worth {
        header.push("Worth");
    }
    header.extend(["Honey given up\n(estimate)", "Cost\n(in honey)"]);
    page.table(&header, report.rows.iter().map(row).collect());
}

/// Columns that all but the names take (measured on figures of usual length), and the narrowest and
/// widest column of names (a choice).
const FIGURES: usize = 62;
const NAMES: std::ops::RangeInclusive<usize> = 18..=44;

/// A name over as many lines as it needs, each of about so many columns, broken behind blanks and behind points of paths.
pub(in crate::output) fn named(name: &str, width: usize) -> String {
    fn parts(line: &str) -> Box<dyn Iterator<Item = textwrap::core::Word<'_>> + '_> {
        let parts = line.split_inclusive([' ', '.']);
        Box::new(parts.map(textwrap::core::Word::from))
    }
    let options = textwrap::Options::new(width.clamp(*NAMES.start(), *NAMES.end()))
        .word_separator(textwrap::WordSeparator::Custom(parts));
    textwrap::wrap(&clean(name), options).join("\n")
}

/// The same figures, each on a line.
fn lines(page: &mut Page<()>, report: &ProbeReport) {
    let worth = words::worth_matters(report);
    let Some(today) = report.rows.first() else {
        return;
    };
    for row in &report.rows {
        let lead = format!("{}  ", row.number);
        let indent = " ".repeat(lead.len());
        page.item(&lead, &clean(&row.name));
        let mut line = |what: &str, text: &str| {
            if !text.is_empty() {
                page.item(&format!("{indent}{what} "), text);
            }
        };
        line("compartments", &words::compartments(row, today).join(", "));
        if worth {
            line("worth", &words::worth(row));
        }
        line("honey given up (estimate)", &words::honey(row));
        line("cost (in honey)", &words::price(row));
    }
}

fn changes(page: &mut Page<()>, report: &ProbeReport) {
    let noted = words::noted(report);
    if noted.is_empty() {
        return;
    }
    page.head("What changes at the colonies", HEAD);
    for (name, notes) in noted {
        page.item("", &name);
        for note in notes {
            page.item("   - ", &note);
        }
    }
}
