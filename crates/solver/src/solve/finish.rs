//! Among plans that are equal in all goals, one that finishes what is begun.

use super::search::Deadline;
use super::tables::Tables;
use super::{Outcome, Proof, SolveOptions, Stocking, Until, find_in};
use crate::scenario::Scenario;

/// The best plan, or one as good in every goal that stocks more of the compartments that are begun:
/// all of them where that can be, else as many as can be, one sort after the other.
pub(super) fn finish(
    scenario: &Scenario,
    tables: &Tables,
    options: &SolveOptions,
    deadline: &Deadline,
    best: Stocking,
) -> Stocking {
    let begun = |at: &usize| tables.kinds[*at].begun;
    let begun: Vec<usize> = (0..tables.kinds.len()).filter(begun).collect();
    let left = |best: &Stocking| -> Vec<usize> {
        let open = |&at: &usize| stocked(tables, at, best) < tables.kinds[at].most;
        begun.iter().copied().filter(open).collect()
    };
    if options.until != Until::Shaken || best.proof != Proof::Best || left(&best).is_empty() {
        return best;
    }
    let mut tables_now = tables.clone();
    for &at in &begun {
        tables_now.kinds[at].least = tables.kinds[at].most;
    }
    let again = |tables: &Tables, best: &Stocking| as_good(scenario, tables, deadline, best);
    if let Some(all) = again(&tables_now, &best) {
        return all;
    }
    let (mut best, mut now) = (best, tables.clone());
    for at in begun {
        // As many as one can have with these goals is found by halving: fewer can be had too.
        let (mut can, mut cannot) = (stocked(&now, at, &best), now.kinds[at].most + 1);
        while can + 1 < cannot {
            let middle = can + (cannot - can) / 2;
            now.kinds[at].least = middle;
            match again(&now, &best) {
                Some(more) => {
                    best = more;
                    can = stocked(&now, at, &best).max(middle);
                }
                None => cannot = middle,
            }
        }
        now.kinds[at].least = can;
    }
    best
}

/// Compartments of a sort that a plan stocks.
fn stocked(tables: &Tables, at: usize, best: &Stocking) -> i64 {
    let kind = &tables.kinds[at];
    let of_it = best
        .plan
        .compartments
        .iter()
        .filter(|c| c.kind == kind.id && kind.places.has((c.box_no, c.place)));
    i64::try_from(of_it.count()).unwrap_or(i64::MAX)
}

/// A plan by these tables that reaches the same in all goals.
fn as_good(
    scenario: &Scenario,
    tables: &Tables,
    deadline: &Deadline,
    best: &Stocking,
) -> Option<Stocking> {
    if deadline.passed() {
        return None;
    }
    let options = SolveOptions {
        time_limit: deadline.left(),
        ..SolveOptions::default()
    };
    match find_in(scenario, tables, None, &options) {
        (Outcome::Stocked(other), true) if other.goals == best.goals => Some(Stocking {
            proof: best.proof,
            ..other
        }),
        _ => None,
    }
}
