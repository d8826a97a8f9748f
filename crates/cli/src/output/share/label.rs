//! Names for the boxes: each as the box stands, half by half.

use super::mating::{Half, Stand};
use super::names::Names;
use super::page::Shared;
use super::sheet::day;
use crate::output::calendar::{cells_in, first_look, long_day};
use crate::output::queens;
use crate::output::report::{CompartmentReport, Progress, Report};
use crate::output::words::clean;
use itertools::Itertools;

/// One box.
pub(super) struct LabelView {
    pub name: String,
    pub filled: String,
    pub stands: String,
    pub halves: Vec<HalfLabel>,
}

/// One compartment of it.
pub(super) struct HalfLabel {
    /// Where it is on the page: stand, box, half.
    pub at: (usize, usize, usize),
    pub name: String,
    pub bees: String,
    /// What is written, and what is left to write.
    pub fields: Vec<(&'static str, String)>,
    pub queen: bool,
}

/// Names of all boxes into which something goes today.
pub(super) fn labels(shared: &Shared, stands: &[Stand], names: &Names) -> Vec<LabelView> {
    let report = shared.report;
    let mut list = Vec::new();
    for (at, stand) in stands.iter().enumerate() {
        for (no, of) in stand.boxes.iter().enumerate() {
            let halves = of.halves.iter().enumerate();
            let halves: Vec<(usize, &Half, &CompartmentReport)> = halves
                .filter_map(|(nth, half)| Some((nth, half, compartment(report, half.id?)?)))
                .collect();
            let Some((_, _, first)) = halves.first() else {
                continue;
            };
            list.push(LabelView {
                name: format!(
                    "{} {}{}",
                    clean(&first.box_kind),
                    names.letter(&first.box_kind),
                    first.box_no
                ),
                filled: filled(report, &halves.iter().map(|h| h.2).collect::<Vec<_>>()),
                stands: clean(&first.site),
                halves: halves
                    .iter()
                    .map(|(nth, half, c)| HalfLabel {
                        at: (at, no, *nth),
                        name: half.name.clone(),
                        bees: bees(c),
                        fields: fields(shared, c),
                        queen: c.queen.is_some(),
                    })
                    .collect(),
            });
        }
    }
    list
}

fn compartment(report: &Report, id: usize) -> Option<&CompartmentReport> {
    let c = report.compartments.get(id)?;
    // A finished one has its label; a next cell comes to one that has.
    (c.done != Some(Progress::Finished)).then_some(c)
}

/// Where and when a box is filled.
fn filled(report: &Report, halves: &[&CompartmentReport]) -> String {
    let donors = halves.iter().flat_map(|c| &c.donor_colonies);
    let homes = donors
        .filter_map(|name| report.colonies.iter().find(|c| c.colony == *name))
        .map(|c| clean(&c.site))
        .unique()
        .join(" and ");
    let on = report.day.as_deref().map_or(String::new(), day);
    match (homes.is_empty(), on.is_empty()) {
        (true, _) => on,
        (false, true) => format!("filled at {homes}"),
        (false, false) => format!("filled at {homes}, {on}"),
    }
}

/// Whose bees are in it.
fn bees(c: &CompartmentReport) -> String {
    let donors = c.bees.iter().map(|bees| clean(&bees.colony)).unique();
    let donors: Vec<String> = donors.collect();
    match &donors[..] {
        [] => String::new(),
        [some @ .., last] if !some.is_empty() => {
            format!("bees of {} and {last}", some.join(", "))
        }
        [last, ..] => format!("bees of {last}"),
    }
}

fn fields(shared: &Shared, c: &CompartmentReport) -> Vec<(&'static str, String)> {
    let (report, notes) = (shared.report, shared.notes);
    let (_, later, on) = cells_in(notes, report);
    let (wait, look) = first_look(notes, report);
    let day = |on: Option<jiff::civil::Date>, else_in: u32| match on {
        Some(on) => long_day(on),
        None => format!("{else_in} days later"),
    };
    let given = match c.queen.is_some() {
        true => ("Queen", queens::of_box(c)),
        false => match (later, on) {
            (0, None) => (
                "Cell in",
                report.day.as_deref().map_or(String::new(), self::day),
            ),
            _ => ("Cell in", day(on, later)),
        },
    };
    let grafted = notes.rearing.grafted.filter(|_| c.queen.is_none());
    vec![
        ("Mother line", String::new()),
        (
            "Batch",
            grafted.map_or(String::new(), |day| format!("grafted {}", long_day(day))),
        ),
        given,
        ("First look", format!("from {}", day(look, wait))),
    ]
}
