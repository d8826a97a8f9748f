//! Most worth, then least cost, over an instance.

use std::collections::BTreeSet;

use itertools::Itertools;

use super::engine::{
    Branching, End, Found, Limits, Model, Objective, Simplex, branch_and_bound, whole,
};
use super::instance::Instance;
use super::master::{Clock, Master, Solution, Tag};
use super::{Goal, Proof};
use crate::plan::Cost;

/// Work that one search may take, in relaxations times sets (a choice: about a second); what is open then is
/// said.
const MOST_WORK: usize = 1_000_000;
/// Relaxations that any search may take (a choice).
const LEAST_NODES: usize = 100;

/// Colonies in the cores in which a plan is looked for first, in yards of many more (engine.md; a choice).
const CORES: [usize; 2] = [25, 80];
/// Work that the search of a core may take (a choice).
const CORE_WORK: usize = 40_000;

/// Where a search ended.
pub(crate) struct Minimum {
    /// The best found; `None` where nothing meets the wishes, or nothing was found in time.
    pub best: Option<Solution>,
    /// No plan is worth more, in thousandths; `None` where no plan exists at all.
    pub worth: Option<i64>,
    /// No plan of the best's worth costs less, in grams with what is done.
    pub cost: i64,
    /// It was stopped.
    pub stopped: bool,
}

impl Minimum {
    /// What is proved of the best.
    pub fn proof(&self, instance: &Instance) -> Proof {
        let (worth, cost) = self.best.as_ref().map_or((0, i64::MAX), |best| {
            (best.worth, best.cost.total(&instance.prices).0)
        });
        let most = self.worth.unwrap_or(0);
        let open = |goal, bound| Proof::Open {
            goal,
            bound,
            timed_out: self.stopped,
        };
        if worth < most {
            open(Goal::Worth, most)
        } else if self.cost < cost {
            open(Goal::Cost, self.cost)
        } else {
            Proof::Best
        }
    }
}

/// Finds the best of an instance. Worth is asked for from the greatest that the relaxation allows
/// downwards; the first that a plan reaches is the greatest, and the search for the plan is the search for
/// the least cost.
pub(crate) fn minimise(instance: &Instance, clock: Clock) -> Minimum {
    let mut master = Master::new(instance, clock);
    let mut simplex = Simplex::new(&master);
    simplex.take_up(&master, Objective::Worth);
    simplex.search(&master, i128::MAX);
    if std::env::var_os("DBG").is_some() { let d = &instance.donors[0]; eprintln!("{:?} bees {} brood {} stores {} drawn {} hundred {} burden {:?} stay {:?} frames {}", d.covered, d.bees, d.brood, d.stores, d.drawn, d.hundred, d.burden, d.stay, d.frames); for c in master.colonies().take(2) { eprintln!("slots {} list {:?}", c.slots.len(), c.listing.as_ref().map(|l| l.len())); } for i in &d.items { eprintln!("{} x brood {} cover {} least {} bees {}", i.count, i.brood, i.cover, i.least, i.bees); } }
    let done = instance.base.total(&instance.prices).0;
    let mut minimum = Minimum {
        best: None,
        worth: None,
        cost: done,
        stopped: false,
    };
    let mut ask = match simplex.bound {
        i128::MAX => return minimum,
        i128::MIN => all_worth(&master),
        bound => -whole(bound),
    };
    while ask >= 0 {
        master.ask(ask);
        simplex.rows_changed(&master);
        let found = cheapest(&mut master, &mut simplex, i64::MAX);
        minimum.stopped = master.stop();
        if let Some((_, solution)) = found.best {
            minimum.worth = Some(ask * master.unit);
            minimum.cost = found.bound.saturating_add(done);
            minimum.best = Some(solution);
            return minimum;
        }
        if found.bound < i64::MAX {
            // Stopped: a plan of so much worth is neither found nor excluded.
            minimum.worth = Some(ask * master.unit);
            minimum.best = master.aside.take();
            return minimum;
        }
        ask -= 1;
    }
    minimum
}

/// The least cost of the worth asked for, below a limit.
fn cheapest(
    master: &mut Master,
    simplex: &mut Simplex<Tag>,
    mut below: i64,
) -> Found<Solution> {
    let all = master.domains();
    simplex.take_up(master, Objective::Cost);
    let ended = simplex.search(master, i128::MAX);
    let (prices, bound) = (simplex.prices.clone(), simplex.bound);
    let mut best = None;
    let mut work = 0;
    let t0 = std::time::Instant::now();
    let stat = std::env::var_os("SFSTAT").is_some();
    if stat { eprintln!("root {:.1} ended {ended:?} lacks {} sets {}", bound as f64 / 1048576.0, simplex.lacks(), master.sets()); }
    let large = master.sets() >= 4 * CORES[0];
    if large && ended == End::Optimal && !simplex.lacks() && whole_kinds(master, simplex) {
        let (dived, prices) = (master.domains(), simplex.prices.clone());
        if std::env::var_os("SFSTAT").is_some() { eprintln!("dived {:.1} t {:?}", simplex.bound as f64 / 1048576.0, t0.elapsed()); }
        for size in CORES {
            if master.sets() < 4 * size {
                break;
            }
            let found = in_core(master, simplex, &prices, (size, below));
            work += found.work;
            if stat { eprintln!("core {size}: work {} best {:?} t {:?}", found.work, found.best.as_ref().map(|b| b.0), t0.elapsed()); }
            if let Some((cost, solution)) = found.best {
                below = cost;
                best = Some((cost, solution));
            }
            master.enter(&dived, None);
        }
    }
    master.enter(&all, None);
    if best.is_some() {
        master.improved(&prices, bound, below);
    }
    let limits = Limits {
        below,
        work: MOST_WORK.max(LEAST_NODES * master.sets()),
    };
    if stat { let n: usize = master.colonies().map(|c| c.choices.list.as_ref().map_or(0, |l| l.len())).sum(); eprintln!("full: sets {} listed {n} t {:?}", master.sets(), t0.elapsed()); }
    let mut found = branch_and_bound(master, simplex, limits);
    if stat { eprintln!("full: work {} best {:?} bound {} t {:?}", found.work, found.best.as_ref().map(|b| b.0), found.bound, t0.elapsed()); }
    found.work += work;
    if found.best.is_none() && best.is_some() {
        found.bound = found.bound.min(below);
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
    (size, below): (usize, i64),
) -> Found<Solution> {
    let divided = simplex.divided();
    let regrets = master.regrets(prices);
    let colonies = (0..master.sets()).filter(|&at| !divided[at] && regrets[at] > 0);
    let core: BTreeSet<usize> = colonies.sorted_by_key(|&at| (regrets[at], at)).take(size).collect();
    let keep = |at: usize| divided[at] || regrets[at] == 0 || core.contains(&at);
    let saved = master.freeze(simplex.heaviest(), &keep);
    let mut small = Simplex::new(master);
    let frozen = master.frozen_cost();
    let limits = Limits {
        below: if below < i64::MAX { below - frozen } else { below },
        work: CORE_WORK,
    };
    let mut found = branch_and_bound(master, &mut small, limits);
    if let Some((cost, _)) = &mut found.best {
        *cost += frozen;
    }
    master.thaw(saved);
    found
}

/// A plan of as much worth as another and no more cost, if one is found within so many nodes.
pub(crate) fn as_good(
    instance: &Instance,
    best: &Solution,
    relaxations: usize,
    clock: Clock,
) -> Option<Solution> {
    let mut master = Master::new(instance, clock);
    master.ask(best.worth / master.unit);
    let mut simplex = Simplex::new(&master);
    let cost = |cost: &Cost| cost.total(&instance.prices).0;
    let limits = Limits {
        below: cost(&best.cost) - cost(&instance.base) + 1,
        work: relaxations * master.sets(),
    };
    let (_, found) = branch_and_bound(&mut master, &mut simplex, limits).best?;
    (cost(&found.cost) <= cost(&best.cost)).then_some(found)
}

/// All worth there is, in units of the worth row.
fn all_worth(master: &Master) -> i64 {
    let kinds = master.instance.kinds.iter();
    kinds.map(|kind| kind.worth / master.unit * kind.most).sum()
}
