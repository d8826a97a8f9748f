//! Entries of each round for the calendar of a telephone.

use super::super::calendar::{Entry, EntryKind};
use super::super::share::dated;
use super::report::{RoundReport, SeasonReport};
use super::{courses, words};
use jiff::civil::Date;

/// Said with every entry that is no part of today's round.
const OUTLOOK: &str = "An outlook: count the colonies again before this round, and plan anew.";

/// The days of all rounds in iCalendar; `None` without a day.
#[must_use]
pub fn ics(report: &SeasonReport) -> Option<String> {
    let day: Date = report.day.parse().ok()?;
    let mut entries = Vec::new();
    for round in report
        .rounds
        .iter()
        .filter(|round| round.cells + round.nuclei > 0)
    {
        entries.extend(of_round(round));
    }
    if let Some(autumn) = &report.autumn {
        entries.push(Entry {
            detail: words::autumn(autumn).join("\n"),
            ..entry(
                "winter",
                &autumn.unite_by,
                "Unite and feed for winter, at the latest",
            )
        });
    }
    let title = report.title.as_deref().unwrap_or_default();
    Some(dated(&entries, day, (title, 0)))
}

fn of_round(round: &RoundReport) -> Vec<Entry> {
    let said = |text: String| match round.outlook {
        true => format!("{text}\n{OUTLOOK}"),
        false => text,
    };
    let id = |what: &str| format!("season-{what}-{}", round.day);
    let mut entries = Vec::new();
    if round.cells > 0 {
        let cells = round.cells;
        entries.push(Entry {
            detail: said("Graft more than that: not all are accepted.".to_owned()),
            ..entry(
                &id("graft"),
                &round.graft,
                &format!("Graft for {cells} cells"),
            )
        });
    }
    entries.push(Entry {
        detail: said(courses::round(round).join("\n")),
        ..entry(&id("round"), &round.day, "Stock the boxes")
    });
    if round.cells > 0 {
        let cells = round.cells;
        entries.push(Entry {
            detail: said("Upright, warm, never knocked. One for each compartment.".to_owned()),
            ..entry(
                &id("cells-in"),
                &round.cells_in,
                &format!("{cells} cells in"),
            )
        });
        entries.push(Entry {
            detail: said(format!(
                "Some {} are counted on, {} in eight of ten rounds. Take none that does not lay flat sealed worker brood.",
                round.queens,
                words::between(round.queens_least, round.queens_most)
            )),
            ..entry(&id("take"), &round.usable_from, "Mated queens may be taken")
        });
    }
    entries
}

fn entry(id: &str, day: &str, title: &str) -> Entry {
    Entry {
        id: id.to_owned(),
        kind: EntryKind::Work,
        box_kind: None,
        site: None,
        first_day: day.to_owned(),
        last_day: day.to_owned(),
        title: title.to_owned(),
        detail: String::new(),
        basis: "the season as planned".to_owned(),
    }
}
