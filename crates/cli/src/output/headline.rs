//! Sentences on the plan as a whole.

use super::counted;
use super::figures::{self, grams, some, whole};
use super::report::{
    Answer, AtMost, CompartmentReport, GoalName, Headline, ProofReport, ProofState, Report,
};
use super::wishes;
use super::words::{clean, free as free_of, next_cells};

/// The first sentence of a plan.
pub(super) fn answer(headline: &Headline) -> String {
    let h = headline;
    let free = i64::try_from(h.free()).unwrap_or(i64::MAX);
    let free = free_of(free, h.compartments_standing.into());
    match h.answer {
        Answer::Stocked => {
            let new = (h.free() > 0 || h.compartments_standing == 0)
                .then(|| format!("{} of {free} stocked", h.stocked_new()));
            let cells = next_cells(h.next_cells, h.next_cells_wanted);
            let given: Vec<String> = new
                .into_iter()
                .chain(cells.map(|of| of + " given"))
                .collect();
            let left = h.compartments_standing.saturating_sub(h.next_cells);
            let left = match left {
                0 => String::new(),
                1 => "; 1 other stands".to_owned(),
                left => format!("; {left} others stand"),
            };
            format!("{}{left}.", given.join(", "))
        }
        Answer::NothingPossible => {
            let most = h.at_most.as_ref().map_or(String::new(), |most| {
                format!(" or going beyond {}", at_most(most))
            });
            let cells = match h.next_cells_wanted {
                0 => String::new(),
                wanted => format!(
                    " and {}",
                    figures::counted(wanted.into(), "next cell", "next cells")
                ),
            };
            format!(
                "Nothing can be stocked: not one of {free}{cells} without breaking a rule{most}."
            )
        }
        Answer::WishNotMet => "No plan gives the frames that are wished for.".to_owned(),
        Answer::StoppedWithoutPlan => {
            "The time limit came before any plan was found. There may be \
             one: give it more time."
                .to_owned()
        }
    }
}

/// The sentences that follow the answer and the kinds of box.
pub(super) fn sentences(report: &Report) -> Vec<String> {
    let h = &report.headline;
    let mut list = Vec::new();
    list.extend(counted::sentence(h.counted_on.as_ref()));
    if let Some(proof) = &h.proof {
        list.push(self::proof(proof));
    }
    if report
        .cautions
        .iter()
        .any(|caution| caution.id.starts_with("days-"))
    {
        list.push(
            "The day does not suit the cells or queens: see the first of the cautions.".to_owned(),
        );
    }
    list.extend(ceiling(h));
    if h.colonies_opened > 0 || h.proof.is_some() {
        list.push(cost(h));
    }
    if h.colonies_opened > 0 || h.colonies_opened_for_queens > 0 || h.proof.is_some() {
        list.push(work(report));
    }
    list.extend(kept(report));
    list.extend(wishes::sentences(report));
    list
}

/// The order of the goals, which a plan states once.
const ORDER: &str = "Worth counts first, then cost.";

/// How sure the plan is, and the order of the goals.
pub(super) fn proof(proof: &ProofReport) -> String {
    let gap = match (proof.open_goal, proof.reached, proof.best_possible) {
        (Some(GoalName::Worth), Some(reached), Some(best)) => {
            format!(" Not proved: worth is {reached} here, and {best} at most in any plan.")
        }
        (Some(GoalName::Cost), Some(reached), Some(best)) => format!(
            " Proved: no plan is worth more. Not proved: cost is {} here, and at least {} in any plan of this worth.",
            grams(whole_grams(reached)),
            grams(whole_grams(best).div_euclid(10) * 10)
        ),
        _ => String::new(),
    };
    match proof.state {
        ProofState::ProvedBest => {
            format!(
                "{ORDER} Proved best: no plan is worth more, and none worth as much costs less."
            )
        }
        ProofState::BestFound => format!("{ORDER} Best found, not proved best.{gap}"),
        ProofState::StoppedByTimeLimit => {
            format!("{ORDER} Stopped by the time limit: the best found so far.{gap}")
        }
    }
}

/// A figure of the record in grams.
fn whole_grams(figure: f64) -> i64 {
    #[expect(clippy::cast_possible_truncation, reason = "grams of one apiary")]
    let grams = figure.round() as i64;
    grams
}

fn at_most(most: &AtMost) -> String {
    let count = |n: u64| i64::try_from(n).unwrap_or(i64::MAX);
    let compartments = most.compartments.map(count);
    let parts = [
        compartments.map(|n| figures::counted(n, "compartment", "compartments")),
        most.worth.map(|worth| format!("a worth of {worth}")),
    ];
    let parts: Vec<_> = parts.into_iter().flatten().collect();
    format!("at most {}", parts.join(" and "))
}

/// The most that was asked for.
fn ceiling(headline: &Headline) -> Option<String> {
    let most = headline.at_most.as_ref()?;
    let all = headline.compartments_in_all;
    let none = most.compartments.is_some_and(|most| most >= all);
    let by_worth =
        headline.kinds.len() > 1 && headline.worth != f64::from(headline.compartments_stocked);
    let more = match (none, by_worth && most.compartments.is_some()) {
        (true, _) => format!(" That limits nothing: the boxes have {all}."),
        (_, true) if most.worth.is_none() => {
            " Of so many, those worth most are stocked, whatever they cost: `--worth` asks for less worth at less cost, and \
             `curve` says what each costs."
                .to_owned()
        }
        _ => String::new(),
    };
    Some(format!("As asked, {}.{more}", at_most(most)))
}

/// What makes the cost, each part by itself.
pub(super) fn cost(headline: &Headline) -> String {
    let h = headline;
    let (honey, without) = match (h.honey_given_up_g, h.honey_given_up_simulated_g) {
        (None, _) => (
            None,
            " Honey given up is not estimated: no colony states a crop.",
        ),
        (Some(0), None | Some(0)) => (None, " No honey is given up."),
        (Some(charged), simulated) => {
            let again = simulated
                .map(grams)
                .filter(|again| *again != grams(charged));
            let again = again.map_or(String::new(), |again| format!("; {again} by simulation"));
            let honey = format!("{} given up (estimate{again})", grams(charged));
            (Some(honey), "")
        }
    };
    let price = &h.prices_g;
    let otherwise = h.frames_drawn_otherwise.unwrap_or(0);
    let weighed = [
        (
            h.burden,
            price.burden,
            "point of burden",
            "points of burden",
        ),
        (
            h.substitutes,
            price.substitute,
            "step to a substitute",
            "steps to substitutes",
        ),
        (
            h.colonies_opened,
            price.colony_opened,
            "colony opened",
            "colonies opened",
        ),
        (
            otherwise,
            price.frame_drawn_otherwise,
            "frame drawn differently",
            "frames drawn differently",
        ),
    ];
    let weighed = weighed.iter().filter(|(n, ..)| *n > 0);
    let weighed = weighed.map(|&(n, price, one, many)| {
        let weight = grams(n.saturating_mul(price));
        format!("{weight} for {}", figures::counted(n, one, many))
    });
    let parts: Vec<String> = honey.into_iter().chain(weighed).collect();
    let total = grams(h.cost_g);
    match parts.is_empty() {
        true => format!("Cost, in honey: {total}.{without}"),
        false => format!(
            "Cost, in honey: {total}. That is {}.{without}",
            parts.join(", ")
        ),
    }
}

/// What is kept of an earlier plan, in one sentence.
pub(super) fn kept(report: &Report) -> Option<String> {
    let kept = report.kept.as_ref()?;
    let plan = match &kept.day {
        Some(day) => format!("the plan of {}", clean(day)),
        None => "the earlier plan".to_owned(),
    };
    let of = |now: i64, then: i64, one: &str, many: &str| {
        format!("{} of {}", whole(now), figures::counted(then, one, many))
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
        _ if several => "What holds it back (more: `spareframe why`):",
        (_, Answer::Stocked) => "Any one of these would stock more (see `spareframe why`):",
        _ => "Any one of these would stock something (see `spareframe why`):",
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
    let bees = match headline.bees_taken {
        0 => "no bees".to_owned(),
        n => format!("{} bees", some(n)),
    };
    let home = match flying_home(report) {
        0 => String::new(),
        n => format!(" Drift: {} fly home.", some(n)),
    };
    let alone = match headline.colonies_opened_for_queens {
        0 => String::new(),
        1 => ", 1 of them for its queen alone".to_owned(),
        n => format!(", {} of them for their queens alone", whole(n)),
    };
    format!(
        "{} opened{alone}, {bees} taken.{home}",
        figures::counted(headline.opened(), "colony", "colonies"),
    )
}
