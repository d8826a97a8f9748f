//! A linear program over sets of columns, and branch and bound on it. It knows nothing of hives.
//!
//! Each set chooses one of its columns; rows tie the sets together. There are some tens of rows
//! whatever the number of sets, so the simplex keeps a basis of the rows alone and one key column for
//! each set (generalised upper bounds: Dantzig and Van Slyke 1967, J. Comput. Syst. Sci. 1:213-226).
//! Columns are priced as they are needed; nobody lists them all.
//!
//! Prices are whole multiples of 2^-20, columns are priced in whole numbers, and so the Lagrangian bound
//! is exact whatever the floats of the simplex did (docs/engine.md).

mod certificate;
mod inverse;
mod simplex;
mod tree;

pub use certificate::{Excluded, certify};
pub use simplex::{End, Simplex};
pub use tree::{Branching, Candidate, Found, Limits, Near, branch_and_bound, next_below, whole};

/// Prices and values are in multiples of 2^-`SHIFT`: fine enough that rounding a price moves no bound by a
/// gram, coarse enough that sums of 20,000 sets stay far below 2^127.
pub const SHIFT: u32 = 20;

/// What a missing unit of a row costs in the relaxation. It only has to be far above what a unit is worth:
/// bounds do not rest on it.
pub const MISSING: i64 = 1 << 24;

/// A row that ties sets together.
#[derive(Debug, Clone, Copy)]
pub struct Row {
    /// Right-hand side.
    pub rhs: i64,
    /// Equal to it; else at least it.
    pub equal: bool,
    /// A coefficient of usual size, by which the simplex divides the row.
    pub scale: i64,
}

/// One way to choose in a set.
#[derive(Debug, Clone)]
pub struct Column<T> {
    /// Its cost towards the objective at hand.
    pub cost: i64,
    /// Coefficients by row.
    pub entries: Vec<(usize, i64)>,
    /// What it stands for.
    pub tag: T,
}

impl<T> Column<T> {
    /// Reduced cost before the price of its set, in multiples of 2^-[`SHIFT`].
    pub fn value(&self, prices: &[i64]) -> i128 {
        let rows = self.entries.iter();
        let rows = rows.map(|&(row, by)| i128::from(prices[row]) * i128::from(by));
        (i128::from(self.cost) << SHIFT) - rows.sum::<i128>()
    }
}

/// What pricing a set gives.
pub struct Priced<T> {
    /// A column of value below the one asked for: the cheapest, if the search for it was not cut short.
    pub column: Option<Column<T>>,
    /// Columns that the node allows are not below this, or not below the value asked for.
    pub least: i128,
}

impl<T> Priced<T> {
    /// The node allows no column.
    pub fn none() -> Self {
        Self {
            column: None,
            least: i128::MAX,
        }
    }
}

/// What is minimised.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Objective {
    /// Worth, counted negative.
    Worth,
    /// Cost.
    Cost,
    /// Nothing but what is missing of the rows: a bound above 0 is a proof that a node is infeasible.
    Missing,
}

/// What is to be minimised, with the choices that a node leaves.
pub trait Model {
    /// What a column stands for.
    type Tag: Clone;

    /// The rows.
    fn rows(&self) -> &[Row];
    /// How many sets.
    fn sets(&self) -> usize;
    /// A column to start with.
    fn first(&self, set: usize) -> Column<Self::Tag>;
    /// The cheapest column of a set that the node allows, if its value at these prices is below `below`.
    fn price(
        &self,
        set: usize,
        objective: Objective,
        prices: &[i64],
        below: i128,
    ) -> Priced<Self::Tag>;
    /// Cost of a column towards an objective.
    fn cost(&self, set: usize, objective: Objective, tag: &Self::Tag) -> i64;
    /// Whether the node allows a column.
    fn allows(&self, set: usize, tag: &Self::Tag) -> bool;
    /// Whether to stop: the time limit came, or it was called off.
    fn stop(&self) -> bool;
    /// What searches for columns have taken since this was last asked, in the unit of [`Limits::work`]: about as long as a
    /// set takes in a relaxation where its columns are at hand; default: nothing worth counting.
    fn searched(&self) -> usize {
        0
    }
}

/// The Lagrangian bound at these prices, in multiples of 2^-[`SHIFT`]; of sets whose least reduced cost is known
/// already, none is priced.
pub fn bound<M: Model>(
    model: &M,
    objective: Objective,
    prices: &[i64],
    known: &dyn Fn(usize) -> Option<i128>,
) -> i128 {
    let rows = model.rows().iter().zip(prices);
    let rows = rows.map(|(row, &price)| i128::from(row.rhs) * i128::from(price));
    let least = |set| {
        let priced = || model.price(set, objective, prices, i128::MAX).least;
        known(set).unwrap_or_else(priced)
    };
    let sets = (0..model.sets()).map(least);
    sets.fold(rows.sum(), i128::saturating_add)
}
