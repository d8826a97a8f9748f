//! The answer in short.

use super::Answer;
use super::compartment::is_none;
use crate::output::counted::CountedOn;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How sure the answer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ProofState {
    /// No plan is better in the order of the goals.
    ProvedBest,
    /// Valid, but a goal is not proved.
    BestFound,
    /// Valid, but the time limit stopped the search.
    StoppedByTimeLimit,
}

/// A goal, in the order in which they are pursued.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum GoalName {
    /// Most worth; 1 is one ordinary compartment.
    Worth,
    /// Least cost, in grams of honey.
    Cost,
}

/// How sure the answer is, and what is still open.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ProofReport {
    /// The state.
    pub state: ProofState,
    /// First goal that is not proved.
    pub open_goal: Option<GoalName>,
    /// Value of that goal in this plan.
    pub reached: Option<f64>,
    /// The best value that goal may still have.
    pub best_possible: Option<f64>,
}

/// The most that was to be stocked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AtMost {
    /// Compartments.
    pub compartments: Option<u64>,
    /// Worth.
    pub worth: Option<f64>,
}

/// What the parts of the cost weigh, in grams of honey.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PricesReport {
    /// Of a point of burden.
    pub burden: i64,
    /// Of a step down a line's list of substitutes, for each frame.
    pub substitute: i64,
    /// Of a colony opened.
    pub colony_opened: i64,
    /// Of a frame drawn otherwise than in an earlier plan.
    pub frame_drawn_otherwise: i64,
}

/// The answer in short.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Headline {
    /// Kind of answer.
    pub answer: Answer,
    /// The most that was to be stocked; absent where no such limit was set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_most: Option<AtMost>,
    /// When colonies were counted; absent where that was on the stocking day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counted_on: Option<CountedOn>,
    /// Compartments stocked.
    pub compartments_stocked: u32,
    /// Compartments there are.
    pub compartments_in_all: u64,
    /// Compartments in which bees stand from an earlier day.
    #[serde(default, skip_serializing_if = "is_none")]
    pub compartments_standing: u32,
    /// Of these, those that want a next cell.
    #[serde(default, skip_serializing_if = "is_none")]
    pub next_cells_wanted: u32,
    /// Of these, those that get one; they are among the compartments stocked.
    #[serde(default, skip_serializing_if = "is_none")]
    pub next_cells: u32,
    /// The same by kind of box.
    pub kinds: Vec<KindReport>,
    /// How sure it is.
    pub proof: Option<ProofReport>,
    /// Worth of the stocked compartments (1 is one ordinary compartment).
    pub worth: f64,
    /// Cost, in grams of honey: all parts below at their prices.
    pub cost_g: i64,
    /// Honey given up, charged by the linear rates, in grams: an estimate. Null where no colony of
    /// the scenario states an expected crop, so that there is nothing to estimate from.
    pub honey_given_up_g: Option<i64>,
    /// The same, simulated again for the whole draw of each colony.
    pub honey_given_up_simulated_g: Option<i64>,
    /// Points of burden, summed over colonies.
    pub burden: i64,
    /// Steps down the lines' lists of substitutes, summed over frames.
    pub substitutes: i64,
    /// Colonies opened to take something from them.
    pub colonies_opened: i64,
    /// Colonies opened for their queens alone, which cost nothing here.
    #[serde(default, skip_serializing_if = "is_none")]
    pub colonies_opened_for_queens: i64,
    /// Frames drawn otherwise than in the earlier plan; absent without one, or where nothing is.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frames_drawn_otherwise: Option<i64>,
    /// What each of these weighs in the cost.
    pub prices_g: PricesReport,
    /// Bees taken, before drift.
    pub bees_taken: i64,
}

/// Compartments of one kind of box.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct KindReport {
    /// Kind of box.
    pub box_kind: String,
    /// Where the boxes stand.
    pub site: String,
    /// Compartments stocked.
    pub compartments_stocked: u32,
    /// Compartments there are.
    pub compartments_in_all: u64,
    /// Compartments in which bees stand from an earlier day.
    #[serde(default, skip_serializing_if = "is_none")]
    pub compartments_standing: u32,
    /// Of these, those that want a next cell.
    #[serde(default, skip_serializing_if = "is_none")]
    pub next_cells_wanted: u32,
    /// Of these, those that get one; they are among the compartments stocked.
    #[serde(default, skip_serializing_if = "is_none")]
    pub next_cells: u32,
    /// Boxes with at least one stocked compartment.
    pub boxes_used: u32,
    /// Boxes there are.
    pub boxes_in_all: u32,
}

impl Headline {
    /// Compartments that may be stocked: all but those in which bees stand and no next cell is wanted.
    pub(crate) fn may_be_stocked(&self) -> u64 {
        let left = self
            .compartments_standing
            .saturating_sub(self.next_cells_wanted);
        self.compartments_in_all.saturating_sub(left.into())
    }

    /// Compartments in which nothing stands.
    pub(crate) fn free(&self) -> u64 {
        self.compartments_in_all
            .saturating_sub(self.compartments_standing.into())
    }

    /// Colonies opened, also for their queens alone.
    pub(crate) fn opened(&self) -> i64 {
        let alone = self.colonies_opened_for_queens;
        self.colonies_opened.saturating_add(alone)
    }

    /// Compartments stocked new.
    pub(crate) fn stocked_new(&self) -> u32 {
        self.compartments_stocked.saturating_sub(self.next_cells)
    }
}
