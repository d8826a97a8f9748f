//! One stocked compartment as the report shows it.

use super::build::{Notes, bees as whole_bees, decimal, frame_of, holds, place, site};
use super::next_cells::{frames_out, stands};
use super::report::{BeesReport, CompartmentReport, FramesReport, Progress};
use super::riding::{covered_frames, full_comb, full_frame};
use itertools::Itertools;
use spareframe_solver::{
    BoxKind, Colony, ColonyId, Compartment, FrameState, Hundreds, Line, Origin, PlacedFrames,
    Scenario, share_of,
};

pub(super) fn compartment(
    scenario: &Scenario,
    notes: &Notes,
    c: &Compartment,
) -> Option<CompartmentReport> {
    let kind = scenario.boxes.get(c.kind.0)?;
    let mut cover = 0;
    for placed in &c.frames {
        if let Some(frame) = frame_of(scenario, placed.origin) {
            let full = scenario.combs.get(frame.comb.0);
            let full = full.map_or(0, |comb| whole_bees(comb.bees));
            cover += share_of(frame.brood, full) * i64::from(placed.count);
        }
    }
    let stands = stands(scenario, notes, c);
    for group in scenario
        .stands(c.kind, c.box_no, c.place)
        .iter()
        .flat_map(|s| &s.frames)
    {
        let full = scenario.combs.get(group.frame.comb.0);
        let full = full.map_or(0, |comb| whole_bees(comb.bees));
        cover += share_of(group.frame.brood, full) * i64::from(group.count);
    }
    let (bees, staying) = bees(scenario, kind, c);
    let asked = scenario.asked(c.kind, c.box_no, c.place)?;
    let record = record(scenario, c);
    let frames = c.frames.iter();
    Some(CompartmentReport {
        box_kind: kind.name.clone(),
        box_no: c.box_no.saturating_add(1),
        compartment: c.place.saturating_add(1),
        site: site(scenario, kind.site.0),
        filled_at: None,
        donor_colonies: donors(scenario, c),
        frames: frames
            .filter_map(|placed| placed_frames(scenario, notes, &asked.lines, placed, record))
            .collect(),
        bees,
        bees_staying: staying,
        bees_needed: asked.bees.0,
        bees_to_cover_brood: cover,
        feed_kg: decimal(feed(scenario, c), 1000.0),
        queen: None,
        done: record.map(|record| {
            let rest = c.less(record);
            match rest.frames.is_empty() && rest.bees.is_empty() {
                true => Progress::Finished,
                false => Progress::Begun,
            }
        }),
        frames_out: frames_out(scenario, c),
        stands,
    })
}

/// Colonies that any frame or bee of a compartment is from, in the order of the scenario.
fn donors(scenario: &Scenario, c: &Compartment) -> Vec<String> {
    let named = donor_ids(c).into_iter();
    named
        .filter_map(|id| Some(scenario.colonies.get(id.0)?.name.clone()))
        .collect()
}

pub(super) fn donor_ids(c: &Compartment) -> Vec<ColonyId> {
    let frames = c.frames.iter().filter_map(|placed| match placed.origin {
        Origin::Colony(id, _) => Some(id),
        Origin::StoreRoom(_) => None,
    });
    let donors = frames.chain(c.bees.iter().map(|placed| placed.colony));
    donors.sorted().dedup().collect()
}

/// What is already in a compartment.
fn record<'a>(scenario: &'a Scenario, c: &Compartment) -> Option<&'a Compartment> {
    let place = |c: &Compartment| (c.kind, c.box_no, c.place);
    scenario
        .done
        .iter()
        .find(|record| place(record) == place(c))
}

/// Feed for the substitutes of a compartment, in grams of honey equivalent.
pub(super) fn feed(scenario: &Scenario, c: &Compartment) -> i64 {
    let Some(asked) = scenario.asked(c.kind, c.box_no, c.place) else {
        return 0;
    };
    let of = |placed: &PlacedFrames| {
        let line = asked.lines.get(placed.line)?;
        let (_, each) = substitute(line, frame_of(scenario, placed.origin)?)?;
        Some(each.saturating_mul(i64::from(placed.count)))
    };
    c.frames.iter().filter_map(of).sum()
}

/// Which substitute of a line a frame is, from 0, and its feed in grams; none where it fits the
/// line itself.
fn substitute(line: &Line, frame: &FrameState) -> Option<(usize, i64)> {
    let index = line.place_of(frame)?.checked_sub(1)?;
    let feed = line.substitutes.get(index)?.feed.0;
    Some((index, feed))
}

fn placed_frames(
    scenario: &Scenario,
    notes: &Notes,
    lines: &[Line],
    placed: &PlacedFrames,
    record: Option<&Compartment>,
) -> Option<FramesReport> {
    let line = lines.get(placed.line)?;
    let frame = frame_of(scenario, placed.origin)?;
    let substitute = substitute(line, frame);
    let fed = substitute.map_or(0, |(_, each)| each.saturating_mul(i64::from(placed.count)));
    let same = |done: &&PlacedFrames| (done.line, done.origin) == (placed.line, placed.origin);
    let done = record.into_iter().flat_map(|record| &record.frames);
    let done = done.filter(same).map(|done| done.count);
    let (colony, frame_group, store_room_entry) = match placed.origin {
        Origin::Colony(id, group) => (
            scenario.colonies.get(id.0).map(|c| c.name.clone()),
            Some(group + 1),
            None,
        ),
        Origin::StoreRoom(entry) => (None, None, Some(entry + 1)),
    };
    Some(FramesReport {
        line: line.name.clone(),
        frames: placed.count,
        colony,
        frame_group,
        store_room_entry,
        place: place(notes, placed.origin),
        each_holds: holds(scenario, frame),
        substitute: substitute.map(|(index, _)| index + 1),
        feed_kg: decimal(fed, 1000.0),
        done: done.fold(0, u32::saturating_add).min(placed.count),
    })
}

/// Bees by donor, and how many of all of them stay.
fn bees(scenario: &Scenario, kind: &BoxKind, c: &Compartment) -> (Vec<BeesReport>, i64) {
    let record = record(scenario, c);
    let mut staying: i64 = 0;
    let mut bees = Vec::new();
    for placed in &c.bees {
        let Some(donor) = scenario.colonies.get(placed.colony.0) else {
            continue;
        };
        let flying = match drifts(scenario, donor, kind.site.0) {
            true => scenario.drift.flying.0,
            false => 0,
        };
        let taken = placed.taken();
        // A hundred bees of which so many percent stay are so many bees.
        staying = staying.saturating_add(taken.0.saturating_mul(100 - flying));
        let same = record.iter().flat_map(|record| &record.bees);
        let done = same
            .filter(|done| done.colony == placed.colony)
            .map(|done| done.taken().0);
        let done = Hundreds(done.fold(0, i64::saturating_add).min(taken.0));
        bees.push(BeesReport {
            colony: donor.name.clone(),
            bees: whole_bees(taken),
            riding: whole_bees(placed.riding),
            covered_frames: covered_frames(taken, full_frame(&scenario.combs, donor)),
            covered_comb: full_comb(&scenario.combs, donor)
                .map_or_else(String::new, |comb| comb.name.clone()),
            done: whole_bees(done),
        });
    }
    (bees, staying)
}

fn drifts(scenario: &Scenario, donor: &Colony, to: usize) -> bool {
    let row = scenario.distances.get(donor.site.0);
    let metres = row.and_then(|row| row.get(to));
    metres.is_some_and(|m| *m < scenario.drift.homing_metres)
}
