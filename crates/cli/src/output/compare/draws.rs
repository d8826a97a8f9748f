//! What leaves each colony, and what is carried, otherwise than before.

use super::super::figures::{counted, some, whole};
use super::super::words::clean;
use super::changes::{About, Change};
use super::words::{Words, instead, more, more_bees, order};
use crate::plan::{Brought, Draw, Sheet};
use itertools::Itertools;
use std::collections::{BTreeMap, BTreeSet};

/// A line for each colony that gives otherwise.
pub(super) fn colonies(old: &Sheet, new: &Sheet, words: &Words) -> Vec<Change> {
    let (then, now) = (old.draws(), new.draws());
    let names = then.keys().chain(now.keys()).copied();
    let names = names.sorted_by_key(|name| order(name)).dedup();
    let line = |name: &str| {
        let subject = format!("colony {}", clean(name));
        let text = match (then.get(name), now.get(name)) {
            (None, Some(now)) => format!("is opened now: {}", all(now, words)),
            (Some(then), None) => format!("is no longer opened: it gave {}", all(then, words)),
            (Some(then), Some(now)) => difference(then, now, words)?,
            (None, None) => return None,
        };
        Some(Change::new(About::Colonies, subject, text))
    };
    names.filter_map(line).collect()
}

/// A line for each load that differs.
pub(super) fn loads(old: &Sheet, new: &Sheet, words: &Words) -> Vec<Change> {
    let mut changes = equipment(old, new);
    let (then, now) = (old.loads(), new.loads());
    let keys: BTreeSet<_> = then.keys().chain(now.keys()).collect();
    for key in keys {
        let none = Draw::default();
        let (then, now) = (then.get(key), now.get(key));
        let text = difference(then.unwrap_or(&none), now.unwrap_or(&none), words);
        if let Some(text) = text {
            let subject = format!("to {} from {}", clean(&key.0), clean(&key.1));
            changes.push(Change::new(About::Carry, subject, text));
        }
    }
    changes
}

/// Boxes and cells, a line for each site.
fn equipment(old: &Sheet, new: &Sheet) -> Vec<Change> {
    let (then, now) = (old.equipment(), new.equipment());
    let mut sites: BTreeMap<&String, Vec<String>> = BTreeMap::new();
    for key @ (site, what) in then.keys().chain(now.keys()).sorted().dedup() {
        let count = |all: &BTreeMap<(String, Brought), i64>| all.get(key).copied().unwrap_or(0);
        let (then, now) = (count(&then), count(&now));
        let text = match what {
            Brought::Boxes(kind) => format!("{}, {},", counted(now, "box", "boxes"), clean(kind)),
            Brought::Cells => counted(now, "cell or queen", "cells or queens"),
        };
        if then != now {
            let parts = sites.entry(site).or_default();
            parts.push(instead(&text, &whole(then)));
        }
    }
    let line = |(site, parts): (&String, Vec<String>)| {
        Change::new(
            About::Carry,
            format!("to {}", clean(site)),
            parts.join("; "),
        )
    };
    sites.into_iter().map(line).collect()
}

/// Frames by what they look like, however many compartments they go to.
fn frames(draw: &Draw, words: &Words) -> BTreeMap<String, i64> {
    let mut frames = BTreeMap::new();
    for f in &draw.frames {
        *frames.entry(words.frame(f)).or_default() += f.count;
    }
    frames
}

fn all(draw: &Draw, words: &Words) -> String {
    let frames = frames(draw, words).into_iter();
    let mut parts: Vec<_> = frames
        .map(|(what, n)| format!("{}, {what}", counted(n, "frame", "frames")))
        .collect();
    parts.push(match draw.bees {
        0 => "no bees".to_owned(),
        bees => format!("{} bees", some(bees)),
    });
    parts.join("; ")
}

pub(super) fn difference(then: &Draw, now: &Draw, words: &Words) -> Option<String> {
    let mut frames = frames(now, words);
    for (what, count) in self::frames(then, words) {
        *frames.entry(what).or_default() -= count;
    }
    let changed = frames
        .into_iter()
        .filter(|&(_, difference)| difference != 0);
    let mut parts: Vec<_> = changed
        .map(|(what, difference)| format!("{}, {what}", more(difference, "frame", "frames")))
        .collect();
    if now.bees != then.bees {
        parts.push(more_bees(now.bees - then.bees));
    }
    (!parts.is_empty()).then(|| parts.join("; "))
}
