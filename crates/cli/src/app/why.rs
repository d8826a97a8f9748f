//! `why`: what holds the plan back, and what one more would take.

use super::answer::{bug, checked};
use super::args;
use super::delivery::Delivery;
use super::ended::{Exit, Stop};
use super::limit::Limit;
use super::load::load;
use super::progress::with_progress;
use super::rounds::Rounds;
use super::what_if::why_season;
use crate::output::reasons::{self as output, WhyReport};
use crate::output::{self as plans, Notes, Report};
use spareframe_solver::why::why;
use spareframe_solver::{Outcome, Plan, Scenario, SolveOptions, solve};
use std::path::PathBuf;

/// What `why` is to do.
#[derive(Debug)]
pub(super) struct WhyTask {
    scenario: PathBuf,
    /// All rounds are asked about.
    season: bool,
    time_limit: Limit<'static>,
    shown: Delivery,
}

impl WhyTask {
    pub(super) fn from_args(a: args::Why) -> Result<Self, Stop> {
        let shown = Delivery::of(a.writing, &a.of.scenario, (&a.said).into())?;
        Ok(Self {
            scenario: a.of.scenario,
            season: a.about.of_season,
            time_limit: Limit::of(a.time.time_limit),
            shown: shown.wide(a.table.width),
        })
    }
}

/// Finds the plan, then its reasons, and shows them.
pub(super) fn perform(task: &WhyTask) -> Result<Exit, Stop> {
    let shown = &task.shown;
    shown.may_write()?;
    let (scenario, notes) = load(&task.scenario, shown.detail)?;
    if task.season {
        let rounds = Rounds::of(&scenario, &notes)?;
        let why = with_progress(shown.detail, |_| why_season(&rounds, task.time_limit))?;
        shown.deliver(&why)?;
        let nothing = why.headline.stock_today == 0 && why.headline.queens == 0;
        return Ok(if nothing { Exit::No } else { Exit::Done });
    }
    let options = task.time_limit.solving();
    let outcome = with_progress(shown.detail, |progress| {
        let options = SolveOptions {
            progress,
            ..options
        };
        solve(&scenario, &options)
    });
    let goals = checked(&scenario, &outcome)?;
    let report = plans::build(&scenario, &notes, &outcome, &goals);
    let found = with_progress(shown.detail, |_| {
        reasons((&scenario, &notes), &report, &outcome, task.time_limit)
    })?;
    // There is no plan of which there could be reasons; the answer says why.
    let Some(reasons) = found else {
        shown.deliver(&report)?;
        return Ok(Exit::No);
    };
    shown.deliver(&reasons)?;
    Ok(match outcome {
        Outcome::Stocked(_) => Exit::Done,
        Outcome::Nothing | Outcome::TimedOut | Outcome::Unmet(_) => Exit::No,
    })
}

/// The reasons of a plan; none where wishes cannot be met.
pub(super) fn reasons(
    (scenario, notes): (&Scenario, &Notes),
    report: &Report,
    outcome: &Outcome,
    time_limit: Limit,
) -> Result<Option<WhyReport>, Stop> {
    let empty = Plan::default();
    let plan = match outcome {
        Outcome::Stocked(stocking) => &stocking.plan,
        Outcome::Unmet(_) => return Ok(None),
        Outcome::Nothing | Outcome::TimedOut => &empty,
    };
    let found = why(scenario, outcome, &time_limit.explaining());
    if found.refused > 0 {
        let fault = format!("{} plans of what is offered fail the check", found.refused);
        return Err(bug(&[fault]));
    }
    Ok(Some(output::build(scenario, notes, report, plan, &found)))
}
