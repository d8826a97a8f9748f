//! A colony as it stands: its boxes, and every frame in its place.

use super::comb::Combs;
use super::names::Names;
use crate::output::build::holds;
use crate::output::report::{ColonyReport, Destination};
use crate::output::words::clean;
use spareframe_solver::{Colony, ColonyId, Origin, Scenario};

/// Frames that are drawn side by side (a choice: more are hard to count).
const ROW: usize = 10;
/// Up to so many stay in one row.
const ONE_ROW: usize = 12;
/// Most places that are drawn of one colony (a choice: no hive has more).
const MOST: usize = 120;

/// One box of a colony, or a row of its frames.
pub(super) struct Body {
    pub name: String,
    pub slots: Vec<Slot>,
    /// Nothing stays in it.
    pub off: bool,
}

/// One place for a frame.
#[derive(Default, Clone)]
pub(super) struct Slot {
    /// The comb that leaves; empty where none does.
    pub leaves: String,
    /// Where it goes: the short name, and the number of the compartment on the page.
    pub to: String,
    pub id: usize,
    /// The comb that is in the place afterwards; empty where none is.
    pub stays: String,
    /// How it is drawn: `stay`, `ghost` (fills a gap), `gone`, or `left` (went before).
    pub state: &'static str,
}

/// What is known of one frame.
#[derive(Clone)]
struct Known {
    body: String,
    at: Option<usize>,
    outer: bool,
    slot: Slot,
}

/// A colony as it stands after the draw, what leaves lifted out of it.
pub(super) fn bodies(
    (scenario, id): (&Scenario, ColonyId),
    places: &[Option<String>],
    report: &ColonyReport,
    (names, combs): (&Names, &mut Combs),
) -> Vec<Body> {
    let Some(colony) = scenario.colonies.get(id.0) else {
        return Vec::new();
    };
    let mut frames = Vec::new();
    for group in 0..colony.frames.len() {
        let place = places.get(group).and_then(Option::as_deref);
        let place = Place::read(place.unwrap_or(""));
        let slots = slots((scenario, id, colony, group), report, names, combs);
        for (nth, slot) in slots.into_iter().enumerate() {
            frames.push(Known {
                body: place.body.clone(),
                at: place.numbers.get(nth).copied(),
                outer: place.outer,
                slot,
            });
        }
    }
    frames.truncate(MOST);
    let mut bodies = stand(frames);
    fill(&mut bodies, report, combs);
    for body in &mut bodies {
        body.off = body.slots.iter().all(|slot| slot.stays.is_empty());
    }
    bodies
}

/// The frames of one group: first those that went before, then those that leave; the queen's stays to the last.
fn slots(
    (scenario, id, colony, group): (&Scenario, ColonyId, &Colony, usize),
    report: &ColonyReport,
    names: &Names,
    combs: &mut Combs,
) -> Vec<Slot> {
    let Some(frames) = colony.frames.get(group) else {
        return Vec::new();
    };
    let holds = holds(scenario, &frames.frame);
    let before = scenario.done.iter().flat_map(|c| &c.frames);
    let before = before.filter(|placed| placed.origin == Origin::Colony(id, group));
    let before = before.fold(0_u32, |sum, placed| sum.saturating_add(placed.count));
    let leaving = report.leaving.iter();
    let leaving = leaving.filter(|leaving| leaving.frame_group == group + 1);
    let leaving: Vec<&Destination> = leaving
        .flat_map(|leaving| &leaving.goes_to)
        .flat_map(|to| std::iter::repeat_n(to, to.frames as usize))
        .collect();
    let count = frames.count as usize;
    (0..count.min(MOST))
        .map(|nth| {
            let queen = frames.queen && nth + 1 == count;
            let nth = nth.checked_sub(before as usize);
            match nth.map(|nth| leaving.get(nth)) {
                None => Slot {
                    state: "left",
                    ..Slot::default()
                },
                Some(Some(to)) => Slot {
                    leaves: combs.name(&holds, to.bees_each, queen),
                    to: names.short(&to.box_kind, to.box_no, to.compartment),
                    id: names
                        .id(&to.box_kind, to.box_no, to.compartment)
                        .unwrap_or(0),
                    state: "gone",
                    ..Slot::default()
                },
                Some(None) => Slot {
                    stays: combs.name(&holds, holds.bees, queen),
                    state: "stay",
                    ..Slot::default()
                },
            }
        })
        .collect()
}

/// Puts frames into their places: those with a number first, outer ones at both ends, others as they are listed.
fn stand(frames: Vec<Known>) -> Vec<Body> {
    let mut names: Vec<String> = Vec::new();
    for frame in &frames {
        if !names.contains(&frame.body) {
            names.push(frame.body.clone());
        }
    }
    let mut bodies = Vec::new();
    for name in names {
        let own: Vec<&Known> = frames.iter().filter(|frame| frame.body == name).collect();
        let last = own.iter().filter_map(|frame| frame.at).max().unwrap_or(0);
        let mut row: Vec<Option<Slot>> = vec![None; own.len().max(last)];
        let mut rest = Vec::new();
        for &frame in &own {
            let place = frame.at.and_then(|at| row.get_mut(at.checked_sub(1)?));
            match place {
                Some(empty @ None) => *empty = Some(frame.slot.clone()),
                _ => rest.push(frame),
            }
        }
        let (outer, rest): (Vec<&Known>, Vec<&Known>) =
            rest.into_iter().partition(|frame| frame.outer);
        for (nth, frame) in outer.into_iter().enumerate() {
            let mut ends = row.iter_mut();
            let free = |place: &&mut Option<Slot>| place.is_none();
            let end = match nth % 2 {
                0 => ends.find(free),
                _ => ends.rfind(free),
            };
            if let Some(end) = end {
                *end = Some(frame.slot.clone());
            }
        }
        let mut rest = rest.into_iter();
        for place in row.iter_mut().filter(|place| place.is_none()) {
            *place = rest.next().map(|frame| frame.slot.clone());
        }
        let row: Vec<Slot> = row.into_iter().flatten().collect();
        bodies.extend(rows(&name, &row));
    }
    bodies
}

/// A box, or what is counted in one list as even rows.
fn rows(name: &str, slots: &[Slot]) -> Vec<Body> {
    let rows = match slots.len() {
        0..=ONE_ROW => 1,
        many => many.div_ceil(ROW),
    };
    let rows = slots.chunks(slots.len().div_ceil(rows).max(1));
    let body = |(nth, slots): (usize, &[Slot])| Body {
        name: if nth == 0 { clean(name) } else { String::new() },
        slots: slots.to_vec(),
        off: false,
    };
    rows.enumerate().map(body).collect()
}

/// What fills gaps goes into them in their order.
fn fill(bodies: &mut [Body], report: &ColonyReport, combs: &mut Combs) {
    let mut fillers = report
        .gaps_filled_with
        .iter()
        .flat_map(|filler| std::iter::repeat_n(&filler.each_holds, filler.frames as usize));
    let slots = bodies.iter_mut().flat_map(|body| &mut body.slots);
    for slot in slots.filter(|slot| slot.state == "gone") {
        let Some(holds) = fillers.next() else {
            return;
        };
        slot.stays = combs.name(holds, 0, false);
        slot.state = "ghost";
    }
}

/// A place as a person writes it: `lower box, frames 2 to 4`, `upper box`, `frame 5`, `lower box, outer frames`.
struct Place {
    body: String,
    numbers: Vec<usize>,
    outer: bool,
}

impl Place {
    fn read(text: &str) -> Self {
        let of_frames = |text: &str| text.to_lowercase().contains("frame");
        let (body, rest) = match text.split_once(',') {
            Some((body, rest)) if !of_frames(body) => (body.trim(), rest.trim()),
            _ if of_frames(text) => ("", text.trim()),
            _ => (text.trim(), ""),
        };
        let rest = rest.to_lowercase();
        Self {
            body: body.to_owned(),
            outer: rest.contains("outer") || rest.contains("edge") || rest.contains("outside"),
            numbers: numbers(&rest),
        }
    }
}

/// The numbers in a text, `2 to 4` and `2-4` as a run.
fn numbers(text: &str) -> Vec<usize> {
    let mut all: Vec<usize> = Vec::new();
    let mut run = false;
    let apart = |c: char| !c.is_alphanumeric() && c != '-';
    for word in text
        .replace('-', " - ")
        .split(apart)
        .filter(|w| !w.is_empty())
    {
        match word.parse::<usize>() {
            Ok(number) if number > MOST => return Vec::new(),
            Ok(number) => {
                let from = all.last().copied().filter(|&last| run && last < number);
                all.extend(from.map_or(number, |last| last + 1)..=number);
                run = false;
            }
            Err(_) => run = matches!(word, "to" | "-" | "until"),
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_read_as_people_write_them() {
        let read = |text: &str| {
            let place = Place::read(text);
            (place.body, place.numbers, place.outer)
        };
        let none = Vec::new;
        assert_eq!(read("upper box"), ("upper box".into(), none(), false));
        assert_eq!(
            read("lower box, frames 2 to 4"),
            ("lower box".into(), vec![2, 3, 4], false)
        );
        assert_eq!(
            read("frames 1, 3-5"),
            (String::new(), vec![1, 3, 4, 5], false)
        );
        assert_eq!(read("frame 5"), (String::new(), vec![5], false));
        assert_eq!(
            read("lower box, outer frames"),
            ("lower box".into(), none(), true)
        );
        assert_eq!(read("frame 99999"), (String::new(), none(), false));
        assert_eq!(read(""), (String::new(), none(), false));
    }
}
