//! The plan for a terminal: the answer first, then colonies, compartments, loads, cautions.

use super::below;
use super::carry;
use super::figures;
use super::page::{CARE, HEAD, TITLE};
use super::queens;
use super::report::{ColonyReport, CompartmentReport, Report};
use super::stays::{self, Stays};
use super::words::{self, Words};
use super::{hands, headline, loads, next_cells};
use std::fmt::Write;
use unicode_width::UnicodeWidthStr;

type Page = super::page::Page<Words>;

/// How to lay out the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TableOptions {
    /// Columns to fill at most; kept between 40 and 120.
    pub width: usize,
    /// Adds what the honey estimate assumes.
    pub verbose: bool,
}

impl Default for TableOptions {
    fn default() -> Self {
        Self {
            width: 80,
            verbose: false,
        }
    }
}

/// The report as a terminal table. Headings carry ANSI styles; print it through a stream that
/// strips them where they are not wanted.
#[must_use]
pub fn table(report: &Report, options: TableOptions) -> String {
    let mut page = Page::new(options.width, Words::of(report));
    overview(&mut page, report, options.verbose);
    colonies(&mut page, report);
    on_hold(&mut page, report);
    compartments(&mut page, report);
    let queens = queens::lines(report);
    if !queens.is_empty() {
        page.head("Queens", HEAD);
    }
    for line in &queens {
        page.item("- ", line);
    }
    carry(&mut page, report);
    steps(&mut page, report);
    cautions(&mut page, report);
    if options.verbose {
        page.head("About the honey estimate", HEAD);
        for line in &report.estimate_assumptions {
            page.item("- ", line);
        }
    }
    page.out
}

fn overview(page: &mut Page, report: &Report, verbose: bool) {
    let h = &report.headline;
    let mut title = "Stocking plan".to_owned();
    for part in [&report.title, &report.day].into_iter().flatten() {
        let _ = write!(title, ", {}", words::clean(part));
    }
    page.head(&title, TITLE);
    page.line("");
    page.styled(&headline::answer(h), TITLE);
    for kind in page.words.kinds(h) {
        page.item("  ", &kind);
    }
    for sentence in headline::sentences(report) {
        page.item("", &sentence);
    }
    if let Some((lead, items)) = headline::held_back(report, verbose) {
        page.item("", &lead);
        for item in items {
            page.item("  - ", &item);
        }
    }
    if let Some(below) = below::sentence(report) {
        page.item("", &below);
    }
    if let Some(comb) = page.words.comb_sentence(report) {
        page.item("", &comb);
    }
}

fn colonies(page: &mut Page, report: &Report) {
    if report.colonies.is_empty() {
        return;
    }
    let stays = Stays::of(report);
    let mut header = [&["Colony"], &stays.header()[..]].concat();
    let row = |c: &ColonyReport| {
        let levels = stays.levels(c);
        std::iter::once(words::clean(&c.colony))
            .chain(levels)
            .collect()
    };
    let mut rows: Vec<Vec<String>> = report.colonies.iter().map(row).collect();
    // Frames come last; where there is no room for them, they stand with each colony.
    let apart = !page.fits(&header, &rows);
    if apart {
        header.pop();
        rows.iter_mut().for_each(|row| drop(row.pop()));
    }
    page.head("What to do at each colony, in this order", HEAD);
    for c in &report.colonies {
        donor(page, c, apart);
    }
    page.head(&stays.title(!apart), HEAD);
    page.table(&header, rows);
}

/// What to do at one colony; with its frames before and after, where the table has no room for them.
fn donor(page: &mut Page, c: &ColonyReport, frames: bool) {
    let (heading, gives) = (hands::heading(c), hands::gives(c));
    page.item("", &format!("{heading}: {gives}"));
    for hand in page.words.hands_in_short(c) {
        page.item("  - ", &hand.what);
        if let Some(to) = hand.to {
            page.item("      ", &to);
        }
    }
    if let Some(honey) = hands::honey(c) {
        page.item("  ", &format!("honey given up (estimate): {honey}"));
    }
    if frames {
        let hung = match c.gaps_filled_with.is_empty() {
            true => "",
            false => " hung in",
        };
        page.item("  ", &format!("frames: {}{hung}", stays::frames(c)));
    }
}

fn on_hold(page: &mut Page, report: &Report) {
    if report.on_hold.is_empty() {
        return;
    }
    page.head("On hold, left untouched", HEAD);
    for held in &report.on_hold {
        let (colony, reason) = (words::clean(&held.colony), words::clean(&held.reason));
        page.item("- ", &format!("{colony}: {reason}"));
    }
}

fn compartments(page: &mut Page, report: &Report) {
    filled(
        page,
        "What goes into each compartment",
        &report.compartments,
    );
    filled(page, "Begun and not stocked", &report.begun);
    let left = next_cells::peace(&page.words, report);
    if !left.is_empty() {
        page.head(next_cells::PEACE, HEAD);
        for one in left {
            page.item("- ", &one);
        }
    }
}

fn filled(page: &mut Page, title: &str, compartments: &[CompartmentReport]) {
    if compartments.is_empty() {
        return;
    }
    page.head(title, HEAD);
    let lines = compartments.iter().flat_map(|c| &c.frames);
    let longest = lines.map(|f| words::clean(&f.line).width()).max();
    let stands = compartments.iter().any(|c| c.stands.is_some());
    let least = if stands { "stands".len() } else { "bees".len() };
    let label = longest.unwrap_or(0).clamp(least, LABEL);
    let runs: Vec<_> = page.words.runs(compartments).collect();
    for run in runs {
        let (Some(heading), Some(c)) = (page.words.run_heading(run), run.first()) else {
            continue;
        };
        page.item("", &heading);
        for (what, text) in page.words.stands(c) {
            page.item(&lead("    ", what, label), &text);
        }
        for (frames, line, origin) in page.words.frames_of(c) {
            let lead = lead(&format!("{frames:>3} "), &line, label);
            page.item(&lead, &origin);
        }
        if !c.lacks_nothing() {
            page.item(&lead("    ", "bees", label), &page.words.bees_from(c));
        }
        feed(page, c, label);
    }
}

/// Widest column of recipe lines (a choice: it leaves room for the origin at 80 columns).
const LABEL: usize = 24;

fn lead(number: &str, name: &str, label: usize) -> String {
    let pad = " ".repeat(label.saturating_sub(name.width()));
    format!("{number}{name}{pad}  ")
}

/// Feed of several substitutes together; that of one stands beside it.
fn feed(page: &mut Page, c: &CompartmentReport, label: usize) {
    if c.frames.iter().filter(|f| f.feed_kg > 0.0).count() > 1 {
        let text = format!("{} in all (honey equivalent)", figures::weight(c.feed_kg));
        page.item(&lead("    ", "feed", label), &text);
    }
}

fn carry(page: &mut Page, report: &Report) {
    if report.carry.is_empty() {
        return;
    }
    page.head("What to carry", HEAD);
    let mut site = None;
    for load in &report.carry {
        if site != Some(&load.to_site) {
            page.item("", &format!("To {}", words::clean(&load.to_site)));
            site = Some(&load.to_site);
            for boxes in carry::boxes(report, &page.words, &load.to_site) {
                page.item("  - ", &boxes);
            }
            if let Some(cells) = loads::cells(load) {
                page.item("  - ", &cells);
            }
        }
        let (from, items) = (page.words.from(load), page.words.load(load));
        if !items.is_empty() {
            page.item("  ", &format!("{from}:"));
        }
        for item in items {
            page.item("  - ", &item);
        }
    }
}

fn steps(page: &mut Page, report: &Report) {
    if report.steps.is_empty() {
        return;
    }
    page.head("Order of work", HEAD);
    for (number, step) in (1..).zip(&report.steps) {
        page.item(&format!("{number}. "), step);
    }
}

fn cautions(page: &mut Page, report: &Report) {
    if report.cautions.is_empty() {
        return;
    }
    page.head("Cautions", CARE);
    for caution in &report.cautions {
        page.item("- ", &caution.text);
    }
}
