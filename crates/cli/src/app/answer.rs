//! The answer to a scenario, checked before anyone sees it.

use super::detail::Detail;
use super::ended::Stop;
use super::limit::Limit;
use crate::output::{self, Answer, Notes, Report};
use crate::plan::Earlier;
use crate::reading::plain;
use spareframe_solver::{
    Breach, Goals, Outcome, Plan, Scenario, SolveOptions, check, check_near, solve,
};

/// Most colonies for which a plan says unasked what keeps compartments empty (a choice: beyond, the
/// searches that it takes are felt).
const MOST_COLONIES: usize = 300;
/// The same for kinds of box.
const MOST_KINDS: usize = 30;

/// The answer to a scenario, near to an earlier plan where there is one, checked, and its report.
pub(super) fn answer(
    scenario: &Scenario,
    notes: &Notes,
    earlier: Option<&Earlier>,
    options: &SolveOptions,
    detail: Detail,
) -> Result<(Outcome, Report), Stop> {
    let limit = Limit::under(options);
    let near = earlier.map(|earlier| &earlier.plan);
    let options = &SolveOptions { near, ..*options };
    let outcome = solve(scenario, options);
    let mut report = told((scenario, notes), &outcome, options)?;
    hold_back((scenario, notes), &outcome, &mut report, limit, detail);
    Ok((outcome, report))
}

/// The report of an answer that is found, checked, but for what keeps compartments empty.
pub(super) fn told(
    (scenario, notes): (&Scenario, &Notes),
    outcome: &Outcome,
    options: &SolveOptions,
) -> Result<Report, Stop> {
    let goals = checked_near(scenario, outcome, options.near)?;
    let mut report = output::build(scenario, notes, outcome, &goals);
    report.headline.at_most = output::at_most(&options.most);
    Ok(report)
}

/// Says in a report what keeps compartments empty, where that is soon found or asked for.
pub(super) fn hold_back(
    (scenario, notes): (&Scenario, &Notes),
    outcome: &Outcome,
    report: &mut Report,
    limit: Limit,
    detail: Detail,
) {
    let quick = scenario.colonies.len() <= MOST_COLONIES && scenario.boxes.len() <= MOST_KINDS;
    let headline = &report.headline;
    let empty = u64::from(headline.compartments_stocked) < headline.may_be_stocked();
    let asked = detail == Detail::Verbose || headline.answer == Answer::NothingPossible;
    let known = !matches!(
        headline.answer,
        Answer::StoppedWithoutPlan | Answer::WishNotMet
    );
    // Where a ceiling was set, it is what keeps compartments empty.
    if empty && known && (quick || asked) && headline.at_most.is_none() {
        report.held_back_by = output::held_back_by(scenario, notes, outcome, &limit.explaining());
    }
}

/// The independent check of every plan before anyone sees it. Where nothing is stocked, the figures are
/// those of what is done, and nobody is to blame for that.
pub(super) fn checked(scenario: &Scenario, outcome: &Outcome) -> Result<Goals, Stop> {
    checked_near(scenario, outcome, None)
}

/// The same near to an earlier plan, whose frames drawn otherwise are a part of the cost.
pub(super) fn checked_near(
    scenario: &Scenario,
    outcome: &Outcome,
    near: Option<&Plan>,
) -> Result<Goals, Stop> {
    let stocking = match outcome {
        Outcome::Stocked(stocking) if !stocking.plan.compartments.is_empty() => stocking,
        _ => return Ok(check(scenario, &output::done_alone(scenario)).0),
    };
    let (goals, breaches) = match near {
        Some(near) => check_near(scenario, &stocking.plan, near),
        None => check(scenario, &stocking.plan),
    };
    let words = |breach| said(scenario, breach);
    let mut faults: Vec<String> = breaches.iter().map(words).collect();
    if goals != stocking.goals {
        faults.push(format!(
            "figures differ: solver {:?}, check {goals:?}",
            stocking.goals
        ));
    }
    if faults.is_empty() {
        return Ok(goals);
    }
    Err(bug(&faults))
}

/// Plans that fail the check are our bug, and no figure of them is shown.
pub(super) fn bug(faults: &[String]) -> Stop {
    Stop::Said(format!(
        "this is a bug of Spareframe, not of your scenario: its plan fails its own check, so it \
         is not shown.\n  {}\nPlease send us the scenario file, this message and the version \
         ({}).",
        faults.join("\n  "),
        env!("CARGO_PKG_VERSION")
    ))
}

/// A breach in one line, its rule id first.
pub(super) fn said(scenario: &Scenario, breach: &Breach) -> String {
    plain(&breach.in_words(scenario).to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use spareframe_solver::{BoxId, Compartment, Cost, Proof, Stocking};

    fn stocked(compartments: Vec<Compartment>) -> Outcome {
        let cost = Cost {
            opened: 3,
            ..Cost::default()
        };
        Outcome::Stocked(Stocking {
            plan: Plan {
                compartments,
                ..Plan::default()
            },
            goals: Goals {
                cost,
                ..Goals::default()
            },
            proof: Proof::Best,
        })
    }

    #[test]
    fn a_plan_that_fails_the_check_is_never_shown_but_reported_as_our_bug() {
        let one = Compartment {
            kind: BoxId(0),
            box_no: 0,
            place: 0,
            frames: vec![],
            bees: vec![],
        };
        let checked = checked(&Scenario::default(), &stocked(vec![one]));
        let Err(Stop::Said(text)) = checked else {
            panic!("the plan passed");
        };
        for part in [
            "this is a bug of Spareframe, not of your scenario",
            "figures differ",
            "Please send us the scenario file",
            env!("CARGO_PKG_VERSION"),
        ] {
            assert!(text.contains(part), "{text}");
        }
    }

    #[test]
    fn a_plan_without_a_compartment_is_an_honest_answer() {
        let scenario = Scenario::default();
        let outcome = stocked(vec![]);
        let Ok(goals) = checked(&scenario, &outcome) else {
            panic!("called a bug");
        };
        assert_eq!(goals, Goals::default());
        let report = output::build(&scenario, &Notes::default(), &outcome, &goals);
        assert_eq!(report.headline.answer, Answer::NothingPossible);
    }
}
