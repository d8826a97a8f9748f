//! What goes into the compartments otherwise than before.

use super::super::figures::some;
use super::super::words::clean;
use super::changes::{About, Change};
use super::words::{Words, instead, more, order};
use crate::plan::{Bees, Frames, Sheet, Slot, Stocked};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Compartments of the new plan, each with its like in the old one.
pub(super) struct Pairs<'a> {
    pub pairs: Vec<(&'a Stocked, &'a Stocked)>,
    pub gone: Vec<&'a Stocked>,
    pub new: Vec<&'a Stocked>,
}

/// What a compartment gets: kind and site, frames for each line, bees of each colony.
type Content<'a> = (
    &'a str,
    Option<&'a str>,
    ByLine<'a>,
    &'a BTreeMap<String, Bees>,
    // Where bees stand, it is like itself alone.
    Option<&'a Slot>,
);

fn content<'a>(stocked: &'a Stocked, words: &Words) -> Content<'a> {
    let frames = by_line(stocked, words);
    (
        &stocked.slot.kind,
        stocked.site.as_deref(),
        frames,
        &stocked.bees,
        stocked.stands.then_some(&stocked.slot),
    )
}

/// Finds for each compartment its like: the one of the same number where it gets the same; else
/// one of its kind and site that got the same and is now another; else the one of its number.
pub(super) fn pairs<'a>(old: &'a Sheet, new: &'a Sheet, words: &Words) -> Pairs<'a> {
    let by_slot = |sheet: &'a Sheet| -> BTreeMap<&'a Slot, &'a Stocked> {
        sheet.compartments.iter().map(|c| (&c.slot, c)).collect()
    };
    let (mut then, mut now) = (by_slot(old), by_slot(new));
    let mut pairs = Vec::new();
    let mut settle = |then: &mut BTreeMap<_, _>, now: &mut BTreeMap<_, _>, old, new| {
        if let (Some(a), Some(b)) = (then.remove(old), now.remove(new)) {
            pairs.push((a, b));
        }
    };
    let same = |then: &BTreeMap<&Slot, &Stocked>, slot: &Slot, b: &Stocked| {
        then.get(slot)
            .is_some_and(|a| content(a, words) == content(b, words))
    };
    for b in &new.compartments {
        if same(&then, &b.slot, b) {
            settle(&mut then, &mut now, &b.slot, &b.slot);
        }
    }
    let mut likes: BTreeMap<Content, VecDeque<&'a Slot>> = BTreeMap::new();
    for (slot, a) in &then {
        likes.entry(content(a, words)).or_default().push_back(slot);
    }
    for (slot, b) in now.clone() {
        let like = likes
            .get_mut(&content(b, words))
            .and_then(VecDeque::pop_front);
        if let Some(like) = like {
            settle(&mut then, &mut now, like, slot);
        }
    }
    for slot in now.keys().copied().collect::<Vec<_>>() {
        if then.contains_key(slot) {
            settle(&mut then, &mut now, slot, slot);
        }
    }
    pairs.sort_by(|a: &(&Stocked, &Stocked), b| a.1.slot.cmp(&b.1.slot));
    Pairs {
        pairs,
        gone: then.into_values().collect(),
        new: now.into_values().collect(),
    }
}

/// A line for each compartment that is stocked otherwise.
pub(super) fn compartments(pairs: &Pairs, words: &Words) -> Vec<Change> {
    let line = |slot: &Slot, text: String| Change::new(About::Compartments, words.slot(slot), text);
    let mut changes = Vec::new();
    for gone in &pairs.gone {
        changes.push((
            &gone.slot,
            line(
                &gone.slot,
                match gone.stands {
                    true => "gets no next cell any more".to_owned(),
                    false => "is no longer stocked".to_owned(),
                },
            ),
        ));
    }
    for new in &pairs.new {
        changes.push((&new.slot, line(&new.slot, all(new, words))));
    }
    for (a, b) in &pairs.pairs {
        if a.slot != b.slot {
            let text = format!("is now {}, and gets the same", words.number(&b.slot));
            changes.push((&a.slot, line(&a.slot, text)));
            continue;
        }
        let mut parts = difference(a, b, words);
        if let (Some(then), Some(now)) = (&a.site, &b.site)
            && then != now
        {
            parts.insert(
                0,
                format!("stands at {} instead of {}", clean(now), clean(then)),
            );
        }
        match (a.stands, b.stands) {
            (false, true) => parts.insert(0, "stands, and gets a next cell".to_owned()),
            (true, false) => parts.insert(0, "is stocked new".to_owned()),
            _ => {}
        }
        if !parts.is_empty() {
            changes.push((&b.slot, line(&b.slot, parts.join("; "))));
        }
    }
    changes.sort_by_key(|(slot, _)| *slot);
    changes.into_iter().map(|(_, change)| change).collect()
}

/// Frames for each line, by where they come from.
type ByLine<'a> = BTreeMap<&'a str, BTreeMap<String, i64>>;

fn by_line<'a>(stocked: &'a Stocked, words: &Words) -> ByLine<'a> {
    let mut lines = ByLine::new();
    let origin = |frames: &Frames| words.origin(frames);
    for frames in &stocked.frames {
        let line = lines.entry(&frames.line).or_default();
        *line.entry(origin(frames)).or_default() += frames.count;
    }
    lines
}

fn all(stocked: &Stocked, words: &Words) -> String {
    let mut parts = Vec::new();
    for (line, origins) in by_line(stocked, words) {
        for (origin, count) in origins {
            parts.push(format!("{count} {} from {origin}", clean(line)));
        }
    }
    if stocked.stands && parts.is_empty() && stocked.bees.is_empty() {
        return "gets a next cell".to_owned();
    }
    parts.push(format!("bees: {}", bees(stocked)));
    if stocked.stands {
        return format!("gets a next cell: {}", parts.join("; "));
    }
    let site = stocked
        .site
        .as_deref()
        .map(|site| format!(", at {}", clean(site)));
    format!("is new{}: {}", site.unwrap_or_default(), parts.join("; "))
}

fn bees(stocked: &Stocked) -> String {
    let mut bees: Vec<_> = stocked.bees.iter().collect();
    bees.sort_by_key(|(colony, _)| order(colony));
    let from = |(colony, n): &(&String, &Bees)| {
        let riding = match n.riding {
            Some(riding) if riding == n.taken => " on its brood".to_owned(),
            Some(0) => " loose".to_owned(),
            Some(riding) => format!(" ({} on its brood)", some(riding)),
            None => String::new(),
        };
        format!("{} from colony {}{riding}", some(n.taken), clean(colony))
    };
    match bees.is_empty() {
        true => "none".to_owned(),
        false => bees.iter().map(from).collect::<Vec<_>>().join(" and "),
    }
}

/// What a compartment gets otherwise, a part for each line and for the bees.
pub(super) fn difference(then: &Stocked, now: &Stocked, words: &Words) -> Vec<String> {
    let (mut before, mut after) = (by_line(then, words), by_line(now, words));
    let lines: BTreeSet<&str> = before.keys().chain(after.keys()).copied().collect();
    let mut parts = Vec::new();
    for line in lines {
        let before = before.remove(line).unwrap_or_default();
        let mut counts = after.remove(line).unwrap_or_default();
        for (origin, count) in before {
            *counts.entry(origin).or_default() -= count;
        }
        counts.retain(|_, difference| *difference != 0);
        parts.extend(exchanged(line, &counts));
    }
    if then.bees != now.bees {
        let text = instead(&bees(now), &bees(then));
        parts.push(format!("bees: {text}"));
    }
    parts
}

/// What has changed of the frames of one line.
fn exchanged(line: &str, counts: &BTreeMap<String, i64>) -> Option<String> {
    let list = |sign: i64| {
        let some = counts.iter().filter(move |(_, count)| **count * sign > 0);
        some.map(move |(origin, count)| (origin.as_str(), count * sign))
            .collect::<Vec<_>>()
    };
    let (added, left_out) = (list(1), list(-1));
    let named = |frames: &[(&str, i64)]| {
        let frames = frames
            .iter()
            .map(|(origin, count)| format!("{count} from {origin}"));
        frames.collect::<Vec<_>>().join(" and ")
    };
    let line = clean(line);
    match (&added[..], &left_out[..]) {
        ([], []) => None,
        (added, []) => {
            let count: i64 = added.iter().map(|(_, count)| count).sum();
            let frames = more(count, "frame", "frames");
            Some(format!("{frames} for {line}: {}", named(added)))
        }
        ([], left_out) => {
            let count: i64 = left_out.iter().map(|(_, count)| count).sum();
            let frames = more(-count, "frame", "frames");
            Some(format!("{frames} for {line}: not {}", named(left_out)))
        }
        (added, left_out) => {
            let text = instead(&named(added), &named(left_out));
            Some(format!("{line}: {text}"))
        }
    }
}
