//! Queens counted on, by day, with what eight of ten seasons bring.

use super::super::report::SeasonReport;
use super::Axis;

/// Mated queens from day to day.
#[derive(Debug)]
pub(in super::super::super) struct QueensLane {
    /// Days on which the number changes.
    pub steps: Vec<Step>,
    /// Most of any day.
    pub most: f64,
}

/// So many queens from a day on.
#[derive(Debug)]
pub(in super::super::super) struct Step {
    pub at: f64,
    pub queens: i64,
    pub least: i64,
    pub most: i64,
    /// There is room for its number above, and for its range below, on the narrowest picture.
    pub number: bool,
    pub range: bool,
}

/// Room for a number, and for a range, pixels.
const NUMBER: f64 = 20.0;
const RANGE: f64 = 44.0;

impl QueensLane {
    pub(super) fn of(report: &SeasonReport, axis: &Axis) -> Self {
        let mut steps: Vec<Step> = Vec::new();
        for row in &report.queens {
            let Some(at) = axis.at(&row.day) else {
                continue;
            };
            let known = steps.last();
            let same = known.is_some_and(|last| {
                (last.queens, last.least, last.most)
                    == (row.queens, row.queens_least, row.queens_most)
            });
            let nothing = known.is_none() && row.queens_most == 0;
            if same || nothing {
                continue;
            }
            steps.push(Step {
                at,
                queens: row.queens,
                least: row.queens_least,
                most: row.queens_most,
                number: false,
                range: false,
            });
        }
        let mut until = f64::MAX;
        for step in steps.iter_mut().rev() {
            let room = axis.narrow(until - step.at);
            (step.number, step.range) = (room >= NUMBER, room >= RANGE);
            until = step.at;
        }
        let most = steps.iter().map(|step| step.most).max().unwrap_or(0);
        Self {
            steps,
            most: most as f64,
        }
    }
}
