//! Rules keep and draw: floors and caps of each colony.

use super::account::{Account, all_honey};
use super::words::{breach, colony_name, counted, kilograms, milli};
use super::{Breach, Rule};
use crate::scenario::Scenario;

pub(super) fn keep(scenario: &Scenario, accounts: &[Account], breaches: &mut Vec<Breach>) {
    for (colony, account) in scenario.colonies.iter().zip(accounts) {
        // What is done alone is no fault of the plan.
        if !account.opened() || !account.gives_more {
            continue;
        }
        let after = account.before.less(account.drawn);
        let place = colony_name(colony);
        let mut floor = |left: i128, least: i64, show: &dyn Fn(i128) -> String| {
            let least = i128::from(least);
            if left < least {
                breaches.push(breach(
                    Rule::Keep,
                    &place,
                    format!("{} left", show(left)),
                    format!("at least {}", show(least)),
                ));
            }
        };
        let floors = &colony.keep;
        floor(after.brood, floors.brood.0, &|v| {
            format!("{} brood frames", milli(v))
        });
        floor(after.bees, floors.bees.0, &|v| counted(v, "bee", "bees"));
        floor(after.stores, floors.stores.0, &|v| {
            format!("{} kg of stores", milli(v))
        });
        floor(after.drawn, floors.drawn.0, &|v| {
            format!("{} drawn combs", milli(v))
        });
    }
}

pub(super) fn draw(scenario: &Scenario, accounts: &[Account], breaches: &mut Vec<Breach>) {
    let mut cap = |place: &str, taken: i128, most: Option<i128>, show: &dyn Fn(i128) -> String| {
        if let Some(most) = most
            && taken > most
        {
            breaches.push(breach(
                Rule::Draw,
                place,
                show(taken),
                format!("at most {}", show(most)),
            ));
        }
    };
    for (colony, account) in scenario.colonies.iter().zip(accounts) {
        if !account.opened() || !account.gives_more {
            continue;
        }
        let place = colony_name(colony);
        let caps = &colony.draw;
        cap(&place, account.frames, caps.frames.map(i128::from), &|v| {
            format!("{} taken", counted(v, "frame", "frames"))
        });
        cap(
            &place,
            account.drawn.brood,
            caps.brood.map(|b| b.0.into()),
            &|v| format!("{} brood frames taken", milli(v)),
        );
        cap(&place, account.bees, caps.bees.map(|b| b.0.into()), &|v| {
            format!("{} taken", counted(v, "bee", "bees"))
        });
        cap(
            &place,
            account.honey,
            caps.honey.map(|h| h.0.into()),
            &kilograms,
        );
    }
    let all = all_honey(accounts);
    let spent = accounts.iter().map(|account| account.done_honey);
    let spent = spent.fold(0, i128::saturating_add);
    if accounts.iter().any(Account::opened) {
        cap(
            "all colonies",
            all,
            scenario.honey_cap.map(|h| i128::from(h.0).max(spent)),
            &kilograms,
        );
    }
}
