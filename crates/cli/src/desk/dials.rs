//! What can be turned on the page, from the tree of a scenario as it is tried and as it is in the file.

use super::colony::opened;
use super::figure::{Figure, number};
use crate::output::share::live::{Asked, Dial, Known};
use crate::output::words::clean;
use crate::probe::{Changed, key};
use crate::reading::{Node, Value, word};
use crate::scenario::Loaded;
use spareframe_solver::Colony;

/// Most that a dial goes up to, in thousandths (a choice: beyond, one types).
pub(super) const MOST: i64 = 400_000;

/// Where a dial stands, and how it turns; figures in thousandths.
pub(super) struct Turn<'a> {
    pub path: String,
    pub label: &'a str,
    pub of: &'a str,
    pub least: i64,
    pub most: i64,
    pub step: i64,
}

/// A value by its path of plain keys and entries.
pub(super) fn at<'n>(root: &'n Node<'n>, path: &[&str]) -> Option<&'n Node<'n>> {
    path.iter().try_fold(root, |node, step| match &node.value {
        Value::List(list) => list.get(step.parse::<usize>().ok()?),
        _ => node.get(step),
    })
}

pub(super) struct Trees<'t> {
    pub before: &'t Node<'t>,
    pub now: &'t Node<'t>,
}

impl Trees<'_> {
    /// A dial for a value that is in the file, or by default is as said.
    pub(super) fn dial(&self, steps: &[&str], usual: Option<Figure>, turn: Turn) -> Option<Dial> {
        let read = |root| match at(root, steps) {
            Some(node) => Figure::read(node),
            None => usual.clone(),
        };
        let now = read(self.now)?;
        let then = read(self.before).filter(|then| *then != now);
        Some(made(&now, then.as_ref(), turn))
    }
}

pub(super) fn made(now: &Figure, then: Option<&Figure>, turn: Turn) -> Dial {
    Dial {
        path: turn.path,
        label: turn.label.to_owned(),
        of: turn.of.to_owned(),
        value: number(now.milli),
        unit: now.unit.clone(),
        written: then.map(|then| format!("{}{}", number(then.milli), then.unit)),
        least: number(turn.least),
        most: number(turn.most.max(now.milli)),
        step: number(turn.step),
    }
}

/// All that can be turned, with the colony that is open.
pub(crate) fn dials(changed: &Changed, open: Option<usize>) -> Asked {
    let trees = Trees {
        before: &changed.before,
        now: &changed.now,
    };
    let loaded = &changed.loaded;
    let colonies = loaded.scenario.colonies.iter();
    Asked {
        yard: yard(&trees, loaded),
        day: day(loaded),
        roles: roles(&trees),
        hand: open.and_then(|at| opened(&trees, loaded, at)),
        colonies: colonies.map(known).collect(),
        ..Asked::default()
    }
}

fn known(colony: &Colony) -> Known {
    Known {
        name: clean(&colony.name),
        hold: format!("colonies.{}.hold", key(&colony.name)),
        held: colony.hold.is_some(),
    }
}

fn day(loaded: &Loaded) -> Option<[String; 3]> {
    let day = loaded.day?;
    Some([day.yesterday().ok()?, day, day.tomorrow().ok()?].map(|day| day.to_string()))
}

fn yard(trees: &Trees, loaded: &Loaded) -> Vec<Dial> {
    let mut all = Vec::new();
    all.extend(cells(trees));
    for kind in &loaded.scenario.boxes {
        let turn = Turn {
            path: format!("boxes.{}.count", key(&kind.name)),
            label: &clean(&kind.name),
            of: &clean(&kind.name),
            least: 0,
            most: MOST,
            step: 1000,
        };
        all.extend(trees.dial(&["boxes", &kind.name, "count"], None, turn));
    }
    let cap = loaded
        .scenario
        .honey_cap
        .map(|grams| Figure::of(grams.0, " kg"));
    let turn = Turn {
        path: "settings.honey cap".to_owned(),
        label: "honey, at most",
        of: "honey that all give up, at most",
        least: 0,
        most: 20_000,
        step: 500,
    };
    all.extend(trees.dial(&["settings", "honey cap"], cap, turn));
    all
}

/// One number of cells, by kind of box, or in batches.
fn cells(trees: &Trees) -> Vec<Dial> {
    let turn = |path: String, what: &str| {
        let label = match what {
            "" => "cells".to_owned(),
            what => format!("cells, {}", clean(what)),
        };
        (path, label)
    };
    let mut places: Vec<(Vec<String>, (String, String))> = Vec::new();
    match trees.now.get("cells").map(|node| &node.value) {
        None => {}
        Some(Value::Scalar { .. }) => {
            places.push((vec!["cells".to_owned()], turn("cells".to_owned(), "")));
        }
        Some(Value::Map(kinds)) => places.extend(kinds.iter().map(|(kind, _)| {
            let name = word(kind);
            let path = format!("cells.{}", key(name));
            (vec!["cells".to_owned(), name.to_owned()], turn(path, name))
        })),
        Some(Value::List(batches)) => places.extend((0..batches.len()).map(|nth| {
            let path = format!("cells[{}].count", nth + 1);
            let steps = ["cells".to_owned(), nth.to_string(), "count".to_owned()];
            (steps.to_vec(), turn(path, &format!("batch {}", nth + 1)))
        })),
    }
    let dial = |(steps, (path, label)): (Vec<String>, (String, String))| {
        let steps: Vec<&str> = steps.iter().map(String::as_str).collect();
        let turn = Turn {
            path,
            label: &label,
            of: &label,
            least: 0,
            most: MOST,
            step: 1000,
        };
        trees.dial(&steps, None, turn)
    };
    places.into_iter().filter_map(dial).collect()
}

/// What the step of a value is, by what stands behind it; in thousandths.
fn step(unit: &str, name: &str) -> i64 {
    match (unit.trim(), name) {
        ("%", _) => 5000,
        ("kg" | "lb", _) => 500,
        ("g", _) => 100_000,
        (_, "bees") if unit.is_empty() => 500_000,
        (_, "frames") => 1000,
        _ => 500,
    }
}

/// Limits that the file states for roles.
fn roles(trees: &Trees) -> Vec<(String, Vec<Dial>)> {
    let Some(Value::Map(roles)) = trees.now.get("roles").map(|node| &node.value) else {
        return Vec::new();
    };
    let of = |(name, role): &(Node, Node)| {
        let name = word(name);
        let mut all = Vec::new();
        for (section, said) in [("keep", "keep"), ("draw", "give at most")] {
            let Some(Value::Map(limits)) = role.get(section).map(|node| &node.value) else {
                continue;
            };
            for (limit, value) in limits {
                let limit = word(limit);
                let Some(figure) = Figure::read(value) else {
                    continue;
                };
                let turn = Turn {
                    path: format!("roles.{}.{section}.{}", key(name), key(limit)),
                    label: &format!("{said}: {limit}"),
                    of: &format!("{}, {said}: {limit}", clean(name)),
                    least: 0,
                    most: most(&figure.unit, limit),
                    step: step(&figure.unit, limit),
                };
                all.extend(trees.dial(&["roles", name, section, limit], None, turn));
            }
        }
        (clean(name), all)
    };
    let all = roles.iter().map(of);
    all.filter(|(_, dials)| !dials.is_empty()).collect()
}

fn most(unit: &str, name: &str) -> i64 {
    match (unit.trim(), name) {
        ("%", "covered") => 200_000,
        ("%", _) => 100_000,
        ("g", _) => 50_000_000,
        (_, "bees") if unit.is_empty() => 60_000_000,
        _ => 50_000,
    }
}
