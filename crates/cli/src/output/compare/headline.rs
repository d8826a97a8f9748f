//! What is otherwise in the plan as a whole: figures, feed, holds, cautions.

use super::super::figures::{self, counted, some, weight, whole};
use super::super::words::clean;
use super::changes::{About, Change};
use super::stocked::Pairs;
use super::words::{Words, instead, order};
use crate::plan::Sheet;
use std::collections::BTreeMap;

/// Compartments, worth, cost, honey, colonies, bees: a line for each that differs.
pub(super) fn headline(old: &Sheet, new: &Sheet) -> Vec<Change> {
    let count = |n: usize| i64::try_from(n).unwrap_or(i64::MAX);
    let mut changes = Vec::new();
    let mut line = |subject: &str, text: Option<String>| {
        let text = text.map(|text| Change::new(About::Headline, subject.to_owned(), text));
        changes.extend(text);
    };
    let counts = |then: i64, now: i64| (then != now).then(|| instead(&whole(now), &whole(then)));
    let stocked = |sheet: &Sheet| count(sheet.compartments.len());
    line("compartments stocked", counts(stocked(old), stocked(new)));
    let figures = |then: Option<f64>, now: Option<f64>, say: &dyn Fn(f64, f64) -> String| {
        let (then, now) = then.zip(now)?;
        (then != now).then(|| say(then, now))
    };
    let plain = |then: f64, now: f64| instead(&now.to_string(), &then.to_string());
    // Where each compartment is worth 1 there is no more to say.
    let ordinary = |sheet: &Sheet| {
        let count = super::super::build::decimal(stocked(sheet), 1.0);
        sheet.stated.worth.is_none_or(|worth| worth == count)
    };
    if !(ordinary(old) && ordinary(new)) {
        line("worth", figures(old.stated.worth, new.stated.worth, &plain));
    }
    let cost = |sheet: &Sheet| sheet.stated.cost_g;
    line(
        "cost, in honey",
        figures(cost(old), cost(new), &grams_apart),
    );
    let honey = |sheet: &Sheet| sheet.stated.honey_given_up_g;
    line(
        "honey given up (estimate)",
        figures(honey(old), honey(new), &grams_apart),
    );
    let opened = |sheet: &Sheet| count(sheet.draws().len());
    line("colonies opened", counts(opened(old), opened(new)));
    let bees = (old.bees(), new.bees());
    let taken = (bees.0 != bees.1).then(|| instead(&some(bees.1), &some(bees.0)));
    line("bees taken", taken);
    changes
}

/// A weight of honey otherwise than before; what differs by less than is shown differs all the same.
fn grams_apart(then: f64, now: f64) -> String {
    let sign = if now > then { "more" } else { "less" };
    #[expect(clippy::cast_possible_truncation, reason = "grams of one apiary")]
    let shown = |grams: f64| figures::grams(grams.round() as i64);
    let apart = shown((now - then).abs());
    format!("{}, {apart} {sign}", instead(&shown(now), &shown(then)))
}

/// Feed in all, with the compartments of both plans whose feed differs.
pub(super) fn feed(old: &Sheet, new: &Sheet, pairs: &Pairs, words: &Words) -> Vec<Change> {
    let otherwise = pairs.pairs.iter().filter(|(a, b)| a.feed != b.feed);
    let otherwise: Vec<_> = otherwise
        .map(|(a, b)| {
            let grams = |feed: Option<i64>| fed(feed.unwrap_or(0));
            let feed = instead(&grams(b.feed), &grams(a.feed));
            format!("{}: {feed}", words.slot(&b.slot))
        })
        .collect();
    if old.feed() == new.feed() && otherwise.is_empty() {
        return Vec::new();
    }
    let mut text = match old.feed() == new.feed() {
        true => format!("{} as before", fed(new.feed())),
        false => instead(&fed(new.feed()), &fed(old.feed())),
    };
    if !otherwise.is_empty() {
        text = format!("{text} ({})", otherwise.join("; "));
    }
    let subject = "in all, for substitutes (honey equivalent)".to_owned();
    vec![Change::new(About::Feed, subject, text)]
}

fn fed(grams: i64) -> String {
    match grams {
        0 => "none".to_owned(),
        grams => weight(super::super::build::decimal(grams, 1000.0)),
    }
}

/// Colonies on hold, and why.
pub(super) fn holds(old: &Sheet, new: &Sheet) -> Vec<Change> {
    let reasons = |sheet: &Sheet| -> BTreeMap<String, String> {
        let held = sheet.on_hold.iter().flatten();
        held.map(|h| (h.colony.clone(), clean(&h.reason))).collect()
    };
    let (then, mut now) = (reasons(old), reasons(new));
    let mut lines: BTreeMap<(u64, String), String> = BTreeMap::new();
    for (colony, reason) in then {
        let text = match now.remove(&colony) {
            None => "is no longer on hold".to_owned(),
            Some(same) if same == reason => continue,
            Some(other) => format!("is on hold for another reason: {other}"),
        };
        lines.insert(order(&colony), text);
    }
    let held = now
        .into_iter()
        .map(|(colony, reason)| (order(&colony), format!("is on hold now: {reason}")));
    lines.extend(held);
    let line = |((_, colony), text): ((u64, String), String)| {
        Change::new(About::Holds, format!("colony {}", clean(&colony)), text)
    };
    lines.into_iter().map(line).collect()
}

/// What the new plan says to mind and the old one did not.
pub(super) fn mind(old: &Sheet, new: &Sheet) -> Vec<Change> {
    let known = |text: &str| old.cautions.iter().any(|caution| caution.text == text);
    let fresh = new.cautions.iter().filter(|caution| !known(&caution.text));
    fresh
        .map(|caution| Change::new(About::Mind, clean(&caution.id), clean(&caution.text)))
        .collect()
}

/// Figures that a file states and its own compartments do not bear out.
pub(super) fn stale(sheet: &Sheet) -> Option<String> {
    let opened = counted(
        i64::try_from(sheet.draws().len()).unwrap_or(i64::MAX),
        "colony",
        "colonies",
    );
    let stated = sheet.stated.colonies_opened?;
    #[expect(clippy::cast_precision_loss, reason = "a number of colonies")]
    let same = (stated - sheet.draws().len() as f64).abs() < 0.5;
    (!same).then(|| {
        format!(
            "states {stated} colonies opened, and its compartments draw on {opened}; worth, cost and \
             honey are as stated"
        )
    })
}
