//! What was seen, as it is typed: `mating box 1.1=eggs, bees 3 frames, brood 1 comb`.

use super::changes::put_in;
use super::{Look, WORDS, meant, names, said};
use crate::inspect::{Inspected, START};
use crate::reading::{At, Cx, Finding, Severity, near, parse, source};
use crate::scenario::{Loaded, SECTIONS, read};
use jiff::civil::Date;

/// How findings name what was typed.
const LABEL: &str = "--see";

/// Puts what was seen in compartments into a scenario; each text is a compartment and what was seen in it, on the day of
/// the scenario.
///
/// ```
/// use spareframe::inspect::look;
/// use spareframe::scenario::starter;
/// let text = format!("{}standing: [{{box: mating box, since: 2031-05-06}}]\n", starter());
/// let seen = look(&["mating box 1.1=eggs".to_owned()], ("s.yaml", text.as_bytes()));
/// assert!(seen.text.unwrap().ends_with("since: 2031-05-06, queen: laying, seen: 2031-05-20}]\n"));
/// ```
#[must_use]
pub fn look(typed: &[String], (label, scenario): (&str, &[u8])) -> Inspected {
    let mut out = Inspected::default();
    let mut before = Cx::new(label, SECTIONS);
    let text = source(&mut before, scenario);
    let root = text.and_then(|text| parse(&mut before, text, START));
    let loaded = read(label, scenario);
    let (Some(text), Some(root), Some(loaded)) = (text, root, loaded.loaded.as_ref()) else {
        out.in_scenario = loaded.findings;
        return out;
    };
    let all = typed.join("\n");
    let mut cx = Cx::new(LABEL, SECTIONS);
    let looks = looks(&mut cx, &all, loaded);
    let (new, named) = put_in(&mut cx, (text, &root), loaded, &looks);
    out.findings = cx.findings;
    [out.changed, out.gone] = named;
    let failed = out
        .findings
        .iter()
        .any(|f: &Finding| f.severity == Severity::Error);
    out.changed_text = new;
    if !failed {
        out.text.clone_from(&out.changed_text);
    }
    out
}

fn looks(cx: &mut Cx, all: &str, loaded: &Loaded) -> Vec<Look> {
    let names = names(loaded);
    let Some(day) = loaded.day else {
        cx.error(
            "dates-without-day",
            At::top(),
            "something seen, without a day",
            "`day` at the top of the scenario",
            "add `day: 2031-05-20`",
        );
        return Vec::new();
    };
    let mut out = Vec::new();
    let mut from = 0;
    for line in all.split('\n') {
        out.extend(one(cx, all, (from, line), (&names, day)));
        from += line.len() + 1;
    }
    out
}

fn one(
    cx: &mut Cx,
    all: &str,
    (from, line): (usize, &str),
    (names, day): (&[String], Date),
) -> Option<Look> {
    let at = |start: usize, end: usize| At::within(all, from + start, from + end);
    let Some((name, rest)) = line.split_once('=') else {
        cx.error(
            "wrong-type",
            at(0, line.len()),
            format!("`{}`", crate::reading::plain(line)),
            "a compartment and what was seen in it",
            "write `mating box 1.1=eggs`",
        );
        return None;
    };
    let entry = meant(names, name);
    if entry.is_none() {
        unknown(cx, at(0, name.len()), name.trim(), names);
    }
    let mut look = Look {
        entry: entry.unwrap_or(0),
        seen: None,
        bees: None,
        brood: None,
        day,
    };
    let mut start = name.len() + 1;
    let mut wrong = false;
    for part in rest.split(',') {
        let blank = part.len() - part.trim_start().len();
        let place = at(start + blank, start + part.trim_end().len());
        start += part.len() + 1;
        let part = part.trim();
        let figure = |key: &str| {
            part.strip_prefix(key)
                .map(str::trim)
                .filter(|f| f.starts_with(|c: char| c.is_ascii_digit()))
        };
        if let Some(bees) = figure("bees ") {
            look.bees = Some((bees.to_owned(), place));
        } else if let Some(brood) = figure("brood ") {
            look.brood = Some((brood.to_owned(), place));
        } else if let Some(seen) = said(part) {
            look.seen = Some(seen);
        } else {
            not_seen(cx, place, part);
            wrong = true;
        }
    }
    (entry.is_some() && !wrong).then_some(look)
}

/// Finds that no compartment of this name stands.
pub(crate) fn unknown(cx: &mut Cx, at: At, name: &str, names: &[String]) {
    let list: Vec<&str> = names.iter().map(String::as_str).collect();
    let found = format!("`{}`", crate::reading::plain(name));
    cx.unknown_name(at, (name, &found), "compartment that stands", &list);
}

/// Finds that a word says nothing of a compartment.
pub(crate) fn not_seen(cx: &mut Cx, at: At, word: &str) {
    let words = WORDS.iter().map(|(word, _)| *word);
    let meant = near(&word.to_lowercase(), words, 3);
    cx.error(
        "wrong-type",
        at,
        format!("`{}`", crate::reading::plain(word)),
        "what was seen: cell, virgin, eggs, sealed brood, to be taken, none, drone brood, laying workers, \
         taken, dead, united; `bees 3 frames`, `brood 1 comb`",
        meant.unwrap_or_else(|| "write one of them".to_owned()),
    );
}
