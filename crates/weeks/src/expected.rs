//! Colonies of a yard, so many days on.

use spareframe_colony::Setting;
use spareframe_solver::honey::ColonyModel;
use spareframe_solver::{Comb, Scenario, Standing};

use super::count::{Count, Projected};
use super::stand::Stand;

/// The last day that there is an outlook on, counted from the day of the yard (a choice: one year).
pub const LAST_DAY: u32 = 365;
/// Foragers lost a day, in thousandths, for a second outlook beside the first (a choice within the stable range).
pub const BESIDE: i64 = (spareframe_colony::MORTALITY_BESIDE * 1000.0) as i64;

/// What a yard is reckoned from.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Counts {
    /// By colony; one that has none is counted as it stands.
    pub colonies: Vec<Option<Count>>,
    /// By compartment that stands; one that has none is counted as it stands, and no queen lays in it.
    pub standing: Vec<Stand>,
}

/// The yard as it is expected so many days later, 0..=365; more counts as 365. `None` where something is begun:
/// what is done is in the boxes, and no longer in the colonies. `dearth` is the first and the last day, counted from that of the yard, on
/// which bees find nothing and live from their stores.
///
/// ```
/// use spareframe_solver::Scenario;
/// use spareframe_weeks::{Counts, expected};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../solver/doctests/yard.rs");
/// assert_eq!(expected(&yard, &Counts::default(), None, 0), Some(yard.clone()));
/// let later = expected(&yard, &Counts::default(), None, 14).expect("nothing is begun");
/// assert_eq!(later.boxes, yard.boxes);
/// assert_ne!(later.colonies, yard.colonies);
/// ```
#[must_use]
pub fn expected(
    yard: &Scenario,
    counts: &Counts,
    dearth: Option<(i32, i32)>,
    days: u32,
) -> Option<Scenario> {
    if !yard.done.is_empty() {
        return None;
    }
    let mut later = yard.clone();
    let days = days.min(LAST_DAY);
    if let Some(season) = &mut later.colony_model.season {
        let days = i32::try_from(days).unwrap_or(0);
        season.counted = season.counted.saturating_add(days);
    }
    for (at, colony) in later.colonies.iter_mut().enumerate() {
        let today = || Count::today(&yard.colonies[at]);
        let count = counts
            .colonies
            .get(at)
            .cloned()
            .flatten()
            .unwrap_or_else(today);
        let then = on((&yard.combs, &yard.colony_model), &count, dearth, days).colony;
        (colony.frames, colony.extra_bees, colony.crop) = (then.frames, then.extra_bees, then.crop);
    }
    for (at, standing) in later.standing.iter_mut().enumerate() {
        let today = || Stand {
            standing: standing.clone(),
            ago: 0,
            lays_from: None,
        };
        let count = counts.standing.get(at).cloned().unwrap_or_else(today);
        let then = stands((&yard.combs, &yard.colony_model), &count, dearth, days);
        (standing.frames, standing.extra_bees) = (then.frames, then.extra_bees);
    }
    Some(later)
}

/// One colony so many days after the day of the yard, whose combs and colony model, with the season of that day, these
/// are. `dearth` is counted from that day, too.
///
/// ```
/// use spareframe_solver::{Hundreds, Scenario};
/// use spareframe_weeks::{Count, Event, Gone, on};
/// let yard: Scenario = include!("../../solver/doctests/yard.rs");
/// let of = (&yard.combs[..], &yard.colony_model);
/// let mut count = Count::today(&yard.colonies[0]);
/// assert_eq!(on(of, &count, None, 0).colony, yard.colonies[0]);
/// // Two frames of the first group leave, with 2000 bees.
/// count.since.push(Event {
///     gone: vec![Gone { of: vec![0], count: 2, each: (None, None) }],
///     bees: Hundreds(20),
///     ..Event::default()
/// });
/// let left = on(of, &count, None, 0).colony;
/// assert_eq!(left.frames[0].count + 2, yard.colonies[0].frames[0].count);
/// ```
#[must_use]
pub fn on(
    (combs, model): (&[Comb], &ColonyModel),
    count: &Count,
    dearth: Option<(i32, i32)>,
    days: u32,
) -> Projected {
    let (setting, days, hungry) = from_count(model, count.ago, dearth, days);
    count.after(combs, &setting, days, &hungry)
}

/// Eggs a day that its queen would lay in a colony without end, so many days after the count, as its brood of then, or
/// an earlier count, says; `None` where neither does.
#[must_use]
pub fn laying((combs, model): (&[Comb], &ColonyModel), count: &Count, days: u32) -> Option<u32> {
    let (setting, _) = counted_on(model, count.ago);
    count.laying(combs, &setting, days)
}

/// One compartment so many days after the day of the yard; all else as in [`on`].
#[must_use]
pub fn stands(
    (combs, model): (&[Comb], &ColonyModel),
    count: &Stand,
    dearth: Option<(i32, i32)>,
    days: u32,
) -> Standing {
    let (setting, days, hungry) = from_count(model, count.ago, dearth, days);
    count.after(combs, &setting, days, &hungry)
}

/// What is counted with from a count so many days ago, the days from it to so many after the day of the yard, and which
/// of these are hungry.
fn from_count(
    model: &ColonyModel,
    ago: u32,
    dearth: Option<(i32, i32)>,
    days: u32,
) -> (Setting, u32, impl Fn(i32) -> bool) {
    let (setting, past) = counted_on(model, ago);
    let hungry =
        move |day: i32| dearth.is_some_and(|(from, to)| (from..=to).contains(&(day - past)));
    (setting, ago.saturating_add(days), hungry)
}

/// What is counted with from a count so many days ago, and these days.
fn counted_on(model: &ColonyModel, ago: u32) -> (Setting, i32) {
    let mut setting = model.setting();
    let ago = i32::try_from(ago).unwrap_or(i32::MAX);
    if let Some(season) = &mut setting.season {
        season.counted = season.counted.saturating_sub(ago);
    }
    (setting, ago)
}
