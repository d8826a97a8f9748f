//! The record that every writer of the curve shares.

use super::super::build::{Notes, decimal, proof};
use super::super::report::ProofReport;
use super::super::{assumptions, cautions};
use serde::Serialize;
use spareframe_solver::{BoxKind, Curve, Goals, Milligrams, Point, Scenario};

/// Version of the curve's format; it rises when a key changes its meaning.
pub const FORMAT_VERSION: u32 = 1;

/// What is counted against the honey.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CountedIn {
    /// All compartments are worth the same.
    Compartments,
    /// Kinds of box differ in worth; 1 is one ordinary compartment.
    Worth,
}

/// Honey given up against compartments stocked, on one stocking day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CurveReport {
    /// Version of this format.
    pub spareframe_curve: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub day: Option<String>,
    /// What the prices are for.
    pub counted_in: CountedIn,
    /// Compartments there are.
    pub compartments_in_all: u64,
    /// Cap on the honey of all colonies together, in kg. The curve goes on beyond it.
    pub honey_cap_kg: Option<f64>,
    /// No point is missing.
    pub complete: bool,
    /// From the least worth to the most.
    pub points: Vec<PointReport>,
    /// What to mind.
    pub mind: Vec<String>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
}

/// The least honey for so many compartments.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PointReport {
    /// Compartments stocked.
    pub compartments: u32,
    /// Worth of them (1 is one ordinary compartment).
    pub worth: f64,
    /// The same by kind of box.
    pub kinds: Vec<KindCount>,
    /// Honey given up in all, charged: an estimate.
    pub honey_given_up_charged_estimate_kg: f64,
    /// The step from the point before; none for the first.
    pub step: Option<StepReport>,
    /// Within the honey cap of all colonies together.
    pub allowed_today: bool,
    /// The dear step leads here.
    pub dear_step: bool,
    /// How sure the point is.
    pub proof: ProofReport,
}

/// Compartments of one kind of box.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KindCount {
    /// Kind of box.
    pub box_kind: String,
    /// Compartments stocked.
    pub compartments: u32,
}

/// What one step of the curve adds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StepReport {
    /// Compartments or worth that it adds.
    pub adds: f64,
    /// Honey that it adds, in kg: an estimate.
    pub honey_estimate_kg: f64,
    /// Honey for each compartment, or each 1 of worth, that it adds, in kg: an estimate.
    pub price_estimate_kg: f64,
}

/// Builds the record of a curve.
#[must_use]
pub fn build(scenario: &Scenario, notes: &Notes, curve: &Curve) -> CurveReport {
    let counted_in = counted_in(scenario);
    let dear = curve.dear();
    let points = curve.points.iter().enumerate().map(|(index, point)| {
        let before = index.checked_sub(1).and_then(|i| curve.points.get(i));
        PointReport {
            compartments: point.compartments.iter().sum(),
            worth: decimal(point.worth.0, 1000.0),
            kinds: kinds(scenario, point),
            honey_given_up_charged_estimate_kg: kg(point.honey),
            step: before.map(|before| step(counted_in, before, point)),
            allowed_today: scenario.honey_cap.is_none_or(|cap| point.honey <= cap),
            dear_step: dear == Some(index),
            proof: proof(
                point.proof,
                &Goals {
                    worth: point.worth,
                    honey: point.honey,
                    ..Goals::default()
                },
            ),
        }
    });
    let in_all = |kind: &BoxKind| u64::from(kind.count) * u64::from(kind.compartments);
    CurveReport {
        spareframe_curve: FORMAT_VERSION,
        title: notes.title.clone(),
        day: notes.day.clone(),
        counted_in,
        compartments_in_all: scenario.boxes.iter().map(in_all).sum(),
        honey_cap_kg: scenario.honey_cap.map(kg),
        complete: !curve.cut_off,
        points: points.collect(),
        mind: mind(scenario),
        estimate_assumptions: assumptions(scenario),
    }
}

fn mind(scenario: &Scenario) -> Vec<String> {
    let mut mind = vec![cautions::NO_PLAN.to_owned()];
    if !scenario.gives.is_empty() {
        mind.push("Wishes (`give`) are left out here; a plan keeps to them.".to_owned());
    }
    mind
}

fn counted_in(scenario: &Scenario) -> CountedIn {
    let there = |kind: &&BoxKind| kind.count > 0 && kind.compartments > 0;
    let mut worths = scenario.boxes.iter().filter(there).map(|kind| kind.worth);
    let first = worths.next();
    if worths.all(|worth| Some(worth) == first) {
        CountedIn::Compartments
    } else {
        CountedIn::Worth
    }
}

fn kg(honey: Milligrams) -> f64 {
    decimal(honey.0, 1e6)
}

fn kinds(scenario: &Scenario, point: &Point) -> Vec<KindCount> {
    let counts = scenario.boxes.iter().zip(&point.compartments);
    counts
        .map(|(kind, &compartments)| KindCount {
            box_kind: kind.name.clone(),
            compartments,
        })
        .collect()
}

fn step(counted_in: CountedIn, before: &Point, point: &Point) -> StepReport {
    let count = |point: &Point| {
        point
            .compartments
            .iter()
            .map(|&n| i64::from(n))
            .sum::<i64>()
    };
    let adds = match counted_in {
        CountedIn::Compartments => decimal(count(point) - count(before), 1.0),
        CountedIn::Worth => decimal(point.worth.0 - before.worth.0, 1000.0),
    };
    let honey = kg(point.honey - before.honey);
    StepReport {
        adds,
        honey_estimate_kg: honey,
        price_estimate_kg: honey / adds,
    }
}
