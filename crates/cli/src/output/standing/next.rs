//! What is to be done next with a compartment, by how its queen is and by the calendar.

use crate::scenario::{Barred, Queen, Stands};
use jiff::ToSpan;
use jiff::civil::Date;
use spareframe_rearing::{Interval, IntervalId, Intervals, Timeline};

/// What is to be done, from which day to which.
pub(super) struct Next {
    pub id: &'static str,
    pub first: Date,
    pub last: Option<Date>,
    pub text: String,
}

/// What is known of the days of a compartment.
pub(super) struct Days<'a> {
    pub today: Date,
    /// The days of its present round.
    pub round: &'a Timeline,
    pub intervals: &'a Intervals,
    /// The day from which its queen may be taken, where she is mated.
    pub of_age: Option<Date>,
    /// Its kind of box takes mated queens: she was given to it, and stays.
    pub given: bool,
    /// How long such a box keeps a queen, where she is likely lost.
    pub keeps: Option<Interval>,
}

impl Days<'_> {
    fn after(&self, from: Date, id: IntervalId) -> Date {
        from.saturating_add(i64::from(self.intervals.get(id).usual).days())
    }

    /// The first day of sealed brood, of eggs that were first seen on a day.
    fn sealed(&self, eggs: Date) -> Date {
        self.after(eggs, IntervalId::Sealed)
    }
}

/// How its queen is expected to be, where that is another than was seen.
pub(super) fn expected(stands: &Stands, days: &Days) -> Option<&'static str> {
    let (today, round) = (days.today, days.round);
    match stands.queen {
        Queen::Cell | Queen::Virgin => {
            let by = [
                (round.sealed.usual, "mated"),
                (round.eggs.usual, "laying"),
                (round.emergence.last, "virgin"),
            ];
            let reached = by.iter().find(|(day, _)| *day <= today);
            let expected = reached.map(|(_, queen)| *queen)?;
            (stands.queen == Queen::Cell || expected != "virgin").then_some(expected)
        }
        Queen::Laying => {
            let eggs = stands.eggs.unwrap_or(stands.seen);
            (days.sealed(eggs) <= today).then_some("mated")
        }
        _ => None,
    }
}

/// What is next.
pub(super) fn next(stands: &Stands, wants_cell: bool, days: &Days) -> Next {
    let (today, round) = (days.today, days.round);
    let at = |id, first, last, text: &str| Next {
        id,
        first,
        last,
        text: text.to_owned(),
    };
    let unite = || {
        let why = match stands.barred {
            Some(Barred::Failed(times)) => format!(" ({times} rounds have failed)"),
            Some(Barred::NoOpenBrood(days)) => format!(" (no open brood for {days} days)"),
            Some(Barred::LayingWorkers) | None => String::new(),
        };
        let text = format!("unite, or tip out before a full colony{why}");
        at("unite", today, None, &text)
    };
    match stands.queen {
        Queen::Cell | Queen::Virgin if today < round.first_look => at(
            "leave",
            round.first_look,
            Some(round.eggs.last),
            "leave in peace, then look for eggs",
        ),
        Queen::Cell | Queen::Virgin if today <= round.eggs.last => at(
            "look",
            round.first_look,
            Some(round.eggs.last),
            "look for eggs",
        ),
        Queen::Cell | Queen::Virgin => at(
            "look",
            round.first_look,
            Some(round.eggs.last),
            "look again: without eggs by now there is no laying queen",
        ),
        Queen::Laying => {
            let sealed = days.sealed(stands.eggs.unwrap_or(stands.seen));
            let text = "look for flat sealed brood";
            at("look", sealed, None, text)
        }
        Queen::Mated if days.given => at(
            "keep",
            today,
            None,
            "a nucleus with the queen that it was given: write it into `colonies` once it has a hive of its own",
        ),
        Queen::Mated => take(days),
        Queen::ToBeTaken => at("take", today, None, "take the queen"),
        Queen::None if stands.barred.is_none() && (wants_cell || stands.cell_from.is_some()) => at(
            "next_cell",
            stands.cell_from.map_or(today, |from| from.max(today)),
            None,
            "break wild cells and give the next cell; break wild cells again a week later",
        ),
        Queen::DroneLayer if stands.barred.is_none() => at(
            "next_cell",
            today,
            None,
            "take her out and break wild cells; the next cell two days later",
        ),
        _ => unite(),
    }
}

/// A mated queen is taken when she is of age, and before a small box loses her.
fn take(days: &Days) -> Next {
    let take = days.round.take;
    let of_age = days.of_age.unwrap_or(take.first);
    let kept = days.keeps.map(|keeps| days.round.kept(keeps));
    let last = take.last.max(of_age);
    let soon = kept.map_or(last, |kept| kept.last.min(last));
    let late = soon < days.today;
    let text = match kept {
        _ if late => "take the queen, if she is still there: she should have been taken by now",
        Some(kept) if kept.first < of_age => "take the queen before the small box loses her",
        _ => "take the queen",
    };
    Next {
        id: "take",
        first: kept.map_or(of_age, |kept| kept.first.min(of_age)),
        last: (!late).then_some(soon),
        text: text.to_owned(),
    }
}
