//! Names that others refer to, and which of them was meant.

use std::collections::BTreeMap;

/// Longest name and most names that are compared by letter (a choice): each pair costs the
/// product of their lengths.
const MOST_LETTERS: usize = 40;
const MOST_COMPARED: usize = 500;
/// Fewest letters that a name is known by, and most names that may be meant (choices).
const FEWEST_LETTERS: usize = 3;
const MOST_MEANT: usize = 3;

/// Names in order, found quickly: a yard may have thousands.
#[derive(Default)]
pub(crate) struct Names {
    list: Vec<String>,
    ids: BTreeMap<String, usize>,
}

impl Names {
    pub fn get(&self, name: &str) -> Option<usize> {
        self.ids.get(name).copied()
    }
    /// The index of a name, new or not.
    pub fn add(&mut self, name: &str) -> usize {
        if let Some(id) = self.get(name) {
            return id;
        }
        self.list.push(name.to_owned());
        self.ids.insert(name.to_owned(), self.list.len() - 1);
        self.list.len() - 1
    }
    pub fn list(&self) -> &[String] {
        &self.list
    }
}

/// Of names that differ, so that an index here is one there.
impl<'a> FromIterator<&'a str> for Names {
    fn from_iter<I: IntoIterator<Item = &'a str>>(names: I) -> Self {
        let mut out = Self::default();
        for name in names {
            out.add(name);
        }
        out
    }
}

/// The nearest name: at most `most` changes, about a third of it, and something in common.
pub(crate) fn near<'a>(
    name: &str,
    known: impl Iterator<Item = &'a str>,
    most: usize,
) -> Option<String> {
    if name.len() > MOST_LETTERS {
        return None;
    }
    let name = name.to_lowercase();
    let close = |k: &'a str| {
        let changes = strsim::damerau_levenshtein(&name, &k.to_lowercase());
        let len = k.chars().count();
        let close = changes <= most.min(1 + len / 3) && changes < len.max(name.chars().count());
        close.then_some((changes, k))
    };
    let short = known
        .take(MOST_COMPARED)
        .filter(|k| k.len() <= MOST_LETTERS);
    let short: Vec<&str> = short.collect();
    let nearest = short.iter().copied().filter_map(close).min();
    let nearest = nearest.map(|(_, k)| format!("did you mean `{k}`?"));
    nearest.or_else(|| begun(&name, &short))
}

/// The names of which a word begins so, as `nuc` and `Dadant`: fewer letters tell too little.
fn begun(name: &str, known: &[&str]) -> Option<String> {
    let begins = |k: &&&str| {
        let k = k.to_lowercase();
        let longer = k.chars().count() >= FEWEST_LETTERS && name.starts_with(&k);
        longer || k.split([' ', '-']).any(|word| word.starts_with(name)) || k.starts_with(name)
    };
    let meant: Vec<String> = known
        .iter()
        .filter(begins)
        .map(|k| format!("`{k}`"))
        .collect();
    let clear = name.chars().count() >= FEWEST_LETTERS && (1..=MOST_MEANT).contains(&meant.len());
    clear.then(|| format!("did you mean {}?", meant.join(" or ")))
}

/// The key of a section that is meant by another word of the trade.
pub(crate) fn meant_key(section: &str, name: &str) -> Option<&'static str> {
    let name = name.to_lowercase().replace(['_', '-'], " ");
    let rows = MEANT_KEYS.iter();
    let mut rows = rows.filter(|(of, ..)| *of == section);
    let words = |words: &str| words.split(", ").any(|word| word == name);
    rows.find(|(_, written, _)| words(written))
        .map(|(.., key)| *key)
}

/// Words that people write for keys: section, words, key.
const MEANT_KEYS: &[(&str, &str, &str)] = &[
    ("scenario", "hives, donors, stocks", "colonies"),
    ("scenario", "apiaries, yards, locations, places", "sites"),
    ("scenario", "date, stocking day, today", "day"),
    (
        "scenario",
        "shelf, stock, storage, spare frames",
        "store room",
    ),
    ("scenario", "mating boxes, nucs, nuclei", "boxes"),
    ("scenario", "queens, queen cells", "cells"),
    ("scenario", "queen rearing, grafting", "rearing"),
    ("scenario", "name, round", "title"),
    ("scenario", "frame sizes, sizes", "combs"),
    ("colony", "hive, frame size, size, frame type", "comb"),
    ("colony", "type, kind", "role"),
    ("colony", "apiary, yard, location, place, at", "site"),
    ("colony", "honey, food, feed", "stores"),
    ("colony", "combs, total, total frames", "all frames"),
    ("colony", "drawn, drawn comb, empty combs", "empty"),
    ("colony", "strength, adult bees", "bees"),
    ("colony", "expected crop, yield, harvest", "crop"),
    ("colony", "leave, untouched, skip", "hold"),
    ("frame", "honey, food, feed", "stores"),
    ("frame", "number, frames", "count"),
    ("frame", "size, frame size", "comb"),
    ("frame", "capped", "sealed"),
    ("colony", "capped", "sealed"),
    ("line", "honey, food", "stores"),
    ("line", "size, frame size", "comb"),
    ("line", "number, frames", "count"),
    ("line", "substitute, substitutes, else", "or"),
    ("keep", "honey, food", "stores"),
    ("draw", "stores, food", "honey"),
    ("site", "coordinates, position, lat, location", "at"),
    ("box", "number, boxes", "count"),
    ("box", "parts, rooms, chambers", "compartments"),
    ("box", "apiary, yard, location, place, at", "site"),
    ("recipe", "frames, combs", "lines"),
    ("recipe", "least bees, fewest bees", "bees"),
    ("rearing", "graft, grafting, grafting day", "grafted"),
    ("batch", "boxes, box", "for"),
    ("taken", "number, frames", "count"),
];
