//! What a plan reaches: worth, and what makes the cost.

use super::account::Account;
use super::asked::Asked;
use super::breach::{Spot, narrow};
use super::supply::frame_at;
use crate::plan::{Cost, Goals, Origin, Plan};
use crate::scenario::{Ask, ColonyId, FrameState, Line, Scenario, Span};
use crate::units::{Grams, Milli, Worth};
use std::collections::BTreeMap;

pub(super) fn goals(scenario: &Scenario, plan: &Plan, accounts: &[Account]) -> Goals {
    let kinds = plan.compartments.iter();
    let kinds = kinds.filter_map(|c| scenario.boxes.get(c.kind.0));
    let opened = accounts.iter().filter(|a| a.drawn.any()).count();
    Goals {
        worth: Worth(narrow(kinds.map(|kind| i128::from(kind.worth.0)).sum())),
        cost: Cost {
            honey: Grams(narrow(all_honey(accounts, |a| a.drawn.honey))),
            burden: narrow(accounts.iter().map(Account::burden).sum()),
            substitutes: narrow(places(scenario, plan)),
            opened: i64::try_from(opened).unwrap_or(i64::MAX),
            otherwise: 0,
        },
    }
}

pub(super) fn all_honey(accounts: &[Account], of: fn(&Account) -> i128) -> i128 {
    accounts.iter().map(of).fold(0, i128::saturating_add)
}

/// Places in the orders of preference over all frames placed. A frame that does not fit has none.
fn places(scenario: &Scenario, plan: &Plan) -> i128 {
    let mut sum = 0;
    for compartment in plan.touched() {
        let asked = Asked::of(scenario, Spot::of(compartment));
        let lines = asked.map(|asked| asked.lines).unwrap_or_default();
        for placed in &compartment.frames {
            let line = lines.get(placed.line);
            let frame = frame_at(scenario, placed.origin);
            let place = line
                .zip(frame)
                .and_then(|((line, _), frame)| place(line, frame));
            sum += i128::from(placed.count) * place.unwrap_or(0);
        }
    }
    sum
}

/// 0 where a frame fits the line itself, else the number of the first substitute that it fits, from 1.
pub(super) fn place(line: &Line, frame: &FrameState) -> Option<i128> {
    if fits(&line.ask, frame) {
        return Some(0);
    }
    let substitutes = (1_i128..).zip(&line.substitutes);
    let mut fitting = substitutes.filter(|(_, substitute)| fits(&substitute.ask, frame));
    fitting.next().map(|(place, _)| place)
}

fn fits(ask: &Ask, frame: &FrameState) -> bool {
    let lies = |share: Milli, span: Span| (span.least.0..=span.most.0).contains(&share.0);
    frame.comb == ask.comb
        && lies(frame.brood, ask.brood)
        && lies(frame.sealed, ask.sealed)
        && lies(frame.stores, ask.stores)
        && lies(frame.drawn, ask.drawn)
}

/// Frames that two plans take otherwise from each other, over all frame groups that either names.
pub(super) fn otherwise(now: &Plan, then: &Plan) -> i64 {
    let mut apart = BTreeMap::<(ColonyId, usize), i128>::new();
    for (plan, sign) in [(now, 1), (then, -1)] {
        for placed in plan.touched().flat_map(|c| &c.frames) {
            if let Origin::Colony(colony, group) = placed.origin {
                *apart.entry((colony, group)).or_default() += sign * i128::from(placed.count);
            }
        }
    }
    narrow(apart.values().map(|difference| difference.abs()).sum())
}
