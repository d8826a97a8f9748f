//! The charge per bee, cell and frame, and the simulated loss of a whole draw.

use spareframe_colony::{Colony as Model, Setting};

use super::{ColonyModel, LAST_DAY, float};
use crate::scenario::{Colony, Comb, Crop, FrameState};
use crate::units::{Grams, Hundreds, Milli};

/// What a colony is charged, in whole milligrams of honey for each thousand taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, PartialOrd, Ord)]
pub struct HoneyRates {
    /// Milligrams for 1000 bees; 0 or more.
    pub bees: i64,
    /// Milligrams for 1000 sealed cells; 0 or more.
    pub sealed: i64,
    /// Milligrams for 1000 open cells; 0 or more.
    pub open: i64,
    /// Whether stores that leave are counted (producers only).
    pub stores: bool,
}

/// The rates of a colony; all zero without an expected crop.
///
/// Each is the loss of crop by simulation when 1000 bees, 1000 sealed or 1000 open cells are
/// taken today (or all there are where there are fewer, scaled up to 1000), rounded up to
/// whole milligrams. All three are 0 where the flow is past or the colony would have no foragers
/// in it; stores count all the same.
///
/// ```
/// use spareframe_solver::Scenario;
/// use spareframe_solver::honey::{ColonyModel, HoneyRates, rates};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let of = |colony: usize| rates(&yard.combs, &yard.colonies[colony], &ColonyModel::default());
/// assert_eq!(of(0), HoneyRates { bees: 363_975, sealed: 369_618, open: 192_614, stores: true });
/// assert_eq!(of(1), HoneyRates::default());
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
        rates.bees = loss.per_thousand(state.bees(), |taken| [taken, 0.0, 0.0]);
        rates.open = loss.per_thousand(state.open(), |taken| [0.0, taken, 0.0]);
        rates.sealed = loss.per_thousand(state.sealed(), |taken| [0.0, 0.0, taken]);
    }
    rates
}

/// Charge for one frame without its bees: its stores, and its brood rounded up to whole grams.
///
/// ```
/// use spareframe_solver::honey::{ColonyModel, frame_charge, rates};
/// use spareframe_solver::{Grams, Scenario};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let (comb, producer) = (&yard.combs[0], &yard.colonies[0]);
/// let rates = rates(&yard.combs, producer, &ColonyModel::default());
/// // 330 g of stores; 2957 sealed and 1971 open cells.
/// assert_eq!(frame_charge(comb, &producer.frames[0].frame, rates), Grams(330 + 1_473));
/// ```
#[must_use]
pub fn frame_charge(comb: &Comb, frame: &FrameState, rates: HoneyRates) -> Grams {
    let brood = crate::units::share_of(frame.brood, comb.cells);
    let sealed = crate::units::share_of(frame.sealed, comb.cells);
    let stores = if rates.stores {
        crate::units::share_of(frame.stores, comb.stores.0)
    } else {
        0
    };
    let micrograms = sealed
        .saturating_mul(rates.sealed)
        .saturating_add((brood - sealed).saturating_mul(rates.open));
    Grams(stores.saturating_add(up(micrograms, 1_000_000)))
}

/// Charge for a hundred bees, rounded up to whole grams.
///
/// ```
/// use spareframe_solver::honey::{ColonyModel, hundred_charge, rates};
/// use spareframe_solver::{Grams, Scenario};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let rates = rates(&yard.combs, &yard.colonies[0], &ColonyModel::default());
/// assert_eq!(hundred_charge(rates), Grams(37));
/// ```
#[must_use]
pub fn hundred_charge(rates: HoneyRates) -> Grams {
    Grams(up(rates.bees, 10_000))
}

/// The quotient, rounded up.
fn up(value: i64, by: i64) -> i64 {
    value.div_euclid(by) + i64::from(value.rem_euclid(by) > 0)
}

/// What the draw costs by simulation with and without it, stores taken in full besides;
/// rounded half up to grams, 0 without an expected crop.
///
/// `bees` are all bees taken, `frames` what is taken and how many of each. More than the
/// colony has counts as all it has. Never linear in the draw, so it differs from the charge;
/// `docs/honey.md` says by how much.
///
/// ```
/// use spareframe_solver::honey::{ColonyModel, simulated};
/// use spareframe_solver::{Grams, Hundreds, Scenario};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let (model, producer) = (ColonyModel::default(), &yard.colonies[0]);
/// let frames = [(producer.frames[0].frame, 2)];
/// // The charge is 23 g more: 37 for each hundred bees, and 1803 for each frame.
/// assert_eq!(simulated(&yard.combs, producer, &model, Hundreds(40), &frames), Grams(5_063));
/// ```
#[must_use]
pub fn simulated(
    combs: &[Comb],
    colony: &Colony,
    model: &ColonyModel,
    bees: Hundreds,
    frames: &[(FrameState, u32)],
) -> Grams {
    let Some(crop) = colony.crop else {
        return Grams(0);
    };
    let loss = Loss::of(combs, colony, crop, model);
    let taken = sum(combs, frames.iter().map(|(frame, count)| (frame, *count)));
    let bees = float(100 * i128::from(bees.0));
    let grams = loss.grams([bees, float(taken.open), float(taken.sealed)]);
    // From float to integer the value is held within the range, and NaN would be 0.
    let lost = (grams + 0.5).floor() as i64;
    let stores = i64::try_from(taken.stores.max(0)).unwrap_or(i64::MAX);
    Grams(lost.saturating_add(stores))
}

/// The crop lost by a draw, ready to be asked for several draws.
struct Loss {
    state: Model,
    setting: Setting,
    crop: Crop,
    /// Forager-days of the flow without a draw.
    without: f64,
}

impl Loss {
    fn of(combs: &[Comb], colony: &Colony, crop: Crop, model: &ColonyModel) -> Self {
        let setting = model.setting();
        let held = sum(
            combs,
            colony
                .frames
                .iter()
                .map(|group| (&group.frame, group.count)),
        );
        let bees = 100 * (held.bees + i128::from(colony.extra_bees.0));
        let state = Model::counted(float(bees), float(held.open), float(held.sealed), &setting);
        let crop = Crop {
            to: crop.to.min(LAST_DAY),
            ..crop
        };
        Self {
            without: state.forager_days(&setting, crop.from, crop.to),
            state,
            setting,
            crop,
        }
    }

    /// Grams of crop lost where so many bees, open and sealed cells are taken, 0 ..= crop.
    fn grams(&self, [bees, open, sealed]: [f64; 3]) -> f64 {
        if self.without <= 0.0 {
            return 0.0;
        }
        let mut state = self.state;
        state.take(bees, open, sealed);
        let with = state.forager_days(&self.setting, self.crop.from, self.crop.to);
        (1.0 - with / self.without).clamp(0.0, 1.0) * float(self.crop.honey.0.max(0).into())
    }

    fn per_thousand(&self, there: f64, take: impl FnOnce(f64) -> [f64; 3]) -> i64 {
        let taken = there.min(1000.0);
        if taken <= 0.0 {
            return 0;
        }
        let grams = self.grams(take(taken)) * 1000.0 / taken;
        // A millionth of a gram is noise of the simulation, not a loss.
        ((grams - 1e-6) * 1000.0).ceil().max(0.0) as i64
    }
}

/// Hundreds of bees, cells and stores of some frames; each frame rounded alone.
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
        sums.bees += i128::from(count) * i128::from(frame.bees.0.max(0));
        sums.sealed += sealed;
        sums.open += (of(frame.brood, comb.cells) - sealed).max(0);
        sums.stores += of(frame.stores, comb.stores.0);
    }
    sums
}
