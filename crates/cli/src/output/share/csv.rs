//! What goes where as comma-separated values, for spreadsheets.

use crate::output::report::{CompartmentReport, Report};
use csv::{Terminator, WriterBuilder};

/// Frames and bees, a line for each origin in each compartment; lines end as RFC 4180 has it.
///
/// # Errors
/// If the writer of the format refuses; a bug if it ever happens.
pub fn csv(report: &Report) -> Result<String, csv::Error> {
    let mut writer = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(Vec::new());
    writer.write_record([
        "site",
        "box kind",
        "box number",
        "compartment",
        "what",
        "from colony",
        "frame group",
        "store room entry",
        "frames",
        "bees before drift",
        "of them on brood frames",
        "comb",
        "brood (share of comb)",
        "sealed brood (share of comb)",
        "stores (share of comb)",
        "drawn (share of comb)",
        "feed (kg honey equivalent)",
    ])?;
    for c in report.compartments.iter().chain(&report.begun) {
        for line in lines(c) {
            writer.write_record(line.iter().map(|cell| defused(cell)))?;
        }
    }
    let bytes = writer
        .into_inner()
        .map_err(|error| csv::Error::from(error.into_error()))?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn lines(c: &CompartmentReport) -> Vec<Vec<String>> {
    let start = || {
        let (number, compartment) = (c.box_no.to_string(), c.compartment.to_string());
        vec![c.site.clone(), c.box_kind.clone(), number, compartment]
    };
    let number = |n: Option<usize>| n.map_or_else(String::new, |n| n.to_string());
    let mut list = Vec::new();
    for f in &c.frames {
        let mut line = start();
        line.extend([f.line.clone(), f.colony.clone().unwrap_or_default()]);
        line.extend([number(f.frame_group), number(f.store_room_entry)]);
        line.extend([f.frames.to_string(), String::new(), String::new()]);
        line.push(f.each_holds.comb.clone());
        let h = &f.each_holds;
        let shares = [h.brood_share, h.sealed_share, h.stores_share, h.drawn_share];
        line.extend(shares.iter().chain([&f.feed_kg]).map(f64::to_string));
        list.push(line);
    }
    for b in &c.bees {
        let mut line = start();
        line.extend(["bees".to_owned(), b.colony.clone()]);
        line.extend(std::iter::repeat_n(String::new(), 3));
        line.extend([b.bees.to_string(), b.riding.to_string()]);
        line.extend(std::iter::repeat_n(String::new(), 6));
        list.push(line);
    }
    list
}

/// A cell that no spreadsheet takes for a formula: an apostrophe goes before what starts one.
pub(crate) fn defused(cell: &str) -> String {
    match cell.chars().next() {
        Some('=' | '+' | '-' | '@' | '\t' | '\r') => format!("'{cell}"),
        _ => cell.to_owned(),
    }
}
