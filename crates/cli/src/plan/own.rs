//! Reads a plan by its own names; everything that cannot be read is a finding at its place, all
//! at once.

use super::fields as t;
use super::file::{Origin, counted, entries, nearest, opened, origin, stated};
use super::sheet::{Bees, Frames, Sheet, Slot, Source, Stocked};
use crate::output::{Caution, Holds, OnHold, Progress, decimal};
use crate::reading::{Cx, Finding, Map, Node, Section, Severity, Value, parse, source};
use std::collections::{BTreeMap, BTreeSet};

/// What came of reading a plan.
#[derive(Debug, Clone, PartialEq)]
pub struct SheetRead {
    /// The plan, unless there is an error among the findings.
    pub sheet: Option<Sheet>,
    /// Errors in the order of the file; at most 200.
    pub findings: Vec<Finding>,
}

/// Reads a plan in YAML or JSON without its scenario; `path_label` names the file in findings.
///
/// ```
/// use spareframe::plan::read_sheet;
/// assert!(read_sheet("plan.yaml", b"{spareframe_plan: 2, compartments: []}").sheet.is_some());
/// let bad = read_sheet("plan.yaml", b"{spareframe_plan: 2, compartment: []}");
/// assert_eq!(bad.findings[0].way_out, "did you mean `compartments`?");
/// ```
#[must_use]
pub fn read_sheet(path_label: &str, bytes: &[u8]) -> SheetRead {
    let mut cx = Cx::new(path_label, t::SECTIONS.as_slice());
    let sheet = source(&mut cx, bytes)
        .and_then(|text| parse(&mut cx, text, ("a plan", "spareframe stock --format yaml")))
        .and_then(|root| whole(&mut cx, &root));
    let mut findings = cx.findings;
    findings.sort_by_key(|f| f.span.start);
    let failed = findings.iter().any(|f| f.severity == Severity::Error);
    SheetRead {
        sheet: if failed { None } else { sheet },
        findings,
    }
}

fn whole(cx: &mut Cx, root: &Node) -> Option<Sheet> {
    let top = opened(
        cx,
        root,
        "name two plans, as `spareframe stock --out plan.yaml` writes them",
    )?;
    let mut sheet = Sheet {
        title: text(cx, &top, "title"),
        day: text(cx, &top, "day"),
        ..Sheet::default()
    };
    if let Some(m) = top.get("headline").and_then(|n| cx.map(n, &t::HEADLINE)) {
        sheet.stated = stated(cx, &m);
        sheet.undivided = undivided(cx, &m);
    }
    let mut seen = BTreeSet::new();
    sheet.compartments = compartments(cx, &top, "compartments", &mut seen);
    sheet.begun = compartments(cx, &top, "begun", &mut seen);
    for node in top.get("standing").map_or(&[][..], |n| entries(cx, n)) {
        if let Some(m) = cx.map(node, &t::STANDING) {
            let kind = text(cx, &m, "box_kind");
            sheet.standing.extend(kind.zip(cx.count(&m, "box_no")));
        }
    }
    sheet.fillers = top.get("colonies").map(|_| BTreeMap::new());
    for node in top.get("colonies").map_or(&[][..], |n| entries(cx, n)) {
        let Some(m) = cx.map(node, &t::COLONY) else {
            continue;
        };
        let Some(colony) = text(cx, &m, "colony") else {
            continue;
        };
        let gaps = m.get("gaps_filled_with");
        let gaps = gaps.map_or(&[][..], |n| entries(cx, n)).iter();
        let fillers: Vec<_> = gaps.filter_map(|n| filler(cx, n)).collect();
        if let Some(site) = text(cx, &m, "site") {
            sheet.sites.insert(colony.clone(), site);
        }
        if let Some(all) = sheet.fillers.as_mut().filter(|_| !fillers.is_empty()) {
            all.insert(colony, fillers);
        }
    }
    let held = pairs(cx, &top, "on_hold", &t::ON_HOLD, ("colony", "reason"));
    let held = held
        .into_iter()
        .map(|[colony, reason]| OnHold { colony, reason });
    sheet.on_hold = top.get("on_hold").map(|_| held.collect());
    sheet.cautions = cautions(cx, &top);
    Some(sheet)
}

/// Compartments under a key, in the order of kind, box, compartment.
fn compartments(cx: &mut Cx, top: &Map, key: &str, seen: &mut BTreeSet<Slot>) -> Vec<Stocked> {
    let mut list = Vec::new();
    for node in top.get(key).map_or(&[][..], |n| entries(cx, n)) {
        let Some(stocked) = compartment(cx, node) else {
            continue;
        };
        if !seen.insert(stocked.slot.clone()) {
            cx.error(
                "duplicate-key",
                node.at,
                "a compartment that stands further up already",
                "each compartment once",
                "remove or renumber one of them",
            );
        }
        list.push(stocked);
    }
    list.sort_by(|a, b| a.slot.cmp(&b.slot));
    list
}

/// Frames of the store room that fill a gap.
fn filler(cx: &mut Cx, node: &Node) -> Option<Frames> {
    let m = cx.map(node, &t::GAP)?;
    let count = cx.count(&m, "frames");
    let number = cx.count(&m, "store_room_entry");
    let place = text(cx, &m, "place");
    let holds = m.get("each_holds").and_then(|n| holds(cx, n));
    Some(Frames {
        line: String::new(),
        count: i64::from(count?),
        source: Source {
            colony: None,
            number: number?,
            place,
        },
        holds,
    })
}

/// Cautions; they name all that they are about and may be long.
fn cautions(cx: &mut Cx, top: &Map) -> Vec<Caution> {
    let nodes = top.get("cautions").map_or(&[][..], |n| entries(cx, n));
    let mut list = Vec::new();
    for node in nodes {
        if let Some(m) = cx.map(node, &t::CAUTION) {
            list.push(Caution {
                id: text(cx, &m, "id").unwrap_or_default(),
                text: m.get("text").map_or_else(String::new, |n| cx.prose(n)),
            });
        }
    }
    list
}

/// A list of entries with two texts each.
fn pairs(
    cx: &mut Cx,
    top: &Map,
    key: &str,
    section: &'static Section,
    (one, two): (&str, &str),
) -> Vec<[String; 2]> {
    let nodes = top.get(key).map_or(&[][..], |n| entries(cx, n));
    let mut list = Vec::new();
    for node in nodes {
        if let Some(m) = cx.map(node, section) {
            list.push([one, two].map(|key| text(cx, &m, key).unwrap_or_default()));
        }
    }
    list
}

/// A text; none where the key is missing or says nothing.
fn text(cx: &mut Cx, m: &Map, key: &str) -> Option<String> {
    let node = m.get(key)?;
    match &node.value {
        Value::Scalar { text, plain: true } if matches!(&**text, "" | "~" | "null") => None,
        _ => Some(cx.name(node)),
    }
}

/// Kinds whose boxes have one compartment each.
fn undivided(cx: &mut Cx, headline: &Map) -> BTreeSet<String> {
    let mut kinds = BTreeSet::new();
    for node in headline.get("kinds").map_or(&[][..], |n| entries(cx, n)) {
        let Some(m) = cx.map(node, &t::KIND) else {
            continue;
        };
        let mut number = |key| cx.quantity(&m, key, 1.0, None);
        let (compartments, boxes) = (number("compartments_in_all"), number("boxes_in_all"));
        if let (Some(kind), true) = (text(cx, &m, "box_kind"), compartments == boxes) {
            kinds.insert(kind);
        }
    }
    kinds
}

fn compartment(cx: &mut Cx, node: &Node) -> Option<Stocked> {
    let m = cx.map(node, &t::COMPARTMENT)?;
    let kind = m.get("box_kind").map(|n| cx.name(n));
    let (box_no, number) = (cx.count(&m, "box_no"), cx.count(&m, "compartment"));
    let mut given = Vec::new();
    for n in m.get("frames").map_or(&[][..], |n| entries(cx, n)) {
        given.extend(frames(cx, n).filter(|frames| frames.count > 0));
    }
    let mut taken: BTreeMap<String, Bees> = BTreeMap::new();
    for n in m.get("bees").map_or(&[][..], |n| entries(cx, n)) {
        let Some((colony, bees)) = bees(cx, n).filter(|(_, bees)| bees.taken > 0) else {
            continue;
        };
        match taken.get_mut(&colony) {
            Some(sum) => {
                sum.taken += bees.taken;
                sum.riding = sum.riding.zip(bees.riding).map(|(a, b)| a + b);
            }
            None => drop(taken.insert(colony, bees)),
        }
    }
    let site = text(cx, &m, "site");
    let feed = cx.quantity(&m, "feed_kg", 1000.0, None);
    let done = match text(cx, &m, "done").as_deref() {
        Some("begun") => Some(Progress::Begun),
        Some("finished") => Some(Progress::Finished),
        _ => None,
    };
    Some(Stocked {
        slot: Slot {
            kind: kind?,
            box_no: box_no?,
            compartment: number?,
        },
        site,
        frames: given,
        bees: taken,
        feed,
        done,
        stands: m.get("stands").is_some(),
    })
}

fn bees(cx: &mut Cx, node: &Node) -> Option<(String, Bees)> {
    let m = cx.map(node, &t::BEES)?;
    let colony = m.get("colony").map(|n| cx.name(n));
    let (bees, riding) = counted(cx, &m);
    let hundreds = |bees: i64| 100 * nearest(bees);
    let bees = Bees {
        taken: hundreds(bees?),
        riding: riding.map(hundreds),
    };
    Some((colony?, bees))
}

fn frames(cx: &mut Cx, node: &Node) -> Option<Frames> {
    let m = cx.map(node, &t::FRAMES)?;
    let line = m.get("line").map(|n| cx.name(n));
    let count = cx.count(&m, "frames");
    let from = match origin(cx, &m) {
        Some(Origin::Colony(colony, _)) => {
            let number = cx.count(&m, "frame_group");
            Some(Some(cx.name(colony))).zip(number)
        }
        Some(Origin::StoreRoom(_)) => Some(None).zip(cx.count(&m, "store_room_entry")),
        None => None,
    };
    let holds = m.get("each_holds").and_then(|n| holds(cx, n));
    let place = text(cx, &m, "place");
    let (colony, number) = from?;
    Some(Frames {
        line: line?,
        count: i64::from(count?),
        source: Source {
            colony,
            number,
            place,
        },
        holds,
    })
}

fn holds(cx: &mut Cx, node: &Node) -> Option<Holds> {
    let m = cx.map(node, &t::HOLDS)?;
    let comb = text(cx, &m, "comb");
    let mut share = |key| {
        let milli = cx.quantity(&m, key, 1000.0, None)?;
        Some(decimal(milli, 1000.0))
    };
    let shares = ["brood_share", "sealed_share", "stores_share", "drawn_share"];
    let [brood, sealed, stores, drawn] = shares.map(&mut share);
    Some(Holds {
        comb: comb?,
        brood_share: brood?,
        sealed_share: sealed?,
        stores_share: stores?,
        drawn_share: drawn?,
        // Bees are compared by what is taken, not by what sits on a frame.
        bees: 0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_plan_may_leave_out_is_left_out() {
        let text = b"{spareframe_plan: 2, compartments: [{box_kind: a, box_no: 1, compartment: 2, \
                     frames: [{line: brood, frames: 2, colony: 3, frame_group: 1}], bees: []}]}";
        let read = read_sheet("plan", text);
        assert_eq!(read.findings, []);
        let sheet = read.sheet.unwrap();
        assert_eq!(sheet.compartments[0].frames[0].count, 2);
        assert_eq!(sheet.compartments[0].frames[0].holds, None);
    }
}
