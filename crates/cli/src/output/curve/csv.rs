//! The curve as comma-separated values, a line for each point.

use super::report::{CurveReport, PointReport};
use crate::output::ProofState;
use crate::output::data::table_text;

/// The curve as CSV. Names of kinds follow the words `compartments of`, so that no spreadsheet
/// takes one for a formula.
///
/// # Errors
/// If the writer of the format refuses; a bug if it ever happens.
pub fn csv(report: &CurveReport) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let kinds = report.points.first().map_or(&[][..], |point| &point.kinds);
    let fixed = [
        "compartments",
        "worth",
        "cost_g",
        "honey_given_up_g",
        "burden",
        "substitutes",
        "colonies_opened",
        "step_adds",
        "step_cost_g",
        "step_price_g",
        "dear_step",
        "stock_with",
        "proved",
    ];
    let named = kinds
        .iter()
        .map(|kind| format!("compartments of {}", kind.box_kind));
    writer.write_record(fixed.map(str::to_owned).into_iter().chain(named))?;
    for point in &report.points {
        writer.write_record(line(point))?;
    }
    table_text(writer)
}

fn line(point: &PointReport) -> Vec<String> {
    let step = |figure: fn(super::StepReport) -> String| point.step.map_or(String::new(), figure);
    let honey = point.honey_given_up_g;
    let yes = |flag: bool| if flag { "yes" } else { "no" }.to_owned();
    let mut line = vec![
        point.compartments.to_string(),
        point.worth.to_string(),
        point.cost_g.to_string(),
        honey.map_or(String::new(), |honey| honey.to_string()),
        point.burden.to_string(),
        point.substitutes.to_string(),
        point.colonies_opened.to_string(),
        step(|step| step.adds.to_string()),
        step(|step| step.cost_g.to_string()),
        step(|step| step.price_g.to_string()),
        yes(point.dear_step),
        format!("stock {}", point.stock_with),
        yes(point.proof.state == ProofState::ProvedBest),
    ];
    line.extend(point.kinds.iter().map(|kind| kind.compartments.to_string()));
    line
}
