//! The inverse of a small basis, dense, made column by column.

use itertools::Itertools;

/// A square matrix, by rows.
#[derive(Debug, Clone)]
pub(super) struct Inverse {
    size: usize,
    rows: Vec<f64>,
}

impl Inverse {
    /// The inverse of a diagonal of ones and minus ones.
    pub fn diagonal(signs: &[f64]) -> Self {
        let size = signs.len();
        let mut rows = vec![0.0; size * size];
        for (at, sign) in signs.iter().enumerate() {
            rows[at * size + at] = *sign;
        }
        Self { size, rows }
    }

    /// Of a matrix given by its columns; `None` where it is singular. Columns of one entry first, then one
    /// after another takes the place of the unit column in which it is largest.
    pub fn of(columns: &[Vec<(usize, f64)>]) -> Option<Self> {
        let size = columns.len();
        let mut inverse = Self::diagonal(&vec![1.0; size]);
        let mut taken: Vec<Option<usize>> = vec![None; size];
        let mut entering = Vec::new();
        for at in (0..size).sorted_by_key(|&at| (columns[at].len() > 1, at)) {
            inverse.times(&columns[at], &mut entering);
            let free = (0..size).filter(|&row| taken[row].is_none());
            let row = free.max_by(|&a, &b| entering[a].abs().total_cmp(&entering[b].abs()))?;
            if entering[row].abs() < 1e-9 {
                return None;
            }
            inverse.pivot(row, &entering);
            taken[row] = Some(at);
        }
        let mut rows = vec![0.0; size * size];
        for (row, at) in taken.into_iter().enumerate() {
            let at = at? * size;
            rows[at..at + size].copy_from_slice(&inverse.rows[row * size..(row + 1) * size]);
        }
        Some(Self { size, rows })
    }

    /// The inverse times a sparse column.
    pub fn times(&self, column: &[(usize, f64)], into: &mut Vec<f64>) {
        into.clear();
        into.resize(self.size, 0.0);
        for &(at, value) in column {
            for (row, sum) in into.iter_mut().enumerate() {
                *sum += self.rows[row * self.size + at] * value;
            }
        }
    }

    /// A row vector times the inverse.
    pub fn before(&self, left: &[f64], into: &mut Vec<f64>) {
        into.clear();
        into.resize(self.size, 0.0);
        for (row, &value) in left.iter().enumerate() {
            if value != 0.0 {
                let of_row = &self.rows[row * self.size..(row + 1) * self.size];
                for (sum, entry) in into.iter_mut().zip(of_row) {
                    *sum += value * entry;
                }
            }
        }
    }

    /// Puts a column, given as the inverse times it, in the place of the basis column `at`.
    pub fn pivot(&mut self, at: usize, entering: &[f64]) {
        scale(&mut self.rows, self.size, at, 1.0 / entering[at]);
        for (row, &by) in entering.iter().enumerate() {
            if row != at && by != 0.0 {
                deduct(&mut self.rows, self.size, row, at, by);
            }
        }
    }

    /// The sum of some rows.
    pub fn sum_of(&self, rows: &[usize]) -> Vec<f64> {
        let mut sum = vec![0.0; self.size];
        for &row in rows {
            let of_row = &self.rows[row * self.size..(row + 1) * self.size];
            sum.iter_mut().zip(of_row).for_each(|(s, x)| *s += x);
        }
        sum
    }

    /// Puts a row in the place of another.
    pub fn replace(&mut self, row: usize, by: &[f64]) {
        self.rows[row * self.size..(row + 1) * self.size].copy_from_slice(by);
    }

    /// Adds the product of a column and a row.
    pub fn add_product(&mut self, column: &[f64], row: &[f64]) {
        for (at, &by) in column.iter().enumerate() {
            if by != 0.0 {
                let of_row = &mut self.rows[at * self.size..(at + 1) * self.size];
                of_row.iter_mut().zip(row).for_each(|(x, r)| *x += by * r);
            }
        }
    }
}

fn scale(matrix: &mut [f64], size: usize, row: usize, by: f64) {
    let of_row = &mut matrix[row * size..(row + 1) * size];
    of_row.iter_mut().for_each(|x| *x *= by);
}

/// Deducts `by` times row `what` from another row.
fn deduct(matrix: &mut [f64], size: usize, row: usize, what: usize, by: f64) {
    let (before, after) = matrix.split_at_mut(row.max(what) * size);
    let (low, high) = (row.min(what) * size, 0);
    let (low, high) = (&mut before[low..low + size], &mut after[high..high + size]);
    let (row, what) = if row < what { (low, high) } else { (high, low) };
    row.iter_mut().zip(what).for_each(|(x, y)| *x -= by * *y);
}
