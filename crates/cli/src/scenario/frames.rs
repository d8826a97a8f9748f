//! Frames of colonies and of the store room, one by one or as quick counts.

use super::fields as t;
use super::known::Known;
use super::limits::HUNDREDS;
use crate::reading::{At, Combs, Counted, Cx, Kind, Map, Node, describe, factor, split, word};
use s::{CombId, FrameGroup, FrameState, Hundreds, Milli, share_of};
use spareframe_solver as s;

/// Sealed share of the brood where none is given: 12 of 21 days (textbook values).
pub(crate) const SEALED: i64 = 570;

/// What a comb holds that a glance counts: of brood (a choice: what combs of the inner nest hold on average
/// where 2000 eggs a day, the most that a queen lays, would fill nine), and of stores (a choice).
pub(crate) const BROOD_AT_A_GLANCE: i64 = 650;
const STORES_AT_A_GLANCE: i64 = 800;

/// A frame group and where it hangs.
pub(crate) struct Frames {
    pub group: FrameGroup,
    pub place: Option<String>,
    /// Frames that are wished for.
    pub give: u32,
}

pub(crate) fn frame(
    cx: &mut Cx,
    node: &Node,
    comb: CombId,
    known: &Known,
    spare: bool,
) -> Option<Frames> {
    let m = cx.map(node, &t::FRAME)?;
    let comb = known.comb(cx, &m, comb);
    let mut q = |k: &str| cx.quantity(&m, k, 1000.0, None);
    let (brood, stores) = (q("brood").unwrap_or(0), q("stores").unwrap_or(0));
    let (drawn, sealed) = (q("drawn").unwrap_or(1000), q("sealed").unwrap_or(SEALED));
    let full = known.bees_on(comb);
    let usual = if spare || drawn == 0 {
        Hundreds(0)
    } else if brood > 0 {
        full
    } else {
        half(full)
    };
    if let Some(node) = m.get("bees")
        && let Some(counted) = counted(node)
    {
        bees_of_a_frame(cx, node, counted, full);
        return None;
    }
    let bees = cx.quantity(&m, "bees", full.0 as f64, None);
    let bees = bees.map_or(usual, Hundreds);
    let place = m.get("place").map(|n| cx.name(n));
    let queen = cx.flag(m.get("queen"));
    let give = cx.count(&m, "give").unwrap_or(0);
    if brood + stores > drawn {
        cx.error(
            "frame-overfull",
            node.at,
            format!(
                "brood and stores of {} % on {} % drawn",
                (brood + stores) as f64 / 10.0,
                drawn as f64 / 10.0
            ),
            "no more than is drawn",
            "lower brood or stores, or raise drawn",
        );
        return None;
    }
    if spare && (brood > 0 || bees.0 > 0 || queen || give > 0) {
        cx.error(
            "out-of-range",
            node.at,
            "brood, bees, a queen or a wish in the store room",
            "none of them",
            "move the frame to a colony",
        );
        return None;
    }
    let group = FrameGroup {
        count: cx.count(&m, "count").unwrap_or(1),
        frame: FrameState {
            comb,
            brood: Milli(brood),
            sealed: Milli(share_of(Milli(sealed), brood)),
            stores: Milli(stores),
            drawn: Milli(drawn),
            bees,
        },
        queen,
    };
    Some(Frames { group, place, give })
}

/// Bees of a frame where they are written as a number.
fn counted(node: &Node) -> Option<f64> {
    let bees: f64 = word(node).trim().replace('_', "").parse().ok()?;
    (bees > 100.0).then_some(bees)
}

/// Says what bees of a frame are: how much of the comb they cover.
fn bees_of_a_frame(cx: &mut Cx, node: &Node, counted: f64, full: Hundreds) {
    let full = full.bees().0 as f64;
    let covered = (counted / full.max(1.0) * 20.0).round().clamp(1.0, 20.0) * 5.0;
    cx.error(
        "out-of-range",
        node.at,
        describe(node),
        "how much of the comb bees cover, from 0 % to 100 %",
        format!("write `{covered} %`, if it is bees: {full} cover this comb on both sides"),
    );
}

/// Keys of the quick counts.
pub(crate) const QUICK: [&str; 6] = ["brood", "sealed", "stores", "empty", "foundation", "bees"];

/// Of the bees that cover a frame, so many cover half of it, to the nearest hundred.
fn half(full: Hundreds) -> Hundreds {
    Hundreds((full.0 + 1).div_euclid(2))
}

/// Quick counts read frame by frame, and the bees that no frame has room for: see the reference.
pub(crate) fn quick(
    cx: &mut Cx,
    m: &Map,
    comb: CombId,
    known: &Known,
) -> (Vec<FrameGroup>, Hundreds) {
    let full = known.bees_on(comb);
    let sealed = cx.quantity(m, "sealed", 1000.0, None).unwrap_or(SEALED);
    let brood = cx.combs(m, "brood", BROOD_AT_A_GLANCE);
    let stores = match weighed(cx, m, known.stores_on(comb)) {
        true => None,
        false => cx.combs(m, "stores", STORES_AT_A_GLANCE),
    };
    let empty = cx.quantity(m, "empty", 1.0, None).unwrap_or(0);
    let bare = cx.quantity(m, "foundation", 1.0, None).unwrap_or(0);
    let bees = cx.quantity(m, "bees", HUNDREDS, Some(full.bees().0));
    let mut out = Out {
        comb,
        sealed: Milli(sealed),
        groups: Vec::new(),
        left: bees.map(Hundreds),
    };
    if let (Some(brood), Some(node)) = (brood, m.get("brood")) {
        let cells = known.cells_on(comb);
        let held = |total| format!("{} cells", share_of(Milli(total), cells));
        let glance = (BROOD_AT_A_GLANCE, BROOD_AT_A_GLANCE);
        full_or_combs(cx, ("brood", node.at), brood, glance, held);
    }
    if let (Some(stores), Some(node)) = (stores, m.get("stores")) {
        let grams = known.stores_on(comb);
        let held = |total| {
            let tenths = (share_of(Milli(total), grams) as f64 / 100.0).round();
            format!("{} kg", tenths / 10.0)
        };
        let glance = (STORES_AT_A_GLANCE, 1000);
        full_or_combs(cx, ("stores", node.at), stores, glance, held);
    }
    // Nobody finds combs full of brood to the corners; of stores there are.
    for (count, share) in parts(brood, BROOD_AT_A_GLANCE, BROOD_AT_A_GLANCE) {
        out.covered(count, (share, 0), (full, full));
    }
    for (count, share) in parts(stores, STORES_AT_A_GLANCE, 1000) {
        out.covered(count, (0, share), (full, half(full)));
    }
    out.covered(empty, (0, 0), (full, Hundreds(0)));
    out.add(bare, (0, 0, 0), Hundreds(0));
    out.groups.shrink_to_fit();
    (out.groups, out.left.unwrap_or_default())
}

/// Whether stores are a weight, which a quick count is not: finds it, in full frames.
fn weighed(cx: &mut Cx, m: &Map, full: i64) -> bool {
    let grams = m.get("stores").and_then(|node| {
        let (value, unit) = split(word(node))?;
        Some((node, value * factor(Kind::Grams, unit)?))
    });
    let Some((node, grams)) = grams else {
        return false;
    };
    let frames = (grams / full.max(1) as f64 * 10.0).round() / 10.0;
    cx.error(
        "wrong-type",
        node.at,
        describe(node),
        "combs with stores, or full frames",
        format!("did you mean `{frames} full frames`?"),
    );
    true
}

/// So many combs alike, then one that holds the rest. Combs hold `usual` each unless a share is stated;
/// what is stated in full frames hangs on combs of at most `spread` each.
fn parts(combs: Option<Combs>, usual: i64, spread: i64) -> [(i64, i64); 2] {
    let Some(combs) = combs else {
        return [(0, 0); 2];
    };
    let each = match combs.counted {
        Counted::Combs => combs.each.unwrap_or(usual),
        Counted::Full | Counted::Either => spread,
    };
    let rest = combs.total % each;
    [(combs.total / each, each), (i64::from(rest > 0), rest)]
}

/// Warns of brood or stores of which it is not said whether combs were counted or full frames. Each comb holds `glance` as a
/// glance counts it; `held` says what so much of a full frame is.
fn full_or_combs(
    cx: &mut Cx,
    (what, at): (&str, At),
    combs: Combs,
    (glance, spread): (i64, i64),
    held: impl Fn(i64) -> String,
) {
    if combs.counted != Counted::Either || combs.total == 0 {
        return;
    }
    let figure = combs.total as f64 / 1000.0;
    let on = parts(Some(combs), glance, spread);
    let on: i64 = on.iter().map(|(count, _)| count).sum();
    let on = if on == 1 {
        "1 comb".to_owned()
    } else {
        format!("{on} combs")
    };
    cx.warn(
        "two-meanings",
        at,
        format!("{what} of {figure} frames, read as full ones: {}, on {on}", held(combs.total)),
        format!(
            "combs with {what}, {} at {} % of each, or full frames",
            held(share_of(Milli(glance), combs.total)),
            glance / 10
        ),
        format!("write `{figure} combs`, or `{figure} combs at 70 %`; if they are full, `{figure} full frames`"),
    );
}

/// Frames as they are counted out.
struct Out {
    comb: CombId,
    sealed: Milli,
    groups: Vec<FrameGroup>,
    /// Bees that are not on a frame yet, where they are stated.
    left: Option<Hundreds>,
}

impl Out {
    /// Drawn frames, each with as many bees as it has room for and there are, or as usual.
    fn covered(
        &mut self,
        mut count: i64,
        (brood, stores): (i64, i64),
        (full, usual): (Hundreds, Hundreds),
    ) {
        while count > 0 {
            let left = self.left.map(|left| left.0);
            let bees = left.map_or(usual, |left| Hundreds(left.min(full.0)));
            let alike = match left {
                Some(left) if left >= full.0 => count.min(left / full.0),
                Some(1..) => 1,
                _ => count,
            };
            self.add(alike, (brood, stores, 1000), bees);
            self.left = left.map(|left| Hundreds(left - alike * bees.0));
            count -= alike;
        }
    }

    fn add(&mut self, count: i64, (brood, stores, drawn): (i64, i64, i64), bees: Hundreds) {
        let frame = FrameState {
            comb: self.comb,
            brood: Milli(brood),
            sealed: Milli(share_of(self.sealed, brood)),
            stores: Milli(stores),
            drawn: Milli(drawn),
            bees,
        };
        let count = u32::try_from(count).unwrap_or(0);
        match self.groups.last_mut() {
            _ if count == 0 => {}
            Some(group) if group.frame == frame => group.count += count,
            _ => self.groups.push(FrameGroup {
                count,
                frame,
                queen: false,
            }),
        }
    }
}
