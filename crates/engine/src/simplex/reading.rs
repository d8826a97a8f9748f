//! What a basis says: which columns it holds, with which weights, and whether rows lack something.

use super::super::Column;
use super::{FORBIDDEN, Of, Simplex, WEIGHT};

impl<T: Clone> Simplex<T> {
    /// The columns of sets in the basis.
    pub fn basis(&self) -> Vec<(usize, Column<T>)> {
        let basis = self.keys.iter().chain(&self.basic);
        let columns = basis.filter_map(|&at| match (self.held[at].of, &self.held[at].column) {
            (Of::Set(set), Some(column)) => Some((set, column.clone())),
            _ => None,
        });
        columns.collect()
    }

    /// Columns of each set with their weights, above the least that counts.
    pub fn weighted(&self) -> Vec<Vec<(f64, &T)>> {
        let tag = |&(weight, at): &(f64, usize)| {
            let column = self.held[at].column.as_ref()?;
            Some((weight, &column.tag))
        };
        let sets = self.weighted_at();
        sets.iter()
            .map(|set| set.iter().filter_map(tag).collect())
            .collect()
    }

    /// The heaviest column of each set.
    pub fn heaviest(&self) -> Vec<Column<T>> {
        let sets = self.weighted_at();
        let heaviest = |of_set: &Vec<(f64, usize)>, key: usize| {
            let heaviest = of_set.iter().max_by(|a, b| a.0.total_cmp(&b.0));
            self.held[heaviest.map_or(key, |of| of.1)].column.clone()
        };
        let sets = sets.iter().zip(&self.keys);
        sets.filter_map(|(of_set, &key)| heaviest(of_set, key))
            .collect()
    }

    /// By set: whether it has more than one column.
    pub fn divided(&self) -> Vec<bool> {
        let sets = self.weighted_at();
        sets.iter().map(|of_set| of_set.len() > 1).collect()
    }

    /// Positions of the columns of each set with their weights, above [`WEIGHT`].
    fn weighted_at(&self) -> Vec<Vec<(f64, usize)>> {
        let mut sets: Vec<Vec<(f64, usize)>> = vec![Vec::new(); self.keys.len()];
        let keys = self.keys.iter().zip(&self.key_weights);
        let basic = self.basic.iter().zip(&self.weights);
        for (&at, &weight) in keys.chain(basic) {
            if let Of::Set(set) = self.held[at].of
                && weight > WEIGHT
                && self.held[at].cost < FORBIDDEN / 2.0
            {
                sets[set].push((weight, at));
            }
        }
        sets
    }

    /// Whether something is missing of the rows, or a forbidden column is used.
    pub fn lacks(&self) -> bool {
        let keys = self.keys.iter().zip(&self.key_weights);
        let basic = self.basic.iter().zip(&self.weights);
        keys.chain(basic).any(|(&at, &weight)| {
            let held = &self.held[at];
            let forbidden = held.cost >= FORBIDDEN / 2.0;
            weight > 10.0 * WEIGHT && (matches!(held.of, Of::Missing(..)) || forbidden)
        })
    }
}
