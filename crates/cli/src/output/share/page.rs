//! The page: one file that holds all there is, and asks for nothing.

use super::embed::safe;
use super::view::{BoxView, ColonyView, SiteView, boxes, colonies, sites};
use crate::output::calendar::Calendar;
use crate::output::curve::{self, CurveReport};
use crate::output::report::Report;
use crate::output::words::{Words, clean};
use crate::output::{headline, wishes};
use askama::Template;
use spareframe_solver::Scenario;

/// All that is handed on.
#[derive(Debug, Clone, Copy)]
pub struct Shared<'a> {
    /// The scenario.
    pub scenario: &'a Scenario,
    /// Its text, as it stands in the file.
    pub source: &'a str,
    /// The plan.
    pub report: &'a Report,
    /// Honey against compartments, where it is known.
    pub curve: Option<&'a CurveReport>,
    /// The calendar, where there is one.
    pub calendar: Option<&'a Calendar>,
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
    curve: Option<CurveView>,
    calendar: Option<&'a Calendar>,
    plan_json: String,
    scenario_json: String,
}

struct CurveView {
    picture: String,
    rows: Vec<(u32, f64, bool, bool)>,
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
    let words = Words::of(report);
    let json = |error: serde_json::Error| error.to_string();
    let (colonies, boxes) = (colonies(scenario, report, &words), boxes(report, &words));
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
        sentences: sentences(report),
        held_back: headline::held_back(report, true),
        sites: sites(scenario, report, &words, (&colonies, &boxes)),
        colonies,
        boxes,
        on_hold: held.map(|h| (clean(&h.colony), clean(&h.reason))).collect(),
        curve: shared.curve.map(curve_view).transpose()?,
        calendar: shared.calendar,
        plan_json: safe(&serde_json::to_string_pretty(report).map_err(json)?),
        scenario_json: safe(&serde_json::to_string(shared.source).map_err(json)?),
    })
}

fn sentences(report: &Report) -> Vec<String> {
    let h = &report.headline;
    let mut list = Vec::new();
    if let Some(proof) = &h.proof {
        list.extend([
            headline::proof(proof),
            headline::honey(h),
            headline::work(report),
        ]);
    }
    list.extend(headline::kept(report));
    list.extend(wishes::sentences(report));
    list
}

fn curve_view(report: &CurveReport) -> Result<CurveView, String> {
    let picture = curve::svg(report)?;
    // Ids must be those of the picture alone.
    let picture = picture
        .replacen("\"title description\"", "\"curve-title curve-about\"", 1)
        .replacen("<title id=\"title\">", "<title id=\"curve-title\">", 1)
        .replacen("<desc id=\"description\">", "<desc id=\"curve-about\">", 1)
        .replacen("<svg ", "<svg class=\"chart\" ", 1);
    let rows = report.points.iter().map(|p| {
        let honey = p.honey_given_up_charged_estimate_kg;
        (p.compartments, honey, p.allowed_today, p.dear_step)
    });
    Ok(CurveView {
        picture,
        rows: rows.collect(),
    })
}
