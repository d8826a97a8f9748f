//! Rule give: frames that are wished for.

use super::account::Taken;
use super::breach::{Amount, Breaches, Place, Rule};
use crate::plan::Origin;
use crate::scenario::{Give, Scenario};

pub(super) fn give(scenario: &Scenario, taken: &Taken, breaches: &mut Breaches) {
    for wish in &scenario.gives {
        let place = match wish.group {
            None => Place::Colony(wish.colony),
            Some(group) => Place::Origin(Origin::Colony(wish.colony, group)),
        };
        let found = (given(taken, wish), wish.frames.into());
        breaches.floor(Rule::Give, place, found, Amount::Frames);
    }
}

fn given(taken: &Taken, wish: &Give) -> i128 {
    let groups = taken.groups.get(wish.colony.0).map_or(&[][..], |g| g);
    match wish.group {
        None => groups.iter().sum(),
        Some(group) => groups.get(group).copied().unwrap_or(0),
    }
}
