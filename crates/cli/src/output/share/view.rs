//! What the page shows, in words and drawings, with nothing left to decide.

use super::drawing::{Drawing, Mark};
use super::page::Shared;
use crate::output::build::{holds, site};
use crate::output::carry;
use crate::output::figures;
use crate::output::hands::{self, Hand};
use crate::output::queens;
use crate::output::report::{ColonyReport, CompartmentReport, Level, Report};
use crate::output::words::{self, Words, clean};
use crate::scenario::count_of;
use itertools::Itertools;
use spareframe_solver::{Colony, Scenario};
use std::collections::BTreeMap;

/// Frames alike of a colony, or of the store room that fill its gaps.
pub(super) struct GroupView {
    pub name: String,
    pub holds: String,
    pub before: u32,
    pub leave: u32,
    pub after: u32,
}

/// Something to keep, before and after.
pub(super) struct LevelView {
    pub name: &'static str,
    pub level: String,
    /// What stays, of 100 before.
    pub after: u32,
    /// What must be kept, of 100 before.
    pub line: u32,
}

/// One colony.
pub(super) struct ColonyView {
    pub id: usize,
    pub name: String,
    pub role: String,
    pub site: String,
    /// The day of its count, where what it has before is expected.
    pub counted: Option<String>,
    pub before: Drawing,
    pub after: Drawing,
    pub groups: Vec<GroupView>,
    pub levels: Vec<LevelView>,
    /// What the hands do, in their order.
    pub hands: Vec<String>,
    /// What it gives of what it has.
    pub gives: String,
    /// Honey that it gives up, where it does.
    pub honey: Option<String>,
    pub frames: (u32, u32),
    /// Frames that fill gaps.
    pub fillers: u32,
}

/// One compartment.
pub(super) struct BoxView {
    pub id: usize,
    pub name: String,
    pub heading: String,
    pub drawing: Drawing,
    pub frames: Vec<(usize, u32, String, String)>,
    /// What stands in it, where it gets a next cell.
    pub stands: Vec<String>,
    /// Bees, where any are asked for.
    pub bees: Option<String>,
    /// What is seen to when it stands.
    pub last: String,
    /// Where its mated queen is from; empty where it gets a cell.
    pub queen: String,
    pub feed: Option<String>,
}

/// What is carried to one site.
pub(super) struct LoadView {
    pub from: String,
    pub items: Vec<String>,
}

/// One site, with the work at it.
pub(super) struct SiteView {
    pub id: usize,
    pub name: String,
    pub bring: Vec<String>,
    pub loads: Vec<LoadView>,
    pub colonies: Vec<usize>,
    pub boxes: Vec<usize>,
    /// Queens out of compartments here, and into colonies here.
    pub queens: Vec<String>,
}

/// All colonies that are opened.
pub(super) fn colonies(shared: &Shared, words: &Words) -> Vec<ColonyView> {
    let (scenario, report) = (shared.scenario, shared.report);
    let at_a_glance = &shared.notes.places.at_a_glance;
    let each = scenario.colonies.iter().enumerate();
    let known: BTreeMap<&str, (&Colony, bool)> = each
        .map(|(at, c)| (c.name.as_str(), (c, at_a_glance.get(at) == Some(&true))))
        .collect();
    let reports = report.colonies.iter().enumerate();
    let view = |(id, c): (usize, &ColonyReport)| {
        let (colony, at_a_glance) = known.get(c.colony.as_str())?;
        let mut view = colony_view(scenario, colony, c, words, id);
        if *at_a_glance {
            // Counted at a glance, they have no numbers: what they hold is their name.
            for (group, counted) in view.groups.iter_mut().zip(&colony.frames) {
                group.name = count_of(&counted.frame).to_owned();
            }
        }
        view.groups
            .retain(|group| group.before > 0 || group.after > 0);
        Some(view)
    };
    reports.filter_map(view).collect()
}

fn colony_view(
    scenario: &Scenario,
    colony: &Colony,
    c: &ColonyReport,
    words: &Words,
    id: usize,
) -> ColonyView {
    let (mut before, mut after, mut groups) = (Drawing::default(), Drawing::default(), Vec::new());
    for (index, group) in colony.frames.iter().enumerate() {
        let number = index + 1;
        let leaving = c.leaving.iter().filter(|l| l.frame_group == number);
        let leave = leaving
            .fold(0, |sum: u32, l| sum.saturating_add(l.frames))
            .min(group.count);
        let stay = group.count - leave;
        let holds = holds(scenario, &group.frame);
        let mark = if group.queen { Mark::Queen } else { Mark::None };
        before.add(&holds, leave, Mark::Leaves);
        before.add(&holds, stay, mark);
        after.add(&holds, stay, mark);
        groups.push(GroupView {
            name: match group.queen {
                true => format!("{number} (queen)"),
                false => number.to_string(),
            },
            holds: words.content(&holds),
            before: group.count,
            leave,
            after: stay,
        });
    }
    for filler in &c.gaps_filled_with {
        after.add(&filler.each_holds, filler.frames, Mark::Filler);
        groups.push(GroupView {
            name: format!("new, store room {}", filler.store_room_entry),
            holds: words.content(&filler.each_holds),
            before: 0,
            leave: 0,
            after: filler.frames,
        });
    }
    ColonyView {
        id,
        name: clean(&c.colony),
        role: clean(&c.role),
        site: clean(&c.site),
        counted: c.counted.as_deref().map(clean),
        before,
        after,
        groups,
        levels: levels(c),
        hands: words.hands(c).iter().map(Hand::line).collect(),
        gives: hands::gives(c),
        honey: hands::honey(c).map(|honey| format!("honey given up (estimate): {honey}")),
        frames: (c.frames_before, c.frames_after),
        fillers: c
            .gaps_filled_with
            .iter()
            .map(|f| f.frames)
            .fold(0, u32::saturating_add),
    }
}

fn levels(c: &ColonyReport) -> Vec<LevelView> {
    let level = |name, level: &Level, shown: String| LevelView {
        name,
        level: shown,
        after: hundredths(level.after, level.before),
        line: hundredths(level.must_keep, level.before),
    };
    let decimals = |name, of: &Level, decimals| level(name, of, figures::level(of, decimals));
    let mut levels = vec![
        decimals("Brood frames", &c.brood_frames, 3),
        decimals("Bees", &c.bees, 0),
        decimals("Stores kg", &c.stores_kg, 3),
        decimals("Drawn combs", &c.drawn_frames, 3),
    ];
    let covered = c.brood_covered_percent.as_ref();
    levels.extend(covered.map(|of| level("Brood covered", of, figures::percent_level(of))));
    levels
}

/// A part of a whole in hundredths, 0 to 100.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and 100"
)]
fn hundredths(part: f64, whole: f64) -> u32 {
    if whole <= 0.0 {
        return 0;
    }
    (part / whole * 100.0).round().clamp(0.0, 100.0) as u32
}

fn compartments(report: &Report) -> impl Iterator<Item = &CompartmentReport> {
    report.compartments.iter().chain(&report.begun)
}

/// All compartments that are stocked or begun.
pub(super) fn boxes(report: &Report, words: &Words) -> Vec<BoxView> {
    compartments(report)
        .enumerate()
        .map(|(id, c)| box_view(c, words, id))
        .collect()
}

fn box_view(c: &CompartmentReport, words: &Words, id: usize) -> BoxView {
    let origins: Vec<_> = c.frames.iter().map(|f| &f.colony).unique().collect();
    let mut drawing = Drawing::default();
    let mut frames = Vec::new();
    for stands in c.stands.iter().flat_map(|stands| &stands.frames) {
        drawing.add(&stands.each_holds, stands.frames, Mark::None);
    }
    for f in &c.frames {
        let number = 1 + origins.iter().position(|&o| *o == f.colony).unwrap_or(0);
        drawing.add(&f.each_holds, f.frames, Mark::From(number));
        let from = match &f.colony {
            Some(colony) => format!("colony {}", clean(colony)),
            None => "store room".to_owned(),
        };
        let what = format!("{}: {}", clean(&f.line), words.content(&f.each_holds));
        frames.push((number, f.frames, what, from));
    }
    BoxView {
        id,
        name: words.compartment(c),
        heading: words.heading(c),
        drawing,
        frames,
        stands: words
            .stands(c)
            .iter()
            .map(|(what, said)| format!("{what}: {said}"))
            .collect(),
        bees: (!c.lacks_nothing()).then(|| words::bees_from(c)),
        last: last(c),
        queen: queens::of_box(c),
        feed: (c.feed_kg > 0.0).then(|| figures::weight(c.feed_kg)),
    }
}

/// What is seen to at a compartment when it stands.
fn last(c: &CompartmentReport) -> String {
    let queen = queens::of_box(c);
    match (&c.stands, queen.is_empty()) {
        (None, true) => "shut, fed, cell or queen in".to_owned(),
        (None, false) => format!("shut, fed, {queen} in"),
        (Some(_), true) => "wild cells broken, next cell or queen in".to_owned(),
        (Some(_), false) => format!("wild cells broken, {queen} in"),
    }
}

/// The sites where there is work, in its order: those with colonies to open, then those with boxes alone,
/// each in the order of the scenario.
pub(super) fn sites(scenario: &Scenario, report: &Report, words: &Words) -> Vec<SiteView> {
    let at = |names: Vec<&str>, site: &str| {
        let places = names.iter().positions(|&name| name == site);
        places.collect::<Vec<_>>()
    };
    let mut homes = BTreeMap::<usize, Vec<String>>::new();
    for (site, line) in queens::at_sites(report) {
        let at = scenario.sites.iter().position(|known| known.name == site);
        homes.entry(at.unwrap_or(0)).or_default().push(line);
    }
    let view = |id: usize| {
        let raw = site(scenario, id);
        let loads = report.carry.iter().filter(|load| load.to_site == raw);
        SiteView {
            id,
            name: clean(&raw),
            bring: carry::boxes(report, &raw),
            loads: loads
                .map(|load| LoadView {
                    from: words.from(load),
                    items: words.load(load),
                })
                .collect(),
            colonies: at(
                report.colonies.iter().map(|c| c.site.as_str()).collect(),
                &raw,
            ),
            boxes: at(
                compartments(report).map(|c| c.site.as_str()).collect(),
                &raw,
            ),
            queens: homes.get(&id).cloned().unwrap_or_default(),
        }
    };
    let busy = |s: &SiteView| !(s.colonies.is_empty() && s.boxes.is_empty() && s.queens.is_empty());
    let sites = (0..scenario.sites.len()).map(view).filter(busy);
    sites
        .sorted_by_key(|site| site.colonies.is_empty())
        .collect()
}
