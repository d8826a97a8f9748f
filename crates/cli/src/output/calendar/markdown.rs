//! The calendar as Markdown, to print or to keep.

use super::super::counted;
use super::super::markdown::{head, list, row, text};
use super::record::Calendar;
use super::words;
use std::fmt::Write;

/// The calendar as Markdown, with where every interval is from.
#[must_use]
pub fn markdown(calendar: &Calendar) -> String {
    let mut out = format!("# {}\n\n", text(&words::heading(calendar)));
    let queens = &calendar.expected_queens;
    let _ = writeln!(out, "**{}**\n", text(&words::expected(queens)));
    let _ = writeln!(out, "{}\n", text(&queens.basis));
    if let Some(accepted) = super::super::queens::estimate(&calendar.accepted) {
        let _ = writeln!(out, "{}\n", text(&accepted));
    }
    if let Some(sentence) = counted::sentence(calendar.counted_on.as_ref()) {
        let _ = writeln!(out, "{}\n", text(&sentence));
    }
    let safe = |lines: &mut dyn Iterator<Item = &str>| lines.map(text).collect::<Vec<_>>();
    let conflicts = safe(&mut calendar.conflicts.iter().map(|c| c.text.as_str()));
    list(&mut out, "What does not go together", &conflicts);
    head(&mut out, "Days", &["Days", "What", "From"]);
    for entry in &calendar.entries {
        let what = format!("{}. {}", words::title(entry), entry.detail);
        let cells = [
            words::days_of(entry),
            what.trim_end().to_owned(),
            entry.basis.clone(),
        ];
        row(&mut out, &cells.map(|cell| text(&cell)));
    }
    out.push('\n');
    let fed = &calendar.feed.compartments;
    if !fed.is_empty() {
        head(&mut out, &words::feed_heading(calendar), &words::FEED);
        for compartment in fed {
            row(
                &mut out,
                &words::feed_of(compartment).map(|cell| text(&cell)),
            );
        }
        out.push('\n');
    }
    let shopping = words::shopping(calendar);
    let shopping = safe(&mut shopping.iter().map(String::as_str));
    list(&mut out, "To buy or bring", &shopping);
    let used: Vec<_> = calendar.intervals.iter().map(words::interval).collect();
    let used = safe(&mut used.iter().map(String::as_str));
    list(&mut out, "Days counted with", &used);
    let assumed = safe(&mut calendar.feed.assumptions.iter().map(String::as_str));
    list(&mut out, "About the feed", &assumed);
    let mind = safe(&mut calendar.mind.iter().map(String::as_str));
    list(&mut out, "Cautions", &mind);
    out.truncate(out.trim_end().len());
    out + "\n"
}
