//! Second opinions for tests: rows of whole numbers, handed to solvers that Spareframe itself does not use.
//!
//! The crate knows nothing of hives and depends on no other crate of the workspace, so that it is built once and
//! stays built, however often the solver changes.

mod constraints;
mod relaxation;

pub use constraints::exists;
pub use relaxation::{Direction, relaxed};

/// Position of a column.
pub type Column = usize;

/// A sum of columns times whole numbers.
pub type Sum = Vec<(Column, i64)>;

/// How a sum compares to the right-hand side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sense {
    /// It is no greater.
    AtMost,
    /// It is no less.
    AtLeast,
    /// It is the same.
    Equal,
}

/// A row: a sum, how it compares, and the right-hand side.
pub type Row = (Sum, Sense, i64);

/// Columns from 0 to a most, and the rows that they keep.
#[derive(Debug, Clone, Default)]
pub struct Model {
    /// Most of each column.
    pub columns: Vec<i64>,
    /// All of them hold.
    pub rows: Vec<Row>,
}
