//! `calendar`: days, feed and queens to expect of a plan.

use super::answer::answer;
use super::args;
use super::delivery::{Delivery, no_day};
use super::ended::{Exit, Stop};
use super::limit::Limit;
use super::load::load;
use super::probe::changed;
use super::progress::with_progress;
use crate::output::Dates;
use crate::output::calendar::build;
use spareframe_solver::SolveOptions;
use std::path::PathBuf;

/// What `calendar` is to do.
#[derive(Debug)]
pub(super) struct CalendarTask {
    scenario: PathBuf,
    /// Values changed first.
    sets: Vec<String>,
    revision: u32,
    time_limit: Limit<'static>,
    shown: Delivery,
}

impl CalendarTask {
    pub(super) fn from_args(a: args::Calendar) -> Result<Self, Stop> {
        let shown = Delivery::of(a.writing, &a.of.scenario, (&a.said).into())?;
        Ok(Self {
            scenario: a.of.scenario,
            sets: a.sets.set,
            revision: a.handed_on.revision,
            time_limit: Limit::of(a.time.time_limit),
            shown: shown.wide(a.table.width),
        })
    }
}

/// Finds the plan and shows its calendar.
pub(super) fn perform(task: &CalendarTask) -> Result<Exit, Stop> {
    let shown = &task.shown;
    shown.may_write()?;
    let (scenario, notes) = match task.sets.is_empty() {
        true => load(&task.scenario, shown.detail)?,
        false => changed(&task.scenario, &task.sets, shown.detail)?,
    };
    if notes.day.is_none() {
        return Err(no_day());
    }
    let options = task.time_limit.solving();
    let (_, report) = with_progress(shown.detail, |progress| {
        let options = SolveOptions {
            progress,
            ..options
        };
        answer(&scenario, &notes, None, &options, shown.detail)
    })?;
    let calendar = build(&scenario, &notes, &report).ok_or_else(no_day)?;
    shown.deliver(&Dates {
        report: &report,
        calendar: &calendar,
        revision: task.revision,
    })?;
    Ok(Exit::of(&report))
}
