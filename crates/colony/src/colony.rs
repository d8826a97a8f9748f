//! Adults, brood by age and stores, day by day.

use super::{Season, some};

/// Recruitment of house bees a day without foragers (Khoury et al. 2011: 0.25).
pub const ALPHA: f64 = 0.25;
/// How strongly foragers hold recruitment back (Khoury et al. 2011: 0.75).
pub const SIGMA: f64 = 0.75;
/// Foragers lost a day (Khoury et al. 2013: 0.154).
pub const MORTALITY: f64 = 0.154;
/// The figure beside it wherever a day is promised (a choice within the stable range).
pub const MORTALITY_BESIDE: f64 = 0.1;
/// Adults at which laying is half of the queen's most (Khoury et al. 2011: one of 4000, 10,000, 27,000).
pub const HALF_LAYING: f64 = 10_000.0;
/// Most eggs a day of any queen (Khoury et al. 2011: 2000).
pub const MOST_EGGS: f64 = 2000.0;
/// Laying of a queen whose brood has not been seen, in a colony without end (Khoury et al. 2011: 2000).
pub const LAYING: f64 = 2000.0;
/// Days as an egg (common practice).
pub const EGG_DAYS: usize = 3;
/// Days as a larva (common practice).
pub const LARVA_DAYS: usize = 6;
/// Days in the sealed cell (common practice).
pub const SEALED_DAYS: usize = 12;
/// Days from egg to bee.
pub const BROOD_DAYS: usize = EGG_DAYS + LARVA_DAYS + SEALED_DAYS;
/// Grams that a bee eats in a day (Khoury et al. 2013, second hand).
pub const BEE_EATS: f64 = 0.007;
/// Grams that an open cell is given in a day (Khoury et al. 2013, second hand).
pub const OPEN_CELL_EATS: f64 = 0.018;

const OPEN_DAYS: usize = EGG_DAYS + LARVA_DAYS;

/// What the model counts with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting {
    /// Foragers lost each day, 0..=1.
    pub mortality: f64,
    /// Adults at which laying is half of the queen's most, above 0.
    pub half_laying: f64,
    /// Most eggs a day.
    pub most_eggs: f64,
    /// Where in the year the colony was counted; `None`: laying knows no season.
    pub season: Option<Season>,
}

impl Default for Setting {
    fn default() -> Self {
        Self {
            mortality: MORTALITY,
            half_laying: HALF_LAYING,
            most_eggs: MOST_EGGS,
            season: None,
        }
    }
}

/// A colony: adults and brood by age, in bees and cells that need not be whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Colony {
    house: f64,
    foragers: f64,
    /// A ring: the age of `a` days is at `(youngest + a) % BROOD_DAYS`.
    brood: [f64; BROOD_DAYS],
    youngest: usize,
    /// Days since the count.
    day: i32,
    /// Eggs a day that its queen would lay in a colony without end on the day of the count; 0 or more.
    pub laying: f64,
    /// Cells for brood, those with brood included; infinite where they set no limit.
    pub cells: f64,
    /// Grams of honey; 0 or more.
    pub stores: f64,
}

impl Colony {
    /// A colony as it was counted: `bees` adults, split as in the steady state of the mortality (see
    /// [`steady_ratio`]), `open` cells spread evenly over the 9 open ages and `sealed` cells over the 12
    /// sealed ages. Its queen lays what this brood says, or [`LAYING`] where there is none. Cells without
    /// limit, no stores. Figures below 0 or not finite count as 0.
    ///
    /// ```
    /// use spareframe_colony::{Colony, Setting};
    /// let setting = Setting::default();
    /// let colony = Colony::counted(20_000.0, 9_000.0, 12_000.0, &setting);
    /// assert!((colony.bees() - 20_000.0).abs() < 1e-6);
    /// assert!((colony.eggs() - 3_000.0).abs() < 1e-6);
    /// assert!((colony.foragers() / colony.house() - 0.352932).abs() < 1e-6);
    /// assert!((colony.laying - 1_500.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn counted(bees: f64, open: f64, sealed: f64, setting: &Setting) -> Self {
        let (bees, open, sealed) = (some(bees), some(open), some(sealed));
        let house = bees / (1.0 + steady_ratio(setting.mortality));
        let mut brood = [open / days(OPEN_DAYS); BROOD_DAYS];
        for cells in brood.iter_mut().skip(OPEN_DAYS) {
            *cells = sealed / days(SEALED_DAYS);
        }
        let laid = (open + sealed) / days(BROOD_DAYS);
        Self {
            house,
            foragers: bees - house,
            brood,
            youngest: 0,
            day: 0,
            laying: if laid > 0.0 && bees > 0.0 {
                laid * (some(setting.half_laying) + bees) / bees
            } else {
                LAYING
            },
            cells: f64::INFINITY,
            stores: 0.0,
        }
    }

    /// The state that repeats itself day after day where the queen lays so much and there is no season. `None`
    /// where there is none: without mortality a colony grows for ever, with too much it dies out.
    ///
    /// ```
    /// use spareframe_colony::{Colony, Setting};
    /// let setting = Setting::default();
    /// let steady = Colony::steady(2000.0, &setting).expect("stable");
    /// let mut later = steady;
    /// later.run(&setting, 100);
    /// assert!((later.bees() - steady.bees()).abs() < 1e-6);
    /// assert!(Colony::steady(2000.0, &Setting { mortality: 0.0, ..setting }).is_none());
    /// ```
    #[must_use]
    pub fn steady(laying: f64, setting: &Setting) -> Option<Self> {
        let (m, ratio) = (setting.mortality, steady_ratio(setting.mortality));
        let foragers = laying / m - setting.half_laying * ratio / (1.0 + ratio);
        if !(foragers.is_finite() && foragers > 0.0 && m > 0.0) {
            return None;
        }
        Some(Self {
            house: foragers / ratio,
            foragers,
            brood: [m * foragers; BROOD_DAYS],
            youngest: 0,
            day: 0,
            laying,
            cells: f64::INFINITY,
            stores: 0.0,
        })
    }

    /// Eggs that are laid today.
    ///
    /// ```
    /// use spareframe_colony::{Colony, Setting};
    /// let setting = Setting::default();
    /// let mut colony = Colony::counted(20_000.0, 9_000.0, 12_000.0, &setting);
    /// assert!((colony.eggs_a_day(&setting) - 1_000.0).abs() < 1e-9);
    /// // 1000 cells are free once today's bees are out; 400 of them are lost.
    /// colony.cells = 20_600.0;
    /// assert!((colony.eggs_a_day(&setting) - 600.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn eggs_a_day(&self, setting: &Setting) -> f64 {
        let bees = self.bees();
        if bees <= 0.0 {
            return 0.0;
        }
        let ratio = setting.season.map_or(1.0, |season| season.ratio(self.day));
        let eggs = self.laying * ratio * bees / (setting.half_laying + bees);
        let mut most = setting.most_eggs;
        if self.cells.is_finite() {
            let emerging = self.sum(BROOD_DAYS - 1, BROOD_DAYS);
            most = most.min((self.cells - self.brood() + emerging).max(0.0));
        }
        some(eggs.min(most))
    }

    /// One day passes.
    ///
    /// ```
    /// use spareframe_colony::{Colony, Setting};
    /// let setting = Setting::default();
    /// let mut colony = Colony::counted(0.0, 0.0, 1_200.0, &setting);
    /// colony.step(&setting);
    /// assert!((colony.bees() - 100.0).abs() < 1e-9);
    /// assert!((colony.sealed() - 1_100.0).abs() < 1e-9);
    /// ```
    pub fn step(&mut self, setting: &Setting) {
        let bees = self.bees();
        let eggs = self.eggs_a_day(setting);
        let recruited = if bees > 0.0 {
            self.house * (ALPHA - SIGMA * self.foragers / bees)
        } else {
            0.0
        };
        if self.stores > 0.0 {
            self.stores = (self.stores - self.eats()).max(0.0);
        }
        // The slot of the last age becomes that of the new eggs.
        self.youngest = if self.youngest == 0 {
            BROOD_DAYS - 1
        } else {
            self.youngest - 1
        };
        let emerging = match self.brood.get_mut(self.youngest) {
            Some(slot) => std::mem::replace(slot, eggs),
            None => 0.0,
        };
        self.house = (self.house + emerging - recruited).max(0.0);
        self.foragers = (self.foragers + recruited - setting.mortality * self.foragers).max(0.0);
        self.day = self.day.saturating_add(1);
    }

    /// So many days pass.
    ///
    /// ```
    /// use spareframe_colony::{Colony, Setting};
    /// let setting = Setting::default();
    /// let mut colony = Colony::counted(10_000.0, 9_000.0, 12_000.0, &setting);
    /// colony.run(&setting, 1_000);
    /// let steady = Colony::steady(colony.laying, &setting).expect("stable");
    /// assert!((colony.bees() - steady.bees()).abs() < 1.0);
    /// ```
    pub fn run(&mut self, setting: &Setting, days: u32) {
        for _ in 0..days {
            self.step(setting);
        }
    }

    /// Grams that are eaten today.
    #[must_use]
    pub fn eats(&self) -> f64 {
        BEE_EATS * self.bees() + OPEN_CELL_EATS * self.open()
    }

    /// Days until the stores are gone where each bee is counted with so many grams a day, and what is fed to
    /// brood with it; `None` where they last for `most` days.
    ///
    /// ```
    /// use spareframe_colony::{BEE_EATS, Colony, Setting};
    /// let setting = Setting { mortality: 0.0, ..Setting::default() };
    /// let mut colony = Colony::counted(10_000.0, 0.0, 0.0, &setting);
    /// (colony.laying, colony.stores) = (0.0, 600.0);
    /// assert_eq!(colony.fed_for(&setting, BEE_EATS, 60), Some(8));
    /// assert_eq!(colony.fed_for(&setting, BEE_EATS, 8), None);
    /// ```
    #[must_use]
    pub fn fed_for(mut self, setting: &Setting, each: f64, most: u32) -> Option<u32> {
        let mut stores = self.stores;
        for day in 0..most {
            stores -= self.eats() + (each - BEE_EATS) * self.bees();
            if stores < 0.0 {
                return Some(day);
            }
            self.step(setting);
        }
        None
    }

    /// Foragers summed over the days `from..=to` after the count, each as it is at the start of the day. Days
    /// that are past are not counted.
    ///
    /// ```
    /// use spareframe_colony::{Colony, Setting};
    /// let setting = Setting { mortality: 0.1, half_laying: 27_000.0, ..Setting::default() };
    /// let colony = Colony::steady(2000.0, &setting).expect("stable");
    /// assert!((colony.forager_days(&setting, 3, 12) - 124_081.9).abs() < 1.0);
    /// assert_eq!(colony.forager_days(&setting, -9, -1), 0.0);
    /// ```
    #[must_use]
    pub fn forager_days(mut self, setting: &Setting, from: i32, to: i32) -> f64 {
        let from = from.max(self.day);
        let mut sum = 0.0;
        if from > to {
            return sum;
        }
        for day in self.day..=to {
            if day >= from {
                sum += self.foragers;
            }
            if day < to {
                self.step(setting);
            }
        }
        sum
    }

    /// Takes a part: adults, house bees and foragers in proportion, and of open and of sealed brood each age in
    /// proportion; at most all there are. The part lays nothing; it has no cells and no stores.
    ///
    /// ```
    /// use spareframe_colony::{Colony, Setting};
    /// let setting = Setting::default();
    /// let before = Colony::counted(20_000.0, 9_000.0, 12_000.0, &setting);
    /// let mut colony = before;
    /// let part = colony.take(5_000.0, 3_000.0, 99_000.0);
    /// assert_eq!((colony.bees().round(), colony.open().round(), colony.sealed()), (15_000.0, 6_000.0, 0.0));
    /// colony.add(&part);
    /// assert!((colony.bees() - before.bees()).abs() < 1e-9);
    /// ```
    pub fn take(&mut self, bees: f64, open: f64, sealed: f64) -> Self {
        let share = |of: f64, there: f64| {
            if there > 0.0 {
                (some(of) / there).min(1.0)
            } else {
                0.0
            }
        };
        let adults = share(bees, self.bees());
        let (open, sealed) = (share(open, self.open()), share(sealed, self.sealed()));
        let mut part = Self {
            house: self.house * adults,
            foragers: self.foragers * adults,
            brood: [0.0; BROOD_DAYS],
            laying: 0.0,
            cells: 0.0,
            stores: 0.0,
            ..*self
        };
        for age in 0..BROOD_DAYS {
            let of = if age < OPEN_DAYS { open } else { sealed };
            let slot = (self.youngest + age) % BROOD_DAYS;
            part.brood[slot] = self.brood[slot] * of;
            self.brood[slot] -= part.brood[slot];
        }
        self.house -= part.house;
        self.foragers -= part.foragers;
        part
    }

    /// Adds the bees and brood of another, whose queen, cells and stores count for nothing here.
    pub fn add(&mut self, other: &Self) {
        self.house += other.house;
        self.foragers += other.foragers;
        for age in 0..BROOD_DAYS {
            let of = other.brood[(other.youngest + age) % BROOD_DAYS];
            self.brood[(self.youngest + age) % BROOD_DAYS] += of;
        }
    }

    /// Adds so many bees, open and sealed cells, of the ages that its own have; where it has none, spread as when
    /// they are counted. Taken again, nothing has changed.
    ///
    /// ```
    /// use spareframe_colony::{Colony, Setting};
    /// let setting = Setting::default();
    /// let mut before = Colony::counted(20_000.0, 9_000.0, 12_000.0, &setting);
    /// before.run(&setting, 5);
    /// let mut colony = before;
    /// colony.add_like(2_000.0, 1_500.0, 2_500.0);
    /// assert_eq!((colony.bees() - before.bees()).round(), 2_000.0);
    /// colony.take(2_000.0, 1_500.0, 2_500.0);
    /// assert!((colony.larvae() - before.larvae()).abs() < 1e-6);
    /// ```
    pub fn add_like(&mut self, bees: f64, open: f64, sealed: f64) {
        let (bees, open, sealed) = (some(bees), some(open), some(sealed));
        let (adults, foragers) = (self.bees(), self.foragers);
        let of_them = match adults > 0.0 {
            true => foragers / adults,
            false => 0.0,
        };
        self.foragers += bees * of_them;
        self.house += bees * (1.0 - of_them);
        let there = (self.open(), self.sealed());
        for age in 0..BROOD_DAYS {
            let (more, of, ages) = match age < OPEN_DAYS {
                true => (open, there.0, OPEN_DAYS),
                false => (sealed, there.1, SEALED_DAYS),
            };
            let cells = &mut self.brood[(self.youngest + age) % BROOD_DAYS];
            *cells += match of > 0.0 {
                true => more * *cells / of,
                false => more / days(ages),
            };
        }
    }

    /// House bees.
    #[must_use]
    pub fn house(&self) -> f64 {
        self.house
    }

    /// Foragers.
    #[must_use]
    pub fn foragers(&self) -> f64 {
        self.foragers
    }

    /// Adult bees.
    #[must_use]
    pub fn bees(&self) -> f64 {
        self.house + self.foragers
    }

    /// Cells with eggs.
    #[must_use]
    pub fn eggs(&self) -> f64 {
        self.sum(0, EGG_DAYS)
    }

    /// Cells with larvae, unsealed.
    #[must_use]
    pub fn larvae(&self) -> f64 {
        self.sum(EGG_DAYS, OPEN_DAYS)
    }

    /// Cells with eggs or larvae.
    #[must_use]
    pub fn open(&self) -> f64 {
        self.sum(0, OPEN_DAYS)
    }

    /// Sealed cells.
    #[must_use]
    pub fn sealed(&self) -> f64 {
        self.sum(OPEN_DAYS, BROOD_DAYS)
    }

    /// Cells with brood of any age.
    #[must_use]
    pub fn brood(&self) -> f64 {
        self.brood.iter().sum()
    }

    /// Days since the count.
    #[must_use]
    pub fn day(&self) -> i32 {
        self.day
    }

    fn sum(&self, from: usize, to: usize) -> f64 {
        let slots = (from..to).map(|age| (self.youngest + age) % BROOD_DAYS);
        slots.map(|slot| self.brood[slot]).sum()
    }
}

/// Foragers for each house bee in the steady state: the positive root `J` of
/// `m J^2 + (m + sigma - alpha) J - alpha = 0`. A mortality outside 0..=1 counts as the nearest of these.
///
/// ```
/// use spareframe_colony::steady_ratio;
/// assert!((steady_ratio(0.1) - 0.391165).abs() < 1e-6);
/// assert_eq!(steady_ratio(0.0), 0.5);
/// ```
#[must_use]
pub fn steady_ratio(mortality: f64) -> f64 {
    let m = some(mortality).min(1.0);
    let b = m + SIGMA - ALPHA;
    // The form without a difference of near equal figures; also right for m = 0.
    2.0 * ALPHA / (b + libm::sqrt(b * b + 4.0 * m * ALPHA))
}

fn days(count: usize) -> f64 {
    count as f64
}
