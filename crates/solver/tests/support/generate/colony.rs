//! Colonies, written as quick counts or frame by frame.

use super::{Scale, comb_id};
use crate::support::rng::Rng;
use spareframe_solver::*;

pub(super) fn colony(rng: &mut Rng, scale: &Scale, combs: &[Comb], number: i64) -> Colony {
    let crop = rng.percent(scale.producers).then(|| crop(rng, scale));
    let role = if crop.is_some() {
        "production"
    } else {
        "nucleus"
    };
    let mut colony = Colony {
        name: format!("c{number}"),
        site: SiteId(rng.index(3)),
        role: role.into(),
        hold: rng.percent(8).then(|| "treatment".into()),
        frames: vec![],
        extra_bees: Hundreds(0),
        crop,
        keep: Keep::default(),
        draw: Draw::default(),
        rides: Percent(rng.pick(&[50, 50, 50, 0, 100, 33])),
        apart: rng.percent(12),
    };
    if rng.percent(40) {
        quick_count(rng, scale, combs, &mut colony);
    } else {
        frame_by_frame(rng, scale, combs, &mut colony);
    }
    if colony.apart {
        // Floors that the colony itself states still hold.
        if rng.percent(20) {
            colony.keep.bees = Hundreds(rng.range(1, scale.combs[0].0));
        }
    } else {
        limits(rng, combs, &mut colony);
    }
    colony
}

fn crop(rng: &mut Rng, scale: &Scale) -> Crop {
    let from = rng.range(-3, 20) as i32;
    Crop {
        // Few different figures, so that equal charges and near ties occur.
        honey: Grams(scale.crop.0 * rng.range(1, scale.crop.1 / scale.crop.0)),
        from,
        to: from + rng.range(1, 25) as i32,
    }
}

/// Brood, stores, drawn comb and foundation in frames, as `docs/model.md` spreads them out; the queen
/// is on the first brood frame or nobody knows where.
fn quick_count(rng: &mut Rng, scale: &Scale, combs: &[Comb], colony: &mut Colony) {
    let comb = comb_id(rng);
    let full = combs[comb.0].bees.0;
    let sealed = rng.pick(&[600, 500, 0, 1000]);
    let frame = |brood: i64, stores: i64, drawn: i64| FrameState {
        comb,
        brood: Milli(brood),
        sealed: Milli(share_of(Milli(sealed), brood)),
        stores: Milli(stores),
        drawn: Milli(drawn),
        bees: Hundreds(match (brood, stores) {
            (1.., _) => full,
            (_, 1..) => full / 2,
            _ => 0,
        }),
    };
    let mut frames = Vec::new();
    for half in 0..rng.range(1, 4) {
        frames.push(frame(
            if half == 0 {
                rng.pick(&[1000, 500])
            } else {
                1000
            },
            0,
            1000,
        ));
    }
    frames.reverse();
    frames.extend((0..rng.range(0, 2)).map(|_| frame(0, 1000, 1000)));
    frames.extend((0..rng.range(0, 1)).map(|_| frame(0, 0, 1000)));
    frames.extend((0..rng.range(0, 1)).map(|_| frame(0, 0, 0)));
    frames.truncate(scale.frames as usize);
    if rng.percent(50) {
        // So many bees are stated: frames are covered in order.
        let mut left = rng.range(0, full * frames.len() as i64);
        for frame in frames.iter_mut().filter(|frame| frame.drawn.0 > 0) {
            frame.bees = Hundreds(left.min(full));
            left -= frame.bees.0;
        }
        colony.extra_bees = Hundreds(left);
    }
    let queen = rng.percent(30);
    for (at, frame) in frames.into_iter().enumerate() {
        match colony.frames.last_mut() {
            Some(group) if group.frame == frame && !group.queen => group.count += 1,
            _ => colony.frames.push(FrameGroup {
                count: 1,
                frame,
                queen: queen && at == 0,
            }),
        }
    }
}

fn frame_by_frame(rng: &mut Rng, scale: &Scale, combs: &[Comb], colony: &mut Colony) {
    let mut left = scale.frames;
    colony.frames = (0..rng.pick(&[1, 2, 3, 3, 4]))
        .map(|group| {
            let count = rng.pick(&[1, 1, 1, 2, 2, 2, 3, 3, 0]).min(left);
            left -= count;
            FrameGroup {
                count,
                frame: frame(rng, combs),
                queen: group > 0 && rng.percent(20),
            }
        })
        .collect();
    colony.extra_bees = Hundreds(rng.range(0, scale.extra));
}

fn frame(rng: &mut Rng, combs: &[Comb]) -> FrameState {
    let comb = comb_id(rng);
    let (brood, stores, drawn) = match rng.range(0, 9) {
        0..=4 => (rng.range(2, 8) * 100, rng.range(0, 2) * 100, 1000),
        5..=6 => (0, rng.range(3, 10) * 100, 1000),
        7 => (0, 0, 1000),
        8 => (0, 0, 0),
        _ => {
            let brood = rng.range(0, 600);
            let stores = rng.range(0, 400);
            (brood, stores, rng.range(brood + stores, 1000))
        }
    };
    let full = combs[comb.0].bees.0;
    FrameState {
        comb,
        brood: Milli(brood),
        sealed: Milli(brood * rng.range(0, 10) / 10),
        stores: Milli(stores),
        drawn: Milli(drawn),
        bees: Hundreds(if drawn == 0 { 0 } else { rng.range(0, full) }),
    }
}

/// Floors and caps, tight or loose.
fn limits(rng: &mut Rng, combs: &[Comb], colony: &mut Colony) {
    let have = |of: &dyn Fn(&FrameState) -> i64| -> i64 {
        let groups = colony.frames.iter();
        groups.map(|g| of(&g.frame) * i64::from(g.count)).sum()
    };
    let brood = have(&|f| f.brood.0);
    let bees = have(&|f| f.bees.0) + colony.extra_bees.0;
    let stores = have(&|f| share_of(f.stores, combs[f.comb.0].stores.0));
    let drawn = have(&|f| f.drawn.0);
    let tight = rng.percent(30);
    let below = rng.percent(4);
    // Floors from nothing to, rarely, a little more than there is.
    let mut floor = |have: i64, share: i64| {
        if below {
            (have * rng.range(90, 105) + 99) / 100
        } else if rng.percent(share) {
            have * rng.range(0, if tight { 100 } else { 60 }) / 100
        } else {
            0
        }
    };
    colony.keep = Keep {
        brood: Milli(floor(brood, 25)),
        bees: Hundreds(floor(bees, 40)),
        stores: Grams(floor(stores, 20)),
        drawn: Milli(floor(drawn, 20)),
        covered: Percent(0),
    };
    colony.keep.covered = Percent(rng.pick(&[0, 0, 0, 50, 100, 100, 120]));
    let least = if tight { 0 } else { 30 };
    let mut part = |of: i64| of * rng.range(least, 100) / 100;
    let (brood, bees) = (part(brood), part(bees));
    colony.draw = Draw {
        frames: rng.percent(20).then(|| rng.count(u32::from(!tight), 4)),
        brood: rng.percent(20).then_some(Milli(brood)),
        bees: rng.percent(20).then_some(Hundreds(bees)),
        honey: None,
    };
}
