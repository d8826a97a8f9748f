//! Wishes: frames that colonies are to give at least.

use super::figures::counted;
use super::reasons::limits_in_short;
use super::report::{HeldBack, NotMet, Report, Wish};
use super::words::clean;
use spareframe_solver::{Cause, Give, Outcome, Scenario, why};

/// The wishes of a scenario, or those alone that cannot be met.
pub(super) fn wishes(scenario: &Scenario, outcome: &Outcome) -> Vec<Wish> {
    let wish = |give: &Give, not_met| {
        let colony = scenario.colonies.get(give.colony.0);
        Wish {
            colony: colony.map(|c| c.name.clone()).unwrap_or_default(),
            frame_group: give.group.map(|group| group.saturating_add(1)),
            frames: give.frames,
            not_met,
            held_by: match not_met {
                Some(NotMet::Limits) => held_by(scenario, give),
                _ => Vec::new(),
            },
        }
    };
    let Outcome::Unmet(unmet) = outcome else {
        return scenario.gives.iter().map(|give| wish(give, None)).collect();
    };
    let cause = |cause| match cause {
        Cause::Hold => NotMet::OnHold,
        Cause::TooFew => NotMet::TooFewFrames,
        Cause::Limits => NotMet::Limits,
        Cause::Together => NotMet::NotTogether,
    };
    let unmet = unmet.iter();
    unmet
        .map(|unmet| wish(&unmet.give, Some(cause(unmet.cause))))
        .collect()
}

/// The limits of the colony that forbid a wish.
fn held_by(scenario: &Scenario, give: &Give) -> Vec<HeldBack> {
    let sets = why::forbidding(scenario, give);
    let named = sets.iter().map(|limits| limits_in_short(scenario, limits));
    named.collect()
}

/// The wishes of a plan in sentences.
pub(super) fn sentences(report: &Report) -> Vec<String> {
    report.wishes.iter().map(sentence).collect()
}

/// One wish: that it is kept, or why it cannot be.
pub(super) fn sentence(wish: &Wish) -> String {
    let frames = counted(i64::from(wish.frames), "frame", "frames");
    let group = match wish.frame_group {
        None => String::new(),
        Some(group) => format!(" of frame group {group}"),
    };
    let colony = clean(&wish.colony);
    let held: Vec<String> = wish.held_by.iter().map(|held| clean(&held.text)).collect();
    let one_is_enough = match held.len() {
        0 | 1 => "",
        _ => "; easing one of them is enough",
    };
    let held = held.join(", and ") + one_is_enough;
    let why = match wish.not_met {
        None => return format!("As wished, colony {colony} gives at least {frames}{group}."),
        Some(NotMet::OnHold) => "it is on hold",
        Some(NotMet::TooFewFrames) => "it has too few without the queen",
        Some(NotMet::Limits) if !held.is_empty() => &held,
        Some(NotMet::Limits) => "the recipes take fewer of its frames",
        Some(NotMet::NotTogether) => {
            "the other wishes and the compartments that can be stocked leave fewer"
        }
    };
    format!("Colony {colony} cannot give {frames}{group}: {why}.")
}
