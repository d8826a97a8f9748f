//! Branch and bound on sets of columns, with one simplex that goes from node to node.

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::rc::Rc;

use super::simplex::End;
use super::{Model, Objective, SHIFT, Simplex};

/// A model that can be divided.
pub(crate) trait Branching: Model {
    /// A restriction of the choices of one set.
    type Split: Clone;
    /// What is found at a leaf.
    type Leaf;

    /// Leaves the choices that all these restrictions leave.
    fn restrict(&mut self, path: &[Self::Split]);
    /// Two restrictions of which every whole solution meets one, and these weights neither; the more
    /// promising first. `None` where the weights are whole.
    fn divide(&self, weighted: &[Vec<(f64, &Self::Tag)>]) -> Option<[Self::Split; 2]>;
    /// The best whole solution with these choices, and its exact cost; `None` where there is none. It
    /// may fall short of a row that the simplex calls missing: then it is no solution, and kept aside.
    fn leaf(&mut self, weighted: &[Vec<(f64, &Self::Tag)>]) -> Option<(i64, Self::Leaf)>;
    /// A whole solution near to these weights, if one is at hand, and its exact cost.
    fn round(&mut self, weighted: &[Vec<(f64, &Self::Tag)>]) -> Option<(i64, Self::Leaf)>;
    /// Forbids whatever cannot be in a solution better than `best`, by the prices of the root.
    fn fix_by_reduced_cost(&mut self, prices: &[i64], bound: i128, best: i64);
    /// Costs of whole solutions are multiples of this, 1 or more.
    fn step(&self) -> i64;
}

/// What ends a search early.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Limits {
    /// Only solutions that cost less are of interest.
    pub below: i64,
    /// Nodes to look at most; deterministic.
    pub nodes: usize,
}

/// The end of a search.
pub(crate) struct Found<L> {
    /// The best solution and its cost.
    pub best: Option<(i64, L)>,
    /// No solution costs less; `i64::MAX` where there is none at all.
    pub bound: i64,
    /// Nodes that were looked at.
    pub nodes: usize,
}

/// Rounding is tried at so many nodes at first, and then at each so many-th (a choice: it takes about as long
/// as a node).
const ROUNDED: usize = 16;

struct Node<S> {
    split: S,
    parent: Option<Rc<Node<S>>>,
}

/// An open node: its bound, and a number by which the latest comes first.
type Open<S> = (Reverse<i64>, usize, Option<Rc<Node<S>>>);

struct Queue<S> {
    heap: BinaryHeap<(Reverse<i64>, usize)>,
    nodes: Vec<Option<Rc<Node<S>>>>,
}

impl<S> Queue<S> {
    fn push(&mut self, bound: i64, node: Option<Rc<Node<S>>>) {
        self.heap.push((Reverse(bound), self.nodes.len()));
        self.nodes.push(node);
    }

    fn pop(&mut self) -> Option<Open<S>> {
        let (bound, at) = self.heap.pop()?;
        Some((bound, at, self.nodes[at].take()))
    }
}

fn path<S: Clone>(node: Option<&Rc<Node<S>>>) -> Vec<S> {
    let mut path = Vec::new();
    let mut at = node;
    while let Some(node) = at {
        path.push(node.split.clone());
        at = node.parent.as_ref();
    }
    path.reverse();
    path
}

/// Rounded up to whole units.
pub(crate) fn whole(bound: i128) -> i64 {
    let up = (bound >> SHIFT) + i128::from(bound & ((1 << SHIFT) - 1) != 0);
    i64::try_from(up).unwrap_or(if up < 0 { i64::MIN } else { i64::MAX })
}

/// Minimises cost; goes down to leaves first, then where the bound is least.
pub(crate) fn branch_and_bound<B: Branching>(
    model: &mut B,
    simplex: &mut Simplex<B::Tag>,
    limits: Limits,
) -> Found<B::Leaf> {
    let mut found = Found {
        best: None,
        bound: i64::MAX,
        nodes: 0,
    };
    let mut below = limits.below;
    let mut root: Option<(Vec<i64>, i128)> = None;
    let mut queue = Queue {
        heap: BinaryHeap::new(),
        nodes: Vec::new(),
    };
    queue.push(i64::MIN, None);
    while let Some((Reverse(bound), _, node)) = queue.pop() {
        if bound >= below {
            continue;
        }
        let mut next = Some((bound, node));
        while let Some((bound, node)) = next.take() {
            if found.nodes >= limits.nodes || model.stop() {
                found.bound = found.bound.min(bound);
                break;
            }
            found.nodes += 1;
            model.restrict(&path(node.as_ref()));
            simplex.take_up(model, Objective::Cost);
            let end = simplex.search(model, cutoff(below, model.step()));
            let bound = bound.max(stepped(whole(simplex.bound), model.step()));
            if root.is_none() {
                root = Some((simplex.prices.clone(), simplex.bound));
                if below < i64::MAX {
                    model.fix_by_reduced_cost(&simplex.prices, simplex.bound, below);
                }
            }
            if end == End::Stopped {
                found.bound = found.bound.min(bound);
                break;
            }
            if end == End::Cut || bound >= below || infeasible(model, simplex) {
                continue;
            }
            let weighted = simplex.weighted();
            let parts = model.divide(&weighted);
            let leaf = match parts {
                Some(_) if found.nodes > ROUNDED && found.nodes % ROUNDED != 0 => None,
                Some(_) => model.round(&weighted),
                None => model.leaf(&weighted),
            };
            let cost = leaf.as_ref().map_or(i64::MAX, |leaf| leaf.0);
            if let Some(leaf) = leaf
                && cost < below
            {
                below = cost;
                found.best = Some(leaf);
                if let Some((prices, bound)) = &root {
                    model.fix_by_reduced_cost(prices, *bound, below);
                }
            }
            let Some([first, second]) = parts else {
                if cost > bound && bound < below {
                    // Whole, but dearer than the bound says: nothing is left to divide here.
                    found.bound = found.bound.min(bound);
                }
                continue;
            };
            let child = |split| {
                Some(Rc::new(Node {
                    split,
                    parent: node.clone(),
                }))
            };
            queue.push(bound, child(second));
            next = Some((bound, child(first)));
        }
        if found.nodes >= limits.nodes || model.stop() {
            break;
        }
    }
    let left = queue.heap.iter().map(|(Reverse(bound), _)| *bound);
    let left = left.filter(|&bound| bound < below).min().unwrap_or(i64::MAX);
    found.bound = found.bound.min(left).min(found.best.as_ref().map_or(i64::MAX, |best| best.0));
    found
}

/// The bound from which on a node is of no interest, in multiples of 2^-`SHIFT`.
fn cutoff(below: i64, step: i64) -> i128 {
    if below == i64::MAX {
        i128::MAX
    } else {
        (i128::from(below - step) << SHIFT) + 1
    }
}

/// A bound rounded up to what costs can be.
fn stepped(bound: i64, step: i64) -> i64 {
    let over = bound.rem_euclid(step);
    if over == 0 { bound } else { bound.saturating_add(step - over) }
}

/// Whether the node has no solution, by a bound on what is missing of its rows that is exact.
fn infeasible<B: Branching>(model: &B, simplex: &mut Simplex<B::Tag>) -> bool {
    if !simplex.lacks() {
        return false;
    }
    let mut ray = simplex.clone();
    ray.take_up(model, Objective::Missing);
    ray.search(model, 1);
    ray.bound > 0
}
