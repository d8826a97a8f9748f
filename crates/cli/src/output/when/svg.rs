//! The days as a picture in SVG, to print or to show; readable on a telephone and without colour, and described for a
//! screen reader.

use super::super::calendar::words::written;
use super::super::svg::About;
use super::picture::draw;
use super::report::{DayReport, WhenReport};
use super::words;

/// The days as an SVG document.
///
/// # Errors
/// If the drawing library refuses; a bug if it ever happens.
pub fn svg(report: &WhenReport) -> Result<String, String> {
    picture(report, "")
}

/// The same to stand in a page, where names of parts must be its own.
///
/// # Errors
/// As [`svg`].
pub(in super::super) fn picture(report: &WhenReport, prefix: &str) -> Result<String, String> {
    let about = About {
        prefix,
        title: &words::heading(report),
        text: &description(report),
    };
    about.draw(|page| draw(page, report))
}

/// The picture in words.
fn description(report: &WhenReport) -> String {
    let mut parts = words::sentences(report);
    parts.extend(report.days.iter().map(of_day));
    parts.join(" ")
}

fn of_day(day: &DayReport) -> String {
    let mut said = format!("{}: {}", written(&day.day), words::stocked(day));
    let honey = words::honey(day);
    if !honey.is_empty() {
        said += &format!(", honey {honey} kg");
    }
    let cells = words::cells(day);
    if !cells.is_empty() {
        said += &format!(", cells {cells}");
    }
    said + "."
}
