//! The curve as a picture in SVG, to print or to show; readable without colour, and described for
//! a screen reader.

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

/// The same as part of a page, where ids must be its own.
pub(in crate::output) fn picture(report: &CurveReport, prefix: &str) -> Result<String, String> {
    let mut drawn = String::new();
    draw(report, &mut drawn).map_err(|error| error.to_string())?;
    let named = format!("<svg role=\"img\" aria-labelledby=\"{prefix}title {prefix}description\" ");
    let drawn = drawn.replacen("<svg ", &named, 1);
    let (start, rest) = drawn.split_once('\n').unwrap_or((&drawn, ""));
    let title = escaped(&words::heading(report));
    let about = escaped(&description(report));
    Ok(format!(
        "{start}\n<title id=\"{prefix}title\">{title}</title>\n\
         <desc id=\"{prefix}description\">{about}</desc>\n{rest}"
    ))
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
    parts.join(" ")
}

/// Text as XML takes it.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in drawable(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            c => out.push(c),
        }
    }
    out
}

/// Text without the characters that XML knows no way to write.
pub(super) fn drawable(text: &str) -> String {
    let known = |c: char| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}');
    text.chars().filter(|&c| known(c)).collect()
}
