//! The order of work on the day.

use super::build::Notes;
use super::calendar::{RIPE_CELLS, cells_in, first_look};
use super::next_cells::step;
use super::queens;
use super::report::{CompartmentReport, Progress, Report};

/// When the cells or queens go in, one day here and in the calendar: last of all, or on a later day.
fn cells_last(report: &Report, notes: &Notes) -> String {
    let (what, later, day) = cells_in(notes, report);
    let what = match queens::given(report).next().is_some() && !queens::alone(report) {
        true => format!("{what} and mated queens"),
        false => what.to_owned(),
    };
    match (later, day) {
        (0, _) => "Cells or queens go in last, when the bees have settled.".to_owned(),
        (1, Some(day)) => format!("{day}, the day after: {what} in, when the bees have settled."),
        (1, None) => format!("The day after: {what} in, when the bees have settled."),
        (later, Some(day)) => format!("{day}, {later} days later: {what} in."),
        (later, None) => format!("{later} days later: {what} in."),
    }
}

/// What to do first and what last; nothing where nothing is done.
pub(super) fn steps(report: &Report, notes: &Notes) -> Vec<String> {
    let [out, into] = queens::steps(report);
    let mut steps = stocking(report, notes);
    // Cells go in and are looked for last of all, or on later days.
    let last = steps.len().saturating_sub(2);
    steps.splice(last..last, into);
    let beforehand = steps
        .first()
        .is_some_and(|step| step.starts_with(BEFOREHAND));
    let first = usize::from(beforehand);
    steps.splice(first..first, out);
    steps
}

/// How the step begins that is done before the day.
const BEFOREHAND: &str = "Beforehand: ";

fn stocking(report: &Report, notes: &Notes) -> Vec<String> {
    if report.compartments.is_empty() {
        return Vec::new();
    }
    let ready = |c: &CompartmentReport| c.done == Some(Progress::Finished) || c.lacks_nothing();
    if report.compartments.iter().all(ready) {
        let mut steps: Vec<String> = step(report).into_iter().collect();
        steps.extend([cells_last(report, notes), look(report, notes)]);
        return steps;
    }
    let ready = match cells_in(notes, report).0 {
        RIPE_CELLS => "make sure that the cells will be ripe".to_owned(),
        queens => format!("make sure of the {queens}"),
    };
    let mut steps = vec![
        format!(
            "{BEFOREHAND}look through the brood of every donor, load what is to be carried, {ready}."
        ),
        "At each colony, work through its list, line by line.".to_owned(),
    ];
    if report.colonies.iter().any(|c| !c.adding.is_empty()) {
        steps.push(
            "Add bees by shaking brood frames into the compartment: the young bees there do not fly yet. Never \
             shake the queen's frame."
                .to_owned(),
        );
    }
    if report.compartments.iter().any(|c| c.stands.is_none()) {
        steps.push(
            "Keep each compartment shut, shaded and aired until it stands in its place.".to_owned(),
        );
    }
    steps.extend(step(report));
    steps.push(cells_last(report, notes));
    steps.push(look(report, notes));
    steps
}

fn look(report: &Report, notes: &Notes) -> String {
    let (wait, day) = first_look(notes, report);
    let given = match cells_in(notes, report).0 {
        RIPE_CELLS => "cells",
        queens => queens,
    };
    let look = format!(
        "{wait} days after the {given} went in: first look for eggs. Leave the compartments alone until then."
    );
    match day {
        Some(day) => format!("{day}, {look}"),
        None => look,
    }
}
