//! Limits that only count together.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::asked::Asked;
use super::limit::{Cap, Change, Floor, Limit};
use super::single::{Effect, least};
use super::smallest::smallest;
use super::yard::Yard;
use super::{Best, Offer, Refused};
use crate::scenario::{Ask, Scenario, SiteId};

/// Limits of one kind, of all colonies or all kinds of box.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    /// Frames of one kind and comb.
    Frames(Ask),
    /// Bees at a site.
    BeesAt(SiteId),
    /// Ripe cells or queens.
    Cells,
    /// Boxes of all kinds.
    Boxes,
    /// That boxes are stocked whole or not at all.
    Whole,
    /// The honey cap of all colonies together.
    HoneyCap,
    /// What colonies must keep.
    Floors(Floor),
    /// What may leave colonies at most.
    Caps(Cap),
    /// How many bees must ride on the brood frames of colonies.
    Rides,
    /// Colonies on hold.
    Holds,
}

/// The group of a limit.
#[must_use]
pub fn group_of(limit: &Limit) -> Group {
    match *limit {
        Limit::Frames(ask) => Group::Frames(ask),
        Limit::BeesAt(site) => Group::BeesAt(site),
        Limit::Cells => Group::Cells,
        Limit::Boxes(_) => Group::Boxes,
        Limit::Whole(_) => Group::Whole,
        Limit::HoneyCap => Group::HoneyCap,
        Limit::Floor(_, floor) => Group::Floors(floor),
        Limit::Cap(_, cap) => Group::Caps(cap),
        Limit::Rides(_) => Group::Rides,
        Limit::Hold(_) => Group::Holds,
    }
}

/// Every group with its limits, in the order of the limits.
pub(super) fn groups(yard: &Yard) -> Vec<(Group, Vec<Limit>)> {
    let mut order: Vec<(Group, Vec<Limit>)> = Vec::new();
    let mut places: BTreeMap<Group, usize> = BTreeMap::new();
    for limit in &yard.limits {
        let group = group_of(limit);
        let place = *places.entry(group).or_insert_with(|| {
            order.push((group, Vec::new()));
            order.len() - 1
        });
        if let Some((_, limits)) = order.get_mut(place) {
            limits.push(*limit);
        }
    }
    order
}

/// The same without caps of 0, which are holds.
fn eased(yard: &Yard) -> Vec<(Group, Vec<Limit>)> {
    let mut groups = groups(yard);
    let stays = |limit: &Limit| matches!(limit, Limit::Cap(..)) && !limit.on_offer(yard.scenario);
    for (_, limits) in &mut groups {
        limits.retain(|limit| !stays(limit));
    }
    groups.retain(|(_, limits)| !limits.is_empty());
    groups
}

/// Limits of the groups at these places.
pub(super) fn members(groups: &[(Group, Vec<Limit>)], places: &[usize]) -> Vec<Limit> {
    let chosen = places.iter().filter_map(|&place| groups.get(place));
    chosen
        .flat_map(|(_, limits)| limits.iter().copied())
        .collect()
}

/// The fewest changes that together let more worth be stocked, each as small as the others allow
/// in turn; and how many plans the check refused.
pub(super) fn together(
    asked: &Asked,
    on_offer: fn(&Limit, &Scenario) -> bool,
) -> (Option<Offer>, u32) {
    let limits = asked.yard.limits.iter().copied();
    let limits: Vec<Limit> = limits
        .filter(|limit| on_offer(limit, asked.yard.scenario))
        .collect();
    let lifted = |places: &[usize]| {
        let chosen = places.iter().filter_map(|&place| limits.get(place));
        asked.yard.lift(chosen.copied())
    };
    let Some(found) = smallest(limits.len(), &|places| {
        asked.more(&lifted(places)) == Some(true)
    }) else {
        return (None, 0);
    };
    let mut changes = lifted(&found.members);
    for place in 0..changes.len() {
        let mut others = changes.clone();
        let change = others.remove(place);
        let change = least(asked, change.limit, &others);
        if let Some(slot) = changes.get_mut(place) {
            *slot = change;
        }
    }
    match asked.offer(changes, found.least) {
        Ok(offer) => (offer, 0),
        Err(Refused) => (None, 1),
    }
}

/// Groups of which no limit holds anything back alone, and all of them together do; with what is
/// reached without them.
pub(super) fn only_together(asked: &Asked, effects: &[Effect]) -> Vec<(Group, Best)> {
    let groups = eased(&asked.yard);
    let telling = |limit: &Limit| {
        let mut effects = effects.iter();
        effects.any(|effect| effect.limit == *limit && effect.lifted.is_some())
    };
    let found = groups.par_iter().filter_map(|(group, limits)| {
        if limits.len() < 2 || limits.iter().any(telling) {
            return None;
        }
        let reach = asked.without(limits.iter().copied())?;
        let better = reach.beats(&asked.again.today());
        better.then(|| (*group, reach.into()))
    });
    found.collect()
}

/// The fewest groups of limits that allow nothing to be stocked even with all others lifted.
pub(super) fn forbidding(asked: &Asked) -> Vec<Group> {
    let groups = groups(&asked.yard);
    let forbids = |kept: &[usize]| {
        let others: Vec<usize> = (0..groups.len())
            .filter(|place| !kept.contains(place))
            .collect();
        asked.more(&asked.yard.lift(members(&groups, &others))) == Some(false)
    };
    let found = smallest(groups.len(), &forbids);
    let members = found.map(|found| found.members).unwrap_or_default();
    let chosen = members.iter().filter_map(|&place| groups.get(place));
    chosen.map(|(group, _)| *group).collect()
}

/// Groups that hold worth back alone, with the least change where the group is a single thing.
pub(super) fn lone_groups(asked: &Asked) -> Vec<(Group, Option<Change>)> {
    let groups = eased(&asked.yard);
    let more = |changes: &[Change]| asked.more(changes) == Some(true);
    let lone = groups.par_iter().filter_map(|(group, limits)| {
        // Mostly the least is enough, and then there is no need to lift the whole.
        if let [limit] = limits.as_slice()
            && !matches!(limit, Limit::Hold(_) | Limit::Whole(_))
        {
            let first = asked.yard.amounts(*limit, &asked.options.least).1(1);
            if more(&[first]) {
                return Some((*group, Some(first)));
            }
        }
        if !more(&asked.yard.lift(limits.iter().copied())) {
            return None;
        }
        let change = match limits.as_slice() {
            [limit @ (Limit::Hold(_) | Limit::Whole(_))] => Some(asked.yard.lifted(*limit)),
            [limit] => Some(least(asked, *limit, &[])),
            _ => None,
        };
        Some((*group, change))
    });
    lone.collect()
}
