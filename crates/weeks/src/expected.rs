//! Colonies of a yard, so many days on.

use spareframe_colony::{Colony as Model, Setting};
use spareframe_solver::{Colony, Comb, Crop, FrameState, Grams, Milli, Scenario, honey, share_of};

use super::combs::{Held, hang};

/// The last day that there is an outlook on, counted from the day of the yard (a choice: one year).
pub const LAST_DAY: u32 = 365;
/// Foragers lost a day, in thousandths, for a second outlook beside the first (a choice within the stable range).
pub const BESIDE: i64 = (spareframe_colony::MORTALITY_BESIDE * 1000.0) as i64;

/// The yard as it is expected so many days later, 0..=365; more counts as 365. `None` where something is begun:
/// what stands already is not in the yard. `dearth` is the first and the last day, counted from that of the yard, on
/// which bees find nothing and live from their stores.
///
/// ```
/// use spareframe_solver::Scenario;
/// use spareframe_weeks::expected;
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../solver/doctests/yard.rs");
/// assert_eq!(expected(&yard, None, 0), Some(yard.clone()));
/// let later = expected(&yard, None, 14).expect("nothing is begun");
/// assert_eq!(later.boxes, yard.boxes);
/// assert_ne!(later.colonies, yard.colonies);
/// ```
#[must_use]
pub fn expected(yard: &Scenario, dearth: Option<(i32, i32)>, days: u32) -> Option<Scenario> {
    if !yard.done.is_empty() {
        return None;
    }
    let mut later = yard.clone();
    let days = i32::try_from(days.min(LAST_DAY)).unwrap_or(0);
    if days == 0 {
        return Some(later);
    }
    let setting = yard.colony_model.setting();
    if let Some(season) = &mut later.colony_model.season {
        season.counted = season.counted.saturating_add(days);
    }
    let hungry = |day: i32| dearth.is_some_and(|(from, to)| (from..=to).contains(&day));
    for colony in &mut later.colonies {
        *colony = at(&yard.combs, colony, &setting, days, &hungry);
    }
    Some(later)
}

fn at(
    combs: &[Comb],
    colony: &Colony,
    setting: &Setting,
    days: i32,
    hungry: &dyn Fn(i32) -> bool,
) -> Colony {
    let start = counted(combs, colony, setting);
    let mut model = start;
    for day in 0..days {
        let stores = model.stores;
        model.step(setting);
        if !hungry(day) {
            model.stores = stores;
        }
    }
    let mut later = colony.clone();
    later.crop = colony.crop.map(|crop| left(crop, &start, setting, days));
    let held = Held {
        bees: model.bees(),
        brood: model.brood(),
        sealed: model.sealed(),
        stores: model.stores,
    };
    hang(combs, &mut later, &held);
    later
}

/// A colony in the model, with what its combs have room for.
fn counted(combs: &[Comb], colony: &Colony, setting: &Setting) -> Model {
    let sum = |of: &dyn Fn(&FrameState, &Comb) -> i64| -> f64 {
        let groups = colony.frames.iter();
        let each = groups.filter_map(|group| {
            let comb = combs.get(group.frame.comb.0)?;
            Some(i128::from(group.count) * i128::from(of(&group.frame, comb)))
        });
        each.sum::<i128>() as f64
    };
    let cells = |share: Milli, comb: &Comb| share_of(share, comb.cells);
    let sealed = sum(&|frame, comb| cells(frame.sealed, comb));
    let open = sum(&|frame, comb| cells(frame.brood, comb) - cells(frame.sealed, comb));
    let bees = sum(&|frame, _| frame.bees.bees().0) + colony.extra_bees.bees().0 as f64;
    let mut model = Model::counted(bees, open, sealed, setting);
    model.cells = sum(&|frame, comb| cells(Milli(frame.drawn.0 - frame.stores.0), comb));
    model.stores = sum(&|frame, comb| share_of(frame.stores, comb.stores.0));
    model
}

/// What is left of a crop: the share of forager-days still to come; a gram at least, so that it stays a
/// producer.
fn left(crop: Crop, start: &Model, setting: &Setting, days: i32) -> Crop {
    let to = crop.to.min(honey::LAST_DAY);
    let all = start.forager_days(setting, crop.from, to);
    let past = start.forager_days(setting, crop.from, to.min(days - 1));
    let share = if all > 0.0 { 1.0 - past / all } else { 1.0 };
    Crop {
        honey: Grams(((crop.honey.0 as f64 * share) as i64).max(1)),
        from: crop.from.saturating_sub(days),
        to: crop.to.saturating_sub(days),
    }
}
