//! What another stocking day asks for: cells to cage, feed, what does not go together.

use super::super::build::Notes;
use super::super::figures::counted;
use super::super::report::Report;
use super::build::{build, given, known, queens_given};
use super::words::{day, shopping};
use spareframe_rearing::{Given, timeline};
use spareframe_solver::Scenario;

/// The days, cells and feed of a plan on this day, in sentences; nothing without a stocking day.
#[must_use]
pub fn shifted(scenario: &Scenario, notes: &Notes, report: &Report) -> Vec<String> {
    let (Some(known), Some(calendar)) = (known(notes, report), build(scenario, notes, report))
    else {
        return Vec::new();
    };
    let days = timeline(&known);
    let what = given(known.given);
    let mut lines = vec![format!(
        "Stocked on {}, {what} in on {}.",
        day(days.stocking),
        day(days.cells_in)
    )];
    let count = i64::from(report.headline.compartments_stocked);
    let cells = count - i64::from(queens_given(report));
    let cells = counted(cells, "cell", "cells");
    match known.given {
        Given::RipeCells if days.cells_in >= days.emergence.first => lines.push(format!(
            "Cage {cells} before {}, when the first queens may be out, and keep them warm.",
            day(days.emergence.first)
        )),
        Given::RipeCells => lines.push(format!(
            "No cell needs a cage: queens are out from {} on.",
            day(days.emergence.first)
        )),
        Given::VirginQueens | Given::MatedQueens => {}
    }
    let feed = shopping(&calendar);
    let feed: Vec<String> = feed
        .into_iter()
        .filter(|item| !item.starts_with(what))
        .collect();
    let without = counted(i64::from(calendar.feed.days), "day", "days");
    if count > 0 {
        lines.push(match feed.is_empty() {
            true => format!("For {without} of rain the stores suffice."),
            false => format!("For {without} of rain bring {}.", feed.join(", ")),
        });
    }
    lines.extend(calendar.conflicts.into_iter().map(|conflict| conflict.text));
    lines
}
