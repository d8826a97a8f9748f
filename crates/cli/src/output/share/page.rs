//! The page: one file that holds all there is, and asks for nothing.

use super::comb::Combs;
use super::embed::{digest, safe};
use super::label::{HalfLabel, LabelView, labels};
use super::live::{self, Live};
use super::mating::{Half, Stand, stands};
use super::names::Names;
use super::sheet::{ColonySheet, colonies, day};
use super::site::{SiteSheet, sites};
use crate::output::build::decimal;
use crate::output::calendar::{Calendar, words as calendar_words};
use crate::output::curve::{self, Cells, CurveReport};
use crate::output::figures::counted;
use crate::output::reasons::{self, WhyReport};
use crate::output::report::{Headline, Report};
use crate::output::season::{self, SeasonReport, SeasonView};
use crate::output::when::{self, WhenReport, words as when_words};
use crate::output::words::{Words, clean};
use crate::output::{Notes, below, cautions, headline, next_cells, queens};
use askama::Template;
use spareframe_solver::Scenario;
use std::collections::{BTreeMap, BTreeSet};

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
    /// The season that it is the first round of, where there is one.
    pub season: Option<&'a SeasonReport>,
    /// Why a season of the scenario is left out.
    pub without_season: Option<&'a str>,
    /// Cost against compartments, where it is known.
    pub curve: Option<&'a CurveReport>,
    /// What holds the plan back, where it is known.
    pub reasons: Option<&'a WhyReport>,
    /// Later days, where they are known.
    pub when: Option<&'a WhenReport>,
    /// The calendar, where there is one.
    pub calendar: Option<&'a Calendar>,
    /// How often the calendar was handed on before.
    pub revision: u32,
}

impl<'a> Shared<'a> {
    /// A plan alone, with nothing beside it.
    pub(in crate::output) fn of(
        scenario: &'a Scenario,
        notes: &'a Notes,
        report: &'a Report,
    ) -> Self {
        Self {
            notes,
            scenario,
            source: "",
            report,
            season: None,
            without_season: None,
            curve: None,
            reasons: None,
            when: None,
            calendar: None,
            revision: 0,
        }
    }
}

/// How it looks, and what it does where scripts may run; it says the same without.
const STYLE: &str = include_str!("../../../templates/page.css");
const SCRIPT: &str = include_str!("../../../templates/page.js");

#[derive(Template)]
#[template(path = "page.html", blocks = ["combs", "band", "picture", "sheets", "after", "rest"])]
struct Page<'a> {
    report: &'a Report,
    /// What only the live page has.
    live: Option<Live>,
    title: String,
    day: String,
    figures: Vec<Figure>,
    /// The site where the day begins.
    start: Option<String>,
    answer: String,
    lead: String,
    /// What the cost is made of, and other figures.
    costs: Vec<String>,
    sentences: Vec<String>,
    held_back: Option<(String, Vec<String>)>,
    colonies: Vec<ColonySheet>,
    stands: Vec<Stand>,
    sites: Vec<SiteSheet>,
    labels: Vec<LabelView>,
    /// Colonies that are not opened, and why; for the live page each by itself.
    shut: Vec<Shut>,
    combs: Vec<(String, String)>,
    peace: &'static str,
    standing: Vec<String>,
    queens: Vec<String>,
    season: Option<SeasonView>,
    /// Why a season is left out.
    without_season: Option<String>,
    curve: Option<CurveView<'a>>,
    when: Option<WhenView>,
    reasons: Vec<reasons::Section>,
    calendar: Option<CalendarView<'a>>,
    plan_json: String,
    scenario_json: String,
    /// Names this plan among others on one device.
    key: String,
    style: &'static str,
    script: &'static str,
    live_style: &'static str,
    live_script: &'static str,
    script_hashes: Vec<String>,
}

impl Page<'_> {
    /// The compartment that a label is for.
    fn half(&self, label: &HalfLabel) -> Option<&Half> {
        let (stand, no, half) = label.at;
        self.stands.get(stand)?.boxes.get(no)?.halves.get(half)
    }
}

/// Colonies that are not opened: their names, why, and for the live page each by its place in the scenario.
type Shut = (String, String, Vec<(usize, String)>);

/// A figure that leads the page.
struct Figure {
    amount: String,
    rest: String,
    what: &'static str,
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

struct WhenView {
    picture: String,
    sentences: Vec<String>,
    legend: Vec<String>,
    days: Vec<[String; 5]>,
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
    let page = page(shared, None)?;
    page.render().map_err(|error| error.to_string())
}

/// The page as it is served, with the digests of its scripts.
pub(crate) fn served(
    shared: &Shared,
    asked: &live::Asked,
) -> Result<(String, Vec<String>), String> {
    let page = page(shared, Some(asked))?;
    let html = page.render().map_err(|error| error.to_string())?;
    let scripts = page.script_hashes.iter();
    Ok((html, scripts.map(|hash| format!("sha256-{hash}")).collect()))
}

/// Parts of the page as they are served, by the id of the element that they fill.
pub(crate) fn parts(
    shared: &Shared,
    asked: &live::Asked,
    wanted: &[&'static str],
) -> Result<BTreeMap<&'static str, String>, String> {
    let page = page(shared, Some(asked))?;
    let part = |&name: &&'static str| {
        let text = match name {
            "combs" => page.as_combs().render(),
            "head" => page.as_band().render(),
            "yard" => Ok(page
                .live
                .as_ref()
                .map_or(String::new(), |live| live.yard.clone())),
            "picture" => page.as_picture().render(),
            "sheets" => page.as_sheets().render(),
            "after" => page.as_after().render(),
            "rest" => page.as_rest().render(),
            "hand" => match page.live.as_ref().and_then(|live| live.hand.as_ref()) {
                Some(hand) => hand.render(),
                None => Ok(String::new()),
            },
            _ => return Err(format!("no part {name}")),
        };
        text.map(|text| (name, text)).map_err(|e| e.to_string())
    };
    wanted.iter().map(part).collect()
}

fn page<'a>(shared: &Shared<'a>, asked: Option<&live::Asked>) -> Result<Page<'a>, String> {
    let (report, scenario) = (shared.report, shared.scenario);
    let words = Words::of_whole_colonies(report, scenario);
    let json = |error: serde_json::Error| error.to_string();
    // The served page asks for what it needs; what is handed on has it all in it.
    let (plan_json, scenario_json) = match asked {
        Some(_) => (String::new(), String::new()),
        None => (
            safe(&serde_json::to_string_pretty(report).map_err(json)?),
            safe(&serde_json::to_string(shared.source).map_err(json)?),
        ),
    };
    let mut combs = Combs::of(scenario);
    let touched = report.compartments.iter().chain(&report.begun);
    let names = Names::of(&report.headline, touched, &words);
    let colonies = colonies(shared, &words, &names, &mut combs);
    let stands = stands(report, &words, &names, &mut combs);
    let sites = sites(shared, &words, &names);
    let live = asked.map(|asked| live::live(shared, asked, &names, &mut combs));
    let live = live.transpose()?;
    let sections = shared
        .reasons
        .map_or(Vec::new(), |r| reasons::sections(r, asked.is_some()));
    let h = &report.headline;
    let costs = [headline::cost(h), headline::work(report)];
    Ok(Page {
        report,
        title: report
            .title
            .as_deref()
            .map_or_else(|| "Stocking plan".to_owned(), clean),
        day: report.day.as_deref().map_or_else(String::new, day),
        figures: figures(&report.headline, scenario.colonies.len()),
        start: sites.first().map(|site| site.name.clone()),
        answer: headline::answer(&report.headline),
        lead: lead(&colonies),
        sentences: headline::sentences(report)
            .into_iter()
            .filter(|sentence| !costs.contains(sentence))
            .chain(below::sentence(report))
            .collect(),
        costs: words
            .kinds(&report.headline)
            .into_iter()
            .chain(costs.clone())
            .chain(words.comb_sentence(report))
            .collect(),
        held_back: headline::held_back(report, true).map(|(lead, items)| (spoken(lead), items)),
        labels: labels(shared, &stands, &names),
        shut: shut(shared),
        sites,
        colonies,
        stands,
        combs: combs.drawings(),
        peace: next_cells::PEACE,
        standing: next_cells::peace(&words, report),
        queens: queens::lines(report),
        season: shared.season.map(season::view),
        without_season: shared.without_season.map(|why| spoken(why.to_owned())),
        curve: shared.curve.map(curve_view).transpose()?,
        when: shared.when.map(when_view).transpose()?,
        reasons: sections,
        calendar: shared.calendar.map(calendar_view),
        scenario_json,
        key: match asked {
            Some(asked) => key(asked.place.as_bytes()),
            None => key(plan_json.as_bytes()),
        },
        live,
        plan_json,
        style: STYLE,
        script: SCRIPT,
        live_style: live::STYLE,
        live_script: live::SCRIPT,
        script_hashes: [SCRIPT, live::SCRIPT]
            .iter()
            .take(1 + usize::from(asked.is_some()))
            .map(|script| digest(script.as_bytes()))
            .collect(),
    })
}

/// A short name for something, by what it is.
fn key(bytes: &[u8]) -> String {
    let all = digest(bytes);
    let plain = all.chars().filter(char::is_ascii_alphanumeric);
    plain.take(12).collect()
}

/// Without the marks of a terminal around what is to be typed.
#[expect(clippy::needless_pass_by_value, reason = "maps sentences as they come")]
fn spoken(text: String) -> String {
    text.replace('`', "")
}

/// What is stocked, what it costs in honey, how many hives are opened.
fn figures(headline: &Headline, colonies: usize) -> Vec<Figure> {
    let honey = headline.honey_given_up_g;
    let kg = honey.map(|grams| format!("{:.2}", decimal(grams, 1000.0)));
    vec![
        Figure {
            amount: headline.compartments_stocked.to_string(),
            rest: format!("of {}", headline.may_be_stocked()),
            what: "compartments stocked",
        },
        Figure {
            what: match kg {
                Some(_) => "honey given up (estimate)",
                None => "honey is not estimated",
            },
            rest: if kg.is_some() { "kg" } else { "" }.to_owned(),
            amount: kg.unwrap_or_else(|| "\u{2013}".to_owned()),
        },
        Figure {
            amount: headline.opened().to_string(),
            rest: format!("of {colonies}"),
            what: "colonies opened",
        },
    ]
}

/// What leaves, where anything does.
fn lead(colonies: &[ColonySheet]) -> String {
    let frames: i64 = colonies.iter().map(|c| c.leaves).sum();
    let from = colonies.iter().filter(|c| c.leaves > 0).count();
    let from = i64::try_from(from).unwrap_or(i64::MAX);
    if frames == 0 {
        return String::new();
    }
    let leave = if frames == 1 { "leaves" } else { "leave" };
    format!(
        "{} {leave} {}.",
        counted(frames, "frame", "frames"),
        counted(from, "colony", "colonies")
    )
}

/// Colonies that are not opened, those with one reason together.
fn shut(shared: &Shared) -> Vec<Shut> {
    let colonies = || shared.scenario.colonies.iter().enumerate();
    let opened: BTreeSet<&str> = shared.report.colonies.iter().map(|c| &*c.colony).collect();
    let said = shared
        .reasons
        .map_or_else(Vec::new, |why| reasons::closed(why, &opened));
    if !said.is_empty() {
        let none = Vec::new;
        return said
            .into_iter()
            .map(|(names, why)| (names, why, none()))
            .collect();
    }
    let held = colonies().filter(|(_, c)| c.hold.is_some() && !opened.contains(&*c.name));
    let held = held.map(|(at, c)| {
        let reason = clean(c.hold.as_deref().unwrap_or(""));
        let name = clean(&c.name);
        (name.clone(), format!("on hold: {reason}"), vec![(at, name)])
    });
    let others = colonies().filter(|(_, c)| c.hold.is_none() && !opened.contains(&*c.name));
    let others: Vec<(usize, String)> = others.map(|(at, c)| (at, clean(&c.name))).collect();
    let names: Vec<&str> = others.iter().map(|(_, name)| &**name).collect();
    let names = names.join(", ");
    let rest = (!others.is_empty()).then(|| (names, "nothing is taken".to_owned(), others));
    held.chain(rest).collect()
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

fn when_view(report: &WhenReport) -> Result<WhenView, String> {
    Ok(WhenView {
        picture: when::picture(report, "when-")?,
        sentences: when_words::sentences(report)
            .into_iter()
            .map(spoken)
            .collect(),
        legend: when_words::legend(report).into_iter().map(spoken).collect(),
        days: report.days.iter().map(when_words::cells_of).collect(),
    })
}

fn curve_view(report: &CurveReport) -> Result<CurveView<'_>, String> {
    Ok(CurveView {
        several: report.points.len() > 1,
        picture: curve::picture(report, "curve-")?,
        subject: curve::subject(report),
        sentences: curve::sentences(report).into_iter().map(spoken).collect(),
        // The page holds the plan that these figures are not.
        mind: others(&report.mind).collect(),
        cells: curve::cells(report),
    })
}

fn others(mind: &[String]) -> impl Iterator<Item = &str> {
    let lines = mind.iter().map(String::as_str);
    lines.filter(|&line| line != cautions::NO_PLAN)
}
