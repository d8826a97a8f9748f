//! All that a colony may give over a season: sequences of draws, those left out that another dominates.

use std::ops::Range;
use std::sync::Arc;

use super::outlook::Drawn;
use super::season::{Colony, MOST_FRAMES, Season, What};
use super::walk::{Level, NOISE, Walk, horizon};

/// Trajectories of all colonies that are listed; where one has more than its part, its levels of most frames are left out
/// (a choice).
const LISTED: usize = 240_000;
/// The part of a colony, at least and at most (a choice).
const PART: (usize, usize) = (1000, 10_000);
/// Lots of bees alone that a colony gives in a round, at most (a choice).
const MOST_LOTS: u32 = 6;

/// A sequence of draws, and what it comes to.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Trajectory {
    /// By round: which level.
    pub levels: Vec<usize>,
    /// By round: brood frames in hundredths, bees that stay, loose ones of them.
    pub gives: Vec<[i64; 3]>,
    /// Honey given up, in grams.
    pub honey: i64,
    /// Its cost, in grams.
    pub cost: i64,
}

/// The levels of a colony: frames up to `most` with the bees that each kind of box asks for, and bees alone.
pub(crate) fn levels(season: &Season, colony: &Colony, lots: f64, most: u32) -> Vec<Level> {
    let nuclei = season.wants.iter().filter_map(|want| match &want.what {
        What::Nuclei { need, comb, .. } => Some((*need, *comb)),
        _ => None,
    });
    let boxes = season.kinds.iter().map(|kind| (kind.need, kind.comb));
    let of_size = boxes
        .chain(nuclei)
        .filter(|(need, comb)| *comb == colony.comb && need.brood > 0);
    let mut each: Vec<f64> = of_size
        .map(|(need, _)| need.bees as f64 * 100.0 / need.brood as f64)
        .collect();
    each.sort_by(f64::total_cmp);
    each.dedup();
    let mut levels = vec![Level {
        frames: 0,
        bees: 0.0,
    }];
    for frames in 1..=most {
        levels.extend(each.iter().map(|each| Level {
            frames,
            bees: each * f64::from(frames),
        }));
    }
    if lots > 0.0 {
        let lots = (1..=most.min(MOST_LOTS)).map(|of| Level {
            frames: 0,
            bees: lots * f64::from(of),
        });
        levels.extend(lots);
    }
    levels
}

/// What a colony may give.
#[derive(Debug, Clone)]
pub(crate) struct List {
    /// Its levels.
    pub levels: Arc<Vec<Level>>,
    /// Its trajectories over them; the first gives least.
    pub columns: Arc<Vec<Trajectory>>,
    /// How many there were before some were left out.
    made: usize,
    /// Frames of its levels, at most, and how many trajectories it might have had.
    most: (u32, usize),
}

impl List {
    /// Whether it would be listed so in another season, where at most so many are.
    pub fn serves(&self, season: &Season, colony: &Colony, lots: f64, listed: usize) -> bool {
        let (frames, then) = self.most;
        let whole = frames == MOST_FRAMES || listed <= then;
        whole && self.made <= listed && *self.levels == levels(season, colony, lots, frames)
    }
}

/// Trajectories of a colony that are listed, at most.
pub(crate) fn listed_at_most(season: &Season) -> usize {
    (LISTED / season.colonies.len().max(1)).clamp(PART.0, PART.1)
}

/// All sequences of draws that a colony's floors and caps allow, those left out that another dominates: it gives no
/// less in any round costs no more, and gives up no more honey where that counts by itself. The first is to give nothing. What it gave in its first rounds may be `held`.
pub(crate) fn list(
    season: &Season,
    (at, colony): (usize, &Colony),
    lots: f64,
    held: &[Drawn],
) -> List {
    let mut frames = MOST_FRAMES;
    loop {
        let mut levels = levels(season, colony, lots, frames);
        let usual = levels.len();
        levels.extend(held.iter().map(|drawn| Level {
            frames: drawn.frames,
            bees: drawn.bees * colony.stay as f64 / 100.0,
        }));
        let mut listing = Listing::new(season, (at, colony), (&levels, usual), held);
        let whole = listing.go(Walk::new(season, colony), &mut Vec::new());
        let (found, most) = (listing.found, listing.most);
        if whole || frames <= 1 {
            return List {
                made: found.len(),
                most: (frames, most),
                columns: Arc::new(undominated(found, season.honey.is_some())),
                levels: Arc::new(levels),
            };
        }
        frames -= 1;
    }
}

struct Listing<'a> {
    season: &'a Season,
    colony: &'a Colony,
    levels: &'a [Level],
    /// How many of them may be chosen; behind them stand those that are held.
    usual: usize,
    held: &'a [Drawn],
    /// By round: what people were told that it gives.
    told: Option<&'a [Option<i64>]>,
    without: Walk<'a>,
    last: i32,
    most: usize,
    found: Vec<Trajectory>,
}

/// What a draw on the way gives, and burdens.
type Step = (usize, [i64; 3], i64);

impl<'a> Listing<'a> {
    fn new(
        season: &'a Season,
        (at, colony): (usize, &'a Colony),
        (levels, usual): (&'a [Level], usize),
        held: &'a [Drawn],
    ) -> Self {
        let told = season.told.as_ref().and_then(|told| told.given.get(at));
        let last = last_day(season, colony);
        let mut without = Walk::new(season, colony);
        let _ = without.until(last);
        Self {
            season,
            colony,
            levels,
            usual,
            held,
            told: told.map(Vec::as_slice),
            without,
            last,
            most: listed_at_most(season),
            found: Vec::new(),
        }
    }

    /// Levels that may be chosen in a round.
    fn choices(&self, round: usize) -> Range<usize> {
        match self.held.get(round) {
            None => 0..self.usual,
            Some(drawn) if drawn.level == 0 => 0..1,
            Some(_) => self.usual + round..self.usual + round + 1,
        }
    }

    /// Goes on from a round; whether all was listed.
    fn go(&mut self, at: Walk<'a>, steps: &mut Vec<Step>) -> bool {
        let mut here = at;
        let round = steps.len();
        let Some(day) = self.season.rounds.get(round).map(|round| round.day) else {
            self.end(here, steps);
            return self.found.len() <= self.most;
        };
        let told = self.told.and_then(|told| *told.get(round)?);
        if here.until(day).is_none() {
            return true;
        }
        for level in self.choices(round) {
            let mut next = here;
            let Some(drawn) = next.draw(round, level, self.levels[level]) else {
                continue;
            };
            let prices = &self.season.prices;
            let burden = match level {
                0 => 0,
                _ => {
                    prices.opened
                        + prices.burden * Walk::burden(self.colony, here.strength(), &drawn)
                }
            };
            let otherwise = told.map_or(0, |told| (drawn.counts() - told).abs());
            let burden = burden + prices.otherwise * otherwise;
            steps.push((level, Walk::gives(self.colony, &drawn), burden));
            let whole = self.go(next, steps);
            steps.pop();
            if !whole {
                return false;
            }
        }
        true
    }

    fn end(&mut self, mut at: Walk<'a>, steps: &[Step]) {
        if at.until(self.last).is_none() {
            return;
        }
        let weak = |winter: super::Winter| at.winter + NOISE < winter.bees;
        if at.drawn && !self.colony.apart && self.season.winter.is_some_and(weak) {
            return;
        }
        let honey = honey(self.colony, at.foraged, self.without.foraged);
        if at.drawn
            && self
                .colony
                .caps
                .honey
                .is_some_and(|most| honey > most + NOISE)
        {
            return;
        }
        let honey = (honey + 0.5).floor() as i64;
        self.found.push(Trajectory {
            levels: steps.iter().map(|step| step.0).collect(),
            gives: steps.iter().map(|step| step.1).collect(),
            honey,
            cost: honey + steps.iter().map(|step| step.2).sum::<i64>(),
        });
    }
}

/// Those of which no other gives as much in every round and costs no more, and gives up no more honey where that is to count;
/// those that give least first.
fn undominated(mut all: Vec<Trajectory>, by_honey: bool) -> Vec<Trajectory> {
    let sum = |of: &Trajectory| of.gives.iter().flatten().sum::<i64>();
    all.sort_by_cached_key(|of| (-sum(of), of.cost, of.levels.clone()));
    let figures = |one: &Trajectory| -> Vec<i64> {
        let gives = one.gives.iter().flatten().copied();
        let honey = if by_honey { one.honey } else { 0 };
        [-one.cost, -honey].into_iter().chain(gives).collect()
    };
    let lanes = Lanes::of(all.iter().map(figures));
    let mut kept: Vec<Trajectory> = Vec::new();
    // Those that are kept, packed, one after another.
    let mut packed: Vec<u64> = Vec::new();
    for (at, one) in all.into_iter().enumerate() {
        let own = lanes.at(at);
        let beaten = packed.chunks_exact(lanes.words).any(|by| no_less(by, own));
        if !beaten {
            packed.extend(own);
            kept.push(one);
        }
    }
    kept.reverse();
    kept
}

/// Figures by their ranks, four in a word: what is compared so often is small.
struct Lanes {
    words: usize,
    all: Vec<u64>,
}

/// The highest bit of each lane, which no rank has.
const HIGH: u64 = 0x8000_8000_8000_8000;

impl Lanes {
    /// Of lists of figures that are all as long: fewer than 32,768 lists have no more ranks than a lane holds.
    fn of(lists: impl Iterator<Item = Vec<i64>>) -> Self {
        let lists: Vec<Vec<i64>> = lists.collect();
        let figures = lists.first().map_or(0, Vec::len);
        let words = figures.div_ceil(4).max(1);
        let mut all = vec![0; lists.len() * words];
        for figure in 0..figures {
            let mut known: Vec<i64> = lists.iter().map(|list| list[figure]).collect();
            known.sort_unstable();
            known.dedup();
            for (list, packed) in lists.iter().zip(all.chunks_exact_mut(words)) {
                let rank = known.binary_search(&list[figure]).unwrap_or_else(|at| at);
                packed[figure / 4] |= (rank as u64 & 0x7FFF) << (16 * (figure % 4));
            }
        }
        Self { words, all }
    }

    fn at(&self, list: usize) -> &[u64] {
        &self.all[list * self.words..][..self.words]
    }
}

/// Whether no rank is less than the other.
fn no_less(by: &[u64], own: &[u64]) -> bool {
    by.iter()
        .zip(own)
        .all(|(by, own)| ((by | HIGH) - own) & HIGH == HIGH)
}

fn last_day(season: &Season, colony: &Colony) -> i32 {
    let flow = colony.crop.map_or(0, |crop| crop.to.min(365) + 1);
    horizon(season).max(flow)
}

/// Honey given up by a colony that foraged so much, of what it would have without a draw.
fn honey(colony: &Colony, foraged: f64, without: f64) -> f64 {
    match &colony.crop {
        Some(crop) if without > 0.0 => crop.grams * (1.0 - foraged / without).clamp(0.0, 1.0),
        _ => 0.0,
    }
}
