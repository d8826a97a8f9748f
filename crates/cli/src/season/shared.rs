//! A season that was shared, read back by its own names: what people were told of rounds that may still be to come.

use crate::reading::{Cx, Finding, Node, Severity, Value, describe, parse, source, word};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// What people were told.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Shared {
    /// Its own day.
    pub day: String,
    /// By round: compartments by kind of box, those of nuclei among them.
    pub rounds: BTreeMap<Date, BTreeMap<String, i64>>,
    /// By colony and round: brood combs and bees.
    pub given: BTreeMap<String, BTreeMap<Date, (u32, i64)>>,
    /// What was wanted, and how far it was met.
    pub wants: Vec<SharedWant>,
}

/// Something that was wanted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct SharedWant {
    /// `queens`, `nuclei`, `requeen` or `winter`.
    pub what: String,
    /// Kind of box of nuclei.
    pub kind: Option<String>,
    /// Last day.
    pub by: String,
    /// So many were counted on.
    pub met: i64,
}

/// A way out for a file that is none.
const WAY_OUT: &str = "name a season, as `spareframe season SCENARIO --out season.json` writes it";
/// Most of anything in it: nothing that a scenario may hold lies beyond.
const MOST: i64 = 1_000_000_000;

/// Reads a season in YAML or JSON; `label` names the file in findings. `None` where something in it cannot be read.
pub(crate) fn read_shared(label: &str, bytes: &[u8]) -> (Option<Shared>, Vec<Finding>) {
    let mut cx = Cx::new(label, &[]);
    let read = source(&mut cx, bytes)
        .and_then(|text| {
            let by = ("a season", "spareframe season --format yaml");
            parse(&mut cx, text, by)
        })
        .and_then(|root| whole(&mut cx, &root));
    let failed = cx.findings.iter().any(|f| f.severity == Severity::Error);
    (read.filter(|_| !failed), cx.findings)
}

fn whole(cx: &mut Cx, root: &Node) -> Option<Shared> {
    if !is_season(cx, root) {
        return None;
    }
    let mut shared = Shared {
        day: root.get("day").map(word).unwrap_or_default().to_owned(),
        ..Shared::default()
    };
    for round in items(cx, root, "rounds") {
        let Some(day) = date(cx, round) else { continue };
        let stocked = shared.rounds.entry(day).or_default();
        for key in ["new", "next", "nuclei_in"] {
            for count in items(cx, round, key) {
                let compartments = number(cx, count, "compartments")?;
                let kind = count.get("box_kind").map(word).unwrap_or_default();
                *stocked.entry(kind.to_owned()).or_default() += compartments;
            }
        }
    }
    for colony in items(cx, root, "colonies") {
        let name = colony.get("colony").map(word).unwrap_or_default();
        let given = shared.given.entry(name.to_owned()).or_default();
        for round in items(cx, colony, "rounds") {
            let Some(day) = date(cx, round) else { continue };
            let combs = number(cx, round, "brood_combs")?;
            let bees = number(cx, round, "bees_given")?;
            given.insert(day, (u32::try_from(combs).unwrap_or(u32::MAX), bees));
        }
    }
    for want in items(cx, root, "wants") {
        let text = |key| want.get(key).map(word).unwrap_or_default().to_owned();
        shared.wants.push(SharedWant {
            what: text("what"),
            kind: want.get("box_kind").map(|kind| word(kind).to_owned()),
            by: text("by"),
            met: number(cx, want, "met")?,
        });
    }
    Some(shared)
}

fn is_season(cx: &mut Cx, root: &Node) -> bool {
    let version = root.get("spareframe_season");
    let found = match version.map(word) {
        Some("1") => return true,
        Some(other) => format!("version `{other}`"),
        None if root.get("spareframe").is_some() => "a scenario".to_owned(),
        None if root.get("spareframe_plan").is_some() => "a plan of one day".to_owned(),
        None => "no `spareframe_season`".to_owned(),
    };
    let at = version.map_or(root.at, |version| version.at);
    cx.error("wrong-type", at, found, "a season of version 1", WAY_OUT);
    false
}

/// Entries of a list; none where there is no such key.
fn items<'a>(cx: &mut Cx, node: &'a Node<'a>, key: &str) -> &'a [Node<'a>] {
    match node.get(key) {
        Some(node) => match &node.value {
            Value::List(list) => list,
            _ => {
                cx.error("wrong-type", node.at, describe(node), "a list", WAY_OUT);
                &[]
            }
        },
        None => &[],
    }
}

fn date(cx: &mut Cx, node: &Node) -> Option<Date> {
    let said = node.get("day");
    let day = said.and_then(|day| word(day).parse().ok());
    if day.is_none() {
        let at = said.map_or(node.at, |said| said.at);
        let found = said.map_or("no `day`".to_owned(), describe);
        cx.error("wrong-type", at, found, "a day, as 2031-06-17", WAY_OUT);
    }
    day
}

fn number(cx: &mut Cx, node: &Node, key: &str) -> Option<i64> {
    let said = node.get(key);
    let number = said.and_then(|said| word(said).parse::<i64>().ok());
    let number = number.filter(|number| (0..=MOST).contains(number));
    if number.is_none() {
        let at = said.map_or(node.at, |said| said.at);
        let found = said.map_or(format!("no `{key}`"), describe);
        cx.error(
            "wrong-type",
            at,
            found,
            "a whole number, 0 or more",
            WAY_OUT,
        );
    }
    number
}
