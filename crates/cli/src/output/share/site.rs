//! The sites: where the day takes one, what is filled there, and what is done at the boxes.

use super::names::Names;
use super::page::Shared;
use super::ready::{ReadyView, ready};
use super::sheet::day;
use crate::output::build::site;
use crate::output::calendar::{cells_in, long_day};
use crate::output::figures::{counted, weight};
use crate::output::filled::Route;
use crate::output::queens;
use crate::output::report::{CompartmentReport, Progress, Report};
use crate::output::words::{Words, clean};
use itertools::Itertools;
use std::collections::BTreeMap;

/// One site, with the work at it.
pub(super) struct SiteSheet {
    pub id: usize,
    pub name: String,
    pub lead: String,
    pub ready: Vec<ReadyView>,
    pub colonies: Vec<usize>,
    /// Queens out of compartments here, and into colonies here.
    pub queens: Vec<String>,
    /// What stands in compartments that get a next cell, and what comes out.
    pub standing: Vec<String>,
    pub rounds: Vec<RoundView>,
}

/// What is done to each of these compartments on one day.
pub(super) struct RoundView {
    pub title: String,
    pub what: String,
    pub names: Vec<String>,
}

/// The sites where there is work, in its order: those with colonies to open, then those with boxes alone,
/// each in the order of the scenario.
pub(super) fn sites(shared: &Shared, words: &Words, names: &Names) -> Vec<SiteSheet> {
    let (scenario, report) = (shared.scenario, shared.report);
    let mut homes = BTreeMap::<usize, Vec<String>>::new();
    for (name, line) in queens::at_sites(report) {
        let at = scenario.sites.iter().position(|known| known.name == name);
        homes.entry(at.unwrap_or(0)).or_default().push(line);
    }
    let route = Route::of(scenario, &report.colonies);
    let view = |id: usize| {
        let raw = site(scenario, id);
        let opened = report.colonies.iter();
        let colonies: Vec<usize> = opened.positions(|c| c.site == raw).collect();
        let filled = filled_at(report, &raw);
        let here: Vec<&CompartmentReport> =
            compartments(report).filter(|c| c.site == raw).collect();
        SiteSheet {
            id,
            lead: lead(report, &raw, &colonies, &filled),
            ready: ready(shared, &raw, &filled, words, names),
            standing: here
                .iter()
                .filter_map(|c| standing(c, words, names))
                .collect(),
            rounds: rounds(shared, &here, names),
            queens: homes.get(&id).cloned().unwrap_or_default(),
            name: clean(&raw),
            colonies,
        }
    };
    let busy =
        |s: &SiteSheet| !(s.colonies.is_empty() && s.rounds.is_empty() && s.queens.is_empty());
    let sites = route.sites().iter().copied().map(view);
    sites.filter(busy).collect()
}

/// What stands in a compartment, what comes out of it and what it gets, in a line.
fn standing(c: &CompartmentReport, words: &Words, names: &Names) -> Option<String> {
    let parts = words.stands(c);
    let parts: Vec<String> = parts
        .iter()
        .map(|(what, said)| format!("{what}: {said}"))
        .collect();
    let name = names.short(&c.box_kind, c.box_no, c.compartment);
    (!parts.is_empty()).then(|| format!("{name}, {}", parts.join("; ")))
}

/// Compartments that are filled at this site.
fn filled_at<'a>(report: &'a Report, site: &str) -> Vec<&'a CompartmentReport> {
    let filled = |c: &&CompartmentReport| c.filled_at.as_ref().unwrap_or(&c.site) == site;
    let open = report
        .compartments
        .iter()
        .filter(|c| c.done != Some(Progress::Finished) && !c.lacks_nothing());
    open.filter(filled).collect()
}

fn lead(report: &Report, site: &str, colonies: &[usize], filled: &[&CompartmentReport]) -> String {
    let opened = i64::try_from(colonies.len()).unwrap_or(i64::MAX);
    let away = filled.iter().any(|c| c.site != site);
    let count = i64::try_from(filled.len()).unwrap_or(i64::MAX);
    let mut parts = Vec::new();
    if opened > 0 {
        parts.push(format!("open {}", counted(opened, "colony", "colonies")));
    }
    if count > 0 {
        let boxes = filled.iter().filter(|c| c.site != site);
        let boxes = boxes.map(|c| (&c.box_kind, c.box_no)).unique().count();
        let beside = if opened == 1 {
            "beside it"
        } else {
            "beside them"
        };
        let away_with = if boxes == 1 { "the box" } else { "the boxes" };
        let count = counted(count, "compartment", "compartments");
        parts.push(match (opened > 0, away) {
            (true, true) => format!("fill {count} {beside}, then take {away_with} away"),
            (true, false) => format!("fill {count}"),
            (false, _) => format!("fill {count} where they stand"),
        });
    }
    let stand = compartments(report).filter(|c| c.site == site && c.done.is_none());
    let stand = stand.filter(|c| !filled.contains(c)).count();
    if stand > 0 {
        let stand = i64::try_from(stand).unwrap_or(i64::MAX);
        parts.push(format!(
            "set up {}",
            counted(stand, "compartment", "compartments")
        ));
    }
    let text = parts.join(", ");
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        format!("{}{}.", first.to_uppercase(), letters.as_str())
    })
}

/// What is done at boxes here, day by day.
fn rounds(shared: &Shared, here: &[&CompartmentReport], names: &Names) -> Vec<RoundView> {
    let (report, notes) = (shared.report, shared.notes);
    let name = |c: &CompartmentReport| names.short(&c.box_kind, c.box_no, c.compartment);
    let stocked = |c: &&&CompartmentReport| report.compartments.contains(**c);
    let mut rounds = Vec::new();
    let mut add = |title: &str, what: &str, names: Vec<String>| {
        if !names.is_empty() {
            rounds.push(RoundView {
                title: title.to_owned(),
                what: what.to_owned(),
                names,
            });
        }
    };
    let today = report.day.as_deref().map_or("That day".to_owned(), day);
    let new = here
        .iter()
        .filter(|c| c.stands.is_none() && c.done != Some(Progress::Finished));
    add(
        &today,
        "stands in its place, shut, shaded and aired",
        new.filter(stocked).map(|c| name(c)).collect(),
    );
    let fed = here.iter().filter(|c| c.feed_kg > 0.0);
    let fed = fed.map(|c| format!("{}: {}", name(c), weight(c.feed_kg)));
    add(
        &today,
        "fed for its substitute (honey equivalent)",
        fed.collect(),
    );
    let next = here.iter().filter(|c| c.stands.is_some()).filter(stocked);
    add(&today, "wild cells broken", next.map(|c| name(c)).collect());
    let (what, later, on) = cells_in(notes, report);
    let when = match (later, on) {
        (0, _) => "Last of all".to_owned(),
        (_, Some(on)) => long_day(on),
        (later, None) => format!("{} later", counted(later.into(), "day", "days")),
    };
    let one = what.trim_end_matches('s');
    let cells = here.iter().filter(stocked);
    let cells: Vec<_> = cells
        .filter(|c| c.queen.is_none())
        .map(|c| name(c))
        .collect();
    add(&when, &format!("{one} in"), cells);
    let queens = here.iter().filter(stocked).filter(|c| c.queen.is_some());
    let queens = queens.map(|c| format!("{}: {}", name(c), queens::of_box(c)));
    add(&when, "mated queen in", queens.collect());
    rounds
}

fn compartments(report: &Report) -> impl Iterator<Item = &CompartmentReport> {
    report.compartments.iter().chain(&report.begun)
}
