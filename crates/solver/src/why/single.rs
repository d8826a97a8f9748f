//! What each limit holds back by itself, and the least change of each that lets more be stocked.

use std::cmp::Reverse;

use rayon::prelude::*;

use super::asked::Asked;
use super::idle::idle;
use super::limit::{Change, Limit};
use super::{Best, Offer, Refused};
use crate::scenario::{ColonyId, Prices};

/// What a limit holds back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effect {
    /// Which limit.
    pub limit: Limit,
    /// Whether what it holds back is known; if not, nothing is said of it.
    pub known: bool,
    /// What is reached without it, where that is better than today.
    pub lifted: Option<Best>,
    /// One more of it, and what is then reached, where that is better than today.
    pub one_more: Option<(Change, Best)>,
}

impl Effect {
    fn none(limit: Limit) -> Self {
        Self {
            limit,
            known: true,
            lifted: None,
            one_more: None,
        }
    }
}

/// For each colony, whether there may be a better plan without all its limits. Where there is none, no
/// one of them matters.
pub(super) fn holding_back(asked: &Asked) -> Vec<bool> {
    let colonies = 0..asked.yard.scenario.colonies.len();
    let may = |colony| asked.may_improve(asked.yard.of_colony(ColonyId(colony)));
    colonies.into_par_iter().map(may).collect()
}

/// The effect of every limit, in the order of the limits.
pub(super) fn effects(asked: &Asked, holding: &[bool]) -> Vec<Effect> {
    let matters = |limit: &Limit| match limit.colony() {
        Some(colony) => {
            holding.get(colony.0).copied().unwrap_or(false) && !idle(asked.yard.scenario, limit)
        }
        None => true,
    };
    let limits = asked.yard.limits.par_iter();
    let effect = |&limit: &Limit| match matters(&limit) {
        true => effect(asked, limit),
        false => Effect::none(limit),
    };
    limits.map(effect).collect()
}

fn effect(asked: &Asked, limit: Limit) -> Effect {
    let today = asked.again.today();
    let better = |change: &Change| {
        let reach = asked.reach(std::slice::from_ref(change))?;
        Some(reach.beats(&today).then_some(Best::from(reach)))
    };
    let unknown = Effect {
        known: false,
        ..Effect::none(limit)
    };
    let lift = asked.yard.lifted(limit);
    let Some(lifted) = better(&lift) else {
        return unknown;
    };
    if lifted.is_none() {
        return Effect::none(limit);
    }
    let one = asked.yard.one_more(limit, &asked.options.one);
    let best = match one.by >= lift.by {
        true => Some(lifted),
        false => better(&one),
    };
    let Some(best) = best else {
        return unknown;
    };
    Effect {
        limit,
        known: true,
        lifted,
        one_more: best.map(|best| (one, best)),
    }
}

/// The most telling first: most worth by one more, then least cost by it, then the same without the
/// limit; limits that hold nothing back last.
pub(super) fn ranked(prices: &Prices, today: &Best, mut effects: Vec<Effect>) -> Vec<Effect> {
    let key = |best: Option<Best>| {
        let best = best.unwrap_or(*today);
        (Reverse(best.worth), best.cost.total(prices))
    };
    effects.sort_by_key(|effect| {
        let one = key(effect.one_more.map(|(_, best)| best));
        (one, key(effect.lifted))
    });
    effects
}

/// The least of each thing that lets more worth be stocked; and how many plans the check refused.
pub(super) fn offers(asked: &Asked, effects: &[Effect]) -> (Vec<Offer>, u32) {
    let today = asked.again.today().worth;
    let helps = |effect: &&Effect| {
        let more = effect.lifted.is_some_and(|best| best.worth > today);
        more && effect.limit.on_offer(asked.yard.scenario)
    };
    let helpful: Vec<&Effect> = effects.iter().filter(helps).collect();
    let found: Vec<Result<Option<Offer>, Refused>> = helpful
        .into_par_iter()
        .map(|effect| asked.offer(vec![least(asked, effect.limit, &[])], true))
        .collect();
    let refused = found.iter().filter(|offer| offer.is_err()).count();
    let offers = found.into_iter().flatten().flatten().collect();
    (offers, u32::try_from(refused).unwrap_or(u32::MAX))
}

/// The lower figure for what is known twice: what a single change reaches, one that loosens the same limit as far or
/// further reaches, too.
pub(super) fn agree(prices: &Prices, effects: &mut [Effect], offers: &mut [Offer]) {
    let better = |one: &Best, other: &Best| {
        let reached = |best: &Best| (Reverse(best.worth), best.cost.total(prices));
        reached(one) < reached(other)
    };
    for offer in offers {
        let [change] = offer.changes[..] else {
            continue;
        };
        for effect in effects.iter_mut().filter(|e| e.limit == change.limit) {
            if let Some((one, best)) = &mut effect.one_more {
                if one.by >= change.by && better(&offer.best, best) {
                    *best = offer.best;
                } else if *one == change && better(best, &offer.best) {
                    offer.best = *best;
                }
            }
            let reached = effect.one_more.map(|(_, best)| best);
            for less in reached.into_iter().chain([offer.best]) {
                if let Some(best) = effect.lifted.as_mut().filter(|best| better(&less, best)) {
                    *best = less;
                }
            }
        }
    }
}

/// The least loosening of a limit that, beside other changes, lets more worth be stocked. It must
/// be so when the limit is lifted.
pub(super) fn least(asked: &Asked, limit: Limit, others: &[Change]) -> Change {
    let (count, amount) = asked.yard.amounts(limit, &asked.options.least);
    // What is not known is taken as not enough: then the offer holds, and may not be the least.
    let enough = |number: i64| {
        let changes = [others, &[amount(number)]].concat();
        asked.more(&changes) == Some(true)
    };
    // In strides that double, then by halves.
    let (mut below, mut reach) = (0, 1);
    while reach < count && !enough(reach) {
        below = reach;
        reach = (reach * 2).min(count);
    }
    while reach - below > 1 {
        let middle = below + (reach - below) / 2;
        if enough(middle) {
            reach = middle;
        } else {
            below = middle;
        }
    }
    amount(reach)
}
