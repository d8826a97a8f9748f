//! The calendar in iCalendar (RFC 5545), for telephones: days, not hours, and a reminder.

use crate::output::calendar::{Calendar, Entry, EntryKind};
use crate::output::headline;
use crate::output::loads;
use crate::output::report::Report;
use crate::output::season::{SeasonReport, after_today};
use crate::output::words::{Words, clean};
use icalendar::{Alarm, Component, Event, Property, Trigger};
use jiff::civil::Date;
use std::fmt::Write;

/// A reminder at six in the evening before (a choice).
const REMINDER: &str = "-PT6H";

/// The dates of a plan, and of the rounds that its season has after it; `None` where it names no stocking day. Equal titles and
/// entries have equal ids, so that a higher `revision` updates what was handed on before.
#[must_use]
pub fn ics(
    report: &Report,
    calendar: Option<&Calendar>,
    season: Option<&SeasonReport>,
    revision: u32,
) -> Option<String> {
    let day: Date = report.day.as_deref()?.parse().ok()?;
    let title = report.title.as_deref().unwrap_or_default();
    let mut entries = match calendar {
        Some(calendar) => dates(report, &calendar.entries),
        None => vec![stocking(report, day)],
    };
    if let Some(season) = season {
        // The season knows more of the next round.
        let next = season.headline.next_round.is_some();
        entries.retain(|entry| !(next && entry.id.starts_with("next-graft")));
        entries.extend(after_today(season));
    }
    Some(dated(&entries, day, (title, revision)))
}

/// Entries as a calendar, as of a day.
pub(in crate::output) fn dated(
    entries: &[Entry],
    day: Date,
    (title, revision): (&str, u32),
) -> String {
    let stamp = format!("{}T000000Z", basic(day));
    let mut out = icalendar::Calendar::empty();
    out.append_property(("VERSION", "2.0"));
    out.append_property(("PRODID", "-//Spareframe//share//EN"));
    out.append_property(("CALSCALE", "GREGORIAN"));
    for entry in entries {
        if let Some(event) = event(entry, (title, &stamp, revision)) {
            out.push(event);
        }
    }
    folded(&out.to_string())
}

/// Most bytes of a line (RFC 5545, section 3.1).
const MOST_BYTES: usize = 75;

/// The library folds lines but for the last part of each, which may be a byte too long.
fn folded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for line in text.split_inclusive("\r\n") {
        let long = line.trim_end().len() > MOST_BYTES;
        let boundary = || (0..MOST_BYTES).rev().find(|&at| line.is_char_boundary(at));
        let at = long.then(boundary).flatten();
        match at.and_then(|at| line.split_at_checked(at)) {
            Some((head, rest)) => out.extend([head, "\r\n ", rest]),
            None => out.push_str(line),
        }
    }
    out
}

/// What a telephone shows of the steps: what is to be done, each once. What the bees do is in the calendar
/// itself; ways are part of the stocking day, with what to carry.
fn dates(report: &Report, entries: &[Entry]) -> Vec<Entry> {
    let mut out: Vec<Entry> = Vec::new();
    let of = |id: &'static str| entries.iter().filter(move |e| e.id.starts_with(id));
    for entry in entries {
        let to_do = matches!(entry.kind, EntryKind::Work | EntryKind::LeaveClosed)
            && !entry.id.starts_with("move-");
        if !to_do || out.iter().any(|known| known.title == entry.title) {
            continue;
        }
        let mut entry = entry.clone();
        match entry.id.as_str() {
            "stocking" => {
                let ways = of("move-").map(|way| format!("\n{}", way.detail));
                entry.detail += &ways.chain(loads(report)).collect::<String>();
            }
            "check" => entry.last_day.clone_from(&entry.first_day),
            "take" => {
                entry.last_day.clone_from(&entry.first_day);
                let next =
                    of("next-cell").map(|next| format!(" {} on {}.", next.title, next.first_day));
                let last = of("last-day-").filter_map(|last| {
                    let kind = last.box_kind.as_deref()?;
                    Some(format!(" {}: {}", clean(kind), last.detail))
                });
                entry.detail += &next.chain(last).collect::<String>();
            }
            "next-cell" => continue,
            id if id.starts_with("feed-") => {
                let again: Vec<&str> = of("feed-").skip(1).map(|e| e.first_day.as_str()).collect();
                if !again.is_empty() {
                    entry.detail += &format!(" Again on {}.", again.join(", "));
                }
            }
            _ => {}
        }
        if matches!(entry.id.as_str(), "stocking" | "cells-in" | "queens-in") {
            entry.title = format!("{}: {}", entry.title, batch(report));
        }
        out.push(entry);
    }
    out
}

/// How many compartments of each kind of box.
fn batch(report: &Report) -> String {
    let kinds = report
        .headline
        .kinds
        .iter()
        .filter(|kind| kind.compartments_stocked > 0);
    let kinds = kinds.map(|kind| {
        let all = format!("{} {}", kind.compartments_stocked, clean(&kind.box_kind));
        match kind.next_cells {
            0 => all,
            next => format!("{all} ({next} of them stand already)"),
        }
    });
    kinds.collect::<Vec<_>>().join(", ")
}

/// What to bring to each site, a line for each thing.
fn loads(report: &Report) -> impl Iterator<Item = String> + '_ {
    let words = Words::of(report);
    report.carry.iter().flat_map(move |load| {
        let from = load
            .from_site
            .as_deref()
            .map_or_else(|| "the store room".to_owned(), clean);
        let to = clean(&load.to_site);
        let cells = loads::cells(load).map(|cells| format!("\nTo {to}: {cells}"));
        let lead = format!("\nTo {to} from {from}:");
        let items = words
            .load(load)
            .into_iter()
            .map(|item| format!("\n- {item}"));
        let items: Vec<String> = items.collect();
        let lead = (!items.is_empty()).then_some(lead);
        let lines = cells.into_iter().chain(lead).chain(items);
        lines.collect::<Vec<_>>()
    })
}

/// The stocking day, where nothing else is known.
fn stocking(report: &Report, day: Date) -> Entry {
    Entry {
        id: "stocking".to_owned(),
        kind: EntryKind::Work,
        box_kind: None,
        site: None,
        first_day: day.to_string(),
        last_day: day.to_string(),
        title: "Stock the boxes".to_owned(),
        detail: headline::answer(&report.headline),
        basis: "day as in the scenario".to_owned(),
    }
}

/// One entry; its end is the day after the last one, as the standard has it.
fn event(entry: &Entry, (title, stamp, revision): (&str, &str, u32)) -> Option<Event> {
    let first: Date = entry.first_day.parse().ok()?;
    let last: Date = entry.last_day.parse().ok()?;
    let uid = uid(title, entry);
    let what = match &entry.box_kind {
        Some(kind) => format!("{} ({})", clean(&entry.title), clean(kind)),
        None => clean(&entry.title),
    };
    let summary = match title {
        "" => what,
        round => format!("{what} ({})", clean(round)),
    };
    let mut event = Event::new();
    event
        .uid(&uid)
        .add_property("DTSTAMP", stamp)
        .add_property("SEQUENCE", revision.to_string())
        .add_property("TRANSP", "TRANSPARENT")
        .summary(&summary)
        .description(&format!(
            "{} ({})",
            lines(&entry.detail),
            clean(&entry.basis)
        ))
        .append_property(date("DTSTART", first))
        .append_property(date("DTEND", last.tomorrow().ok()?));
    if let Some(site) = &entry.site {
        event.add_property("LOCATION", clean(site));
    }
    if matches!(entry.kind, EntryKind::Work | EntryKind::LastDay) {
        let mut alarm = Alarm::display(&summary, Trigger::after_start(Default::default()));
        alarm
            .add_property("TRIGGER", REMINDER)
            .add_property("DTSTAMP", stamp)
            .add_property("UID", format!("alarm-{uid}"));
        event.append_component(alarm);
    }
    Some(event.done())
}

/// A text of several lines, each clean.
fn lines(text: &str) -> String {
    text.lines().map(clean).collect::<Vec<_>>().join("\n")
}

fn basic(day: Date) -> String {
    format!("{:04}{:02}{:02}", day.year(), day.month(), day.day())
}

fn date(key: &str, day: Date) -> Property {
    let mut property = Property::new(key, basic(day));
    property.add_parameter("VALUE", "DATE");
    property.done()
}

/// An id from entry, boxes and title: no two share one, and a newer plan has the same.
fn uid(title: &str, entry: &Entry) -> String {
    let mut whole = entry.id.clone();
    if let Some(kind) = &entry.box_kind {
        whole = format!("{whole}.{kind}");
    }
    let mut out = String::new();
    for byte in whole.bytes().chain([b'.']).chain(title.bytes()) {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' => out.push(char::from(byte)),
            other => {
                let _ = write!(out, "_{other:02x}");
            }
        }
    }
    out + "@spareframe.invalid"
}
