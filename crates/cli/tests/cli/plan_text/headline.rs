//! The answer, its proof and its cost.

use super::support::flat;
use crate::support::{notes, report, scenario, stocking};
use spareframe::output::{self, Report, TableOptions};
use spareframe::plan::read_plan;
use spareframe_solver::{
    Ceiling, Cost, Goal, Goals, Grams, Outcome, Proof, Rule, Stocking, Worth, check,
};

/// The report of an answer that the time limit left open.
fn stopped(mut open: Stocking, goal: Goal, bound: i64) -> Report {
    open.proof = Proof::Open {
        goal,
        bound,
        timed_out: true,
    };
    let goals = open.goals;
    output::build(&scenario(), &notes(), &Outcome::Stocked(open), &goals)
}

#[test]
fn a_gap_is_told_as_a_gap() {
    let report = stopped(stocking(), Goal::Worth, 4000);
    let text = output::table(&report, TableOptions::default());
    assert!(text.contains("Stopped by the time limit"), "{text}");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("Not proved: worth is 3 here, and 4 at most in any plan."),
        "{text}"
    );
}

#[test]
fn nothing_possible_is_said_plainly() {
    let report = output::build(&scenario(), &notes(), &Outcome::Nothing, &Goals::default());
    let text = output::table(&report, TableOptions::default());
    assert!(
        text.contains("Nothing can be stocked: not one of 4"),
        "{text}"
    );
    assert!(!text.contains("Cautions"), "{text}");
}

#[test]
fn the_cost_is_said_part_by_part_and_the_order_of_the_goals_once() {
    let report = report();
    let h = &report.headline;
    let price = &h.prices_g;
    let parts = [
        h.honey_given_up_g.unwrap(),
        h.burden * price.burden,
        h.substitutes * price.substitute,
        h.colonies_opened * price.colony_opened,
    ];
    assert_eq!(h.cost_g, parts.iter().sum::<i64>());
    assert!(parts.iter().all(|&part| part > 0), "{parts:?}");
    let text = flat(&report);
    assert_eq!(text.matches("Cost, in honey: ").count(), 1, "{text}");
    for part in [
        " given up (estimate",
        " points of burden, ",
        " to substitutes, ",
        "2 colonies opened.",
    ] {
        assert!(text.contains(part), "{part}\n{text}");
    }
    let goals = "no plan is worth more, and none worth as much costs less";
    assert_eq!(text.matches(goals).count(), 1, "{text}");
}

#[test]
fn without_an_expected_crop_honey_is_not_estimated_rather_than_none() {
    let mut scenario = scenario();
    for colony in &mut scenario.colonies {
        colony.crop = None;
    }
    let mut stocking = stocking();
    stocking.goals = check(&scenario, &stocking.plan).0;
    let goals = stocking.goals;
    let report = output::build(&scenario, &notes(), &Outcome::Stocked(stocking), &goals);
    assert_eq!(report.headline.honey_given_up_g, None);
    let text = flat(&report);
    assert!(text.contains("Honey given up is not estimated"), "{text}");
    assert!(!text.contains("no honey"), "{text}");
    assert!(output::markdown(&report).contains("| not estimated |"));
    let yaml = output::yaml(&report).unwrap();
    assert_eq!(read_plan(&scenario, "plan", yaml.as_bytes()).findings, []);
}

#[test]
fn what_was_asked_for_at_most_is_said() {
    let mut report = report();
    report.headline.at_most = output::at_most(&Ceiling {
        compartments: Some(3),
        worth: Some(Worth(3500)),
    });
    let text = flat(&report);
    assert!(
        text.contains("As asked, at most 3 compartments and a worth of 3.5."),
        "{text}"
    );
}

#[test]
fn where_nothing_more_is_possible_the_figures_are_those_of_what_is_done() {
    let mut scenario = scenario();
    let done = stocking().plan.compartments[0].clone();
    scenario.done = vec![done];
    let plan = output::done_alone(&scenario);
    let (goals, breaches) = check(&scenario, &plan);
    assert!(
        breaches.iter().all(|breach| breach.rule == Rule::Done),
        "{breaches:?}"
    );
    let report = output::build(&scenario, &notes(), &Outcome::Nothing, &goals);
    let h = &report.headline;
    assert_eq!((h.compartments_stocked, h.worth), (0, 0.0));
    assert_eq!((h.bees_taken, h.colonies_opened), (2400, 1));
    assert!(
        h.honey_given_up_g > Some(0) && h.honey_given_up_simulated_g > Some(0),
        "{h:?}"
    );
    assert!(h.burden > 0 && h.cost_g > h.honey_given_up_g.unwrap());
    assert_eq!(report.colonies.len(), 1);
    assert_eq!(report.colonies[0].done.unwrap().bees, 2400);
    let text = flat(&report);
    assert!(
        text.contains("1 colony opened, some 2,400 bees taken."),
        "{text}"
    );
    assert!(
        text.contains("taken already: 2 frames and some 2,400 bees"),
        "{text}"
    );
}

#[test]
fn what_the_cost_may_still_be_is_said_as_a_person_weighs_it_and_never_too_high() {
    let mut open = stocking();
    open.goals.cost = Cost {
        honey: Grams(1236),
        ..Cost::default()
    };
    let text = flat(&stopped(open, Goal::Cost, 1229));
    let wanted = "cost is 1.24 kg here, and at least 1.22 kg in any plan of this worth.";
    assert!(text.contains(wanted), "{text}");
}
