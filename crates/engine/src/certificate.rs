//! Parts of all solutions, with prices whose bounds exclude each.

use std::rc::Rc;

use super::tree::{Branching, cutoff, infeasible};
use super::{End, Objective, Simplex, whole};

/// A part of all solutions: what a node leaves, and prices that exclude it.
pub struct Excluded<D> {
    /// What the node leaves.
    pub domains: D,
    /// What the prices are for.
    pub objective: Objective,
    /// By row, in multiples of 2^-[`super::SHIFT`].
    pub prices: Vec<i64>,
}

/// Proves that no solution costs less than `below`, without fixing anything: parts that together are all solutions,
/// each excluded by a bound. `None` where there is such a solution, or where it takes more parts.
pub fn certify<B: Branching>(
    model: &mut B,
    simplex: &mut Simplex<B::Tag>,
    below: i64,
    parts: usize,
) -> Option<Vec<Excluded<B::Domains>>> {
    let mut excluded = Vec::new();
    let mut open = vec![(Rc::new(model.domains()), None)];
    while let Some((domains, split)) = open.pop() {
        if excluded.len() + open.len() >= parts {
            return None;
        }
        model.enter(&domains, split.as_ref());
        simplex.take_up(model, Objective::Cost);
        let end = simplex.search(model, cutoff(below, 1));
        if end == End::Stopped {
            return None;
        }
        let part = |objective, prices| Excluded {
            domains: model.domains(),
            objective,
            prices,
        };
        if end == End::Cut || whole(simplex.bound) >= below {
            excluded.push(part(Objective::Cost, simplex.prices.clone()));
            continue;
        }
        if let Some(prices) = infeasible(model, simplex) {
            excluded.push(part(Objective::Missing, prices));
            continue;
        }
        let domains = Rc::new(model.domains());
        let candidates = model.candidates(&simplex.weighted());
        let candidate = candidates.into_iter().next()?;
        let [near, far] = candidate.parts;
        open.push((domains.clone(), Some(far)));
        open.push((domains, Some(near)));
    }
    Some(excluded)
}
