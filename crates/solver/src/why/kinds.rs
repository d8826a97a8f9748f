//! Why not all boxes of a kind are stocked.

use rayon::prelude::*;

use super::limit::least_frame;
use super::together::{Group, groups, members};
use super::yard::Yard;
use crate::plan::Plan;
use crate::scenario::{Ask, BoxId, BoxKind};
use crate::solve::Again;
use crate::units::Worth;

/// Why no more compartments of a kind of box are stocked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unstocked {
    /// One more could be stocked, but the worth of all would be so much less by it.
    WorthLess(Worth),
    /// One more could be stocked instead of compartments of other kinds of the same worth; it would be
    /// no better.
    NoBetter,
    /// A smallest set of groups of limits that, lifted, lets one more be stocked, whatever the other
    /// kinds lose by it. There may be others as small.
    Limits(Vec<Group>),
    /// Not even with every limit lifted.
    Never,
    /// A search ended without an answer.
    NotKnown,
}

/// How far a kind of box is stocked and why no further.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KindReason {
    /// Which kind.
    pub kind: BoxId,
    /// Compartments stocked in the plan.
    pub stocked: u32,
    /// Compartments there are.
    pub in_all: u64,
    /// Why no more.
    pub because: Unstocked,
}

/// Kinds that are not all stocked, in the order of the scenario.
pub(super) fn kinds(again: &Again, yard: &Yard, plan: &Plan) -> Vec<KindReason> {
    let kinds: Vec<(usize, &BoxKind)> = yard.scenario.boxes.iter().enumerate().collect();
    let reasons = kinds.into_par_iter().filter_map(|(index, kind)| {
        let of_kind = plan.compartments.iter().filter(|c| c.kind.0 == index);
        let stocked = u32::try_from(of_kind.count()).unwrap_or(u32::MAX);
        let in_all = u64::from(kind.count) * u64::from(kind.compartments);
        (u64::from(stocked) < in_all).then(|| KindReason {
            kind: BoxId(index),
            stocked,
            in_all,
            because: because(again, yard, index, kind, stocked),
        })
    });
    reasons.collect()
}

/// What the lines of a kind ask for, and their substitutes.
fn asked(kind: &BoxKind) -> impl Iterator<Item = Ask> {
    let lines = kind.lines.iter();
    lines.flat_map(|line| {
        let others = line.substitutes.iter().map(|other| other.ask);
        std::iter::once(line.ask).chain(others)
    })
}

fn because(again: &Again, yard: &Yard, index: usize, kind: &BoxKind, stocked: u32) -> Unstocked {
    let step = if kind.whole { kind.compartments } else { 1 };
    let least = stocked.saturating_add(step);
    let today = again.today().worth;
    let Some(now) = again.with_at_least(yard.scenario, index, least) else {
        return Unstocked::NotKnown;
    };
    if let Some(worth) = now {
        return match today.0 - worth.0 {
            ..=0 => Unstocked::NoBetter,
            less => Unstocked::WorthLess(Worth(less)),
        };
    }
    // Whatever the others lose, frames that only they could use do not matter.
    let mut groups = groups(yard);
    groups.retain(|(group, _)| match group {
        Group::Frames(ask) => asked(kind).any(|other| other.fits(&least_frame(ask))),
        _ => true,
    });
    let possible = |places: &[usize]| {
        let scenario = yard.without(members(&groups, places));
        let found = again.with_at_least(&scenario, index, least);
        found.is_none_or(|found| found.is_some())
    };
    let Some(found) = super::smallest::smallest(groups.len(), &possible) else {
        return Unstocked::Never;
    };
    let scenario = yard.without(members(&groups, &found.members));
    if again
        .with_at_least(&scenario, index, least)
        .flatten()
        .is_none()
    {
        return Unstocked::NotKnown;
    }
    let chosen = found.members.iter().filter_map(|&place| groups.get(place));
    Unstocked::Limits(chosen.map(|(group, _)| *group).collect())
}
