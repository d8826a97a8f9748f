//! The colonies of a scenario as such a table.

use super::columns::{By, GROUP, SEEN, in_a_cell};
use crate::look::{names, word_of};
use crate::output::share::defused;
use crate::reading::{
    Cx, Field, Finding, Kind, Node, Severity, Value, factor, parse, source, split, word,
};
use crate::scenario::{COLONY, FRAME, Loaded, SECTIONS, convert};
use csv::{Terminator, WriterBuilder};

/// A table of the colonies, and the names of those that are counted in the other way and so left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Written {
    /// The table, in lines as RFC 4180 has them.
    pub table: String,
    /// Colonies that are not in it.
    pub left_out: Vec<String>,
}

/// Columns that there always are; others where a colony has them.
const OF_COLONY: [&str; 9] = [
    "site",
    "role",
    "hold",
    "brood",
    "sealed",
    "stores",
    "empty",
    "foundation",
    "bees",
];
const OF_FRAME: [&str; 8] = [
    "count", "place", "brood", "sealed", "stores", "drawn", "bees", "queen",
];

/// Writes the colonies of a scenario as a table that [`inspect`](super::inspect) takes, with units in
/// the header. Without `by` it is a row for each frame group where a colony lists frames.
///
/// # Errors
/// What is wrong in the scenario.
pub fn table(label: &str, scenario: &[u8], by: Option<By>) -> Result<Written, Vec<Finding>> {
    let mut cx = Cx::new(label, SECTIONS);
    let text = source(&mut cx, scenario);
    let root = text.and_then(|text| parse(&mut cx, text, super::START));
    let loaded = root.as_ref().and_then(|root| convert(&mut cx, root));
    let errors = |f: &Finding| f.severity == Severity::Error;
    let (Some(root), false) = (root, cx.findings.iter().any(errors)) else {
        return Err(cx.findings);
    };
    let colonies = match root.get("colonies").map(|node| &node.value) {
        Some(Value::Map(entries)) => entries.as_slice(),
        _ => &[],
    };
    let by_frame = |node: &Node| node.get("frames").is_some();
    let by = by.unwrap_or(match colonies.iter().any(|(_, node)| by_frame(node)) {
        true => By::Frame,
        false => By::Colony,
    });
    let (here, others): (Vec<_>, Vec<_>) = colonies
        .iter()
        .partition(|(_, node)| by_frame(node) == (by == By::Frame));
    let here: Vec<(&str, &Node)> = here
        .into_iter()
        .map(|(key, node)| (word(key), node))
        .collect();
    let mut rows = match by {
        By::Colony => by_colony(&here),
        By::Frame => by_frames(&here),
    };
    if let Some(loaded) = &loaded {
        counted(&mut rows, loaded);
        standing(&mut rows, loaded);
    }
    Ok(Written {
        table: csv(&rows),
        left_out: others.iter().map(|(key, _)| word(key).to_owned()).collect(),
    })
}

/// A column with the day on which each colony was counted, where that is not the scenario's; a new count puts its own
/// day there.
fn counted(rows: &mut [Vec<String>], loaded: &Loaded) {
    if loaded.counts.iter().all(|count| count.earlier().is_none()) {
        return;
    }
    let Some((header, rows)) = rows.split_first_mut() else {
        return;
    };
    header.push(COUNTED.to_owned());
    let mut last = String::new();
    for row in rows {
        let name = row.first().cloned().unwrap_or_default();
        let colonies = &loaded.scenario.colonies;
        let at = colonies.iter().position(|colony| colony.name == name);
        let day = at.and_then(|at| loaded.counts.get(at)?.day);
        let day = day.filter(|_| name != last).map(|day| day.to_string());
        row.push(day.unwrap_or_default());
        last = name;
    }
}

/// A row for each compartment that stands, and a column for what is seen in it.
fn standing(rows: &mut Vec<Vec<String>>, loaded: &Loaded) {
    if loaded.standing.is_empty() {
        return;
    }
    for row in rows.iter_mut().skip(1) {
        row.push(String::new());
    }
    let Some(header) = rows.first_mut() else {
        return;
    };
    header.push(SEEN.to_owned());
    let columns = header.len();
    for (name, stands) in names(loaded).into_iter().zip(&loaded.standing) {
        let mut row = vec![String::new(); columns];
        if let (Some(first), true) = (row.first_mut(), columns > 1) {
            *first = name;
        }
        if let Some(last) = row.last_mut() {
            last.push_str(word_of(stands.queen));
        }
        rows.push(row);
    }
}

/// Its title.
const COUNTED: &str = "counted";

fn csv(rows: &[Vec<String>]) -> String {
    let mut writer = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .from_writer(Vec::new());
    for row in rows {
        // Memory does not refuse.
        let _ = writer.write_record(row.iter().map(|cell| defused(cell)));
    }
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}

/// Columns of a section that always are there or that something has.
fn columns(section: &'static [Field], always: &[&str], nodes: &[&Node]) -> Vec<&'static Field> {
    let used = |f: &&Field| {
        let has = || nodes.iter().any(|node| node.get(f.key).is_some());
        in_a_cell(f) && f.key != COUNTED && (always.contains(&f.key) || has())
    };
    section.iter().filter(used).collect()
}

/// The unit of a header, and its factor.
fn unit(kind: Kind) -> Option<&'static str> {
    match kind {
        Kind::Share => Some("%"),
        Kind::Combs => Some("combs"),
        Kind::Grams => Some("kg"),
        _ => None,
    }
}

fn title(field: &Field) -> String {
    if field.kind == Kind::Bees && field.key == "bees" {
        return "bees (frames)".to_owned();
    }
    match unit(field.kind) {
        Some(unit) => format!("{} ({unit})", field.key),
        None => field.key.to_owned(),
    }
}

/// A value in the unit of its header.
fn cell(node: &Node, field: &Field) -> String {
    let Some(text) = node.get(field.key).map(word) else {
        return String::new();
    };
    match (field.kind, field.key) {
        (Kind::Combs, _) => return combs_cell(text),
        (Kind::Bees, "bees") => return bees_cell(text),
        _ => {}
    }
    let Some(wanted) = unit(field.kind) else {
        return text.to_owned();
    };
    let number = split(text).and_then(|(value, own)| {
        let (from, to) = (factor(field.kind, own)?, factor(field.kind, wanted)?);
        // To twelve digits: a factor such as 0.01 is none that binary figures have.
        let value = value * from / to;
        Some((value * 1e9).round() / 1e9)
    });
    number.map_or_else(|| text.to_owned(), |number| number.to_string())
}

/// Combs as they are counted: a cell of its own unit says so, one without means combs.
fn combs_cell(text: &str) -> String {
    match split(text) {
        Some((number, "comb" | "combs")) => number.to_string(),
        Some((number, "")) => format!("{number} frames"),
        _ => text.to_owned(),
    }
}

/// Bees in frames of the header; as a number they say so.
fn bees_cell(text: &str) -> String {
    match split(text) {
        Some((number, "frame" | "frames")) => number.to_string(),
        Some((_, "")) => format!("{text} bees"),
        _ => text.to_owned(),
    }
}

fn by_colony(colonies: &[(&str, &Node)]) -> Vec<Vec<String>> {
    let nodes: Vec<&Node> = colonies.iter().map(|(_, node)| *node).collect();
    let columns = columns(COLONY.fields, &OF_COLONY, &nodes);
    let header = ["colony".to_owned()].into_iter();
    let mut rows = vec![header.chain(columns.iter().map(|f| title(f))).collect()];
    for (name, node) in colonies {
        let row = [(*name).to_owned()].into_iter();
        rows.push(row.chain(columns.iter().map(|f| cell(node, f))).collect());
    }
    rows
}

fn by_frames(colonies: &[(&str, &Node)]) -> Vec<Vec<String>> {
    let frames = |node: &'_ Node| -> usize {
        match node.get("frames").map(|node| &node.value) {
            Some(Value::List(list)) => list.len(),
            _ => 0,
        }
    };
    let list = |node: &Node, i: usize, field: &Field| -> String {
        match node.get("frames").map(|node| &node.value) {
            Some(Value::List(list)) => list.get(i).map_or(String::new(), |node| cell(node, field)),
            _ => String::new(),
        }
    };
    let used = |f: &&Field| {
        let some = |node: &Node| (0..frames(node)).any(|i| !list(node, i, f).is_empty());
        OF_FRAME.contains(&f.key) || colonies.iter().any(|(_, node)| some(node))
    };
    let columns: Vec<&Field> = FRAME.fields.iter().filter(used).collect();
    let extra = COLONY.fields.iter().find(|f| f.key == "extra bees");
    let extra = extra.filter(|f| colonies.iter().any(|(_, node)| node.get(f.key).is_some()));
    let header = ["colony", GROUP].map(str::to_owned).into_iter();
    let header = header.chain(columns.iter().map(|f| title(f)));
    let mut rows = vec![header.chain(extra.map(title)).collect()];
    for (name, node) in colonies {
        for i in 0..frames(node) {
            let row = [(*name).to_owned(), (i + 1).to_string()].into_iter();
            let row = row.chain(columns.iter().map(|f| list(node, i, f)));
            let of_colony = extra.map(|f| match i {
                0 => cell(node, f),
                _ => String::new(),
            });
            rows.push(row.chain(of_colony).collect());
        }
    }
    rows
}
