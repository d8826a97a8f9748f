//! Entries of each round for the calendar of a telephone.

use super::super::calendar::words::written;
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
    let rounds = report.rounds.iter().filter(|round| !round.outlook);
    let mut entries: Vec<Entry> = rounds.flat_map(of_round).collect();
    entries.extend(after_today(report));
    let title = report.title.as_deref().unwrap_or_default();
    Some(dated(&entries, day, (title, 0)))
}

/// Entries of the rounds to come, each said to be an outlook; the day to look again; and autumn.
pub(in super::super) fn after_today(report: &SeasonReport) -> Vec<Entry> {
    let mut entries = Vec::new();
    if let Some(next) = &report.headline.next_round {
        entries.push(Entry {
            detail: format!(
                "The number for {} is decided by that count. No more than an outlook is known of it.",
                written(next)
            ),
            ..entry(
                "season-look-again",
                &report.headline.look_again,
                "Count the colonies, and plan the season anew",
            )
        });
    }
    let rounds = report.rounds.iter().filter(|round| round.outlook);
    entries.extend(rounds.flat_map(of_round));
    if let Some(autumn) = &report.autumn {
        entries.push(Entry {
            detail: format!("{}\n{OUTLOOK}", words::autumn(autumn).join("\n")),
            ..entry(
                "season-winter",
                &autumn.unite_by,
                "Outlook: unite and feed for winter, at the latest",
            )
        });
    }
    entries
}

fn of_round(round: &RoundReport) -> Vec<Entry> {
    if round.cells + round.nuclei == 0 {
        return Vec::new();
    }
    let named = |title: &str| match round.outlook {
        true => format!("Outlook: {}", uncapped(title)),
        false => title.to_owned(),
    };
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
                &named(&format!("Graft for {cells} cells")),
            )
        });
    }
    entries.push(Entry {
        detail: said(courses::round(round).join("\n")),
        ..entry(&id("round"), &round.day, &named("Stock the boxes"))
    });
    if round.cells > 0 {
        let cells = round.cells;
        entries.push(Entry {
            detail: said("Upright, warm, never knocked. One for each compartment.".to_owned()),
            ..entry(
                &id("cells-in"),
                &round.cells_in,
                &named(&format!("{cells} cells in")),
            )
        });
    }
    if round.cells > 0 && !round.rained_out {
        entries.push(Entry {
            detail: said(format!(
                "Some {} are counted on, {} in eight of ten rounds. Take none that does not lay flat sealed worker brood.",
                round.queens,
                words::between(round.queens_least, round.queens_most)
            )),
            ..entry(&id("take"), &round.usable_from, &named("Mated queens may be taken"))
        });
    }
    entries
}

/// A title in the middle of a sentence.
fn uncapped(title: &str) -> String {
    let mut letters = title.chars();
    let first = letters.next().into_iter().flat_map(char::to_lowercase);
    first.chain(letters.clone()).collect()
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
