//! What a colony is counted to hold, held against what there can be.

use super::known::Known;
use crate::reading::{At, Cx, Map, Node, Value};
use s::{FrameGroup, Hundreds, Milli, share_of};
use spareframe_colony::{BROOD_DAYS, MOST_EGGS, SEALED_DAYS};
use spareframe_solver as s;

/// Most eggs that a queen lays in a day, over weeks (Swiss training note, seen: 2000 a day, 42,000 brood
/// cells in all).
const EGGS: i64 = MOST_EGGS as i64;
/// Days that brood is in its cell, and those of them that it is sealed.
const DAYS: i64 = BROOD_DAYS as i64;
const DAYS_SEALED: i64 = SEALED_DAYS as i64;
/// How much of the most, in percent, all brood may be (a choice: nobody counts shares of combs more closely).
const OF_ALL: i64 = 105;
/// How much of the most, in percent, sealed or open brood alone may be (a choice): which cells are sealed is
/// hardly counted, and laying swings.
const OF_PARTS: i64 = 125;

/// More bees and stores than a hive holds (a choice: the largest colonies that Farrar 1958 counted had 60,000; six
/// full deep supers are some 100 kg).
const BEES: i64 = 80_000;
const STORES: i64 = 100_000;

/// Finds more frames than the hive has, more brood than a queen lays, and more than any hive holds.
pub(crate) fn counted(
    cx: &mut Cx,
    m: &Map,
    (name, at): (&str, At),
    (groups, bees): (&[FrameGroup], Hundreds),
    known: &Known,
) {
    let most = cx.quantity(m, "all frames", 1.0, None);
    let there: i64 = groups.iter().map(|g| i64::from(g.count)).sum();
    if let (Some(most), Some(node)) = (most, m.get("all frames"))
        && there > most
    {
        cx.error(
            "too-many-frames",
            node.at,
            format!("{there} frames counted in colony `{name}`, and {most} in all"),
            "no more than there are",
            "a comb with brood and stores counts once; correct the counts, or `all frames`",
        );
    }
    laid(cx, m, (name, at), groups, known);
    held(cx, m, (name, at), (groups, bees.bees().0), known);
}

/// Warns of more bees or stores than a hive holds.
fn held(
    cx: &mut Cx,
    m: &Map,
    (name, at): (&str, At),
    (groups, bees): (&[FrameGroup], i64),
    known: &Known,
) {
    let on = |g: &FrameGroup| share_of(g.frame.stores, known.stores_on(g.frame.comb));
    let stores = groups.iter().map(|g| on(g).saturating_mul(g.count.into()));
    let stores = stores.fold(0, i64::saturating_add);
    let rows = [
        ("bees", format!("{bees} bees"), bees > BEES, "80,000 bees"),
        (
            "stores",
            format!("{} kg of stores", stores / 1000),
            stores > STORES,
            "100 kg",
        ),
    ];
    for (key, found, over, most) in rows {
        if over {
            let node = m.get(key).or(m.get("frames"));
            cx.warn(
                "more-than-a-hive",
                node.map_or(at, |n| n.at),
                format!("{found} in colony `{name}`"),
                format!("at most {most}"),
                "count again: combs with bees on both sides count once, full frames are rare; check the comb size",
            );
        }
    }
}

/// The first brood in a list of frames, else the list.
fn first_brood<'a>(frames: &'a Node<'a>) -> &'a Node<'a> {
    match &frames.value {
        Value::List(items) => items.iter().find_map(|item| item.get("brood")),
        _ => None,
    }
    .unwrap_or(frames)
}

/// Warns of brood that no queen has laid.
fn laid(cx: &mut Cx, m: &Map, (name, at): (&str, At), groups: &[FrameGroup], known: &Known) {
    let cells = |of: fn(&FrameGroup) -> Milli| {
        let on = |g: &FrameGroup| share_of(of(g), known.cells_on(g.frame.comb));
        let all = groups.iter().map(|g| on(g).saturating_mul(g.count.into()));
        all.fold(0, i64::saturating_add)
    };
    let all = cells(|g| g.frame.brood);
    let sealed = cells(|g| g.frame.sealed);
    let rows = [
        ("brood cells", all, DAYS, OF_ALL),
        ("sealed cells", sealed, DAYS_SEALED, OF_PARTS),
        ("open cells", all - sealed, DAYS - DAYS_SEALED, OF_PARTS),
    ];
    let over =
        |(_, found, days, percent): &&(_, i64, i64, i64)| found * 100 > EGGS * days * percent;
    if let Some((what, found, days, _)) = rows.iter().find(over) {
        let node = m.get("brood").or(m.get("frames").map(first_brood));
        cx.warn(
            "more-than-laid",
            node.map_or(at, |n| n.at),
            format!("{found} {what} in colony `{name}`"),
            format!(
                "about {} at most, {EGGS} eggs a day for {days} days",
                EGGS * days
            ),
            "count again: how many combs have brood, and which share of each; check the comb size",
        );
    }
}
