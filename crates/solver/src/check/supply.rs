//! Rules supply and recipe: frames.

use super::account::Taken;
use super::words::{breach, colony_name, counted, group_name, milli, origin_name, place_of};
use super::{Breach, Rule};
use crate::Plan;
use crate::plan::Origin;
use crate::scenario::{Ask, FrameState, Line, Scenario};

pub(super) fn supply(scenario: &Scenario, plan: &Plan, taken: &Taken, breaches: &mut Vec<Breach>) {
    let rule = Rule::Supply;
    for compartment in plan.touched() {
        let place = || place_of(scenario, compartment);
        for placed in &compartment.frames {
            match placed.origin {
                Origin::Colony(id, group) => match scenario.colonies.get(id.0) {
                    None => breaches.push(breach(
                        rule,
                        &place(),
                        format!("frames of colony number {}", id.0.saturating_add(1)),
                        counted(scenario.colonies.len() as i128, "colony", "colonies"),
                    )),
                    Some(colony) if group >= colony.frames.len() => breaches.push(breach(
                        rule,
                        &colony_name(colony),
                        format!("frame group number {}", group.saturating_add(1)),
                        counted(colony.frames.len() as i128, "frame group", "frame groups"),
                    )),
                    Some(_) => {}
                },
                Origin::StoreRoom(entry) if entry >= scenario.store_room.len() => {
                    breaches.push(breach(
                        rule,
                        "store room",
                        format!("entry number {}", entry.saturating_add(1)),
                        counted(scenario.store_room.len() as i128, "entry", "entries"),
                    ));
                }
                Origin::StoreRoom(_) => {}
            }
            if placed.count == 0 {
                breaches.push(breach(
                    rule,
                    &place(),
                    "0 frames from one origin",
                    "1 frame or more",
                ));
            }
        }
        for placed in &compartment.bees {
            if placed.colony.0 >= scenario.colonies.len() {
                breaches.push(breach(
                    rule,
                    &place(),
                    format!(
                        "bees of colony number {}",
                        placed.colony.0.saturating_add(1)
                    ),
                    counted(scenario.colonies.len() as i128, "colony", "colonies"),
                ));
            }
        }
    }
    let colonies = scenario
        .colonies
        .iter()
        .zip(taken.groups.iter().zip(&taken.bees));
    for (colony, (groups, &bees)) in colonies {
        if let Some(reason) = &colony.hold {
            let frames: i128 = groups.iter().sum();
            if frames > 0 || bees > 0 {
                breaches.push(breach(
                    rule,
                    &colony_name(colony),
                    format!(
                        "{} and {} taken",
                        counted(frames, "frame", "frames"),
                        counted(bees, "bee", "bees")
                    ),
                    format!("nothing: on hold ({reason})"),
                ));
            }
        }
        for (index, (group, &count)) in colony.frames.iter().zip(groups).enumerate() {
            if group.queen && count > 0 {
                breaches.push(breach(
                    rule,
                    &group_name(colony, index),
                    counted(count, "frame", "frames"),
                    "0 frames: the queen is there",
                ));
            }
            if count > i128::from(group.count) {
                breaches.push(breach(
                    rule,
                    &group_name(colony, index),
                    counted(count, "frame", "frames"),
                    format!("at most {}", counted(group.count, "frame", "frames")),
                ));
            }
        }
    }
    for (index, (entry, &count)) in scenario
        .store_room
        .iter()
        .zip(&taken.store_room)
        .enumerate()
    {
        if count > i128::from(entry.count) {
            breaches.push(breach(
                rule,
                &format!("store room, entry {}", index + 1),
                counted(count, "frame", "frames"),
                format!("at most {}", counted(entry.count, "frame", "frames")),
            ));
        }
    }
}

fn fits(ask: &Ask, frame: &FrameState) -> bool {
    match *ask {
        Ask::AtLeast {
            comb,
            brood,
            sealed,
            stores,
            drawn,
        } => {
            frame.comb == comb
                && frame.brood >= brood
                && frame.sealed >= sealed
                && frame.stores >= stores
                && frame.drawn >= drawn
        }
        Ask::Foundation { comb } => frame.comb == comb && frame.drawn.0 == 0,
    }
}

fn serves(line: &Line, frame: &FrameState) -> bool {
    fits(&line.ask, frame) || line.substitutes.iter().any(|s| fits(&s.ask, frame))
}

fn frame_at(scenario: &Scenario, origin: Origin) -> Option<&FrameState> {
    match origin {
        Origin::Colony(colony, group) => scenario
            .colonies
            .get(colony.0)?
            .frames
            .get(group)
            .map(|g| &g.frame),
        Origin::StoreRoom(entry) => scenario.store_room.get(entry).map(|e| &e.frame),
    }
}

pub(super) fn recipe(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    let rule = Rule::Recipe;
    for compartment in &plan.compartments {
        // A kind that does not exist has no recipe; rule boxes reports it.
        let Some(kind) = scenario.boxes.get(compartment.kind.0) else {
            continue;
        };
        let place = place_of(scenario, compartment);
        let mut given = vec![0i128; kind.lines.len()];
        for placed in &compartment.frames {
            let (Some(line), Some(sum)) = (kind.lines.get(placed.line), given.get_mut(placed.line))
            else {
                breaches.push(breach(
                    rule,
                    &place,
                    format!("frames for line number {}", placed.line.saturating_add(1)),
                    counted(kind.lines.len() as i128, "line", "lines"),
                ));
                continue;
            };
            *sum += i128::from(placed.count);
            // An origin that does not exist is reported by rule supply.
            let Some(frame) = frame_at(scenario, placed.origin) else {
                continue;
            };
            if !serves(line, frame) {
                breaches.push(breach(
                    rule,
                    &format!("{place}, line {}", line.name),
                    format!(
                        "a frame that does not fit ({}): brood {}, sealed {}, stores {}, drawn {}",
                        origin_name(scenario, placed.origin),
                        milli(frame.brood.0.into()),
                        milli(frame.sealed.0.into()),
                        milli(frame.stores.0.into()),
                        milli(frame.drawn.0.into()),
                    ),
                    "frames that fit the line or one of its substitutes",
                ));
            }
        }
        for (line, &count) in kind.lines.iter().zip(&given) {
            if count != i128::from(line.count) {
                breaches.push(breach(
                    rule,
                    &format!("{place}, line {}", line.name),
                    counted(count, "frame", "frames"),
                    counted(line.count, "frame", "frames"),
                ));
            }
        }
    }
}
