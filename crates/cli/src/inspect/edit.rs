//! The text of a scenario with values changed in place; comments, order and all else stay.
//!
//! What it does is checked afterwards: the new text is parsed, and must be the old tree with the
//! changes made. So a way of writing that is not thought of here is refused, never spoilt.

use super::changes::{ColonyChange, FramesChange};
use super::layout::Layout;
use super::new::{New, added, entries_of, in_brackets, quoted, scalars};
use crate::reading::{Node, Value, word};

/// The new text.
pub(super) fn edit(text: &str, root: &Node, changes: &[ColonyChange]) -> String {
    let mut edits = Edits {
        layout: Layout(text),
        line_end: if text.contains("\r\n") { "\r\n" } else { "\n" },
        list: Vec::new(),
    };
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
                Some((key, node)) => edits.colony(key, node, change),
                None => added.push((quoted(&change.name), New::Map(entries_of(change)))),
            }
        }
        edits.map(colonies, &added, &[]);
    }
    edits.done()
}

fn entries<'n, 'a>(node: &'n Node<'a>) -> &'n [(Node<'a>, Node<'a>)] {
    match &node.value {
        Value::Map(entries) => entries,
        _ => &[],
    }
}

struct Edits<'a> {
    layout: Layout<'a>,
    line_end: &'static str,
    /// From, to, what stands there instead.
    list: Vec<(usize, usize, String)>,
}

impl Edits<'_> {
    fn put(&mut self, from: usize, to: usize, text: impl Into<String>) {
        self.list.push((from, to, text.into()));
    }

    fn done(mut self) -> String {
        self.list.sort_by_key(|(from, ..)| *from);
        let mut out = String::with_capacity(self.layout.0.len() + 1000);
        let mut at = 0;
        for (from, to, new) in &self.list {
            out.push_str(self.layout.0.get(at..*from).unwrap_or_default());
            out.push_str(new);
            at = at.max(*to);
        }
        out.push_str(self.layout.0.get(at..).unwrap_or_default());
        out
    }

    fn colony(&mut self, key: &Node, node: &Node, change: &ColonyChange) {
        if entries(node).is_empty() {
            let colon = self.layout.after_colon(key);
            let end = self.layout.end_of(node).max(colon);
            let new = New::Map(entries_of(change));
            self.put(colon, end, format!(" {}", new.inline()));
            return;
        }
        let mut set = scalars(&change.map);
        if let Some(frames) = &change.frames {
            match node.get("frames") {
                Some(list) => self.frames(list, frames),
                None => set.push(("frames".to_owned(), added(frames))),
            }
        }
        self.map(node, &set, &change.map.gone);
    }

    fn frames(&mut self, node: &Node, change: &FramesChange) {
        let Value::List(list) = &node.value else {
            return;
        };
        for (group, map) in &change.each {
            if let Some(node) = list.get(*group) {
                self.map(node, &scalars(map), &map.gone);
            }
        }
        let new: Vec<String> = change.added.iter().map(in_brackets).collect();
        let Some((first, last)) = list.first().zip(list.last()) else {
            // Brackets with nothing in them.
            let inside = node.at.start as usize + 1;
            self.put(inside, inside, new.join(", "));
            return;
        };
        let end = self.layout.end_of(last);
        if self.layout.is_flow(node) {
            let kept = change.keep.checked_sub(1).and_then(|i| list.get(i));
            let kept_end = kept.map_or(end, |kept| self.layout.end_of(kept));
            let between = self.layout.0.get(kept_end..end).unwrap_or_default();
            if between.contains('#') {
                for entry in list.iter().skip(change.keep) {
                    self.out_with_comma(entry.at.start as usize, self.layout.end_of(entry));
                }
                return;
            }
            let new: String = new.iter().map(|entry| format!(", {entry}")).collect();
            self.put(kept_end, end, new);
            return;
        }
        for entry in list.iter().skip(change.keep) {
            let start = self.layout.dash(entry.at.start as usize);
            self.line_out(start, self.layout.end_of(entry));
        }
        let dash = self.layout.dash(first.at.start as usize);
        let indent = " ".repeat(dash - self.layout.line_start(dash));
        let at = self.layout.line_end(end);
        for entry in new {
            self.put(at, at, format!("{}{indent}- {entry}", self.line_end));
        }
    }

    /// Takes out whole lines, with the line end before them, so that no empty line is left.
    fn line_out(&mut self, start: usize, end: usize) {
        let start = self.layout.line_start(start);
        let before = self.layout.0.get(..start).unwrap_or_default();
        let start = before
            .strip_suffix('\n')
            .map_or(start, |rest| rest.strip_suffix('\r').unwrap_or(rest).len());
        self.put(start, self.layout.line_end(end), "");
    }

    /// Sets and removes keys of a map.
    fn map(&mut self, node: &Node, set: &[(String, New)], gone: &[&str]) {
        let there = entries(node);
        let Some(((first, _), (last_key, last))) = there.first().zip(there.last()) else {
            let new = set
                .iter()
                .map(|(key, new)| format!("{key}: {}", new.inline()));
            let inside = node.at.start as usize + 1;
            self.put(inside, inside, new.collect::<Vec<_>>().join(", "));
            return;
        };
        let stays = |key: &Node| !gone.contains(&word(key));
        let known = |key: &str| there.iter().any(|(k, _)| word(k) == key && stays(k));
        let flow = self.layout.is_flow(node);
        for (key, value) in there.iter().filter(|(key, _)| stays(key)) {
            if let Some((_, new)) = set.iter().find(|(k, _)| k == word(key)) {
                self.value(key, value, new);
            }
        }
        let fresh: Vec<_> = set.iter().filter(|(key, _)| !known(key)).collect();
        let inline: Vec<_> = fresh
            .iter()
            .map(|(key, new)| format!("{key}: {}", new.inline()))
            .collect();
        let end = self
            .layout
            .end_of(last)
            .max(self.layout.after_colon(last_key));
        let dashed = !flow && self.layout.dash_before(first);
        let blanks = (first.at.column as usize).saturating_sub(1);
        let mut lines = Vec::new();
        for (key, new) in &fresh {
            new.lines(key, blanks, &mut lines);
        }
        let Some((kept_key, kept)) = there.iter().rev().find(|(key, _)| stays(key)) else {
            // Nothing stays: what is new takes the place of all.
            let text = match (flow, dashed) {
                (true, _) => inline.join(", "),
                (false, true) => format!("{{{}}}", inline.join(", ")),
                (false, false) => lines.join(self.line_end).trim_start().to_owned(),
            };
            self.put(first.at.start as usize, end, text);
            return;
        };
        let kept_end = self
            .layout
            .end_of(kept)
            .max(self.layout.after_colon(kept_key));
        if flow {
            self.out_of_brackets(there, &stays, kept_end);
            let new: String = inline.iter().map(|new| format!(", {new}")).collect();
            self.put(kept_end, kept_end, new);
            return;
        }
        self.out_of_lines(there, &stays, dashed);
        let mut at = self.layout.line_end(kept_end);
        if fresh.iter().any(|(_, new)| matches!(new, New::Map(_))) {
            // A colony comes behind what is said at the end of the one before it.
            at = self.layout.behind_comments(at, blanks);
        }
        for line in lines {
            self.put(at, at, format!("{}{line}", self.line_end));
        }
    }

    /// Takes entries out of brackets; what is said beside others stays.
    fn out_of_brackets(
        &mut self,
        there: &[(Node, Node)],
        stays: &impl Fn(&Node) -> bool,
        kept_end: usize,
    ) {
        for (i, (key, value)) in there.iter().enumerate() {
            if stays(key) {
                continue;
            }
            let start = key.at.start as usize;
            let end = self.layout.end_of(value).max(self.layout.after_colon(key));
            let behind = there.iter().skip(i + 1).any(|(key, _)| stays(key));
            let between = self.layout.0.get(kept_end..start).unwrap_or_default();
            if !behind && !between.contains('#') {
                self.put(kept_end, end, "");
                continue;
            }
            self.out_with_comma(start, end);
        }
    }

    /// Takes an entry out of brackets, with the comma behind it.
    fn out_with_comma(&mut self, start: usize, end: usize) {
        let rest = self.layout.0.get(end..).unwrap_or_default();
        let comma = rest.trim_start().strip_prefix(',');
        let after = comma.map_or(rest, |rest| rest.trim_start_matches(' '));
        // Without a blank before it a comment is none.
        let blank = if after.starts_with('#') { " " } else { "" };
        self.put(start, end + (rest.len() - after.len()), blank);
    }

    /// Takes entries out, line by line; one behind a dash gives its place to the next.
    fn out_of_lines(
        &mut self,
        there: &[(Node, Node)],
        stays: &impl Fn(&Node) -> bool,
        dashed: bool,
    ) {
        let next = there.iter().position(|(key, _)| stays(key)).unwrap_or(0);
        let ends = there.first().zip(there.get(next));
        let place = |key: &Node| key.at.start as usize;
        let between = ends.map(|((first, _), (next, _))| (place(first), place(next)));
        let bare = |&(from, to): &(usize, usize)| {
            let between = self.layout.0.get(from..to).unwrap_or_default();
            dashed && from < to && !between.contains('#')
        };
        let moved = between.filter(bare);
        if let Some((from, to)) = moved {
            self.put(from, to, "");
        }
        let done = if moved.is_some() { next } else { 0 };
        for (i, (key, value)) in there.iter().enumerate().skip(done) {
            if stays(key) {
                continue;
            }
            let end = self.layout.end_of(value).max(self.layout.after_colon(key));
            match dashed && i == 0 {
                true => self.put(place(key), end, ""),
                false => self.line_out(place(key), end),
            }
        }
    }

    fn value(&mut self, key: &Node, value: &Node, new: &New) {
        let colon = self.layout.after_colon(key);
        let (start, end) = (value.at.start as usize, self.layout.end_of(value));
        match start >= colon && end > start {
            true => self.put(start, end, new.inline()),
            // Nothing stood there.
            false => self.put(colon, colon, format!(" {}", new.inline())),
        }
    }
}
