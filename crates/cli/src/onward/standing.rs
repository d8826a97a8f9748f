//! Compartments that stand from this day on, and those that got a next cell.

use super::done::Done;
use super::shelf::Given;
use super::written::frames;
use crate::editing::{Change, New, Step, What, quoted};
use crate::reading::Node;
use crate::scenario::Loaded;
use jiff::civil::Date;
use spareframe_solver::{
    BoxKind, CombId, Compartment, FrameGroup, FrameState, Hundreds, Origin, Scenario, Standing,
};

/// New entries of `standing`, and changes of those of compartments that got a next cell.
pub(super) fn standing(
    root: &Node,
    loaded: &Loaded,
    (done, given, nuclei): (&Done, &Given, &[usize]),
    day: Date,
) -> Vec<Change> {
    let scenario = &loaded.scenario;
    let mut changes = Vec::new();
    let mut new = Vec::new();
    for (at, compartment) in done.compartments.iter().enumerate() {
        let Some(kind) = scenario.boxes.get(compartment.kind.0) else {
            continue;
        };
        if nuclei.contains(&at) {
            continue;
        }
        let takes = loaded.rearing.takes.get(compartment.kind.0) == Some(&true);
        let queen = match (given.without.contains(&at), takes) {
            (true, _) => "none",
            (false, true) => "mated",
            (false, false) => "cell",
        };
        let stands = scenario.standing.iter().position(|s| s.is(compartment));
        match stands {
            Some(entry) => {
                changes.extend(again(loaded, (entry, compartment), (kind, queen), day));
            }
            None => new.push(stocked(scenario, compartment, (kind, queen), day)),
        }
    }
    if new.is_empty() {
        return changes;
    }
    changes.push(match root.get("standing") {
        Some(_) => Change::at([Step::from("standing")], What::More(new)),
        None => Change::at([], What::Set("standing".to_owned(), New::List(new))),
    });
    changes
}

/// A compartment that is stocked, with what is in it.
fn stocked(
    scenario: &Scenario,
    compartment: &Compartment,
    (kind, queen): (&BoxKind, &str),
    day: Date,
) -> New {
    let mut map = place(kind, compartment);
    map.push(("since", New::Scalar(day.to_string())));
    map.extend(contents(
        scenario,
        kind,
        &filled(scenario, compartment, None),
    ));
    let from = from(scenario, compartment);
    if !from.is_empty() {
        let from = from.iter().map(|name| New::Scalar(quoted(name)));
        map.push(("from", New::Scalar(New::List(from.collect()).inline())));
    }
    map.push(("queen", New::Scalar(queen.to_owned())));
    entry(map)
}

fn entry(map: Vec<(&str, New)>) -> New {
    let entries = map.into_iter().map(|(key, new)| (key.to_owned(), new));
    New::Map(entries.collect())
}

fn place(kind: &BoxKind, compartment: &Compartment) -> Vec<(&'static str, New)> {
    let mut map = vec![("box", New::Scalar(quoted(&kind.name)))];
    let number = |index: u32| New::Scalar(index.saturating_add(1).to_string());
    if kind.count > 1 {
        map.push(("number", number(compartment.box_no)));
    }
    if kind.compartments > 1 {
        map.push(("compartment", number(compartment.place)));
    }
    map
}

/// What hangs in a compartment, and bees beside, bee by bee.
pub(crate) struct Filled {
    pub frames: Vec<(FrameState, u32)>,
    pub bees: i64,
}

impl Filled {
    /// What is in a compartment that stands.
    pub(crate) fn of(standing: &Standing) -> Self {
        let frames = standing.frames.iter().filter(|group| group.count > 0);
        Self {
            frames: frames.map(|group| (group.frame, group.count)).collect(),
            bees: standing.extra_bees.bees().0,
        }
    }
}

/// What is said anew of what is in a compartment.
pub(crate) fn restated(scenario: &Scenario, kind: &BoxKind, filled: &Filled) -> Vec<What> {
    let new = contents(scenario, kind, filled);
    let what = |key: &'static str| match new.iter().find(|(known, _)| *known == key) {
        Some((_, new)) => What::Set(key.to_owned(), new.clone()),
        None => What::Gone(key.into()),
    };
    ["frames", "extra bees"].map(what).into()
}

/// What is in a compartment once it is stocked: what stood there with what came, and bees without those that
/// fly home. Bees sit on brood first.
pub(super) fn filled(
    scenario: &Scenario,
    compartment: &Compartment,
    stood: Option<&Standing>,
) -> Filled {
    let mut frames: Vec<(FrameState, u32)> = Vec::new();
    let mut add = |frame: &FrameState, count: u32| {
        let bare = FrameState {
            bees: Hundreds(0),
            ..*frame
        };
        match frames.iter_mut().find(|(known, _)| *known == bare) {
            Some((_, there)) => *there += count,
            None => frames.push((bare, count)),
        }
    };
    let stood_frames = stood.iter().flat_map(|stood| &stood.frames);
    stood_frames.for_each(|group: &FrameGroup| add(&group.frame, group.count));
    for placed in &compartment.frames {
        if let Some(frame) = frame_of(scenario, placed.origin) {
            add(frame, placed.count);
        }
    }
    let mut bees = stood.map_or(0, |stood| stood.bees().bees().0);
    for placed in &compartment.bees {
        let flying = flying(scenario, compartment, placed.colony.0);
        bees += placed.taken().0 * (100 - flying);
    }
    for (frame, count) in frames.iter_mut().filter(|(frame, _)| frame.brood.0 > 0) {
        let full = scenario.combs.get(frame.comb.0).map_or(0, |c| c.bees.0);
        let each = (bees / 100 / i64::from((*count).max(1))).clamp(0, full);
        frame.bees = Hundreds(each);
        bees -= frame.bees.bees().0 * i64::from(*count);
    }
    frames.retain(|(_, count)| *count > 0);
    Filled { frames, bees }
}

fn frame_of(scenario: &Scenario, origin: Origin) -> Option<&FrameState> {
    match origin {
        Origin::Colony(id, group) => Some(&scenario.colonies.get(id.0)?.frames.get(group)?.frame),
        Origin::StoreRoom(entry) => Some(&scenario.store_room.get(entry)?.frame),
    }
}

/// Percent of the bees of a colony that fly home from a compartment.
fn flying(scenario: &Scenario, compartment: &Compartment, colony: usize) -> i64 {
    let site = scenario
        .boxes
        .get(compartment.kind.0)
        .map(|kind| kind.site.0);
    let from = scenario.colonies.get(colony).map(|colony| colony.site.0);
    let metres = from
        .zip(site)
        .and_then(|(from, to)| scenario.distances.get(from)?.get(to));
    match metres.is_some_and(|metres| *metres < scenario.drift.homing_metres) {
        true => scenario.drift.flying.0,
        false => 0,
    }
}

/// `frames` and `extra bees`.
pub(super) fn contents(
    scenario: &Scenario,
    kind: &BoxKind,
    filled: &Filled,
) -> Vec<(&'static str, New)> {
    let usual = kind.lines.first().or(kind.again.lines.first());
    let usual: Option<CombId> = usual.map(|line| line.ask.comb);
    let list = filled.frames.iter();
    let list = list
        .map(|(frame, count)| frames(&scenario.combs, (frame, *count), usual, Some(frame.bees)));
    let list: Vec<New> = list.collect();
    let mut map = Vec::new();
    if !list.is_empty() {
        map.push(("frames", New::List(list)));
    }
    if filled.bees > 0 {
        // Fewer than a hundred would be asked about.
        let bees = match filled.bees {
            few @ ..100 => format!("{few} bees"),
            many => many.to_string(),
        };
        map.push(("extra bees", New::Scalar(bees)));
    }
    map
}

/// Names of the colonies that brood or bees are from, in the order of the scenario.
fn from(scenario: &Scenario, compartment: &Compartment) -> Vec<String> {
    let gave = |at: usize| {
        let frames = compartment.frames.iter();
        let frame =
            frames.filter(|placed| matches!(placed.origin, Origin::Colony(id, _) if id.0 == at));
        frame.count() > 0 || compartment.bees.iter().any(|bees| bees.colony.0 == at)
    };
    let colonies = scenario.colonies.iter().enumerate();
    let named = colonies.filter(|(at, _)| gave(*at));
    named.map(|(_, colony)| colony.name.clone()).collect()
}

/// A compartment that stood already gets a next cell, and what it lacked.
fn again(
    loaded: &Loaded,
    (entry, compartment): (usize, &Compartment),
    (kind, queen): (&BoxKind, &str),
    day: Date,
) -> Vec<Change> {
    let scenario = &loaded.scenario;
    let (Some(stands), Some(stood)) = (loaded.standing.get(entry), scenario.standing.get(entry))
    else {
        return Vec::new();
    };
    let path = || [Step::from("standing"), Step::from(entry)];
    let mut changes = Vec::new();
    let mut change = |what| changes.push(Change::at(path(), what));
    let mut set = |key: &str, text: &str| {
        change(What::Set(key.to_owned(), New::Scalar(text.to_owned())));
    };
    set("queen", queen);
    set("seen", &day.to_string());
    set("round", &day.to_string());
    let laid = stands.eggs.is_some();
    if laid {
        set("taken", &stands.taken.saturating_add(1).to_string());
        if let Some(before) = stands.failed_before_now() {
            set("failed before", &before);
        }
    }
    let came = !compartment.frames.is_empty() || !compartment.bees.is_empty();
    if laid || came {
        // What she laid, and what was added, is in no earlier count.
        set("counted", &day.to_string());
        let mut stays = stood.clone();
        for (group, count) in scenario.makes_room(compartment) {
            if let Some(group) = stays.frames.get_mut(group) {
                group.count -= count;
                stays.extra_bees += group.frame.bees.times(count);
            }
        }
        let filled = filled(scenario, compartment, Some(&stays));
        restated(scenario, kind, &filled)
            .into_iter()
            .for_each(&mut change);
    }
    for (key, out) in [("next cell", true), ("eggs", laid), ("failed", laid)] {
        if out {
            change(What::Gone(key.into()));
        }
    }
    changes
}
