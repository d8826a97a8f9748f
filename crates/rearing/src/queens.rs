//! Mated queens out of their compartments: from which day on, and which colony gets which.

use crate::interval::{IntervalId, Intervals};
use crate::timeline::{after, before};
use jiff::civil::Date;

/// The day from which a queen is of age for certain: by the day on which her round began, or by a day on which eggs of
/// hers were there, as she laid none sooner than she can have after she emerged; the earlier of both.
///
/// ```
/// use jiff::civil::date;
/// use spareframe_rearing::{Intervals, of_age};
/// // Cells in a day later, out within two days, and 24 days old.
/// let began = date(2031, 6, 1);
/// let own = Intervals::default();
/// assert_eq!(of_age(began, date(2031, 6, 19), &own), date(2031, 6, 28));
/// // 7 days at least to the first egg, of 24.
/// assert_eq!(of_age(began, date(2031, 6, 8), &own), date(2031, 6, 25));
/// ```
#[must_use]
pub fn of_age(round: Date, eggs: Date, intervals: &Intervals) -> Date {
    let days = |id| intervals.get(id);
    let age = days(IntervalId::Age).least;
    let emerged = days(IntervalId::CellsIn).usual + days(IntervalId::Emergence).most;
    let flown = days(IntervalId::Flights).least.saturating_add(1);
    let laid = days(IntervalId::Eggs).least.max(flown);
    let by_round = after(round, emerged.saturating_add(age));
    by_round.min(after(eggs, age.saturating_sub(laid)))
}

/// A colony that is to get a mated queen.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Wanted {
    /// The day its old queen was found and taken out; `None` where that is still to be done.
    pub prepared: Option<Date>,
}

/// When a colony gets which queen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Requeened {
    /// Which of the queens, from 0.
    pub queen: usize,
    /// The day its old queen is taken out, or was.
    pub old_out: Date,
    /// The day the queen goes in.
    pub goes_in: Date,
    /// Days that the queen waits for the colony, as its old queen is not out, or not long enough.
    pub waits: u32,
}

/// Which queen goes where.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Allotted {
    /// For each colony in turn: its queen, or `None` where none is in sight.
    pub colonies: Vec<Option<Requeened>>,
    /// Queens at hand that no colony gets, for boxes that take such and for sale.
    pub left: Vec<usize>,
    /// Queens that are of age later and that no colony waits for, the first first.
    pub later: Vec<usize>,
}

/// Gives queens to colonies, both in their order; those that are of age on `day` first, then the others as they come of
/// age. No queen goes in before the colony has been without one for the days that the intervals say.
///
/// `of_age` is, for each queen, the day from which she may be taken.
///
/// ```
/// use jiff::civil::date;
/// use spareframe_rearing::{Intervals, Wanted, allot};
/// let day = date(2031, 6, 30);
/// let of_age = [date(2031, 7, 4), date(2031, 6, 28), date(2031, 6, 30)];
/// let prepared = Wanted { prepared: Some(date(2031, 6, 28)) };
/// let found = allot(day, &of_age, &[prepared, Wanted::default(), Wanted::default()], &Intervals::default());
/// let [first, second, third] = found.colonies[..] else { unreachable!() };
/// // The first colony has been without a queen for two days.
/// assert_eq!(first.map(|c| (c.queen, c.goes_in)), Some((1, day)));
/// // The old queen of the second is taken out today, and its queen waits for two days.
/// assert_eq!(second.map(|c| (c.queen, c.old_out, c.waits)), Some((2, day, 2)));
/// // The third waits for its queen, and loses the old one in time.
/// assert_eq!(third.map(|c| (c.old_out, c.goes_in)), Some((date(2031, 7, 2), date(2031, 7, 4))));
/// ```
#[must_use]
pub fn allot(day: Date, of_age: &[Date], wanted: &[Wanted], intervals: &Intervals) -> Allotted {
    let ready = |queen: usize| of_age.get(queen).map_or(day, |&of_age| of_age.max(day));
    let mut queens: Vec<usize> = (0..of_age.len()).collect();
    queens.sort_by_key(|&queen| ready(queen));
    let without = intervals.get(IntervalId::Queenless).usual;
    let colonies = wanted.iter().enumerate().map(|(turn, colony)| {
        let queen = *queens.get(turn)?;
        let ready = ready(queen);
        let old_out = colony
            .prepared
            .unwrap_or_else(|| before(ready, without).max(day));
        let goes_in = ready.max(after(old_out, without));
        Some(Requeened {
            queen,
            old_out,
            goes_in,
            waits: u32::try_from((goes_in - ready).get_days()).unwrap_or(0),
        })
    });
    let colonies = colonies.collect();
    let rest = queens.iter().copied().skip(wanted.len());
    let (left, later) = rest.partition(|&queen| ready(queen) == day);
    Allotted {
        colonies,
        left,
        later,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::interval::Interval;
    use jiff::civil::date;

    const fn june(day: i8) -> Date {
        date(2031, 6, day)
    }

    fn wanted(prepared: Option<Date>) -> Wanted {
        Wanted { prepared }
    }

    #[test]
    fn queens_at_hand_that_no_colony_wants_are_left_in_their_order() {
        let of_age = [june(20), june(12), june(25), june(1), june(22)];
        let found = allot(june(20), &of_age, &[wanted(None)], &Intervals::default());
        assert_eq!(found.colonies.len(), 1);
        assert_eq!(found.colonies[0].map(|c| c.queen), Some(0));
        assert_eq!(found.left, [1, 3]);
        assert_eq!(found.later, [4, 2]);
    }

    #[test]
    fn where_there_are_too_few_the_last_colonies_get_none() {
        let all = [wanted(None); 3];
        let found = allot(june(20), &[june(20)], &all, &Intervals::default());
        assert!(found.colonies[0].is_some());
        assert_eq!(found.colonies[1..], [None, None]);
        assert_eq!(
            allot(june(20), &[], &[], &Intervals::default()),
            Allotted::default()
        );
    }

    #[test]
    fn a_colony_prepared_yesterday_gets_its_queen_tomorrow() {
        let found = allot(
            june(20),
            &[june(1)],
            &[wanted(Some(june(19)))],
            &Intervals::default(),
        );
        let given = found.colonies[0].unwrap();
        assert_eq!(
            (given.old_out, given.goes_in, given.waits),
            (june(19), june(21), 1)
        );
        // Prepared long ago, today.
        let found = allot(
            june(20),
            &[june(1)],
            &[wanted(Some(june(2)))],
            &Intervals::default(),
        );
        let given = found.colonies[0].unwrap();
        assert_eq!((given.goes_in, given.waits), (june(20), 0));
    }

    #[test]
    fn ones_own_days_count() {
        let mut own = Intervals::default();
        own.set(IntervalId::Queenless, Interval::exactly(0));
        own.set(IntervalId::Age, Interval::range(30, 35));
        let found = allot(june(20), &[june(1)], &[wanted(None)], &own);
        assert_eq!(found.colonies[0].map(|c| c.goes_in), Some(june(20)));
        assert_eq!(of_age(june(1), june(1), &own), june(24));
        // She can be of age as soon as she lays.
        own.set(IntervalId::Age, Interval::exactly(5));
        assert_eq!(of_age(june(9), june(10), &own), june(10));
    }

    #[test]
    fn days_at_the_end_of_the_calendar_stay_there() {
        let last = Date::MAX;
        let found = allot(last, &[last], &[wanted(None)], &Intervals::default());
        assert_eq!(found.colonies[0].map(|c| c.goes_in), Some(last));
        assert_eq!(of_age(last, last, &Intervals::default()), last);
    }
}
