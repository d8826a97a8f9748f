//! The reasons behind a plan, each held against solving the changed scenario from nothing.
//!
//! What a limit, a change and a group of limits are: `docs/why.md`, "Limits". The scenarios solved
//! here are small, and those of the first test are also gone through plan by plan
//! (`support/enumerate.rs`).

use super::support::{enumerate, for_seeds, generate, seeds};
use spareframe_solver::why::*;
use spareframe_solver::*;

/// Steps in the measure of the generated scenarios, whose combs hold a few bees.
const STEPS: Steps = Steps {
    frame_shares: 100,
    bees: 1,
    stores: 1,
    honey: 1,
    percent: 10,
};

const OPTIONS: WhyOptions = WhyOptions {
    one: STEPS,
    least: STEPS,
    notable: Grams(1),
    time_limit: None,
    cancel: None,
};

/// Worth and cost of the best plan, solved from nothing.
fn best(scenario: &Scenario) -> Result<(i64, i64), String> {
    let reached = |goals: &Goals| (goals.worth.0, goals.cost.total(&scenario.prices).0);
    match solve(scenario, &SolveOptions::default()) {
        Outcome::Stocked(s) if s.proof == Proof::Best => Ok(reached(&s.goals)),
        Outcome::Nothing => Ok((0, 0)),
        other => Err(format!("not proved: {other:?}")),
    }
}

/// The same of what is said. No change touches a price.
fn pair(scenario: &Scenario, best: &Best) -> (i64, i64) {
    (best.worth.0, best.cost.total(&scenario.prices).0)
}

fn beats(one: (i64, i64), other: (i64, i64)) -> bool {
    one.0 > other.0 || (one.0 == other.0 && one.1 < other.1)
}

fn same<T: PartialEq + std::fmt::Debug>(what: &str, said: T, is: T) -> Result<(), String> {
    if said == is {
        Ok(())
    } else {
        Err(format!("{what}: said {said:?}, is {is:?}"))
    }
}

struct Case {
    scenario: Scenario,
    plan: Plan,
    why: Why,
    today: (i64, i64),
}

fn case(scenario: Scenario) -> Result<Case, String> {
    let found = solve(&scenario, &SolveOptions::default());
    let why = why(&scenario, &found, &OPTIONS);
    let plan = match found {
        Outcome::Stocked(s) => s.plan,
        _ => Plan::default(),
    };
    let today = best(&scenario)?;
    same("today", pair(&scenario, &why.today), today)?;
    same("refused", why.refused, 0)?;
    same("exact", why.exact, true)?;
    Ok(Case {
        scenario,
        plan,
        why,
        today,
    })
}

fn applied(case: &Case, offer: &Offer) -> Scenario {
    changed(&case.scenario, &offer.changes)
}

#[test]
fn every_offer_yields_what_it_promises() {
    for_seeds(seeds(60), |seed| {
        let case = case(generate::small(seed))?;
        let why = &case.why;
        let offers = why.offers.iter().chain(&why.together).chain(&why.own);
        for offer in offers {
            let after = applied(&case, offer);
            same(
                &format!("{:?}", offer.changes),
                pair(&case.scenario, &offer.best),
                best(&after)?,
            )?;
            let (goals, breaches) = check(&after, &offer.plan);
            same("breaches", breaches, vec![])?;
            same("plan", offer.best.cost, goals.cost)?;
            if offer.best.worth.0 <= case.today.0 {
                return Err(format!("no more worth: {offer:?}"));
            }
            if seed % 10 == 0 && offer.changes.iter().all(|change| change.by < 3) {
                let most = enumerate::best(&after).map(|best| (best.worth, best.cost));
                let said = pair(&case.scenario, &offer.best);
                same("every plan", Some(said), most)?;
            }
        }
        Ok(())
    });
}

/// The amounts below one that an offer may be made of: counted things one by one, floors and caps at
/// multiples of their step.
fn lesser(scenario: &Scenario, change: &Change) -> Vec<Change> {
    let step = match change.limit.unit() {
        Unit::FrameShares => STEPS.frame_shares,
        Unit::Percent => STEPS.percent,
        _ => 1,
    };
    let now = change.limit.now(scenario);
    let on_step = |by: i64| match change.limit {
        Limit::Floor(..) | Limit::Rides(_) => by == now || (now - by) % step == 0,
        Limit::Cap(..) | Limit::HoneyCap => (now + by) % step == 0,
        _ => true,
    };
    let amounts = (1..change.by).filter(|&by| on_step(by));
    amounts.map(|by| Change { by, ..*change }).collect()
}

#[test]
fn no_offer_could_be_smaller_and_none_is_missing() {
    for_seeds(seeds(60), |seed| {
        let case = case(generate::small(seed))?;
        let offered = |limit: Limit| {
            let offers = case.why.offers.iter();
            offers
                .flat_map(|offer| &offer.changes)
                .find(move |change| change.limit == limit)
        };
        for effect in &case.why.effects {
            let limit = effect.limit;
            if let Some(change) = offered(limit) {
                let all = lesser(&case.scenario, change);
                // Bees and honey may go in thousands of steps; the nearest say most.
                for lesser in all.iter().rev().take(3).chain(all.iter().take(2)) {
                    let worth = best(&changed(&case.scenario, &[*lesser]))?.0;
                    same(&format!("{lesser:?} for {change:?}"), worth, case.today.0)?;
                }
            } else if limit.on_offer(&case.scenario) {
                let worth = best(&without(&case.scenario, &[limit]))?.0;
                same(&format!("{limit:?} is not on offer"), worth, case.today.0)?;
            }
        }
        let offers = case.why.offers.iter();
        let costs: Vec<i64> = offers
            .map(|offer| pair(&case.scenario, &offer.best).1)
            .collect();
        same("cheapest first", costs.is_sorted(), true)
    });
}

#[test]
fn what_a_limit_holds_back_is_what_solving_without_it_brings() {
    for_seeds(seeds(80), |seed| {
        let case = case(generate::small(seed))?;
        for effect in &case.why.effects {
            let lifted = best(&without(&case.scenario, &[effect.limit]))?;
            let said = effect.lifted.as_ref();
            let said = said.map_or(case.today, |best| pair(&case.scenario, best));
            same(&format!("without {:?}", effect.limit), said, lifted)?;
            if let Some((change, said)) = &effect.one_more {
                let is = best(&changed(&case.scenario, &[*change]))?;
                same(&format!("{change:?}"), pair(&case.scenario, said), is)?;
            } else if effect.lifted.is_some() && effect.limit.unit() == Unit::Frames {
                let change = Change {
                    limit: effect.limit,
                    by: 1,
                };
                let is = best(&changed(&case.scenario, &[change]))?;
                same(&format!("{change:?}"), case.today, is)?;
            }
        }
        Ok(())
    });
}

/// All sets of so many out of `items`.
fn subsets<T: Copy>(items: &[T], size: usize) -> Vec<Vec<T>> {
    if size == 0 {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    for (at, &first) in items.iter().enumerate() {
        for mut set in subsets(&items[at + 1..], size - 1) {
            set.push(first);
            all.push(set);
        }
    }
    all
}

#[test]
fn no_fewer_changes_do_it_together() {
    for_seeds(seeds(80), |seed| {
        let case = case(generate::small(seed))?;
        let all: Vec<Limit> = case.why.effects.iter().map(|effect| effect.limit).collect();
        let on_offer = |of: fn(&Limit, &Scenario) -> bool| -> Vec<Limit> {
            let limits = all.iter().copied();
            limits.filter(|limit| of(limit, &case.scenario)).collect()
        };
        for (offer, of) in [
            (
                &case.why.together,
                Limit::on_offer as fn(&Limit, &Scenario) -> bool,
            ),
            (&case.why.own, Limit::is_own),
        ] {
            let limits = on_offer(of);
            let Some(offer) = offer else { continue };
            same("fewest", offer.fewest, true)?;
            for set in subsets(&limits, offer.changes.len() - 1)
                .into_iter()
                .take(200)
            {
                let worth = best(&without(&case.scenario, &set))?.0;
                same(
                    &format!("{set:?} beside {:?}", offer.changes),
                    worth,
                    case.today.0,
                )?;
            }
            // Each change counts: with the others alone there is no more.
            for place in 0..offer.changes.len() {
                let mut others = offer.changes.clone();
                others.remove(place);
                let worth = best(&changed(&case.scenario, &others))?.0;
                same(&format!("{others:?}"), worth, case.today.0)?;
            }
        }
        if case.why.offers.is_empty() && case.why.together.is_none() {
            let limits = on_offer(Limit::on_offer);
            let worth = best(&without(&case.scenario, &limits))?.0;
            same("nothing helps", worth, case.today.0)?;
        }
        Ok(())
    });
}

#[test]
fn what_forbids_the_first_compartment_does_so_alone_and_nothing_less_does() {
    let forbidden = std::sync::atomic::AtomicU32::new(0);
    for_seeds(seeds(60), |seed| {
        let case = case(generate::small(seed))?;
        if case.today.0 > 0 {
            return same("forbidding", case.why.forbidding.len(), 0);
        }
        let limits = || case.why.effects.iter().map(|effect| effect.limit);
        let keeping = |kept: &[Group]| {
            let others: Vec<Limit> = limits().filter(|l| !kept.contains(&group_of(l))).collect();
            best(&without(&case.scenario, &others)).map(|best| best.0)
        };
        let named = &case.why.forbidding;
        same("the named alone", keeping(named)?, 0)?;
        let mut groups: Vec<Group> = limits().map(|limit| group_of(&limit)).collect();
        groups.sort();
        groups.dedup();
        if keeping(&[])? == 0 {
            // A recipe that nothing could ever fill.
            return same("forbidding", named.len(), 0);
        }
        forbidden.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        for set in subsets(&groups, named.len().saturating_sub(1))
            .into_iter()
            .take(60)
        {
            if keeping(&set)? == 0 {
                return Err(format!("{set:?} forbids it, {named:?} is named"));
            }
        }
        Ok(())
    });
    assert!(forbidden.into_inner() > 0);
}

#[test]
fn the_reason_of_a_colony_is_what_solving_shows() {
    for_seeds(seeds(80), |seed| {
        let case = case(generate::small(seed))?;
        for reason in &case.why.colonies {
            let colony = &case.scenario.colonies[reason.colony.0];
            let own: Vec<Limit> = case
                .why
                .effects
                .iter()
                .map(|effect| effect.limit)
                .filter(|limit| limit.colony() == Some(reason.colony))
                .collect();
            let better = |limits: &[Limit]| {
                best(&without(&case.scenario, limits)).map(|best| beats(best, case.today))
            };
            for because in &reason.because {
                match because {
                    Because::OnHold => same("hold", colony.hold.is_some(), true)?,
                    Because::Below(Floor::Bees) => same("gives no bees", reason.bees.0, 0)?,
                    Because::Below(_) => {}
                    Because::NothingFits => {
                        let given = (reason.frames, reason.bees.0);
                        same("gives nothing", given, (0, 0))?;
                    }
                    Because::Limits(named) => {
                        for limit in &own {
                            let what = format!("{limit:?} of {named:?}");
                            same(&what, better(&[*limit])?, named.contains(limit))?;
                        }
                    }
                    Because::Together(named) => {
                        same("together", better(named)?, true)?;
                        for set in subsets(&own, named.len() - 1) {
                            same(&format!("{set:?}"), better(&set)?, false)?;
                        }
                    }
                    Because::NotKnown => return Err("a reason is not known".into()),
                    Because::GaveAll(_) | Because::TooDear | Because::NotNeeded => {
                        same(&format!("{because:?}"), better(&own)?, false)?;
                    }
                }
            }
            let dear = reason.because.contains(&Because::TooDear);
            if dear || reason.because == [Because::NotNeeded] {
                let mut free = case.scenario.clone();
                free.colonies[reason.colony.0].crop = None;
                free.colonies[reason.colony.0].apart = true;
                let goals = check(&free, &case.plan).0;
                let others = (goals.worth.0, goals.cost.total(&free.prices).0);
                same("too dear", dear, beats(best(&free)?, others))?;
            }
        }
        Ok(())
    });
}

/// The most compartments of a kind that any plan stocks, whatever the others lose: the best where the kind
/// is worth more than all others together.
fn most_of(scenario: &Scenario, kind: BoxId) -> Result<u32, String> {
    let mut dear = scenario.clone();
    for other in &mut dear.boxes {
        other.worth = Worth(1);
    }
    dear.boxes[kind.0].worth = Worth(1000);
    let worth = best(&dear)?.0;
    Ok(u32::try_from(worth / 1000).expect("few"))
}

#[test]
fn the_reason_of_a_kind_of_box_is_what_solving_shows() {
    for_seeds(seeds(80), |seed| {
        let case = case(generate::small(seed))?;
        let limits = || case.why.effects.iter().map(|effect| effect.limit);
        for reason in &case.why.kinds {
            let kind = &case.scenario.boxes[reason.kind.0];
            let step = if kind.whole { kind.compartments } else { 1 };
            let possible = |groups: &[Group]| {
                let lifted: Vec<Limit> = limits()
                    .filter(|limit| groups.contains(&group_of(limit)))
                    .collect();
                let most = most_of(&without(&case.scenario, &lifted), reason.kind)?;
                Ok::<bool, String>(most >= reason.stocked + step)
            };
            let mut groups: Vec<Group> = limits().map(|limit| group_of(&limit)).collect();
            groups.sort();
            groups.dedup();
            match &reason.because {
                Unstocked::WorthLess(_) | Unstocked::NoBetter => {
                    same(&format!("{reason:?}"), possible(&[])?, true)?;
                }
                Unstocked::NotKnown => return Err("a reason is not known".into()),
                Unstocked::Never => same("never", possible(&groups)?, false)?,
                Unstocked::Limits(named) => {
                    same(&format!("{reason:?}"), possible(named)?, true)?;
                    for set in subsets(&groups, named.len() - 1) {
                        same(&format!("{set:?} of {reason:?}"), possible(&set)?, false)?;
                    }
                }
            }
        }
        Ok(())
    });
}

#[test]
fn without_the_colonies_of_a_site_is_reached_what_a_yard_with_them_on_hold_does() {
    let asked = std::sync::atomic::AtomicUsize::new(0);
    for_seeds(seeds(60), |seed| {
        let case = case(generate::small(seed))?;
        let (plan, why) = (&case.plan, &case.why);
        let remains = remains(&case.scenario, plan);
        let gives = remains.iter().filter(|c| c.frames > 0 || c.bees.0 > 0);
        let site = |c: &ColonyAccount| case.scenario.colonies[c.colony.0].site;
        let mut sites: Vec<SiteId> = gives.map(site).collect();
        sites.sort_unstable();
        sites.dedup();
        if sites.len() < 2 || !case.scenario.done.is_empty() || !case.scenario.gives.is_empty() {
            return same("one site", why.without_sites.len().min(sites.len()), 0);
        }
        same(
            "sites",
            why.without_sites.iter().map(|w| w.site).collect(),
            sites,
        )?;
        for without in &why.without_sites {
            let mut held = case.scenario.clone();
            let there = held.colonies.iter_mut().filter(|c| c.site == without.site);
            there.for_each(|colony| colony.hold = Some("left alone".to_owned()));
            let said = pair(&held, &without.best);
            same("without", said, best(&held)?)?;
            same("breaches", check(&held, &without.plan).1, vec![])?;
            if beats(said, case.today) {
                return Err(format!("{said:?} beats {:?}", case.today));
            }
            asked.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        }
        Ok(())
    });
    assert!(asked.into_inner() > 10);
}
