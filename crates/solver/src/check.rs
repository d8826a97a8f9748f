//! Stub.
use crate::{Goals, Plan, Scenario};

/// The rules of a valid plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// No more frames than there are; none with the queen or from a colony on hold.
    Supply,
    /// Each compartment gets every line's frames.
    Recipe,
    /// Floors hold.
    Keep,
    /// Caps hold.
    Draw,
    /// Enough bees arrive and stay.
    Bees,
    /// No more compartments than exist; whole boxes whole.
    Boxes,
    /// No more compartments than cells.
    Cells,
}

/// A broken rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Breach {
    /// Which rule.
    pub rule: Rule,
    /// Where: colony, compartment, box kind or store room, in words.
    pub place: String,
    /// What was found, with unit.
    pub found: String,
    /// What the rule asks for, with unit.
    pub expected: String,
}

/// Recomputes a plan's goals and every breach, from the scenario and the plan alone.
#[must_use]
pub fn check(_scenario: &Scenario, _plan: &Plan) -> (Goals, Vec<Breach>) {
    (Goals::default(), Vec::new())
}
