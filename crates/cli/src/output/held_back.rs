//! What keeps compartments empty, in the few lines that a plan carries of it.

use super::build::Notes;
use super::raise::raise;
use super::reasons::in_short as named;
use super::report::HeldBack;
use spareframe_rearing::Given;
use spareframe_solver::why::{WhyOptions, in_short};
use spareframe_solver::{CellBatch, Outcome, Scenario};

/// Limits of which any one, eased alone, lets more be stocked; of countable things the least that
/// does. Else one entry of rule `several`, where easing them together does; none where that is not
/// known.
#[must_use]
pub fn held_back_by(
    scenario: &Scenario,
    notes: &Notes,
    found: &Outcome,
    options: &WhyOptions,
) -> Vec<HeldBack> {
    let all_given = all_given(scenario, notes, found);
    let found = in_short(scenario, found, options);
    let several = |text: &str| {
        vec![HeldBack {
            rule: "several".to_owned(),
            text: text.to_owned(),
            raise: None,
        }]
    };
    if found.alone.is_empty() {
        return match (found.exact, found.together) {
            (true, Some(true)) => several(&match all_given {
                Some(given) => format!(
                    "{given}, and more of them alone would not do: two or more limits must be eased together"
                ),
                None => "no single limit: two or more must be eased together".to_owned(),
            }),
            (true, Some(false)) => several("lifting all limits together would still stock no more"),
            _ => Vec::new(),
        };
    }
    let lines = scenario.boxes.iter().flat_map(|kind| &kind.lines);
    let mut combs = lines.flat_map(|line| {
        let others = line.substitutes.iter().map(|other| other.ask);
        std::iter::once(line.ask).chain(others).map(|ask| ask.comb)
    });
    let first = combs.next();
    let many_combs = combs.any(|comb| Some(comb) != first);
    let alone = found.alone.iter();
    alone
        .map(|(group, change)| HeldBack {
            raise: change.and_then(|change| raise(scenario, notes, &change)),
            ..named(scenario, group, change.as_ref(), many_combs)
        })
        .collect()
}

/// That every cell or queen is given, where the plan gives them all.
fn all_given(scenario: &Scenario, notes: &Notes, found: &Outcome) -> Option<String> {
    let Outcome::Stocked(stocking) = found else {
        return None;
    };
    let counts = scenario.cells.as_ref()?.iter().map(|batch| batch.count);
    let counts: Option<Vec<u32>> = counts
        .map(|count| (count < CellBatch::UNCOUNTED).then_some(count))
        .collect();
    let all: u64 = counts?.into_iter().map(u64::from).sum();
    let given = u64::try_from(stocking.plan.compartments.len()).ok()?;
    let what = match notes.rearing.given {
        _ if !notes.queens.stand.is_empty() => "cells or queens",
        Given::RipeCells => "cells",
        Given::VirginQueens | Given::MatedQueens => "queens",
    };
    (given == all && all > 1).then(|| format!("all {all} {what} are given"))
}
