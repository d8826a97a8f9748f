//! The record that every writer of the curve shares.

use super::super::build::{Notes, decimal, estimated, may_be_stocked, proof};
use super::super::counted::{CountedOn, counted_on};
use super::super::report::ProofReport;
use super::super::{assumptions, cautions};
use serde::Serialize;
use spareframe_solver::{BoxId, Cost, Curve, Goals, Point, Scenario};

/// Version of the curve's format; it rises when a key changes its meaning.
pub const FORMAT_VERSION: u32 = 2;

/// What is counted against the cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CountedIn {
    /// All compartments are worth the same.
    Compartments,
    /// Kinds of box differ in worth; 1 is one ordinary compartment.
    Worth,
}

/// Cost against compartments stocked, on one stocking day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CurveReport {
    /// Version of this format.
    pub spareframe_curve: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub day: Option<String>,
    /// When colonies were counted; absent where that was on the stocking day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counted_on: Option<CountedOn>,
    /// What the prices are for.
    pub counted_in: CountedIn,
    /// Compartments there are, without those in which bees stand and no next cell is wanted.
    pub compartments_in_all: u64,
    /// Cap on the honey of all colonies together, in grams. It holds at every point.
    pub honey_cap_g: Option<i64>,
    /// No point is missing.
    pub complete: bool,
    /// From the least worth to the most.
    pub points: Vec<PointReport>,
    /// Cautions.
    pub mind: Vec<String>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
}

/// The least cost for so many compartments.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PointReport {
    /// Compartments stocked.
    pub compartments: u32,
    /// Worth of them (1 is one ordinary compartment).
    pub worth: f64,
    /// The same by kind of box.
    pub kinds: Vec<KindCount>,
    /// Cost in grams of honey: all parts below at their prices.
    pub cost_g: i64,
    /// Honey given up, charged, in grams: an estimate. Null where no colony states an expected crop.
    pub honey_given_up_g: Option<i64>,
    /// Points of burden, summed over colonies.
    pub burden: i64,
    /// Steps down the lines' lists of substitutes, summed over frames.
    pub substitutes: i64,
    /// Colonies opened.
    pub colonies_opened: i64,
    /// The step from the point before; none for the first.
    pub step: Option<StepReport>,
    /// The dear step leads here.
    pub dear_step: bool,
    /// The plan of the day reaches it.
    #[serde(skip)]
    pub today: bool,
    /// What `spareframe stock` makes a plan of this point with.
    pub stock_with: String,
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
    /// Cost that it adds, in grams; below 0 where more costs less.
    pub cost_g: i64,
    /// Cost for each compartment, or each 1 of worth, that it adds, in grams.
    pub price_g: f64,
}

impl CurveReport {
    /// The same beside a plan of so much worth and cost, such as one under a ceiling.
    #[must_use]
    pub fn beside(mut self, worth: f64, cost_g: i64) -> Self {
        for point in &mut self.points {
            point.today = (point.worth.to_bits(), point.cost_g) == (worth.to_bits(), cost_g);
        }
        self
    }
}

/// Builds the record of a curve.
#[must_use]
pub fn build(scenario: &Scenario, notes: &Notes, curve: &Curve) -> CurveReport {
    let counted_in = match curve.every_count {
        true => CountedIn::Compartments,
        false => CountedIn::Worth,
    };
    let dear = curve.dear(&scenario.prices);
    // A plan keeps to wishes, which a curve leaves out; without them its last point is the plan.
    let unbound = scenario.gives.is_empty() && !curve.cut_off;
    let points = curve.points.iter().enumerate().map(|(index, point)| {
        let before = index.checked_sub(1).and_then(|i| curve.points.get(i));
        PointReport {
            step: before.map(|before| step(scenario, counted_in, before, point)),
            dear_step: dear == Some(index),
            today: unbound && index + 1 == curve.points.len(),
            ..of_point(scenario, counted_in, point)
        }
    });
    let kinds = (0..scenario.boxes.len()).map(BoxId);
    CurveReport {
        spareframe_curve: FORMAT_VERSION,
        title: notes.title.clone(),
        day: notes.day.clone(),
        counted_on: counted_on(notes),
        counted_in,
        compartments_in_all: kinds.map(|id| may_be_stocked(scenario, id)).sum(),
        honey_cap_g: scenario.honey_cap.map(|cap| cap.0),
        complete: !curve.cut_off,
        points: points.collect(),
        mind: mind(scenario),
        estimate_assumptions: assumptions(scenario),
    }
}

fn of_point(scenario: &Scenario, counted_in: CountedIn, point: &Point) -> PointReport {
    let Cost {
        honey,
        burden,
        substitutes,
        opened,
        otherwise: _,
    } = point.cost;
    let compartments = point.compartments.iter().sum();
    let worth = decimal(point.worth.0, 1000.0);
    let goals = Goals {
        worth: point.worth,
        cost: point.cost,
    };
    PointReport {
        compartments,
        worth,
        kinds: kinds(scenario, point),
        cost_g: point.cost.total(&scenario.prices).0,
        honey_given_up_g: estimated(scenario, honey.0),
        burden,
        substitutes,
        colonies_opened: opened,
        step: None,
        dear_step: false,
        today: false,
        stock_with: match counted_in {
            CountedIn::Compartments => format!("--most {compartments}"),
            CountedIn::Worth => format!("--worth {worth}"),
        },
        proof: proof(point.proof, &goals, &scenario.prices),
    }
}

fn mind(scenario: &Scenario) -> Vec<String> {
    let mut mind = vec![cautions::NO_PLAN.to_owned()];
    if !scenario.gives.is_empty() {
        mind.push("Wishes (`give`) are left out here; a plan keeps to them.".to_owned());
    }
    mind
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

fn step(scenario: &Scenario, counted_in: CountedIn, before: &Point, point: &Point) -> StepReport {
    let count = |point: &Point| {
        let counts = point.compartments.iter();
        counts.map(|&n| i64::from(n)).sum::<i64>()
    };
    let adds = match counted_in {
        CountedIn::Compartments => decimal(count(point) - count(before), 1.0),
        CountedIn::Worth => decimal(point.worth.0 - before.worth.0, 1000.0),
    };
    let total = |point: &Point| point.cost.total(&scenario.prices).0;
    let cost_g = total(point) - total(before);
    StepReport {
        adds,
        cost_g,
        price_g: decimal(cost_g, 1.0) / adds,
    }
}
