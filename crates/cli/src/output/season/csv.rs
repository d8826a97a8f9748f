//! The season as comma-separated values: a line for each figure, to be sorted and summed in a spreadsheet.

use super::report::SeasonReport;
use crate::output::data::table_text;
use crate::output::share::defused;

/// The season as CSV.
///
/// # Errors
/// If the writer of the format refuses; a bug if it ever happens.
pub fn csv(report: &SeasonReport) -> Result<String, csv::Error> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(["part", "day", "name", "figure", "value", "outlook"])?;
    let mut write = |[part, day, name, figure]: [&str; 4], value: String, outlook: bool| {
        let outlook = if outlook { "yes" } else { "no" };
        writer.write_record([part, day, &defused(name), figure, &value, outlook])
    };
    for round in &report.rounds {
        let kinds = [("new", &round.new), ("next_cells", &round.next)];
        for (figure, counts) in kinds {
            for count in counts {
                let of = ["round", &round.day, &count.box_kind, figure];
                write(of, count.compartments.to_string(), round.outlook)?;
            }
        }
        for (figure, value) in [
            ("nuclei", round.nuclei.to_string()),
            ("cells", round.cells.to_string()),
            ("brood_combs", round.brood_combs.to_string()),
            ("bees", round.bees.to_string()),
            ("queens", round.queens.to_string()),
            ("queens_least", round.queens_least.to_string()),
            ("queens_most", round.queens_most.to_string()),
            ("graft", round.graft.clone()),
            ("usable_from", round.usable_from.clone()),
            ("free_from", round.free_from.clone()),
        ] {
            write(["round", &round.day, "", figure], value, round.outlook)?;
        }
    }
    for colony in &report.colonies {
        for (at, round) in colony.rounds.iter().enumerate() {
            for (figure, value) in [
                ("brood_combs", round.brood_combs.to_string()),
                ("bees_given", round.bees_given.to_string()),
                ("bees", round.bees.to_string()),
                ("brood_frames", round.brood_frames.to_string()),
                ("bees_undrawn", round.bees_undrawn.to_string()),
                (
                    "brood_frames_undrawn",
                    round.brood_frames_undrawn.to_string(),
                ),
            ] {
                write(
                    ["colony", &round.day, &colony.colony, figure],
                    value,
                    at > 0,
                )?;
            }
        }
    }
    for row in &report.queens {
        for (figure, value) in [
            ("cells", row.cells),
            ("queens", row.queens),
            ("queens_least", row.queens_least),
            ("queens_most", row.queens_most),
            ("used", row.used),
        ] {
            write(["queens", &row.day, "", figure], value.to_string(), true)?;
        }
    }
    for (at, want) in report.wants.iter().enumerate() {
        let name = (at + 1).to_string();
        for (figure, value) in [("met", want.met), ("at_most", want.at_most)] {
            write(["want", &want.by, &name, figure], value.to_string(), true)?;
        }
    }
    for row in &report.today_against_the_season {
        let name = row.cells_today.to_string();
        write(
            ["today", &report.day, &name, "queens"],
            row.queens.to_string(),
            true,
        )?;
        for (at, met) in row.met.iter().enumerate() {
            let figure = format!("want_{}", at + 1);
            write(
                ["today", &report.day, &name, &figure],
                met.to_string(),
                true,
            )?;
        }
    }
    for row in &report.boxes {
        let name = format!("{} {}", row.boxes, row.box_kind);
        write(
            ["boxes", &report.day, &name, "queens"],
            row.queens.to_string(),
            true,
        )?;
    }
    table_text(writer)
}
