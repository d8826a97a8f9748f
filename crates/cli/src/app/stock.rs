//! `stock`: read, solve, check, show.

use super::answer::answer;
use super::args;
use super::delivery::Delivery;
use super::ended::{Exit, Stop};
use super::files::is_stdin;
use super::limit::Limit;
use super::load::load;
use super::near;
use super::progress::with_progress;
use crate::output::{Notes, Stocked};
use spareframe_solver::{Ceiling, Scenario, SolveOptions};
use std::path::PathBuf;

/// What `stock` is to do.
#[derive(Debug)]
pub(super) struct StockTask {
    pub(super) scenario: PathBuf,
    /// An earlier plan to stay near to.
    pub(super) near: Option<PathBuf>,
    /// The most that is to be stocked.
    pub(super) most: Ceiling,
    pub(super) time_limit: Limit<'static>,
    pub(super) shown: Delivery,
}

impl StockTask {
    pub(super) fn from_args(a: args::Stock) -> Result<Self, Stop> {
        let scenario = a.of.scenario;
        let shown = Delivery::of(a.writing, &scenario, (&a.said).into())?;
        if a.near.as_deref().is_some_and(is_stdin) && is_stdin(&scenario) {
            return Err(Stop::Said(
                "scenario and plan cannot both come from stdin (-)".to_owned(),
            ));
        }
        Ok(Self {
            scenario,
            near: a.near,
            most: ceiling(&a.ceiling),
            time_limit: Limit::of(a.time.time_limit),
            shown: shown.wide(a.table.width),
        })
    }
}

/// The most that is to be stocked, as typed.
pub(super) fn ceiling(typed: &args::Most) -> Ceiling {
    Ceiling {
        compartments: typed.most,
        worth: typed.worth,
    }
}

pub(super) fn stock(task: &StockTask) -> Result<Exit, Stop> {
    task.shown.may_write()?;
    let (scenario, notes) = load(&task.scenario, task.shown.detail)?;
    plan(task, &scenario, &notes)
}

/// Finds and shows the plan of a scenario that is read.
pub(super) fn plan(task: &StockTask, scenario: &Scenario, notes: &Notes) -> Result<Exit, Stop> {
    let options = SolveOptions {
        most: task.most,
        ..task.time_limit.solving()
    };
    let earlier = match &task.near {
        Some(path) => Some(near::earlier(path, scenario, notes, task.shown.detail)?),
        None => None,
    };
    let (outcome, mut report) = with_progress(task.shown.detail, |progress| {
        let options = SolveOptions {
            progress,
            ..options
        };
        answer(
            scenario,
            notes,
            earlier.as_ref(),
            &options,
            task.shown.detail,
        )
    })?;
    if let (Some(path), Some(earlier)) = (&task.near, &earlier) {
        near::account(path, &mut report, earlier, &outcome, task.shown.detail);
    }
    task.shown.deliver(&Stocked {
        report: &report,
        scenario,
        notes,
    })?;
    Ok(Exit::of(&report))
}
