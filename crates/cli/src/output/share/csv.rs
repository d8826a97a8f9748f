//! What goes where as comma-separated values, for spreadsheets.

use crate::output::data::table_text;
use crate::output::report::{
    BeesReport, BoxQueen, ColonyReport, CompartmentReport, Filling, FramesReport, QueenReport,
    Report, RequeenReport,
};
use csv::{Terminator, WriterBuilder};
use serde::Serialize;
use std::collections::BTreeMap;

/// One row, of frames, of bees, of a next cell, of a queen, or of what goes into a gap; what does not belong to its kind is empty. The names are the columns.
#[derive(Debug, Default, Serialize)]
struct Row<'a> {
    row: &'a str,
    site: String,
    #[serde(rename = "box kind")]
    box_kind: String,
    #[serde(rename = "box number")]
    box_no: Option<u32>,
    compartment: Option<u32>,
    line: String,
    #[serde(rename = "from colony")]
    colony: String,
    #[serde(rename = "from site")]
    from_site: String,
    #[serde(rename = "frame group")]
    group: Option<usize>,
    #[serde(rename = "store room entry")]
    entry: Option<usize>,
    place: String,
    frames: Option<u32>,
    #[serde(rename = "bees before drift")]
    bees: Option<i64>,
    #[serde(rename = "of them on brood frames")]
    riding: Option<i64>,
    #[serde(rename = "of them already in")]
    done: i64,
    substitute: Option<usize>,
    comb: String,
    #[serde(rename = "brood (share of comb)")]
    brood: Option<f64>,
    #[serde(rename = "sealed brood (share of comb)")]
    sealed: Option<f64>,
    #[serde(rename = "stores (share of comb)")]
    stores: Option<f64>,
    #[serde(rename = "drawn (share of comb)")]
    drawn: Option<f64>,
    #[serde(rename = "feed (kg honey equivalent)")]
    feed: Option<f64>,
    #[serde(rename = "queen from")]
    queen: String,
    #[serde(rename = "to colony")]
    to_colony: String,
    day: String,
}

/// Where the colonies stand.
type Sites<'a> = BTreeMap<&'a str, &'a str>;

/// Frames and bees, a row for each origin in each compartment, and one before them where bees stand already and a next
/// cell goes in; then what goes into gaps, and queens into colonies. Lines end as RFC 4180 has it.
///
/// # Errors
/// If the writer of the format refuses; a bug if it ever happens.
pub fn csv(report: &Report) -> Result<String, csv::Error> {
    let mut writer = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(Vec::new());
    let colonies = report.colonies.iter();
    let sites: Sites = colonies.map(|c| (&*c.colony, &*c.site)).collect();
    for c in report.compartments.iter().chain(&report.begun) {
        if c.stands.is_some() {
            writer.serialize(start("next cell", c, report))?;
        }
        for frames in &c.frames {
            writer.serialize(of_frames(c, frames, (report, &sites)))?;
        }
        for bees in &c.bees {
            writer.serialize(of_bees(c, bees, (report, &sites)))?;
        }
        if let Some(queen) = &c.queen {
            writer.serialize(of_queen(c, queen, report))?;
        }
    }
    let gaps = report.colonies.iter();
    let gaps = gaps.flat_map(|c| c.gaps_filled_with.iter().map(move |filling| (c, filling)));
    for (colony, filling) in gaps {
        writer.serialize(into_gap(colony, filling, report))?;
    }
    let queens = report.queens.iter().flat_map(|queens| &queens.colonies);
    for (colony, queen) in queens.clone().filter_map(|c| Some((c, c.gets.as_ref()?))) {
        writer.serialize(into_colony(colony, queen))?;
    }
    let empty = report.compartments.is_empty()
        && report.begun.is_empty()
        && queens.clone().all(|c| c.gets.is_none());
    if empty {
        writer.serialize(Row::default())?;
    }
    let text = table_text(writer)?;
    // Columns are named with the first row, and that one is none.
    let lines = if empty { 1 } else { usize::MAX };
    Ok(text.split_inclusive("\r\n").take(lines).collect())
}

fn start<'a>(row: &'a str, c: &CompartmentReport, report: &Report) -> Row<'a> {
    Row {
        row,
        site: defused(&c.site),
        box_kind: defused(&c.box_kind),
        box_no: Some(c.box_no),
        compartment: Some(c.compartment),
        day: report.day.clone().unwrap_or_default(),
        ..Row::default()
    }
}

fn of_frames(
    c: &CompartmentReport,
    f: &FramesReport,
    (report, sites): (&Report, &Sites),
) -> Row<'static> {
    let said = |text: &Option<String>| text.as_deref().map_or_else(String::new, defused);
    let holds = &f.each_holds;
    Row {
        line: defused(&f.line),
        colony: said(&f.colony),
        from_site: f
            .colony
            .as_deref()
            .map_or_else(String::new, |c| site(sites, c)),
        group: f.frame_group,
        entry: f.store_room_entry,
        place: said(&f.place),
        frames: Some(f.frames),
        done: f.done.into(),
        substitute: f.substitute,
        comb: defused(&holds.comb),
        brood: Some(holds.brood_share),
        sealed: Some(holds.sealed_share),
        stores: Some(holds.stores_share),
        drawn: Some(holds.drawn_share),
        feed: Some(f.feed_kg),
        ..start("frames", c, report)
    }
}

fn of_bees(
    c: &CompartmentReport,
    b: &BeesReport,
    (report, sites): (&Report, &Sites),
) -> Row<'static> {
    Row {
        colony: defused(&b.colony),
        from_site: site(sites, &b.colony),
        bees: Some(b.bees),
        riding: Some(b.riding),
        done: b.done,
        ..start("bees", c, report)
    }
}

/// The mated queen of a compartment.
fn of_queen(c: &CompartmentReport, queen: &BoxQueen, report: &Report) -> Row<'static> {
    let on = report.queens.as_ref().and_then(|q| q.boxes_on.clone());
    Row {
        queen: defused(&queen.from),
        from_site: queen.site.as_deref().map_or_else(String::new, defused),
        day: on.unwrap_or_default(),
        ..start("queen", c, report)
    }
}

/// Frames of the store room that go into the gaps of a colony.
fn into_gap(c: &ColonyReport, f: &Filling, report: &Report) -> Row<'static> {
    let holds = &f.each_holds;
    Row {
        row: "gap",
        site: defused(&c.site),
        to_colony: defused(&c.colony),
        entry: Some(f.store_room_entry),
        place: f.place.as_deref().map_or_else(String::new, defused),
        frames: Some(f.frames),
        comb: defused(&holds.comb),
        brood: Some(holds.brood_share),
        sealed: Some(holds.sealed_share),
        stores: Some(holds.stores_share),
        drawn: Some(holds.drawn_share),
        day: report.day.clone().unwrap_or_default(),
        ..Row::default()
    }
}

/// The mated queen of a colony.
fn into_colony(c: &RequeenReport, queen: &QueenReport) -> Row<'static> {
    Row {
        row: "queen",
        site: defused(&c.site),
        from_site: defused(&queen.site),
        queen: defused(&queen.queen),
        to_colony: defused(&c.colony),
        day: c.goes_in.clone().unwrap_or_default(),
        ..Row::default()
    }
}

fn site(sites: &Sites, colony: &str) -> String {
    sites
        .get(colony)
        .map_or_else(String::new, |site| defused(site))
}

/// A cell that no spreadsheet takes for a formula: an apostrophe goes before what starts one.
pub(crate) fn defused(cell: &str) -> String {
    match cell.chars().next() {
        Some('=' | '+' | '-' | '@' | '\t' | '\r') => format!("'{cell}"),
        _ => cell.to_owned(),
    }
}
