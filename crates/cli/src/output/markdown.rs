//! The plan as Markdown, to print or to keep.

use super::report::{Level, Report};
use super::words;
use std::fmt::Write;

/// The report as Markdown.
#[must_use]
pub fn markdown(report: &Report) -> String {
    let mut out = String::from("# Stocking plan");
    for part in [&report.title, &report.day].into_iter().flatten() {
        let _ = write!(out, ", {}", text(part));
    }
    out.push_str("\n\n");
    headline(&mut out, report);
    colonies(&mut out, report);
    let held: Vec<_> = report
        .on_hold
        .iter()
        .map(|h| format!("{}: {}", text(&h.colony), text(&h.reason)))
        .collect();
    list(&mut out, "On hold, left untouched", &held);
    compartments(&mut out, report);
    carry(&mut out, report);
    let cautions: Vec<_> = report.cautions.iter().map(|c| text(&c.text)).collect();
    list(&mut out, "Mind", &cautions);
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
fn text(raw: &str) -> String {
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

fn list(out: &mut String, title: &str, items: &[String]) {
    if items.is_empty() {
        return;
    }
    let _ = writeln!(out, "## {title}\n");
    for item in items {
        let _ = writeln!(out, "- {item}");
    }
    out.push('\n');
}

fn row(out: &mut String, cells: &[String]) {
    let _ = writeln!(out, "| {} |", cells.join(" | "));
}

fn head(out: &mut String, title: &str, columns: &[&str]) {
    let _ = writeln!(out, "## {title}\n\n| {} |", columns.join(" | "));
    let _ = writeln!(out, "|{}", " --- |".repeat(columns.len()));
}

fn headline(out: &mut String, report: &Report) {
    let h = &report.headline;
    let _ = writeln!(out, "**{}**\n", text(&words::answer(h)));
    for k in &h.kinds {
        let _ = writeln!(
            out,
            "- {}: {} of {} compartments, {} of {} boxes, at {}",
            text(&k.box_kind),
            k.compartments_stocked,
            k.compartments_in_all,
            k.boxes_used,
            k.boxes_in_all,
            text(&k.site)
        );
    }
    if let Some(proof) = &h.proof {
        for sentence in [words::proof(proof), words::honey(h), words::work(h)] {
            let _ = writeln!(out, "- {}", text(&sentence));
        }
    }
    out.push('\n');
}

fn level(l: &Level) -> String {
    format!("{} to {} ({})", l.before, l.after, l.must_keep)
}

fn colonies(out: &mut String, report: &Report) {
    if report.colonies.is_empty() {
        return;
    }
    head(
        out,
        "What leaves each colony",
        &["Colony", "Frames", "Bees"],
    );
    for c in &report.colonies {
        let frames: Vec<_> = c
            .leaving
            .iter()
            .map(|l| {
                format!(
                    "{} {} of group {}: {}",
                    l.frames,
                    text(&l.each_holds.comb),
                    l.frame_group,
                    words::content(&l.each_holds)
                )
            })
            .collect();
        let name = format!("{} ({}, {})", text(&c.colony), text(&c.role), text(&c.site));
        row(out, &[name, frames.join("<br>"), words::bees_of(c)]);
    }
    out.push('\n');
    let columns = [
        "Colony",
        "Brood frames",
        "Bees",
        "Stores kg",
        "Drawn combs",
        "Honey kg (estimate)",
    ];
    head(out, "What stays: before to after (must keep)", &columns);
    for c in &report.colonies {
        let honey = format!("{:.2}", c.honey_given_up_charged_estimate_kg);
        row(
            out,
            &[
                text(&c.colony),
                level(&c.brood_frames),
                level(&c.bees),
                level(&c.stores_kg),
                level(&c.drawn_frames),
                honey,
            ],
        );
    }
    out.push('\n');
}

fn compartments(out: &mut String, report: &Report) {
    if report.compartments.is_empty() {
        return;
    }
    head(
        out,
        "What goes into each compartment",
        &[
            "Box",
            "Compartment",
            "Frames",
            "Bees to take",
            "Stay (need)",
            "Feed kg",
        ],
    );
    for c in &report.compartments {
        let frames: Vec<_> = c.frames.iter().map(|f| text(&words::placed(f))).collect();
        let bees: Vec<_> = c
            .bees
            .iter()
            .map(|b| format!("{} from {}", words::whole(b.bees), text(&b.colony)))
            .collect();
        row(
            out,
            &[
                format!("{} {}", text(&c.box_kind), c.box_no),
                c.compartment.to_string(),
                frames.join("<br>"),
                bees.join("<br>"),
                format!(
                    "{} ({})",
                    words::whole(c.bees_staying),
                    words::whole(c.bees_needed)
                ),
                c.feed_kg.to_string(),
            ],
        );
    }
    out.push('\n');
}

fn carry(out: &mut String, report: &Report) {
    let loads: Vec<_> = report
        .carry
        .iter()
        .map(|load| {
            let from = load.from_site.as_deref().unwrap_or("store room");
            let items: Vec<_> = words::load(load).iter().map(|i| text(i)).collect();
            format!(
                "To {} from {}: {}",
                text(&load.to_site),
                text(from),
                items.join("; ")
            )
        })
        .collect();
    list(out, "What to carry", &loads);
}
