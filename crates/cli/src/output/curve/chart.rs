//! Bars of a terminal chart, in plain characters.

use super::report::{CurveReport, PointReport};
use super::words::honey;

/// Fewest columns that a bar is of use in (a choice).
pub(super) const FEWEST: usize = 8;

/// A scale of honey over so many columns.
pub(super) struct Chart {
    columns: usize,
    /// Honey of a full bar, kg.
    most: f64,
    /// The column that stands for the cap.
    cap: Option<usize>,
}

impl Chart {
    /// A chart that the greatest honey fills. Without room or honey its bars are empty.
    pub(super) fn new(report: &CurveReport, room: usize) -> Self {
        let most = report.points.iter().map(honey).fold(0.0, f64::max);
        let columns = if most > 0.0 && room >= FEWEST {
            room
        } else {
            0
        };
        let mut chart = Self {
            columns,
            most,
            cap: None,
        };
        let within = report.honey_cap_kg.filter(|&cap| cap < most);
        chart.cap = within.map(|cap| chart.column(cap));
        chart
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "at most 120 columns"
    )]
    fn column(&self, kg: f64) -> usize {
        (kg / self.most * self.columns as f64).round() as usize
    }

    /// The bar of a point, with the cap where there is one; one column at least for any honey.
    pub(super) fn bar(&self, point: &PointReport) -> String {
        let honey = honey(point);
        let least = usize::from(honey > 0.0);
        let length = self.column(honey).max(least).min(self.columns);
        let stroke = if point.allowed_today { '#' } else { '-' };
        let mark = |column: usize| match self.cap {
            Some(cap) if column == cap => '|',
            _ if column < length => stroke,
            _ => ' ',
        };
        (0..self.columns).map(mark).collect()
    }
}
