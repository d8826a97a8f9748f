//! The text of a scenario with the figures of a table in it.

use super::changes::{ColonyChange, FramesChange};
use super::new::{added, entries_of, in_brackets, scalars};
use crate::editing::{Edits, New, entries, quoted};
use crate::reading::{Node, Value, word};

/// The new text.
pub(super) fn edit(text: &str, root: &Node, changes: &[ColonyChange]) -> String {
    let mut edits = Edits::new(text);
    if let Some((_, colonies)) = entries(root)
        .iter()
        .find(|(key, _)| word(key) == "colonies")
    {
        let index: std::collections::BTreeMap<&str, &(Node, Node)> = entries(colonies)
            .iter()
            .map(|entry| (word(&entry.0), entry))
            .collect();
        let mut added = Vec::new();
        for change in changes {
            match index.get(change.name.as_str()) {
                Some((key, node)) => colony(&mut edits, key, node, change),
                None => added.push((quoted(&change.name), New::Map(entries_of(change)))),
            }
        }
        edits.map(colonies, &added, &[]);
    }
    edits.done()
}

fn colony(edits: &mut Edits, key: &Node, node: &Node, change: &ColonyChange) {
    if entries(node).is_empty() {
        let colon = edits.layout.after_colon(key);
        let end = edits.layout.end_of(node).max(colon);
        let new = New::Map(entries_of(change));
        edits.put(colon, end, format!(" {}", new.inline()));
        return;
    }
    let mut set = scalars(&change.map);
    if let Some(frames) = &change.frames {
        match node.get("frames") {
            Some(list) => self::frames(edits, list, frames),
            None => set.push(("frames".to_owned(), added(frames))),
        }
    }
    if let Some(since) = node.get("since").filter(|_| !change.since_out.is_empty()) {
        edits.out(since, &change.since_out);
    }
    edits.map(node, &set, &change.map.gone);
}

fn frames(edits: &mut Edits, node: &Node, change: &FramesChange) {
    let Value::List(list) = &node.value else {
        return;
    };
    for (group, map) in &change.each {
        if let Some(node) = list.get(*group) {
            edits.map(node, &scalars(map), &map.gone);
        }
    }
    let new: Vec<String> = change.added.iter().map(in_brackets).collect();
    let Some((first, last)) = list.first().zip(list.last()) else {
        // Brackets with nothing in them.
        let inside = node.at.start as usize + 1;
        edits.put(inside, inside, new.join(", "));
        return;
    };
    let end = edits.layout.end_of(last);
    if edits.layout.is_flow(node) {
        let kept = change.keep.checked_sub(1).and_then(|i| list.get(i));
        let kept_end = kept.map_or(end, |kept| edits.layout.end_of(kept));
        let between = edits.layout.0.get(kept_end..end).unwrap_or_default();
        if between.contains('#') {
            for entry in list.iter().skip(change.keep) {
                edits.out_with_comma(entry.at.start as usize, edits.layout.end_of(entry));
            }
            return;
        }
        let new: String = new.iter().map(|entry| format!(", {entry}")).collect();
        edits.put(kept_end, end, new);
        return;
    }
    for entry in list.iter().skip(change.keep) {
        let start = edits.layout.dash(entry.at.start as usize);
        edits.line_out(start, edits.layout.end_of(entry));
    }
    let dash = edits.layout.dash(first.at.start as usize);
    let indent = " ".repeat(dash - edits.layout.line_start(dash));
    let at = edits.layout.line_end(end);
    for entry in new {
        edits.put(at, at, format!("{}{indent}- {entry}", edits.line_end));
    }
}
