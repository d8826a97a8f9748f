//! Days of rounds, and cells for each.

use super::fields as t;
use super::whole::date;
use crate::reading::{At, Cx, Kind, Map, Node, Value, describe};
use jiff::ToSpan;
use jiff::civil::Date;

/// Most rounds (a choice: far above any season).
const MOST_ROUNDS: usize = 30;
/// Days by which a round may be too soon for the boxes of an earlier one and be taken for a slip (a choice: with rounds
/// every other week it is meant).
const SLIP: i32 = 6;

/// Days in a list, or as `every 14 days from 2031-05-20 to 2031-07-15`.
pub(super) fn rounds(cx: &mut Cx, node: &Node) -> Vec<(Date, At)> {
    let found = match &node.value {
        Value::Scalar { text, .. } => every(cx, node, text),
        _ => {
            let list = cx.list(node);
            if cx.too_many(node.at, list.len(), "rounds", MOST_ROUNDS) {
                return Vec::new();
            }
            let one = |n| Some((date(cx, n)?, n.at));
            list.iter().filter_map(one).collect()
        }
    };
    for pair in found.windows(2) {
        if let [(before, _), (day, at)] = pair
            && day <= before
        {
            cx.error(
                "dates-order",
                *at,
                format!("a round on {day}, listed after that of {before}"),
                "each round once, the first first",
                "put the rounds in order",
            );
        }
    }
    found
}

fn every(cx: &mut Cx, node: &Node, text: &str) -> Vec<(Date, At)> {
    let parts = || {
        let (step, days) = text.trim().strip_prefix("every ")?.split_once(" from ")?;
        let (from, to) = days.split_once(" to ")?;
        Some([step, from, to].map(str::trim))
    };
    let Some([step, from, to]) = parts() else {
        cx.error(
            "wrong-type",
            node.at,
            describe(node),
            "a list of dates, or `every 14 days from 2031-05-20 to 2031-07-15`",
            "write the dates as a list, as [2031-05-20, 2031-06-17]",
        );
        return Vec::new();
    };
    let part = |text: &str| Node {
        at: node.at,
        value: Value::Scalar {
            text: text.to_owned().into(),
            plain: true,
        },
    };
    let step = cx.value(&part(step), Kind::Days, (1.0, 400.0), 1.0, None);
    let (from, to) = (date(cx, &part(from)), date(cx, &part(to)));
    let (Some(step), Some(from), Some(to)) = (step, from, to) else {
        return Vec::new();
    };
    let on = (0_i64..).map(|at| from.saturating_add((at * step).days()));
    let days: Vec<Date> = on
        .take_while(|day| *day <= to)
        .take(MOST_ROUNDS + 1)
        .collect();
    if days.is_empty() {
        cx.error(
            "dates-order",
            node.at,
            format!("rounds from {from} to {to}"),
            "the first day, then a later one",
            "turn the two round",
        );
    }
    if cx.too_many(node.at, days.len(), "rounds", MOST_ROUNDS) {
        return Vec::new();
    }
    days.into_iter().map(|day| (day, node.at)).collect()
}

/// Cells by round.
pub(super) fn per_round(cx: &mut Cx, m: &Map, rounds: &[Date]) -> Vec<Option<u32>> {
    let none = vec![None; rounds.len()];
    let Some(node) = m.get("cells") else {
        return none;
    };
    let mut count = |n: &Node| {
        let count = cx.value(n, Kind::Count, (0.0, t::COUNT), 1.0, None)?;
        u32::try_from(count).ok()
    };
    let Value::List(list) = &node.value else {
        let all = count(node);
        return vec![all; rounds.len()];
    };
    let counts: Vec<Option<u32>> = list.iter().map(count).collect();
    if counts.len() == rounds.len() || rounds.is_empty() {
        return counts;
    }
    cx.error(
        "wrong-type",
        node.at,
        format!("cells for {} of {} rounds", counts.len(), rounds.len()),
        "one number for all rounds, or one for each",
        "write as many numbers as there are rounds, or one alone",
    );
    none
}

/// Rounds of which no queen comes.
pub(super) fn rained_out(cx: &mut Cx, m: &Map, rounds: &[Date]) -> Vec<Date> {
    let Some(node) = m.get("rained out") else {
        return Vec::new();
    };
    let nodes = match &node.value {
        Value::List(_) => cx.list(node),
        _ => std::slice::from_ref(node),
    };
    let mut out = Vec::new();
    for node in nodes {
        let Some(day) = date(cx, node) else { continue };
        if out.contains(&day) {
            cx.error(
                "duplicate-key",
                node.at,
                format!("the round of {day} twice"),
                "each round once",
                "remove one of them",
            );
        } else if !rounds.is_empty() && !rounds.contains(&day) {
            let days: Vec<String> = rounds.iter().map(Date::to_string).collect();
            cx.error(
                "unknown-name",
                node.at,
                format!("{day}, which is no round"),
                format!("one of {}", days.join(", ")),
                "write the stocking day of the round, as in `rounds`",
            );
        }
        out.push(day);
    }
    out
}

/// Finds rounds that lie a few days before the boxes of an earlier one are free.
pub(super) fn too_soon(cx: &mut Cx, rounds: &[(Date, At)], free: i32) {
    for (at, (day, place)) in rounds.iter().enumerate() {
        let earlier = rounds.iter().take(at).map(|(earlier, _)| *earlier);
        let ready = earlier.map(|earlier| (earlier, earlier.saturating_add(free.days())));
        let slip = |ready: Date| (1..=SLIP).contains(&(ready - *day).get_days());
        // Boxes of another round may be meant.
        let mut others = ready.clone();
        if others.any(|(_, ready)| (0..SLIP).contains(&(*day - ready).get_days())) {
            continue;
        }
        if let Some((earlier, ready)) = ready.clone().find(|(_, ready)| slip(*ready)) {
            cx.warn(
                "round-too-soon",
                *place,
                format!("a round on {day}, {} days after that of {earlier}", (*day - earlier).get_days()),
                format!("{ready} or later, for boxes of that round to get their next cell: a queen takes her time"),
                format!("move the round to {ready}; else only boxes of other rounds are stocked"),
            );
        }
    }
}
