//! `compare`: what has changed from one plan to another.

use super::args;
use super::delivery::Delivery;
use super::detail::Detail;
use super::ended::{Exit, Stop, note};
use super::files::{is_stdin, label};
use super::load::{plan_bytes, show};
use crate::output::compare::compare;
use crate::plan::{Sheet, read_sheet};
use std::path::{Path, PathBuf};

/// What `compare` is to do.
#[derive(Debug)]
pub(super) struct CompareTask {
    old: PathBuf,
    new: PathBuf,
    shown: Delivery,
}

impl CompareTask {
    pub(super) fn from_args(a: args::Compare) -> Result<Self, Stop> {
        if is_stdin(&a.old) && is_stdin(&a.new) {
            return Err(Stop::Said(
                "the old plan and the new one cannot both come from stdin (-)".to_owned(),
            ));
        }
        let shown = Delivery::of(a.writing, &a.old, (&a.quiet).into())?.beside(&a.new)?;
        Ok(Self {
            old: a.old,
            new: a.new,
            shown: shown.wide(a.table.width),
        })
    }
}

/// Reads both plans and shows what has changed. Changed or not, the question is answered.
pub(super) fn perform(task: &CompareTask) -> Result<Exit, Stop> {
    let shown = &task.shown;
    shown.may_write()?;
    // The findings of both files, not of the first alone.
    let (old, new) = (
        sheet(&task.old, shown.detail),
        sheet(&task.new, shown.detail),
    );
    let (old, new) = (old?, new?);
    let report = compare(&old, &new);
    let stale = [&task.old, &task.new].into_iter().zip(&report.stale);
    for (path, stale) in stale.filter(|_| shown.detail != Detail::Quiet) {
        if let Some(stale) = stale {
            note(&format!("note: {}: {stale}", label(path)));
        }
    }
    shown.deliver(&report)?;
    Ok(Exit::Done)
}

fn sheet(path: &Path, detail: Detail) -> Result<Sheet, Stop> {
    let bytes = plan_bytes(path, detail)?;
    let result = read_sheet(&label(path), &bytes);
    show(&result.findings, &bytes, detail);
    result.sheet.ok_or(Stop::Reported)
}
