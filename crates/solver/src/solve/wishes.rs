//! Wishes that no plan can meet.

use super::direct::can_give;
use super::instance::Instance;
use super::{Cause, Ceiling, Unmet};
use crate::scenario::{Give, Scenario};

/// The wishes that cannot be met whatever else is planned.
pub(super) fn unmet(scenario: &Scenario, instance: &Instance) -> Vec<Unmet> {
    let wish = |give: &Give| {
        let cause = cause(scenario, instance, give)?;
        Some(Unmet { give: *give, cause })
    };
    let open = wishes(scenario).filter(|give| instance.done.left_of(give) > 0);
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

/// Why a wish cannot be met, if nothing but its colony and the lines stand against it.
fn cause(scenario: &Scenario, instance: &Instance, give: &Give) -> Option<Cause> {
    let colony = scenario.colonies.get(give.colony.0);
    if colony.is_some_and(|colony| colony.hold.is_some()) {
        return Some(Cause::Hold);
    }
    if at_hand(scenario, give) < u64::from(give.frames) {
        return Some(Cause::TooFew);
    }
    let donor = instance.donors.iter().find(|donor| donor.id == give.colony);
    let left = instance.done.left_of(give);
    let can = donor.is_some_and(|donor| can_give(instance, donor, give.group, left));
    (!can).then_some(Cause::Limits)
}

/// Whether a colony could give what is wished of it, if nothing but itself and the lines stood against it.
pub(crate) fn may_give(scenario: &Scenario, give: &Give) -> bool {
    let instance = Instance::new(scenario, None, &Ceiling::default());
    cause(scenario, &instance, give).is_none()
}

/// Frames that may be drawn at all from the colony or the group.
fn at_hand(scenario: &Scenario, give: &Give) -> u64 {
    let colony = scenario.colonies.get(give.colony.0).into_iter();
    let groups = colony.flat_map(|colony| colony.frames.iter().enumerate());
    groups
        .filter(|(index, group)| !group.queen && give.group.is_none_or(|wish| wish == *index))
        .map(|(_, group)| u64::from(group.count))
        .sum()
}
