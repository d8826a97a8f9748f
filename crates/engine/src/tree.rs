//! Branch and bound on sets of columns, with one simplex that goes from node to node; below a node that leaves most
//! sets one column, with a smaller one of its own.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};
use std::rc::Rc;

use super::{Column, End, Model, Objective, SHIFT, Simplex};

/// A model that can be divided.
pub trait Branching: Model {
    /// A restriction of the choices of one set.
    type Split: Clone;
    /// The choices that a node leaves, of all sets.
    type Domains;
    /// What is restored after sets were left out.
    type Saved;
    /// What is found at a leaf.
    type Leaf;

    /// The choices that are left now.
    fn domains(&self) -> Self::Domains;
    /// Leaves these choices, and of them what a restriction leaves.
    fn enter(&mut self, domains: &Self::Domains, split: Option<&Self::Split>);
    /// Where these weights may be divided, the most doubtful first. Empty where they are whole.
    fn candidates(&self, weighted: &[Vec<(f64, &Self::Tag)>]) -> Vec<Candidate<Self::Split>>;
    /// The best whole solution with these choices, and its exact cost; `None` where there is none. It
    /// may fall short of a row that the simplex calls missing: then it is no solution, and kept aside.
    fn leaf(&mut self, weighted: &[Vec<(f64, &Self::Tag)>]) -> Option<(i64, Self::Leaf)>;
    /// A whole solution near to these weights, if one is at hand, and its exact cost.
    fn round(&mut self, weighted: &[Vec<(f64, &Self::Tag)>]) -> Option<(i64, Self::Leaf)>;
    /// Leaves only what can be in a solution better than `best`, given prices and the bound that they give
    /// with the choices left now.
    fn fix_by_reduced_cost(&mut self, prices: &[i64], bound: i128, best: i64);
    /// The same at the root, with all choices left, whenever a better solution is found.
    fn improved(&mut self, prices: &[i64], bound: i128, best: i64);
    /// Leaves sets out that can only stay as they are, where these are most sets; those that stay start with the
    /// columns that they are given. What is to be restored afterwards.
    fn shrink(&mut self, columns: &dyn Fn() -> Vec<Column<Self::Tag>>) -> Option<Self::Saved>;
    /// Takes back what was left out.
    fn restore(&mut self, saved: Self::Saved);
    /// Costs of whole solutions are multiples of this, 1 or more.
    fn step(&self) -> i64;
    /// Told now and then that no solution better than the best so far costs less than this.
    fn tell(&self, bound: i64);
}

/// A place where a node may be divided.
#[derive(Debug, Clone)]
pub struct Candidate<S> {
    /// By which gains are remembered from node to node.
    pub key: (usize, usize),
    /// Two restrictions of which every whole solution meets one, and these weights neither; the nearer
    /// first.
    pub parts: [S; 2],
    /// How far the weights are from each, above 0.
    pub away: [f64; 2],
}

/// What ends a search early.
#[derive(Debug, Clone, Copy)]
pub struct Limits {
    /// Only solutions that cost less are of interest.
    pub below: i64,
    /// How near to the least a cost will do.
    pub near: Near,
    /// Work to do at most, in relaxations times sets, with [`Model::searched`]; deterministic.
    pub work: usize,
    /// Any solution will do.
    pub first: bool,
}

/// How near to the least a cost will do.
#[derive(Debug, Clone, Copy)]
pub struct Near {
    /// Less than so much above it, 1 or more.
    pub within: i64,
    /// Or less than a part of what it differs from this.
    pub from: Option<i64>,
}

/// The part of a difference that does not matter (a choice: who is told of 8 kg can do with a kilogram more or less).
const PART: i64 = 8;

impl Near {
    /// The least itself.
    pub const EXACT: Self = Self {
        within: 1,
        from: None,
    };

    /// The same of costs that are so much less.
    pub fn less(&self, by: i64) -> Self {
        Self {
            from: self.from.map(|from| from - by),
            ..*self
        }
    }

    /// The cost below which solutions are of interest, with one of this cost in hand.
    pub fn below(&self, cost: i64) -> i64 {
        let apart = self.from.map_or(0, |from| (cost - from).abs() / PART);
        cost.saturating_sub(self.within.max(apart) - 1)
    }
}

/// The end of a search.
pub struct Found<L> {
    /// The best solution and its cost.
    pub best: Option<(i64, L)>,
    /// No solution costs less; `i64::MAX` where there is none at all.
    pub bound: i64,
    /// Work that was done.
    pub work: usize,
}

/// Nodes after which it pays to try out where to divide (a choice).
const PLAIN: usize = 20;
/// Rounding is tried at so many nodes at first, and then at each so many-th (a choice: it takes about as long
/// as a node).
const ROUNDED: usize = 16;

/// A node: the choices that its parent left, and what restricts them further.
struct Node<B: Branching> {
    domains: Rc<B::Domains>,
    split: Option<B::Split>,
}

/// Open nodes: those with the least bound first, of these the latest.
struct Queue<B: Branching> {
    heap: BinaryHeap<(Reverse<i64>, usize)>,
    nodes: Vec<Option<Node<B>>>,
}

impl<B: Branching> Queue<B> {
    fn push(&mut self, bound: i64, node: Node<B>) {
        self.heap.push((Reverse(bound), self.nodes.len()));
        self.nodes.push(Some(node));
    }

    fn pop(&mut self) -> Option<(i64, Node<B>)> {
        let (Reverse(bound), at) = self.heap.pop()?;
        self.nodes[at].take().map(|node| (bound, node))
    }
}

/// Rounded up to whole units.
pub fn whole(bound: i128) -> i64 {
    let up = (bound >> SHIFT) + i128::from(bound & ((1 << SHIFT) - 1) != 0);
    i64::try_from(up).unwrap_or(if up < 0 { i64::MIN } else { i64::MAX })
}

/// Minimises cost: dives to a first solution, then goes down to leaves, then where the bound is least.
pub fn branch_and_bound<B: Branching>(
    model: &mut B,
    simplex: &mut Simplex<B::Tag>,
    limits: Limits,
) -> Found<B::Leaf> {
    let mut found = Found {
        best: None,
        bound: i64::MAX,
        work: 0,
    };
    let mut nodes = 0;
    let mut below = limits.below;
    let mut root: Option<(Vec<i64>, i128)> = None;
    let mut gains = Gains::default();
    let mut queue: Queue<B> = Queue {
        heap: BinaryHeap::new(),
        nodes: Vec::new(),
    };
    model.searched();
    let all = Rc::new(model.domains());
    queue.push(
        i64::MIN,
        Node {
            domains: all.clone(),
            split: None,
        },
    );
    while let Some((bound, node)) = queue.pop() {
        if bound >= below {
            continue;
        }
        if nodes > 0 {
            model.tell(bound.min(found.bound));
        }
        let mut next = Some((bound, node));
        while let Some((bound, node)) = next.take() {
            if found.work >= limits.work || model.stop() {
                found.bound = found.bound.min(bound);
                break;
            }
            nodes += 1;
            found.work += model.sets();
            model.enter(&node.domains, node.split.as_ref());
            simplex.take_up(model, Objective::Cost);
            let end = simplex.search(model, cutoff(below, model.step()));
            found.work += model.searched();
            let bound = bound.max(stepped(whole(simplex.bound), model.step()));
            if end == End::Stopped {
                found.bound = found.bound.min(bound);
                break;
            }
            if end == End::Cut || bound >= below {
                continue;
            }
            if root.is_none() {
                root = Some((simplex.prices.clone(), simplex.bound));
                if below < i64::MAX {
                    model.improved(&simplex.prices, simplex.bound, below);
                }
            }
            if infeasible(model, simplex).is_some() {
                continue;
            }
            if below < i64::MAX {
                model.fix_by_reduced_cost(&simplex.prices, simplex.bound, below);
            }
            if let Some(saved) = model.shrink(&|| simplex.heaviest()) {
                let mut small = Simplex::new(model);
                let limits = Limits {
                    below,
                    work: limits.work.saturating_sub(found.work),
                    ..limits
                };
                let part = branch_and_bound(model, &mut small, limits);
                model.restore(saved);
                found.work += part.work;
                found.bound = found.bound.min(part.bound);
                if let Some(best) = part.best {
                    below = limits.near.below(best.0);
                    found.best = Some(best);
                    if let Some((prices, bound)) = &root {
                        model.enter(&all, None);
                        model.improved(prices, *bound, below);
                    }
                }
                continue;
            }
            let domains = model.domains();
            let weighted = simplex.weighted();
            let candidates = model.candidates(&weighted);
            let leaf = match candidates.is_empty() {
                false if nodes > ROUNDED && nodes % ROUNDED != 0 => None,
                false => model.round(&weighted),
                true => model.leaf(&weighted),
            };
            let cost = leaf.as_ref().map_or(i64::MAX, |leaf| leaf.0);
            if let Some(leaf) = leaf
                && cost < below
            {
                below = limits.near.below(cost);
                found.best = Some(leaf);
                if limits.first {
                    return found;
                }
                if let Some((prices, bound)) = &root {
                    model.enter(&all, None);
                    model.improved(prices, *bound, below);
                }
            }
            if candidates.is_empty() {
                if cost > bound && bound < below {
                    // Whole, but dearer than the bound says: nothing is left to divide here.
                    found.bound = found.bound.min(bound);
                }
                continue;
            }
            let domains = Rc::new(domains);
            let child = |split| Node {
                domains: domains.clone(),
                split: Some(split),
            };
            let at = (&*domains, simplex.bound, below);
            let choice = match below {
                // Straight down to a first solution.
                i64::MAX => Choice::first(candidates),
                _ if nodes <= PLAIN && limits.near.within > 1 => Choice::first(candidates),
                _ => gains.choose(model, simplex, at, candidates),
            };
            found.work += std::mem::take(&mut gains.tried) * model.sets() + model.searched();
            match choice {
                Choice::Both([first, second]) => {
                    queue.push(bound, child(second));
                    next = Some((bound, child(first)));
                }
                Choice::One(only) => next = Some((bound, child(only))),
                Choice::Neither => {}
            }
        }
        if found.work >= limits.work || model.stop() {
            break;
        }
    }
    let left = queue.heap.iter().map(|(Reverse(bound), _)| *bound);
    let left = left
        .filter(|&bound| bound < below)
        .min()
        .unwrap_or(i64::MAX);
    found.bound = found.bound.min(left).min(
        found
            .best
            .as_ref()
            .map_or(i64::MAX, |best| limits.near.below(best.0)),
    );
    found
}

/// The bound from which on a node is of no interest, in multiples of 2^-`SHIFT`.
pub(crate) fn cutoff(below: i64, step: i64) -> i128 {
    if below == i64::MAX {
        i128::MAX
    } else {
        (i128::from(next_below(below, step)) << SHIFT) + 1
    }
}

/// The greatest cost below another that costs can be.
pub fn next_below(cost: i64, step: i64) -> i64 {
    (cost - 1).div_euclid(step) * step
}

/// A bound rounded up to what costs can be.
fn stepped(bound: i64, step: i64) -> i64 {
    let over = bound.rem_euclid(step);
    if over == 0 {
        bound
    } else {
        bound.saturating_add(step - over)
    }
}

/// The prices of a bound on what is missing of a node's rows, if it says that the node has no solution.
pub(crate) fn infeasible<B: Branching>(model: &B, simplex: &Simplex<B::Tag>) -> Option<Vec<i64>> {
    if !simplex.lacks() {
        return None;
    }
    let mut ray = simplex.clone();
    ray.take_up(model, Objective::Missing);
    ray.search(model, 1);
    (ray.bound > 0).then_some(ray.prices)
}

/// Which parts of a node are of interest.
enum Choice<S> {
    Both([S; 2]),
    One(S),
    Neither,
}

/// By how much bounds rise for each unit by which weights are moved (pseudocosts: Benichou et al. 1971, Math.
/// Programming 1:76-94), each tried out a few times before it is relied on (Achterberg, Koch and Martin
/// 2005, Oper. Res. Lett. 33:42-54).
#[derive(Default)]
struct Gains {
    /// By key and side: the sum of gains, and how many.
    known: BTreeMap<((usize, usize), usize), (f64, u32)>,
    /// Relaxations solved to find out.
    tried: usize,
}

/// Candidates that are looked at (a choice).
const LOOKED_AT: usize = 8;
/// Gains that are known well enough not to be tried out again (a choice).
const RELIABLE: u32 = 3;

impl<S> Choice<S> {
    fn first(candidates: Vec<Candidate<S>>) -> Self {
        let first = candidates.into_iter().next();
        first.map_or(Self::Neither, |first| Self::Both(first.parts))
    }
}

impl Gains {
    /// The candidate whose parts raise the bound most, by the product of both.
    fn choose<B: Branching>(
        &mut self,
        model: &mut B,
        simplex: &mut Simplex<B::Tag>,
        (domains, bound, below): (&B::Domains, i128, i64),
        candidates: Vec<Candidate<B::Split>>,
    ) -> Choice<B::Split> {
        let mut best: Option<(f64, [B::Split; 2])> = None;
        for candidate in candidates.into_iter().take(LOOKED_AT) {
            let mut gain = [0.0; 2];
            let mut cut = [false; 2];
            for side in 0..2 {
                let known = self.known.entry((candidate.key, side)).or_default();
                if known.1 >= RELIABLE {
                    gain[side] = known.0 / f64::from(known.1) * candidate.away[side];
                    continue;
                }
                self.tried += 1;
                model.enter(domains, Some(&candidate.parts[side]));
                simplex.take_up(model, Objective::Cost);
                let end = simplex.search(model, cutoff(below, model.step()));
                cut[side] = end == End::Cut;
                if end == End::Cut && simplex.bound == i128::MAX {
                    gain[side] = 1e9;
                    continue;
                }
                let rise =
                    simplex.bound.saturating_sub(bound).max(0) as f64 / f64::from(1 << SHIFT);
                gain[side] = rise;
                known.0 += rise / candidate.away[side];
                known.1 += 1;
            }
            match cut {
                [true, true] => return Choice::Neither,
                [true, false] => return Choice::One(candidate.parts[1].clone()),
                [false, true] => return Choice::One(candidate.parts[0].clone()),
                [false, false] => {}
            }
            let score = gain[0].max(0.01) * gain[1].max(0.01);
            if best.as_ref().is_none_or(|(most, _)| score > *most) {
                best = Some((score, candidate.parts));
            }
        }
        best.map_or(Choice::Neither, |(_, parts)| Choice::Both(parts))
    }
}
