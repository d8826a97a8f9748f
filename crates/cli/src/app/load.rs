//! Files that are read, and what is found in them.

use super::delivery::no_day;
use super::detail::Detail;
use super::ended::{Stop, columns, note};
use super::files::{label, read};
use crate::output::Notes;
use crate::plan::read_back;
use crate::reading::{Finding, Severity};
use crate::scenario;
use jiff::civil::Date;
use spareframe_solver::Scenario;
use std::path::Path;

/// Reads a scenario; every finding goes to stderr, all at once.
pub(super) fn load(path: &Path, detail: Detail) -> Result<(Scenario, Notes), Stop> {
    load_bytes(path, &read(path)?, detail)
}

/// The same of a file whose bytes are at hand.
pub(super) fn load_bytes(
    path: &Path,
    bytes: &[u8],
    detail: Detail,
) -> Result<(Scenario, Notes), Stop> {
    let result = scenario::read(&label(path), bytes);
    show(&result.findings, bytes, detail);
    let loaded = result.loaded.ok_or(Stop::Reported)?;
    let notes = Notes::from(&loaded);
    Ok((loaded.scenario, notes))
}

/// The stocking day of a scenario.
pub(super) fn stocking_day(notes: &Notes) -> Result<Date, Stop> {
    let day = notes.day.as_deref().and_then(|day| day.parse().ok());
    day.ok_or_else(no_day)
}

/// Refuses a day that is not closed, where what is to come is asked for.
pub(super) fn closed(scenario: &Scenario) -> Result<(), Stop> {
    match scenario.done.is_empty() {
        true => Ok(()),
        false => Err(Stop::Said(
            "something is done already (`done`): what stands in boxes is not in the colonies any more; \
             close the day with `spareframe onward`, then ask again"
                .to_owned(),
        )),
    }
}

/// The bytes of a plan; of a page, the plan in it.
pub(super) fn plan_bytes(path: &Path, detail: Detail) -> Result<Vec<u8>, Stop> {
    let bytes = read(path)?;
    match read_back(&label(path), &bytes) {
        Ok(plan) => Ok(plan.into_owned()),
        Err(findings) => {
            show(&findings, &bytes, detail);
            Err(Stop::Reported)
        }
    }
}

/// Findings on stderr; the quiet see errors only.
pub(super) fn show(findings: &[Finding], bytes: &[u8], detail: Detail) {
    let source = String::from_utf8_lossy(bytes);
    for finding in findings {
        if detail != Detail::Quiet || finding.severity == Severity::Error {
            note(finding.render_within(&source, true, columns()).trim_end());
        }
    }
}
