//! `curve`: honey against compartments, every step of it.

use super::args::{self, CurveFormat};
use super::commands::load;
use super::files::{deliver, may_write};
use super::stock::{bug, width, with_progress};
use super::task::{Detail, detail, out_file};
use super::{Exit, Stop};
use crate::output::TableOptions;
use crate::output::curve::{self as output, CurveReport};
use crate::output::{json, yaml};
use spareframe_solver::{Curve, SolveOptions, curve};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// What `curve` is to do.
#[derive(Debug)]
pub(super) struct CurveTask {
    scenario: PathBuf,
    format: CurveFormat,
    out: Option<PathBuf>,
    force: bool,
    time_limit: Option<Duration>,
    detail: Detail,
    /// Columns of the table, where the terminal is not to be asked.
    width: Option<usize>,
}

impl CurveTask {
    pub(super) fn from_args(a: args::Curve) -> Result<Self, Stop> {
        let out = out_file(a.out, &a.scenario)?;
        let by_ending = out.as_deref().and_then(format_of);
        Ok(Self {
            format: a.format.or(by_ending).unwrap_or(CurveFormat::Table),
            scenario: a.scenario,
            out,
            force: a.force,
            time_limit: a.time_limit,
            width: a.width.map(usize::from),
            detail: detail(a.quiet, a.verbose),
        })
    }
}

fn format_of(path: &Path) -> Option<CurveFormat> {
    match path.extension()?.to_str()?.to_ascii_lowercase().as_str() {
        "md" | "markdown" => Some(CurveFormat::Markdown),
        "csv" => Some(CurveFormat::Csv),
        "json" => Some(CurveFormat::Json),
        "yaml" | "yml" => Some(CurveFormat::Yaml),
        "svg" => Some(CurveFormat::Svg),
        _ => None,
    }
}

/// Finds the curve and shows it.
pub(super) fn perform(task: &CurveTask) -> Result<Exit, Stop> {
    if let Some(out) = &task.out {
        may_write(out, task.force)?;
    }
    let (scenario, notes) = load(&task.scenario, task.detail)?;
    let options = SolveOptions {
        time_limit: task.time_limit,
        ..SolveOptions::default()
    };
    let found = with_progress(task.detail, || curve(&scenario, &options));
    checked(&found)?;
    let report = output::build(&scenario, &notes, &found);
    deliver(
        &text(task, &report)?,
        task.out.as_deref(),
        task.force,
        task.detail,
    )?;
    let stocked = found.points.iter().any(|point| point.worth.0 > 0);
    Ok(if stocked { Exit::Done } else { Exit::No })
}

/// No figure of a plan that fails the check is shown.
pub(super) fn checked(found: &Curve) -> Result<(), Stop> {
    let breaches = found.points.iter().flat_map(|point| &point.breaches);
    let faults: Vec<String> = breaches.map(super::verify::breach).collect();
    match faults.is_empty() {
        true => Ok(()),
        false => Err(bug(&faults)),
    }
}

fn text(task: &CurveTask, report: &CurveReport) -> Result<String, Stop> {
    let failed = |e: &dyn std::fmt::Display| Stop::Said(format!("cannot write the curve: {e}"));
    match task.format {
        CurveFormat::Table => Ok(output::table(
            report,
            TableOptions {
                width: task.width.unwrap_or_else(|| width(task.out.is_some())),
                verbose: task.detail == Detail::Verbose,
            },
        )),
        CurveFormat::Markdown => Ok(output::markdown(report)),
        CurveFormat::Csv => output::csv(report).map_err(|e| failed(&e)),
        CurveFormat::Json => json(report).map_err(|e| failed(&e)),
        CurveFormat::Yaml => yaml(report).map_err(|e| failed(&e)),
        CurveFormat::Svg => output::svg(report).map_err(|e| failed(&e)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use spareframe_solver::{Breach, Milligrams, Point, Proof, Rule, Worth};

    #[test]
    fn a_point_whose_plan_fails_the_check_is_reported_as_our_bug() {
        let breach = Breach {
            rule: Rule::Keep,
            place: "colony 4".to_owned(),
            found: "1".to_owned(),
            expected: "2".to_owned(),
        };
        let point = Point {
            worth: Worth(1000),
            honey: Milligrams(0),
            compartments: vec![1],
            proof: Proof::Best,
            breaches: vec![breach],
        };
        let found = Curve {
            points: vec![point],
            ..Curve::default()
        };
        let Err(Stop::Said(text)) = checked(&found) else {
            panic!("the curve passed");
        };
        assert!(
            text.contains("keep: colony 4: found 1, expected 2"),
            "{text}"
        );
    }
}
