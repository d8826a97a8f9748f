//! The table of a plan, `frames.csv`, with its numbers as they became: each row says what was done, and what is in no row
//! was not. The rows become records as `done` has them, each value with the place of its cell.

use super::done::{Done, Requeened};
use super::rows::{Cells, Kind, Table};
use crate::look;
use crate::reading::{At, Cx, Finding, Node, Severity, Value, source};
use crate::scenario::{Loaded, QueenStands, SECTIONS, of_table};
use jiff::civil::Date;
use spareframe_solver::{ColonyId, Compartment, Scenario};

/// What a table says was done; nothing where there is an error among the findings.
#[must_use]
pub fn done_by_table(
    loaded: &Loaded,
    (label, bytes): (&str, &[u8]),
) -> (Option<Done>, Vec<Finding>) {
    let mut cx = Cx::new(label, SECTIONS);
    let text = source(&mut cx, bytes);
    let table = text.and_then(|text| Table::read(&mut cx, text));
    let done = table.and_then(|table| done(&mut cx, loaded, &table));
    let mut findings = cx.findings;
    findings.sort_by_key(|f| f.span.start);
    let failed = findings.iter().any(|f| f.severity == Severity::Error);
    (done.filter(|_| !failed), findings)
}

/// The rows of one compartment.
#[derive(Default)]
struct Record<'t> {
    /// Box, number and compartment, as they are written.
    place: [&'t str; 3],
    at: At,
    named: Vec<(Node<'t>, Node<'t>)>,
    frames: Vec<Node<'t>>,
    bees: Vec<(Node<'t>, Node<'t>)>,
    /// The next cell, or the mated queen, went in.
    queen: bool,
}

fn done(cx: &mut Cx, loaded: &Loaded, table: &Table) -> Option<Done> {
    let scenario = &loaded.scenario;
    let mut records: Vec<Record> = Vec::new();
    let (mut gaps, mut queens) = (Vec::new(), Vec::new());
    for row in &table.rows {
        match row.kind {
            Kind::Gap => gaps.extend(gap(row)),
            Kind::Queen if row.get("to").is_some() => queens.push(row),
            _ => row.put_into(cx, &mut records),
        }
    }
    if let Some(day) = loaded.day {
        of_the_day(cx, table, day);
    }
    let named = records
        .iter()
        .map(|record| record.place)
        .collect::<Vec<_>>();
    records.retain(Record::says_something);
    let list = Node {
        at: At::top(),
        value: Value::List(records.iter().map(Record::node).collect()),
    };
    let before = cx.findings.len();
    let (compartments, fillers) = of_table(cx, (&list, &gaps), &loaded.ways, scenario);
    table.place(&mut cx.findings, before);
    left_out(cx, scenario, &named);
    let requeened = requeened(cx, loaded, &queens);
    if cx.failed() {
        return None;
    }
    let lacks = |(at, c): (usize, &Compartment)| {
        let stands = scenario.standing.iter().any(|stands| stands.is(c));
        let takes = loaded.rearing.takes.get(c.kind.0) == Some(&true);
        let got = records.get(at).is_some_and(|record| record.queen);
        ((stands || takes) && !got).then_some(at)
    };
    Some(Done {
        without_queen: compartments.iter().enumerate().filter_map(lacks).collect(),
        compartments,
        fillers,
        requeened: Requeened::These(requeened),
    })
}

impl<'t> Cells<'t> {
    /// Puts a row beside the others of its compartment.
    fn put_into(&'t self, cx: &mut Cx, records: &mut Vec<Record<'t>>) {
        let keys = ["box", "number", "compartment"];
        let place = keys.map(|key| match (key, self.text(key)) {
            ("box", text) => text.unwrap_or(""),
            (_, text) => text.unwrap_or("1"),
        });
        let at = records.iter().position(|record| record.place == place);
        let at = at.unwrap_or_else(|| {
            let named = keys.iter().filter_map(|key| self.entry(key));
            records.push(Record {
                place,
                at: self.at,
                named: named.collect(),
                ..Record::default()
            });
            records.len() - 1
        });
        let Some(record) = records.get_mut(at) else {
            return;
        };
        match self.kind {
            Kind::Frames if !self.none("count") => {
                let numbered = self.get("group").is_some();
                let keys = [
                    "colony",
                    "group",
                    "store room",
                    "of",
                    "comb",
                    "line",
                    "count",
                ];
                let keys = keys
                    .iter()
                    .filter(|key| **key != "comb" || self.by_glance());
                let keys = keys.filter(|key| **key != "of" || !numbered);
                record.frames.push(self.map(keys.copied()));
            }
            Kind::Bees if !self.none("bees") => {
                let (Some(colony), Some(bees)) = (self.get("colony"), self.get("bees")) else {
                    self.lacks(cx, "colony", "the colony that the bees are from");
                    return;
                };
                if record.bees.iter().any(|(name, _)| same(name, &colony)) {
                    let found = format!("bees of this colony again in row {}", self.number);
                    let way_out = "put both into one row";
                    cx.error(
                        "duplicate-key",
                        colony.at,
                        found,
                        "one row of bees for each colony",
                        way_out,
                    );
                    return;
                }
                record.bees.push((colony, bees));
            }
            Kind::Queen | Kind::Cell => record.queen = true,
            _ => {}
        }
    }

    /// Whether frames are told by what they are counted as, and not by a number.
    fn by_glance(&self) -> bool {
        self.get("group").is_none() && self.get("colony").is_some() && self.get("of").is_some()
    }
}

fn same(one: &Node, other: &Node) -> bool {
    crate::reading::word(one) == crate::reading::word(other)
}

impl<'t> Record<'t> {
    /// Not where all its numbers are 0.
    fn says_something(&self) -> bool {
        self.queen || !self.frames.is_empty() || !self.bees.is_empty()
    }

    /// The record as `done` has it.
    fn node(&self) -> Node<'t> {
        let mut entries = self.named.clone();
        let mut add = |key: &'static str, value: Value<'t>| {
            let at = self.at;
            entries.push((super::rows::key(at, key), Node { at, value }));
        };
        if !self.frames.is_empty() {
            add("frames", Value::List(self.frames.clone()));
        }
        if !self.bees.is_empty() {
            add("bees", Value::Map(self.bees.clone()));
        }
        Node {
            at: self.at,
            value: Value::Map(entries),
        }
    }
}

/// Frames that went into the gaps of a colony.
fn gap<'t>(row: &'t Cells<'t>) -> Option<Node<'t>> {
    let mut node = row.map(["store room", "count"].into_iter());
    if let (Value::Map(entries), Some(to)) = (&mut node.value, row.get("to")) {
        entries.push((super::rows::key(to.at, "colony"), to));
    }
    (!row.none("count")).then_some(node)
}

/// Rows of another day belong to another plan; a queen may go in later.
fn of_the_day(cx: &mut Cx, table: &Table, day: Date) {
    let rows = table.rows.iter().filter(|row| row.kind != Kind::Queen);
    let other = |row: &&Cells| row.text("day").is_some_and(|text| text != day.to_string());
    if let Some(row) = rows.into_iter().find(other) {
        let (text, at) = (row.text("day").unwrap_or(""), row.place("day"));
        cx.error(
            "wrong-type",
            at,
            format!(
                "`{}` in row {}, column `day`",
                crate::reading::plain(text),
                row.number
            ),
            format!("{day}, the day of the scenario"),
            "name the scenario that the table's plan was made for",
        );
    }
}

/// What is recorded in the scenario must be in the table, too: else nobody could say which of them is meant.
fn left_out(cx: &mut Cx, scenario: &Scenario, named: &[[&str; 3]]) {
    let number = |text: &str| text.parse::<u32>().ok();
    for record in &scenario.done {
        let Some(kind) = scenario.boxes.get(record.kind.0) else {
            continue;
        };
        let (no, place) = (
            record.box_no.saturating_add(1),
            record.place.saturating_add(1),
        );
        let here = |[of, n, p]: &[&str; 3]| {
            *of == kind.name && number(n) == Some(no) && number(p) == Some(place)
        };
        if !named.iter().any(here) {
            cx.error(
                "missing-key",
                At::top(),
                format!(
                    "no row of {} {no}, compartment {place}",
                    crate::reading::plain(&kind.name)
                ),
                "each compartment that is recorded in `done`, as the table says all that was done",
                "add its rows, with 0 for what was not done, or take it out of `done`",
            );
        }
    }
}

/// The colonies that got their queen, or are without the old one from now on.
fn requeened(cx: &mut Cx, loaded: &Loaded, rows: &[&Cells]) -> Vec<ColonyId> {
    let found = loaded
        .day
        .map(|day| loaded.queens.allotted(day, &loaded.rearing.intervals));
    let found = found.unwrap_or_default();
    let names = look::names(loaded);
    let mut out = Vec::new();
    for row in rows {
        let (Some(to), from) = (row.text("to"), row.text("queen").unwrap_or("")) else {
            continue;
        };
        let wanted = loaded.queens.requeen.iter().zip(&found.colonies);
        let gets = wanted.filter_map(|(colony, gets)| {
            let name = &loaded.scenario.colonies.get(colony.colony.0)?.name;
            (name == to).then_some((colony.colony, gets.as_ref()?.queen))
        });
        let gets = gets.into_iter().next();
        let entry = |queen| {
            loaded
                .queens
                .stand
                .get(queen)
                .map(|queen: &QueenStands| queen.entry)
        };
        let meant = look::meant(&names, from);
        match gets {
            Some((colony, queen)) if meant.is_some() && entry(queen) == meant => out.push(colony),
            Some(_) => cx.error(
                "wrong-type",
                row.place("queen"),
                format!("another queen than that of the plan in row {}", row.number),
                "the compartment that the plan names",
                "put it back, or remove the row and say in the scenario which queen is where: `requeened`, `standing`",
            ),
            None => cx.error(
                "unknown-name",
                row.place("to"),
                format!("`{}` in row {}, column `to colony`", crate::reading::plain(to), row.number),
                "a colony of `requeen` that gets a queen by the plan",
                "correct the name, or remove the row",
            ),
        }
    }
    out
}
