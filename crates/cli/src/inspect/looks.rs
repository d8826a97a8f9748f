//! Rows of a table that are about compartments that stand.

use super::table::{Row, Table};
use super::{Inspected, START};
use crate::look::{Look, meant, names, not_seen, put_in as look_in, said, unknown};
use crate::reading::{Cx, Node, parse};
use crate::scenario::{Loaded, SECTIONS, read};

/// The rows, with how the compartments are called.
#[derive(Default)]
pub(super) struct Rows {
    rows: Vec<Row>,
    names: Vec<String>,
}

impl Rows {
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }
}

/// Takes the rows out of a table that name a compartment and no colony, or say what was seen.
pub(super) fn part(table: &mut Table, (label, scenario): (&str, &[u8]), root: &Node) -> Rows {
    let seen = table.rows.iter().any(|row| row.seen.is_some());
    if !seen && root.get("standing").is_none() {
        return Rows::default();
    }
    let loaded = read(label, scenario).loaded;
    let names = loaded.as_ref().map_or_else(Vec::new, names);
    let colony = |row: &Row| {
        root.get("colonies")
            .is_some_and(|all| all.get(&row.colony).is_some())
    };
    let of_compartment =
        |row: &Row| !colony(row) && (row.seen.is_some() || meant(&names, &row.colony).is_some());
    let all = std::mem::take(&mut table.rows);
    let (rows, others) = all.into_iter().partition(of_compartment);
    table.rows = others;
    Rows { rows, names }
}

/// Puts what was seen into the text that has the colonies of the table in it.
pub(super) fn put_in(cx: &mut Cx, out: &mut Inspected, label: &str, seen: &Rows) {
    let Some(text) = out.changed_text.take() else {
        return;
    };
    let mut before = Cx::new(label, SECTIONS);
    let root = parse(&mut before, &text, START);
    let loaded = read(label, text.as_bytes()).loaded;
    if let (Some(root), Some(loaded)) = (root, loaded) {
        let looks: Vec<Look> = seen
            .rows
            .iter()
            .filter_map(|row| look(cx, row, &seen.names, &loaded))
            .collect();
        let (new, [changed, gone]) = look_in(cx, (&text, &root), &loaded, &looks);
        out.changed.extend(changed);
        out.gone.extend(gone);
        out.changed_text = new;
    } else {
        out.changed_text = Some(text);
    }
}

fn look(cx: &mut Cx, row: &Row, names: &[String], loaded: &Loaded) -> Option<Look> {
    let Some(entry) = meant(names, &row.colony) else {
        unknown(cx, row.at, &row.colony, names);
        return None;
    };
    let seen = match &row.seen {
        Some((word, at)) => {
            let seen = said(word);
            if seen.is_none() {
                not_seen(cx, *at, word);
            }
            Some(seen?)
        }
        None => None,
    };
    let mut look = Look {
        entry,
        seen,
        bees: None,
        brood: None,
        day: loaded.day?,
    };
    for given in row.of_colony.iter().chain(&row.of_frame) {
        let Some(value) = &given.value else { continue };
        let figure = Some((value.text.clone(), given.at));
        let of_colony = row.of_colony.iter().any(|other| std::ptr::eq(other, given));
        match given.key {
            "bees" if of_colony => look.bees = figure,
            "brood" if of_colony => look.brood = figure,
            "counted" => match value.text.parse() {
                Ok(day) if day <= look.day => look.day = day,
                _ => cx.error(
                    "wrong-type",
                    given.at,
                    format!("`{}` in row {}, column `counted`", value.text, row.number),
                    format!("a day such as {}, not after it", look.day),
                    "correct the day",
                ),
            },
            key => cx.error(
                "unknown-key",
                given.at,
                format!("`{key}` of a compartment in row {}", row.number),
                "what was seen in it, `counted`, and with a row for each colony `bees` and `brood`",
                "empty the cell; other figures go into `standing` in the scenario",
            ),
        }
    }
    Some(look)
}
