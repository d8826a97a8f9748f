//! The sheets of colonies: what the hands do at each, in their order.

use super::comb::Combs;
use super::hive::{self, Body};
use super::names::Names;
use super::page::Shared;
use crate::output::build::holds;
use crate::output::calendar::long_day;
use crate::output::figures::{self, counted};
use crate::output::hands::{self, Hand, Step};
use crate::output::report::{ColonyReport, Destination, Level};
use crate::output::words::{Words, clean};
use crate::scenario::count_of;
use itertools::Itertools;
use spareframe_solver::{Colony, ColonyId, FrameGroup, FrameState, Milli, Scenario};
use std::collections::BTreeMap;

/// One colony that is opened.
pub(super) struct ColonySheet {
    pub id: usize,
    /// Its place in the scenario, from 0.
    pub at: usize,
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
    /// What each comb holds on average, in percent, where combs of that kind are counted with a share.
    pub each: Option<i64>,
}

/// All colonies that are opened.
pub(super) fn colonies(
    shared: &Shared,
    words: &Words,
    names: &Names,
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
        let bodies = hive::bodies((scenario, ColonyId(at)), hang, c, (names, combs));
        let groups = scenario.colonies.get(at).map_or(Vec::new(), |colony| {
            let at_a_glance = places.at_a_glance.get(at) == Some(&true);
            groups(colony, (scenario, words), at_a_glance)
        });
        let steps = steps(c, words, (names, combs));
        sheets.push(colony((id, at), c, bodies, steps, groups, words, names));
    }
    sheets
}

fn colony(
    (id, at): (usize, usize),
    c: &ColonyReport,
    bodies: Vec<Body>,
    steps: Vec<StepView>,
    groups: Vec<GroupView>,
    words: &Words,
    names: &Names,
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
        at,
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
        says: says(&name, c, leaves, names),
        name,
        steps,
        levels: levels(c),
        groups,
    }
}

/// What a colony gives and where to: `Colony 6 gives 10 frames to 3.2, 4.1, and bees to 5.2.`
pub(super) fn says(name: &str, c: &ColonyReport, leaves: i64, names: &Names) -> String {
    let short = |kind: &str, no, at| names.short(kind, no, at);
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
        true if !c.gives() && c.opens() => match c.queenless_since() {
            None => format!("Colony {name}: its old queen comes out; nothing is taken."),
            Some(_) => format!("Colony {name} gets its new queen; nothing is taken."),
        },
        true => format!("Colony {name} gives nothing more."),
        false => format!("Colony {name} gives {}.", parts.join(", and ")),
    }
}

fn steps(c: &ColonyReport, words: &Words, (names, combs): (&Names, &mut Combs)) -> Vec<StepView> {
    let hands = words.hands(c);
    let mut steps: Vec<StepView> = Vec::new();
    for hand in &hands {
        let title = title(c, hand.step);
        let row = row(hand, (names, combs));
        match steps.last_mut() {
            Some(last) if last.title == title => last.rows.push(row),
            _ => {
                let mut rows = Vec::new();
                if hand.step == Step::Queen && steps.is_empty() {
                    rows.push(alone("brood looked through, no sign of disease"));
                }
                rows.push(row);
                steps.push(StepView { title, rows });
            }
        }
    }
    steps
}

fn title(c: &ColonyReport, step: Step) -> &'static str {
    match step {
        Step::Back if c.queens.is_some() || c.gives_comb_only() => "Frames that stay",
        Step::Carry => "To a box elsewhere",
        Step::New => "New queen",
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

fn row(hand: &Hand, (names, combs): (&Names, &mut Combs)) -> RowView {
    let into = hand.goes_to.iter().map(|d: &Destination| {
        let many = hand.frames.is_some() && hand.goes_to.len() > 1 && d.frames > 1;
        let name = names.short(&d.box_kind, d.box_no, d.compartment);
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
    if at_a_glance {
        return counts(colony);
    }
    let groups = colony.frames.iter().enumerate();
    let view = |(at, group): (usize, &FrameGroup)| {
        let content = words.content(&holds(scenario, &group.frame));
        GroupView {
            number: Some(at + 1),
            name: match group.queen {
                true => format!("{content}; the queen's"),
                false => content,
            },
            count: group.count,
            each: None,
        }
    };
    groups.map(view).filter(|group| group.count > 0).collect()
}

/// Frames as a glance counts them: each kind once, however many bees are on which.
fn counts(colony: &Colony) -> Vec<GroupView> {
    let mut kinds: Vec<GroupView> = Vec::new();
    let groups = colony
        .frames
        .iter()
        .chunk_by(|group| count_of(&group.frame));
    for (kind, groups) in &groups {
        let groups: Vec<&FrameGroup> = groups.filter(|group| group.count > 0).collect();
        let count: u32 = groups.iter().map(|group| group.count).sum();
        let sum = |of: fn(&FrameState) -> Milli| -> i64 {
            let each = groups
                .iter()
                .map(|g| of(&g.frame).0.saturating_mul(i64::from(g.count)));
            each.sum()
        };
        let held = match kind {
            "brood" => Some(sum(|frame| frame.brood)),
            "stores" => Some(sum(|frame| frame.stores)),
            _ => None,
        };
        let in_all = i64::from(count).saturating_mul(10);
        kinds.push(GroupView {
            number: None,
            name: kind.to_owned(),
            count,
            each: held.and_then(|held| held.saturating_add(in_all / 2).checked_div(in_all)),
        });
    }
    kinds.retain(|kind| kind.count > 0);
    kinds
}

fn levels(c: &ColonyReport) -> Vec<LevelView> {
    let parts = [&c.brood_frames, &c.bees, &c.stores_kg, &c.drawn_frames].map(|level| *level);
    let mut levels = levels_of(&parts);
    let covered = c.brood_covered_percent.as_ref();
    levels.extend(covered.map(|of| level("Brood covered", of, figures::percent_parts(of))));
    levels
}

/// Brood, bees, stores and drawn combs, in this order.
pub(super) fn levels_of([brood, bees, stores, drawn]: &[Level; 4]) -> Vec<LevelView> {
    let decimals = |name, of: &Level, decimals| level(name, of, figures::level_parts(of, decimals));
    vec![
        decimals("Brood frames", brood, 3),
        decimals("Bees", bees, 0),
        decimals("Stores kg", stores, 3),
        decimals("Drawn combs", drawn, 3),
    ]
}

fn level(name: &'static str, of: &Level, [before, after, keep]: [String; 3]) -> LevelView {
    LevelView {
        name,
        before,
        after,
        keep: match of.must_keep > 0.0 {
            true => keep,
            false => String::new(),
        },
        stays: hundredths(of.after, of.before),
        line: hundredths(of.must_keep, of.before),
    }
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
