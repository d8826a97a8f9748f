//! The plan as Markdown, to print or to keep.

use super::below;
use super::carry;
use super::figures;
use super::hands;
use super::headline;
use super::loads;
use super::next_cells;
use super::queens;
use super::report::{ColonyReport, CompartmentReport, Report};
use super::stays::Stays;
use super::words::{self, Words};
use itertools::Itertools;
use std::fmt::Write;

/// The report as Markdown.
#[must_use]
pub fn markdown(report: &Report) -> String {
    let mut out = String::from("# Stocking plan");
    for part in [&report.title, &report.day].into_iter().flatten() {
        let _ = write!(out, ", {}", text(part));
    }
    out.push_str("\n\n");
    let words = Words::of(report);
    overview(&mut out, report, &words);
    colonies(&mut out, report, &words);
    let held: Vec<_> = report
        .on_hold
        .iter()
        .map(|h| format!("{}: {}", text(&h.colony), text(&h.reason)))
        .collect();
    list(&mut out, "On hold, left untouched", &held);
    compartments(&mut out, report, &words);
    let queens: Vec<_> = queens::lines(report).iter().map(|l| text(l)).collect();
    list(&mut out, "Queens", &queens);
    carry(&mut out, report, &words);
    if !report.steps.is_empty() {
        out.push_str("## Order of work\n\n");
        for (number, step) in (1..).zip(&report.steps) {
            let _ = writeln!(out, "{number}. {}", text(step));
        }
        out.push('\n');
    }
    let cautions: Vec<_> = report.cautions.iter().map(|c| text(&c.text)).collect();
    list(&mut out, "Cautions", &cautions);
    let assumptions: Vec<_> = report
        .estimate_assumptions
        .iter()
        .map(|a| text(a))
        .collect();
    list(&mut out, "About the honey estimate", &assumptions);
    while out.ends_with("\n\n") {
        out.pop();
    }
    out
}

/// Text that Markdown leaves as it is.
pub(super) fn text(raw: &str) -> String {
    let mut out = String::new();
    for c in words::clean(raw).chars() {
        if matches!(
            c,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '|' | '#' | '&'
        ) {
            out.push('\\');
        }
        out.push(c);
    }
    out
}

/// A section with a bulleted list, where there is an item.
pub(super) fn list(out: &mut String, title: &str, items: &[String]) {
    if items.is_empty() {
        return;
    }
    let _ = writeln!(out, "## {title}\n");
    for item in items {
        let _ = writeln!(out, "- {item}");
    }
    out.push('\n');
}

/// A row of a table.
pub(super) fn row(out: &mut String, cells: &[String]) {
    let _ = writeln!(out, "| {} |", cells.join(" | "));
}

/// The heading and the first two lines of a table.
pub(super) fn head(out: &mut String, title: &str, columns: &[&str]) {
    let _ = writeln!(out, "## {title}\n\n| {} |", columns.join(" | "));
    let _ = writeln!(out, "|{}", " --- |".repeat(columns.len()));
}

fn overview(out: &mut String, report: &Report, words: &Words) {
    let h = &report.headline;
    let _ = writeln!(out, "**{}**\n", text(&headline::answer(h)));
    let mut lines = words.kinds(h);
    lines.extend(headline::sentences(report));
    lines.extend(words.comb_sentence(report));
    for line in lines {
        let _ = writeln!(out, "- {}", text(&line));
    }
    if let Some((lead, items)) = headline::held_back(report, true) {
        let lead = lead.replace('`', "");
        let _ = writeln!(out, "\n{}\n", text(&lead));
        for item in items {
            let _ = writeln!(out, "- {}", text(&item));
        }
    }
    if let Some(below) = below::sentence(report) {
        let _ = writeln!(out, "\n{}", text(&below));
    }
    out.push('\n');
}

fn colonies(out: &mut String, report: &Report, words: &Words) {
    if report.colonies.is_empty() {
        return;
    }
    let columns = ["Colony", "In this order", "Honey given up (estimate)"];
    head(out, "What to do at each colony", &columns);
    for c in &report.colonies {
        row(out, &donor(c, words));
    }
    out.push('\n');
    let stays = Stays::of(report);
    let columns = [&["Colony"], &stays.header()[..]].concat();
    head(out, &stays.title(true), &columns);
    for c in &report.colonies {
        let mut cells = vec![text(&c.colony)];
        cells.extend(stays.levels(c));
        row(out, &cells);
    }
    out.push('\n');
}

fn donor(c: &ColonyReport, words: &Words) -> [String; 3] {
    let all = words.hands_in_short(c);
    let lines: Vec<String> = all.iter().map(|hand| text(&hand.line())).collect();
    let (heading, gives) = (hands::heading(c), hands::gives(c));
    [
        text(&format!("{heading}: {gives}")),
        lines.join("<br>"),
        hands::honey(c).unwrap_or_else(|| "not estimated".to_owned()),
    ]
}

fn compartments(out: &mut String, report: &Report, words: &Words) {
    let columns = ["Compartment", "Frames", "Bees", "Feed"];
    let parts = [
        ("What goes into each compartment", &report.compartments),
        ("Begun and not stocked", &report.begun),
    ];
    for (title, compartments) in parts.iter().filter(|(_, list)| !list.is_empty()) {
        head(out, title, &columns);
        for run in words.runs(compartments) {
            if let Some(cells) = stocked(run, words) {
                row(out, &cells);
            }
        }
        out.push('\n');
    }
    let left = next_cells::peace(words, report);
    let left: Vec<_> = left.iter().map(|item| text(item)).collect();
    list(out, next_cells::PEACE, &left);
}

/// Compartments that are filled alike, as one row.
fn stocked(run: &[CompartmentReport], words: &Words) -> Option<[String; 4]> {
    let c = run.first()?;
    let stands = words.stands(c);
    let stands = stands
        .iter()
        .map(|(what, said)| text(&format!("{what}: {said}")));
    let frames = words.frames_of(c);
    let frames = frames
        .iter()
        .map(|(frames, line, origin)| text(&format!("{frames} {line} from {origin}")));
    let frames: Vec<_> = stands.chain(frames).collect();
    let bees = match c.lacks_nothing() {
        true => String::new(),
        false => text(&words.bees_from(c)),
    };
    let feed = if c.feed_kg > 0.0 {
        figures::weight(c.feed_kg)
    } else {
        String::new()
    };
    Some([
        text(&words.run_heading(run)?),
        frames.join("<br>"),
        bees,
        feed,
    ])
}

fn carry(out: &mut String, report: &Report, words: &Words) {
    let mut loads = Vec::new();
    let mut site = None;
    for load in &report.carry {
        let to = text(&load.to_site);
        if site != Some(&load.to_site) {
            site = Some(&load.to_site);
            let boxes = carry::boxes(report, words, &load.to_site).into_iter();
            let boxes = boxes.chain(loads::cells(load)).join("; ");
            if !boxes.is_empty() {
                loads.push(format!("To {to}: {}", text(&boxes)));
            }
        }
        let items = words.load(load).join("; ");
        if items.is_empty() {
            continue;
        }
        loads.push(format!(
            "To {to} {}: {}",
            text(&words.from(load)),
            text(&items)
        ));
    }
    list(out, "What to carry", &loads);
}
