//! Intervals between the days, with where each is from.

/// Whole days, from the least to the most; `usual` lies between them.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Interval {
    /// Fewest days.
    pub least: u32,
    /// What is counted with where one day is wanted.
    pub usual: u32,
    /// Most days.
    pub most: u32,
}

impl Interval {
    /// The same number of days always.
    #[must_use]
    pub const fn exactly(days: u32) -> Self {
        Self::between(days, days, days)
    }

    /// From `least` to `most` days, `usual` of them as a rule. The three are put in order.
    #[must_use]
    pub const fn between(least: u32, usual: u32, most: u32) -> Self {
        let most = if most < least { least } else { most };
        let usual = if usual < least {
            least
        } else if usual > most {
            most
        } else {
            usual
        };
        Self { least, usual, most }
    }

    /// From `least` to `most` days; the usual is the middle, rounded down.
    #[must_use]
    pub const fn range(least: u32, most: u32) -> Self {
        Self::between(least, least.midpoint(most), most)
    }
}

/// How sure a figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// The text was read and says so.
    Seen,
    /// Read in a text that reports it.
    SecondHand,
    /// Of the trade, without a source.
    CommonPractice,
    /// Ours; no source was found.
    Choice,
}

impl Status {
    /// In words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Seen => "seen",
            Self::SecondHand => "second hand",
            Self::CommonPractice => "common practice",
            Self::Choice => "a choice",
        }
    }
}

/// Which interval.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum IntervalId {
    /// From the check of the donors to the stocking day.
    Check,
    /// From the stocking day to the day the cells go in.
    CellsIn,
    /// From grafting to ripe cells.
    Ripe,
    /// From ripe cells to the queens' emergence.
    Emergence,
    /// From emergence to mating flights.
    Flights,
    /// From emergence to the first eggs.
    Eggs,
    /// From the day the cells went in to the first look.
    FirstLook,
    /// From eggs to sealed brood.
    Sealed,
    /// Age of a queen that is taken, from emergence.
    Age,
    /// From the queen taken to the next cell.
    NextCell,
    /// From the day the old queen is taken out of a colony to the day a mated one goes in.
    Queenless,
    /// From the mated queen in her cage to the day she is out of it.
    Caged,
    /// How long a small box keeps a queen, from the day the cell went in.
    SmallBox,
    /// From a drone's egg to its emergence.
    DroneEmergence,
    /// From a drone's emergence to its maturity.
    DroneMaturity,
    /// From the day a frame of foundation was hung into a colony until it is drawn and bred.
    CombRaised,
}

/// An interval as it is published.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Published {
    /// Which one.
    pub id: IntervalId,
    /// Its name.
    pub name: &'static str,
    /// From what to what.
    pub meaning: &'static str,
    /// Days.
    pub days: Interval,
    /// Where they are from.
    pub source: &'static str,
    /// How sure that is.
    pub status: Status,
}

macro_rules! published {
    ($($id:ident, $name:literal, $meaning:literal, $days:expr, $source:literal, $status:ident;)*) => {
        /// Every interval, in the order of [`IntervalId`]. Where sources disagree one was chosen; see
        /// the source of each.
        pub const INTERVALS: &[Published] = &[$(Published {
            id: IntervalId::$id,
            name: $name,
            meaning: $meaning,
            days: $days,
            source: $source,
            status: Status::$status,
        },)*];
    };
}

published! {
    Check, "check before", "from the check of the donors to the stocking day",
        Interval::exactly(1), "", Choice;
    CellsIn, "cells in", "from the stocking day to the day the cells go in",
        Interval::exactly(1), "", CommonPractice;
    Ripe, "graft to ripe", "from grafting to ripe cells",
        Interval::exactly(10), "UNYFA, queen rearing notes", Seen;
    Emergence, "ripe to emergence", "from ripe cells to the queens' emergence",
        Interval::between(1, 2, 2), "UNYFA; 16 days from the egg by the textbook value", Seen;
    Flights, "emergence to flights", "from emergence to mating flights",
        Interval::range(6, 10), "NSW DPI Primefact 828 (2008)", Seen;
    Eggs, "emergence to eggs", "from emergence to the first eggs",
        Interval::between(4, 10, 22), "Szabo et al. 1987, J. Apic. Res. 26:73: mean 10.6, 4 to 22", SecondHand;
    FirstLook, "first look", "from the day the cells went in to the first look",
        Interval::exactly(14), "a practical manual: two weeks", Seen;
    Sealed, "eggs to sealed", "from eggs to sealed brood",
        Interval::exactly(9), "ACT Beekeepers 2022: 3 days egg, 6 days larva", Seen;
    Age, "age when taken", "age of a queen that is taken, from emergence",
        Interval::range(24, 35), "Rhodes, Somerville and Harden 2004, Apidologie 35:383", Seen;
    NextCell, "taken to next cell", "from the queen taken to the next cell",
        Interval::exactly(2), "Bee Craft 97(5) 2015", Seen;
    Queenless, "queenless before", "from the old queen out of a colony to the mated one in",
        Interval::exactly(2), "Perez-Sato and Ratnieks 2008, as quoted: 2 or more days without a queen, and smoke", SecondHand;
    Caged, "in the cage", "from the mated queen in her cage to the day she is out of it",
        Interval::exactly(3), "Spivak, University of Minnesota, extension", Seen;
    SmallBox, "small box keeps", "how long a small box keeps a queen, from the day the cell went in",
        Interval::range(21, 28), "3 to 4 weeks", CommonPractice;
    DroneEmergence, "drone emergence", "from a drone's egg to its emergence",
        Interval::exactly(24), "textbook value", CommonPractice;
    DroneMaturity, "drone maturity", "from a drone's emergence to its maturity",
        Interval::exactly(12), "about 12 days", CommonPractice;
    CombRaised, "comb raised", "from the day foundation was hung into a colony until it is drawn and bred",
        Interval::range(14, 28), "most of a first box was drawn three weeks after a package, one diary", Choice;
}

/// The intervals to count with: those published, or one's own in their place.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Intervals {
    own: Vec<(IntervalId, Interval)>,
}

impl Intervals {
    /// Puts one's own in the place of one that is published.
    pub fn set(&mut self, id: IntervalId, days: Interval) {
        self.own.retain(|(known, _)| *known != id);
        self.own.push((id, days));
    }

    /// One's own, if there is one.
    #[must_use]
    pub fn own(&self, id: IntervalId) -> Option<Interval> {
        let own = self.own.iter().find(|(known, _)| *known == id);
        own.map(|(_, days)| *days)
    }

    /// The days to count with.
    #[must_use]
    pub fn get(&self, id: IntervalId) -> Interval {
        let published = || INTERVALS.iter().find(|known| known.id == id);
        let days = self.own(id).or_else(|| Some(published()?.days));
        days.unwrap_or(Interval::exactly(0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_interval_is_published_once_in_order() {
        assert!(INTERVALS.is_sorted_by(|a, b| a.id < b.id));
        assert_eq!(INTERVALS.len(), IntervalId::CombRaised as usize + 1);
        for known in INTERVALS {
            let days = known.days;
            assert!(days.least <= days.usual && days.usual <= days.most);
            let choice = matches!(known.status, Status::Choice | Status::CommonPractice);
            assert!(choice || !known.source.is_empty(), "{}", known.name);
        }
    }

    #[test]
    fn ones_own_stands_in_place_of_what_is_published() {
        let mut intervals = Intervals::default();
        assert_eq!(intervals.get(IntervalId::Ripe), Interval::exactly(10));
        intervals.set(IntervalId::Ripe, Interval::range(11, 9));
        intervals.set(IntervalId::Ripe, Interval::range(10, 11));
        assert_eq!(
            intervals.get(IntervalId::Ripe),
            Interval::between(10, 10, 11)
        );
        assert_eq!(intervals.own(IntervalId::Eggs), None);
    }
}
