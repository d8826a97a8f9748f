//! `verify`: a plan against its scenario, rule by rule.

use super::commands::{load, plan_bytes, show};
use super::files::{label, print};
use super::task::Detail;
use super::{Exit, Stop, note};
use crate::output::plan_file::{Stated, read_plan};
use crate::reading::plain;
use spareframe_solver::{Breach, Goals, Rule, check};
use std::fmt::Write;
use std::path::Path;

pub(super) fn verify(scenario: &Path, plan: &Path, detail: Detail) -> Result<Exit, Stop> {
    let (scenario, _) = load(scenario, detail)?;
    let bytes = plan_bytes(plan, detail)?;
    let read = read_plan(&scenario, &label(plan), &bytes);
    show(&read.findings, &bytes, detail);
    let (plan_value, stated) = read.plan.ok_or(Stop::Reported)?;
    let (goals, breaches) = check(&scenario, &plan_value);
    if detail != Detail::Quiet {
        for stale in stale(&stated, &goals) {
            note(&format!("note: {}: {stale}", label(plan)));
        }
    }
    let mut out = String::new();
    let count = plan_value.compartments.len();
    let compartments = if count == 1 {
        "compartment"
    } else {
        "compartments"
    };
    if breaches.is_empty() {
        let _ = writeln!(
            out,
            "The plan holds: {count} {compartments}, no rule broken."
        );
    } else {
        let _ = writeln!(
            out,
            "The plan does not hold: {count} {compartments}, {} broken:",
            match breaches.len() {
                1 => "1 rule".to_owned(),
                n => format!("rules in {n} places"),
            }
        );
        for b in &breaches {
            let _ = writeln!(out, "  {}", breach(b));
        }
        if breaches.iter().any(counted_place) {
            out.push_str(COUNTING);
        }
    }
    let _ = writeln!(
        out,
        "Worth {}, honey given up (estimate) {:.3} kg charged, {} opened, {} bees shaken.",
        decimal(goals.worth.0, 1000.0),
        decimal(goals.honey.0, 1e6),
        if goals.opened == 1 {
            "1 colony".to_owned()
        } else {
            format!("{} colonies", goals.opened)
        },
        goals.shaken.0
    );
    print(&out)?;
    Ok(if breaches.is_empty() {
        Exit::Done
    } else {
        Exit::No
    })
}

/// How to find a frame group or an entry in the scenario.
const COUNTING: &str = "Frame groups are the items under a colony's `frames`, entries those under \
                        `store room`, both counted\nfrom 1 as they stand in the scenario; quick \
                        counts: brood, stores, empty, foundation.\n";

fn counted_place(breach: &Breach) -> bool {
    [&breach.place, &breach.found]
        .into_iter()
        .any(|text| text.contains(", frame group ") || text.contains("store room, entry"))
}

#[expect(
    clippy::cast_precision_loss,
    reason = "figures of an apiary stay far below 2^53"
)]
fn decimal(value: i64, unit: f64) -> f64 {
    value as f64 / unit
}

/// A breach in one line, its rule id first.
pub(super) fn breach(breach: &Breach) -> String {
    let rule = match breach.rule {
        Rule::Supply => "supply",
        Rule::Recipe => "recipe",
        Rule::Keep => "keep",
        Rule::Draw => "draw",
        Rule::Bees => "bees",
        Rule::Boxes => "boxes",
        Rule::Cells => "cells",
        Rule::Give => "give",
        Rule::Done => "done",
    };
    let line = format!(
        "{rule}: {}: found {}, expected {}",
        breach.place, breach.found, breach.expected
    );
    plain(&line)
}

/// Figures in the file that the check does not confirm.
fn stale(stated: &Stated, goals: &Goals) -> Vec<String> {
    let mut list = Vec::new();
    let mut compare = |what: &str, stated: Option<f64>, now: f64, tolerance: f64| {
        if let Some(stated) = stated
            && (stated - now).abs() > tolerance
        {
            list.push(format!("states {what} {stated}; as it stands it is {now}"));
        }
    };
    compare("worth", stated.worth, decimal(goals.worth.0, 1000.0), 5e-4);
    let honey = decimal(goals.honey.0, 1e6);
    compare(
        "honey given up (kg)",
        stated.honey_given_up_charged_estimate_kg,
        honey,
        5e-7,
    );
    compare(
        "colonies opened",
        stated.colonies_opened,
        f64::from(goals.opened),
        0.5,
    );
    let shaken = decimal(goals.shaken.0, 1.0);
    compare("bees shaken", stated.bees_shaken, shaken, 0.5);
    list
}
