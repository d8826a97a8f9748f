//! Honey given up: the colony model and the charge per bee, cell and frame.
//!
//! An estimate, not a measurement. Assumptions, formulas and how far the charge and the
//! simulation differ are in `docs/honey.md`.
//!
//! # The colony model
//!
//! Adults are house bees `H` and foragers `F`, `N = H + F`, as in Khoury, Myerscough and
//! Barron 2011 (PLoS ONE 6(4):e18491); brood is a line of 21 ages of one day: 3 egg, 6 larva,
//! 12 sealed. One day with mortality `m`:
//!
//! * emerging: the brood of the last age;
//! * recruited: `H (alpha - sigma F / N)`, negative when foragers turn back to house work;
//! * `H` gains the emerging and loses the recruited, `F` gains the recruited and loses `m F`;
//! * laid: `L N / (w + N)` eggs, from the adults at the start of the day.
//!
//! ```
//! use spareframe_solver::honey::ColonyState;
//! let mut colony = ColonyState::steady_state(0.1).expect("stable below 0.355");
//! assert!((colony.bees() - 44_129.32).abs() < 0.01);
//! colony.take_bees(4_000.0);
//! colony.run(0.1, 10);
//! assert!(colony.bees() < 44_129.0);
//! ```

use crate::scenario::{Colony, Comb, Crop, FrameState};
use crate::units::{Bees, Milli, Milligrams};

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

/// What a colony is charged, in whole grams of honey for each thousand taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, PartialOrd, Ord)]
pub struct HoneyRates {
    /// Grams for 1000 bees, which is milligrams for a bee; 0 or more.
    pub bees: i64,
    /// Grams for 1000 sealed cells; 0 or more.
    pub sealed: i64,
    /// Grams for 1000 open cells; 0 or more.
    pub open: i64,
    /// Whether stores that leave are counted (producers only).
    pub stores: bool,
}

/// The rates of a colony; all zero without an expected crop.
///
/// Each is the loss of crop by simulation when 1000 bees, 1000 sealed or 1000 open cells are
/// taken today (or all there are where there are fewer, scaled up to 1000), rounded up to
/// whole grams. All three are 0 where the flow is past or the colony would have no foragers
/// in it; stores count all the same.
///
/// ```
/// use spareframe_solver::{Bees, Colony, Crop, Draw, Grams, Keep, SiteId};
/// use spareframe_solver::honey::{ColonyModel, HoneyRates, rates};
/// let mut colony = Colony {
///     name: "1".into(), site: SiteId(0), role: "production".into(), hold: None,
///     frames: vec![], extra_bees: Bees(20_000), crop: None,
///     keep: Keep::default(), draw: Draw::default(),
/// };
/// assert_eq!(rates(&[], &colony, &ColonyModel::default()), HoneyRates::default());
/// colony.crop = Some(Crop { honey: Grams(20_000), from: 0, to: 20 });
/// let with = rates(&[], &colony, &ColonyModel::default());
/// assert!(with.bees > 0 && with.stores);
/// ```
#[must_use]
pub fn rates(combs: &[Comb], colony: &Colony, model: &ColonyModel) -> HoneyRates {
    let Some(crop) = colony.crop else {
        return HoneyRates::default();
    };
    let mut rates = HoneyRates {
        stores: true,
        ..HoneyRates::default()
    };
    let loss = Loss::of(combs, colony, crop, model);
    if loss.without > 0.0 {
        let state = loss.state;
        rates.bees = loss.per_thousand(state.bees(), ColonyState::take_bees);
        rates.sealed = loss.per_thousand(state.sealed(), ColonyState::take_sealed);
        rates.open = loss.per_thousand(state.open(), ColonyState::take_open);
    }
    rates
}

/// Charge for one frame without its bees.
#[must_use]
pub fn frame_charge(comb: &Comb, frame: &FrameState, rates: HoneyRates) -> Milligrams {
    let brood = crate::units::share_of(frame.brood, comb.cells);
    let sealed = crate::units::share_of(frame.sealed, comb.cells);
    let stores = if rates.stores {
        crate::units::share_of(frame.stores, comb.stores.0)
    } else {
        0
    };
    Milligrams(
        sealed
            .saturating_mul(rates.sealed)
            .saturating_add((brood - sealed).saturating_mul(rates.open))
            .saturating_add(stores.saturating_mul(1000)),
    )
}

/// Charge for bees.
#[must_use]
pub fn bees_charge(bees: Bees, rates: HoneyRates) -> Milligrams {
    Milligrams(bees.0.saturating_mul(rates.bees))
}

/// What the draw costs by simulation with and without it, stores taken in full besides;
/// rounded half up to milligrams, 0 without an expected crop.
///
/// `bees` are all bees taken, `frames` what is taken and how many of each. More than the
/// colony has counts as all it has. Never linear in the draw, so it differs from the charge;
/// `docs/honey.md` says by how much.
#[must_use]
pub fn simulated(
    combs: &[Comb],
    colony: &Colony,
    model: &ColonyModel,
    bees: Bees,
    frames: &[(FrameState, u32)],
) -> Milligrams {
    let Some(crop) = colony.crop else {
        return Milligrams(0);
    };
    let loss = Loss::of(combs, colony, crop, model);
    let taken = sum(combs, frames.iter().map(|(frame, count)| (frame, *count)));
    let grams = loss.grams(|state| {
        state.take_bees(float(bees.0.into()));
        state.take_sealed(float(taken.sealed));
        state.take_open(float(taken.open));
    });
    // From float to integer the value is held within the range, and NaN would be 0.
    let lost = (grams * 1000.0 + 0.5).floor() as i64;
    let stores = i64::try_from(taken.stores.max(0))
        .unwrap_or(i64::MAX)
        .saturating_mul(1000);
    Milligrams(lost.saturating_add(stores))
}

/// The crop lost by a draw, ready to be asked for several draws.
struct Loss {
    state: ColonyState,
    mortality: f64,
    crop: Crop,
    /// Forager-days of the flow without a draw.
    without: f64,
}

impl Loss {
    fn of(combs: &[Comb], colony: &Colony, crop: Crop, model: &ColonyModel) -> Self {
        let mortality = model.daily_loss();
        let held = sum(
            combs,
            colony
                .frames
                .iter()
                .map(|group| (&group.frame, group.count)),
        );
        let bees = held.bees + i128::from(colony.extra_bees.0);
        let state =
            ColonyState::observed(float(bees), float(held.open), float(held.sealed), mortality);
        let without = state.forager_days(mortality, crop.from, crop.to);
        Self {
            state,
            mortality,
            crop,
            without,
        }
    }

    /// Grams of crop lost, 0 ..= crop.
    fn grams(&self, take: impl FnOnce(&mut ColonyState)) -> f64 {
        if self.without <= 0.0 {
            return 0.0;
        }
        let mut state = self.state;
        take(&mut state);
        let with = state.forager_days(self.mortality, self.crop.from, self.crop.to);
        some(1.0 - with / self.without).min(1.0) * some(float(self.crop.honey.0.into()))
    }

    fn per_thousand(&self, there: f64, take: impl FnOnce(&mut ColonyState, f64)) -> i64 {
        let taken = there.min(1000.0);
        if taken <= 0.0 {
            return 0;
        }
        let grams = self.grams(|state| take(state, taken)) * 1000.0 / taken;
        // A millionth of a gram is noise of the simulation, not a loss.
        (grams - 1e-6).ceil().max(0.0) as i64
    }
}

/// Bees, cells and stores of some frames; each frame rounded alone.
#[derive(Default)]
struct Sums {
    bees: i128,
    open: i128,
    sealed: i128,
    stores: i128,
}

fn sum<'a>(combs: &[Comb], frames: impl Iterator<Item = (&'a FrameState, u32)>) -> Sums {
    let mut sums = Sums::default();
    for (frame, count) in frames {
        let Some(comb) = combs.get(frame.comb.0) else {
            continue;
        };
        let of = |share: Milli, whole: i64| {
            let share = i128::from(share.0.clamp(0, 1000));
            i128::from(count) * (share * i128::from(whole) + 500).div_euclid(1000)
        };
        let sealed = of(frame.sealed, comb.cells);
        sums.bees += of(frame.bees, comb.bees.0);
        sums.sealed += sealed;
        sums.open += (of(frame.brood, comb.cells) - sealed).max(0);
        sums.stores += of(frame.stores, comb.stores.0);
    }
    sums
}

/// The share that is left when `taken` leave of `there`, 0..=1.
fn left(taken: f64, there: f64) -> f64 {
    if there > 0.0 {
        1.0 - (some(taken) / there).min(1.0)
    } else {
        0.0
    }
}

/// The value if it is finite and above 0, else 0.
fn some(value: f64) -> f64 {
    if value.is_finite() {
        value.max(0.0)
    } else {
        0.0
    }
}

fn float(value: i128) -> f64 {
    value as f64
}

fn days(count: usize) -> f64 {
    count as f64
}
