//! A colony from round to round, by what it gives in each.

use spareframe_colony::Colony as Model;

use super::outlook::{Drawn, Strength};
use super::season::{Colony, Season, WINTER_BEES};

/// Noise of floats, in bees or cells: a floor that is met to the last cell holds.
pub(crate) const NOISE: f64 = 1e-3;

/// What a colony may give in a round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Level {
    /// Brood frames.
    pub frames: u32,
    /// Bees that are to stay in the boxes.
    pub bees: f64,
}

/// A colony under way.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Walk<'a> {
    season: &'a Season,
    colony: &'a Colony,
    pub model: Model,
    laying: f64,
    day: i32,
    /// It has given.
    pub drawn: bool,
    /// Foragers summed over the days of the flow.
    pub foraged: f64,
    /// Bees that winter.
    pub winter: f64,
}

impl<'a> Walk<'a> {
    pub fn new(season: &'a Season, colony: &'a Colony) -> Self {
        let mut model = Model::counted(colony.bees, colony.open, colony.sealed, &season.setting);
        if let Some(laying) = colony.laying {
            model.laying = laying;
        }
        Self {
            season,
            colony,
            laying: model.laying,
            model,
            day: 0,
            drawn: false,
            foraged: 0.0,
            winter: 0.0,
        }
    }

    pub fn strength(&self) -> Strength {
        Strength {
            bees: self.model.bees(),
            brood: self.model.brood(),
        }
    }

    /// Goes on to a day. `None` where its floors do not hold at the start of its flow after it has given.
    pub fn until(&mut self, day: i32) -> Option<()> {
        while self.day < day {
            let now = self.day;
            if let Some(crop) = &self.colony.crop {
                if now == crop.from && self.drawn && now > 0 && !self.floors() {
                    return None;
                }
                if (crop.from..=crop.to).contains(&now) {
                    self.foraged += self.model.foragers();
                }
            }
            let without = self.colony.broodless;
            let without = without.is_some_and(|(from, to)| (from..=to).contains(&now));
            self.model.laying = if without { 0.0 } else { self.laying };
            if let Some(winter) = &self.season.winter
                && now < winter.on
            {
                if now == (winter.on - WINTER_BEES).max(0) {
                    self.winter = self.model.brood();
                }
                if now >= winter.on - WINTER_BEES {
                    self.winter += self.model.eggs_a_day(&self.season.setting);
                }
            }
            self.model.step(&self.season.setting);
            self.day += 1;
            if self
                .season
                .winter
                .is_some_and(|winter| self.day == winter.on)
            {
                self.winter -= self.model.brood();
            }
        }
        Some(())
    }

    fn floors(&self) -> bool {
        let keep = &self.colony.keep;
        self.colony.apart
            || self.model.bees() + NOISE >= keep.bees && self.model.brood() + NOISE >= keep.brood
    }

    /// What leaves at a level, if there is so much.
    fn wanted(&self, round: usize, level: Level) -> Option<Drawn> {
        let (colony, model) = (self.colony, &self.model);
        let (bees, brood) = (model.bees(), model.brood());
        let mut drawn = Drawn {
            frames: level.frames,
            ..Drawn::default()
        };
        let today = round == 0 && self.day == 0;
        if today && level.frames > 0 {
            let taken = colony.today.get(level.frames as usize - 1)?;
            (drawn.open, drawn.sealed, drawn.riding) = (taken.open, taken.sealed, taken.bees);
        } else if level.frames > 0 {
            let cells = colony.frame_cells * f64::from(level.frames);
            // The queen's own brood frame stays.
            let there = if colony.apart {
                brood
            } else {
                brood - colony.frame_cells
            };
            if colony.frame_cells <= 0.0 || cells > there + NOISE {
                return None;
            }
            drawn.open = cells * model.open() / brood;
            drawn.sealed = cells * model.sealed() / brood;
            drawn.riding = (colony.frame_bees * f64::from(level.frames)).min(bees * cells / brood);
        }
        drawn.bees = drawn.riding.max(level.bees * 100.0 / colony.stay as f64);
        (drawn.bees <= bees + NOISE).then_some(drawn)
    }

    /// Takes what a level says, if floors and caps allow it; what left.
    pub fn draw(&mut self, round: usize, at: usize, level: Level) -> Option<Drawn> {
        let (colony, before) = (self.colony, self.strength());
        if at == 0 {
            return Some(Drawn::default());
        }
        if self.season.last_draw.is_some_and(|last| self.day > last) {
            return None;
        }
        let drawn = Drawn {
            level: at,
            ..self.wanted(round, level)?
        };
        let cells = drawn.open + drawn.sealed;
        let caps = &colony.caps;
        let within = caps.frames.is_none_or(|most| drawn.frames <= most)
            && caps.brood.is_none_or(|most| cells <= most + NOISE)
            && caps.bees.is_none_or(|most| drawn.bees <= most + NOISE);
        if !within {
            return None;
        }
        let kept = (before.bees - drawn.bees, before.brood - cells);
        let covered = (kept.0 + NOISE) * 100.0 >= colony.keep.covered * colony.cover * kept.1
            || kept.0 / before.bees + 1e-9 >= kept.1 / before.brood;
        let bees = kept.0 + NOISE >= colony.keep.bees;
        let floors = bees && kept.1 + NOISE >= colony.keep.brood && covered;
        if !(floors || colony.apart) {
            return None;
        }
        if self
            .season
            .winter
            .is_some_and(|winter| self.day > winter.on - WINTER_BEES)
        {
            self.winter -= cells + drawn.bees;
        }
        self.model.take(drawn.bees, drawn.open, drawn.sealed);
        self.drawn = true;
        Some(drawn)
    }

    /// Points for how great a share of its bees or brood it gives.
    pub fn burden(colony: &Colony, before: Strength, drawn: &Drawn) -> i64 {
        if colony.apart || drawn.level == 0 {
            return 0;
        }
        let share = |part: f64, of: f64| {
            if of > 0.0 {
                (100.0 * part / of - 1e-9).ceil() as i64
            } else {
                0
            }
        };
        let cells = drawn.open + drawn.sealed;
        let p = share(drawn.bees, before.bees)
            .max(share(cells, before.brood))
            .min(100);
        p + [20, 40, 60, 80]
            .iter()
            .map(|from| (p - from).max(0))
            .sum::<i64>()
    }

    /// What of it is given to boxes: brood frames in hundredths, bees that stay, loose ones of them.
    pub fn gives(colony: &Colony, drawn: &Drawn) -> [i64; 3] {
        let stay = |bees: f64| (bees * colony.stay as f64 / 100.0 + 1e-6).floor() as i64;
        [
            i64::from(drawn.frames) * 100,
            stay(drawn.bees),
            stay(drawn.bees - drawn.riding),
        ]
    }
}

/// The last day that anything is counted on.
pub(crate) fn horizon(season: &Season) -> i32 {
    let rounds = season
        .rounds
        .iter()
        .map(|round| round.day + season.days.usable);
    let wants = season.wants.iter().map(|want| want.by);
    let winter = season.winter.iter().map(|winter| winter.on);
    rounds.chain(wants).chain(winter).max().unwrap_or(0).max(0)
}
