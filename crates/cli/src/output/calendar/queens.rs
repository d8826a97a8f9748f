//! Days of mated queens out of what stands.

use super::super::queens::of_box;
use super::super::report::RequeenReport;
use super::super::words::{Words, clean};
use super::build::Round;
use super::entries::{basis, entry, later, one};
use super::record::{Entry, EntryKind};
use super::words::written;
use jiff::civil::Date;
use spareframe_rearing::IntervalId;

/// For each colony that gets one: the old queen out, the new one in, a look at her. For boxes that take queens beside a
/// round of cells: the queens in, and the first look.
pub(super) fn entries(round: &Round) -> Vec<Entry> {
    let colonies = round
        .report
        .queens
        .iter()
        .flat_map(|queens| &queens.colonies);
    let colonies = (1..).zip(colonies);
    let mut list: Vec<Entry> = colonies
        .filter_map(|(n, colony)| of_colony(round, n, colony))
        .flatten()
        .collect();
    for (id, kind) in round.stocked().filter(|&(id, _)| round.takes(id)) {
        list.extend(of_kind(round, id, &kind.name));
    }
    list
}

fn of_colony(round: &Round, n: usize, c: &RequeenReport) -> Option<Vec<Entry>> {
    let name = clean(&c.colony);
    let day = |day: &Option<String>| day.as_deref()?.parse::<Date>().ok();
    let (out, goes_in) = (day(&c.old_queen_out)?, day(&c.goes_in)?);
    let queen = c.gets.as_ref()?;
    let work = |id: &str, day: Date, title: String, detail: String, basis: String| Entry {
        site: Some(c.site.clone()),
        detail,
        basis,
        ..entry(&format!("{id}-{n}"), EntryKind::Work, one(day), &title)
    };
    let mut list = Vec::new();
    if !c.prepared {
        list.push(work(
            "old-queen",
            out,
            format!("Take the old queen out of colony {name}"),
            format!(
                "Its new queen goes in on {}. Be sure that there is no second one.",
                written(&goes_in.to_string())
            ),
            basis(round, &[IntervalId::Queenless]),
        ));
    }
    let next = c
        .next_cell_from
        .as_deref()
        .map_or_else(String::new, written);
    let from = clean(&queen.queen);
    list.push(work(
        "queen-in",
        goes_in,
        format!("Queen into colony {name}"),
        format!(
            "From {from}, at {}, and on the same day. Break every wild cell first; smoke, or a cage with candy. The next cell \
             can go into {from} from {next} on.",
            clean(&queen.site)
        ),
        basis(round, &[IntervalId::Queenless, IntervalId::NextCell]),
    ));
    list.push(work(
        "queen-look",
        later(goes_in, round.known.intervals.get(IntervalId::Caged).usual),
        format!("See whether colony {name} has taken its queen"),
        "The cage is empty and the bees let her be: close, and a week of rest. Eggs then, and no wild cells: she is taken. If \
         not, give another, or unite."
            .to_owned(),
        basis(round, &[IntervalId::Caged]),
    ));
    Some(list)
}

fn of_kind(round: &Round, id: usize, kind: &str) -> [Entry; 2] {
    let words = Words::of(round.report);
    let given = round
        .report
        .compartments
        .iter()
        .filter(|c| c.box_kind == kind);
    let from: Vec<String> = given
        .map(|c| format!("{}: {}", words.compartment(c), of_box(c)))
        .collect();
    let day = round.days.cells_in;
    let look = round.known.intervals.get(IntervalId::FirstLook).usual;
    let of = |entry: Entry, detail: String, from: &[IntervalId]| Entry {
        detail,
        basis: basis(round, from),
        ..entry
    };
    let n = id + 1;
    [
        of(
            entry(&format!("box-queens-{n}"), EntryKind::Work, one(day), &format!("Mated queens into {}", clean(kind))),
            format!(
                "In a cage with a plug of candy, when the bees have been without a queen for some hours. {}.",
                from.join("; ")
            ),
            &[IntervalId::CellsIn],
        ),
        of(
            entry(&format!("box-look-{n}"), EntryKind::Work, one(later(day, look)), &format!("First look for eggs in {}", clean(kind))),
            "A compartment without eggs has lost its queen or not taken her: unite it, or give it another.".to_owned(),
            &[IntervalId::FirstLook],
        ),
    ]
}
