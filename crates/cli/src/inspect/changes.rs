//! What a table changes, colony by colony.

use super::cells::{self, Written};
use super::columns::By;
use super::counts::Counts;
use super::expected::change_colony;
use super::table::{Given, Row, Table};
use crate::editing::same;
use crate::reading::{At, Cx, Node, Value, word};
use crate::scenario::{COLONY, FRAME, QUICK};
use std::collections::{BTreeMap, BTreeSet};

/// Keys of a map that are set, in this order, and keys that go.
#[derive(Debug, Clone, Default)]
pub(super) struct MapChange {
    pub set: Vec<(&'static str, Written)>,
    pub gone: Vec<&'static str>,
}

/// What is done to the frames of a colony.
#[derive(Debug, Clone, Default)]
pub(super) struct FramesChange {
    /// By frame group that is there.
    pub each: Vec<(usize, MapChange)>,
    /// New ones behind them.
    pub added: Vec<MapChange>,
    /// How many of those that are there stay.
    pub keep: usize,
    /// Fewer than there are.
    pub fewer: bool,
}

/// What is done to one colony.
#[derive(Debug, Clone)]
pub(super) struct ColonyChange {
    pub name: String,
    /// It is not in the scenario yet.
    pub new: bool,
    pub map: MapChange,
    pub frames: Option<FramesChange>,
    /// Rows that it is from: of the colony first, then by frame group.
    pub from: Vec<From>,
    /// Days of `since` that are in the new count, by index; others stay.
    pub since_out: Vec<usize>,
    /// The table gives the day of the last count.
    pub counted_as_before: bool,
    /// Whether it changes anything of what is there.
    pub differs: bool,
}

impl ColonyChange {
    /// Nothing changed yet.
    fn none(name: &str, new: bool) -> Self {
        Self {
            name: name.to_owned(),
            new,
            map: MapChange::default(),
            frames: None,
            from: Vec::new(),
            since_out: Vec::new(),
            counted_as_before: false,
            differs: false,
        }
    }
}

/// Where a value is from.
#[derive(Debug, Clone)]
pub(super) struct From {
    /// Frame group, from 0, or the colony itself.
    pub group: Option<usize>,
    pub row: u32,
    pub at: At,
    /// Keys with their cells and columns.
    pub cells: Vec<(&'static str, At, String)>,
}

/// The changes of a table, with all that cannot be done found.
pub(super) fn changes(
    cx: &mut Cx,
    root: &Node,
    table: &Table,
    recount: bool,
    counts: Option<&Counts>,
) -> Vec<ColonyChange> {
    let mut order: Vec<String> = Vec::new();
    let mut rows: BTreeMap<String, Vec<&Row>> = BTreeMap::new();
    let colonies: BTreeMap<&str, &Node> = match root.get("colonies").map(|node| &node.value) {
        Some(Value::Map(entries)) => entries
            .iter()
            .map(|(key, node)| (word(key), node))
            .collect(),
        _ => BTreeMap::new(),
    };
    let mut names = Spellings::default();
    colonies.keys().for_each(|name| names.add(name));
    for row in &table.rows {
        let name = names.meant(&row.colony);
        let list = rows.entry(name.clone()).or_default();
        if list.is_empty() {
            order.push(name);
        }
        list.push(row);
    }
    let mut changes = Vec::new();
    for name in order {
        let Some(of_colony) = rows.get(&name) else {
            continue;
        };
        let old = colonies.get(name.as_str()).copied();
        let mut change = match table.by {
            By::Colony => by_colony(cx, &name, old, of_colony, recount),
            By::Frame => by_frame(cx, (&name, old), of_colony, table, recount),
        };
        if let (Some(counts), Some(old)) = (counts, old) {
            let said = of_colony.iter().flat_map(|row| &row.of_colony);
            let day = said.filter(|given| given.key == "counted");
            change.counted_as_before = day.into_iter().any(|given| given.value.is_some());
            counts.renew(cx, &mut change, old);
        }
        change.differs = old.is_none_or(|old| {
            let mut new = old.clone();
            change_colony(&mut new, &change);
            !same(old, &new)
        });
        changes.push(change);
    }
    changes
}

/// Names of colonies, however they are written as to capitals.
#[derive(Default)]
struct Spellings {
    exact: BTreeSet<String>,
    /// By small letters; none where several are alike.
    small: BTreeMap<String, Option<String>>,
}

impl Spellings {
    fn add(&mut self, name: &str) {
        if self.exact.insert(name.to_owned()) {
            let only = self.small.entry(name.to_lowercase());
            only.and_modify(|only| *only = None)
                .or_insert_with(|| Some(name.to_owned()));
        }
    }

    /// The colony that a row means; a new one, where none is written so.
    fn meant(&mut self, name: &str) -> String {
        if self.exact.contains(name) {
            return name.to_owned();
        }
        match self.small.get(&name.to_lowercase()) {
            Some(Some(only)) => only.clone(),
            _ => {
                self.add(name);
                name.to_owned()
            }
        }
    }
}

fn from(row: &Row, group: Option<usize>, cells: &[Given]) -> From {
    let filled = cells.iter().filter(|given| given.value.is_some());
    let place = |given: &Given| (given.key, given.at, given.title.clone());
    From {
        group,
        row: row.number,
        at: row.at,
        cells: filled.map(place).collect(),
    }
}

/// Keys that are given and say something else than what is there; an empty cell leaves it.
fn set(cells: &[Given], old: Option<&Node>) -> MapChange {
    let given = |given: &Given| {
        let new = given.value.clone()?;
        let was = old.and_then(|old| old.get(given.key)).map(word);
        let same = was.is_some_and(|was| cells::same(given.field, was, &new.text));
        (!same).then_some((given.key, new))
    };
    MapChange {
        set: cells.iter().filter_map(given).collect(),
        gone: Vec::new(),
    }
}

fn by_colony(
    cx: &mut Cx,
    name: &str,
    old: Option<&Node>,
    rows: &[&Row],
    recount: bool,
) -> ColonyChange {
    let mut change = ColonyChange::none(name, old.is_none());
    for (i, row) in rows.iter().enumerate() {
        if i > 0 {
            cx.error(
                "duplicate-key",
                row.at,
                format!("colony `{name}` again in row {}", row.number),
                "one row for each colony",
                "remove one; for a row for each frame add a column `count`",
            );
            continue;
        }
        change.map = set(&row.of_colony, old);
        change.from.push(from(row, None, &row.of_colony));
    }
    let quick = change.map.set.iter().any(|(key, _)| QUICK.contains(key));
    if let (Some(frames), true, Some(row)) = (has(old, &["frames"]), quick, rows.first()) {
        match recount {
            true => {
                change.map.gone.push(frames);
                // `bees` are all bees of the colony; those beside the frames are among them.
                let given = |wanted| change.map.set.iter().any(|(key, _)| *key == wanted);
                if given("bees") && !given("extra bees") {
                    change.map.gone.extend(has(old, &["extra bees"]));
                }
            }
            false => other_way(cx, row, "quick counts", "frame by frame"),
        }
    }
    change
}

/// Which of some keys a colony has.
fn has(old: Option<&Node>, keys: &[&'static str]) -> Option<&'static str> {
    keys.iter()
        .copied()
        .find(|key| old.is_some_and(|old| old.get(key).is_some()))
}

fn other_way(cx: &mut Cx, row: &Row, found: &str, there: &str) {
    cx.error(
        "two-readings",
        row.at,
        format!("{found} in row {} for colony `{}`", row.number, row.colony),
        format!("the way it is counted in the scenario, {there}"),
        "count it the same way, or use --recount to put the table's count in its place",
    );
}

fn by_frame(
    cx: &mut Cx,
    (name, old): (&str, Option<&Node>),
    rows: &[&Row],
    table: &Table,
    recount: bool,
) -> ColonyChange {
    let mut change = ColonyChange::none(name, old.is_none());
    for row in rows {
        of_colony(cx, &mut change, row);
    }
    change.map.set.retain(|(key, value)| {
        let was = old.and_then(|old| old.get(key)).map(word);
        let field = COLONY.fields.iter().find(|f| f.key == *key);
        !was.zip(field)
            .is_some_and(|(was, field)| cells::same(field, was, &value.text))
    });
    if let (Some(_), Some(row)) = (has(old, &QUICK), rows.first()) {
        match recount {
            true => {
                let there = QUICK.into_iter().filter(|key| has(old, &[*key]).is_some());
                change.map.gone.extend(there);
            }
            false => other_way(cx, row, "frames", "quick counts"),
        }
    }
    let there = match old
        .and_then(|old| old.get("frames"))
        .map(|node| &node.value)
    {
        Some(Value::List(list)) => list.as_slice(),
        _ => &[],
    };
    if let (false, Some(row)) = (table.grouped, rows.first()) {
        unnamed(cx, row, there);
    }
    let mut frames = FramesChange {
        keep: match table.grouped {
            true => there.len(),
            false => rows.len().min(there.len()),
        },
        ..FramesChange::default()
    };
    frames.fewer = frames.keep < there.len();
    let mut taken = BTreeSet::new();
    for (i, row) in rows.iter().enumerate() {
        let next = there.len() + frames.added.len();
        let group = match (table.grouped, row.group) {
            (true, Some(group)) => group - 1,
            (true, None) => next,
            (false, _) => i,
        };
        if !fits(cx, row, (group, there.len(), next), &mut taken) {
            continue;
        }
        let mut map = set(&row.of_frame, there.get(group));
        match there.get(group) {
            Some(old) => {
                if !table.grouped {
                    map.gone = unsaid(row, old);
                }
                frames.each.push((group, map));
            }
            None => frames.added.push(map),
        }
        change.from.push(from(row, Some(group), &row.of_frame));
    }
    change.frames = Some(frames);
    change
}

/// Whether a row's group is there or the next, and not taken yet.
fn fits(
    cx: &mut Cx,
    row: &Row,
    (group, there, next): (usize, usize, usize),
    taken: &mut BTreeSet<usize>,
) -> bool {
    let again = group <= next && !taken.insert(group);
    if group <= next && !again {
        return true;
    }
    let (code, again, expected) = match again {
        true => ("duplicate-key", " again", "each group once".to_owned()),
        false => (
            "out-of-range",
            "",
            format!("a group from 1 to {there}, or the next, {}", next + 1),
        ),
    };
    let (number, colony) = (row.number, &row.colony);
    cx.error(
        code,
        row.at,
        format!(
            "group {}{again} in row {number} for colony `{colony}`",
            group + 1
        ),
        expected,
        "correct the group; leave it empty for a new one",
    );
    false
}

/// Keys that a row without a group does not say: the row is the frame, and they are as if they had never
/// been said.
fn unsaid(row: &Row, old: &Node) -> Vec<&'static str> {
    let said = |key: &str| {
        let mut given = row.of_frame.iter();
        given.any(|given| given.key == key && given.value.is_some())
    };
    let keys = FRAME.fields.iter().map(|f| f.key);
    keys.filter(|key| old.get(key).is_some() && !said(key))
        .collect()
}

/// What a frame is known by, and no count of it says.
const KNOWN_BY: [&str; 4] = ["queen", "comb", "place", "give"];

/// Finds that frames are known by something that the table has no column for: rows without a group would
/// forget it, or give it to other frames.
fn unnamed(cx: &mut Cx, row: &Row, there: &[Node]) {
    let lost = KNOWN_BY.into_iter().filter(|key| {
        let column = row.of_frame.iter().any(|given| given.key == *key);
        !column && there.iter().any(|frame| frame.get(key).is_some())
    });
    let lost: Vec<&str> = lost.collect();
    if !lost.is_empty() {
        cx.error(
            "missing-key",
            row.at,
            format!(
                "no column `{}` in row {} for colony `{}`",
                lost.join("`, `"),
                row.number,
                row.colony
            ),
            "what frames of this colony are marked with in the scenario",
            "add the column, or a column `group` that says which frames a row is about",
        );
    }
}

/// What rows of frames say of their colony; they must agree.
fn of_colony(cx: &mut Cx, change: &mut ColonyChange, row: &Row) {
    for given in &row.of_colony {
        let Some(value) = &given.value else { continue };
        match change.map.set.iter().find(|(key, _)| *key == given.key) {
            None => change.map.set.push((given.key, value.clone())),
            Some((_, other)) if cells::same(given.field, &other.text, &value.text) => continue,
            Some((_, other)) => cx.error(
                "two-readings",
                given.at,
                format!(
                    "`{}` in row {}, column `{}`",
                    value.text, row.number, given.title
                ),
                format!(
                    "`{}`, as further up for colony `{}`",
                    other.text, change.name
                ),
                "give it once, or the same in each row of the colony",
            ),
        }
    }
    change.from.push(from(row, None, &row.of_colony));
}
