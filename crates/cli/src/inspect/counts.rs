//! A new count of a colony: the day it is of, what was done since the last one, and how its queen lays.

use super::cells::Written;
use super::changes::ColonyChange;
use crate::reading::{Cx, Node, Value, word};
use crate::scenario::{Loaded, QUICK, read};
use jiff::civil::Date;
use spareframe_colony::BROOD_DAYS;
use spareframe_weeks::laying;

/// The counts that a scenario has.
pub(super) struct Counts {
    loaded: Loaded,
    day: Date,
    /// The day of the counts of colonies that say nothing else.
    usual: Date,
}

impl Counts {
    /// Where colonies were counted on another day than the scenario's, or may be now; `stated`: the table says when.
    pub fn of(label: &str, scenario: &[u8], root: &Node, stated: bool) -> Option<Self> {
        let said = |node: &Node| {
            ["counted", "since", "lays"]
                .iter()
                .any(|key| node.get(key).is_some())
        };
        let colonies = match root.get("colonies").map(|node| &node.value) {
            Some(Value::Map(map)) => map.as_slice(),
            _ => &[],
        };
        if !stated && root.get("counted").is_none() && !colonies.iter().any(|(_, node)| said(node))
        {
            return None;
        }
        let loaded = read(label, scenario).loaded?;
        let day = loaded.day?;
        let usual = root.get("counted").and_then(|node| word(node).parse().ok());
        Some(Self {
            loaded,
            day,
            usual: usual.unwrap_or(day),
        })
    }

    /// Makes a change of a colony a count of its own, where it counts anything anew.
    pub fn renew(&self, cx: &mut Cx, change: &mut ColonyChange, old: &Node) {
        let stated = change.map.set.iter().find(|(key, _)| *key == "counted");
        let stated: Option<Date> = stated.and_then(|(_, value)| value.text.parse().ok());
        let figures = change.map.set.iter().any(|(key, _)| counts(key)) || new_frames(change);
        let before = self.before(&change.name).unwrap_or(self.day);
        // That of the last count again says nothing new.
        let stated = stated.filter(|stated| *stated != before);
        if stated.is_none() && !figures {
            change.map.set.retain(|(key, _)| *key != "counted");
            return;
        }
        if figures && stated.is_none() && change.counted_as_before && before < self.day {
            self.same_day(cx, change, before);
            change.map.set.retain(|(key, _)| *key != "counted");
            return;
        }
        let now = stated.unwrap_or(self.day);
        change.map.set.retain(|(key, _)| *key != "counted");
        if now == self.usual {
            change
                .map
                .gone
                .extend(old.get("counted").map(|_| "counted"));
        } else if old.get("counted").map(word) != Some(&now.to_string()) {
            change.map.set.push(("counted", plain(now.to_string())));
        }
        self.since(change, old, now);
        self.lays(change, old, now);
    }

    /// The day of the last count of a colony.
    fn before(&self, name: &str) -> Option<Date> {
        self.loaded.counts.get(self.at(name)?)?.day
    }

    fn at(&self, name: &str) -> Option<usize> {
        let colonies = &self.loaded.scenario.colonies;
        colonies.iter().position(|colony| colony.name == name)
    }

    /// What was done before the new count is in it; combs that hang to be bred are left aside by it.
    fn since(&self, change: &mut ColonyChange, old: &Node, now: Date) {
        let Some(Value::List(events)) = old.get("since").map(|node| &node.value) else {
            return;
        };
        let before = |event: &Node| {
            let day = event
                .get("day")
                .and_then(|day| word(day).parse::<Date>().ok());
            day.is_some_and(|day| day < now) && event.get("hang").is_none()
        };
        let out: Vec<usize> = (0..events.len())
            .filter(|&at| before(&events[at]))
            .collect();
        match out.len() == events.len() {
            true => change.map.gone.push("since"),
            false => change.since_out = out,
        }
    }

    /// Where the last draw is within the days of one brood, its own brood misleads: how she lays is kept.
    fn lays(&self, change: &mut ColonyChange, old: &Node, now: Date) {
        // A new queen lays as a young one does.
        let new = change.map.set.iter().any(|(key, _)| *key == "requeened");
        let kept = self.at(&change.name).filter(|_| !new).and_then(|at| {
            let count = self.loaded.counts.get(at)?;
            let scenario = &self.loaded.scenario;
            let days = (now - count.day?).get_days();
            let after = u32::try_from(days).ok()?;
            let brood = BROOD_DAYS as u32;
            let drawn = count
                .since()
                .iter()
                .filter(|e| !e.gone.is_empty() || e.bees.0 > 0);
            let drawn = drawn
                .map(|event| event.after)
                .filter(|&day| day < after)
                .max();
            // A draw before the last count, of which that count kept how she lays, was no later than it.
            let count = count.count.as_deref()?;
            let drawn = drawn.or(count.lays.map(|_| 0))?;
            (after - drawn <= brood)
                .then(|| laying((&scenario.combs, &scenario.colony_model), count, after))
        });
        match kept.flatten() {
            Some(lays) => change.map.set.push(("lays", plain(lays.to_string()))),
            None => change.map.gone.extend(old.get("lays").map(|_| "lays")),
        }
    }

    /// Warns of new figures beside the day of the old count.
    fn same_day(&self, cx: &mut Cx, change: &ColonyChange, before: Date) {
        let done = self
            .at(&change.name)
            .and_then(|at| self.loaded.counts.get(at));
        if done.is_none_or(|count| count.since().is_empty()) {
            return;
        }
        let Some(from) = change.from.first() else {
            return;
        };
        cx.warn(
            "two-meanings",
            from.at,
            format!("other figures for colony `{}`, counted on {before} as before", change.name),
            "the day of the new count, or a correction of the old one",
            "if you counted anew, write the day into the column `counted`; else what was done since is taken off again",
        );
    }
}

fn counts(key: &str) -> bool {
    QUICK.contains(&key) || key == "extra bees"
}

fn new_frames(change: &ColonyChange) -> bool {
    let other = |map: &super::changes::MapChange| {
        map.set
            .iter()
            .any(|(key, _)| !matches!(*key, "place" | "give"))
            || !map.gone.is_empty()
    };
    let Some(frames) = &change.frames else {
        return false;
    };
    !frames.added.is_empty() || frames.fewer || frames.each.iter().any(|(_, map)| other(map))
}

fn plain(text: String) -> Written {
    Written { text, free: false }
}
