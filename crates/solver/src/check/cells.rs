//! Rule cells: each compartment one, from a batch for its kind of box.

use super::breach::{Breaches, Fault, Place, Rule, narrow};
use crate::plan::Plan;
use crate::scenario::{BoxId, Scenario};
use std::collections::{BTreeMap, VecDeque};

pub(super) fn cells(scenario: &Scenario, plan: &Plan, breaches: &mut Breaches) {
    let mut wanted = BTreeMap::<BoxId, i128>::new();
    for compartment in &plan.compartments {
        if scenario.boxes.get(compartment.kind.0).is_some() {
            *wanted.entry(compartment.kind).or_default() += 1;
        }
    }
    for (kind, without) in without(scenario, &wanted) {
        let fault = Fault::NoCell {
            without: narrow(without),
            of: narrow(wanted.get(&kind).copied().unwrap_or(0)),
        };
        breaches.add(Rule::Cells, Place::Kind(kind), fault);
    }
}

/// Whether there is a cell for each of so many compartments of each kind.
pub(super) fn enough_for(scenario: &Scenario, wanted: &BTreeMap<BoxId, i128>) -> bool {
    without(scenario, wanted).is_empty()
}

/// Compartments without a cell, of the kinds that have such.
fn without(scenario: &Scenario, wanted: &BTreeMap<BoxId, i128>) -> Vec<(BoxId, i128)> {
    let Some(batches) = &scenario.cells else {
        return Vec::new();
    };
    let kinds: Vec<(BoxId, i128)> = wanted.iter().map(|(&kind, &count)| (kind, count)).collect();
    let spare = batches.iter().map(|b| i128::from(b.count)).collect();
    let reach: Vec<Vec<usize>> = kinds
        .iter()
        .map(|(kind, _)| {
            let open = |b: &&crate::CellBatch| b.boxes.is_empty() || b.boxes.contains(kind);
            (0..batches.len())
                .filter(|&j| batches.get(j).as_ref().is_some_and(open))
                .collect()
        })
        .collect();
    let lacking = unserved(
        &reach,
        kinds.iter().map(|&(_, count)| count).collect(),
        spare,
    );
    let lacking = kinds.iter().zip(lacking).filter(|(_, lack)| *lack > 0);
    lacking.map(|(&(kind, _), lack)| (kind, lack)).collect()
}

/// What is left of each wish where wishes are served in their order, each as far as it can be while all before it
/// keep what they have, from sources that they reach; what serves them may change.
pub(super) fn unserved(
    reach: &[Vec<usize>],
    mut lacking: Vec<i128>,
    mut spare: Vec<i128>,
) -> Vec<i128> {
    // given[i][j]: what wish i has of source j. Shortest augmenting paths.
    let mut given = vec![vec![0i128; spare.len()]; reach.len()];
    for (start, lack) in lacking.iter_mut().enumerate() {
        while *lack > 0 {
            let Some(path) = augment(reach, &given, &spare, start) else {
                break;
            };
            // path: wish, source, wish, source, ...; the last source has some to spare.
            let mut most = *lack;
            for (step, pair) in path.iter().enumerate() {
                if let Some(next) = path.get(step + 1) {
                    most = most.min(given[next.0][pair.1]);
                } else {
                    most = most.min(spare[pair.1]);
                }
            }
            for (step, &(wish, source)) in path.iter().enumerate() {
                given[wish][source] += most;
                match path.get(step + 1) {
                    Some(next) => given[next.0][source] -= most,
                    None => spare[source] -= most,
                }
            }
            *lack -= most;
        }
    }
    lacking
}

/// A shortest path from wish `start` to a source with some to spare: pairs (wish, source), where each later
/// wish gives up what it has of the source before it. `None` if there is none.
fn augment(
    reach: &[Vec<usize>],
    given: &[Vec<i128>],
    spare: &[i128],
    start: usize,
) -> Option<Vec<(usize, usize)>> {
    let mut wish_from: Vec<Option<usize>> = vec![None; reach.len()];
    let mut source_from: Vec<Option<usize>> = vec![None; spare.len()];
    let mut queue = VecDeque::from([start]);
    while let Some(wish) = queue.pop_front() {
        for &source in &reach[wish] {
            if source_from[source].is_some() {
                continue;
            }
            source_from[source] = Some(wish);
            if spare[source] > 0 {
                let mut path = vec![(wish, source)];
                let mut at = wish;
                while at != start {
                    let before = wish_from[at]?;
                    let through = source_from[before]?;
                    path.push((through, before));
                    at = through;
                }
                path.reverse();
                return Some(path);
            }
            for (other, row) in given.iter().enumerate() {
                if other != start && wish_from[other].is_none() && row[source] > 0 {
                    wish_from[other] = Some(source);
                    queue.push_back(other);
                }
            }
        }
    }
    None
}
