//! The calendar in iCalendar (RFC 5545), for telephones: days, not hours, and a reminder.

use crate::output::calendar::{Calendar, Entry, EntryKind};
use crate::output::headline;
use crate::output::report::Report;
use crate::output::words::clean;
use icalendar::{Alarm, Component, Event, Property, Trigger};
use jiff::civil::Date;
use std::fmt::Write;

/// A reminder at six in the evening before (a choice).
const REMINDER: &str = "-PT6H";

/// The dates of a plan; `None` where it names no stocking day. Equal titles and entries have equal
/// ids, so that a higher `revision` updates what was handed on before.
#[must_use]
pub fn ics(report: &Report, calendar: Option<&Calendar>, revision: u32) -> Option<String> {
    let day: Date = report.day.as_deref()?.parse().ok()?;
    let stamp = format!("{}T000000Z", basic(day));
    let mut out = icalendar::Calendar::empty();
    out.append_property(("VERSION", "2.0"));
    out.append_property(("PRODID", "-//Spareframe//share//EN"));
    out.append_property(("CALSCALE", "GREGORIAN"));
    let title = report.title.as_deref().unwrap_or_default();
    let alone = [stocking(report, day)];
    for entry in calendar.map_or(&alone[..], |c| &c.entries) {
        if let Some(event) = event(entry, (title, &stamp, revision)) {
            out.push(event);
        }
    }
    Some(out.to_string())
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
    let summary = match &entry.box_kind {
        Some(kind) => format!("{} ({})", clean(&entry.title), clean(kind)),
        None => clean(&entry.title),
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
            clean(&entry.detail),
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
