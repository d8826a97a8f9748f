//! Mated queens out of what stands, and where they go.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Mated queens that stand, and where they go. Days are written year-month-day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct QueensReport {
    /// Queens that may be taken on the stocking day.
    pub at_hand: usize,
    /// Days that a colony is to be without a queen before a mated one goes in.
    pub queenless_days: u32,
    /// Days after which she is to be out of her cage.
    pub caged_days: u32,
    /// Colonies that are to get one, in the order of the scenario.
    pub colonies: Vec<RequeenReport>,
    /// The day on which queens go into compartments that take them; which goes where stands with the compartments.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub boxes_on: Option<String>,
    /// Queens at hand that go nowhere.
    pub free: Vec<QueenReport>,
    /// Queens that are of age later, and for which no colony waits.
    pub later: Vec<QueenReport>,
    /// How many are accepted: estimates.
    pub accepted: Vec<AcceptedReport>,
}

/// The queens of a colony that is opened, where it is to get a new one and the old one does not stay.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct ColonyQueens {
    /// The day its old queen is taken out, or was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub old_out: Option<String>,
    /// She is out.
    pub is_out: bool,
    /// The compartment that its new queen is taken from, where she goes in on the stocking day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub new_from: Option<String>,
}

/// A mated queen in a compartment that stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct QueenReport {
    /// Her compartment, as the plan names it.
    pub queen: String,
    /// Where it stands.
    pub site: String,
    /// The day bees went in.
    pub since: String,
    /// The day from which she may be taken.
    pub of_age: String,
}

/// A colony that is to get a mated queen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct RequeenReport {
    /// Its name.
    pub colony: String,
    /// Where it stands.
    pub site: String,
    /// Its queen; absent where none is in sight.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gets: Option<QueenReport>,
    /// The day its old queen is taken out, or was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub old_queen_out: Option<String>,
    /// Its old queen is out.
    pub prepared: bool,
    /// The day the queen goes in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub goes_in: Option<String>,
    /// The day from which a next cell can go into the compartment that she is taken from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next_cell_from: Option<String>,
    /// Days that she waits for the colony, as its old queen is not out, or not long enough.
    pub waits_days: u32,
    /// Days without a queen until then; absent where its old queen is in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days_without: Option<i32>,
    /// The last day on which she was to go in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
    /// She goes in later than that.
    pub late: bool,
}

/// How many of so many queens are accepted: an estimate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct AcceptedReport {
    /// `full colonies` or `nuclei`.
    pub into: String,
    /// Queens that go in.
    pub queens: usize,
    /// Least, by the lowest share.
    pub least_estimate: f64,
    /// Most, by the highest share.
    pub most_estimate: f64,
    /// Lowest share, 0 to 1.
    pub least_share: f64,
    /// Highest share, 0 to 1.
    pub most_share: f64,
    /// Where the shares are from.
    pub basis: String,
}
