//! Reads a plan back, also after hand edits: names become indices, and everything that cannot
//! be read is a finding at its place, all at once.

use super::fields as t;
use crate::reading::{Cx, Finding, Map, Names, Node, Severity, parse, source, word};
use crate::scenario::Places;
use spareframe_solver::{
    BoxId, BoxKind, ColonyId, Compartment, Hundreds, Origin as Source, PlacedBees, PlacedFrames,
    Plan, Scenario,
};

/// Figures that the file states and that can be compared with the check.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stated {
    /// Worth.
    pub worth: Option<f64>,
    /// Cost, in grams of honey.
    pub cost_g: Option<f64>,
    /// Honey given up, charged, in grams; a file of format 1 says it in kg.
    pub honey_given_up_g: Option<f64>,
    /// Points of burden.
    pub burden: Option<f64>,
    /// Steps to substitutes.
    pub substitutes: Option<f64>,
    /// Colonies opened.
    pub colonies_opened: Option<f64>,
    /// Frames drawn otherwise than in an earlier plan.
    pub frames_drawn_otherwise: Option<f64>,
    /// Figures are those of format 1, rounded otherwise.
    pub first_format: bool,
}

/// What came of reading a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct PlanRead {
    /// The plan and the figures it states, unless there is an error among the findings.
    pub plan: Option<(Plan, Stated)>,
    /// Errors in the order of the file; at most 200.
    pub findings: Vec<Finding>,
}

/// Reads a plan in YAML or JSON against its scenario; `path_label` names the file in findings.
///
/// ```
/// use spareframe::plan::read_plan;
/// use spareframe_solver::Scenario;
/// let good = read_plan(&Scenario::default(), "plan.yaml", b"{spareframe_plan: 2, compartments: []}");
/// assert!(good.plan.is_some());
/// let bad = read_plan(&Scenario::default(), "plan.yaml", b"{spareframe_plan: 2, compartment: []}");
/// assert_eq!(bad.findings[0].way_out, "did you mean `compartments`?");
/// ```
#[must_use]
pub fn read_plan(scenario: &Scenario, path_label: &str, bytes: &[u8]) -> PlanRead {
    read_by(path_label, bytes, |cx, root| {
        whole(cx, root, &Known::of(scenario))
    })
}

/// The day of a plan, as it stands in the file.
#[must_use]
pub fn day_of(bytes: &[u8]) -> Option<String> {
    let mut cx = Cx::new("", t::SECTIONS.as_slice());
    let text = source(&mut cx, bytes)?;
    let root = parse(&mut cx, text, ("a plan", "spareframe stock --format yaml"))?;
    let day = word(root.get("day")?).to_owned();
    (!matches!(day.as_str(), "" | "~" | "null")).then_some(day)
}

/// Reads a file by what makes a plan of its tree.
pub(super) fn read_by(
    path_label: &str,
    bytes: &[u8],
    make: impl FnOnce(&mut Cx, &Node) -> Option<(Plan, Stated)>,
) -> PlanRead {
    let mut cx = Cx::new(path_label, t::SECTIONS.as_slice());
    let plan = source(&mut cx, bytes)
        .and_then(|text| parse(&mut cx, text, ("a plan", "spareframe stock --format yaml")))
        .and_then(|root| make(&mut cx, &root));
    let mut findings = cx.findings;
    findings.sort_by_key(|f| f.span.start);
    let failed = findings.iter().any(|f| f.severity == Severity::Error);
    PlanRead {
        plan: if failed { None } else { plan },
        findings,
    }
}

/// What a plan may refer to: names, and how many there are where it counts.
pub(super) struct Known<'a> {
    pub scenario: &'a Scenario,
    pub boxes: Names,
    pub colonies: Names,
    /// By kind of box: lines of its recipe, and of that for the next cell where bees stand.
    pub lines: Vec<[Names; 2]>,
    /// Frame groups of each colony.
    pub groups: Vec<usize>,
    /// Entries of the store room.
    pub entries: usize,
    /// Where frames hang or lie, where that goes before their number.
    pub places: Option<&'a Places>,
}

impl<'a> Known<'a> {
    /// What a scenario has.
    pub fn of(scenario: &'a Scenario) -> Self {
        let lines = |b: &BoxKind| {
            [&b.lines, &b.again.lines].map(|lines| lines.iter().map(|l| l.name.as_str()).collect())
        };
        Self {
            scenario,
            boxes: scenario.boxes.iter().map(|b| b.name.as_str()).collect(),
            colonies: scenario.colonies.iter().map(|c| c.name.as_str()).collect(),
            lines: scenario.boxes.iter().map(lines).collect(),
            groups: scenario.colonies.iter().map(|c| c.frames.len()).collect(),
            entries: scenario.store_room.len(),
            places: None,
        }
    }

    /// Which of the two recipes of a kind is that of a compartment, counted from 0.
    pub fn recipe(&self, kind: usize, box_no: u32, place: u32) -> usize {
        usize::from(self.scenario.stands(BoxId(kind), box_no, place).is_some())
    }

    /// The index of the only frame group or entry that hangs or lies where the plan says.
    fn placed(&self, m: &Map, colony: Option<ColonyId>) -> Option<usize> {
        let places = self.places?;
        let all = match colony {
            Some(id) => places.colonies.get(id.0)?,
            None => &places.store_room,
        };
        let place = word(m.get("place")?);
        let mut there = (0..all.len()).filter(|&at| all[at].as_deref() == Some(place));
        there.next().filter(|_| there.next().is_none())
    }

    fn colony(&self, cx: &mut Cx, node: &Node) -> Option<ColonyId> {
        cx.find(node, "colony", &self.colonies).map(ColonyId)
    }

    /// Bees that sit on a colony's brood frames among some frames.
    fn on_brood(&self, colony: ColonyId, frames: &[PlacedFrames]) -> i64 {
        let bees = |placed: &PlacedFrames| {
            let Source::Colony(id, group) = placed.origin else {
                return None;
            };
            let group = self.scenario.colonies.get(id.0)?.frames.get(group)?;
            let rides = id == colony && group.frame.brood.0 > 0;
            rides.then(|| group.frame.bees.0.saturating_mul(i64::from(placed.count)))
        };
        let bees = frames.iter().filter_map(bees);
        bees.fold(0, i64::saturating_add)
    }
}

pub(super) fn whole(cx: &mut Cx, root: &Node, known: &Known) -> Option<(Plan, Stated)> {
    let top = opened(cx, root, "name the scenario first, then the plan")?;
    let headline = top.get("headline").and_then(|n| cx.map(n, &t::HEADLINE));
    let stated = headline.map_or(Stated::default(), |m| stated(cx, &m));
    let mut plan = Plan {
        compartments: compartments(cx, top.get("compartments")?, known),
        begun: top
            .get("begun")
            .map_or_else(Vec::new, |node| compartments(cx, node, known)),
    };
    plan.compartments
        .sort_by_key(|c| (c.kind, c.box_no, c.place));
    plan.begun.sort_by_key(|c| (c.kind, c.box_no, c.place));
    Some((plan, stated))
}

fn compartments(cx: &mut Cx, node: &Node, known: &Known) -> Vec<Compartment> {
    let nodes = entries(cx, node).iter();
    nodes.filter_map(|n| compartment(cx, n, known)).collect()
}

/// The entries of a plan of this version; `way_out` is for whoever gives a scenario.
pub(super) fn opened<'a>(cx: &mut Cx, root: &'a Node<'a>, way_out: &str) -> Option<Map<'a>> {
    if root.get("spareframe").is_some() {
        cx.error("wrong-type", root.at, "a scenario", "a plan", way_out);
        return None;
    }
    let top = cx.map(root, &t::PLAN)?;
    cx.quantity(&top, "spareframe_plan", 1.0, None);
    Some(top)
}

/// A list that may be empty, as in a plan that stocks nothing.
pub(super) fn entries<'a>(cx: &mut Cx, node: &'a Node<'a>) -> &'a [Node<'a>] {
    match &node.value {
        crate::reading::Value::List(list) if list.is_empty() => &[],
        _ => cx.list(node),
    }
}

/// The figures of a headline.
pub(super) fn stated(cx: &mut Cx, m: &Map) -> Stated {
    let mut number = |key| {
        let node = m.get(key)?;
        let text = word(node);
        if matches!(text, "" | "~" | "null") {
            return None;
        }
        let value = text.parse::<f64>().ok().filter(|v| v.is_finite());
        if value.is_none() {
            cx.error(
                "wrong-type",
                node.at,
                format!("`{key}` that is not a number"),
                "a number",
                "correct the figure or delete the line",
            );
        }
        value
    };
    let kg = number("honey_given_up_charged_estimate_kg");
    Stated {
        worth: number("worth"),
        cost_g: number("cost_g"),
        honey_given_up_g: number("honey_given_up_g").or(kg.map(|kg| 1000.0 * kg)),
        burden: number("burden"),
        substitutes: number("substitutes"),
        colonies_opened: number("colonies_opened"),
        frames_drawn_otherwise: number("frames_drawn_otherwise"),
        first_format: kg.is_some(),
    }
}

fn compartment(cx: &mut Cx, node: &Node, known: &Known) -> Option<Compartment> {
    let m = cx.map(node, &t::COMPARTMENT)?;
    let kind = m
        .get("box_kind")
        .and_then(|n| cx.find(n, "kind of box", &known.boxes));
    let box_no = cx.count(&m, "box_no").map(|n| n - 1);
    let place = cx.count(&m, "compartment").map(|n| n - 1);
    let lines = kind.and_then(|k| {
        let both = known.lines.get(k)?;
        both.get(known.recipe(k, box_no.unwrap_or(0), place.unwrap_or(0)))
    });
    let mut placed = Vec::new();
    for n in m.get("frames").map_or(&[][..], |n| entries(cx, n)) {
        placed.extend(frames(cx, n, lines, known));
    }
    let mut shares = Vec::new();
    for n in m.get("bees").map_or(&[][..], |n| entries(cx, n)) {
        shares.extend(bees(cx, n, known, &placed));
    }
    Some(Compartment {
        kind: BoxId(kind?),
        box_no: box_no?,
        place: place?,
        frames: placed,
        bees: shares,
    })
}

/// Bees to the nearest hundred. Where the file does not say how many ride, as format 1 never does, it is
/// as many as sit on the brood frames of that colony there, at most all.
fn bees(cx: &mut Cx, node: &Node, known: &Known, frames: &[PlacedFrames]) -> Option<PlacedBees> {
    let m = cx.map(node, &t::BEES)?;
    let colony = m.get("colony").and_then(|n| known.colony(cx, n));
    let (bees, riding) = counted(cx, &m);
    let (colony, bees) = (colony?, nearest(bees?));
    let riding = match riding {
        Some(riding) => nearest(riding).min(bees),
        None => known.on_brood(colony, frames).min(bees),
    };
    Some(PlacedBees {
        colony,
        riding: Hundreds(riding),
        loose: Hundreds(bees - riding),
    })
}

/// Bees taken, and those of them that ride, where that is said.
pub(super) fn counted(cx: &mut Cx, m: &Map) -> (Option<i64>, Option<i64>) {
    let bees = cx.quantity(m, "bees", 1.0, None);
    let riding = m
        .get("riding")
        .and_then(|node| Some((node, cx.quantity(m, "riding", 1.0, None)?)));
    if let (Some(bees), Some((node, riding))) = (bees, riding)
        && riding > bees
    {
        cx.error(
            "out-of-range",
            node.at,
            format!("{riding} bees riding"),
            format!("at most the {bees} bees taken"),
            "`riding` is the part of `bees` that sits on brood frames",
        );
        return (None, None);
    }
    (bees, riding.map(|(_, riding)| riding))
}

/// Bees as hundreds.
pub(super) fn nearest(bees: i64) -> i64 {
    bees.saturating_add(50).div_euclid(100)
}

fn frames(cx: &mut Cx, node: &Node, lines: Option<&Names>, known: &Known) -> Option<PlacedFrames> {
    let m = cx.map(node, &t::FRAMES)?;
    let line = m
        .get("line")
        .zip(lines)
        .and_then(|(n, lines)| cx.find(n, "recipe line", lines));
    let count = cx.count(&m, "frames");
    let origin = placed_from(cx, &m, known);
    Some(PlacedFrames {
        line: line?,
        origin: origin?,
        count: count?,
    })
}

fn placed_from(cx: &mut Cx, m: &Map, known: &Known) -> Option<Source> {
    match origin(cx, m)? {
        Origin::Colony(colony, group) => {
            let id = known.colony(cx, colony);
            let number = cx.count(m, "frame_group");
            let (id, number) = (id?, number?);
            let most = known.groups.get(id.0).copied().unwrap_or(0);
            let group = match known.placed(m, Some(id)) {
                Some(group) => group,
                None => index(cx, group, number, most)?,
            };
            Some(Source::Colony(id, group))
        }
        Origin::StoreRoom(entry) => {
            let number = cx.count(m, "store_room_entry")?;
            let entry = match known.placed(m, None) {
                Some(entry) => entry,
                None => index(cx, entry, number, known.entries)?,
            };
            Some(Source::StoreRoom(entry))
        }
    }
}

/// Where frames come from, as it is written: a colony and its frame group, or an entry.
pub(super) enum Origin<'a> {
    Colony(&'a Node<'a>, &'a Node<'a>),
    StoreRoom(&'a Node<'a>),
}

/// The one origin of some frames.
pub(super) fn origin<'a>(cx: &mut Cx, m: &Map<'a>) -> Option<Origin<'a>> {
    let colony = m.get("colony");
    let (group, entry) = (m.get("frame_group"), m.get("store_room_entry"));
    match (colony, group, entry) {
        (Some(colony), Some(group), None) => Some(Origin::Colony(colony, group)),
        (None, None, Some(entry)) => Some(Origin::StoreRoom(entry)),
        (.., Some(entry)) => {
            cx.error(
                "two-readings",
                entry.at,
                "`store_room_entry` beside `colony` or `frame_group`",
                "one origin",
                "remove one of them",
            );
            None
        }
        _ => {
            cx.error(
                "missing-key",
                m.at,
                "frames without an origin",
                "`colony` and `frame_group`, or `store_room_entry`",
                "add where they come from",
            );
            None
        }
    }
}

/// A number that counts from 1, as an index.
fn index(cx: &mut Cx, node: &Node, number: u32, most: usize) -> Option<usize> {
    let index = usize::try_from(number).ok()?.checked_sub(1)?;
    if index < most {
        return Some(index);
    }
    cx.error(
        "out-of-range",
        node.at,
        format!("`{number}`"),
        format!("1 to {most}"),
        "frame groups and entries of the store room count from 1, in the order of the scenario",
    );
    None
}
