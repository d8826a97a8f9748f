//! What a colony must keep, what may be drawn from it, and what rides with its brood.

use super::fields as t;
use super::frames::BROOD_AT_A_GLANCE;
use super::known::Known;
use crate::reading::{Cx, Exact, Kind, Map, Node, split, word};
use s::{Grams, Hundreds, Milli, Percent};
use spareframe_solver as s;

/// Hundreds of bees: the scale of a figure in bees.
pub(crate) const HUNDREDS: f64 = 0.01;

/// Bees as a role or a colony states them, exact until the colony is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Bees {
    /// Bees.
    Number(Exact),
    /// Frames of the colony's comb.
    Frames(Exact),
    /// Of all bees of the colony.
    Share(Exact),
}

impl Bees {
    fn is_nothing(self) -> bool {
        let (Self::Number(figure) | Self::Frames(figure) | Self::Share(figure)) = self;
        figure.is_nothing()
    }
}

/// Limits as a role or a colony states them.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Limits {
    keep: s::Keep,
    draw: s::Draw,
    /// Floor and cap of bees; they stand instead of those in `keep` and `draw`.
    floor: Option<Bees>,
    cap: Option<Bees>,
    /// What rides; none where that is for the settings to say.
    rides: Option<Percent>,
    /// Rides nothing because a file of version 1 has a cap of 0 bees.
    bare: bool,
    /// The colony may be taken apart whole.
    apart: bool,
}

/// Limits of one colony.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Resolved {
    pub keep: s::Keep,
    pub draw: s::Draw,
    pub rides: Percent,
    pub apart: bool,
}

impl Limits {
    /// Defaults of the role `production` (a choice: a colony that keeps them stays productive).
    pub(crate) fn production() -> Self {
        Self {
            keep: keep(4000, 200, 10_000),
            draw: s::Draw {
                frames: Some(2),
                honey: Some(Grams(3000)),
                ..s::Draw::default()
            },
            ..Self::default()
        }
    }

    /// Defaults of the role `nucleus` (a choice: what is kept can build up again).
    pub(crate) fn nucleus() -> Self {
        Self {
            keep: keep(1000, 25, 1000),
            ..Self::default()
        }
    }

    /// For a colony of which `full` bees cover a frame and that has `all` bees.
    pub(crate) fn resolved(self, full: Hundreds, all: Hundreds, rides: Percent) -> Resolved {
        let (mut keep, mut draw) = (self.keep, self.draw);
        let bees = |stated: Option<Bees>, number: fn(Exact, f64) -> i64| {
            stated.map(|stated| match stated {
                Bees::Number(bees) => Hundreds(number(bees, HUNDREDS)),
                Bees::Frames(frames) => Hundreds(frames.nearest(full.0 as f64)),
                Bees::Share(share) => Hundreds(share.nearest(all.0 as f64)),
            })
        };
        keep.bees = bees(self.floor, Exact::up).unwrap_or(keep.bees);
        draw.bees = bees(self.cap, Exact::down);
        let none = Percent(0);
        let usual = if self.bare { none } else { rides };
        Resolved {
            keep,
            draw,
            rides: self.rides.unwrap_or(usual),
            apart: self.apart,
        }
    }
}

fn keep(brood: i64, bees: i64, stores: i64) -> s::Keep {
    s::Keep {
        brood: Milli(brood),
        bees: Hundreds(bees),
        stores: Grams(stores),
        drawn: Milli(0),
        covered: Percent(100),
    }
}

/// A share in whole percent.
pub(crate) fn percent(cx: &mut Cx, map: &Map, key: &str) -> Option<Percent> {
    cx.quantity(map, key, 100.0, None).map(Percent)
}

/// What `map` states over `base`, key by key.
pub(crate) fn limits(cx: &mut Cx, map: &Map, base: Limits, known: &Known) -> Limits {
    let mut l = base;
    let draw = map.get("draw");
    if draw.is_some_and(|n| word(n) == "all") {
        l = Limits {
            rides: base.rides,
            apart: true,
            ..Limits::default()
        };
    } else if let Some(draw) = draw.and_then(|n| cx.map(n, &t::DRAW)) {
        l.apart = false;
        caps(cx, &draw, &mut l, known);
    }
    if let Some(keep) = map.get("keep").and_then(|n| cx.map(n, &t::KEEP)) {
        floors(cx, &keep, &mut l);
    }
    l.rides = percent(cx, map, "rides").or(l.rides);
    l
}

/// Limits that a role states. One that lets its colonies be taken apart has no floors.
pub(crate) fn of_role(cx: &mut Cx, map: &Map, known: &Known) -> Limits {
    let mut l = limits(cx, map, Limits::default(), known);
    if let (true, Some(keep)) = (l.apart, map.get("keep")) {
        cx.warn(
            "set-aside",
            keep.at,
            "`keep` in a role with `draw: all`",
            "one of the two: `draw: all` sets the floors of the role aside",
            "remove `keep`, or write it in the colonies themselves",
        );
        (l.keep, l.floor) = (s::Keep::default(), None);
    }
    l
}

fn floors(cx: &mut Cx, keep: &Map, l: &mut Limits) {
    let k = &mut l.keep;
    let mut state = |key, scale, value: &mut i64| {
        if let Some(v) = cx.quantity(keep, key, scale, None) {
            *value = v;
        }
    };
    state("stores", 1.0, &mut k.stores.0);
    state("drawn", 1000.0, &mut k.drawn.0);
    state("covered", 100.0, &mut k.covered.0);
    if let Some(brood) = cx.combs(keep, "brood", BROOD_AT_A_GLANCE) {
        k.brood.0 = brood.total;
    }
    let bees = keep.get("bees").and_then(|n| bees(cx, n));
    l.floor = bees.or(l.floor);
}

/// Bees as a number, in frames or as a share.
fn bees(cx: &mut Cx, node: &Node) -> Option<Bees> {
    let range = t::KEEP.fields.iter().find(|f| f.key == "bees")?.range?;
    match split(word(node)) {
        Some((_, "frame" | "frames")) => {
            cx.exact(node, Kind::Frames, FRAMES, None).map(Bees::Frames)
        }
        _ => cx.exact(node, Kind::Bees, range, None).map(Bees::Number),
    }
}

/// Most frames that bees may be stated in, as for floors and caps of brood.
const FRAMES: (f64, f64) = (0.0, 10_000.0);

fn caps(cx: &mut Cx, draw: &Map, l: &mut Limits, known: &Known) {
    // The outer option says whether the key is there and readable, the inner one is the cap.
    let mut cap = |key, scale| match draw.get(key) {
        Some(n) if word(n) == "none" => Some(None),
        Some(_) => Some(Some(cx.quantity(draw, key, scale, None)?)),
        None => None,
    };
    let (frames, brood) = (cap("frames", 1.0), cap("brood", 1000.0));
    let honey = cap("honey", 1.0);
    if let Some(v) = frames {
        l.draw.frames = v.and_then(|v| u32::try_from(v).ok());
    }
    if let Some(v) = brood {
        l.draw.brood = v.map(Milli);
    }
    if let Some(v) = honey {
        l.draw.honey = v.map(Grams);
    }
    if let Some(node) = draw.get("bees") {
        cap_on_bees(cx, node, l, known);
    }
}

fn cap_on_bees(cx: &mut Cx, node: &Node, l: &mut Limits, known: &Known) {
    let stated = match word(node) {
        "none" => Some(None),
        text if text.contains('%') => cx
            .exact(node, Kind::Share, (0.0, 1.0), None)
            .map(|share| Some(Bees::Share(share))),
        _ => bees(cx, node).map(Some),
    };
    let Some(stated) = stated else { return };
    (l.cap, l.bare) = (stated, false);
    let nothing = stated.is_some_and(Bees::is_nothing);
    // Where no frame may leave, it was a cap in version 1, too.
    if nothing && known.version == 1 && l.draw.frames != Some(0) {
        (l.cap, l.bare) = (None, true);
        cx.warn(
            "meaning-changed",
            node.at,
            "a cap of 0 bees in a file of version 1",
            "`rides: 0 %`, and it is read so: brood frames may leave bare, and bees have no cap",
            "write `spareframe: 2`, then `rides: 0 %` to brush frames off, `draw: {bees: 0}` to let no bee \
             leave, or both",
        );
    }
}
