//! The days as comma-separated values, a line for each.

use super::report::WhenReport;
use super::words;
use crate::output::ProofState;
use crate::output::data::table_text;

/// The days as CSV.
///
/// # Errors
/// If the writer of the format refuses; a bug if it ever happens.
pub fn csv(report: &WhenReport) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record([
        "day",
        "days_later",
        "compartments_stocked",
        "compartments_with_fewer_losses",
        "compartments_in_all",
        "worth",
        "cost_g",
        "honey_given_up_g",
        "sugar_kg",
        "cells",
        "doubtful",
        "proved",
    ])?;
    let yes = |flag: bool| if flag { "yes" } else { "no" }.to_owned();
    for day in &report.days {
        let proved = day.proof.as_ref().map(|proof| proof.state);
        writer.write_record([
            day.day.clone(),
            day.days_later.to_string(),
            day.compartments_stocked.to_string(),
            day.compartments_with_fewer_losses
                .map_or(String::new(), |count| count.to_string()),
            day.compartments_in_all.to_string(),
            day.worth.to_string(),
            day.cost_g.to_string(),
            day.honey_given_up_g
                .map_or(String::new(), |honey| honey.to_string()),
            day.sugar_kg.to_string(),
            words::cells(day),
            yes(day.doubtful),
            yes(proved.is_none_or(|proof| proof == ProofState::ProvedBest)),
        ])?;
    }
    table_text(writer)
}
