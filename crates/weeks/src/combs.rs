//! What the model holds, put back on combs.

use spareframe_colony::Colony as Model;
use spareframe_solver::{Comb, FrameGroup, Hundreds, Milli, share_of};

/// How far a comb is filled with brood before the next one is begun, in thousandths (a choice).
const WELL_FILLED: i64 = 700;
/// How much of a comb must be free before brood is begun on it, in thousandths (a choice).
const BEGUN: i64 = 500;

/// Brood on a comb that was hung in to be drawn and bred, in thousandths (a choice: what recipes ask for).
const BRED: i64 = 500;
/// The colony's brood of which at most so much is on such combs, in thousandths (a choice).
const MOST_RAISED: f64 = 500.0;

/// Frames that are alike, and which frames of the count they were.
#[derive(Debug, Clone)]
pub(crate) struct Piece {
    pub origin: usize,
    pub group: FrameGroup,
}

/// What hangs in a hive, in whole figures.
#[derive(Debug, Clone)]
pub(crate) struct Hive<'a> {
    pub combs: &'a [Comb],
    pub pieces: Vec<Piece>,
    /// Bees beside those on the frames.
    pub extra: Hundreds,
}

/// What a colony holds, in bees, cells and grams that need not be whole.
pub(crate) struct Held {
    pub bees: f64,
    pub brood: f64,
    pub sealed: f64,
    pub stores: f64,
}

impl Held {
    pub fn of(model: &Model) -> Self {
        Self {
            bees: model.bees(),
            brood: model.brood(),
            sealed: model.sealed(),
            stores: model.stores,
        }
    }
}

impl Hive<'_> {
    /// Puts it on the combs; see the README.
    pub fn hang(&mut self, held: &Held) {
        self.eat(held.stores);
        let now = self.sum(|hive, group| hive.cells(group, group.frame.brood));
        if held.brood <= now {
            let to = held.brood / now.max(1.0);
            for group in self.groups() {
                group.frame.brood = part(group.frame.brood, to);
            }
        } else {
            self.grow(held.brood - now);
        }
        let sealed = match held.brood > 0.0 {
            true => (held.sealed / held.brood).min(1.0),
            false => 0.0,
        };
        for group in self.groups() {
            group.frame.sealed = part(group.frame.brood, sealed);
        }
        self.cover((held.bees / 100.0) as i64);
    }

    /// So many frames of a piece are drawn and bred: a part of the brood is on them instead of on other combs, and bees
    /// cover them.
    pub fn raise(&mut self, at: usize, count: u32) {
        let bees = self.bees().0;
        let brood = self.sum(|hive, group| hive.cells(group, group.frame.brood));
        let sealed = self.sum(|hive, group| hive.cells(group, group.frame.sealed));
        let Some(mut group) = self.pieces.get(at).map(|piece| piece.group.clone()) else {
            return;
        };
        let full = self.comb(&group).map_or(Hundreds(0), |comb| comb.bees);
        group.count = count;
        group.frame.drawn = Milli(1000);
        group.frame.bees = full;
        let free = (1000 - group.frame.stores.0).min(BRED);
        let room = f64::from(count) * self.cells(&group, Milli(free)) as f64;
        let moved = room.min(brood * MOST_RAISED / 1000.0);
        if moved > 0.0 {
            for group in self.groups() {
                let left = 1.0 - moved / brood;
                group.frame.brood = part(group.frame.brood, left);
                group.frame.sealed = part(group.frame.sealed, left);
            }
            group.frame.brood = part(Milli(free), moved / room);
            group.frame.sealed = part(group.frame.brood, (sealed / brood).min(1.0));
        }
        self.pieces[at].group = group;
        self.cover(bees);
    }

    fn groups(&mut self) -> impl Iterator<Item = &mut FrameGroup> {
        self.pieces.iter_mut().map(|piece| &mut piece.group)
    }

    /// Sum of a figure of each frame.
    pub fn sum(&self, of: impl Fn(&Self, &FrameGroup) -> i64) -> f64 {
        let groups = self.pieces.iter().map(|piece| &piece.group);
        let each = groups.map(|group| i128::from(group.count) * i128::from(of(self, group)));
        each.sum::<i128>() as f64
    }

    fn comb(&self, group: &FrameGroup) -> Option<&Comb> {
        self.combs.get(group.frame.comb.0)
    }

    /// Cells of a share of one frame.
    pub fn cells(&self, group: &FrameGroup, share: Milli) -> i64 {
        self.comb(group)
            .map_or(0, |comb| share_of(share, comb.cells))
    }

    /// Cells of one frame that brood has or could have.
    pub fn room(&self, group: &FrameGroup) -> i64 {
        self.cells(group, Milli(group.frame.drawn.0 - group.frame.stores.0))
    }

    /// Stores of one frame, in grams.
    pub fn stores(&self, group: &FrameGroup) -> i64 {
        let comb = self.comb(group);
        comb.map_or(0, |comb| share_of(group.frame.stores, comb.stores.0))
    }

    /// All bees.
    pub fn bees(&self) -> Hundreds {
        let on = |piece: &Piece| piece.group.frame.bees.times(piece.group.count);
        self.pieces.iter().map(on).sum::<Hundreds>() + self.extra
    }

    /// Stores eaten from all combs in proportion.
    fn eat(&mut self, left: f64) {
        let now = self.sum(Self::stores);
        if now <= left || now <= 0.0 {
            return;
        }
        for group in self.groups() {
            group.frame.stores = part(group.frame.stores, left / now);
        }
    }

    /// So many more cells with brood.
    fn grow(&mut self, mut more: f64) {
        self.fill(&mut more, WELL_FILLED, |group| group.frame.brood.0 > 0);
        let mut begun: Vec<Piece> = Vec::new();
        for at in 0..self.pieces.len() {
            let piece = &self.pieces[at];
            let frame = piece.group.frame;
            let free = frame.drawn.0 - frame.stores.0;
            let all = self.comb(&piece.group).map_or(0, |comb| comb.cells);
            let cells = all as f64 * free.min(WELL_FILLED) as f64 / 1000.0;
            if frame.brood.0 > 0 || free < BEGUN || cells <= 0.0 {
                continue;
            }
            while more > 0.0 && self.pieces[at].group.count > 0 {
                let share = (more / cells).min(1.0);
                let mut one = self.pieces[at].clone();
                one.group.count = 1;
                one.group.frame.brood = part(Milli(free.min(WELL_FILLED)), share);
                self.pieces[at].group.count -= 1;
                more -= cells * share;
                let alike = |last: &&mut Piece| {
                    last.origin == one.origin && last.group.frame == one.group.frame
                };
                match begun.last_mut().filter(alike) {
                    Some(last) => last.group.count += 1,
                    None => begun.push(one),
                }
            }
        }
        self.pieces.extend(begun);
        self.fill(&mut more, 1000, |_| true);
    }

    /// Fills combs up to a share, all by the same part of the room that they have.
    fn fill(&mut self, more: &mut f64, most: i64, of: impl Fn(&FrameGroup) -> bool) {
        let room = |group: &FrameGroup| {
            let free = (group.frame.drawn.0 - group.frame.stores.0).min(most);
            (free - group.frame.brood.0).max(0)
        };
        let cells = |group: &FrameGroup| {
            let cells = self.comb(group).map_or(0, |comb| comb.cells);
            f64::from(group.count) * cells as f64 * room(group) as f64 / 1000.0
        };
        let groups = self.pieces.iter().map(|piece| &piece.group);
        let all: f64 = groups.filter(|group| of(group)).map(cells).sum();
        if all <= 0.0 || *more <= 0.0 {
            return;
        }
        let share = (*more / all).min(1.0);
        for group in self.groups().filter(|group| of(group)) {
            group.frame.brood += part(Milli(room(group)), share);
        }
        *more -= all * share;
    }

    /// So many hundred bees, on their combs in proportion, up to full cover, and the others beside them.
    pub fn cover(&mut self, all: i64) {
        let now = self.bees().0;
        let mut left = all;
        let combs = self.combs;
        for group in self.groups() {
            let comb = combs.get(group.frame.comb.0);
            let full = comb.map_or(0, |comb| comb.bees.0).max(group.frame.bees.0);
            let each = match now {
                ..=0 => 0,
                _ => (group.frame.bees.0 as f64 * all as f64 / now as f64) as i64,
            };
            group.frame.bees = Hundreds(each.min(full));
            left -= i64::from(group.count) * group.frame.bees.0;
        }
        self.extra = Hundreds(left.max(0));
    }
}

/// A part of a share, rounded down.
fn part(share: Milli, part: f64) -> Milli {
    Milli((share.0 as f64 * part) as i64)
}
