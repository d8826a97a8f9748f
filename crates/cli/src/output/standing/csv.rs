//! What stands, as comma-separated values, a line for each compartment.

use super::record::StandingReport;
use crate::output::data::table_text;

/// What stands, as CSV.
///
/// # Errors
/// If the writer of the format refuses; a bug if it ever happens.
pub fn csv(report: &StandingReport) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record([
        "compartment",
        "box_kind",
        "site",
        "from",
        "days",
        "queen",
        "seen",
        "queen_expected",
        "bees",
        "brood_frames",
        "counted",
        "failed",
        "next",
        "first_day",
        "last_day",
        "give_bees",
        "what",
    ])?;
    for row in &report.compartments {
        let next = &row.next;
        let safe = |text: &str| crate::output::share::defused(text);
        writer.write_record([
            safe(&row.name),
            safe(&row.box_kind),
            safe(&row.site),
            safe(&row.from.join(", ")),
            row.days.to_string(),
            row.queen.clone(),
            row.seen.clone(),
            row.queen_expected.clone().unwrap_or_default(),
            row.bees.to_string(),
            row.brood_frames.to_string(),
            row.counted.clone().unwrap_or_else(|| report.day.clone()),
            row.failed.to_string(),
            next.id.clone(),
            next.first_day.clone(),
            next.last_day.clone().unwrap_or_default(),
            next.give_bees
                .map_or(String::new(), |bees| bees.to_string()),
            next.text.clone(),
        ])?;
    }
    table_text(writer)
}
