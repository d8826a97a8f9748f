//! Reads an earlier plan against a scenario that may have changed since: what is no longer there is
//! noted, not an error.

use super::file::{Known, Stated, read_by, whole};
use crate::reading::{Cx, Finding, Node, Value, word};
use crate::scenario::Places;
use spareframe_solver::{Origin, Plan, Scenario};
use std::collections::BTreeSet;

/// An earlier plan. It may name what the scenario no longer has: such a colony, kind of box, line,
/// frame group or entry has an index above those of the scenario.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Earlier {
    /// The plan.
    pub plan: Plan,
    /// Its day, as it stands in the file.
    pub day: Option<String>,
    /// Colonies by name: those of the scenario, then those that only the plan names.
    pub colonies: Vec<String>,
    /// What is no longer there, a sentence each, in the order of the file.
    pub gone: Vec<String>,
}

/// What came of reading an earlier plan.
#[derive(Debug, Clone, PartialEq)]
pub struct EarlierRead {
    /// The plan, unless there is an error among the findings.
    pub earlier: Option<Earlier>,
    /// Errors in the order of the file; at most 200.
    pub findings: Vec<Finding>,
}

/// Reads an earlier plan in YAML or JSON; `path_label` names the file in findings. Frames are found by
/// the place where they hang or lie, where the scenario has it once, else by their number.
///
/// ```
/// use spareframe::plan::read_earlier;
/// use spareframe::scenario::Places;
/// use spareframe_solver::Scenario;
/// let plan = b"{spareframe_plan: 2, compartments: [{box_kind: a, box_no: 1, compartment: 1, frames: [], bees: []}]}";
/// let read = read_earlier(&Scenario::default(), &Places::default(), "plan.yaml", plan);
/// assert_eq!(read.earlier.unwrap().gone, ["kind of box `a` is no longer there"]);
/// ```
#[must_use]
pub fn read_earlier(
    scenario: &Scenario,
    places: &Places,
    path_label: &str,
    bytes: &[u8],
) -> EarlierRead {
    let mut known = Known::of(scenario);
    let mut day = None;
    let make = |cx: &mut Cx, root: &Node| -> Option<(Plan, Stated)> {
        widen(&mut known, root, places);
        day = root.get("day").map(|node| word(node).to_owned());
        whole(cx, root, &known)
    };
    let read = read_by(path_label, bytes, make);
    let earlier = read.plan.map(|(mut plan, _)| {
        plan.put_in_order();
        Earlier {
            gone: gone(scenario, &known, &plan),
            day: day.filter(|day| !matches!(day.as_str(), "" | "~" | "null")),
            colonies: known.colonies.list().to_vec(),
            plan,
        }
    });
    EarlierRead {
        earlier,
        findings: read.findings,
    }
}

/// Adds every name that the plan uses, and lifts the limits where it counts.
fn widen<'a>(known: &mut Known<'a>, root: &Node, places: &'a Places) {
    let lists = ["compartments", "begun"].map(|key| items(root.get(key)));
    for compartment in lists.into_iter().flatten() {
        let kind = named(compartment, "box_kind").map(|name| known.boxes.add(name));
        let kinds = known.boxes.list().len();
        known.lines.resize_with(kinds, Default::default);
        let index = |key| {
            let number = named(compartment, key).and_then(|text| text.parse::<u32>().ok());
            number.map_or(0, |number| number.saturating_sub(1))
        };
        let (box_no, place) = (index("box_no"), index("compartment"));
        for frames in items(compartment.get("frames")) {
            if let (Some(kind), Some(line)) = (kind, named(frames, "line")) {
                let recipe = known.recipe(kind, box_no, place);
                known.lines[kind][recipe].add(line);
            }
            if let Some(colony) = named(frames, "colony") {
                known.colonies.add(colony);
            }
        }
        for bees in items(compartment.get("bees")) {
            if let Some(colony) = named(bees, "colony") {
                known.colonies.add(colony);
            }
        }
    }
    known.groups = vec![usize::MAX; known.colonies.list().len()];
    known.entries = usize::MAX;
    known.places = Some(places);
}

fn items<'a>(node: Option<&'a Node<'a>>) -> &'a [Node<'a>] {
    match node.map(|node| &node.value) {
        Some(Value::List(list)) => list,
        _ => &[],
    }
}

fn named<'a>(node: &'a Node<'a>, key: &str) -> Option<&'a str> {
    node.get(key).map(word).filter(|name| !name.is_empty())
}

/// What the plan names and the scenario no longer has, each once.
fn gone(scenario: &Scenario, known: &Known, plan: &Plan) -> Vec<String> {
    let mut said = BTreeSet::new();
    let mut gone = Vec::new();
    let mut say = |text: String| {
        if said.insert(text.clone()) {
            gone.push(text + " is no longer there");
        }
    };
    let colony = |id: usize| known.colonies.list()[id].as_str();
    for c in plan.touched() {
        let name = &known.boxes.list()[c.kind.0];
        let Some(kind) = scenario.boxes.get(c.kind.0) else {
            say(format!("kind of box `{name}`"));
            continue;
        };
        if c.box_no >= kind.count || c.place >= kind.compartments {
            let (box_no, place) = (u64::from(c.box_no) + 1, u64::from(c.place) + 1);
            say(format!("compartment {place} of box {box_no} of `{name}`"));
        }
        for placed in &c.frames {
            let recipe = known.recipe(c.kind.0, c.box_no, c.place);
            if placed.line >= [&kind.lines, &kind.again.lines][recipe].len() {
                let line = &known.lines[c.kind.0][recipe].list()[placed.line];
                say(format!("line `{line}` of `{name}`"));
            }
            match placed.origin {
                Origin::Colony(id, group) => match scenario.colonies.get(id.0) {
                    None => say(format!("colony `{}`", colony(id.0))),
                    Some(c) if group >= c.frames.len() => {
                        say(format!("frame group {} of colony `{}`", group + 1, c.name));
                    }
                    Some(_) => {}
                },
                Origin::StoreRoom(entry) if entry >= scenario.store_room.len() => {
                    say(format!("entry {} of the store room", entry + 1));
                }
                Origin::StoreRoom(_) => {}
            }
        }
        for placed in &c.bees {
            if placed.colony.0 >= scenario.colonies.len() {
                say(format!("colony `{}`", colony(placed.colony.0)));
            }
        }
    }
    gone
}
