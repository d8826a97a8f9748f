//! Colonies.

use super::counted::counted;
use super::fields as t;
use super::frames::{Frames, QUICK, frame, quick};
use super::known::Known;
use super::limits::{HUNDREDS, limits};
use super::weeks::{ColonyCount, Weeks, weeks};
use super::whole::date;
use crate::reading::{Cx, Map, Node, Value, amount, describe, number, plain, word};
use s::{CombId, FrameGroup, Grams, Hundreds, Percent, share_of};
use spareframe_solver as s;

/// A colony and where each of its frame groups hangs.
pub(crate) struct Donor {
    pub colony: s::Colony,
    /// Bees that cover a frame of its own comb.
    pub full: Hundreds,
    pub places: Vec<Option<String>>,
    /// Whether it is counted in quick counts.
    pub quick: bool,
    /// The count that it is reckoned from.
    pub count: ColonyCount,
    /// Wishes: frame group, none for all, and how many frames.
    pub gives: Vec<(Option<usize>, u32)>,
}

pub(crate) fn colony(cx: &mut Cx, name: String, node: &Node, known: &Known) -> Option<Donor> {
    let m = cx.map(node, &t::COLONY)?;
    let site = known.site(cx, &m);
    let comb = known.comb(cx, &m, CombId(0));
    let full = known.bees_on(comb);
    let hold = hold(cx, &m);
    let Content {
        groups,
        places,
        mut gives,
        over,
    } = content(cx, &m, comb, known);
    let quick = m.get("frames").is_none();
    gives.extend(cx.count(&m, "give").map(|frames| (None, frames)));
    gives.retain(|&(_, frames)| frames > 0);
    let extra = cx.quantity(&m, "extra bees", HUNDREDS, Some(full.bees().0));
    let extra = over + Hundreds(extra.unwrap_or(0));
    let bees = extra + Hundreds(sum(&groups, |g| g.frame.bees.0));
    counted(cx, &m, (&name, node.at), (&groups, bees), known);
    let empty = groups.is_empty();
    let as_counted = s::Colony {
        name,
        site,
        frames: groups,
        extra_bees: extra,
        crop: crop(cx, &m, known),
        ..untouched()
    };
    let Weeks {
        colony: then,
        count,
        places,
    } = weeks(cx, &m, (as_counted, places), (comb, quick), known);
    let bees = then.extra_bees + Hundreds(sum(&then.frames, |g| g.frame.bees.0));
    let (role, base) = known.limits(cx, &m);
    let limits = limits(cx, &m, base, known).resolved(full, bees, known.rides);
    if empty && m.get("frames").is_none() && hold.is_none() {
        cx.warn(
            "empty",
            node.at,
            "a colony without frames",
            "`frames` or quick counts",
            "say what it holds",
        );
    }
    let colony = s::Colony {
        role,
        hold,
        keep: limits.keep,
        draw: limits.draw,
        rides: limits.rides,
        apart: limits.apart,
        ..then
    };
    keep_above(cx, &m, &colony, bees, known);
    // Bees that cover what brood is left hold nobody back from taking all of it.
    let covered = limits.keep.covered;
    let floors = s::Keep {
        covered,
        ..s::Keep::default()
    };
    let free = limits.keep == floors && limits.draw == s::Draw::default();
    let meant = m.get("draw").is_some_and(|n| word(n) == "all");
    let for_honey = colony.crop.is_some() || colony.role == "production";
    if free && !meant && for_honey && colony.hold.is_none() {
        cx.warn(
            "no-limits",
            node.at,
            format!("colony `{}` with neither floors nor caps", colony.name),
            "`keep` or `draw`",
            "add limits, or `draw: all` if it may be taken apart",
        );
    }
    Some(Donor {
        colony,
        full,
        quick,
        count,
        places,
        gives,
    })
}

/// A colony without anything that its limits say.
fn untouched() -> s::Colony {
    s::Colony {
        name: String::new(),
        site: s::SiteId(0),
        role: String::new(),
        hold: None,
        frames: Vec::new(),
        extra_bees: Hundreds(0),
        crop: None,
        keep: s::Keep::default(),
        draw: s::Draw::default(),
        rides: Percent(0),
        apart: false,
    }
}

/// Frame groups, their places and the wishes for them, and bees besides.
struct Content {
    groups: Vec<FrameGroup>,
    places: Vec<Option<String>>,
    gives: Vec<(Option<usize>, u32)>,
    over: Hundreds,
}

fn content(cx: &mut Cx, m: &Map, comb: CombId, known: &Known) -> Content {
    let count = m
        .get("frames")
        .filter(|n| number(word(n)).is_some_and(|(n, _)| !n.is_empty()));
    if let Some(node) = count {
        cx.error(
            "wrong-type",
            node.at,
            describe(node),
            "a list of frames",
            format!(
                "for how many frames there are, write `all frames: {}`",
                word(node)
            ),
        );
    }
    let Some(list) = m.get("frames").filter(|_| count.is_none()) else {
        let (groups, over) = quick(cx, m, comb, known);
        return Content {
            places: vec![None; groups.len()],
            groups,
            gives: Vec::new(),
            over,
        };
    };
    if let Some(count) = QUICK.iter().find_map(|k| m.get(k)) {
        cx.error(
            "two-readings",
            count.at,
            "quick counts beside `frames`",
            "one of the two",
            "remove the quick counts; for loose bees use `extra bees`",
        );
    }
    let frames: Vec<Frames> = cx
        .list(list)
        .iter()
        .filter_map(|n| frame(cx, n, comb, known, false))
        .collect();
    let gives = frames.iter().enumerate();
    let gives = gives.map(|(group, f)| (Some(group), f.give)).collect();
    let (groups, places) = frames.into_iter().map(|f| (f.group, f.place)).unzip();
    Content {
        groups,
        places,
        gives,
        over: Hundreds(0),
    }
}

fn sum(groups: &[FrameGroup], each: impl Fn(&FrameGroup) -> i64) -> i64 {
    groups
        .iter()
        .map(|g| each(g).saturating_mul(i64::from(g.count)))
        .fold(0, i64::saturating_add)
}

/// The reason of a hold. `no` is none, `yes` a hold without a reason.
fn hold(cx: &mut Cx, m: &Map) -> Option<String> {
    let node = m.get("hold")?;
    match word(node) {
        "no" | "false" => None,
        "" | "yes" | "true" | "~" | "null" => {
            cx.warn(
                "hold-without-reason",
                node.at,
                "a hold without a reason",
                "a reason, such as `treatment until 28 May`",
                "write why, so that the plan can say it",
            );
            Some("no reason given".to_owned())
        }
        _ => Some(cx.name(node)),
    }
}

/// Floors that the colony itself states and cannot hold even untouched.
fn keep_above(cx: &mut Cx, m: &Map, colony: &s::Colony, bees: Hundreds, known: &Known) {
    let (frames, keep) = (&colony.frames, &colony.keep);
    let stores_on = |g: &FrameGroup| {
        let comb = known.combs.get(g.frame.comb.0);
        comb.map_or(0, |c| share_of(g.frame.stores, c.stores.0))
    };
    let brood = sum(frames, |g| g.frame.brood.0);
    let drawn = sum(frames, |g| g.frame.drawn.0);
    for (key, floor, has, scale) in [
        ("brood", keep.brood.0, brood, 1000.0),
        ("bees", keep.bees.0, bees.0, HUNDREDS),
        ("stores", keep.stores.0, sum(frames, stores_on), 1.0),
        ("drawn", keep.drawn.0, drawn, 1000.0),
    ] {
        let field = t::KEEP.fields.iter().find(|f| f.key == key);
        let stated = m.get("keep").and_then(|n| n.get(key));
        if let (true, Some(node), Some(field)) = (floor > has, stated, field) {
            let show = |v: i64| amount(field.kind, v as f64 / scale);
            cx.warn(
                "keep-above",
                node.at,
                format!("{key} of {} for colony `{}`", show(floor), colony.name),
                format!("no more than it has, {}", show(has)),
                "lower the floor; until then the colony gives nothing",
            );
        }
    }
}

fn crop(cx: &mut Cx, m: &Map, known: &Known) -> Option<s::Crop> {
    let honey = cx.quantity(m, "crop", 1.0, None);
    let (Some(honey), Some(node)) = (honey, m.get("flow")) else {
        for (a, b) in [("crop", "flow"), ("flow", "crop")] {
            if let (Some(n), None) = (m.get(a), m.get(b)) {
                cx.error(
                    "missing-key",
                    n.at,
                    format!("`{a}` without `{b}`"),
                    format!("both `{a}` and `{b}`"),
                    format!("add `{b}:`"),
                );
            }
        }
        return None;
    };
    let (from, to) = spell(cx, node, known, "flow")?;
    if to < 0 {
        cx.warn(
            "flow-over",
            node.at,
            "a flow that is over on the stocking day",
            "a flow still to come",
            "correct the dates, or remove crop and flow",
        );
    }
    Some(s::Crop {
        honey: Grams(honey),
        from,
        to,
    })
}

/// First and last day of a flow or a dearth, counted from the stocking day.
pub(super) fn spell(
    cx: &mut Cx,
    node: &Node,
    known: &Known,
    what: &'static str,
) -> Option<(i32, i32)> {
    let both: Vec<&str> = word(node).split(" to ").map(str::trim).collect();
    let dates = if let Value::List(list) = &node.value {
        list.as_slice()
    } else {
        &[]
    };
    let [a, b] = dates else {
        cx.error(
            "wrong-type",
            node.at,
            "not two dates",
            "[first day, last day]",
            match both.as_slice() {
                [first, last] if !last.is_empty() => {
                    format!("did you mean `[{}, {}]`?", plain(first), plain(last))
                }
                _ => "write two dates, as [2031-06-10, 2031-07-05]".to_owned(),
            },
        );
        return None;
    };
    let (a, b) = (date(cx, a), date(cx, b));
    let (a, b) = (a?, b?);
    if known.has_day && known.day.is_none() {
        return None;
    }
    let Some(day) = known.day else {
        cx.error(
            "dates-without-day",
            node.at,
            format!("a {what} without a stocking day"),
            "`day` at the top",
            "add `day: 2031-05-20`",
        );
        return None;
    };
    if b < a {
        cx.error(
            "dates-order",
            node.at,
            format!("a {what} that ends before it begins"),
            "first day, then last day",
            "swap the dates",
        );
        return None;
    }
    let (from, to) = ((a - day).get_days(), (b - day).get_days());
    if from < -400 || to > 400 {
        cx.error(
            "out-of-range",
            node.at,
            format!("a {what} far from the stocking day"),
            "within 400 days of `day`",
            "correct the year",
        );
        return None;
    }
    Some((from, to))
}
