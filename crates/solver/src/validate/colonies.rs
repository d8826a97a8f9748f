//! Colonies, the store room, wishes, and what is done.

use super::{Findings, Flaw, MOST_COUNT, MOST_CROP, MOST_GRAMS, MOST_HUNDREDS, MOST_MILLI, at};
use crate::plan::{Compartment, Origin};
use crate::scenario::{BoxId, Colony, ColonyId, Draw, FrameGroup, Keep, Scenario};
use std::collections::{BTreeMap, BTreeSet};

pub(super) fn colonies(scenario: &Scenario, findings: &mut Findings) {
    findings.names(
        "colonies",
        scenario.colonies.iter().map(|colony| &colony.name),
    );
    for (index, colony) in scenario.colonies.iter().enumerate() {
        let of = at("colonies", index);
        findings.id(&of, "site", colony.site.0, scenario.sites.len());
        groups(scenario, &of, &colony.frames, findings);
        findings.within(&of, "extra_bees", colony.extra_bees.0, (0, MOST_HUNDREDS));
        crop(&of, colony, findings);
        keep(&of, &colony.keep, findings);
        draw(&of, &colony.draw, findings);
        findings.within(&of, "rides", colony.rides.0, (0, 100));
        cover(scenario, &of, colony, findings);
    }
}

fn crop(of: &str, colony: &Colony, findings: &mut Findings) {
    if let Some(crop) = colony.crop {
        findings.within(&of, "crop.honey", crop.honey.0, (1, MOST_CROP));
        let last = (crop.from.into(), i32::MAX.into());
        findings.within(&of, "crop.to", crop.to.into(), last);
    }
}

fn keep(of: &str, keep: &Keep, findings: &mut Findings) {
    findings.within(&of, "keep.brood", keep.brood.0, (0, MOST_MILLI));
    findings.within(&of, "keep.bees", keep.bees.0, (0, MOST_HUNDREDS));
    findings.within(&of, "keep.stores", keep.stores.0, (0, MOST_GRAMS));
    findings.within(&of, "keep.drawn", keep.drawn.0, (0, MOST_MILLI));
    findings.within(&of, "keep.covered", keep.covered.0, (0, 1000));
}

fn draw(of: &str, draw: &Draw, findings: &mut Findings) {
    let caps = [
        ("draw.brood", draw.brood.map(|most| most.0), MOST_MILLI),
        ("draw.bees", draw.bees.map(|most| most.0), MOST_HUNDREDS),
        ("draw.honey", draw.honey.map(|most| most.0), i64::MAX),
    ];
    for (name, cap, most) in caps {
        findings.within(&of, name, cap.unwrap_or(0), (0, most));
    }
}

/// Floor covered multiplies all bees of a colony by all that would cover its brood.
fn cover(scenario: &Scenario, of: &str, colony: &Colony, findings: &mut Findings) {
    let (mut bees, mut cover) = (i128::from(colony.extra_bees.0), 0);
    for group in &colony.frames {
        let comb = scenario.combs.get(group.frame.comb.0);
        let full = comb.map_or(0, |comb| i128::from(comb.bees.0));
        let count = i128::from(group.count);
        bees += count * i128::from(group.frame.bees.0);
        cover += count * i128::from(group.frame.brood.0.clamp(0, 1000)) * full;
    }
    let product = bees.max(1).saturating_mul(cover);
    let most = i128::from(i64::MAX / 4);
    findings.range(format!("{of}: bees times cover of brood"), product, 0, most);
}

pub(super) fn store_room(scenario: &Scenario, findings: &mut Findings) {
    for (index, entry) in scenario.store_room.iter().enumerate() {
        let of = at("store_room", index);
        findings.within(&of, "count", entry.count.into(), (0, MOST_COUNT));
        let of = format!("{of}.frame");
        findings.frame(scenario, &of, &entry.frame);
        findings.within(&of, "brood", entry.frame.brood.0, (0, 0));
        findings.within(&of, "bees", entry.frame.bees.0, (0, 0));
    }
}

pub(super) fn gives(scenario: &Scenario, findings: &mut Findings) {
    for (index, wish) in scenario.gives.iter().enumerate() {
        let of = at("gives", index);
        findings.id(&of, "colony", wish.colony.0, scenario.colonies.len());
        let colony = scenario.colonies.get(wish.colony.0);
        if let (Some(colony), Some(group)) = (colony, wish.group) {
            findings.id(&of, "group", group, colony.frames.len());
        }
    }
}

pub(super) fn done(scenario: &Scenario, findings: &mut Findings) {
    let mut places = BTreeSet::new();
    for (index, record) in scenario.done.iter().enumerate() {
        let of = at("done", index);
        let place = (record.kind, record.box_no, record.place);
        if !places.insert(place) {
            findings.add(&of, Flaw::Recorded);
        }
        self::place(scenario, &of, place, findings);
        frames(scenario, &of, record, findings);
        bees(scenario, &of, record, findings);
    }
    gone(scenario, findings);
}

pub(super) fn standing(scenario: &Scenario, findings: &mut Findings) {
    let mut places = BTreeSet::new();
    for (index, stands) in scenario.standing.iter().enumerate() {
        let of = at("standing", index);
        let place = (stands.kind, stands.box_no, stands.place);
        if !places.insert(place) {
            findings.add(&of, Flaw::Recorded);
        }
        self::place(scenario, &of, place, findings);
        findings.within(&of, "extra_bees", stands.extra_bees.0, (0, MOST_HUNDREDS));
        groups(scenario, &of, &stands.frames, findings);
    }
}

fn groups(scenario: &Scenario, of: &str, groups: &[FrameGroup], findings: &mut Findings) {
    for (index, group) in groups.iter().enumerate() {
        let of = at(&format!("{of}.frames"), index);
        findings.within(&of, "count", group.count.into(), (0, MOST_COUNT));
        findings.frame(scenario, &format!("{of}.frame"), &group.frame);
    }
}

fn place(
    scenario: &Scenario,
    of: &str,
    (kind, box_no, place): (BoxId, u32, u32),
    findings: &mut Findings,
) {
    let Some(boxes) = scenario.boxes.get(kind.0) else {
        findings.id(&of, "kind", kind.0, scenario.boxes.len());
        return;
    };
    let last = |count: u32| (0, i64::from(count) - 1);
    findings.within(&of, "box_no", box_no.into(), last(boxes.count));
    findings.within(&of, "place", place.into(), last(boxes.compartments));
}

fn frames(scenario: &Scenario, of: &str, record: &Compartment, findings: &mut Findings) {
    let asked = scenario.asked(record.kind, record.box_no, record.place);
    let lines = asked.map(|asked| asked.lines.len());
    for (index, placed) in record.frames.iter().enumerate() {
        let of = at(&format!("{of}.frames"), index);
        findings.within(&of, "count", placed.count.into(), (1, MOST_COUNT));
        if let Some(lines) = lines {
            findings.id(&of, "line", placed.line, lines);
        }
        match placed.origin {
            Origin::StoreRoom(entry) => {
                findings.id(&of, "origin", entry, scenario.store_room.len());
            }
            Origin::Colony(id, group) => match scenario.colonies.get(id.0) {
                Some(colony) => findings.id(&of, "origin", group, colony.frames.len()),
                None => findings.id(&of, "origin", id.0, scenario.colonies.len()),
            },
        }
    }
}

fn bees(scenario: &Scenario, of: &str, record: &Compartment, findings: &mut Findings) {
    for (index, placed) in record.bees.iter().enumerate() {
        let of = at(&format!("{of}.bees"), index);
        findings.id(&of, "colony", placed.colony.0, scenario.colonies.len());
        findings.within(&of, "riding", placed.riding.0, (0, MOST_HUNDREDS));
        findings.within(&of, "loose", placed.loose.0, (0, MOST_HUNDREDS));
    }
}

/// What has left was there.
fn gone(scenario: &Scenario, findings: &mut Findings) {
    let mut frames = BTreeMap::<Origin, i128>::new();
    let mut bees = BTreeMap::<ColonyId, i128>::new();
    for record in &scenario.done {
        for placed in &record.frames {
            *frames.entry(placed.origin).or_default() += i128::from(placed.count);
        }
        for placed in &record.bees {
            let taken = i128::from(placed.riding.0) + i128::from(placed.loose.0);
            *bees.entry(placed.colony).or_default() += taken;
        }
    }
    for (origin, gone) in frames {
        let (field, there) = match origin {
            Origin::StoreRoom(entry) => {
                let there = scenario.store_room.get(entry).map(|entry| entry.count);
                (at("done: frames of store_room", entry), there)
            }
            Origin::Colony(id, group) => {
                let colony = scenario.colonies.get(id.0);
                let there = colony.and_then(|colony| colony.frames.get(group));
                let of = at("done: frames of colonies", id.0);
                (at(&format!("{of}.frames"), group), there.map(|g| g.count))
            }
        };
        findings.range(field, gone, 0, there.map_or(i128::MAX, i128::from));
    }
    for (id, gone) in bees {
        let there = scenario.colonies.get(id.0).map_or(i128::MAX, all_bees);
        findings.range(at("done: bees of colonies", id.0), gone, 0, there);
    }
}

fn all_bees(colony: &Colony) -> i128 {
    let groups = colony.frames.iter();
    let on_frames = groups.map(|group| i128::from(group.count) * i128::from(group.frame.bees.0));
    i128::from(colony.extra_bees.0) + on_frames.sum::<i128>()
}
