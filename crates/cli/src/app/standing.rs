//! `standing`: what stands in boxes, and what is next.

use super::args;
use super::delivery::{Delivery, no_day};
use super::ended::{Exit, Stop};
use super::files::{label, read};
use super::load::show;
use crate::output::standing::build;
use crate::scenario;
use std::path::PathBuf;

/// What `standing` is to do.
#[derive(Debug)]
pub(super) struct StandingTask {
    scenario: PathBuf,
    shown: Delivery,
}

impl StandingTask {
    pub(super) fn from_args(a: args::Standing) -> Result<Self, Stop> {
        let shown = Delivery::of(a.writing, &a.of.scenario, (&a.quiet).into())?;
        Ok(Self {
            scenario: a.of.scenario,
            shown: shown.wide(a.table.width).marked(a.mark.bom)?,
        })
    }
}

/// Shows what stands; the answer is no where nothing does.
pub(super) fn perform(task: &StandingTask) -> Result<Exit, Stop> {
    task.shown.may_write()?;
    let bytes = read(&task.scenario)?;
    let read = scenario::read(&label(&task.scenario), &bytes);
    show(&read.findings, &bytes, task.shown.detail);
    let loaded = read.loaded.ok_or(Stop::Reported)?;
    let report = build(&loaded).ok_or_else(no_day)?;
    task.shown.deliver(&report)?;
    Ok(match report.compartments.is_empty() {
        true => Exit::No,
        false => Exit::Done,
    })
}
