#![doc = include_str!("../README.md")]

mod check;
pub mod honey;
mod plan;
mod scenario;
mod solve;
mod units;
pub mod why;

pub use check::{Breach, ColonyAccount, Holding, Rule, check, remains};
pub use plan::{Compartment, Goals, Origin, PlacedBees, PlacedFrames, Plan};
pub use scenario::{
    Ask, BoxId, BoxKind, CellBatch, Colony, ColonyId, Comb, CombId, Crop, Draw, Drift, FrameGroup,
    FrameState, Give, Keep, Line, Scenario, Site, SiteId, SpareFrames, Substitute,
};
pub use solve::{
    Cause, Curve, Outcome, Point, Proof, SolveOptions, Stocking, Unmet, Until, curve, solve,
    solve_near,
};
pub use units::{Bees, Grams, Milli, Milligrams, Worth, share_of};
