//! What is found in the changed scenario, told by row and column of the table.

use super::Inspected;
use super::changes::{ColonyChange, From};
use crate::reading::{At, Cx, Finding, Node, Severity, Value, word};
use std::collections::BTreeSet;

/// Findings in the colonies that the table changes go back to it, the others stay in the scenario.
pub(super) fn back(
    cx: &mut Cx,
    out: &mut Inspected,
    tree: &Node,
    changes: &[ColonyChange],
    findings: Vec<Finding>,
) {
    // What cannot be read was left out; what comes of that is no news.
    let wrong = |f: &&Finding| f.severity == Severity::Error;
    let wrong: BTreeSet<usize> = cx.findings.iter().filter(wrong).map(|f| f.line).collect();
    for finding in findings {
        match cell(tree, changes, finding.span.start) {
            Some((row, ..)) if wrong.contains(&(row as usize)) => {}
            Some((row, at, column)) => {
                let column = column.map_or(String::new(), |title| format!(", column `{title}`"));
                let found = format!("{} in row {row}{column}", finding.found);
                cx.as_found(&finding, at, found);
            }
            None => out.in_scenario.push(finding),
        }
    }
}

/// Row, place and column of what stands at a place of the scenario.
fn cell(tree: &Node, changes: &[ColonyChange], at: usize) -> Option<(u32, At, Option<String>)> {
    let Value::Map(top) = &tree.value else {
        return None;
    };
    let (key, colonies) = within(top, at)?;
    if key != "colonies" {
        return None;
    }
    let Value::Map(list) = &colonies.value else {
        return None;
    };
    let (name, colony) = within(list, at)?;
    let change = changes.iter().find(|change| change.name == name)?;
    let whole = |node: &Node| node.at.start as usize == at;
    let (false, Value::Map(keys)) = (whole(colony), &colony.value) else {
        return from(change, None, None);
    };
    let Some((key, value)) = within(keys, at) else {
        return from(change, None, None);
    };
    let Value::List(frames) = &value.value else {
        return from(change, None, Some(key));
    };
    let begins = |node: &Node| node.at.start as usize <= at;
    let Some(group) = frames.iter().rposition(begins) else {
        return from(change, None, Some(key));
    };
    let key = match frames.get(group).map(|node| &node.value) {
        Some(Value::Map(keys)) if !frames.get(group).is_some_and(whole) => {
            within(keys, at).map(|(key, _)| key)
        }
        _ => None,
    };
    from(change, Some(group), key)
}

/// The last entry that begins at or before a place.
fn within<'n, 'a>(
    entries: &'n [(Node<'a>, Node<'a>)],
    at: usize,
) -> Option<(&'n str, &'n Node<'a>)> {
    let begins = |(key, _): &&(Node, Node)| key.at.start as usize <= at;
    let (key, value) = entries.iter().rev().find(begins)?;
    Some((word(key), value))
}

fn from(
    change: &ColonyChange,
    group: Option<usize>,
    key: Option<&str>,
) -> Option<(u32, At, Option<String>)> {
    let of = |from: &&From| from.group == group;
    let cell = change.from.iter().filter(of).find_map(|from| {
        let (_, at, title) = from.cells.iter().find(|(known, ..)| Some(*known) == key)?;
        Some((from.row, *at, Some(title.clone())))
    });
    let row = || {
        let row = change.from.iter().find(of).or_else(|| change.from.first());
        row.map(|from| (from.row, from.at, None))
    };
    cell.or_else(row)
}
