//! A season as rows of whole numbers, for solvers of others.

use spareframe_engine::{Model, Objective};

use super::master::{Figure, Goal, Listed, Master};
use super::outlook::Outlook;
use super::plan::held;
use super::season::Season;

/// Entries by column, whether equal (else at least), right-hand side.
pub type LinearRow = (Vec<(usize, i64)>, bool, i64);

/// The season as rows of whole numbers, for solvers of others.
#[derive(Debug, Clone, Default)]
pub struct Linear {
    /// Most of each column.
    pub columns: Vec<i64>,
    /// Cost of one of each.
    pub costs: Vec<i64>,
    /// Its rows.
    pub rows: Vec<LinearRow>,
    /// By want: its column.
    pub wants: Vec<usize>,
}

/// The rows of a season; one column for each trajectory and each whole number.
#[must_use]
pub fn linear(season: &Season) -> Linear {
    rows_of(Master::new(season, &Listed::of(season)))
}

/// The same with bounds of numbers that hold whatever colonies may give.
#[must_use]
pub fn linear_loose(season: &Season) -> Linear {
    rows_of(Master::loose(season, &Listed::of(season)))
}

/// The same where so many rounds are as an outlook has them.
#[must_use]
pub fn linear_held(season: &Season, as_it_was: &Outlook, rounds: usize) -> Linear {
    rows_of(held(season, as_it_was, rounds).0)
}

fn rows_of(mut master: Master) -> Linear {
    master.goal = Goal::Cost;
    let mut found = Linear::default();
    let rows = master.rows.iter();
    found.rows = rows.map(|row| (Vec::new(), row.equal, row.rhs)).collect();
    for (set, giver) in master.givers.iter().enumerate() {
        let first = found.columns.len();
        for at in 0..giver.columns.len() {
            for &(row, by) in &giver.entries[at] {
                found.rows[row].0.push((found.columns.len(), by));
            }
            found
                .costs
                .push(master.cost(set, Objective::Cost, &(at as i64)));
            found.columns.push(1);
        }
        let one = (first..found.columns.len()).map(|column| (column, 1));
        found.rows.push((one.collect(), true, 1));
    }
    found.wants = vec![0; master.wants()];
    for (at, whole) in master.wholes.iter().enumerate() {
        if let Figure::Want(want) = whole.figure {
            found.wants[want] = found.columns.len();
        }
        for &(row, by) in &whole.entries {
            found.rows[row].0.push((found.columns.len(), by));
        }
        found
            .costs
            .push(master.cost(master.givers.len() + at, Objective::Cost, &1));
        if whole.least > 0 {
            let least = vec![(found.columns.len(), 1)];
            found.rows.push((least, false, whole.least));
        }
        found.columns.push(whole.most);
    }
    found
}
