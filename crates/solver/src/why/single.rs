//! What each limit holds back by itself, and the least change of each that lets more be stocked.

use std::cmp::Reverse;

use rayon::prelude::*;

use super::limit::{Change, Limit, changed};
use super::yard::Yard;
use super::{Best, Offer, Refused, WhyOptions, offer};
use crate::scenario::{ColonyId, Prices};
use crate::solve::{Again, Reach};

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

fn better(again: &Again, reached: Reach) -> Option<Best> {
    reached.beats(&again.today()).then_some(reached.into())
}

/// For each colony, whether there is a better plan without all its limits. Where there is none, no
/// one of them matters.
pub(super) fn holding_back(again: &Again, yard: &Yard) -> Vec<bool> {
    let colonies = 0..yard.scenario.colonies.len();
    let holds = colonies
        .into_par_iter()
        .map(|colony| colony_holds_back(again, yard, ColonyId(colony)));
    holds.collect()
}

/// The effect of every limit, in the order of the limits.
pub(super) fn effects(
    again: &Again,
    yard: &Yard,
    options: &WhyOptions,
    holding: &[bool],
) -> Vec<Effect> {
    let matters = |limit: &Limit| {
        let colony = limit.colony();
        colony.is_none_or(|colony| holding.get(colony.0).copied().unwrap_or(false))
    };
    let limits = yard.limits.par_iter();
    let effect = |&limit: &Limit| match matters(&limit) {
        true => effect(again, yard, options, limit),
        false => Effect::none(limit),
    };
    limits.map(effect).collect()
}

/// Whether there is a better plan without any limit of a colony.
fn colony_holds_back(again: &Again, yard: &Yard, colony: ColonyId) -> bool {
    let own = yard.limits.iter().copied();
    let own = own.filter(|limit| limit.colony() == Some(colony));
    let reached = again.reach(&yard.without(own));
    reached.is_none_or(|reached| reached.beats(&again.today()))
}

fn effect(again: &Again, yard: &Yard, options: &WhyOptions, limit: Limit) -> Effect {
    let lift = yard.lifted(limit);
    let Some(lifted) = again.reach(&lift.applied(yard.scenario)) else {
        return Effect {
            known: false,
            ..Effect::none(limit)
        };
    };
    let lifted = better(again, lifted);
    if lifted.is_none() {
        return Effect::none(limit);
    }
    let one = yard.one_more(limit, &options.one);
    let best = if one.by >= lift.by {
        lifted
    } else {
        let reached = again.reach(&one.applied(yard.scenario));
        reached.and_then(|reached| better(again, reached))
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
pub(super) fn offers(
    again: &Again,
    yard: &Yard,
    options: &WhyOptions,
    effects: &[Effect],
) -> (Vec<Offer>, u32) {
    let today = again.today().worth;
    let helps = |effect: &&Effect| {
        let more = effect.lifted.is_some_and(|best| best.worth > today);
        more && effect.limit.on_offer()
    };
    let helpful: Vec<&Effect> = effects.iter().filter(helps).collect();
    let found: Vec<Result<Option<Offer>, Refused>> = helpful
        .into_par_iter()
        .map(|effect| {
            let change = least(again, yard, options, effect.limit, &[]);
            offer(again, yard.scenario, vec![change], true)
        })
        .collect();
    let refused = found.iter().filter(|offer| offer.is_err()).count();
    let offers = found.into_iter().flatten().flatten().collect();
    (offers, u32::try_from(refused).unwrap_or(u32::MAX))
}

/// The least loosening of a limit that, beside other changes, lets more worth be stocked. It must
/// be so when the limit is lifted.
pub(super) fn least(
    again: &Again,
    yard: &Yard,
    options: &WhyOptions,
    limit: Limit,
    others: &[Change],
) -> Change {
    let base = changed(yard.scenario, others);
    let (count, amount) = yard.amounts(limit, &options.least);
    // What is not known is taken as not enough: then the offer holds, and may not be the least.
    let enough = |number: i64| again.more(&amount(number).applied(&base)) == Some(true);
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
