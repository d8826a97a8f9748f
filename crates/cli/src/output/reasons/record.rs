//! The record of a plan's reasons: names, figures and units, with nothing left to decide.

use crate::output::raise::RaiseReport;
use crate::output::report::{Headline, LeftReport};
use schemars::JsonSchema;
use serde::Serialize;

/// Version of this format; it rises when a key changes its meaning.
pub const WHY_VERSION: u32 = 2;

/// Why a plan is as good as it is and no better.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WhyReport {
    /// Version of this format.
    pub spareframe_why: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub day: Option<String>,
    /// Today's plan in short.
    pub today: Headline,
    /// Every answer is known. Where not, some searches ended without one: what depends on them is left
    /// out, and an amount may not be the least.
    pub exact: bool,
    /// Kinds of box differ in worth, so that more is more worth, not more compartments.
    pub counted_by_worth: bool,
    /// Single changes that let more be stocked, each the least of its thing that does; least cost
    /// first.
    pub one_more: Vec<OfferReport>,
    /// The fewest changes that together let more be stocked, where no single one does.
    pub fewest_together: Option<OfferReport>,
    /// The same with what the colonies listed can give alone, nothing from outside, where no single
    /// change of that sort does.
    pub fewest_of_our_own: Option<OfferReport>,
    /// Where nothing can be stocked: a smallest set of sorts of limits that forbid it by themselves.
    pub forbidding: Vec<GroupReport>,
    /// Limits that hold something back, the most telling first.
    pub limits: Vec<EffectReport>,
    /// Sorts of limits of which none holds anything back alone, and all together do.
    pub limits_only_together: Vec<SortReport>,
    /// Limits of which more would by itself bring nothing: neither worth nor less cost.
    pub not_limiting: Vec<LimitReport>,
    /// For each colony, why it gives nothing, or no more.
    pub colonies: Vec<ColonyWhy>,
    /// For each kind of box that is not all stocked, why not.
    pub kinds: Vec<KindWhy>,
    /// Where colonies of two sites or more give: what is reached without those of each.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub without_sites: Vec<SiteWhy>,
    /// Compartments in which bees stand that want a next cell and get none, with what each lacks for it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub no_next_cell: Vec<LeftReport>,
    /// Combs of which more would help, and which no colony has of its own.
    pub raise: Vec<RaiseReport>,
    /// How to ask about all rounds; absent where the scenario has no season.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub season: Option<&'static str>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
}

/// What a limit is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Thing {
    /// Frames of one kind and comb, of which more come from outside the colonies listed.
    Frames,
    /// Bees at a site, of which more come from outside the colonies listed.
    Bees,
    /// Cells or queens.
    Cells,
    /// Boxes of a kind.
    Boxes,
    /// That boxes of a kind are stocked whole or not at all.
    WholeBoxes,
    /// The honey cap of all colonies together.
    HoneyCap,
    /// Brood frames that a colony must keep.
    KeepBrood,
    /// Bees that a colony must keep.
    KeepBees,
    /// Stores that a colony must keep.
    KeepStores,
    /// Drawn combs that a colony must keep.
    KeepDrawn,
    /// How far bees that stay in a colony must cover the brood that stays.
    KeepCovered,
    /// Frames that a colony may give at most.
    DrawFrames,
    /// Brood frames that a colony may give at most.
    DrawBrood,
    /// Bees that a colony may give at most.
    DrawBees,
    /// Honey that a colony may give up at most.
    DrawHoney,
    /// How many of the bees on its brood frames must ride with them.
    Rides,
    /// That a colony is on hold.
    Hold,
}

impl Thing {
    /// Whether it caps what a colony may give.
    pub(super) fn is_cap(self) -> bool {
        matches!(
            self,
            Self::DrawFrames | Self::DrawBrood | Self::DrawBees | Self::DrawHoney
        )
    }

    /// Whether loosening it lowers its figure.
    pub(super) fn is_floor(self) -> bool {
        matches!(
            self,
            Self::KeepBrood
                | Self::KeepBees
                | Self::KeepStores
                | Self::KeepDrawn
                | Self::KeepCovered
                | Self::Rides
        )
    }
}

/// Least and most of a share of the comb, from 0 to 1, both included.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct SpanReport {
    /// Least.
    pub least: f64,
    /// Most.
    pub most: f64,
}

/// What a frame must hold.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct AskReport {
    /// Comb (frame size).
    pub comb: String,
    /// Brood.
    pub brood_share: SpanReport,
    /// Sealed brood, of the comb.
    pub sealed_share: SpanReport,
    /// Stores.
    pub stores_share: SpanReport,
    /// Drawn comb; bare foundation is 0 at most.
    pub drawn_share: SpanReport,
}

/// A limit by name.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct LimitReport {
    /// Id of its rule.
    pub rule: &'static str,
    /// What it is on.
    pub thing: Thing,
    /// Frames: what they must hold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frame: Option<AskReport>,
    /// Bees: where they stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub site: Option<String>,
    /// Boxes: which kind.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub box_kind: Option<String>,
    /// Floors, caps and holds: whose.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub colony: Option<String>,
    /// Holds: why.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// Its figure in the scenario, where it has one, in `unit`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub now: Option<f64>,
    /// Unit of its figures: frames, brood frames, drawn combs, bees, kg, %, cells, boxes; none where it
    /// holds or does not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unit: Option<&'static str>,
}

/// Limits of one sort, of all colonies or kinds of box.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GroupReport {
    /// Id of their rule.
    pub rule: &'static str,
    /// What they are on.
    pub thing: Thing,
    /// Frames: what they must hold.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub frame: Option<AskReport>,
    /// Bees: where they stand.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub site: Option<String>,
}

/// A limit loosened.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ChangeReport {
    /// Which limit.
    pub limit: LimitReport,
    /// By how much, in its unit; none where it is lifted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<f64>,
    /// The figure it then has in the scenario; none where it has none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<f64>,
    /// The same as a change of the scenario file, `PATH=VALUE`.
    pub set: String,
}

/// What is reached after a change.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct ReachedReport {
    /// Worth of the stocked compartments.
    pub worth: f64,
    /// Compartments stocked, where all are of the same worth or a plan was made.
    pub compartments_stocked: Option<u64>,
    /// Cost, in grams of honey.
    pub cost_g: i64,
    /// Honey given up, charged, in grams: an estimate. Null where no colony states an expected crop.
    pub honey_given_up_g: Option<i64>,
    /// Worth more than today.
    pub worth_more: f64,
    /// Compartments more than today.
    pub compartments_more: Option<i64>,
    /// Cost more than today, below 0 if less.
    pub cost_more_g: i64,
    /// Honey given up more than today, below 0 if less: an estimate.
    pub honey_more_g: Option<i64>,
}

/// Changes and what they bring.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct OfferReport {
    /// The changes, all of them together.
    pub changes: Vec<ChangeReport>,
    /// No fewer changes do it; else fewer may.
    pub fewest: bool,
    /// What is then reached; its plan has passed the check.
    pub reached: ReachedReport,
}

/// What a limit holds back.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct EffectReport {
    /// Which limit.
    pub limit: LimitReport,
    /// What one more of it is, in its unit.
    pub step: f64,
    /// One more of it and what that brings; none where that is nothing.
    pub one_more: Option<OfferReport>,
    /// What is reached without the limit.
    pub without: ReachedReport,
}

impl EffectReport {
    /// Whether it is a hold, or a cap of 0, which is one.
    pub(super) fn is_hold(&self) -> bool {
        let limit = &self.limit;
        limit.thing == Thing::Hold || (limit.thing.is_cap() && limit.now == Some(0.0))
    }
}

/// What limits of one sort hold back together.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SortReport {
    /// Which sort.
    pub limits: GroupReport,
    /// What is reached without all of them.
    pub without: ReachedReport,
}

impl SortReport {
    /// Whether more is stocked without them.
    pub(super) fn stocks_more(&self) -> bool {
        self.without.worth_more > 0.0
    }
}

/// A reason of a colony.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ColonyBecause {
    /// It is on hold, for this reason.
    OnHold(String),
    /// It has less than it must keep.
    Below {
        /// The floor.
        floor: Box<LimitReport>,
        /// What it has, in the floor's unit.
        has: f64,
    },
    /// No frame of it fits a line, and it has no bees.
    NothingFits,
    /// All its frames of these kinds are given, of which more would help.
    GaveAll(Vec<AskReport>),
    /// Each of these limits, lifted alone, makes the plan better.
    Limits(Vec<LimitReport>),
    /// These limits make the plan better if they are lifted together, and none alone.
    LimitsTogether(Vec<LimitReport>),
    /// It would give (more) if that cost neither honey nor burden.
    TooDear,
    /// No limit of its own holds anything back, and it is not too dear.
    NotNeeded,
    /// A search ended without an answer.
    NotKnown,
}

/// Why a colony gives nothing, or no more.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ColonyWhy {
    /// Which colony.
    pub colony: String,
    /// Frames it gives.
    pub frames: u64,
    /// Bees it gives, before drift.
    pub bees: i64,
    /// Why no more.
    pub because: Vec<ColonyBecause>,
}

/// Why no more of a kind of box is stocked.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum KindBecause {
    /// One more lowers the worth of all by so much.
    WorthLess(f64),
    /// One more takes one of another kind of the same worth.
    NoBetter,
    /// A smallest set of sorts of limits that, eased, lets one more be stocked; there may be others as
    /// small.
    Limits(Vec<GroupReport>),
    /// Not even with every limit lifted.
    Never,
    /// A search ended without an answer.
    NotKnown,
}

/// How far a kind of box is stocked, and why no further.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct KindWhy {
    /// Kind of box.
    pub box_kind: String,
    /// Compartments stocked.
    pub compartments_stocked: u32,
    /// Compartments there are.
    pub compartments_in_all: u64,
    /// Why no more.
    pub because: KindBecause,
}

/// What the colonies of a site bring.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SiteWhy {
    /// Which site.
    pub site: String,
    /// Somebody goes there all the same: compartments are stocked there, or a colony is opened for its queen.
    pub visited_anyway: bool,
    /// What is reached where no colony there gives anything; its plan has passed the check.
    pub without: ReachedReport,
}
