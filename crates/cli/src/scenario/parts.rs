//! Colonies, frames, limits and recipes.

use super::cx::{Cx, Map, word};
use super::tables as t;
use super::tree::Node;
use super::whole::date;
use s::{Bees, CombId, FrameGroup, FrameState, Grams, Milli, Milligrams, share_of};
use spareframe_solver as s;

#[derive(Default)]
pub(crate) struct Known {
    pub combs: Vec<s::Comb>,
    pub sites: Vec<String>,
    pub roles: Vec<(String, Limits)>,
    pub day: Option<jiff::civil::Date>,
}
impl Known {
    pub fn comb(&self, cx: &mut Cx, m: &Map, default: CombId) -> CombId {
        let Some(n) = m.get("comb") else {
            return default;
        };
        if let Some(i) = self.combs.iter().position(|c| c.name == word(n)) {
            return CombId(i);
        }
        let names: Vec<String> = self.combs.iter().map(|c| c.name.clone()).collect();
        cx.find(n, "comb", &names).map_or(default, CombId)
    }
    pub fn bees_on(&self, c: CombId) -> i64 {
        self.combs.get(c.0).map_or(0, |c| c.bees.0)
    }
    pub fn site(&self, cx: &mut Cx, m: &Map) -> usize {
        match m.get("site") {
            Some(n) => cx.find(n, "site", &self.sites).unwrap_or(0),
            None => {
                if self.sites.len() != 1 {
                    cx.error(
                        "missing-key",
                        m.at,
                        "no `site`",
                        "a site, as there are several",
                        "add `site:`",
                    );
                }
                0
            }
        }
    }
}

/// Resolved limits; the share is a cap on bees relative to the colony.
#[derive(Clone, Copy, Default)]
pub(crate) struct Limits {
    pub keep: s::Keep,
    pub draw: s::Draw,
    pub share: Option<i64>,
}
impl Limits {
    pub fn production() -> Self {
        Self {
            keep: s::Keep {
                brood: Milli(6000),
                bees: Bees(20_000),
                stores: Grams(10_000),
                drawn: Milli(0),
            },
            draw: s::Draw {
                frames: Some(2),
                brood: None,
                bees: None,
                honey: Some(Milligrams(3_000_000)),
            },
            share: None,
        }
    }
    pub fn nucleus() -> Self {
        Self {
            keep: s::Keep {
                brood: Milli(1000),
                bees: Bees(2500),
                stores: Grams(1000),
                drawn: Milli(0),
            },
            ..Self::default()
        }
    }
}

pub(crate) fn limits(cx: &mut Cx, m: &Map, base: Limits, comb: Option<i64>, all: i64) -> Limits {
    let mut l = base;
    if m.get("draw").is_some_and(|n| word(n) == "all") {
        l = Limits::default();
    } else if let Some(d) = m.get("draw").and_then(|n| cx.map(n, &t::DRAW)) {
        l.draw.frames = cx
            .quantity(&d, "frames", 1.0, None)
            .map(|v| v as u32)
            .or(l.draw.frames);
        l.draw.brood = cx
            .quantity(&d, "brood", 1000.0, None)
            .map(Milli)
            .or(l.draw.brood);
        l.draw.honey = cx
            .quantity(&d, "honey", 1000.0, None)
            .map(Milligrams)
            .or(l.draw.honey);
        if let Some(n) = d.get("bees") {
            if word(n).contains('%') {
                l.share = cx.value(n, "share", 0.0, 1.0, 1000.0, None);
                l.draw.bees = None;
            } else if let Some(v) = cx.quantity(&d, "bees", 1.0, comb) {
                l.draw.bees = Some(Bees(v));
                l.share = None;
            }
        }
    }
    if let Some(k) = m.get("keep").and_then(|n| cx.map(n, &t::KEEP)) {
        l.keep.brood = cx
            .quantity(&k, "brood", 1000.0, None)
            .map_or(l.keep.brood, Milli);
        l.keep.bees = cx.quantity(&k, "bees", 1.0, comb).map_or(l.keep.bees, Bees);
        l.keep.stores = cx
            .quantity(&k, "stores", 1.0, None)
            .map_or(l.keep.stores, Grams);
        l.keep.drawn = cx
            .quantity(&k, "drawn", 1000.0, None)
            .map_or(l.keep.drawn, Milli);
    }
    if let Some(share) = l.share.filter(|_| all > 0) {
        l.draw.bees = Some(Bees(share_of(Milli(share), all)));
    }
    l
}

pub(crate) fn frame(
    cx: &mut Cx,
    node: &Node,
    comb: CombId,
    known: &Known,
    spare: bool,
) -> Option<FrameGroup> {
    let m = cx.map(node, &t::FRAME)?;
    let comb = known.comb(cx, &m, comb);
    let q = |cx: &mut Cx, k: &str| cx.quantity(&m, k, 1000.0, None);
    let (brood, stores) = (q(cx, "brood").unwrap_or(0), q(cx, "stores").unwrap_or(0));
    let (drawn, sealed) = (
        q(cx, "drawn").unwrap_or(1000),
        q(cx, "sealed").unwrap_or(570),
    );
    let usual = if spare || drawn == 0 {
        0
    } else if brood > 0 {
        1000
    } else {
        500
    };
    let bees = q(cx, "bees").unwrap_or(usual);
    if brood + stores > drawn {
        cx.error(
            "frame-overfull",
            node.at,
            format!(
                "brood and stores of {} % on {} % drawn",
                (brood + stores) / 10,
                drawn / 10
            ),
            "no more than is drawn",
            "lower brood or stores, or raise drawn",
        );
        return None;
    }
    if spare && (brood > 0 || bees > 0) {
        cx.error(
            "out-of-range",
            node.at,
            "brood or bees in the store room",
            "neither",
            "move the frame to a colony",
        );
        return None;
    }
    Some(FrameGroup {
        count: cx.quantity(&m, "count", 1.0, None).unwrap_or(1) as u32,
        frame: FrameState {
            comb,
            brood: Milli(brood),
            sealed: Milli(share_of(Milli(sealed), brood)),
            stores: Milli(stores),
            drawn: Milli(drawn),
            bees: Milli(bees),
        },
        queen: cx.flag(m.get("queen")),
    })
}

/// Quick counts, frame by frame: see the reference.
fn quick(cx: &mut Cx, m: &Map, comb: CombId, known: &Known) -> (Vec<FrameGroup>, i64) {
    let full = known.bees_on(comb).max(1);
    let sealed = cx.quantity(m, "sealed", 1000.0, None).unwrap_or(570);
    let brood = cx.quantity(m, "brood", 1000.0, None).unwrap_or(0);
    let stores = cx.quantity(m, "stores", 1000.0, None).unwrap_or(0);
    let empty = cx.quantity(m, "empty", 1.0, None).unwrap_or(0);
    let bare = cx.quantity(m, "foundation", 1.0, None).unwrap_or(0);
    let mut left = cx.quantity(m, "bees", 1.0, Some(full));
    let mut out: Vec<FrameGroup> = Vec::new();
    let mut add = |brood: i64, stores: i64, drawn: i64, usual: i64, left: &mut Option<i64>| {
        let bees = match left {
            Some(l) if drawn > 0 => {
                let b = (*l * 1000 / full).min(1000);
                *l -= share_of(Milli(b), full).min(*l);
                b
            }
            Some(_) => 0,
            None => usual,
        };
        let f = FrameState {
            comb,
            brood: Milli(brood),
            sealed: Milli(share_of(Milli(sealed), brood)),
            stores: Milli(stores),
            drawn: Milli(drawn),
            bees: Milli(bees),
        };
        match out.last_mut() {
            Some(g) if g.frame == f => g.count += 1,
            _ => out.push(FrameGroup {
                count: 1,
                frame: f,
                queen: false,
            }),
        }
    };
    let steps = |total: i64| (0..(total + 999) / 1000).map(move |i| (total - i * 1000).min(1000));
    steps(brood).for_each(|b| add(b, 0, 1000, 1000, &mut left));
    steps(stores).for_each(|v| add(0, v, 1000, 500, &mut left));
    (0..empty).for_each(|_| add(0, 0, 1000, 0, &mut left));
    (0..bare).for_each(|_| add(0, 0, 0, 0, &mut left));
    (out, left.unwrap_or(0))
}

pub(crate) fn colony(cx: &mut Cx, name: String, node: &Node, known: &Known) -> Option<s::Colony> {
    let m = cx.map(node, &t::COLONY)?;
    let site = s::SiteId(known.site(cx, &m));
    let comb = known.comb(cx, &m, CombId(0));
    let full = known.bees_on(comb);
    let counts = ["brood", "sealed", "stores", "empty", "foundation", "bees"]
        .iter()
        .find_map(|k| m.get(k));
    let (frames, over) = if let Some(n) = m.get("frames") {
        if let Some(c) = counts {
            cx.error(
                "two-readings",
                c.at,
                "quick counts beside `frames`",
                "one of the two",
                "remove the quick counts; for loose bees use `extra bees`",
            );
        }
        (
            cx.list(n)
                .iter()
                .filter_map(|n| frame(cx, n, comb, known, false))
                .collect(),
            0,
        )
    } else {
        quick(cx, &m, comb, known)
    };
    let extra = over + cx.quantity(&m, "extra bees", 1.0, Some(full)).unwrap_or(0);
    let sum = |f: fn(&FrameGroup) -> i64| -> i64 {
        frames.iter().map(|g| f(g) * i64::from(g.count)).sum()
    };
    let bees = extra
        + frames
            .iter()
            .map(|g| share_of(g.frame.bees, known.bees_on(g.frame.comb)) * i64::from(g.count))
            .sum::<i64>();
    let role = m.get("role").map_or("production", word);
    let base = known.roles.iter().find(|(n, _)| n == role).map(|(_, l)| *l);
    if let (None, Some(n)) = (base, m.get("role")) {
        cx.find(
            n,
            "role",
            &known
                .roles
                .iter()
                .map(|(n, _)| n.clone())
                .collect::<Vec<_>>(),
        );
    }
    let l = limits(cx, &m, base.unwrap_or_default(), Some(full), bees);
    if let Some(k) = m.get("keep")
        && (l.keep.brood.0 > sum(|g| g.frame.brood.0)
            || l.keep.bees.0 > bees
            || l.keep.drawn.0 > sum(|g| g.frame.drawn.0))
    {
        cx.warn(
            "keep-above",
            k.at,
            format!("more to keep than colony `{name}` has"),
            "floors it can hold",
            "lower the floors; as it is, nothing can be drawn",
        );
    }
    if frames.is_empty() && m.get("frames").is_none() && m.get("hold").is_none() {
        cx.warn(
            "empty",
            node.at,
            "a colony without frames",
            "`frames` or quick counts",
            "say what it holds",
        );
    }
    let crop = crop(cx, &m, known);
    Some(s::Colony {
        name,
        site,
        role: role.to_owned(),
        hold: m.get("hold").map(|n| cx.name(n)),
        frames,
        extra_bees: Bees(extra),
        crop,
        keep: l.keep,
        draw: l.draw,
    })
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
    let list = cx.list(node);
    let [a, b] = list else {
        cx.error(
            "wrong-type",
            node.at,
            "not two dates",
            "[first day, last day]",
            "write two dates",
        );
        return None;
    };
    let (a, b) = (date(cx, a)?, date(cx, b)?);
    let Some(day) = known.day else {
        cx.error(
            "flow-without-day",
            node.at,
            "a flow without a stocking day",
            "`day` at the top",
            "add `day: 2031-05-20`",
        );
        return None;
    };
    if b < a {
        cx.error(
            "dates-order",
            node.at,
            "a flow that ends before it begins",
            "first day, then last day",
            "swap the dates",
        );
        return None;
    }
    let from = (a - day).get_days();
    let to = (b - day).get_days();
    if from < -400 || to > 400 {
        cx.error(
            "out-of-range",
            node.at,
            "a flow far from the stocking day",
            "within 400 days of `day`",
            "correct the year",
        );
        return None;
    }
    Some(s::Crop {
        honey: Grams(honey),
        from,
        to,
    })
}
