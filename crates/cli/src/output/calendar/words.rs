//! Days and phrases that the calendar's writers share.

use super::super::figures::{counted, weight};
use super::super::words::clean;
use super::record::{Calendar, CompartmentFeed, Entry, ExpectedQueens, IntervalUsed};
use jiff::civil::Date;

/// A day with its weekday: `Tue 2031-05-20`.
pub(super) fn day(day: Date) -> String {
    day.strftime("%a %Y-%m-%d").to_string()
}

/// A day as a person writes it: `Tue 20 May 2031`.
pub(in super::super) fn long_day(day: Date) -> String {
    day.strftime("%a %-d %B %Y").to_string()
}

/// A day of the record, as it is shown.
pub(in super::super) fn written(text: &str) -> String {
    text.parse().map_or_else(|_| clean(text), day)
}

/// The days of an entry: one, or the first to the last.
pub(super) fn days_of(entry: &Entry) -> String {
    match entry.first_day == entry.last_day {
        true => written(&entry.first_day),
        false => format!(
            "{} to {}",
            written(&entry.first_day),
            written(&entry.last_day)
        ),
    }
}

/// What an entry is called, with the boxes it is for.
pub(in super::super) fn title(entry: &Entry) -> String {
    match &entry.box_kind {
        Some(kind) => format!("{} ({})", clean(&entry.title), clean(kind)),
        None => clean(&entry.title),
    }
}

/// `10 days`, `6 to 10 days`.
pub(super) fn span(least: u32, most: u32) -> String {
    match least == most {
        true => counted(i64::from(least), "day", "days"),
        false => format!("{least} to {most} days"),
    }
}

pub(super) fn heading(calendar: &Calendar) -> String {
    let title = calendar.title.as_deref().map(clean);
    let parts = ["Calendar".to_owned()].into_iter().chain(title);
    let parts = parts.chain([format!("stocking day {}", calendar.stocking_day)]);
    parts.collect::<Vec<_>>().join(", ")
}

/// Queens to expect, in a sentence.
pub(in super::super) fn expected(queens: &ExpectedQueens) -> String {
    if queens.compartments == 0 {
        return "No queens to expect: nothing is stocked.".to_owned();
    }
    format!(
        "Mated queens to expect (estimate): {:.1} to {:.1} of {}.",
        queens.least_estimate, queens.most_estimate, queens.compartments
    )
}

/// What one compartment uses, has and is fed, in the order of [`FEED`].
pub(in super::super) fn feed_of(fed: &CompartmentFeed) -> [String; 6] {
    [
        fed.name.clone(),
        weight(fed.use_estimate_kg),
        weight(fed.in_stores_kg),
        match fed.sugar_kg > 0.0 {
            true => weight(fed.sugar_kg),
            false => "none".to_owned(),
        },
        match fed.water_l > 0.0 {
            true => format!("{:.2} L", fed.water_l),
            false => String::new(),
        },
        match fed.syrup_kg > 0.0 {
            true => weight(fed.syrup_kg),
            false => String::new(),
        },
    ]
}

/// Columns of the feed.
pub(in super::super) const FEED: [&str; 6] = [
    "Compartment",
    "Uses",
    "In stores",
    "Feed sugar",
    "in water",
    "as syrup",
];

pub(in super::super) fn feed_heading(calendar: &Calendar) -> String {
    format!(
        "Feed for {} (estimate, in dry sugar)",
        counted(
            i64::from(calendar.feed.days),
            "day without flight",
            "days without flight"
        )
    )
}

/// What to buy or bring.
pub(in super::super) fn shopping(calendar: &Calendar) -> Vec<String> {
    let items = calendar.feed.shopping.iter();
    items
        .map(|item| {
            let line = format!("{}: {} {}", clean(&item.item), item.amount, item.unit);
            line.trim_end().to_owned()
        })
        .collect()
}

/// An interval with where it is from.
pub(in super::super) fn interval(used: &IntervalUsed) -> String {
    let source = match used.source.is_empty() {
        true => String::new(),
        false => format!(", {}", clean(&used.source)),
    };
    format!(
        "{}: {}{source} ({})",
        clean(&used.key),
        span(used.least_days, used.most_days),
        clean(&used.status)
    )
}
