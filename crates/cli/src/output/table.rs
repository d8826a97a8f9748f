//! The plan for a terminal: the answer first, then colonies, compartments, loads, cautions.

use super::report::{CompartmentReport, Level, Report};
use super::words;
use anstyle::{AnsiColor, Style};
use comfy_table::presets::ASCII_NO_BORDERS;
use comfy_table::{ContentArrangement, Table};
use std::fmt::Write;

const TITLE: Style = Style::new().bold();
const HEAD: Style = AnsiColor::Cyan.on_default().bold();
const CARE: Style = AnsiColor::Yellow.on_default();

/// Narrowest and widest layout, in columns: below, tables fall apart; above, lines are hard
/// to follow (a choice).
const WIDTHS: std::ops::RangeInclusive<usize> = 40..=120;

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
    let width = options.width.clamp(*WIDTHS.start(), *WIDTHS.end());
    let mut page = Page {
        out: String::new(),
        width,
    };
    headline(&mut page, report);
    colonies(&mut page, report);
    on_hold(&mut page, report);
    compartments(&mut page, report);
    carry(&mut page, report);
    cautions(&mut page, report);
    if options.verbose {
        page.head("About the honey estimate", HEAD);
        for line in &report.estimate_assumptions {
            page.item("- ", line);
        }
    }
    page.out
}

struct Page {
    out: String,
    width: usize,
}

impl Page {
    fn line(&mut self, text: &str) {
        self.out.push_str(text.trim_end());
        self.out.push('\n');
    }

    fn head(&mut self, text: &str, style: Style) {
        if !self.out.is_empty() {
            self.out.push('\n');
        }
        for line in textwrap::wrap(text, self.width) {
            let _ = writeln!(self.out, "{style}{line}{style:#}");
        }
    }

    /// A wrapped paragraph whose first line starts with `lead` and the rest below its end.
    fn item(&mut self, lead: &str, text: &str) {
        let indent = " ".repeat(unicode_width::UnicodeWidthStr::width(lead));
        let options = textwrap::Options::new(self.width)
            .initial_indent(lead)
            .subsequent_indent(&indent);
        for line in textwrap::wrap(text, options) {
            self.line(&line);
        }
    }

    fn table(&mut self, header: &[&str], rows: Vec<Vec<String>>) {
        let mut table = Table::new();
        table
            .load_style(ASCII_NO_BORDERS)
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(u16::try_from(self.width).unwrap_or(80))
            .set_header(header.to_vec())
            .add_rows(rows);
        for line in table.lines() {
            self.line(&line);
        }
    }
}

fn headline(page: &mut Page, report: &Report) {
    let h = &report.headline;
    let mut title = "Stocking plan".to_owned();
    for part in [&report.title, &report.day].into_iter().flatten() {
        let _ = write!(title, ", {}", words::clean(part));
    }
    page.head(&title, TITLE);
    page.line("");
    let answer = words::answer(h);
    for line in textwrap::wrap(&answer, page.width) {
        let _ = writeln!(page.out, "{TITLE}{line}{TITLE:#}");
    }
    for kind in &h.kinds {
        let text = format!(
            "{}: {} of {} compartments, {} of {} boxes, at {}",
            words::clean(&kind.box_kind),
            kind.compartments_stocked,
            kind.compartments_in_all,
            kind.boxes_used,
            kind.boxes_in_all,
            words::clean(&kind.site)
        );
        page.item("  ", &text);
    }
    if let Some(proof) = &h.proof {
        page.item("", &words::proof(proof));
        page.item("", &words::honey(h));
        page.item("", &words::work(h));
    }
}

fn colonies(page: &mut Page, report: &Report) {
    if report.colonies.is_empty() {
        return;
    }
    page.head("What leaves each colony", HEAD);
    for c in &report.colonies {
        page.item(
            "",
            &format!(
                "Colony {} ({}, {})",
                words::clean(&c.colony),
                words::clean(&c.role),
                words::clean(&c.site)
            ),
        );
        for l in &c.leaving {
            let frames = words::counted(i64::from(l.frames), "frame", "frames");
            let text = format!(
                "{frames} {} of group {}: {}",
                words::clean(&l.each_holds.comb),
                l.frame_group,
                words::content(&l.each_holds)
            );
            page.item("  - ", &text);
        }
        page.item("  - ", &words::bees_of(c));
        if c.honey_given_up_charged_estimate_kg > 0.0 {
            let honey = c.honey_given_up_charged_estimate_kg;
            page.item("  - ", &format!("honey given up (estimate): {honey:.2} kg"));
        }
    }
    page.head(
        "What stays in each colony: before > after (must keep)",
        HEAD,
    );
    let rows = report
        .colonies
        .iter()
        .map(|c| {
            vec![
                words::clean(&c.colony),
                level(&c.brood_frames, 1),
                level(&c.bees, 0),
                level(&c.stores_kg, 1),
                level(&c.drawn_frames, 1),
            ]
        })
        .collect();
    page.table(
        &["Colony", "Brood frames", "Bees", "Stores kg", "Drawn combs"],
        rows,
    );
}

/// Figures after the draw are rounded down and floors up, so that rounding never makes a
/// tight plan look roomier than it is.
fn level(level: &Level, decimals: usize) -> String {
    if decimals == 0 {
        #[expect(clippy::cast_possible_truncation, reason = "a number of bees")]
        let whole = |v: f64| words::whole(v.round() as i64);
        return format!(
            "{} > {} ({})",
            whole(level.before),
            whole(level.after),
            whole(level.must_keep)
        );
    }
    let down = |v: f64| (v * 10.0 + 1e-6).floor() / 10.0;
    format!(
        "{:.decimals$} > {:.decimals$} ({:.decimals$})",
        down(level.before),
        down(level.after),
        down(level.must_keep)
    )
}

fn on_hold(page: &mut Page, report: &Report) {
    if report.on_hold.is_empty() {
        return;
    }
    page.head("On hold, left untouched", HEAD);
    for held in &report.on_hold {
        page.item(
            "- ",
            &format!(
                "{}: {}",
                words::clean(&held.colony),
                words::clean(&held.reason)
            ),
        );
    }
}

fn compartments(page: &mut Page, report: &Report) {
    if report.compartments.is_empty() {
        return;
    }
    page.head("What goes into each compartment", HEAD);
    for c in &report.compartments {
        let place = format!(
            "{}, box {}, compartment {}",
            words::clean(&c.box_kind),
            c.box_no,
            c.compartment
        );
        page.item("", &place);
        for frames in &c.frames {
            page.item("  - ", &words::placed(frames));
        }
        page.item("  - ", &bees_from(c));
        if c.feed_kg > 0.0 {
            page.item(
                "  - ",
                &format!("feed {:.2} kg honey equivalent", c.feed_kg),
            );
        }
    }
}

fn bees_from(c: &CompartmentReport) -> String {
    let from: Vec<_> = c
        .bees
        .iter()
        .map(|b| {
            format!(
                "{} from colony {}",
                words::counted(b.bees, "bee", "bees"),
                words::clean(&b.colony)
            )
        })
        .collect();
    let from = if from.is_empty() {
        "no bees".to_owned()
    } else {
        from.join(", ")
    };
    format!(
        "{from}; {} stay (need {})",
        words::whole(c.bees_staying),
        words::whole(c.bees_needed)
    )
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
        }
        let from = load
            .from_site
            .as_ref()
            .map_or("store room".to_owned(), |s| words::clean(s));
        page.item("  ", &format!("from {from}:"));
        for item in words::load(load) {
            page.item("    - ", &item);
        }
    }
}

fn cautions(page: &mut Page, report: &Report) {
    if report.cautions.is_empty() {
        return;
    }
    page.head("Mind", CARE);
    for caution in &report.cautions {
        page.item("- ", &caution.text);
    }
}
