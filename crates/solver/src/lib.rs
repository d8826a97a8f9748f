#![doc = include_str!("../README.md")]

mod check;
mod gaps;
pub mod honey;
mod plan;
mod scenario;
mod solve;
mod standing;
#[cfg(test)]
#[path = "../tests/support/mod.rs"]
mod support;
mod units;
mod validate;
pub mod why;

// What the tests share names the crate as its users do.
#[cfg(test)]
extern crate self as spareframe_solver;

pub use check::{
    Amount, Breach, ColonyAccount, Fault, Holding, InWords, Place, Rule, Spot, Thing, check,
    check_near, remains,
};
pub use gaps::{Filler, Gaps, gaps};
pub use plan::{Compartment, Cost, Goals, Origin, PlacedBees, PlacedFrames, Plan};
pub use scenario::{
    Ask, BoxId, BoxKind, CellBatch, Colony, ColonyId, Comb, CombId, Crop, Draw, Drift, FrameGroup,
    FrameState, Give, Keep, Line, Prices, Scenario, Site, SiteId, Span, SpareFrames, Substitute,
};
#[doc(hidden)]
pub use solve::direct_goals;
pub use solve::{
    Cause, Ceiling, Curve, Goal, Outcome, Point, Progress, Proof, Reached, SolveOptions, Stocking,
    Unmet, curve, solve,
};
pub use standing::{Asked, Recipe, Standing};
pub use units::{Bees, Grams, Hundreds, Milli, Percent, Worth, share_of};
pub use validate::{Flaw, Invalid};
