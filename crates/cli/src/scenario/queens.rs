//! Mated queens out of what stands: the colonies that are to get one, and the boxes that take such.

use super::fields as t;
use super::known::Known;
use super::rearing::Rearing;
use super::stands::{Queen, Stands};
use super::whole::date;
use crate::reading::{At, Cx, Map, Names, Node, Value, word};
use jiff::Span;
use jiff::civil::Date;
use s::{BoxId, CellBatch, ColonyId};
use spareframe_colony::BROOD_DAYS;
use spareframe_rearing::{Allotted, IntervalId, Intervals, Wanted, allot, of_age};
use spareframe_solver as s;
use spareframe_weeks::Change;
use std::collections::BTreeMap;

/// A mated queen in a compartment that stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct QueenStands {
    /// Which of the compartments that stand, from 0.
    pub entry: usize,
    /// Her compartment, as `mating box 1.2`.
    pub name: String,
    /// Where it stands.
    pub site: s::SiteId,
    /// The day bees went in.
    pub since: Date,
    /// The day from which she may be taken.
    pub of_age: Date,
}

/// A colony that is to get a mated queen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Requeen {
    /// Which colony.
    pub colony: ColonyId,
    /// Last day on which she is to go in.
    pub by: Option<Date>,
    /// The day its old queen was taken out.
    pub prepared: Option<Date>,
}

/// Mated queens that stand, and the colonies that are to get one.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Queens {
    /// Queens, in the order of `standing`.
    pub stand: Vec<QueenStands>,
    /// Colonies, in the order of the file.
    pub requeen: Vec<Requeen>,
    /// The last batch of cells is that of queens left for boxes that take them.
    counted: bool,
}

impl Queens {
    /// Which queen goes where on a day.
    #[must_use]
    pub fn allotted(&self, day: Date, intervals: &Intervals) -> Allotted {
        let of_age: Vec<Date> = self.stand.iter().map(|queen| queen.of_age).collect();
        let wanted = |colony: &Requeen| Wanted {
            prepared: colony.prepared,
        };
        let wanted: Vec<Wanted> = self.requeen.iter().map(wanted).collect();
        allot(day, &of_age, &wanted, intervals)
    }

    /// Whether a batch of cells of the scenario is that of queens that stand, and not one of the file.
    #[must_use]
    pub fn is_batch(&self, yard: &s::Scenario, batch: usize) -> bool {
        let batches = yard.cells.iter().flatten().count();
        self.counted && batch + 1 == batches
    }

    /// Counts the queens for boxes anew, for a yard of another day.
    pub fn count(&self, yard: &mut s::Scenario, day: Date, intervals: &Intervals) {
        let batch = yard.cells.as_mut().and_then(|batches| batches.last_mut());
        if let Some(batch) = batch.filter(|_| self.counted) {
            batch.count = self.left(day, intervals);
        }
    }

    fn left(&self, day: Date, intervals: &Intervals) -> u32 {
        u32::try_from(self.allotted(day, intervals).left.len()).unwrap_or(u32::MAX)
    }
}

/// What is known of days without a queen before colonies are read.
#[derive(Debug, Clone, Default)]
pub(super) struct Without {
    /// Colonies whose old queen is out, with the day, where it can be read.
    prepared: BTreeMap<String, Date>,
    /// Days from the old queen out to the new one in, and from then until she is out of her cage.
    days: (i32, i32),
}

/// Looks which colonies are prepared; what is wrong there is found later.
pub(super) fn without(top: &Map, intervals: &Intervals) -> Without {
    let list = match top.get("requeen").map(|n| &n.value) {
        Some(Value::List(list)) => &list[..],
        _ => &[],
    };
    let one = |n: &Node| {
        let (colony, day) = (n.get("colony")?, n.get("prepared")?);
        Some((word(colony).to_owned(), word(day).parse().ok()?))
    };
    let days = |id| i32::try_from(intervals.get(id).usual).unwrap_or(0);
    Without {
        prepared: list.iter().filter_map(one).collect(),
        days: (days(IntervalId::Queenless), days(IntervalId::Caged)),
    }
}

impl Without {
    /// From which day after its count to which a colony is without a queen that lays. A new queen whose own brood alone was
    /// counted says by it what she lays.
    pub fn change(
        &self,
        cx: &mut Cx,
        m: &Map,
        name: &str,
        (day, counted): (Option<Date>, Option<Date>),
    ) -> Option<Change> {
        let since = day_of(cx, m, "requeened");
        if let (Some((since, at)), Some(day)) = (since, day)
            && since > day
        {
            cx.error(
                "dates-order",
                at,
                format!("a queen that went in on {since}, after the stocking day"),
                format!("{day} or earlier: it is what was done"),
                "correct the date, or write the colony into `requeen`",
            );
        }
        let counted = counted?;
        let after = |day: Date| (day - counted).get_days();
        let (before, caged) = self.days;
        let prepared = self.prepared.get(name).map(|&out| Change {
            out: after(out),
            lays: None,
        });
        let young = since.map(|(since, _)| Change {
            out: after(since) - before,
            lays: Some(after(since) + caged),
        });
        let all_hers = |change: &Change| {
            let lays = change.lays.unwrap_or(i32::MAX);
            lays.saturating_add(BROOD_DAYS as i32) <= 0
        };
        prepared.or(young.filter(|change| !all_hers(change)))
    }
}

/// Reads which colonies are to get a queen, and gives boxes that take queens those that are left.
pub(super) fn queens(
    cx: &mut Cx,
    top: &Map,
    (known, rearing): (&Known, &Rearing),
    standing: &[Stands],
    sc: &mut s::Scenario,
) -> Queens {
    let stand = |(entry, stands): (usize, &Stands)| at_hand((entry, stands), rearing, sc);
    let mut queens = Queens {
        stand: standing.iter().enumerate().filter_map(stand).collect(),
        requeen: requeen(cx, top, known, sc),
        counted: false,
    };
    if rearing.takes.contains(&true) {
        queens.counted = batches(sc, &rearing.takes);
        if let Some(day) = known.day {
            queens.count(sc, day, &rearing.intervals);
        }
    }
    queens
}

/// The queen of a compartment, where she is mated. One that was given to a box that takes queens is its own until she
/// is said to be taken.
fn at_hand(
    (entry, stands): (usize, &Stands),
    rearing: &Rearing,
    sc: &s::Scenario,
) -> Option<QueenStands> {
    let place = &stands.counted_as;
    let given = rearing.takes.get(place.kind.0) == Some(&true);
    let of_age = match stands.queen {
        Queen::ToBeTaken => stands.seen,
        Queen::Mated if !given => {
            let sealed = rearing.intervals.get(IntervalId::Sealed).least;
            let laid = stands
                .seen
                .saturating_sub(Span::new().days(i64::from(sealed)));
            let eggs = stands.eggs.unwrap_or(laid).min(laid);
            of_age(stands.round, eggs, &rearing.intervals)
        }
        _ => return None,
    };
    let kind = sc.boxes.get(place.kind.0)?;
    let (number, room) = (
        place.box_no.saturating_add(1),
        place.place.saturating_add(1),
    );
    Some(QueenStands {
        entry,
        name: match kind.compartments {
            1 => format!("{} {number}", kind.name),
            _ => format!("{} {number}.{room}", kind.name),
        },
        site: kind.site,
        since: stands.since,
        of_age,
    })
}

fn requeen(cx: &mut Cx, top: &Map, known: &Known, sc: &s::Scenario) -> Vec<Requeen> {
    let Some(node) = top.get("requeen") else {
        return Vec::new();
    };
    let list = cx.list_or_none(node);
    if !known.has_day && !list.is_empty() {
        cx.error(
            "dates-without-day",
            node.at,
            "colonies to requeen without a stocking day",
            "`day` at the top",
            "add `day: 2031-05-20`",
        );
    }
    let names: Names = match top.get("colonies").map(|n| &n.value) {
        Some(Value::Map(entries)) => entries.iter().map(|(name, _)| word(name)).collect(),
        _ => Names::default(),
    };
    let mut out: Vec<Requeen> = Vec::new();
    for n in list {
        let Some(m) = cx.map(n, &t::REQUEEN) else {
            continue;
        };
        let days = ["by", "prepared"].map(|key| day_of(cx, &m, key));
        let Some(colony) = m.get("colony") else {
            continue;
        };
        let Some(id) = cx.find(colony, "colony", &names).map(ColonyId) else {
            continue;
        };
        if out.iter().any(|other| other.colony == id) {
            cx.error(
                "duplicate-key",
                colony.at,
                format!("colony `{}` twice", word(colony)),
                "each colony once: it gets one queen",
                "remove one of the entries",
            );
            continue;
        }
        untouched(cx, colony.at, sc.colonies.get(id.0));
        order(cx, known.day, days);
        let [by, prepared] = days.map(|read| read.map(|(day, _)| day));
        out.push(Requeen {
            colony: id,
            by,
            prepared,
        });
    }
    out
}

fn day_of(cx: &mut Cx, m: &Map, key: &str) -> Option<(Date, At)> {
    let node = m.get(key)?;
    Some((date(cx, node)?, node.at))
}

/// A colony that nobody opens, or of which nothing stays, gets no queen.
pub(super) fn untouched(cx: &mut Cx, at: At, colony: Option<&s::Colony>) {
    let Some(colony) = colony else { return };
    let (found, way_out) = match (&colony.hold, colony.apart) {
        (Some(_), _) => (
            "on hold",
            "remove `hold`, or wait with the queen until its reason is gone",
        ),
        (None, true) => ("to be taken apart", "remove `draw: all`, or the entry"),
        (None, false) => return,
    };
    cx.error(
        "not-to-requeen",
        at,
        format!("colony `{}`, which is {found}, to get a queen", colony.name),
        "a colony that may be opened and stays one",
        way_out,
    );
}

/// Old queens were taken out by the stocking day, and new ones go in on it or later.
fn order(cx: &mut Cx, day: Option<Date>, [by, prepared]: [Option<(Date, At)>; 2]) {
    let Some(day) = day else { return };
    let mut out_of_order = |at: At, found: String, expected: String| {
        let way_out = "correct the date, or `day`";
        cx.error("dates-order", at, found, expected, way_out);
    };
    if let Some((by, at)) = by.filter(|(by, _)| *by < day) {
        let found = format!("a queen to go in by {by}, before the stocking day");
        out_of_order(at, found, format!("{day} or later"));
    }
    if let Some((prepared, at)) = prepared.filter(|(prepared, _)| *prepared > day) {
        let found = format!("a queen taken out on {prepared}, after the stocking day");
        out_of_order(at, found, format!("{day} or earlier: it is what was done"));
    }
}

/// Cells are for boxes that take cells, and queens for those that take queens; the queens are the last batch, still to be
/// counted. Says whether they are: where the file counts cells for a box that takes queens, it counts those.
fn batches(sc: &mut s::Scenario, takes: &[bool]) -> bool {
    let kinds = || (0..sc.boxes.len()).map(BoxId);
    let (queens, cells): (Vec<BoxId>, Vec<BoxId>) =
        kinds().partition(|kind| takes.get(kind.0) == Some(&true));
    let mut batches = sc.cells.take().unwrap_or_else(|| {
        vec![CellBatch {
            count: CellBatch::UNCOUNTED,
            boxes: Vec::new(),
        }]
    });
    // Cells for any box are for any that takes cells.
    batches.retain(|batch| !batch.boxes.is_empty() || !cells.is_empty());
    for batch in batches.iter_mut().filter(|batch| batch.boxes.is_empty()) {
        batch.boxes.clone_from(&cells);
    }
    let named = |batch: &CellBatch| batch.boxes.iter().any(|kind| queens.contains(kind));
    let count = !batches.iter().any(named);
    if count {
        batches.push(CellBatch {
            count: 0,
            boxes: queens,
        });
    }
    sc.cells = Some(batches);
    count
}
