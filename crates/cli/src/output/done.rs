//! What is already done, in words: what is left begun, and limits that it alone went beyond.

use super::figures::{counted, some};
use super::report::{Caution, ColonyReport, CompartmentReport, DoneDraw, Progress, Report};
use super::words::{Words, clean};
use spareframe_solver::{Plan, Rule, Scenario, check};

/// Cautions on what is already done.
pub(super) fn cautions(scenario: &Scenario, report: &Report) -> Vec<Caution> {
    let mut list = Vec::new();
    let mut add = |id: &str, text: String| {
        list.push(Caution {
            id: id.to_owned(),
            text,
        });
    };
    let words = Words::of(report);
    let left: Vec<_> = report.begun.iter().collect();
    if !left.is_empty() {
        add(
            "begun",
            format!(
                "Begun and not stocked: {}. The plan adds nothing there. Without a cell or a queen and \
                 enough bees it comes to nothing: put frames and bees back where they came from, or unite \
                 them with another compartment.",
                words.listed(&left)
            ),
        );
    }
    let beyond = beyond(scenario);
    if !beyond.is_empty() {
        add(
            "done-beyond",
            format!(
                "What is already done goes beyond limits, and the plan takes nothing more there: {}.",
                beyond.join("; ")
            ),
        );
    }
    list
}

/// Floors and caps that what is done breaks by itself, in the words of the check.
fn beyond(scenario: &Scenario) -> Vec<String> {
    if scenario.done.is_empty() {
        return Vec::new();
    }
    // Asked as if it were all still to be done.
    let fresh = Scenario {
        done: Vec::new(),
        gives: Vec::new(),
        ..scenario.clone()
    };
    let plan = Plan {
        begun: scenario.done.clone(),
        ..Plan::default()
    };
    let limits = check(&fresh, &plan)
        .1
        .into_iter()
        .filter(|breach| matches!(breach.rule, Rule::Keep | Rule::Draw));
    let words = limits.map(|breach| breach.in_words(&fresh));
    words
        .map(|b| clean(&format!("{}: {}, {}", b.place, b.found, b.expected)))
        .collect()
}

/// How far a compartment is done, to stand behind its name.
pub(super) fn mark(c: &CompartmentReport) -> &'static str {
    match c.done {
        None => "",
        Some(Progress::Begun) => " (begun)",
        Some(Progress::Finished) => " (finished)",
    }
}

/// What has already left a colony, in one line.
pub(super) fn taken(colony: &ColonyReport) -> Option<String> {
    let DoneDraw { frames, bees } = colony.done?;
    let frames = counted(i64::from(frames), "frame", "frames");
    Some(format!("taken already: {frames} and {} bees", some(bees)))
}

/// Behind the frames of a compartment, of which some are already in it.
pub(super) fn already(done: u32, all: u32) -> String {
    match done {
        0 => String::new(),
        n if n >= all => "; in it already".to_owned(),
        n => format!("; {n} of them in it already"),
    }
}
