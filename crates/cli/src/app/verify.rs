//! `verify`: a plan against its scenario, rule by rule.

use super::commands::load;
use super::files::{label, print, read};
use super::{Exit, Stop, note};
use crate::output::plan_file::{Problem, Stated, read_plan};
use spareframe_solver::{Breach, Goals, Rule, check};
use std::fmt::Write;
use std::path::Path;

pub(super) fn verify(scenario: &Path, plan: &Path) -> Result<Exit, Stop> {
    let (scenario, _) = load(scenario)?;
    let bytes = read(plan)?;
    let (plan_value, stated) = read_plan(&scenario, &bytes).map_err(|problems| {
        let source = String::from_utf8_lossy(&bytes);
        for problem in &problems {
            note(&located(&label(plan), &source, problem));
        }
        Stop::Reported
    })?;
    let (goals, breaches) = check(&scenario, &plan_value);
    for stale in stale(&stated, &goals) {
        note(&format!("note: {}: {stale}", label(plan)));
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
    };
    let line = format!(
        "{rule}: {}: found {}, expected {}",
        breach.place, breach.found, breach.expected
    );
    line.chars()
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect()
}

fn located(name: &str, source: &str, problem: &Problem) -> String {
    let clean = |s: &str| -> String {
        s.chars()
            .map(|c| if c.is_control() { ' ' } else { c })
            .collect()
    };
    let text = clean(&problem.text);
    if problem.line == 0 {
        return format!("error: {name}: {text}");
    }
    let at = format!("{name}:{}:{}", problem.line, problem.column);
    let index = usize::try_from(problem.line - 1).unwrap_or(usize::MAX);
    let Some(line) = source.lines().nth(index) else {
        return format!("error: {at}: {text}");
    };
    let column = usize::try_from(problem.column.saturating_sub(1)).unwrap_or(0);
    // A very long line (JSON on one line) would bury the message.
    if line.chars().count() > 200 {
        return format!("error: {at}: {text}");
    }
    let before: String = line.chars().take(column).collect();
    let indent = " ".repeat(unicode_width::UnicodeWidthStr::width(
        clean(&before).as_str(),
    ));
    format!("error: {at}: {text}\n  | {}\n  | {indent}^", clean(line))
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
        stated.colonies_opened.map(f64::from),
        f64::from(goals.opened),
        0.5,
    );
    let shaken = decimal(goals.shaken.0, 1.0);
    compare(
        "bees shaken",
        stated.bees_shaken.map(|b| decimal(b, 1.0)),
        shaken,
        0.5,
    );
    list
}
