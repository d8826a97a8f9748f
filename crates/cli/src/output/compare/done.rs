//! What is already in compartments, and what fills the gaps in colonies, otherwise than before.

use super::super::report::Progress;
use super::super::words::clean;
use super::changes::{About, Change};
use super::draws;
use super::stocked;
use super::words::{Words, order};
use crate::plan::{Draw, Sheet, Slot, Stocked};
use itertools::Itertools;
use std::collections::BTreeMap;

/// How far each compartment is done in which anything is, with what it holds where it is not stocked.
fn done(sheet: &Sheet) -> BTreeMap<&Slot, (&'static str, Option<&Stocked>)> {
    let marked = sheet.compartments.iter().filter_map(|c| {
        let word = match c.done? {
            Progress::Begun => "begun",
            Progress::Finished => "finished",
        };
        Some((&c.slot, (word, None)))
    });
    let left = sheet.begun.iter();
    let left = left.map(|c| (&c.slot, ("begun and not stocked", Some(c))));
    marked.chain(left).collect()
}

/// A line for each compartment that is further done, or less far, than before.
pub(super) fn begun(old: &Sheet, new: &Sheet, words: &Words) -> Vec<Change> {
    let (then, now) = (done(old), done(new));
    let slots = then.keys().chain(now.keys()).sorted().dedup();
    let text = |slot: &Slot| match (then.get(slot), now.get(slot)) {
        (None, Some((now, _))) => Some(format!("is {now} now")),
        (Some((then, _)), None) => Some(format!("is no longer {then}")),
        (Some((then, _)), Some((now, _))) if then != now => {
            Some(format!("is {now} now; it was {then}"))
        }
        (Some((_, Some(then))), Some((_, Some(now)))) => {
            let parts = stocked::difference(then, now, words);
            (!parts.is_empty()).then(|| format!("holds {}", parts.join("; ")))
        }
        _ => None,
    };
    let line = |slot: &Slot| Some(Change::new(About::Begun, words.slot(slot), text(slot)?));
    slots.copied().filter_map(line).collect()
}

/// A line for each colony whose gaps are filled with other frames.
pub(super) fn gaps(old: &Sheet, new: &Sheet, words: &Words) -> Vec<Change> {
    let (then, now) = (fillers(old), fillers(new));
    let names = then.keys().chain(now.keys()).copied();
    let names = names.sorted_by_key(|name| order(name)).dedup();
    let none = Draw::default();
    let line = |name: &str| {
        let (then, now) = (then.get(name), now.get(name));
        let text = draws::difference(then.unwrap_or(&none), now.unwrap_or(&none), words)?;
        let subject = format!("colony {}", clean(name));
        Some(Change::new(About::Gaps, subject, text))
    };
    names.filter_map(line).collect()
}

/// Frames that fill gaps, by colony.
fn fillers(sheet: &Sheet) -> BTreeMap<&str, Draw<'_>> {
    let draw = |frames| Draw { frames, bees: 0 };
    let all = sheet.fillers.iter().flatten();
    all.map(|(colony, frames)| (colony.as_str(), draw(frames.iter().collect())))
        .collect()
}
