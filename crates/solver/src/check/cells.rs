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
    let mut lacking: Vec<i128> = kinds.iter().map(|&(_, count)| count).collect();
    let mut spare: Vec<i128> = batches.iter().map(|b| i128::from(b.count)).collect();
    let reach: Vec<Vec<usize>> = kinds
        .iter()
        .map(|(kind, _)| {
            let open = |b: &&crate::CellBatch| b.boxes.is_empty() || b.boxes.contains(kind);
            (0..batches.len())
                .filter(|&j| batches.get(j).as_ref().is_some_and(open))
                .collect()
        })
        .collect();
    // given[i][j]: cells of batch j that kind i has. Shortest augmenting paths.
    let mut given = vec![vec![0i128; batches.len()]; kinds.len()];
    for (start, lack) in lacking.iter_mut().enumerate() {
        while *lack > 0 {
            let Some(path) = augment(&reach, &given, &spare, start) else {
                break;
            };
            // path: kind, batch, kind, batch, ...; the last batch has cells to spare.
            let mut most = *lack;
            for (step, pair) in path.iter().enumerate() {
                if let Some(next) = path.get(step + 1) {
                    most = most.min(given[next.0][pair.1]);
                } else {
                    most = most.min(spare[pair.1]);
                }
            }
            for (step, &(kind, batch)) in path.iter().enumerate() {
                given[kind][batch] += most;
                match path.get(step + 1) {
                    Some(next) => given[next.0][batch] -= most,
                    None => spare[batch] -= most,
                }
            }
            *lack -= most;
        }
    }
    let lacking = kinds.iter().zip(lacking).filter(|(_, lack)| *lack > 0);
    lacking.map(|(&(kind, _), lack)| (kind, lack)).collect()
}

/// A shortest path from kind `start` to a batch with cells to spare: pairs (kind, batch),
/// where each later kind gives up cells of the batch before it. `None` if there is none.
fn augment(
    reach: &[Vec<usize>],
    given: &[Vec<i128>],
    spare: &[i128],
    start: usize,
) -> Option<Vec<(usize, usize)>> {
    let mut kind_from: Vec<Option<usize>> = vec![None; reach.len()];
    let mut batch_from: Vec<Option<usize>> = vec![None; spare.len()];
    let mut queue = VecDeque::from([start]);
    while let Some(kind) = queue.pop_front() {
        for &batch in &reach[kind] {
            if batch_from[batch].is_some() {
                continue;
            }
            batch_from[batch] = Some(kind);
            if spare[batch] > 0 {
                let mut path = vec![(kind, batch)];
                let mut at = kind;
                while at != start {
                    let before = kind_from[at]?;
                    let through = batch_from[before]?;
                    path.push((through, before));
                    at = through;
                }
                path.reverse();
                return Some(path);
            }
            for (other, row) in given.iter().enumerate() {
                if other != start && kind_from[other].is_none() && row[batch] > 0 {
                    kind_from[other] = Some(batch);
                    queue.push_back(other);
                }
            }
        }
    }
    None
}
