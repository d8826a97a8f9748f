//! Rows of a table: points, and runs of points whose steps have one price.

use super::super::words::clean;
use super::report::{CountedIn, CurveReport, PointReport, StepReport};
use super::words::{JOINED, amount, estimated, kg, proved, unit};

/// Fewest steps of one price that become one row (a choice: two are as short apart).
const FEWEST: usize = 3;

/// One point, or several whose steps have one price.
pub(super) struct Row<'a> {
    /// The first of them, where it is more than one.
    first: Option<&'a PointReport>,
    /// The last.
    pub point: &'a PointReport,
}

impl Row<'_> {
    /// Compartments or worth: `8`, or `1 to 8`; with a question mark where it is not proved.
    pub(super) fn amount(&self, report: &CurveReport) -> String {
        let last = amount(report, self.point);
        let mark = if proved(self.point) { "" } else { "?" };
        match self.first {
            Some(first) => format!("{} to {last}{mark}", amount(report, first)),
            None => format!("{last}{mark}"),
        }
    }

    /// Whether it stands for several points.
    pub(super) fn is_joined(&self) -> bool {
        self.first.is_some()
    }

    /// Compartments by kind, in the order of the scenario: `8 + 3`.
    pub(super) fn kinds(&self) -> String {
        let kinds = self.point.kinds.iter();
        let counts: Vec<_> = kinds.map(|kind| kind.compartments.to_string()).collect();
        counts.join(" + ")
    }

    /// Cost in all, honey in all if wanted and estimated, and the price of the step; in kg.
    pub(super) fn figures(&self, honey: bool) -> Vec<String> {
        let honey = self.point.honey_given_up_g.filter(|_| honey);
        let honey = honey.map(|honey| figure(kg(honey)));
        let price = |step: StepReport| figure(step.price_g / 1000.0);
        let step = self.point.step.map_or(String::new(), price);
        let cost = [figure(kg(self.point.cost_g))].into_iter();
        cost.chain(honey).chain([step]).collect()
    }

    /// Whether the dear step leads to it, in words or, for a narrow page, in a character.
    pub(super) fn mark(&self, short: bool) -> &'static str {
        match (self.point.dear_step, short) {
            (true, true) => "<",
            (true, false) => "dear step",
            (false, _) => "",
        }
    }
}

/// Kilograms in a column of figures; nothing is `0`, however little else is not.
pub(super) fn figure(kg: f64) -> String {
    match kg {
        0.0 => "0".to_owned(),
        kg if kg > 0.0 && kg < 0.005 => "<0.01".to_owned(),
        kg => format!("{kg:.2}"),
    }
}

/// A step in whole grams and thousandths.
fn exact(step: &StepReport) -> (i64, i64) {
    #[expect(clippy::cast_possible_truncation, reason = "figures of an apiary")]
    let thousandths = (step.adds * 1000.0).round() as i64;
    (step.cost_g, thousandths)
}

/// Every row of the curve, its first point alone. A run stands on one side of the dear step.
pub(super) fn rows(report: &CurveReport) -> Vec<Row<'_>> {
    let alike = |a: &PointReport, b: &PointReport| {
        let steps = a.step.as_ref().map(exact) == b.step.as_ref().map(exact);
        steps && !b.dear_step && a.proof.state == b.proof.state
    };
    let mut rows = Vec::new();
    for run in report.points.chunk_by(alike) {
        match run {
            [first, .., last] if run.len() >= FEWEST => rows.push(Row {
                first: Some(first),
                point: last,
            }),
            _ => rows.extend(run.iter().map(|point| Row { first: None, point })),
        }
    }
    rows
}

/// The rows as cells in words, for writers that need not fit a width.
pub(in crate::output) struct Cells {
    /// A heading for each column.
    pub columns: Vec<String>,
    /// A cell for each column in each row.
    pub rows: Vec<Vec<String>>,
    /// What a row of several points means, where there is one.
    pub joined: Option<&'static str>,
}

/// All rows as cells.
pub(in crate::output) fn cells(report: &CurveReport) -> Cells {
    let kinds = report.points.first().map_or(&[][..], |point| &point.kinds);
    let by_kind = (kinds.len() > 1).then(|| {
        let names: Vec<String> = kinds.iter().map(|kind| clean(&kind.box_kind)).collect();
        names.join(" + ")
    });
    let amount = match report.counted_in {
        CountedIn::Compartments => "Compartments",
        CountedIn::Worth => "Worth",
    };
    let rows = rows(report);
    let line = |row: &Row| {
        let mut line = vec![row.amount(report)];
        line.extend(by_kind.is_some().then(|| row.kinds()));
        line.extend(row.figures(true));
        line.push(row.mark(false).to_owned());
        line
    };
    Cells {
        rows: rows.iter().map(line).collect(),
        joined: rows.iter().any(Row::is_joined).then_some(JOINED),
        columns: [amount.to_owned()]
            .into_iter()
            .chain(by_kind)
            .chain(["Cost, kg of honey".to_owned()])
            .chain(estimated(report).then(|| "Of it honey given up (estimate), kg".to_owned()))
            .chain([
                format!("Price of the step, kg for each {}", unit(report)),
                "Note".to_owned(),
            ])
            .collect(),
    }
}
