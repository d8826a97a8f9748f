//! A compartment in which bees stand, from the day of its count.

use spareframe_colony::{LAYING, Setting};
use spareframe_solver::{Comb, FrameGroup, Hundreds, Milli, Standing};

use super::combs::{Held, Hive, Piece};
use super::count::{counted, in_order};

/// A compartment as it was counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stand {
    /// What was in it on the day of the count.
    pub standing: Standing,
    /// Days from the count to the day of the yard.
    pub ago: u32,
    /// Days after the count from which a queen is known to lay in it; `None` where none is.
    pub lays_from: Option<u32>,
}

/// A compartment with what a glance says of it: so many hundred bees, and brood in thousandths of a full frame; what it
/// does not say stays. Brood of a queen that lays is of all ages, other as it is expected.
///
/// ```
/// use spareframe_solver::{Hundreds, Milli, Scenario, Standing, BoxId};
/// use spareframe_weeks::glance;
/// let yard: Scenario = include!("../../solver/doctests/yard.rs");
/// let frames = vec![yard.colonies[0].frames[2].clone()];
/// let standing = Standing { kind: BoxId(0), box_no: 0, place: 0, frames, extra_bees: Hundreds(5), wants_cell: false };
/// let seen = glance(&yard.combs, &standing, Some(Hundreds(12)), None, false);
/// assert_eq!((seen.bees(), seen.frames.len()), (Hundreds(12), 1));
/// ```
#[must_use]
pub fn glance(
    combs: &[Comb],
    standing: &Standing,
    bees: Option<Hundreds>,
    brood: Option<Milli>,
    lays: bool,
) -> Standing {
    let mut seen = standing.clone();
    let mut hive = hive(combs, standing);
    let bees = bees.unwrap_or(hive.bees());
    if let Some(brood) = brood {
        let full = hive
            .pieces
            .first()
            .map_or(0, |piece| hive.cells(&piece.group, Milli(1000)));
        let brood = full as f64 * brood.0 as f64 / 1000.0;
        let now = hive.sum(|hive, group| hive.cells(group, group.frame.brood));
        let sealed = hive.sum(|hive, group| hive.cells(group, group.frame.sealed));
        let sealed = match now > 0.0 && !lays {
            true => sealed / now,
            false => SEALED,
        };
        hive.hang(&Held {
            bees: bees.bees().0 as f64,
            brood,
            sealed: brood * sealed,
            stores: f64::INFINITY,
        });
    } else {
        hive.cover(bees.0);
    }
    seen.extra_bees = hive.extra;
    seen.frames = in_order(hive.pieces).0;
    seen
}

/// Sealed share of brood of which nothing else is known: 12 of 21 days (textbook values).
const SEALED: f64 = 12.0 / 21.0;

fn hive<'a>(combs: &'a [Comb], standing: &Standing) -> Hive<'a> {
    let pieces = standing.frames.iter().enumerate();
    let piece = |(origin, group): (usize, &FrameGroup)| Piece {
        origin,
        group: group.clone(),
    };
    Hive {
        combs,
        pieces: pieces.map(piece).collect(),
        extra: standing.extra_bees,
    }
}

impl Stand {
    /// The compartment so many days after its count: brood emerges, bees die, and a queen that is known to lay
    /// does so as a young queen, as far as the cells of its combs allow.
    pub(crate) fn after(
        &self,
        combs: &[Comb],
        setting: &Setting,
        days: u32,
        hungry: &dyn Fn(i32) -> bool,
    ) -> Standing {
        let mut then = self.standing.clone();
        if days == 0 {
            return then;
        }
        let mut hive = hive(combs, &then);
        let mut model = counted(&hive, setting);
        model.laying = 0.0;
        for day in 0..days {
            if self.lays_from.is_some_and(|from| from <= day) {
                model.laying = LAYING;
            }
            let stores = model.stores;
            model.step(setting);
            if !hungry(i32::try_from(day).unwrap_or(i32::MAX)) {
                model.stores = stores;
            }
        }
        hive.hang(&Held::of(&model));
        then.extra_bees = hive.extra;
        then.frames = in_order(hive.pieces).0;
        then
    }
}
