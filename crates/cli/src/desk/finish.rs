//! A colony or a compartment that is finished, as changes of the scenario.

use crate::editing::quoted;
use crate::output::words::clean;
use crate::probe::key;
use crate::reading::{Node, Value};
use crate::scenario::{Loaded, count_of};
use spareframe_solver::{ColonyId, Compartment, Origin, PlacedBees, PlacedFrames, Plan};

/// A change, and what it is called.
type Finished = (Vec<String>, String);

/// All that a colony gives by the plan is in the boxes, and it gives nothing more today.
pub(crate) fn finished_colony(
    loaded: &Loaded,
    done: Option<&Node>,
    plan: &Plan,
    colony: usize,
) -> Option<Finished> {
    let donor = loaded.scenario.colonies.get(colony)?;
    let name = &donor.name;
    let own = |origin: Origin| matches!(origin, Origin::Colony(id, _) if id.0 == colony);
    let add = |c: &Compartment, now: &Compartment| {
        let frames = c.frames.iter().filter(|placed| own(placed.origin));
        let others = now.frames.iter().filter(|placed| !own(placed.origin));
        let bees = c
            .bees
            .iter()
            .filter(|placed| placed.colony == ColonyId(colony));
        let other_bees = now
            .bees
            .iter()
            .filter(|placed| placed.colony != ColonyId(colony));
        Compartment {
            frames: others.chain(frames).cloned().collect(),
            bees: other_bees.chain(bees).cloned().collect(),
            ..now.clone()
        }
    };
    // What is taken apart has no caps, and nothing left.
    let caps = ["frames", "bees"].map(|cap| format!("colonies.{}.draw.{cap}=0", key(name)));
    let caps = caps.into_iter().filter(|_| !donor.apart);
    let text = records(loaded, done, plan, add);
    let sets = text.map(|text| format!("done={text}"));
    let said = format!("Colony {} is finished", clean(name));
    Some((sets.into_iter().chain(caps).collect(), said))
}

/// All that goes into a compartment is in it. `number` counts those that are stocked or begun, from 0.
pub(crate) fn finished_box(
    loaded: &Loaded,
    done: Option<&Node>,
    plan: &Plan,
    number: usize,
) -> Option<(Vec<String>, String)> {
    let chosen = plan.compartments.get(number)?;
    let place = |c: &Compartment| (c.kind, c.box_no, c.place);
    let add = |c: &Compartment, now: &Compartment| match place(c) == place(chosen) {
        true => c.clone(),
        false => now.clone(),
    };
    let kind = loaded.scenario.boxes.get(chosen.kind.0)?;
    let text = records(loaded, done, plan, add)?;
    let which = match kind.compartments {
        1 => (chosen.box_no + 1).to_string(),
        _ => format!("{}.{}", chosen.box_no + 1, chosen.place + 1),
    };
    let said = format!("{} {which} is finished", clean(&kind.name));
    Some((vec![format!("done={text}")], said))
}

/// Parts changes that only say that a colony is finished, which holds for today, from all others.
pub(crate) fn for_today(sets: &[String]) -> (Vec<String>, Vec<String>) {
    let closed = |set: &String| {
        let colony = [".draw.frames=0", ".draw.bees=0"]
            .iter()
            .find_map(|cap| set.strip_suffix(cap));
        colony.is_some_and(|colony| sets.contains(&format!("{colony}.draw.bees=0")))
    };
    sets.iter().cloned().partition(closed)
}

/// The records of the day with what is added to each compartment; `None` where there is nothing to record.
fn records(
    loaded: &Loaded,
    done: Option<&Node>,
    plan: &Plan,
    add: impl Fn(&Compartment, &Compartment) -> Compartment,
) -> Option<String> {
    let place = |c: &Compartment| (c.kind, c.box_no, c.place);
    let texts: &[Node] = match done.map(|done| &done.value) {
        Some(Value::List(list)) => list,
        _ => &[],
    };
    let before = &loaded.scenario.done;
    let planned = |c: &Compartment| plan.touched().find(|other| place(other) == place(c));
    let mut all = Vec::new();
    for (nth, now) in before.iter().enumerate() {
        let new = planned(now).map(|c| add(c, now));
        all.push(match (new, texts.get(nth)) {
            (Some(new), _) if new != *now => record(loaded, &new),
            (_, Some(text)) => inline(text),
            (_, None) => record(loaded, now),
        });
    }
    for c in plan.touched() {
        if before.iter().any(|now| place(now) == place(c)) {
            continue;
        }
        let empty = Compartment {
            frames: Vec::new(),
            bees: Vec::new(),
            ..c.clone()
        };
        let new = add(c, &empty);
        if new != empty || (c.frames.is_empty() && c.bees.is_empty() && add(c, c) == *c) {
            all.push(record(loaded, &new));
        }
    }
    (!all.is_empty()).then(|| format!("[{}]", all.join(", ")))
}

fn record(loaded: &Loaded, c: &Compartment) -> String {
    let scenario = &loaded.scenario;
    let kind = scenario.boxes.get(c.kind.0);
    let mut parts = vec![
        format!("box: {}", quoted(kind.map_or("", |kind| &kind.name))),
        format!("number: {}", c.box_no + 1),
        format!("compartment: {}", c.place + 1),
    ];
    let asked = scenario.asked(c.kind, c.box_no, c.place);
    let line = |placed: &PlacedFrames| {
        let lines = asked.as_ref().map(|asked| &*asked.lines);
        let line = lines.and_then(|lines| lines.get(placed.line))?;
        Some(format!("line: {}", quoted(&line.name)))
    };
    let frames = c.frames.iter().map(|placed| {
        let mut frame = match placed.origin {
            Origin::StoreRoom(entry) => vec![format!("store room: {}", entry + 1)],
            Origin::Colony(id, group) => from(loaded, id, group),
        };
        frame.push(format!("count: {}", placed.count));
        frame.extend(line(placed));
        format!("{{{}}}", frame.join(", "))
    });
    let frames: Vec<String> = frames.collect();
    if !frames.is_empty() {
        parts.push(format!("frames: [{}]", frames.join(", ")));
    }
    let bees = |placed: &PlacedBees| {
        let colony = scenario.colonies.get(placed.colony.0);
        let name = colony.map_or("", |colony| &colony.name);
        format!("{}: {}", text(name), placed.taken().bees().0)
    };
    let bees: Vec<String> = c.bees.iter().map(bees).collect();
    if !bees.is_empty() {
        parts.push(format!("bees: {{{}}}", bees.join(", ")));
    }
    format!("{{{}}}", parts.join(", "))
}

/// Which frames of a colony: by their group, or as they were counted at a glance.
fn from(loaded: &Loaded, id: ColonyId, group: usize) -> Vec<String> {
    let Some(colony) = loaded.scenario.colonies.get(id.0) else {
        return Vec::new();
    };
    let glance = loaded.places.at_a_glance.get(id.0) == Some(&true);
    let which = match (glance, colony.frames.get(group)) {
        (true, Some(frames)) => format!("of: {}", count_of(&frames.frame)),
        _ => format!("group: {}", group + 1),
    };
    vec![format!("colony: {}", text(&colony.name)), which]
}

/// A name in quotes, so that one of figures is a name.
fn text(name: &str) -> String {
    serde_json::Value::from(name).to_string()
}

/// A value in one line, as it is read.
fn inline(node: &Node) -> String {
    match &node.value {
        Value::Scalar { text, .. } => quoted(text),
        Value::List(list) => {
            let list: Vec<String> = list.iter().map(inline).collect();
            format!("[{}]", list.join(", "))
        }
        Value::Map(map) => {
            let entry = |(key, value): &(Node, Node)| format!("{}: {}", inline(key), inline(value));
            let map: Vec<String> = map.iter().map(entry).collect();
            format!("{{{}}}", map.join(", "))
        }
    }
}
