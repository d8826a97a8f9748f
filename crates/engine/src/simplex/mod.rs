//! A primal simplex with implicit sets.
//!
//! Each set has a key column, which makes its weights sum to 1; the basis proper holds one further
//! column for each row. With the key columns deducted, the basis is a matrix of as many rows as there are
//! coupling rows, and its inverse is kept whole. Columns at hand are entered before sets are priced for more.

mod pivot;
mod reading;
mod start;

use super::inverse::Inverse;
use super::{Column, MISSING, Model, Objective, SHIFT};

/// What a column of the basis is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Of {
    Set(usize),
    /// What a row has over and above.
    Surplus(usize),
    /// What a row is short of, or has too much of; the sign is its coefficient.
    Missing(usize, i64),
}

#[derive(Debug, Clone)]
struct Held<T> {
    of: Of,
    column: Option<Column<T>>,
    /// Coefficients by row, scaled.
    entries: Vec<(usize, f64)>,
    cost: f64,
}

/// How a search ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// No column prices out.
    Optimal,
    /// The bound reached the cutoff: nothing of interest is left here.
    Cut,
    /// Stopped from outside.
    Stopped,
}

/// Simplex steps from one fresh inverse to the next (engine.md: errors stay below the tolerance).
const FRESH: usize = 30;
/// Below this a pivot is taken for 0.
const PIVOT: f64 = 1e-7;
/// Weights below this are taken for 0.
const WEIGHT: f64 = 1e-5;
/// By some such amounts right-hand sides are moved, so that ties in the ratio test are rare. Far above the
/// noise of floats, far below [`WEIGHT`].
const NUDGE: f64 = 1e-9;
/// Columns that are held, as a multiple of those in the basis, before those outside are let go (a choice).
const HELD: usize = 4;
/// What a forbidden column costs more, as a multiple of [`MISSING`]: any basis stays feasible at any node.
const FORBIDDEN: f64 = 4.0 * MISSING as f64;
/// Rounds of pricing after which a search ends as it stands; the bound holds all the same.
const MOST_ROUNDS: usize = 400;

/// The state: a feasible basis, whichever node it was left at.
#[derive(Clone)]
pub struct Simplex<T> {
    scale: Vec<f64>,
    rhs: Vec<f64>,
    held: Vec<Held<T>>,
    keys: Vec<usize>,
    key_weights: Vec<f64>,
    basic: Vec<usize>,
    weights: Vec<f64>,
    inverse: Inverse,
    duals: Vec<f64>,
    steps: usize,
    objective: Objective,
    /// Best bound of the last search, in multiples of 2^-`SHIFT`.
    pub bound: i128,
    /// The prices that gave it, by row.
    pub prices: Vec<i64>,
    scratch: Scratch,
}

#[derive(Clone, Default)]
struct Scratch {
    entering: Vec<f64>,
    lefts: Vec<f64>,
    /// By set: change of the key's weight; zero but while a ratio test runs.
    key_change: Vec<f64>,
    touched: Vec<usize>,
}

impl<T: Clone> Simplex<T> {
    /// Starts from the first column of each set.
    pub fn new<M: Model<Tag = T>>(model: &M) -> Self {
        let rows = model.rows();
        let scale: Vec<f64> = rows
            .iter()
            .map(|row| 1.0 / row.scale.max(1) as f64)
            .collect();
        let mut simplex = Self {
            rhs: Vec::new(),
            held: Vec::new(),
            keys: Vec::new(),
            key_weights: vec![1.0; model.sets()],
            basic: Vec::new(),
            weights: Vec::new(),
            inverse: Inverse::diagonal(&[]),
            duals: vec![0.0; rows.len()],
            steps: 0,
            objective: Objective::Cost,
            bound: i128::MIN,
            prices: vec![0; rows.len()],
            scratch: Scratch {
                key_change: vec![0.0; model.sets()],
                ..Scratch::default()
            },
            scale,
        };
        for set in 0..model.sets() {
            let column = model.first(set);
            let held = simplex.hold(set, column);
            simplex.keys.push(held);
        }
        simplex.begin(model);
        simplex
    }

    /// Takes up another objective or another node: only costs change, so the basis stays feasible.
    pub fn take_up<M: Model<Tag = T>>(&mut self, model: &M, objective: Objective) {
        self.objective = objective;
        if self.held.len() > HELD * (self.keys.len() + self.basic.len()) {
            self.tidy();
        }
        for held in &mut self.held {
            if let (Of::Set(set), Some(column)) = (held.of, &mut held.column) {
                column.cost = model.cost(set, objective, &column.tag);
                held.cost = column.cost as f64;
                if !model.allows(set, &column.tag) {
                    held.cost += FORBIDDEN;
                }
            }
        }
    }

    /// Right-hand sides have changed: starts again around the keys where the basis no longer fits.
    pub fn rows_changed<M: Model<Tag = T>>(&mut self, model: &M) {
        self.read_rhs(model);
        self.renew(model);
        let mut weights = self.weights.iter().chain(&self.key_weights);
        if weights.any(|&weight| weight < -WEIGHT) {
            self.begin_again(model);
        }
    }

    /// Inverse and weights anew; from the keys alone where the basis has become singular.
    fn renew<M: Model<Tag = T>>(&mut self, model: &M) {
        if !self.refresh() {
            self.begin_again(model);
        }
    }

    /// Drops columns that are in no basis.
    fn tidy(&mut self) {
        let mut keep = vec![usize::MAX; self.held.len()];
        let mut held = Vec::with_capacity(self.keys.len() + self.basic.len());
        for at in self.keys.iter_mut().chain(&mut self.basic) {
            if keep[*at] == usize::MAX {
                keep[*at] = held.len();
                held.push(self.held[*at].clone());
            }
            *at = keep[*at];
        }
        self.held = held;
    }

    /// The basis column less the key of its set.
    fn without_key(&self, at: usize) -> Vec<(usize, f64)> {
        let mut entries = self.held[at].entries.clone();
        if let Of::Set(set) = self.held[at].of {
            let key = &self.held[self.keys[set]].entries;
            entries.extend(key.iter().map(|&(row, by)| (row, -by)));
        }
        entries
    }

    /// Inverse and weights anew. Returns whether the basis is regular.
    fn refresh(&mut self) -> bool {
        self.steps = 0;
        let columns: Vec<_> = self.basic.iter().map(|&at| self.without_key(at)).collect();
        let Some(inverse) = Inverse::of(&columns) else {
            return false;
        };
        self.inverse = inverse;
        let rest: Vec<(usize, f64)> = self.rest().into_iter().enumerate().collect();
        self.inverse.times(&rest, &mut self.weights);
        self.key_weights.iter_mut().for_each(|weight| *weight = 1.0);
        for (&at, &weight) in self.basic.iter().zip(&self.weights) {
            if let Of::Set(set) = self.held[at].of {
                self.key_weights[set] -= weight;
            }
        }
        true
    }

    fn find_duals(&mut self) {
        let costs = self.basic.iter().map(|&at| match self.held[at].of {
            Of::Set(set) => self.held[at].cost - self.held[self.keys[set]].cost,
            _ => self.held[at].cost,
        });
        self.scratch.lefts.clear();
        self.scratch.lefts.extend(costs);
        let (lefts, duals) = (&self.scratch.lefts, &mut self.duals);
        self.inverse.before(lefts, duals);
    }

    fn reduced(&self, at: usize) -> f64 {
        let own = |held: &Held<T>| {
            let rows = held.entries.iter().map(|&(row, by)| self.duals[row] * by);
            held.cost - rows.sum::<f64>()
        };
        let held = &self.held[at];
        match held.of {
            Of::Set(set) => own(held) - own(&self.held[self.keys[set]]),
            _ => own(held),
        }
    }

    /// Prices for the bound: of rows "at least" not below 0, of usual size.
    fn fixed_prices<M: Model<Tag = T>>(&self, model: &M) -> Vec<i64> {
        const MOST: f64 = (1_i64 << 45) as f64;
        let rows = model.rows().iter().enumerate();
        rows.map(|(row, of_row)| {
            let least = if of_row.equal { -MOST } else { 0.0 };
            let price = self.duals[row] * self.scale[row] * f64::from(1 << SHIFT);
            price.round().clamp(least, MOST) as i64
        })
        .collect()
    }

    /// Searches until nothing prices out, or the bound reaches `cutoff` (in multiples of 2^-`SHIFT`).
    pub fn search<M: Model<Tag = T>>(&mut self, model: &M, cutoff: i128) -> End {
        self.bound = i128::MIN;
        let sets = model.sets().max(1) as f64;
        let tolerance = (0.25 / sets).min(1e-3);
        for _ in 0..MOST_ROUNDS {
            if model.stop() {
                return End::Stopped;
            }
            if self.steps > FRESH / 2 {
                self.renew(model);
            }
            self.settle(model, tolerance);
            let prices = self.fixed_prices(model);
            let round = self.round(model, &prices, tolerance);
            if model.stop() {
                // Some column may not have been looked for to the end.
                return End::Stopped;
            }
            let Some((bound, mut candidates)) = round else {
                self.bound = i128::MAX;
                return End::Cut;
            };
            if bound > self.bound {
                self.bound = bound;
                self.prices = prices;
            }
            if self.bound >= cutoff {
                return End::Cut;
            }
            candidates.extend(self.singles(model, tolerance));
            if candidates.is_empty() {
                return End::Optimal;
            }
            if !self.enter_all(model, candidates, tolerance) {
                // What prices out in whole numbers does not in floats: as good as it gets.
                return End::Optimal;
            }
        }
        End::Optimal
    }

    /// Enters columns that are held while any lowers the objective; finds the duals.
    fn settle<M: Model<Tag = T>>(&mut self, model: &M, tolerance: f64) {
        for _ in 0..MOST_ROUNDS {
            self.find_duals();
            let own = |held: &Held<T>| {
                let rows = held.entries.iter().map(|&(row, by)| self.duals[row] * by);
                held.cost - rows.sum::<f64>()
            };
            let keys: Vec<f64> = self.keys.iter().map(|&at| own(&self.held[at])).collect();
            let held = self
                .held
                .iter()
                .enumerate()
                .map(|(at, held)| match held.of {
                    Of::Set(set) => (own(held) - keys[set], at),
                    _ => (own(held), at),
                });
            let candidates: Vec<(f64, usize)> = held.filter(|of| of.0 < -tolerance).collect();
            if candidates.is_empty() || !self.enter_all(model, candidates, tolerance) {
                return;
            }
        }
    }

    /// Enters those of these columns that still lower the objective when it is their turn; whether any
    /// did.
    fn enter_all<M: Model<Tag = T>>(
        &mut self,
        model: &M,
        mut candidates: Vec<(f64, usize)>,
        tolerance: f64,
    ) -> bool {
        candidates.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut moved = false;
        for (_, held) in candidates {
            if self.reduced(held) < -tolerance {
                moved = true;
                self.enter(held);
                if self.steps > FRESH {
                    self.renew(model);
                }
                self.find_duals();
            }
        }
        moved
    }

    /// Columns of single rows that would lower the objective. Those of what is missing keep duals from
    /// growing beyond what prices can hold.
    fn singles<M: Model<Tag = T>>(&mut self, model: &M, tolerance: f64) -> Vec<(f64, usize)> {
        let missing = MISSING as f64;
        let mut found = Vec::new();
        for (row, of_row) in model.rows().iter().enumerate() {
            let dual = self.duals[row];
            let (of, reduced) = if dual > missing {
                (Of::Missing(row, 1), missing - dual)
            } else if of_row.equal {
                (Of::Missing(row, -1), missing + dual)
            } else {
                (Of::Surplus(row), dual)
            };
            if reduced < -tolerance {
                found.push((reduced, self.hold_single(of)));
            }
        }
        found
    }

    /// Prices all sets: the bound at these prices, and the columns that would lower the objective.
    /// `None` where a set has no column left.
    fn round<M: Model<Tag = T>>(
        &mut self,
        model: &M,
        prices: &[i64],
        tolerance: f64,
    ) -> Option<(i128, Vec<(f64, usize)>)> {
        let rows = model.rows().iter().zip(prices);
        let mut bound: i128 = rows
            .map(|(row, &p)| i128::from(row.rhs) * i128::from(p))
            .sum();
        let mut candidates = Vec::new();
        for set in 0..model.sets() {
            let key = self.held[self.keys[set]].column.as_ref();
            let own = key.filter(|column| model.allows(set, &column.tag));
            let own = own.map_or(i128::MAX, |column| column.value(prices));
            let priced = model.price(set, self.objective, prices, own);
            let least = own.min(priced.least);
            if least == i128::MAX {
                return None;
            }
            bound += least;
            if let Some(column) = priced.column {
                let gain = own.saturating_sub(column.value(prices)) as f64;
                if gain > tolerance * f64::from(1 << SHIFT) {
                    let held = self.hold(set, column);
                    candidates.push((-gain, held));
                }
            }
        }
        Some((bound, candidates))
    }

    /// Holds further columns of sets, to be entered before any set is priced.
    pub fn hold_all(&mut self, columns: Vec<(usize, Column<T>)>) {
        for (set, column) in columns {
            self.hold(set, column);
        }
    }
}
