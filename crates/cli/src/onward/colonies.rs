//! What left each colony and what came into it, as entries of `since`.

use super::done::Done;
use super::written::{brackets, frames, share};
use crate::editing::{Change, New, Step, What};
use crate::reading::Node;
use crate::scenario::{ColonyCount, Loaded, count_of};
use jiff::civil::Date;
use spareframe_solver::{Colony, ColonyId, Comb, FrameGroup, Hundreds, Origin};
use spareframe_weeks::Event;
use std::collections::BTreeMap;

/// An entry for each colony that something left or came into.
pub(super) fn since(root: &Node, loaded: &Loaded, done: &Done, day: Date) -> Vec<Change> {
    let scenario = &loaded.scenario;
    let mut changes = Vec::new();
    for (at, colony) in scenario.colonies.iter().enumerate() {
        let taken = Taken::of(done, ColonyId(at));
        let got: Vec<String> = done
            .fillers
            .iter()
            .filter(|filler| filler.colony == ColonyId(at))
            .filter_map(|filler| {
                let frame = &scenario.store_room.get(filler.entry)?.frame;
                Some(frames(&scenario.combs, (frame, filler.count), None, None).inline())
            })
            .collect();
        if taken.groups.is_empty() && taken.bees.0 == 0 && got.is_empty() {
            continue;
        }
        let Some(count) = loaded.counts.get(at) else {
            continue;
        };
        let quick = loaded.places.at_a_glance.get(at) == Some(&true);
        let gone = gone(&scenario.combs, (colony, count), &taken, quick);
        let mut entry = vec![("day", day.to_string())];
        if !gone.is_empty() {
            entry.push(("gone", format!("[{}]", gone.join(", "))));
        }
        if taken.bees.0 > 0 {
            entry.push(("bees", taken.bees.bees().0.to_string()));
        }
        if !got.is_empty() {
            entry.push(("got", format!("[{}]", got.join(", "))));
        }
        let entry = brackets(entry);
        let path = [Step::from("colonies"), Step::Key(colony.name.clone())];
        let there = root.get("colonies").and_then(|all| all.get(&colony.name));
        changes.push(match there.and_then(|node| node.get("since")) {
            Some(_) => {
                let [colonies, name] = path;
                let path = [colonies, name, Step::from("since")];
                Change::at(path, What::More(vec![entry]))
            }
            None => Change::at(path, What::Set("since".to_owned(), New::List(vec![entry]))),
        });
    }
    changes
}

/// What left one colony.
#[derive(Default)]
struct Taken {
    /// Frames by frame group.
    groups: BTreeMap<usize, u32>,
    bees: Hundreds,
}

impl Taken {
    fn of(done: &Done, colony: ColonyId) -> Self {
        let mut taken = Self::default();
        for compartment in &done.compartments {
            for placed in &compartment.frames {
                if let Origin::Colony(id, group) = placed.origin
                    && id == colony
                {
                    *taken.groups.entry(group).or_default() += placed.count;
                }
            }
            let bees = compartment.bees.iter().filter(|bees| bees.colony == colony);
            taken.bees += bees.map(|bees| bees.taken()).sum();
        }
        taken
    }
}

/// The frames that left, named as they were counted; what they held, where others of the same name held something
/// else.
fn gone(
    combs: &[Comb],
    (colony, count): (&Colony, &ColonyCount),
    taken: &Taken,
    quick: bool,
) -> Vec<String> {
    let known = known(colony, count);
    let named = |group: usize| -> Option<(&'static str, String)> {
        let origin = count.origin(group)?;
        let frame = &known.get(origin)?.frame;
        let own = known
            .first()
            .is_none_or(|first| first.frame.comb == frame.comb);
        Some(match quick {
            true if !own => ("comb", combs.get(frame.comb.0)?.name.clone()),
            true => ("of", count_of(frame).to_owned()),
            false => ("group", (origin + 1).to_string()),
        })
    };
    let alike = |group: usize| {
        let frame = |group: &FrameGroup| (group.frame.brood, group.frame.stores);
        let this = colony.frames.get(group).map(frame);
        let others = colony
            .frames
            .iter()
            .enumerate()
            .filter(|(_, other)| other.count > 0);
        let mut others = others.filter(|(at, _)| named(*at) == named(group));
        others.all(|(_, other)| Some(frame(other)) == this)
    };
    let entry = |(&group, &frames): (&usize, &u32)| {
        let mut map = vec![named(group)?];
        map.push(("count", frames.to_string()));
        if !alike(group) {
            let frame = &colony.frames.get(group)?.frame;
            map.push(("brood", share(frame.brood)));
            map.push(("stores", share(frame.stores)));
        }
        Some(brackets(map).inline())
    };
    taken.groups.iter().filter_map(entry).collect()
}

/// Frames of the count, and those hung in since.
fn known<'a>(colony: &'a Colony, count: &'a ColonyCount) -> Vec<&'a FrameGroup> {
    let counted = count.count.as_ref().map_or(colony, |count| &count.colony);
    let came = count.since().iter().flat_map(Event::came);
    counted.frames.iter().chain(came).collect()
}
