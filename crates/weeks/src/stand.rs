//! A compartment in which bees stand, from the day of its count.

use spareframe_colony::{LAYING, Setting};
use spareframe_solver::{Comb, FrameGroup, Standing};

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
        let pieces = then.frames.iter().enumerate();
        let piece = |(origin, group): (usize, &FrameGroup)| Piece {
            origin,
            group: group.clone(),
        };
        let mut hive = Hive {
            combs,
            pieces: pieces.map(piece).collect(),
            extra: then.extra_bees,
        };
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
