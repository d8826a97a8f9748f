//! The colony model: adults and brood by age, day by day.

use super::{float, some};
use crate::units::Milli;

/// Recruitment of house bees a day without foragers (Khoury et al. 2011: 0.25).
pub const ALPHA: f64 = 0.25;
/// How strongly foragers hold recruitment back (Khoury et al. 2011: 0.75).
pub const SIGMA: f64 = 0.75;
/// Most eggs a day (Khoury et al. 2011: 2000).
pub const LAYING: f64 = 2000.0;
/// Adults at which laying is half of the most (Khoury et al. 2011: 27,000).
pub const HALF_LAYING: f64 = 27_000.0;
/// Days as an egg (common practice).
pub const EGG_DAYS: usize = 3;
/// Days as a larva (common practice).
pub const LARVA_DAYS: usize = 6;
/// Days in the sealed cell (common practice).
pub const SEALED_DAYS: usize = 12;
/// Days from egg to bee.
pub const BROOD_DAYS: usize = EGG_DAYS + LARVA_DAYS + SEALED_DAYS;
/// Last day that is simulated, counted from the stocking day (a choice: one year).
pub const LAST_DAY: i32 = 365;

const OPEN_DAYS: usize = EGG_DAYS + LARVA_DAYS;

/// Settings of the colony model (Khoury, Myerscough and Barron 2011), in thousandths so that
/// a scenario stays a value that can be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ColonyModel {
    /// Foragers lost each day, in thousandths, 0..=1000; beyond that the nearest is used.
    /// Default 100: a choice within the published stable range (colonies collapse above 355).
    pub mortality: Milli,
}

impl Default for ColonyModel {
    fn default() -> Self {
        Self {
            mortality: Milli(100),
        }
    }
}

impl ColonyModel {
    /// Share of foragers lost each day, 0..=1.
    ///
    /// ```
    /// use spareframe_solver::{Milli, honey::ColonyModel};
    /// assert_eq!(ColonyModel::default().daily_loss(), 0.1);
    /// assert_eq!(ColonyModel { mortality: Milli(1700) }.daily_loss(), 1.0);
    /// ```
    #[must_use]
    pub fn daily_loss(&self) -> f64 {
        float(self.mortality.0.clamp(0, 1000).into()) / 1000.0
    }
}

/// A colony in the model: adults and brood by age. Figures are bees and cells, not whole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ColonyState {
    house: f64,
    foragers: f64,
    /// A ring: the age of `a` days is at `(youngest + a) % BROOD_DAYS`.
    brood: [f64; BROOD_DAYS],
    youngest: usize,
}

impl ColonyState {
    /// A colony from what an inspection sees: `bees` adults, split as in the steady state of
    /// `mortality` (see [`steady_ratio`]), `open` cells spread evenly over the 9 open ages and
    /// `sealed` cells over the 12 sealed ages. Figures below 0 or not finite count as 0.
    ///
    /// ```
    /// use spareframe_solver::honey::ColonyState;
    /// let colony = ColonyState::observed(20_000.0, 9_000.0, 12_000.0, 0.1);
    /// assert!((colony.bees() - 20_000.0).abs() < 1e-6);
    /// assert!((colony.eggs() - 3_000.0).abs() < 1e-6);
    /// assert!((colony.foragers() / colony.house() - 0.391165).abs() < 1e-6);
    /// ```
    #[must_use]
    pub fn observed(bees: f64, open: f64, sealed: f64, mortality: f64) -> Self {
        let bees = some(bees);
        let ratio = steady_ratio(mortality);
        let house = bees / (1.0 + ratio);
        let mut brood = [some(open) / days(OPEN_DAYS); BROOD_DAYS];
        for cells in brood.iter_mut().skip(OPEN_DAYS) {
            *cells = some(sealed) / days(SEALED_DAYS);
        }
        Self {
            house,
            foragers: bees - house,
            brood,
            youngest: 0,
        }
    }

    /// The state that repeats itself day after day. `None` where there is none: without
    /// mortality a colony grows for ever, above the threshold of 0.355 it dies out.
    ///
    /// ```
    /// use spareframe_solver::honey::ColonyState;
    /// assert!(ColonyState::steady_state(0.24).is_some());
    /// assert!(ColonyState::steady_state(0.36).is_none());
    /// assert!(ColonyState::steady_state(0.0).is_none());
    /// ```
    #[must_use]
    pub fn steady_state(mortality: f64) -> Option<Self> {
        let ratio = steady_ratio(mortality);
        let foragers = LAYING / mortality - HALF_LAYING * ratio / (1.0 + ratio);
        if !(foragers.is_finite() && foragers > 0.0 && mortality > 0.0) {
            return None;
        }
        let emerging = mortality * foragers;
        Some(Self {
            house: foragers / ratio,
            foragers,
            brood: [emerging; BROOD_DAYS],
            youngest: 0,
        })
    }

    /// One day passes with so many of the foragers lost (0..=1).
    ///
    /// ```
    /// use spareframe_solver::honey::ColonyState;
    /// let mut colony = ColonyState::observed(0.0, 0.0, 1_200.0, 0.1);
    /// colony.step(0.1);
    /// assert!((colony.bees() - 100.0).abs() < 1e-9);
    /// assert!((colony.sealed() - 1_100.0).abs() < 1e-9);
    /// ```
    pub fn step(&mut self, mortality: f64) {
        let bees = self.house + self.foragers;
        let (recruited, eggs) = if bees > 0.0 {
            (
                self.house * (ALPHA - SIGMA * self.foragers / bees),
                LAYING * bees / (HALF_LAYING + bees),
            )
        } else {
            (0.0, 0.0)
        };
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
        self.foragers = (self.foragers + recruited - mortality * self.foragers).max(0.0);
    }

    /// So many days pass.
    ///
    /// ```
    /// use spareframe_solver::honey::ColonyState;
    /// let mut colony = ColonyState::observed(10_000.0, 9_000.0, 12_000.0, 0.1);
    /// colony.run(0.1, 1_000);
    /// assert!((colony.bees() - 44_129.32).abs() < 1.0);
    /// ```
    pub fn run(&mut self, mortality: f64, days: u32) {
        for _ in 0..days {
            self.step(mortality);
        }
    }

    /// Foragers summed over the days `from..=to`, each as it is at the start of the day; today
    /// is day 0. Days before today and after [`LAST_DAY`] are not counted.
    ///
    /// ```
    /// use spareframe_solver::honey::ColonyState;
    /// let colony = ColonyState::steady_state(0.1).expect("stable");
    /// assert!((colony.forager_days(0.1, 3, 12) - 124_081.9).abs() < 1.0);
    /// assert_eq!(colony.forager_days(0.1, -9, -1), 0.0);
    /// ```
    #[must_use]
    pub fn forager_days(mut self, mortality: f64, from: i32, to: i32) -> f64 {
        let (from, to) = (from.max(0), to.min(LAST_DAY));
        let mut sum = 0.0;
        if from > to {
            return sum;
        }
        for day in 0..=to {
            if day >= from {
                sum += self.foragers;
            }
            if day < to {
                self.step(mortality);
            }
        }
        sum
    }

    /// Takes adults, house bees and foragers in proportion; at most all of them.
    pub fn take_bees(&mut self, bees: f64) {
        let left = left(bees, self.bees());
        self.house *= left;
        self.foragers *= left;
    }

    /// Takes eggs and larvae, of each age in proportion; at most all of them.
    pub fn take_open(&mut self, cells: f64) {
        let left = left(cells, self.open());
        self.scale(0, OPEN_DAYS, left);
    }

    /// Takes sealed brood, of each age in proportion; at most all of it.
    pub fn take_sealed(&mut self, cells: f64) {
        let left = left(cells, self.sealed());
        self.scale(OPEN_DAYS, BROOD_DAYS, left);
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

    fn slots(&self, from: usize, to: usize) -> impl Iterator<Item = usize> + use<> {
        let youngest = self.youngest;
        (from..to).map(move |age| (youngest + age) % BROOD_DAYS)
    }

    fn sum(&self, from: usize, to: usize) -> f64 {
        self.slots(from, to)
            .filter_map(|slot| self.brood.get(slot))
            .sum()
    }

    fn scale(&mut self, from: usize, to: usize, by: f64) {
        for slot in self.slots(from, to) {
            if let Some(cells) = self.brood.get_mut(slot) {
                *cells *= by;
            }
        }
    }
}

/// Foragers for each house bee in the steady state: the positive root `J` of
/// `m J^2 + (m + sigma - alpha) J - alpha = 0`. A mortality outside 0..=1 counts as the
/// nearest of these.
///
/// ```
/// use spareframe_solver::honey::steady_ratio;
/// assert!((steady_ratio(0.1) - 0.391165).abs() < 1e-6);
/// assert_eq!(steady_ratio(0.0), 0.5);
/// ```
#[must_use]
pub fn steady_ratio(mortality: f64) -> f64 {
    let m = some(mortality).min(1.0);
    let b = m + SIGMA - ALPHA;
    // The form without a difference of near equal figures; also right for m = 0.
    2.0 * ALPHA / (b + (b * b + 4.0 * m * ALPHA).sqrt())
}

/// The share that is left when `taken` leave of `there`, 0..=1.
fn left(taken: f64, there: f64) -> f64 {
    if there > 0.0 {
        1.0 - (some(taken) / there).min(1.0)
    } else {
        0.0
    }
}

fn days(count: usize) -> f64 {
    count as f64
}
