//! `curve`: cost against compartments, every step of it.

use super::args::{self, CurveFormat};
use super::commands::load;
use super::files::{deliver, may_write};
use super::limit::Limit;
use super::progress::with_progress;
use super::stock::{bug, width};
use super::task::{Detail, detail, out_file};
use super::{Exit, Stop};
use crate::output::TableOptions;
use crate::output::curve::{self as output, CurveReport};
use crate::output::{json, yaml};
use spareframe_solver::{Curve, Point, Scenario, SolveOptions, check, curve};
use std::path::{Path, PathBuf};

/// What `curve` is to do.
#[derive(Debug)]
pub(super) struct CurveTask {
    scenario: PathBuf,
    format: CurveFormat,
    out: Option<PathBuf>,
    force: bool,
    time_limit: Limit,
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
            time_limit: Limit::of(a.time_limit),
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
        time_limit: task.time_limit.left(),
        ..SolveOptions::default()
    };
    let found = with_progress(task.detail, |_| curve(&scenario, &options));
    checked(&scenario, &found)?;
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

/// No figure of a plan that fails the check is shown; wishes are left out of a curve.
pub(super) fn checked(scenario: &Scenario, found: &Curve) -> Result<(), Stop> {
    let free = Scenario {
        gives: Vec::new(),
        ..scenario.clone()
    };
    let of = |point: &Point| {
        let (goals, breaches) = check(&free, &point.plan);
        let figures = (goals.worth, goals.cost) == (point.worth, point.cost);
        let fault = "a point of the curve has other figures than its plan".to_owned();
        let words = |breach| super::verify::breach(&free, breach);
        let faults = breaches.iter().map(words);
        faults
            .chain((!figures).then_some(fault))
            .collect::<Vec<_>>()
    };
    let faults: Vec<String> = found.points.iter().flat_map(of).collect();
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
    use spareframe_solver::{BoxId, Compartment, Cost, Plan, Proof, Worth};

    #[test]
    fn a_point_whose_plan_fails_the_check_is_reported_as_our_bug() {
        let nowhere = Compartment {
            kind: BoxId(0),
            box_no: 0,
            place: 0,
            frames: Vec::new(),
            bees: Vec::new(),
        };
        let point = Point {
            worth: Worth(0),
            cost: Cost::default(),
            compartments: Vec::new(),
            plan: Plan {
                compartments: vec![nowhere],
                begun: Vec::new(),
            },
            proof: Proof::Best,
        };
        let found = Curve {
            points: vec![point],
            ..Curve::default()
        };
        let Err(Stop::Said(text)) = checked(&Scenario::default(), &found) else {
            panic!("the curve passed");
        };
        assert!(text.contains("boxes: "), "{text}");
    }
}
