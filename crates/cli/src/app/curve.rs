//! `curve`: cost against compartments, every step of it.

use super::answer::{bug, said};
use super::args;
use super::delivery::Delivery;
use super::ended::{Exit, Stop};
use super::limit::Limit;
use super::load::load;
use super::progress::with_progress;
use crate::output::curve::build;
use spareframe_solver::{Curve, Point, Scenario, check, curve};
use std::path::PathBuf;

/// What `curve` is to do.
#[derive(Debug)]
pub(super) struct CurveTask {
    scenario: PathBuf,
    time_limit: Limit<'static>,
    shown: Delivery,
}

impl CurveTask {
    pub(super) fn from_args(a: args::Curve) -> Result<Self, Stop> {
        let shown = Delivery::of(a.writing, &a.of.scenario, (&a.said).into())?;
        Ok(Self {
            scenario: a.of.scenario,
            time_limit: Limit::of(a.time.time_limit),
            shown: shown.wide(a.table.width).marked(a.mark.bom)?,
        })
    }
}

/// Finds the curve and shows it.
pub(super) fn perform(task: &CurveTask) -> Result<Exit, Stop> {
    let shown = &task.shown;
    shown.may_write()?;
    let (scenario, notes) = load(&task.scenario, shown.detail)?;
    let options = task.time_limit.solving();
    let found = with_progress(shown.detail, |_| curve(&scenario, &options));
    checked(&scenario, &found)?;
    shown.deliver(&build(&scenario, &notes, &found))?;
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
        let words = |breach| said(&free, breach);
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
