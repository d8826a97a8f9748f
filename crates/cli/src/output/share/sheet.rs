//! The sheets: what the hands do at each colony and at each site, in their order.

use super::comb::Combs;
use super::hive::{self, Body};
use super::labels::Labels;
use super::page::Shared;
use crate::output::build::site;
use crate::output::calendar::{cells_in, long_day};
use crate::output::figures::{self, counted, weight};
use crate::output::hands::{self, Hand, Step};
use crate::output::queens;
use crate::output::report::{
    ColonyReport, CompartmentReport, Destination, Level, LoadFrames, Progress, Report,
};
use crate::output::words::{Words, clean};
use crate::scenario::count_of;
use itertools::Itertools;
use spareframe_solver::{Colony, ColonyId, Scenario};
use std::collections::{BTreeMap, BTreeSet};

/// One colony that is opened.
pub(super) struct ColonySheet {
    pub id: usize,
    pub name: String,
    pub role: String,
    pub site: String,
    /// The day of its count, where what it has is expected.
    pub counted: Option<String>,
    pub bodies: Vec<Body>,
    /// Frames that leave, and that it has before.
    pub leaves: i64,
    pub before: u32,
    /// Frames that have left already.
    pub done: u32,
    /// What it gives of what it has.
    pub gives: String,
    /// Honey that it gives up, where it is estimated.
    pub honey: Option<String>,
    /// What becomes of the gaps, in short.
    pub gaps: String,
    /// What it gives and where to, in a sentence.
    pub says: String,
    pub steps: Vec<StepView>,
    pub levels: Vec<LevelView>,
    pub groups: Vec<GroupView>,
}

/// What the hands do at one point.
pub(super) struct StepView {
    pub title: &'static str,
    pub rows: Vec<RowView>,
}

/// One thing to tick.
pub(super) struct RowView {
    /// Nothing to tick: it says what is done.
    pub said: bool,
    pub place: String,
    pub comb: String,
    /// Bees alone, without a frame.
    pub tuft: bool,
    pub what: String,
    pub more: String,
    /// Where it goes, and how many of them.
    pub into: Vec<(String, u32)>,
}

/// Something to keep, before and after.
pub(super) struct LevelView {
    pub name: &'static str,
    pub before: String,
    pub after: String,
    pub keep: String,
    /// What stays and what must be kept, of 100 before.
    pub stays: u32,
    pub line: u32,
}

/// Frames that are counted together, for what was found instead.
pub(super) struct GroupView {
    /// The number of the group, where it has one.
    pub number: Option<usize>,
    pub name: String,
    pub count: u32,
}

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

/// Something to have at hand.
#[derive(Default)]
pub(super) struct ReadyView {
    /// It comes out of the store room.
    pub store: bool,
    pub amount: String,
    pub what: String,
    pub more: String,
}

/// What is done to each of these compartments on one day.
pub(super) struct RoundView {
    pub title: String,
    pub what: String,
    pub names: Vec<String>,
}

/// All colonies that are opened.
pub(super) fn colonies(
    shared: &Shared,
    words: &Words,
    labels: &Labels,
    combs: &mut Combs,
) -> Vec<ColonySheet> {
    let (scenario, places) = (shared.scenario, &shared.notes.places);
    let each = scenario.colonies.iter().enumerate();
    let known: BTreeMap<&str, usize> = each.map(|(at, c)| (c.name.as_str(), at)).collect();
    let mut sheets = Vec::new();
    for (id, c) in shared.report.colonies.iter().enumerate() {
        let Some(&at) = known.get(c.colony.as_str()) else {
            continue;
        };
        let hang = places.colonies.get(at).map_or(&[][..], Vec::as_slice);
        let bodies = hive::bodies((scenario, ColonyId(at)), hang, c, (labels, combs));
        let groups = scenario.colonies.get(at).map_or(Vec::new(), |colony| {
            let at_a_glance = places.at_a_glance.get(at) == Some(&true);
            groups(colony, (scenario, words), at_a_glance)
        });
        let steps = steps(c, words, (labels, combs));
        sheets.push(colony(id, c, bodies, steps, groups, words, labels));
    }
    sheets
}

fn colony(
    id: usize,
    c: &ColonyReport,
    bodies: Vec<Body>,
    steps: Vec<StepView>,
    groups: Vec<GroupView>,
    words: &Words,
    labels: &Labels,
) -> ColonySheet {
    let leaves = c.leaving.iter().map(|l| i64::from(l.frames)).sum();
    let of = |step: Step| {
        let hands = words.hands(c);
        let own: Vec<String> = hands
            .into_iter()
            .filter(|hand| hand.step == step)
            .map(|hand| hand.what)
            .collect();
        own.join(" ")
    };
    let gaps = match of(Step::Gaps) {
        gaps if gaps.is_empty() && of(Step::Back).contains("outside") => {
            "gaps at the outside".to_owned()
        }
        gaps => gaps,
    };
    let name = clean(&c.colony);
    ColonySheet {
        id,
        role: clean(&c.role),
        site: clean(&c.site),
        counted: c.counted.as_deref().map(day),
        bodies,
        leaves,
        before: c.frames_before,
        done: c.done.map_or(0, |done| done.frames),
        gives: hands::gives(c),
        honey: hands::honey(c),
        gaps,
        says: says(&name, c, leaves, labels),
        name,
        steps,
        levels: levels(c),
        groups,
    }
}

/// What a colony gives and where to: `Colony 6 gives 10 frames to 3.2, 4.1, and bees to 5.2.`
fn says(name: &str, c: &ColonyReport, leaves: i64, labels: &Labels) -> String {
    let short = |kind: &str, no, at| labels.short(kind, no, at);
    let frames = c.leaving.iter().flat_map(|l| &l.goes_to);
    let frames = frames
        .map(|d| {
            (
                d.box_no,
                d.compartment,
                short(&d.box_kind, d.box_no, d.compartment),
            )
        })
        .sorted()
        .map(|(_, _, name)| name)
        .unique()
        .join(", ");
    let bees = c.adding.iter();
    let bees = bees
        .map(|d| short(&d.box_kind, d.box_no, d.compartment))
        .unique()
        .join(", ");
    let mut parts = Vec::new();
    if leaves > 0 {
        parts.push(format!(
            "{} to {frames}",
            counted(leaves, "frame", "frames")
        ));
    }
    if !bees.is_empty() {
        parts.push(format!("bees to {bees}"));
    }
    match parts.is_empty() {
        true => format!("Colony {name} gives nothing more."),
        false => format!("Colony {name} gives {}.", parts.join(", and ")),
    }
}

fn steps(c: &ColonyReport, words: &Words, (labels, combs): (&Labels, &mut Combs)) -> Vec<StepView> {
    let hands = words.hands(c);
    let mut steps: Vec<StepView> = Vec::new();
    for hand in &hands {
        let title = title(hand.step);
        let row = row(hand, (labels, combs));
        match steps.last_mut() {
            Some(last) if last.title == title => last.rows.push(row),
            _ => {
                let mut rows = Vec::new();
                if hand.step == Step::Queen {
                    rows.push(alone("brood looked through, no sign of disease"));
                }
                rows.push(row);
                steps.push(StepView { title, rows });
            }
        }
    }
    steps
}

fn title(step: Step) -> &'static str {
    match step {
        Step::Done => "So far",
        Step::Queen => "Queen",
        Step::Frames => "Frames that leave",
        Step::Bees => "Bees to add",
        Step::Back => "Queen back",
        Step::Gaps => "Gaps",
        Step::Close => "Close",
    }
}

fn alone(what: &str) -> RowView {
    RowView {
        said: false,
        place: String::new(),
        comb: String::new(),
        tuft: false,
        what: what.to_owned(),
        more: String::new(),
        into: Vec::new(),
    }
}

fn row(hand: &Hand, (labels, combs): (&Labels, &mut Combs)) -> RowView {
    let into = hand.goes_to.iter().map(|d: &Destination| {
        let many = hand.frames.is_some() && hand.goes_to.len() > 1 && d.frames > 1;
        let name = labels.short(&d.box_kind, d.box_no, d.compartment);
        (name, if many { d.frames } else { 0 })
    });
    let row = RowView {
        said: hand.step == Step::Done,
        tuft: hand.step == Step::Bees,
        into: into.collect(),
        ..alone(&hand.what)
    };
    let Some(lifted) = &hand.frames else {
        return row;
    };
    let bees = hand.goes_to.first().map_or(0, |to| to.bees_each);
    let count = counted(lifted.frames, "frame", "frames");
    RowView {
        place: lifted.place.clone().unwrap_or_default(),
        comb: combs.name(&lifted.each_holds, bees, false),
        what: match (hand.step, lifted.bees.is_empty()) {
            (Step::Gaps, _) => format!("{count} from the store room"),
            (_, true) => count,
            (_, false) => format!("{count}, {}", lifted.bees),
        },
        more: lifted.content.clone(),
        ..row
    }
}

fn groups(
    colony: &Colony,
    (scenario, words): (&Scenario, &Words),
    at_a_glance: bool,
) -> Vec<GroupView> {
    let groups = colony.frames.iter().enumerate();
    let view = |(at, group): (usize, &spareframe_solver::FrameGroup)| {
        let holds = crate::output::build::holds(scenario, &group.frame);
        GroupView {
            number: (!at_a_glance).then_some(at + 1),
            name: match (at_a_glance, group.queen) {
                (true, _) => count_of(&group.frame).to_owned(),
                (false, true) => format!("{}; the queen's", words.content(&holds)),
                (false, false) => words.content(&holds),
            },
            count: group.count,
        }
    };
    groups.map(view).filter(|group| group.count > 0).collect()
}

fn levels(c: &ColonyReport) -> Vec<LevelView> {
    let level = |name, of: &Level, shown: &str| {
        let (before, rest) = shown.split_once(" > ").unwrap_or(("", shown));
        let (after, keep) = rest.split_once(" (").unwrap_or((rest, ""));
        LevelView {
            name,
            before: before.to_owned(),
            after: after.to_owned(),
            keep: match of.must_keep > 0.0 {
                true => keep.trim_end_matches(')').to_owned(),
                false => String::new(),
            },
            stays: hundredths(of.after, of.before),
            line: hundredths(of.must_keep, of.before),
        }
    };
    let decimals = |name, of: &Level, decimals| level(name, of, &figures::level(of, decimals));
    let mut levels = vec![
        decimals("Brood frames", &c.brood_frames, 3),
        decimals("Bees", &c.bees, 0),
        decimals("Stores kg", &c.stores_kg, 3),
        decimals("Drawn combs", &c.drawn_frames, 3),
    ];
    let covered = c.brood_covered_percent.as_ref();
    levels.extend(covered.map(|of| level("Brood covered", of, &figures::percent_level(of))));
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

/// A day of the record as a person writes it.
pub(super) fn day(text: &str) -> String {
    text.parse().map_or_else(|_| clean(text), long_day)
}

fn compartments(report: &Report) -> impl Iterator<Item = &CompartmentReport> {
    report.compartments.iter().chain(&report.begun)
}

/// The sites where there is work, in its order: those with colonies to open, then those with boxes alone,
/// each in the order of the scenario.
pub(super) fn sites(shared: &Shared, words: &Words, labels: &Labels) -> Vec<SiteSheet> {
    let (scenario, report) = (shared.scenario, shared.report);
    let mut homes = BTreeMap::<usize, Vec<String>>::new();
    for (name, line) in queens::at_sites(report) {
        let at = scenario.sites.iter().position(|known| known.name == name);
        homes.entry(at.unwrap_or(0)).or_default().push(line);
    }
    let order = order(scenario, report);
    let view = |(nth, id): (usize, usize)| {
        let raw = site(scenario, id);
        let opened = report.colonies.iter();
        let colonies: Vec<usize> = opened.positions(|c| c.site == raw).collect();
        let filled = filled_at(report, &order, nth, scenario);
        let here: Vec<&CompartmentReport> =
            compartments(report).filter(|c| c.site == raw).collect();
        SiteSheet {
            id,
            lead: lead(report, &raw, &colonies, &filled),
            ready: ready(shared, &raw, &filled, words, labels),
            standing: here
                .iter()
                .filter_map(|c| standing(c, words, labels))
                .collect(),
            rounds: rounds(shared, &here, labels),
            queens: homes.get(&id).cloned().unwrap_or_default(),
            name: clean(&raw),
            colonies,
        }
    };
    let busy =
        |s: &SiteSheet| !(s.colonies.is_empty() && s.rounds.is_empty() && s.queens.is_empty());
    let sites = order.iter().copied().enumerate().map(view);
    sites.filter(busy).collect()
}

/// What stands in a compartment, what comes out of it and what it gets, in a line.
fn standing(c: &CompartmentReport, words: &Words, labels: &Labels) -> Option<String> {
    let parts = words.stands(c);
    let parts: Vec<String> = parts
        .iter()
        .map(|(what, said)| format!("{what}: {said}"))
        .collect();
    let name = labels.short(&c.box_kind, c.box_no, c.compartment);
    (!parts.is_empty()).then(|| format!("{name}, {}", parts.join("; ")))
}

/// Sites in the order of the day.
fn order(scenario: &Scenario, report: &Report) -> Vec<usize> {
    let opened = |id: &usize| {
        let name = site(scenario, *id);
        report.colonies.iter().any(|c| c.site == name)
    };
    (0..scenario.sites.len())
        .sorted_by_key(|id| !opened(id))
        .collect()
}

/// Compartments that are filled first at this site: beside their first donor, or where they stand.
fn filled_at<'a>(
    report: &'a Report,
    order: &[usize],
    nth: usize,
    scenario: &Scenario,
) -> Vec<&'a CompartmentReport> {
    let home: BTreeMap<&str, &str> = report
        .colonies
        .iter()
        .map(|c| (c.colony.as_str(), c.site.as_str()))
        .collect();
    let at = |name: &str| order.iter().position(|&id| site(scenario, id) == name);
    let filled = |c: &&CompartmentReport| {
        let donors = c.donor_colonies.iter().filter(|_| c.stands.is_none());
        let first = donors.filter_map(|d| at(home.get(d.as_str())?)).min();
        first.or_else(|| at(&c.site)) == Some(nth)
    };
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
        let count = counted(count, "compartment", "compartments");
        parts.push(match (opened > 0, away) {
            (true, true) => format!("fill {count} beside them, then take the boxes away"),
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

/// What must be at hand.
fn ready(
    shared: &Shared,
    site: &str,
    filled: &[&CompartmentReport],
    words: &Words,
    labels: &Labels,
) -> Vec<ReadyView> {
    let (report, notes) = (shared.report, shared.notes);
    let mut list = boxes(filled, labels);
    // Frames of the store room, by what they hold and where they lie.
    let mut frames: Vec<(String, String, i64, i64)> = Vec::new();
    let mut add = |content: String, place: String, boxes: i64, gaps: i64| {
        let same = frames.iter_mut().find(|f| f.0 == content && f.1 == place);
        match same {
            Some(f) => (f.2, f.3) = (f.2.saturating_add(boxes), f.3.saturating_add(gaps)),
            None => frames.push((content, place, boxes, gaps)),
        }
    };
    let place = |place: Option<&str>| place.map_or(String::new(), clean);
    let of_store = |f: &&crate::output::report::FramesReport| f.colony.is_none();
    for f in filled.iter().flat_map(|c| c.frames.iter().filter(of_store)) {
        let left = i64::from(f.frames.saturating_sub(f.done));
        add(
            words.content(&f.each_holds),
            place(f.place.as_deref()),
            left,
            0,
        );
    }
    for c in report.colonies.iter().filter(|c| c.site == site) {
        for f in &c.gaps_filled_with {
            let (content, frames) = (words.content(&f.each_holds), i64::from(f.frames));
            add(content, place(f.place.as_deref()), 0, frames);
        }
    }
    for (content, place, boxes, gaps) in frames.into_iter().filter(|f| f.2 + f.3 > 0) {
        let shares = match (boxes, gaps) {
            (_, 0) => String::new(),
            (0, _) => "for the gaps".to_owned(),
            _ => format!("{boxes} for the boxes, {gaps} for the gaps"),
        };
        let more = [place, shares].into_iter().filter(|part| !part.is_empty());
        list.push(ReadyView {
            amount: figures::whole(boxes + gaps),
            what: content,
            store: true,
            more: more.collect::<Vec<_>>().join("; "),
        });
    }
    let cells = report.compartments.iter();
    let cells = cells
        .filter(|c| c.site == site && c.queen.is_none())
        .count();
    let (what, later, on) = cells_in(notes, report);
    if cells > 0 {
        list.push(ReadyView {
            amount: cells.to_string(),
            what: format!("{what}, warm and upright"),
            more: match (later, on) {
                (0, _) => "they go in last".to_owned(),
                (_, Some(on)) => format!("on {}", long_day(on)),
                (later, None) => format!("{} later", counted(later.into(), "day", "days")),
            },
            ..ReadyView::default()
        });
    }
    let feed = report.carry.iter().filter(|load| load.to_site == site);
    let feed: f64 = feed.map(|load| load.feed_kg).sum();
    if feed > 0.0 {
        list.push(ReadyView {
            amount: weight(feed),
            what: "of feed for substitutes".to_owned(),
            more: "honey equivalent".to_owned(),
            ..ReadyView::default()
        });
    }
    list.extend(away(report, site, words));
    list.extend(carried(report, site, labels));
    list
}

/// Frames from here for compartments that stand elsewhere: no box is at hand to take them.
fn carried(report: &Report, site: &str, labels: &Labels) -> Option<ReadyView> {
    let far = report.compartments.iter();
    let far: Vec<_> = far
        .filter(|c| c.stands.is_some() && c.site != site)
        .collect();
    let opened = report.colonies.iter().filter(|c| c.site == site);
    let to = opened.flat_map(|c| &c.leaving).flat_map(|l| &l.goes_to);
    let place = |d: &Destination| (d.box_kind.clone(), d.box_no, d.compartment);
    let to: Vec<&Destination> = to
        .filter(|d| {
            let same =
                |c: &&CompartmentReport| (c.box_kind.clone(), c.box_no, c.compartment) == place(d);
            far.iter().any(same)
        })
        .collect();
    let frames: i64 = to.iter().map(|d| i64::from(d.frames)).sum();
    let names = to
        .iter()
        .map(|d| labels.short(&d.box_kind, d.box_no, d.compartment));
    let names = names.unique().join(", ");
    (frames > 0).then(|| ReadyView {
        amount: "1".to_owned(),
        what: "closed carrying box".to_owned(),
        more: format!("for {} to {names}", counted(frames, "frame", "frames")),
        ..ReadyView::default()
    })
}

/// Boxes that are filled here.
fn boxes(filled: &[&CompartmentReport], labels: &Labels) -> Vec<ReadyView> {
    let new = filled.iter().filter(|c| c.stands.is_none());
    let mut kinds: Vec<(&str, &str, BTreeSet<u32>)> = Vec::new();
    for c in new {
        match kinds.iter_mut().find(|k| k.0 == c.box_kind) {
            Some(kind) => {
                kind.2.insert(c.box_no);
            }
            None => kinds.push((&c.box_kind, &c.site, BTreeSet::from([c.box_no]))),
        }
    }
    let item = |(kind, site, numbers): (&str, &str, BTreeSet<u32>)| {
        let letter = labels.letter(kind);
        ReadyView {
            amount: numbers.len().to_string(),
            what: format!("{}, empty", clean(kind)),
            more: format!("number {}; for {}", runs(&letter, &numbers), clean(site)),
            ..ReadyView::default()
        }
    };
    kinds.into_iter().map(item).collect()
}

/// Numbers as runs: `1 to 5, 8`.
fn runs(letter: &str, numbers: &BTreeSet<u32>) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for &number in numbers {
        match runs.last_mut() {
            Some((_, last)) if last.checked_add(1) == Some(number) => *last = number,
            _ => runs.push((number, number)),
        }
    }
    let run = |(first, last): (u32, u32)| match first == last {
        true => format!("{letter}{first}"),
        false => format!("{letter}{first} to {letter}{last}"),
    };
    runs.into_iter().map(run).join(", ")
}

/// What comes here from colonies elsewhere: nobody has to look for it.
fn away(report: &Report, site: &str, words: &Words) -> Vec<ReadyView> {
    let loads = report.carry.iter().filter(|load| load.to_site == site);
    let loads = loads.filter(|load| load.from_site.as_deref().is_some_and(|from| from != site));
    let view = |load: &crate::output::report::Carry| {
        let frames: i64 = load
            .frames
            .iter()
            .map(|f: &LoadFrames| i64::from(f.frames))
            .sum();
        ReadyView {
            amount: figures::whole(frames),
            what: format!(
                "frames {}",
                words.from(load).split(',').next().unwrap_or("")
            ),
            more: match load.bees {
                0 => "in their boxes".to_owned(),
                bees => format!("in their boxes, with {} bees", figures::some(bees)),
            },
            ..ReadyView::default()
        }
    };
    loads.map(view).collect()
}

/// What is done at boxes here, day by day.
fn rounds(shared: &Shared, here: &[&CompartmentReport], labels: &Labels) -> Vec<RoundView> {
    let (report, notes) = (shared.report, shared.notes);
    let name = |c: &CompartmentReport| labels.short(&c.box_kind, c.box_no, c.compartment);
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
