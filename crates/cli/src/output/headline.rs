//! Sentences on the plan as a whole.

use super::figures::{counted, whole};
use super::report::{Answer, CompartmentReport, Headline, ProofReport, ProofState, Report};
use super::wishes;
use super::words::{Words, clean};

/// The first sentence of a plan.
pub(super) fn answer(headline: &Headline) -> String {
    let in_all = i64::try_from(headline.compartments_in_all).unwrap_or(i64::MAX);
    let in_all = counted(in_all, "compartment", "compartments");
    match headline.answer {
        Answer::Stocked => format!("{} of {in_all} stocked.", headline.compartments_stocked),
        Answer::NothingPossible => {
            format!("Nothing possible: not one of {in_all} can be stocked without breaking a rule.")
        }
        Answer::WishNotMet => "No plan gives the frames that are wished for.".to_owned(),
        Answer::StoppedWithoutPlan => "Stopped by the time limit before any plan was found. There \
             may be one: give it more time."
            .to_owned(),
    }
}

/// The sentences that follow the answer and the kinds of box, where a plan is written as a list.
pub(super) fn sentences(report: &Report, words: &Words) -> Vec<String> {
    let h = &report.headline;
    let mut list = Vec::new();
    if let Some(proof) = &h.proof {
        list.extend([self::proof(proof), honey(h), work(report)]);
    }
    list.extend(kept(report));
    list.extend(wishes::sentences(report));
    let comb = words.only_comb(report);
    list.extend(comb.map(|comb| format!("All frames are {}.", clean(comb))));
    list
}

/// How sure the plan is.
pub(super) fn proof(proof: &ProofReport) -> String {
    let gap = match (&proof.open_goal, proof.reached, proof.best_possible) {
        (Some(goal), Some(reached), Some(best)) => {
            format!(" Not proved: {goal}, here {reached}, at best {best}.")
        }
        _ => String::new(),
    };
    match proof.state {
        ProofState::ProvedBest => {
            "Proved best: no plan does better in the order of the goals.".to_owned()
        }
        ProofState::BestFound => format!("Best found, not proved best.{gap}"),
        ProofState::StoppedByTimeLimit => {
            format!("Stopped by the time limit: the best found so far.{gap}")
        }
    }
}

/// Honey given up, in one sentence.
pub(super) fn honey(headline: &Headline) -> String {
    let charged = headline.honey_given_up_charged_estimate_kg;
    let simulated = headline.honey_given_up_simulated_estimate_kg;
    if charged == 0.0 && simulated == 0.0 {
        return "Honey given up (estimate): none.".to_owned();
    }
    format!("Honey given up (estimate): {charged:.2} kg charged, {simulated:.2} kg simulated.")
}

/// What is kept of an earlier plan, in one sentence.
pub(super) fn kept(report: &Report) -> Option<String> {
    let kept = report.kept.as_ref()?;
    let plan = match &kept.day {
        Some(day) => format!("the plan of {}", clean(day)),
        None => "the earlier plan".to_owned(),
    };
    let of = |now: i64, then: i64, one: &str, many: &str| {
        format!("{} of {}", whole(now), counted(then, one, many))
    };
    let wide = |n: u64| i64::try_from(n).unwrap_or(i64::MAX);
    let frames = of(
        wide(kept.frames_as_before),
        wide(kept.frames_then),
        "frame",
        "frames",
    );
    let (filled, all) = (kept.compartments_as_before, kept.compartments_then);
    let filled = of(filled.into(), all.into(), "compartment", "compartments");
    let names: Vec<_> = kept
        .colonies_changed
        .iter()
        .map(|name| clean(name))
        .collect();
    let changed = match names.len() {
        0 => "no colony gives anything else".to_owned(),
        1 => format!("changed: colony {}", names.join("")),
        _ => format!("changed: colonies {}", names.join(", ")),
    };
    Some(format!(
        "Kept from {plan}: {frames} drawn as before, {filled} with the same frames; {changed}."
    ))
}

/// Most limits that a plan names unless all are asked for (a choice: the rest is a command away).
const MOST_NAMED: usize = 3;

/// What keeps compartments empty: the lead, and an item for each limit; `all` names every one.
pub(super) fn held_back(report: &Report, all: bool) -> Option<(String, Vec<String>)> {
    let held = &report.held_back_by;
    let mut items: Vec<_> = held.iter().map(|h| clean(&h.text)).collect();
    let several = held.iter().any(|h| h.rule == "several");
    let lead = match (items.len(), report.headline.answer) {
        (0, _) => return None,
        _ if several => "What holds it back; `spareframe why` says more:",
        (_, Answer::Stocked) => "To stock more, any one of these; `spareframe why` says more:",
        _ => "To stock anything, any one of these; `spareframe why` says more:",
    };
    let more = items.len().saturating_sub(MOST_NAMED);
    if !all && more > 1 {
        items.truncate(MOST_NAMED);
        items.push(format!("and {more} others"));
    }
    Some((lead.to_owned(), items))
}

/// Bees that fly home, of all that are taken.
pub(super) fn flying_home(report: &Report) -> i64 {
    let lost = |c: &CompartmentReport| {
        let taken: i64 = c.bees.iter().map(|b| b.bees).sum();
        taken - c.bees_staying
    };
    report.compartments.iter().map(lost).sum()
}

/// Colonies and bees, in one sentence.
pub(super) fn work(report: &Report) -> String {
    let headline = &report.headline;
    let shaken = match headline.bees_shaken {
        0 => "none of them shaken from frames that stay".to_owned(),
        n => format!("{} of them shaken from frames that stay", whole(n)),
    };
    let home = match flying_home(report) {
        0 => String::new(),
        n => format!(" Drift: {} of the bees fly home.", whole(n)),
    };
    format!(
        "{} opened, {} taken, {shaken}.{home}",
        counted(i64::from(headline.colonies_opened), "colony", "colonies"),
        counted(headline.bees_taken, "bee", "bees"),
    )
}
