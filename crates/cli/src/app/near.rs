//! The earlier plan that `stock --near` stays near to.

use super::detail::Detail;
use super::ended::{Stop, note};
use super::files::label;
use super::load::{plan_bytes, show};
use crate::output::{Notes, Report, keep_account};
use crate::plan::{Earlier, read_earlier};
use crate::reading::plain;
use spareframe_solver::{Outcome, Scenario};
use std::path::Path;

/// Reads the earlier plan; says what is no longer there.
pub(super) fn earlier(
    path: &Path,
    scenario: &Scenario,
    notes: &Notes,
    detail: Detail,
) -> Result<Earlier, Stop> {
    let bytes = plan_bytes(path, detail)?;
    let read = read_earlier(scenario, &notes.places, &label(path), &bytes);
    show(&read.findings, &bytes, detail);
    let earlier = read.earlier.ok_or(Stop::Reported)?;
    if detail != Detail::Quiet {
        for gone in &earlier.gone {
            note(&format!("note: {}: {}", label(path), plain(gone)));
        }
    }
    Ok(earlier)
}

/// Says what is kept of the earlier plan: in the report, or on stderr where it is all.
pub(super) fn account(
    path: &Path,
    report: &mut Report,
    earlier: &Earlier,
    outcome: &Outcome,
    detail: Detail,
) {
    let Outcome::Stocked(stocking) = outcome else {
        return;
    };
    if !keep_account(report, earlier, &stocking.plan) && detail != Detail::Quiet {
        let file = label(path);
        note(&format!(
            "note: {file}: nothing to change, the plan stays as it is"
        ));
    }
}
