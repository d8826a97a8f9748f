//! The calendar for a terminal.

use super::super::counted;
use super::super::page::{CARE, HEAD, Page, TITLE};
use super::super::queens;
use super::super::table::TableOptions;
use super::record::{Calendar, Entry};
use super::words;

/// The calendar as a terminal table. Headings carry ANSI styles; print it through a stream that
/// strips them where they are not wanted.
#[must_use]
pub fn table(calendar: &Calendar, options: TableOptions) -> String {
    let mut page = Page::new(options.width, ());
    page.head(&words::heading(calendar), TITLE);
    page.line("");
    page.styled(&words::expected(&calendar.expected_queens), TITLE);
    page.item("", &calendar.expected_queens.basis);
    if let Some(accepted) = queens::estimate(&calendar.accepted) {
        page.item("", &accepted);
    }
    if let Some(sentence) = counted::sentence(calendar.counted_on.as_ref()) {
        page.item("", &sentence);
    }
    if !calendar.conflicts.is_empty() {
        page.head("What does not go together", CARE);
        for conflict in &calendar.conflicts {
            page.item("- ", &conflict.text);
        }
    }
    page.head("Days", HEAD);
    for entry in &calendar.entries {
        step(&mut page, entry, options.verbose);
    }
    if !calendar.feed.compartments.is_empty() {
        page.head(&words::feed_heading(calendar), HEAD);
        feed(&mut page, calendar);
    }
    list(
        &mut page,
        ("To buy or bring", HEAD),
        &words::shopping(calendar),
    );
    if options.verbose {
        page.head("Days counted with", HEAD);
        for used in &calendar.intervals {
            page.item("- ", &words::interval(used));
        }
        page.head("About the feed", HEAD);
        for line in &calendar.feed.assumptions {
            page.item("- ", line);
        }
    }
    list(&mut page, ("Cautions", CARE), &calendar.mind);
    page.out
}

/// Narrowest page for the feed as a table (a choice: below, words break).
const NARROW: usize = 64;

fn feed(page: &mut Page<()>, calendar: &Calendar) {
    let rows = calendar.feed.compartments.iter().map(words::feed_of);
    if page.width >= NARROW {
        page.table(&words::FEED, rows.map(Vec::from).collect());
        return;
    }
    for [name, used, stores, sugar, water, syrup] in rows {
        let feed = match water.is_empty() {
            true => sugar,
            false => format!("{sugar} in {water}, {syrup} of syrup"),
        };
        page.item(
            "- ",
            &format!("{name}: uses {used}, in stores {stores}, feed {feed}"),
        );
    }
}

fn list(page: &mut Page<()>, (title, style): (&str, anstyle::Style), lines: &[String]) {
    if !lines.is_empty() {
        page.head(title, style);
    }
    for line in lines {
        page.item("- ", line);
    }
}

fn step(page: &mut Page<()>, entry: &Entry, verbose: bool) {
    page.styled(
        &format!("{}: {}", words::days_of(entry), words::title(entry)),
        anstyle::Style::new().bold(),
    );
    if !entry.detail.is_empty() {
        page.item("  ", &entry.detail);
    }
    if verbose {
        page.item("  ", &format!("({})", entry.basis));
    }
}
