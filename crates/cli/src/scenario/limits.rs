//! What a colony must keep and what may be drawn from it.

use super::fields as t;
use crate::reading::{Cx, Map, word};
use s::{Bees, Grams, Milli, Milligrams, share_of};
use spareframe_solver as s;

/// Limits as a role or a colony states them.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(crate) struct Limits {
    pub keep: s::Keep,
    pub draw: s::Draw,
    /// Cap on bees as thousandths of the colony's bees; it stands instead of `draw.bees`.
    pub share: Option<Milli>,
}

impl Limits {
    /// Defaults of the role `production` (a choice: a colony that keeps them stays productive).
    pub(crate) fn production() -> Self {
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

    /// Defaults of the role `nucleus` (a choice: what is kept can build up again).
    pub(crate) fn nucleus() -> Self {
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

    /// With the share of `all` bees turned into a number of bees.
    pub(crate) fn for_bees(mut self, all: i64) -> Self {
        if let Some(share) = self.share {
            self.draw.bees = Some(Bees(share_of(share, all)));
        }
        self
    }
}

/// What `map` states over `base`, key by key. `full` is how many bees cover a frame.
pub(crate) fn limits(cx: &mut Cx, map: &Map, base: Limits, full: Option<i64>) -> Limits {
    let mut l = base;
    if map.get("draw").is_some_and(|n| word(n) == "all") {
        l = Limits::default();
    } else if let Some(draw) = map.get("draw").and_then(|n| cx.map(n, &t::DRAW)) {
        caps(cx, &draw, &mut l, full);
    }
    if let Some(keep) = map.get("keep").and_then(|n| cx.map(n, &t::KEEP)) {
        let k = &mut l.keep;
        let mut state = |key, scale, full, value: &mut i64| {
            if let Some(v) = cx.quantity(&keep, key, scale, full) {
                *value = v;
            }
        };
        state("brood", 1000.0, None, &mut k.brood.0);
        state("bees", 1.0, full, &mut k.bees.0);
        state("stores", 1.0, None, &mut k.stores.0);
        state("drawn", 1000.0, None, &mut k.drawn.0);
    }
    l
}

fn caps(cx: &mut Cx, draw: &Map, l: &mut Limits, full: Option<i64>) {
    // The outer option says whether the key is there and readable, the inner one is the cap.
    let mut cap = |key, scale| match draw.get(key) {
        Some(n) if word(n) == "none" => Some(None),
        Some(n) if key == "bees" && word(n).contains('%') => {
            let share = cx.value(n, crate::reading::Kind::Share, (0.0, 1.0), 1000.0, None)?;
            l.share = Some(Milli(share));
            Some(None)
        }
        Some(_) => {
            let value = cx.quantity(draw, key, scale, full)?;
            if key == "bees" {
                l.share = None;
            }
            Some(Some(value))
        }
        None => None,
    };
    let (frames, brood) = (cap("frames", 1.0), cap("brood", 1000.0));
    let (bees, honey) = (cap("bees", 1.0), cap("honey", 1000.0));
    if let Some(v) = frames {
        l.draw.frames = v.and_then(|v| u32::try_from(v).ok());
    }
    if let Some(v) = brood {
        l.draw.brood = v.map(Milli);
    }
    if let Some(v) = bees {
        if draw.get("bees").is_some_and(|n| word(n) == "none") {
            l.share = None;
        }
        l.draw.bees = v.map(Bees);
    }
    if let Some(v) = honey {
        l.draw.honey = v.map(Milligrams);
    }
}
