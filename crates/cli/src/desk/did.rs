//! What the last change did, and whether today's boxes still stand.

use crate::output::Notes;
use crate::output::probe::{self, Draws, Row};
use crate::output::words::clean;
use crate::plan::Earlier;
use serde::Serialize;
use spareframe_solver::{Compartment, Plan, Scenario};

/// What a change did.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub(crate) struct Did {
    /// In short: `+2 compartments, 0.13 kg more honey given up`.
    pub text: String,
    /// Colony by colony.
    pub why: Vec<String>,
    /// Fewer are stocked.
    pub worse: bool,
}

/// What is otherwise in a plan than in the one before.
pub(crate) fn did(
    (scenario, notes): (&Scenario, &Notes),
    before: (Row, Draws),
    mut now: (Row, Draws),
) -> Did {
    // What a choice of colonies costs stands in short above it.
    now.0.changes = vec![String::new()];
    let report = probe::build(scenario, notes, &[], vec![before, now]);
    let row = report.rows.last();
    let difference = row.and_then(|row| row.difference.as_ref());
    let mut parts = Vec::new();
    if let Some(d) = difference {
        let sign = |n: i64| if n > 0 { "+" } else { "\u{2212}" };
        if d.compartments_stocked != 0 {
            let n = d.compartments_stocked.abs();
            let what = if n == 1 {
                "compartment"
            } else {
                "compartments"
            };
            parts.push(format!("{}{n} {what}", sign(d.compartments_stocked)));
        } else if d.worth != 0.0 {
            parts.push(format!(
                "{} worth {}",
                if d.worth > 0.0 { "+" } else { "\u{2212}" },
                d.worth.abs()
            ));
        }
        if let Some(grams) = d.honey_given_up_g.filter(|grams| *grams != 0) {
            let kg = crate::output::decimal(grams.abs(), 1000.0);
            parts.push(format!("{}{kg:.2} kg of honey given up", sign(grams)));
        }
        if d.colonies_opened != 0 {
            let n = d.colonies_opened.abs();
            let what = if n == 1 { "hive" } else { "hives" };
            parts.push(format!("{}{n} {what} opened", sign(d.colonies_opened)));
        }
    }
    let colonies = |row: &&Row| !row.colonies.is_empty() || row.difference.is_none();
    let why = row.filter(colonies).map_or_else(Vec::new, probe::changes);
    let text = match (parts.is_empty(), difference.is_some(), why.is_empty()) {
        (false, ..) => parts.join(", "),
        (true, true, true) => "Nothing else changes".to_owned(),
        (true, true, false) => "As many, of other frames".to_owned(),
        (true, false, _) => "No plan".to_owned(),
    };
    Did {
        text,
        worse: difference.is_none_or(|d| d.compartments_stocked < 0 || d.worth < 0.0),
        why,
    }
}

/// Whether what was loaded still stands, in a sentence; and whether it does not.
pub(crate) fn verdict(scenario: &Scenario, earlier: &Earlier, plan: &Plan) -> (String, bool) {
    let place = |c: &Compartment| (c.kind, c.box_no, c.place);
    let now: Vec<_> = plan.compartments.iter().map(place).collect();
    let lost = earlier
        .plan
        .compartments
        .iter()
        .filter(|c| !now.contains(&place(c)));
    let name = |c: &Compartment| {
        let kind = scenario.boxes.get(c.kind.0);
        let single = kind.is_some_and(|kind| kind.compartments == 1);
        let number = match single {
            true => (c.box_no + 1).to_string(),
            false => format!("{}.{}", c.box_no + 1, c.place + 1),
        };
        match scenario.boxes.len() {
            1 => number,
            _ => format!(
                "{} {number}",
                kind.map_or(String::new(), |kind| clean(&kind.name))
            ),
        }
    };
    let lost: Vec<String> = lost.map(name).collect();
    let otherwise = plan.drawn_otherwise(&earlier.plan);
    match (lost.as_slice(), otherwise) {
        ([], 0) => (
            "Today\u{2019}s boxes still stand, as loaded.".to_owned(),
            false,
        ),
        ([], n) => {
            let frames = if n == 1 {
                "1 frame is"
            } else {
                &format!("{n} frames are")
            };
            (
                format!("Today\u{2019}s boxes still stand; {frames} drawn otherwise."),
                false,
            )
        }
        ([one], _) => (format!("{one} can no longer be filled."), true),
        (several, _) => (
            format!("{} can no longer be filled.", several.join(", ")),
            true,
        ),
    }
}
