//! Wishes that no plan can meet.

use super::options::list;
use super::tables::Tables;
use super::{Cause, Unmet};
use crate::scenario::{Give, Scenario};

/// The wishes that cannot be met whatever else is planned.
pub(super) fn unmet(scenario: &Scenario, tables: &Tables) -> Vec<Unmet> {
    if !tables.wishes {
        return Vec::new();
    }
    let wanted = tables.wanted();
    let none_left = |give: &Give| {
        let donor = tables.donors.iter().find(|donor| donor.id == give.colony);
        donor.is_none_or(|donor| {
            let known = |group| {
                let mut parts = donor.items.iter().flat_map(|item| &item.groups);
                parts.any(|part| part.group == group)
            };
            let list = list(donor, &wanted);
            give.group.is_some_and(|group| !known(group)) || (list.options.is_empty() && !list.cut)
        })
    };
    let wish = |give: &Give| {
        let cause = if held(scenario, give) {
            Cause::Hold
        } else if at_hand(scenario, give) < u64::from(give.frames) {
            Cause::TooFew
        } else if none_left(give) {
            Cause::Limits
        } else {
            return None;
        };
        Some(Unmet { give: *give, cause })
    };
    let open = wishes(scenario).filter(|give| tables.done.left_of(give) > 0);
    open.filter_map(wish).collect()
}

/// All wishes, where no plan meets them together.
pub(super) fn together(scenario: &Scenario) -> Vec<Unmet> {
    let cause = Cause::Together;
    wishes(scenario)
        .map(|give| Unmet { give: *give, cause })
        .collect()
}

fn wishes(scenario: &Scenario) -> impl Iterator<Item = &Give> {
    scenario.gives.iter().filter(|give| give.frames > 0)
}

fn held(scenario: &Scenario, give: &Give) -> bool {
    let colony = scenario.colonies.get(give.colony.0);
    colony.is_some_and(|colony| colony.hold.is_some())
}

/// Frames that may be drawn at all from the colony or the group.
fn at_hand(scenario: &Scenario, give: &Give) -> u64 {
    let colony = scenario.colonies.get(give.colony.0);
    let groups = colony
        .into_iter()
        .flat_map(|colony| colony.frames.iter().enumerate());
    groups
        .filter(|(index, group)| !group.queen && give.group.is_none_or(|wish| wish == *index))
        .map(|(_, group)| u64::from(group.count))
        .sum()
}
