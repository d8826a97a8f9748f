//! Rule give: frames that are wished for.

use super::words::{breach, colony_name, counted, group_name};
use super::{Breach, Rule};
use crate::Plan;
use crate::plan::Origin;
use crate::scenario::{Give, Scenario};

pub(super) fn give(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    for wish in &scenario.gives {
        let given = given(plan, wish);
        let asked = i128::from(wish.frames);
        if given >= asked {
            continue;
        }
        let place = match (scenario.colonies.get(wish.colony.0), wish.group) {
            (Some(colony), None) => colony_name(colony),
            (Some(colony), Some(group)) => group_name(colony, group),
            (None, _) => format!("colony number {}", wish.colony.0.saturating_add(1)),
        };
        breaches.push(breach(
            Rule::Give,
            &place,
            format!("{} taken", counted(given, "frame", "frames")),
            format!("at least {asked}, as wished for"),
        ));
    }
}

fn given(plan: &Plan, wish: &Give) -> i128 {
    let placed = plan.touched().flat_map(|c| &c.frames);
    placed
        .filter(|placed| match placed.origin {
            Origin::Colony(colony, group) => {
                colony == wish.colony && wish.group.is_none_or(|wished| wished == group)
            }
            Origin::StoreRoom(_) => false,
        })
        .map(|placed| i128::from(placed.count))
        .sum()
}
