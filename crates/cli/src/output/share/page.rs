//! The page: one file that holds all there is, and asks for nothing.

use super::embed::safe;
use super::view::{BoxView, ColonyView, SiteView, boxes, colonies, sites};
use crate::output::calendar::{Calendar, words as calendar_words};
use crate::output::curve::{self, Cells, CurveReport};
use crate::output::reasons::{self, WhyReport};
use crate::output::report::Report;
use crate::output::words::{Words, clean};
use crate::output::{Notes, cautions, headline, next_cells, queens};
use askama::Template;
use spareframe_solver::Scenario;

/// All that is handed on.
#[derive(Debug, Clone, Copy)]
pub struct Shared<'a> {
    /// What the file says beside what the solver takes.
    pub notes: &'a Notes,
    /// The scenario.
    pub scenario: &'a Scenario,
    /// Its text, as it stands in the file.
    pub source: &'a str,
    /// The plan.
    pub report: &'a Report,
    /// Cost against compartments, where it is known.
    pub curve: Option<&'a CurveReport>,
    /// What holds the plan back, where it is known.
    pub reasons: Option<&'a WhyReport>,
    /// The calendar, where there is one.
    pub calendar: Option<&'a Calendar>,
    /// How often the calendar was handed on before.
    pub revision: u32,
}

#[derive(Template)]
#[template(path = "share.html")]
struct Page<'a> {
    report: &'a Report,
    title: String,
    day: String,
    answer: String,
    kinds: Vec<String>,
    sentences: Vec<String>,
    held_back: Option<(String, Vec<String>)>,
    colonies: Vec<ColonyView>,
    boxes: Vec<BoxView>,
    sites: Vec<SiteView>,
    on_hold: Vec<(String, String)>,
    peace: &'static str,
    standing: Vec<String>,
    queens: Vec<String>,
    curve: Option<CurveView<'a>>,
    reasons: Vec<reasons::Section>,
    calendar: Option<CalendarView<'a>>,
    plan_json: String,
    scenario_json: String,
}

struct CalendarView<'a> {
    calendar: &'a Calendar,
    expected: String,
    accepted: Option<String>,
    days: Vec<DayView<'a>>,
    feed_heading: String,
    feed: Vec<[String; 6]>,
    shopping: Vec<String>,
    intervals: Vec<String>,
}

struct DayView<'a> {
    first: String,
    last: Option<String>,
    title: String,
    detail: &'a str,
    basis: &'a str,
}

struct CurveView<'a> {
    /// More than one point, so that there is something to draw.
    several: bool,
    picture: String,
    subject: &'static str,
    sentences: Vec<String>,
    mind: Vec<&'a str>,
    cells: Cells,
}

/// The page in HTML.
///
/// # Errors
/// If a writer refuses; a bug if it ever happens.
pub fn html(shared: &Shared) -> Result<String, String> {
    let page = page(shared)?;
    page.render().map_err(|error| error.to_string())
}

fn page<'a>(shared: &Shared<'a>) -> Result<Page<'a>, String> {
    let (report, scenario) = (shared.report, shared.scenario);
    let words = Words::of_whole_colonies(report, scenario);
    let json = |error: serde_json::Error| error.to_string();
    let (colonies, boxes) = (colonies(shared, &words), boxes(report, &words));
    let held = report.on_hold.iter();
    Ok(Page {
        report,
        title: report
            .title
            .as_deref()
            .map_or_else(|| "Stocking plan".to_owned(), clean),
        day: report.day.as_deref().map_or_else(String::new, clean),
        answer: headline::answer(&report.headline),
        kinds: words.kinds(&report.headline),
        sentences: headline::sentences(report)
            .into_iter()
            .chain(words.comb_sentence(report))
            .collect(),
        held_back: headline::held_back(report, true)
            .map(|(lead, items)| (lead.replace('`', ""), items)),
        sites: sites(scenario, report, &words),
        colonies,
        boxes,
        peace: next_cells::PEACE,
        standing: next_cells::peace(&words, report),
        queens: queens::lines(report),
        on_hold: held.map(|h| (clean(&h.colony), clean(&h.reason))).collect(),
        curve: shared.curve.map(curve_view).transpose()?,
        reasons: shared
            .reasons
            .map_or(Vec::new(), |r| reasons::sections(r, false)),
        calendar: shared.calendar.map(calendar_view),
        plan_json: safe(&serde_json::to_string_pretty(report).map_err(json)?),
        scenario_json: safe(&serde_json::to_string(shared.source).map_err(json)?),
    })
}

fn calendar_view(calendar: &Calendar) -> CalendarView<'_> {
    let days = calendar.entries.iter().map(|entry| DayView {
        first: calendar_words::written(&entry.first_day),
        last: (entry.last_day != entry.first_day).then(|| calendar_words::written(&entry.last_day)),
        title: calendar_words::title(entry),
        detail: &entry.detail,
        basis: &entry.basis,
    });
    let feed = calendar.feed.compartments.iter();
    let intervals = calendar.intervals.iter();
    CalendarView {
        calendar,
        expected: calendar_words::expected(&calendar.expected_queens),
        accepted: queens::estimate(&calendar.accepted),
        days: days.collect(),
        feed_heading: calendar_words::feed_heading(calendar),
        feed: feed.map(calendar_words::feed_of).collect(),
        shopping: calendar_words::shopping(calendar),
        intervals: intervals.map(calendar_words::interval).collect(),
    }
}

fn curve_view(report: &CurveReport) -> Result<CurveView<'_>, String> {
    Ok(CurveView {
        several: report.points.len() > 1,
        picture: curve::picture(report, "curve-")?,
        subject: curve::subject(report),
        sentences: curve::sentences(report),
        // The page holds the plan that these figures are not.
        mind: others(&report.mind).collect(),
        cells: curve::cells(report),
    })
}

fn others(mind: &[String]) -> impl Iterator<Item = &str> {
    let lines = mind.iter().map(String::as_str);
    lines.filter(|&line| line != cautions::NO_PLAN)
}
