//! What only the served page has: dials for values of the scenario, and one colony as it is opened.

use super::comb::Combs;
use super::embed::safe;
use super::hive::{self, Body};
use super::names::Names;
use super::page::Shared;
use super::sheet::{LevelView, levels_of, says};
use crate::output::build::holds;
use crate::output::figures::counted;
use crate::output::report::{ColonyReport, Level};
use crate::output::words::clean;
use crate::scenario::count_of;
use askama::Template;
use serde::Serialize;
use serde_json::json;
use spareframe_solver::{ColonyId, FrameState, Plan, remains};

/// How it looks and what it does, beside what every page does.
pub(super) const STYLE: &str = include_str!("../../../templates/desk.css");
pub(super) const SCRIPT: &str = concat!(
    include_str!("../../../templates/drawing.js"),
    include_str!("../../../templates/desk.js")
);

/// A value of the scenario that is turned up and down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Dial {
    /// Where it stands in the scenario.
    pub path: String,
    /// What it is called beside its figure.
    pub label: String,
    /// What it is called by itself, as `colony 6, brood 65 %`.
    pub of: String,
    /// Its figure, and what is written behind it.
    pub value: String,
    pub unit: String,
    /// The figure in the file, where that is another.
    pub written: Option<String>,
    pub least: String,
    pub most: String,
    pub step: String,
}

/// What is asked of the page beside the plan.
#[derive(Debug, Clone, Default)]
pub(crate) struct Asked {
    /// How the file is called, and where it stands.
    pub file: String,
    pub place: String,
    /// Cells, boxes, the honey cap.
    pub yard: Vec<Dial>,
    /// The stocking day, with the days before and after it.
    pub day: Option<[String; 3]>,
    /// Floors and caps of roles.
    pub roles: Vec<(String, Vec<Dial>)>,
    /// Work has begun by a plan that is loaded.
    pub begun: bool,
    /// The colony that is open.
    pub hand: Option<Opened>,
    /// The plan.
    pub plan: Plan,
    /// All colonies, in the order of the scenario.
    pub colonies: Vec<Known>,
    /// The plan that work began by.
    pub near: Option<String>,
}

/// A colony that is open.
#[derive(Debug, Clone, Default)]
pub(crate) struct Opened {
    /// Its place in the scenario, from 0.
    pub at: usize,
    /// Where its hold stands in the scenario.
    pub hold: String,
    /// It is done for today.
    pub finished: bool,
    /// By frame group: how many there are, and how much brood or stores is on each.
    pub groups: Vec<(Option<Dial>, Option<Dial>)>,
    /// Floors, in the order of the levels that are shown.
    pub floors: Vec<Option<Dial>>,
    pub caps: Vec<Dial>,
    /// Quick counts that have no frames yet.
    pub more: Vec<Dial>,
    /// What it has is reckoned from an earlier count.
    pub expected: bool,
}

/// What the served page has beside the plan.
pub(super) struct Live {
    pub file: String,
    /// The dials of the yard, in HTML.
    pub yard: String,
    pub begun: bool,
    pub hand: Option<Hand>,
    /// Colonies and the digest of the file, and the loaded plan, for the script.
    pub colonies_json: String,
    pub near_json: String,
}

/// A colony as the script knows it.
#[derive(Debug, Clone, Serialize)]
pub(crate) struct Known {
    pub name: String,
    /// Where its hold stands.
    pub hold: String,
    pub held: bool,
}

/// What is turned for the yard as a whole.
#[derive(Template)]
#[template(path = "desk_yard.html")]
struct Yard<'a> {
    day: &'a Option<[String; 3]>,
    dials: &'a [Dial],
    roles: &'a [(String, Vec<Dial>)],
}

/// One colony, opened.
#[derive(Template)]
#[template(path = "desk_hand.html")]
pub(super) struct Hand {
    pub at: usize,
    pub name: String,
    pub role: String,
    pub site: String,
    pub held: Option<String>,
    pub hold: String,
    pub finished: bool,
    pub begun: bool,
    /// Something of it is still to be put into boxes.
    pub gives: bool,
    pub says: String,
    pub bodies: Vec<Body>,
    pub groups: Vec<GroupDials>,
    pub levels: Vec<(LevelView, Option<Dial>)>,
    pub caps: Vec<Dial>,
    pub more: Vec<Dial>,
    pub expected: bool,
}

/// What frames are in a word or two, beside a drawing of them.
pub(crate) fn short(frame: &FrameState) -> &'static str {
    match count_of(frame) {
        // Half a comb is what most recipes ask for (a choice).
        "brood" if frame.brood.0 < 500 => "part brood",
        "empty" if frame.drawn.0 < 1000 => "part-drawn",
        "empty" => "drawn, empty",
        of => of,
    }
}

/// Frames that are alike, as they were counted.
pub(super) struct GroupDials {
    pub comb: String,
    pub name: String,
    pub place: String,
    pub count: u32,
    pub queen: bool,
    pub dial: Option<Dial>,
    /// What is on each of them.
    pub share: Option<Dial>,
}

pub(super) fn live(
    shared: &Shared,
    asked: &Asked,
    names: &Names,
    combs: &mut Combs,
) -> Result<Live, String> {
    let opened = asked.hand.as_ref();
    let hand = opened.and_then(|opened| hand(shared, asked, opened, names, combs));
    let yard = Yard {
        day: &asked.day,
        dials: &asked.yard,
        roles: &asked.roles,
    };
    Ok(Live {
        file: asked.file.clone(),
        yard: yard.render().map_err(|error| error.to_string())?,
        begun: asked.begun,
        hand,
        colonies_json: safe(
            &json!({ "colonies": asked.colonies, "file": asked.place }).to_string(),
        ),
        near_json: safe(&json!(asked.near).to_string()),
    })
}

fn hand(
    shared: &Shared,
    asked: &Asked,
    opened: &Opened,
    names: &Names,
    combs: &mut Combs,
) -> Option<Hand> {
    let scenario = shared.scenario;
    let colony = scenario.colonies.get(opened.at)?;
    let places = &shared.notes.places;
    let hang = places
        .colonies
        .get(opened.at)
        .map_or(&[][..], Vec::as_slice);
    let of = |c: &&ColonyReport| c.colony == colony.name;
    let report = shared.report.colonies.iter().find(of);
    let id = ColonyId(opened.at);
    let still = report.map_or(0, |c| c.leaving.len() + c.adding.len());
    let groups = colony.frames.iter().enumerate().map(|(nth, group)| {
        let each = holds(scenario, &group.frame);
        let (dial, share) = opened.groups.get(nth).cloned().unwrap_or_default();
        GroupDials {
            comb: combs.name(&each, each.bees, group.queen),
            name: short(&group.frame).to_owned(),
            place: hang
                .get(nth)
                .and_then(Option::as_deref)
                .map_or_else(String::new, clean),
            count: group.count,
            queen: group.queen,
            dial,
            share,
        }
    });
    let groups: Vec<GroupDials> = groups.collect();
    let account = remains(scenario, &asked.plan).into_iter().nth(opened.at)?;
    let keep = &colony.keep;
    let level = |before: i64, after: i64, keep: i64, unit: f64| {
        let of = |value: i64| crate::output::build::decimal(value, unit);
        Level {
            before: of(before),
            after: of(after),
            must_keep: of(keep),
        }
    };
    let (before, after) = (&account.before, &account.after);
    let levels = levels_of(&[
        level(before.brood.0, after.brood.0, keep.brood.0, 1000.0),
        level(
            before.bees.bees().0,
            after.bees.bees().0,
            keep.bees.bees().0,
            1.0,
        ),
        level(before.stores.0, after.stores.0, keep.stores.0, 1000.0),
        level(before.drawn.0, after.drawn.0, keep.drawn.0, 1000.0),
    ]);
    let levels = levels.into_iter().zip(opened.floors.iter().cloned());
    let name = clean(&colony.name);
    Some(Hand {
        at: opened.at,
        says: match report {
            Some(c) => {
                let leaves = c.leaving.iter().map(|l| i64::from(l.frames)).sum();
                let done = c.done.map_or(0, |done| i64::from(done.frames));
                match (still, done) {
                    (0, done) if done > 0 => {
                        format!(
                            "{} in the boxes; nothing more.",
                            counted(done, "frame is", "frames are")
                        )
                    }
                    _ => says(&name, c, leaves, names),
                }
            }
            None => format!("Colony {name} gives nothing."),
        },
        bodies: report.map_or_else(Vec::new, |c| {
            hive::bodies((scenario, id), hang, c, (names, combs))
        }),
        name,
        role: clean(&colony.role),
        site: scenario
            .sites
            .get(colony.site.0)
            .map_or_else(String::new, |s| clean(&s.name)),
        held: colony.hold.as_deref().map(clean),
        hold: opened.hold.clone(),
        finished: opened.finished,
        begun: asked.begun,
        gives: still > 0,
        groups,
        levels: levels.collect(),
        caps: opened.caps.clone(),
        more: opened.more.clone(),
        expected: opened.expected,
    })
}
