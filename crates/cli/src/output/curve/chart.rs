//! Bars of a terminal chart, in plain characters.

use super::report::{CurveReport, PointReport};

/// Fewest columns that a bar is of use in (a choice).
pub(super) const FEWEST: usize = 8;

/// A scale of cost over so many columns.
pub(super) struct Chart {
    columns: usize,
    /// Cost of a full bar, grams.
    most: i64,
}

impl Chart {
    /// A chart that the greatest cost fills. Without room or cost its bars are empty.
    pub(super) fn new(report: &CurveReport, room: usize) -> Self {
        let most = report.points.iter().map(|point| point.cost_g).max();
        let most = most.unwrap_or(0);
        let columns = if most > 0 && room >= FEWEST { room } else { 0 };
        Self { columns, most }
    }

    /// The column that so many grams reach to, rounded half up.
    fn column(&self, grams: i64) -> usize {
        let most = i128::from(self.most.max(1));
        let columns = i128::try_from(self.columns).unwrap_or(0);
        let column = (2 * i128::from(grams) * columns + most).div_euclid(2 * most);
        usize::try_from(column).unwrap_or(0).min(self.columns)
    }

    /// The bar of a point: its honey, then the rest of its cost; one column at least for any cost.
    pub(super) fn bar(&self, point: &PointReport) -> String {
        let least = usize::from(point.cost_g > 0).min(self.columns);
        let whole = self.column(point.cost_g).max(least);
        let honey = self.column(point.honey_given_up_g.unwrap_or(0)).min(whole);
        format!("{}{}", "#".repeat(honey), "-".repeat(whole - honey))
    }
}
