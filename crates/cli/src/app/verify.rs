//! `verify`: a plan against its scenario, rule by rule.

use super::answer::said;
use super::args;
use super::detail::Detail;
use super::ended::{Exit, Stop, note};
use super::files::{is_stdin, label, print};
use super::load::{load, plan_bytes, show};
use crate::plan::{Stated, read_plan};
use spareframe_solver::{Goals, Prices, check};
use std::fmt::Write;
use std::path::PathBuf;

/// What `verify` is to do.
#[derive(Debug)]
pub(super) struct VerifyTask {
    scenario: PathBuf,
    plan: PathBuf,
    detail: Detail,
}

impl VerifyTask {
    pub(super) fn from_args(a: args::Verify) -> Result<Self, Stop> {
        if is_stdin(&a.of.scenario) && is_stdin(&a.plan) {
            return Err(Stop::Said(
                "scenario and plan cannot both come from stdin (-)".to_owned(),
            ));
        }
        Ok(Self {
            scenario: a.of.scenario,
            plan: a.plan,
            detail: (&a.quiet).into(),
        })
    }
}

/// Checks the plan and says what it breaks.
pub(super) fn perform(task: &VerifyTask) -> Result<Exit, Stop> {
    let VerifyTask {
        scenario,
        plan,
        detail,
    } = task;
    let detail = *detail;
    let (scenario, _) = load(scenario, detail)?;
    let bytes = plan_bytes(plan, detail)?;
    let read = read_plan(&scenario, &label(plan), &bytes);
    show(&read.findings, &bytes, detail);
    let (plan_value, stated) = read.plan.ok_or(Stop::Reported)?;
    let (goals, breaches) = check(&scenario, &plan_value);
    if detail != Detail::Quiet {
        for stale in stale(&stated, &goals, &scenario.prices) {
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
            let _ = writeln!(out, "  {}", said(&scenario, b));
        }
        if breaches.iter().any(|breach| breach.origin().is_some()) {
            out.push_str(COUNTING);
        }
    }
    let _ = writeln!(out, "{}", figures(&goals, &scenario.prices));
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
                        counts: brood, stores, empty, foundation,\na comb that holds less than the others a group of its own.\n";

/// What a plan reaches, exactly.
fn figures(goals: &Goals, prices: &Prices) -> String {
    let cost = &goals.cost;
    let opened = match cost.opened {
        1 => "1 colony".to_owned(),
        n => format!("{n} colonies"),
    };
    format!(
        "Worth {}, cost {} g in honey: {} g given up (estimate), burden {}, substitutes {}, {opened} \
         opened.",
        decimal(goals.worth.0, 1000.0),
        cost.total(prices).0,
        cost.honey.0,
        cost.burden,
        cost.substitutes,
    )
}

#[expect(
    clippy::cast_precision_loss,
    reason = "figures of an apiary stay far below 2^53"
)]
fn decimal(value: i64, unit: f64) -> f64 {
    value as f64 / unit
}

/// Figures in the file that the check does not confirm. What a file says of frames drawn otherwise than
/// in an earlier plan is taken as said; figures in honey of format 1 were rounded otherwise.
fn stale(stated: &Stated, goals: &Goals, prices: &Prices) -> Vec<String> {
    let mut list = Vec::new();
    let mut compare = |what: &str, stated: Option<f64>, now: f64, tolerance: f64| {
        if let Some(stated) = stated
            && (stated - now).abs() > tolerance
        {
            list.push(format!("states {what} {stated}; as it stands it is {now}"));
        }
    };
    compare("worth", stated.worth, decimal(goals.worth.0, 1000.0), 5e-4);
    let cost = &goals.cost;
    let whole = |value: i64| decimal(value, 1.0);
    let otherwise = stated.frames_drawn_otherwise.unwrap_or(0.0) * whole(prices.otherwise.0);
    compare(
        "cost (g)",
        stated.cost_g,
        whole(cost.total(prices).0) + otherwise,
        0.5,
    );
    let honey = stated.honey_given_up_g.filter(|_| !stated.first_format);
    compare("honey given up (g)", honey, whole(cost.honey.0), 0.5);
    compare("burden", stated.burden, whole(cost.burden), 0.5);
    compare(
        "substitutes",
        stated.substitutes,
        whole(cost.substitutes),
        0.5,
    );
    compare(
        "colonies opened",
        stated.colonies_opened,
        whole(cost.opened),
        0.5,
    );
    list
}
