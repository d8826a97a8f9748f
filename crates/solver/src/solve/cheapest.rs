//! The least cost of plans of so much worth. In large yards a core of colonies is searched first, for a cost to
//! beat.

use std::collections::BTreeSet;

use itertools::Itertools;

use super::engine::{Branching, End, Found, Limits, Model, Objective, Simplex, branch_and_bound};
use super::master::{Master, Solution, Tag};

/// Work that one search may take, in relaxations times sets (a choice: about half a second, two in large
/// yards); what is open then is said.
pub(super) const MOST_WORK: usize = 400_000;
/// Sets from which on a search may take five times as much (a choice: yards of some two hundred colonies).
const LARGE: usize = 200;
/// Colonies in the cores in which a plan is looked for first, in yards of many more (engine.md; a choice).
const CORES: [usize; 2] = [25, 80];
/// Work that the search of a core may take (a choice).
const CORE_WORK: usize = 40_000;

/// The least cost of the worth asked for, if it is below a limit.
pub(super) fn cheapest(
    master: &mut Master,
    simplex: &mut Simplex<Tag>,
    mut limits: Limits,
) -> Found<Solution> {
    let all = master.domains();
    simplex.take_up(master, Objective::Cost);
    let ended = simplex.search(master, i128::MAX);
    let (prices, bound) = (simplex.prices.clone(), simplex.bound);
    let mut best = None;
    let large = master.sets() >= 4 * CORES[0];
    if large && ended == End::Optimal && !simplex.lacks() && whole_kinds(master, simplex) {
        let (dived, prices) = (master.domains(), simplex.prices.clone());
        for size in CORES {
            if master.sets() < 4 * size {
                break;
            }
            let found = in_core(master, simplex, &prices, (size, limits));
            if let Some((cost, solution)) = found.best {
                limits.below = limits.near.below(cost);
                best = Some((cost, solution));
            }
            master.enter(&dived, None);
        }
    }
    master.enter(&all, None);
    if best.is_some() {
        master.improved(&prices, bound, limits.below);
    }
    if master.sets() >= LARGE {
        limits.work *= 5;
    }
    let mut found = branch_and_bound(master, simplex, limits);
    if found.best.is_none() && best.is_some() {
        found.bound = found.bound.min(limits.below);
        found.best = best;
    }
    found
}

/// Restricts compartments of one kind after another until the relaxation has whole numbers of them; whether
/// that can be had.
fn whole_kinds(master: &mut Master, simplex: &mut Simplex<Tag>) -> bool {
    loop {
        let candidates = master.candidates(&simplex.weighted());
        let Some(candidate) = candidates.into_iter().find(|of| master.is_kind(of.key.0)) else {
            return true;
        };
        let domains = master.domains();
        let open = candidate.parts.iter().any(|part| {
            master.enter(&domains, Some(part));
            simplex.take_up(master, Objective::Cost);
            simplex.search(master, i128::MAX) == End::Optimal && !simplex.lacks()
        });
        if !open {
            return false;
        }
    }
}

/// The least cost where all colonies but a core keep to their columns: those that the relaxation divides, and
/// so many others whose second best vector is hardly dearer than their best.
fn in_core(
    master: &mut Master,
    simplex: &Simplex<Tag>,
    prices: &[i64],
    (size, limits): (usize, Limits),
) -> Found<Solution> {
    let divided = simplex.divided();
    let regrets = master.regrets(prices);
    let colonies = (0..master.sets()).filter(|&at| !divided[at] && regrets[at] > 0);
    let core: BTreeSet<usize> = colonies
        .sorted_by_key(|&at| (regrets[at], at))
        .take(size)
        .collect();
    let keep = |at: usize| divided[at] || regrets[at] == 0 || core.contains(&at);
    let saved = master.freeze(simplex.heaviest(), &keep);
    let mut small = Simplex::new(master);
    let frozen = master.frozen_cost();
    let below = limits.below;
    let limits = Limits {
        below: if below < i64::MAX {
            below - frozen
        } else {
            below
        },
        near: limits.near.less(frozen),
        work: CORE_WORK,
        ..limits
    };
    let mut found = branch_and_bound(master, &mut small, limits);
    if let Some((cost, _)) = &mut found.best {
        *cost += frozen;
    }
    master.thaw(saved);
    found
}
