//! The curve as a picture in SVG, to print or to show; readable without colour, and described for
//! a screen reader.

use super::super::svg::About;
use super::picture::draw;
use super::report::CurveReport;
use super::rows::rows;
use super::words;

/// The curve as an SVG document.
///
/// # Errors
/// If the drawing library refuses; a bug if it ever happens.
pub fn svg(report: &CurveReport) -> Result<String, String> {
    picture(report, "")
}

/// The same as part of a page, where ids must be its own; the page says what stands above the bars.
pub(in crate::output) fn picture(report: &CurveReport, prefix: &str) -> Result<String, String> {
    let about = About {
        prefix,
        title: &words::heading(report),
        text: &description(report),
    };
    about.draw(|page| draw(page, report, prefix.is_empty()))
}

/// The picture in words.
fn description(report: &CurveReport) -> String {
    let mut parts = words::sentences(report);
    for row in rows(report) {
        let cost = row.figures(false).into_iter().next().unwrap_or_default();
        let mark = match row.mark(false) {
            "" => String::new(),
            mark => format!(" ({mark})"),
        };
        parts.push(format!("{}: {cost} kg{mark}.", row.amount(report)));
    }
    let today = report.points.iter().filter(|point| point.today);
    parts.extend(today.map(|point| format!("Today's plan: {}.", words::amount(report, point))));
    parts.join(" ")
}
