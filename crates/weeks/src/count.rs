//! One colony from the day it was counted, with what left it and came into it since.

use spareframe_colony::{Colony as Model, LAYING, Setting};
use spareframe_solver::{
    Colony, Comb, Crop, FrameGroup, FrameState, Grams, Hundreds, Milli, honey,
};

use super::combs::{Held, Hive, Piece};

/// Most that is said of a queen's laying (a choice: far above any; a weak colony with much brood seems to say so).
const MOST_LAYING: u32 = 10_000;

/// A colony as it was counted, and what was done since.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Count {
    /// The colony on the day of the count; its flow is counted from that day.
    pub colony: Colony,
    /// Days from the count to the day of the yard.
    pub ago: u32,
    /// What was done since, oldest first.
    pub since: Vec<Event>,
    /// Eggs a day that its queen would lay in a colony without end on the day of the count, where its brood of
    /// that day does not say so.
    pub lays: Option<u32>,
    /// Its old queen is taken out, or was.
    pub change: Option<Change>,
}

/// Days after the count on which a colony is without a queen; both may lie before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Change {
    /// From this day on its old queen lays no more.
    pub out: i32,
    /// From this day on a young one lays; `None` where none is in.
    pub lays: Option<i32>,
}

/// What left a colony and what came into it on one day.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Event {
    /// Days after the count.
    pub after: u32,
    /// Frames that left.
    pub gone: Vec<Gone>,
    /// Bees that left, on frames or not.
    pub bees: Hundreds,
    /// Frames that were hung in; they come before others leave.
    pub got: Vec<FrameGroup>,
    /// Frames that were hung in to be drawn and bred; they count as hung in after those of `got`.
    pub hung: Vec<Hung>,
}

impl Event {
    /// All frames that were hung in, in the order in which they are counted on from those of the count.
    pub fn came(&self) -> impl Iterator<Item = &FrameGroup> {
        self.got
            .iter()
            .chain(self.hung.iter().map(|hung| &hung.frames))
    }
}

/// Frames that hang in a colony to be drawn and bred; until then they are left alone, as if they were not there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hung {
    /// The frames as they were hung in, without brood and bees.
    pub frames: FrameGroup,
    /// Days until they are drawn and bred; 0 where they were by the count, which left them aside.
    pub days: u32,
}

/// Frames that left.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gone {
    /// Of which frames: frame groups of the count, or, counted on from these, frames that were hung in since.
    pub of: Vec<usize>,
    /// How many.
    pub count: u32,
    /// Brood and stores on each of them, where they were different; those nearest to it left, else the fullest.
    pub each: (Option<Milli>, Option<Milli>),
}

impl Gone {
    /// How far a frame is from those that left; the nearest left first.
    fn far(&self, frame: &FrameState) -> i64 {
        let off = |said: Option<Milli>, is: Milli| said.map_or(0, |said| (said.0 - is.0).abs());
        match self.each {
            (None, None) => -(frame.brood.0 + frame.stores.0),
            (brood, stores) => off(brood, frame.brood) + off(stores, frame.stores),
        }
    }
}

/// A colony as it is expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Projected {
    /// The colony; its flow is counted from the day that it is expected for.
    pub colony: Colony,
    /// For each of its frame groups, which frames of the count they are, as in [`Gone::of`]. The first
    /// groups are those of the count and those hung in since, in their order, also where none is left.
    pub origins: Vec<usize>,
    /// The first event that took more bees than there were, and how many there were.
    pub lacking: Option<(usize, Hundreds)>,
}

impl Count {
    /// A colony that is counted on the day of the yard.
    #[must_use]
    pub fn today(colony: &Colony) -> Self {
        Self {
            colony: colony.clone(),
            ago: 0,
            since: Vec::new(),
            lays: None,
            change: None,
        }
    }

    /// Eggs a day that its queen would lay in a colony without end, so many days after the count; `None` where there
    /// was no brood to say so, and where she was taken out by then.
    pub(crate) fn laying(&self, combs: &[Comb], setting: &Setting, days: u32) -> Option<u32> {
        let course = Course::of(self, combs, setting);
        if self.lays.is_none() && course.model.brood() <= 0.0 {
            return None;
        }
        let days = i32::try_from(days).unwrap_or(i32::MAX);
        // Of the new one the count says nothing.
        if self.change.is_some_and(|change| change.out <= days) {
            return None;
        }
        let ratio = setting.season.map_or(1.0, |season| season.ratio(days));
        Some(((course.model.laying * ratio + 0.5) as u32).clamp(1, MOST_LAYING))
    }

    /// The colony so many days after its count. `setting` is that of the day of the count, `hungry` says of each
    /// day after the count whether bees find nothing.
    pub(crate) fn after(
        &self,
        combs: &[Comb],
        setting: &Setting,
        days: u32,
        hungry: &dyn Fn(i32) -> bool,
    ) -> Projected {
        let mut on = Course::of(self, combs, setting);
        let start = on.model;
        let mut lacking = None;
        for (at, event) in self.since.iter().enumerate() {
            if event.after > days {
                break;
            }
            on.until(event.after, hungry);
            let there = on.hive.bees();
            if event.bees > there && lacking.is_none() {
                lacking = Some((at, there));
            }
            on.take_and_give(event);
        }
        on.until(days, hungry);
        let mut colony = self.colony.clone();
        colony.crop = colony
            .crop
            .map(|crop| left(crop, &start, &on.model, setting, days));
        colony.extra_bees = on.hive.extra;
        let (frames, origins) = in_order(on.hive.pieces);
        colony.frames = frames;
        Projected {
            colony,
            origins,
            lacking,
        }
    }
}

/// A colony on its way.
struct Course<'a> {
    setting: &'a Setting,
    hive: Hive<'a>,
    model: Model,
    change: Option<Change>,
    /// Days gone by.
    day: u32,
    /// The next frames that are hung in.
    next: usize,
    /// Frames that are not drawn and bred yet: the day on which they are, which of `hive`, and how many.
    raised: Vec<(u32, usize, u32)>,
}

impl<'a> Course<'a> {
    fn of(count: &Count, combs: &'a [Comb], setting: &'a Setting) -> Self {
        let frames = count.colony.frames.iter().enumerate();
        let piece = |(origin, group): (usize, &FrameGroup)| Piece {
            origin,
            group: group.clone(),
        };
        let hive = Hive {
            combs,
            pieces: frames.map(piece).collect(),
            extra: count.colony.extra_bees,
        };
        let mut model = counted(&hive, setting);
        if let Some(lays) = count.lays {
            model.laying = f64::from(lays);
        }
        Self {
            setting,
            next: hive.pieces.len(),
            hive,
            model,
            change: count.change,
            day: 0,
            raised: Vec::new(),
        }
    }

    /// On to a day, and on the way to those on which combs are drawn and bred.
    fn until(&mut self, day: u32, hungry: &dyn Fn(i32) -> bool) {
        let (mut ready, later): (Vec<_>, Vec<_>) =
            self.raised.drain(..).partition(|(on, ..)| *on <= day);
        self.raised = later;
        ready.sort_unstable();
        for (on, at, count) in ready {
            self.step_to(on, hungry);
            self.hive.raise(at, count);
            let group = self.hive.pieces[at].group.clone();
            let came = self.figures(&group, count);
            self.model.cells += came.room;
            self.model.stores += came.stores;
        }
        self.step_to(day, hungry);
    }

    fn step_to(&mut self, day: u32, hungry: &dyn Fn(i32) -> bool) {
        if day <= self.day {
            return;
        }
        for day in self.day..day {
            let day = i32::try_from(day).unwrap_or(i32::MAX);
            if let Some(change) = self.change.filter(|change| change.out <= day) {
                let young = change.lays.is_some_and(|from| from <= day);
                self.model.laying = if young { LAYING } else { 0.0 };
            }
            let stores = self.model.stores;
            self.model.step(self.setting);
            if !hungry(day) {
                self.model.stores = stores;
            }
        }
        self.day = day;
        self.hive.hang(&Held::of(&self.model));
    }

    fn take_and_give(&mut self, event: &Event) {
        let mut bees = self.hive.bees();
        for group in &event.got {
            let piece = Piece {
                origin: self.next,
                group: group.clone(),
            };
            self.next += 1;
            bees += group.frame.bees.times(group.count);
            let came = self.figures(&piece.group, piece.group.count);
            self.model.add_like(came.bees, came.open, came.sealed);
            self.model.cells += came.room;
            self.model.stores += came.stores;
            self.hive.pieces.push(piece);
        }
        for hung in &event.hung {
            let day = event.after.saturating_add(hung.days);
            let at = self.hive.pieces.len();
            self.raised.push((day, at, hung.frames.count));
            let mut group = hung.frames.clone();
            group.count = 0;
            self.hive.pieces.push(Piece {
                origin: self.next,
                group,
            });
            self.next += 1;
        }
        let taken = event.bees.min(bees);
        let mut gone = Figures {
            bees: taken.bees().0 as f64,
            ..Figures::default()
        };
        for which in &event.gone {
            self.leave(which, &mut gone);
        }
        let _ = self.model.take(gone.bees, gone.open, gone.sealed);
        self.model.cells = (self.model.cells - gone.room).max(0.0);
        self.model.stores = (self.model.stores - gone.stores).max(0.0);
        if event.bees.0 > 0 || !event.gone.is_empty() {
            self.hive.cover(bees.0 - taken.0);
        }
    }

    /// Frames leave the hive; what they hold comes to `gone`, bees left aside.
    fn leave(&mut self, which: &Gone, gone: &mut Figures) {
        let pieces = self.hive.pieces.iter().enumerate();
        let mut order: Vec<(i64, usize)> = pieces
            .filter(|(_, piece)| which.of.contains(&piece.origin))
            .map(|(at, piece)| (which.far(&piece.group.frame), at))
            .collect();
        order.sort_unstable();
        let mut left = which.count;
        for (_, at) in order {
            let group = self.hive.pieces[at].group.clone();
            let here = group.count.min(left);
            let held = self.figures(&group, here);
            gone.open += held.open;
            gone.sealed += held.sealed;
            gone.room += held.room;
            gone.stores += held.stores;
            self.hive.pieces[at].group.count -= here;
            left -= here;
        }
    }

    fn figures(&self, group: &FrameGroup, count: u32) -> Figures {
        let times = |figure: i64| f64::from(count) * figure as f64;
        let cells = |share: Milli| self.hive.cells(group, share);
        let sealed = cells(group.frame.sealed);
        Figures {
            bees: times(group.frame.bees.bees().0),
            open: times(cells(group.frame.brood) - sealed),
            sealed: times(sealed),
            room: times(self.hive.room(group)),
            stores: times(self.hive.stores(group)),
        }
    }
}

/// What frames hold, in bees, cells and grams.
#[derive(Debug, Clone, Copy, Default)]
struct Figures {
    bees: f64,
    open: f64,
    sealed: f64,
    room: f64,
    stores: f64,
}

/// A hive in the model, with what its combs have room for.
pub(crate) fn counted(hive: &Hive, setting: &Setting) -> Model {
    let sealed = hive.sum(|hive, group| hive.cells(group, group.frame.sealed));
    let open = hive.sum(|hive, group| {
        hive.cells(group, group.frame.brood) - hive.cells(group, group.frame.sealed)
    });
    let bees = hive.bees().bees().0 as f64;
    let mut model = Model::counted(bees, open, sealed, setting);
    model.cells = hive.sum(Hive::room);
    model.stores = hive.sum(Hive::stores);
    model
}

/// Frame groups with their origins: the first piece of each origin in its place, what was parted from it behind.
pub(crate) fn in_order(pieces: Vec<Piece>) -> (Vec<FrameGroup>, Vec<usize>) {
    let mut first: Vec<Piece> = Vec::new();
    let mut parted = Vec::new();
    for piece in pieces {
        match first.iter().any(|known| known.origin == piece.origin) {
            false => first.push(piece),
            true if piece.group.count > 0 => parted.push(piece),
            true => {}
        }
    }
    first.sort_by_key(|piece| piece.origin);
    let all = first.into_iter().chain(parted);
    all.map(|piece| (piece.group, piece.origin)).unzip()
}

/// What is left of a crop: by the forager-days still to come of those that there would have been without any draw;
/// a gram at least, so that it stays a producer.
fn left(crop: Crop, start: &Model, now: &Model, setting: &Setting, days: u32) -> Crop {
    let to = crop.to.min(honey::LAST_DAY);
    let all = start.forager_days(setting, crop.from, to);
    let to_come = now.forager_days(setting, crop.from, to);
    let share = if all > 0.0 { to_come / all } else { 1.0 };
    let days = i32::try_from(days).unwrap_or(i32::MAX);
    Crop {
        honey: Grams(((crop.honey.0 as f64 * share) as i64).max(1)),
        from: crop.from.saturating_sub(days),
        to: crop.to.saturating_sub(days),
    }
}
