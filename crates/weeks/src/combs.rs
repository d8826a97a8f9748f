//! What the model holds, put back on combs.

use spareframe_solver::{Colony, Comb, FrameGroup, Hundreds, Milli, share_of};

/// How far a comb is filled with brood before the next one is begun, in thousandths (a choice).
const WELL_FILLED: i64 = 700;
/// How much of a comb must be free before brood is begun on it, in thousandths (a choice).
const BEGUN: i64 = 500;

/// What a colony holds, in bees, cells and grams that need not be whole.
pub(crate) struct Held {
    pub bees: f64,
    pub brood: f64,
    pub sealed: f64,
    pub stores: f64,
}

/// Puts it on the combs of a colony; see the README.
pub(crate) fn hang(combs: &[Comb], colony: &mut Colony, held: &Held) {
    eat(combs, colony, held.stores);
    let now = brood(combs, colony);
    if held.brood <= now {
        shrink(colony, held.brood / now.max(1.0));
    } else {
        grow(combs, colony, held.brood - now);
    }
    let sealed = if held.brood > 0.0 {
        (held.sealed / held.brood).min(1.0)
    } else {
        0.0
    };
    for group in &mut colony.frames {
        group.frame.sealed = Milli((group.frame.brood.0 as f64 * sealed) as i64);
    }
    cover(combs, colony, held.bees);
}

/// Stores eaten from all combs in proportion.
fn eat(combs: &[Comb], colony: &mut Colony, left: f64) {
    let grams = |group: &FrameGroup| {
        let comb = combs.get(group.frame.comb.0);
        let each = comb.map_or(0, |comb| share_of(group.frame.stores, comb.stores.0));
        f64::from(group.count) * each as f64
    };
    let now: f64 = colony.frames.iter().map(grams).sum();
    if now <= left || now <= 0.0 {
        return;
    }
    for group in &mut colony.frames {
        group.frame.stores = Milli((group.frame.stores.0 as f64 * left / now) as i64);
    }
}

fn cells_of(combs: &[Comb], group: &FrameGroup) -> f64 {
    let comb = combs.get(group.frame.comb.0);
    comb.map_or(0.0, |comb| comb.cells as f64)
}

/// Cells with brood.
fn brood(combs: &[Comb], colony: &Colony) -> f64 {
    let of = |group: &FrameGroup| {
        let comb = combs.get(group.frame.comb.0);
        let each = comb.map_or(0, |comb| share_of(group.frame.brood, comb.cells));
        f64::from(group.count) * each as f64
    };
    colony.frames.iter().map(of).sum()
}

fn shrink(colony: &mut Colony, to: f64) {
    for group in &mut colony.frames {
        group.frame.brood = Milli((group.frame.brood.0 as f64 * to) as i64);
    }
}

/// So many more cells with brood.
fn grow(combs: &[Comb], colony: &mut Colony, mut more: f64) {
    let with_brood = |group: &FrameGroup| group.frame.brood.0 > 0;
    fill(combs, colony, &mut more, WELL_FILLED, &with_brood);
    let mut begun: Vec<FrameGroup> = Vec::new();
    for group in &mut colony.frames {
        let free = group.frame.drawn.0 - group.frame.stores.0;
        let cells = cells_of(combs, group) * free.min(WELL_FILLED) as f64 / 1000.0;
        if group.frame.brood.0 > 0 || free < BEGUN || cells <= 0.0 {
            continue;
        }
        while more > 0.0 && group.count > 0 {
            let part = (more / cells).min(1.0);
            let mut one = group.clone();
            (one.count, one.frame.brood) = (1, Milli((free.min(WELL_FILLED) as f64 * part) as i64));
            group.count -= 1;
            more -= cells * part;
            match begun.last_mut().filter(|last| last.frame == one.frame) {
                Some(last) => last.count += 1,
                None => begun.push(one),
            }
        }
    }
    colony.frames.extend(begun);
    fill(combs, colony, &mut more, 1000, &|_| true);
}

/// Fills combs up to a share, all by the same part of the room that they have.
fn fill(
    combs: &[Comb],
    colony: &mut Colony,
    more: &mut f64,
    most: i64,
    of: &dyn Fn(&FrameGroup) -> bool,
) {
    let room = |group: &FrameGroup| {
        let free = (group.frame.drawn.0 - group.frame.stores.0).min(most);
        (free - group.frame.brood.0).max(0)
    };
    let cells = |group: &FrameGroup| {
        f64::from(group.count) * cells_of(combs, group) * room(group) as f64 / 1000.0
    };
    let groups = colony.frames.iter().filter(|group| of(group));
    let all: f64 = groups.map(cells).sum();
    if all <= 0.0 || *more <= 0.0 {
        return;
    }
    let part = (*more / all).min(1.0);
    for group in colony.frames.iter_mut().filter(|group| of(group)) {
        group.frame.brood.0 += (room(group) as f64 * part) as i64;
    }
    *more -= all * part;
}

/// Bees on their combs in proportion, up to full cover, and the others beside them.
fn cover(combs: &[Comb], colony: &mut Colony, bees: f64) {
    let on = |group: &FrameGroup| i64::from(group.count) * group.frame.bees.0;
    let now = colony.frames.iter().map(on).sum::<i64>() + colony.extra_bees.0;
    let all = (bees / 100.0) as i64;
    let mut left = all;
    for group in &mut colony.frames {
        let comb = combs.get(group.frame.comb.0);
        let full = comb.map_or(0, |comb| comb.bees.0).max(group.frame.bees.0);
        let each = if now > 0 {
            (group.frame.bees.0 as f64 * all as f64 / now as f64) as i64
        } else {
            0
        };
        group.frame.bees = Hundreds(each.min(full));
        left -= i64::from(group.count) * group.frame.bees.0;
    }
    colony.extra_bees = Hundreds(left.max(0));
}
