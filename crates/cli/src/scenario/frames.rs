//! Frames of colonies and of the store room, one by one or as quick counts.

use super::fields as t;
use super::parts::Known;
use crate::reading::{Cx, Map, Node};
use s::{CombId, FrameGroup, FrameState, Milli, share_of};
use spareframe_solver as s;

/// Sealed share of the brood where none is given: 12 of 21 days (textbook values).
const SEALED: i64 = 570;

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
    let usual = if spare || drawn == 0 {
        0
    } else if brood > 0 {
        1000
    } else {
        500
    };
    let bees = q("bees").unwrap_or(usual);
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
    if spare && (brood > 0 || bees > 0 || queen || give > 0) {
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
            bees: Milli(bees),
        },
        queen,
    };
    Some(Frames { group, place, give })
}

/// Keys of the quick counts.
pub(crate) const QUICK: [&str; 6] = ["brood", "sealed", "stores", "empty", "foundation", "bees"];

/// Quick counts read frame by frame, and the bees that no frame has room for: see the reference.
pub(crate) fn quick(cx: &mut Cx, m: &Map, comb: CombId, known: &Known) -> (Vec<FrameGroup>, i64) {
    let full = known.bees_on(comb).max(1);
    let sealed = cx.quantity(m, "sealed", 1000.0, None).unwrap_or(SEALED);
    let brood = cx.quantity(m, "brood", 1000.0, None).unwrap_or(0);
    let stores = cx.quantity(m, "stores", 1000.0, None).unwrap_or(0);
    let empty = cx.quantity(m, "empty", 1.0, None).unwrap_or(0);
    let bare = cx.quantity(m, "foundation", 1.0, None).unwrap_or(0);
    let mut left = cx.quantity(m, "bees", 1.0, Some(full));
    let mut out: Vec<FrameGroup> = Vec::new();
    let mut add = |count: i64, brood: i64, stores: i64, drawn: i64, bees: i64| {
        let frame = FrameState {
            comb,
            brood: Milli(brood),
            sealed: Milli(share_of(Milli(sealed), brood)),
            stores: Milli(stores),
            drawn: Milli(drawn),
            bees: Milli(bees),
        };
        let count = u32::try_from(count).unwrap_or(0);
        match out.last_mut() {
            _ if count == 0 => {}
            Some(group) if group.frame == frame => group.count += count,
            _ => out.push(FrameGroup {
                count,
                frame,
                queen: false,
            }),
        }
    };
    // So many alike, then one that holds the rest.
    let parts = |total: i64| {
        [
            (total / 1000, 1000),
            (i64::from(total % 1000 > 0), total % 1000),
        ]
    };
    let brood = parts(brood).map(|(count, share)| (count, share, 0, 1000));
    let stores = parts(stores).map(|(count, share)| (count, 0, share, 500));
    let drawn = brood.into_iter().chain(stores).chain([(empty, 0, 0, 0)]);
    for (mut count, brood, stores, usual) in drawn {
        let Some(left) = &mut left else {
            add(count, brood, stores, 1000, usual);
            continue;
        };
        while count > 0 {
            let bees = (*left * 1000 / full).min(1000);
            let alike = match bees {
                0 => count,
                1000 => count.min(*left / full),
                _ => 1,
            };
            add(alike, brood, stores, 1000, bees);
            *left -= (alike * share_of(Milli(bees), full)).min(*left);
            count -= alike;
        }
    }
    add(bare, 0, 0, 0, 0);
    out.shrink_to_fit();
    (out, left.unwrap_or(0))
}
