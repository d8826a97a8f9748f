//! `compare`: what has changed from one plan to another.

use super::args::{self, CompareFormat};
use super::commands::{plan_bytes, show};
use super::files::{is_stdin, label, print};
use super::stock::width;
use super::task::{Detail, detail};
use super::{Exit, Stop, note};
use crate::output::compare::{Sheet, compare, markdown, read_sheet, table};
use crate::output::json;
use std::path::{Path, PathBuf};

/// What `compare` is to do.
#[derive(Debug)]
pub(super) struct CompareTask {
    old: PathBuf,
    new: PathBuf,
    format: CompareFormat,
    /// Columns of the table, where the terminal is not to be asked.
    width: Option<usize>,
    detail: Detail,
}

impl CompareTask {
    pub(super) fn from_args(a: args::Compare) -> Result<Self, Stop> {
        if is_stdin(&a.old) && is_stdin(&a.new) {
            return Err(Stop::Said(
                "the old plan and the new one cannot both come from stdin (-)".to_owned(),
            ));
        }
        Ok(Self {
            old: a.old,
            new: a.new,
            format: a.format.unwrap_or(CompareFormat::Table),
            width: a.width.map(usize::from),
            detail: detail(a.quiet, false),
        })
    }
}

/// Reads both plans and shows what has changed. Changed or not, the question is answered.
pub(super) fn perform(task: &CompareTask) -> Result<Exit, Stop> {
    // The findings of both files, not of the first alone.
    let (old, new) = (sheet(&task.old, task.detail), sheet(&task.new, task.detail));
    let (old, new) = (old?, new?);
    let report = compare(&old, &new);
    let stale = [&task.old, &task.new].into_iter().zip(&report.stale);
    for (path, stale) in stale.filter(|_| task.detail != Detail::Quiet) {
        if let Some(stale) = stale {
            note(&format!("note: {}: {stale}", label(path)));
        }
    }
    let text = match task.format {
        CompareFormat::Table => table(&report, task.width.unwrap_or_else(|| width(false))),
        CompareFormat::Markdown => markdown(&report),
        CompareFormat::Json => {
            json(&report).map_err(|e| Stop::Said(format!("cannot write the changes: {e}")))?
        }
    };
    print(&text)?;
    Ok(Exit::Done)
}

fn sheet(path: &Path, detail: Detail) -> Result<Sheet, Stop> {
    let bytes = plan_bytes(path, detail)?;
    let result = read_sheet(&label(path), &bytes);
    show(&result.findings, &bytes, detail);
    result.sheet.ok_or(Stop::Reported)
}
