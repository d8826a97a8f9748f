//! Kinds of box and the cells for them.

use super::fields as t;
use super::known::Known;
use super::rearing::{self, Rearing};
use super::recipes::Recipe;
use super::whole::{Defined, named};
use crate::reading::{Cx, Kind, Map, Names, Node, Value};
use spareframe_solver as s;
use std::collections::BTreeSet;

/// Most kinds of box (a choice: far above any apiary). Every kind holds its own recipe.
const MOST_KINDS: usize = 1000;

/// Reads the kinds of box; returns which recipes they use.
pub(crate) fn boxes(
    cx: &mut Cx,
    top: &Map,
    recipes: &[(Defined, Recipe)],
    known: &Known,
    sc: &mut s::Scenario,
    rearing: &mut Rearing,
) -> Vec<bool> {
    let names: Names = recipes.iter().map(|(d, _)| d.name.as_str()).collect();
    let mut used = vec![false; recipes.len()];
    if let Some(node) = top.get("boxes")
        && let Value::Map(entries) = &node.value
        && cx.too_many(node.at, entries.len(), "kinds of box", MOST_KINDS)
    {
        return used;
    }
    named(cx, top, "boxes", |cx, name, node| {
        let Some(m) = cx.map(node, &t::BOX) else {
            return;
        };
        let site = known.site(cx, &m);
        let (mut lines, mut bees, mut again) = (Vec::new(), s::Bees(0), s::Recipe::default());
        let recipe = m.get("recipe").and_then(|n| cx.find(n, "recipe", &names));
        if let Some((i, (_, recipe))) = recipe.and_then(|i| Some((i, recipes.get(i)?))) {
            (lines, bees) = (recipe.lines.clone(), recipe.bees);
            again = recipe.again.clone();
            if let Some(flag) = used.get_mut(i) {
                *flag = true;
            }
        }
        let count = cx.count(&m, "count");
        if let (Some(0), Some(n)) = (count, m.get("count")) {
            cx.warn(
                "no-boxes",
                n.at,
                format!("no box of kind `{name}`"),
                "at least 1",
                "correct the number; as it is, none can be stocked",
            );
        }
        sc.boxes.push(s::BoxKind {
            name,
            count: count.unwrap_or(0),
            compartments: cx.count(&m, "compartments").unwrap_or(1),
            site,
            worth: s::Worth(cx.quantity(&m, "worth", 1000.0, None).unwrap_or(1000)),
            whole: cx.flag(m.get("whole")),
            lines,
            bees,
            again,
        });
        rearing.keeps.push(rearing::keeps(cx, &m));
        let takes = cx.one_of(&m, "takes");
        rearing.takes.push(takes == Some("mated queens"));
    });
    used
}

/// Reads the cells, and warns of kinds of box that none is for.
pub(crate) fn cells(cx: &mut Cx, node: &Node, takes: &[bool], sc: &mut s::Scenario) {
    let boxes: Names = sc.boxes.iter().map(|b| b.name.as_str()).collect();
    let mut out: Vec<s::CellBatch> = Vec::new();
    match &node.value {
        Value::Scalar { .. } => out.extend(batch(cx, node, Vec::new(), sc)),
        Value::Map(entries) => {
            for (k, v) in entries {
                if let Some(b) = cx.find(k, "box", &boxes) {
                    out.extend(batch(cx, v, vec![s::BoxId(b)], sc));
                }
            }
        }
        Value::List(_) => {
            for n in cx.list_or_none(node) {
                let Some(m) = cx.map(n, &t::BATCH) else {
                    continue;
                };
                let of = m.get("for").map_or(Vec::new(), |n| kinds(cx, n, &boxes));
                if let Some(c) = m.get("count") {
                    out.extend(batch(cx, c, of, sc));
                }
            }
        }
    }
    let some = || out.iter().filter(|b| b.count > 0);
    let for_all = some().any(|b| b.boxes.is_empty());
    let served: BTreeSet<s::BoxId> = some().flat_map(|b| b.boxes.iter().copied()).collect();
    for (i, kind) in sc.boxes.iter().enumerate() {
        let queens = takes.get(i) == Some(&true);
        let none = !for_all && !queens && !served.contains(&s::BoxId(i));
        if kind.count > 0 && !cx.failed() && none {
            cx.warn(
                "no-cells",
                node.at,
                format!("no cells for `{}`", kind.name),
                "cells for each kind of box",
                "add cells for it: without them none is stocked",
            );
        }
    }
    sc.cells = Some(out);
}

fn batch(cx: &mut Cx, node: &Node, boxes: Vec<s::BoxId>, sc: &s::Scenario) -> Option<s::CellBatch> {
    let range = t::BATCH.fields.iter().find_map(|f| f.range)?;
    let count = cx.value(node, Kind::Count, range, 1.0, None)?;
    let count = u32::try_from(count).ok()?;
    let standing = |b: &s::BoxId| sc.boxes.get(b.0).is_some_and(|kind| kind.count > 0);
    if count > 0 && !boxes.is_empty() && !boxes.iter().any(standing) {
        cx.warn(
            "no-boxes",
            node.at,
            match count {
                1 => "1 cell without boxes".to_owned(),
                _ => format!("{count} cells without boxes"),
            },
            "at least one box that they are for",
            "correct the number of boxes or what the cells are for",
        );
    }
    Some(s::CellBatch { count, boxes })
}

fn kinds(cx: &mut Cx, node: &Node, boxes: &Names) -> Vec<s::BoxId> {
    let mut out = BTreeSet::new();
    for n in cx.list(node) {
        let Some(id) = cx.find(n, "box", boxes).map(s::BoxId) else {
            continue;
        };
        if !out.insert(id) {
            cx.error(
                "duplicate-key",
                n.at,
                "a box named twice",
                "each box once",
                "remove one of them",
            );
        }
    }
    out.into_iter().collect()
}
