//! Bounds and fixing against the enumeration, whatever the prices and wherever a search ends.

use super::engine::{
    Branching, Limits, Model, Near, Objective, SHIFT, Simplex, bound, branch_and_bound,
};
use super::instance::Instance;
use super::master::{Clock, Master};
use crate::support::rng::Rng;
use crate::support::{enumerate, for_seeds, generate, seeds};

/// A small yard as the optimiser sees it, and its optimum: thousandths of worth, and grams beyond what is done.
struct Case {
    instance: Instance,
    worth: i64,
    cost: i64,
}

impl Case {
    /// `None` where nothing can be stocked, or no plan meets the wishes.
    fn of(seed: u64) -> Option<Self> {
        let (scenario, then, most) = generate::question(seed);
        let best = enumerate::best_of(&scenario, then.as_ref(), most)?;
        let instance = Instance::new(&scenario, then.as_ref(), &most);
        let base = instance.base.total(&instance.prices).0;
        Some(Self {
            worth: best.worth,
            cost: best.cost - base,
            instance,
        })
    }

    /// The model, asked for the greatest worth.
    fn master(&self) -> Master<'_> {
        let mut master = Master::new(&self.instance, Clock::default());
        master.ask(self.worth / master.unit);
        master
    }
}

/// Prices at random, of all sizes; of rows "at least" none is below 0.
fn any_prices(rng: &mut Rng, master: &Master) -> Vec<i64> {
    let size = rng.range(0, 36);
    let price = |equal: bool| {
        let least = if equal { -(1 << size) } else { 0 };
        rng.range(least, 1 << size) * i64::from(rng.percent(60))
    };
    master
        .rows()
        .iter()
        .map(|row| row.equal)
        .map(price)
        .collect()
}

/// The best prices of the relaxation, each a little off.
fn near_prices(rng: &mut Rng, master: &Master, objective: Objective) -> Vec<i64> {
    let mut simplex = Simplex::new(master);
    simplex.take_up(master, objective);
    simplex.search(master, i128::MAX);
    let off = rng.range(0, 30);
    let price = |&price: &i64| price / 100 * (100 + rng.range(-off, off));
    simplex.prices.iter().map(price).collect()
}

fn prices(rng: &mut Rng, master: &Master, objective: Objective) -> Vec<i64> {
    match rng.percent(50) {
        true => any_prices(rng, master),
        false => near_prices(rng, master, objective),
    }
}

/// The error of a case that fails.
fn holds(holds: bool, error: impl std::fmt::Debug) -> Result<(), String> {
    holds.then_some(()).ok_or(format!("{error:?}"))
}

#[test]
fn no_prices_give_a_bound_above_the_enumerated_optimum() {
    for_seeds(seeds(500), |seed| {
        let Some(case) = Case::of(seed) else {
            return Ok(());
        };
        let rng = &mut Rng::new(seed);
        for _ in 0..20 {
            let master = case.master();
            let least = bound(
                &master,
                Objective::Cost,
                &prices(rng, &master, Objective::Cost),
                &|_| None,
            );
            holds(least <= i128::from(case.cost) << SHIFT, (case.cost, least))?;
            let master = Master::new(&case.instance, Clock::default());
            let least = bound(
                &master,
                Objective::Worth,
                &prices(rng, &master, Objective::Worth),
                &|_| None,
            );
            let worth = case.worth / master.unit;
            holds(least <= -(i128::from(worth) << SHIFT), (worth, least))?;
        }
        Ok(())
    });
}

/// What a search finds, within so many nodes: the cost, and the bound.
fn searched(master: &mut Master, nodes: usize) -> (Option<i64>, i64) {
    let mut simplex = Simplex::new(master);
    let limits = Limits {
        below: i64::MAX,
        near: Near::EXACT,
        work: nodes * master.sets(),
        first: false,
    };
    let found = branch_and_bound(master, &mut simplex, limits);
    (found.best.map(|(cost, _)| cost), found.bound)
}

#[test]
fn fixing_by_reduced_cost_at_any_prices_leaves_an_optimum() {
    for_seeds(seeds(500), |seed| {
        let Some(case) = Case::of(seed) else {
            return Ok(());
        };
        let rng = &mut Rng::new(seed);
        let mut master = case.master();
        for _ in 0..3 {
            let prices = prices(rng, &master, Objective::Cost);
            let bound = bound(&master, Objective::Cost, &prices, &|_| None);
            master.fix_by_reduced_cost(&prices, bound, case.cost + 1);
        }
        let found = searched(&mut master, 10_000);
        holds(found == (Some(case.cost), case.cost), (case.cost, found))
    });
}

#[test]
fn wherever_a_search_stops_its_bound_is_one() {
    for_seeds(seeds(500), |seed| {
        let Some(case) = Case::of(seed) else {
            return Ok(());
        };
        for nodes in 0..6 {
            let (cost, bound) = searched(&mut case.master(), nodes);
            let sound = bound <= case.cost && cost.is_none_or(|cost| cost >= case.cost);
            holds(sound, (nodes, case.cost, cost, bound))?;
        }
        Ok(())
    });
}
