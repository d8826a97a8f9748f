//! The scenario as a whole: places, combs, roles, boxes, cells.

use super::Loaded;
use super::cx::{Cx, Map, word};
use super::parts::{Known, Limits, colony, frame, limits};
use super::recipes::recipe;
use super::tables as t;
use super::text::great_circle;
use super::tree::{Kind, Node};
use spareframe_solver as s;

fn named(cx: &mut Cx, top: &Map, key: &str, mut each: impl FnMut(&mut Cx, String, &Node)) {
    let Some(node) = top.get(key) else { return };
    let Some(entries) = cx.entries(node) else {
        return;
    };
    if entries.is_empty() {
        cx.error(
            "empty",
            node.at,
            format!("`{key}` without entries"),
            "at least one",
            "add one",
        );
    }
    for (k, v) in entries {
        let name = cx.name(k);
        each(cx, name, v);
    }
}

fn degrees(cx: &mut Cx, node: &Node) -> Option<(f64, f64)> {
    let list = cx.list(node);
    let v: Vec<f64> = list.iter().filter_map(|n| word(n).parse().ok()).collect();
    match v.as_slice() {
        [a, b] if list.len() == 2 && a.abs() <= 90.0 && b.abs() <= 180.0 => Some((*a, *b)),
        [_, _] => {
            cx.error(
                "out-of-range",
                node.at,
                "coordinates off the globe",
                "latitude -90 to 90, longitude -180 to 180",
                "write [latitude, longitude] in degrees",
            );
            None
        }
        _ => {
            cx.error(
                "wrong-type",
                node.at,
                "not two numbers",
                "[latitude, longitude]",
                "write two numbers in degrees",
            );
            None
        }
    }
}

pub(crate) fn date(cx: &mut Cx, node: &Node) -> Option<jiff::civil::Date> {
    let d = word(node)
        .parse::<jiff::civil::Date>()
        .ok()
        .filter(|d| (1900..=2200).contains(&d.year()) && word(node).len() == 10);
    if d.is_none() {
        cx.error(
            "wrong-type",
            node.at,
            format!("`{}`", word(node)),
            "a date such as 2031-05-20",
            "write year-month-day",
        );
    }
    d
}

pub(crate) fn convert(cx: &mut Cx, root: &Node) -> Option<Loaded> {
    let top = cx.map(root, &t::TOP)?;
    let mut sc = s::Scenario::default();
    cx.quantity(&top, "spareframe", 1.0, None);
    let title = top.get("title").map(|n| cx.name(n));
    let day = top.get("day").and_then(|n| date(cx, n));
    if let Some(m) = top.get("settings").and_then(|n| cx.map(n, &t::SETTINGS)) {
        if let Some(v) = cx.quantity(&m, "homing distance", 1.0, None) {
            sc.drift.homing_metres = v.unsigned_abs();
        }
        if let Some(v) = cx.quantity(&m, "flying share", 1000.0, None) {
            sc.drift.flying = s::Milli(v);
        }
        if let Some(v) = cx.quantity(&m, "forager mortality", 1000.0, None) {
            sc.colony_model.mortality = s::Milli(v);
        }
        sc.honey_cap = cx
            .quantity(&m, "honey cap", 1000.0, None)
            .map(s::Milligrams);
    }
    let comb = |name: String, area: i64| s::Comb {
        name,
        bees: s::Bees(area * 260 / 100),
        cells: area * 8,
        stores: s::Grams(area * 250 / 100),
    };
    sc.combs = t::STANDARD
        .iter()
        .map(|(n, a, _)| comb((*n).to_owned(), *a))
        .collect();
    named(cx, &top, "combs", |cx, name, node| {
        let Some(m) = cx.map(node, &t::COMB) else {
            return;
        };
        let area = cx.quantity(&m, "area", 100.0, None);
        let mut c = comb(name, area.unwrap_or(0));
        let (b, k, g) = (
            cx.quantity(&m, "bees", 1.0, None),
            cx.quantity(&m, "cells", 1.0, None),
            cx.quantity(&m, "stores", 1.0, None),
        );
        if area.is_none() && (b.is_none() || k.is_none() || g.is_none()) {
            cx.error(
                "missing-key",
                node.at,
                "neither `area` nor all of bees, cells, stores",
                "`area`",
                "add `area: 8.8 dm2`",
            );
        }
        c.bees = b.map_or(c.bees, s::Bees);
        c.cells = k.unwrap_or(c.cells);
        c.stores = g.map_or(c.stores, s::Grams);
        match sc.combs.iter_mut().find(|x| x.name == c.name) {
            Some(old) => *old = c,
            None => sc.combs.push(c),
        }
    });
    let mut spots = Vec::new();
    named(cx, &top, "sites", |cx, name, node| {
        let empty =
            matches!(&node.kind, Kind::Scalar { text, .. } if text.is_empty() || text == "~");
        let at = if empty {
            None
        } else {
            cx.map(node, &t::SITE)
                .and_then(|m| m.get("at"))
                .and_then(|n| degrees(cx, n))
        };
        sc.sites.push(s::Site { name });
        spots.push((at, node.at));
    });
    if sc.sites.len() > 500 {
        cx.error(
            "out-of-range",
            top.at,
            "more than 500 sites",
            "at most 500",
            "join sites that stand together",
        );
        return None;
    }
    let mut known = Known {
        combs: sc.combs.clone(),
        sites: sc.sites.iter().map(|x| x.name.clone()).collect(),
        day,
        ..Known::default()
    };
    distances(cx, &top, &mut sc, &spots, &known);
    known.roles = vec![
        ("production".into(), Limits::production()),
        ("nucleus".into(), Limits::nucleus()),
    ];
    named(cx, &top, "roles", |cx, name, node| {
        if let Some(m) = cx.map(node, &t::ROLE) {
            let base = Limits::default();
            let l = limits(cx, &m, base, None, 0);
            known.roles.retain(|(n, _)| *n != name);
            known.roles.push((name, l));
        }
    });
    named(cx, &top, "colonies", |cx, name, node| {
        if let Some(c) = colony(cx, name, node, &known) {
            sc.colonies.push(c);
        }
    });
    if let Some(node) = top.get("store room") {
        for n in cx.list(node) {
            if let Some(g) = frame(cx, n, s::CombId(0), &known, true) {
                sc.store_room.push(s::SpareFrames {
                    count: g.count,
                    frame: g.frame,
                });
            }
        }
    }
    let mut recipes = Vec::new();
    named(cx, &top, "recipes", |cx, name, node| {
        let r = recipe(cx, node, &known);
        recipes.push((name, r, node.at, false));
    });
    let names: Vec<String> = recipes.iter().map(|r| r.0.clone()).collect();
    named(cx, &top, "boxes", |cx, name, node| {
        let Some(m) = cx.map(node, &t::BOX) else {
            return;
        };
        let site = known.site(cx, &m);
        let (mut lines, mut bees) = (Vec::new(), s::Bees(0));
        if let Some(i) = m.get("recipe").and_then(|n| cx.find(n, "recipe", &names))
            && let Some(r) = recipes.get_mut(i)
        {
            r.3 = true;
            (lines, bees) = r.1.clone();
        }
        sc.boxes.push(s::BoxKind {
            name,
            count: cx.quantity(&m, "count", 1.0, None).unwrap_or(0) as u32,
            compartments: cx.quantity(&m, "compartments", 1.0, None).unwrap_or(1) as u32,
            site: s::SiteId(site),
            worth: s::Worth(cx.quantity(&m, "worth", 1000.0, None).unwrap_or(1000)),
            whole: cx.flag(m.get("whole")),
            lines,
            bees,
        });
    });
    for r in recipes.iter().filter(|r| !r.3) {
        cx.warn(
            "unused-name",
            r.2,
            format!("recipe `{}`", r.0),
            "a box that uses it",
            "name it in a box or remove it",
        );
    }
    if let Some(node) = top.get("cells") {
        sc.cells = Some(cells(
            cx,
            node,
            &sc.boxes.iter().map(|b| b.name.clone()).collect::<Vec<_>>(),
        ));
    }
    Some(Loaded {
        scenario: sc,
        day,
        title,
    })
}

fn distances(
    cx: &mut Cx,
    top: &Map,
    sc: &mut s::Scenario,
    spots: &[(Option<(f64, f64)>, super::tree::At)],
    known: &Known,
) {
    let n = spots.len();
    let mut table: Vec<Vec<Option<u64>>> = vec![vec![None; n]; n];
    let mut set = |i: usize, j: usize, d: u64| {
        for (a, b) in [(i, j), (j, i)] {
            if let Some(x) = table.get_mut(a).and_then(|r| r.get_mut(b)) {
                *x = Some(d);
            }
        }
    };
    for (i, (a, _)) in spots.iter().enumerate() {
        for (j, (b, _)) in spots.iter().enumerate().skip(i + 1) {
            if let (Some(a), Some(b)) = (a, b) {
                set(i, j, great_circle(*a, *b));
            }
        }
        set(i, i, 0);
    }
    if let Some(node) = top.get("distances") {
        for n in cx.list(node) {
            let Some(m) = cx.map(n, &t::DISTANCE) else {
                continue;
            };
            let a = m.get("from").and_then(|n| cx.find(n, "site", &known.sites));
            let b = m.get("to").and_then(|n| cx.find(n, "site", &known.sites));
            if let (Some(a), Some(b), Some(d)) = (a, b, cx.quantity(&m, "is", 1.0, None)) {
                if a == b {
                    cx.error(
                        "out-of-range",
                        n.at,
                        "a distance from a site to itself",
                        "two sites",
                        "name two sites",
                    );
                } else {
                    set(a, b, d.unsigned_abs());
                }
            }
        }
    }
    for (i, row) in table.iter().enumerate() {
        if let Some(j) = row.iter().position(Option::is_none)
            && j > i
        {
            let (a, b) = (&known.sites[i], &known.sites[j]);
            cx.error(
                "missing-distance",
                spots[i].1,
                format!("no distance from `{a}` to `{b}`"),
                "coordinates of both or a distance",
                "add `at:` or an entry in `distances`",
            );
        }
    }
    sc.distances = table
        .into_iter()
        .map(|r| r.into_iter().map(|d| d.unwrap_or(0)).collect())
        .collect();
}

fn cells(cx: &mut Cx, node: &Node, boxes: &[String]) -> Vec<s::CellBatch> {
    let mut out = Vec::new();
    let mut batch = |cx: &mut Cx, n: &Node, boxes| {
        if let Some(c) = cx.value(n, "count", 0.0, 1e6, 1.0, None) {
            out.push(s::CellBatch {
                count: c as u32,
                boxes,
            });
        }
    };
    match &node.kind {
        Kind::Scalar { .. } => batch(cx, node, Vec::new()),
        Kind::Map(m) => {
            for (k, v) in m {
                if let Some(b) = cx.find(k, "box", boxes) {
                    batch(cx, v, vec![s::BoxId(b)]);
                }
            }
        }
        Kind::List(l) => {
            for n in l {
                let Some(m) = cx.map(n, &t::BATCH) else {
                    continue;
                };
                let of = match m.get("for") {
                    Some(n) => cx
                        .list(n)
                        .iter()
                        .filter_map(|n| cx.find(n, "box", boxes))
                        .map(s::BoxId)
                        .collect(),
                    None => Vec::new(),
                };
                if let Some(c) = m.get("count") {
                    batch(cx, c, of);
                }
            }
        }
    }
    out
}
