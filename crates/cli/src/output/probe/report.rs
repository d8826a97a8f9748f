//! The record that every writer of the alternatives shares.

use super::super::build::{Notes, decimal, estimated, may_be_stocked, proof};
use super::super::counted::{CountedOn, counted_on};
use super::super::report::{Answer, ProofReport, Wish};
use super::super::wishes::wishes;
use super::super::{assumptions, cautions};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use spareframe_solver::{BoxId, Goals, Origin, Outcome, Plan, Scenario, Worth};
use std::collections::{BTreeMap, BTreeSet};

/// Version of this format; it rises when a key changes its meaning.
pub const FORMAT_VERSION: u32 = 2;

/// Alternatives of one scenario beside the plan as it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ProbeReport {
    /// Version of this format.
    pub spareframe_probe: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub day: Option<String>,
    /// When colonies were counted; absent where that was on the stocking day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counted_on: Option<CountedOn>,
    /// Changes that hold in every alternative and are not in their names.
    pub in_all: Vec<String>,
    /// The plan as it is, then every alternative in order.
    pub rows: Vec<Row>,
    /// What to mind.
    pub mind: Vec<String>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
}

/// One alternative and what it comes to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Row {
    /// 0 for the plan as it is, from 1 for alternatives.
    pub number: u32,
    /// What it is called.
    pub name: String,
    /// What is changed, each about as it can be typed, long values in short.
    pub changes: Vec<String>,
    /// What another stocking day asks for: days, cells to cage, feed for rain, what does not go together.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub days: Vec<String>,
    /// Kind of answer.
    pub answer: Answer,
    /// How sure it is.
    pub proof: Option<ProofReport>,
    /// Frames that colonies are to give at least; those that cannot be met, where the answer is
    /// that.
    pub wishes: Vec<Wish>,
    /// Compartments stocked.
    pub compartments_stocked: u32,
    /// Compartments there are.
    pub compartments_in_all: u64,
    /// The same by kind of box.
    pub kinds: Vec<KindCount>,
    /// Worth of the stocked compartments (1 is one ordinary compartment).
    pub worth: f64,
    /// Cost in grams of honey: all parts below at the prices of this alternative.
    pub cost_g: i64,
    /// Honey given up, charged, in grams: an estimate. Null where no colony states an expected crop.
    pub honey_given_up_g: Option<i64>,
    /// Points of burden, summed over colonies.
    pub burden: i64,
    /// Steps down the lines' lists of substitutes, summed over frames.
    pub substitutes: i64,
    /// Colonies opened.
    pub colonies_opened: i64,
    /// Beside the plan as it is; none for that plan, and where no plan is known.
    pub difference: Option<Difference>,
    /// Colonies that give otherwise than in the plan as it is.
    pub colonies: Vec<ColonyChange>,
}

/// Compartments of one kind of box.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct KindCount {
    /// Kind of box.
    pub box_kind: String,
    /// Compartments stocked.
    pub compartments_stocked: u32,
    /// Compartments there are.
    pub compartments_in_all: u64,
}

/// How far an alternative is from the plan as it is: above 0 where it has more.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Difference {
    /// Compartments stocked.
    pub compartments_stocked: i64,
    /// Worth of the stocked compartments.
    pub worth: f64,
    /// Cost in grams of honey.
    pub cost_g: i64,
    /// Honey given up, charged, in grams: an estimate. Null where it is not estimated in both.
    pub honey_given_up_g: Option<i64>,
    /// Points of burden, summed over colonies.
    pub burden: i64,
    /// Steps down the lines' lists of substitutes, summed over frames.
    pub substitutes: i64,
    /// Colonies opened.
    pub colonies_opened: i64,
}

/// A colony that gives otherwise than in the plan as it is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct ColonyChange {
    /// Name of the colony.
    pub colony: String,
    /// What it gives in this alternative.
    pub gives: Taken,
    /// What it gives in the plan as it is.
    pub as_it_is: Taken,
}

/// What leaves one colony.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Taken {
    /// Frames.
    pub frames: u32,
    /// Bees taken, before drift.
    pub bees: i64,
    /// Frames by frame group, from 1.
    pub groups: BTreeMap<usize, u32>,
}

/// A row, before it is set beside the plan as it is. `goals` are those that the check recomputed.
#[must_use]
pub fn row(scenario: &Scenario, outcome: &Outcome, goals: &Goals) -> (Row, Draws) {
    let empty = Plan::default();
    let (plan, answer, proof) = match outcome {
        Outcome::Stocked(s) => (
            &s.plan,
            Answer::Stocked,
            Some(proof(s.proof, goals, &scenario.prices)),
        ),
        Outcome::Nothing => (&empty, Answer::NothingPossible, None),
        Outcome::TimedOut => (&empty, Answer::StoppedWithoutPlan, None),
        Outcome::Unmet(_) => (&empty, Answer::WishNotMet, None),
    };
    let of_kind = |id: usize| {
        plan.compartments
            .iter()
            .filter(move |c| c.kind == BoxId(id))
    };
    let kinds: Vec<_> = (scenario.boxes.iter().enumerate())
        .map(|(id, kind)| KindCount {
            box_kind: kind.name.clone(),
            compartments_stocked: u32::try_from(of_kind(id).count()).unwrap_or(u32::MAX),
            compartments_in_all: may_be_stocked(scenario, BoxId(id)),
        })
        .collect();
    let row = Row {
        number: 0,
        name: String::new(),
        changes: Vec::new(),
        days: Vec::new(),
        answer,
        proof,
        wishes: wishes(scenario, outcome),
        compartments_stocked: kinds.iter().map(|kind| kind.compartments_stocked).sum(),
        compartments_in_all: kinds.iter().map(|kind| kind.compartments_in_all).sum(),
        kinds,
        worth: decimal(goals.worth.0, 1000.0),
        cost_g: goals.cost.total(&scenario.prices).0,
        honey_given_up_g: estimated(scenario, goals.cost.honey.0),
        burden: goals.cost.burden,
        substitutes: goals.cost.substitutes,
        colonies_opened: goals.cost.opened,
        difference: None,
        colonies: Vec::new(),
    };
    let draws = Draws {
        worth: goals.worth,
        by_colony: taken(scenario, plan),
    };
    (row, draws)
}

/// What leaves each colony, and the exact worth of the plan.
#[derive(Debug, Clone)]
pub struct Draws {
    worth: Worth,
    by_colony: BTreeMap<String, Taken>,
}

fn taken(scenario: &Scenario, plan: &Plan) -> BTreeMap<String, Taken> {
    let mut out: BTreeMap<String, Taken> = BTreeMap::new();
    let name = |id: usize| scenario.colonies.get(id).map(|c| c.name.clone());
    for compartment in &plan.compartments {
        for placed in &compartment.frames {
            if let Origin::Colony(id, group) = placed.origin
                && let Some(name) = name(id.0)
            {
                let taken = out.entry(name).or_default();
                taken.frames += placed.count;
                *taken.groups.entry(group + 1).or_default() += placed.count;
            }
        }
        for placed in &compartment.bees {
            if let Some(name) = name(placed.colony.0) {
                out.entry(name).or_default().bees += placed.taken().bees().0;
            }
        }
    }
    out
}

/// Sets alternatives beside the plan as it is, which is the first of the rows.
#[must_use]
pub fn build(
    scenario: &Scenario,
    notes: &Notes,
    in_all: &[String],
    rows: Vec<(Row, Draws)>,
) -> ProbeReport {
    let order = scenario.colonies.iter().enumerate();
    let order: BTreeMap<&str, usize> = order.map(|(at, c)| (c.name.as_str(), at)).collect();
    let place = |change: &ColonyChange| order.get(change.colony.as_str()).copied();
    let today = rows
        .first()
        .map(|(row, draws)| (row.clone(), draws.clone()));
    let beside = |(number, (mut row, draws)): (u32, (Row, Draws))| {
        row.number = number;
        if let (Some((then, was)), true) = (&today, number > 0) {
            let known =
                |row: &Row| !matches!(row.answer, Answer::StoppedWithoutPlan | Answer::WishNotMet);
            row.difference =
                (known(then) && known(&row)).then(|| difference(&row, then, &draws, was));
            if known(&row) {
                row.colonies = changed(&draws, was);
                // In the order of the scenario, new ones last.
                row.colonies
                    .sort_by_key(|change| place(change).unwrap_or(usize::MAX));
            }
        }
        row
    };
    ProbeReport {
        spareframe_probe: FORMAT_VERSION,
        title: notes.title.clone(),
        day: notes.day.clone(),
        counted_on: counted_on(notes),
        in_all: in_all.to_vec(),
        rows: (0..).zip(rows).map(beside).collect(),
        mind: std::iter::once(cautions::NO_PLAN)
            .chain(notes.season.as_ref().map(|_| cautions::PROBE_SEASON))
            .map(str::to_owned)
            .collect(),
        estimate_assumptions: assumptions(scenario),
    }
}

fn difference(row: &Row, then: &Row, draws: &Draws, was: &Draws) -> Difference {
    let honey = row.honey_given_up_g.zip(then.honey_given_up_g);
    Difference {
        compartments_stocked: i64::from(row.compartments_stocked)
            - i64::from(then.compartments_stocked),
        worth: decimal((draws.worth - was.worth).0, 1000.0),
        cost_g: row.cost_g - then.cost_g,
        honey_given_up_g: honey.map(|(now, then)| now - then),
        burden: row.burden - then.burden,
        substitutes: row.substitutes - then.substitutes,
        colonies_opened: row.colonies_opened - then.colonies_opened,
    }
}

fn changed(draws: &Draws, was: &Draws) -> Vec<ColonyChange> {
    let names: BTreeSet<&String> = draws.by_colony.keys().chain(was.by_colony.keys()).collect();
    let of = |draws: &Draws, name: &str| draws.by_colony.get(name).cloned().unwrap_or_default();
    let change = |name: &String| {
        let (gives, as_it_is) = (of(draws, name), of(was, name));
        (gives != as_it_is).then(|| ColonyChange {
            colony: name.clone(),
            gives,
            as_it_is,
        })
    };
    names.into_iter().filter_map(change).collect()
}
