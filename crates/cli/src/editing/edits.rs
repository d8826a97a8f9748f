//! The text of a scenario with values changed in place; comments, order and all else stay.
//!
//! What it does is checked afterwards: the new text is parsed, and must be the old tree with the
//! changes made. So a way of writing that is not thought of here is refused, never spoilt.

use super::layout::Layout;
use super::new::New;
use crate::reading::{Node, Value, word};

/// The entries of a map; none where it is none.
pub(crate) fn entries<'n, 'a>(node: &'n Node<'a>) -> &'n [(Node<'a>, Node<'a>)] {
    match &node.value {
        Value::Map(entries) => entries,
        _ => &[],
    }
}

/// Changes of a text, collected and then made together.
pub(crate) struct Edits<'a> {
    pub layout: Layout<'a>,
    pub line_end: &'static str,
    /// From, to, what stands there instead.
    list: Vec<(usize, usize, String)>,
}

impl<'a> Edits<'a> {
    pub fn new(text: &'a str) -> Self {
        Self {
            layout: Layout(text),
            line_end: if text.contains("\r\n") { "\r\n" } else { "\n" },
            list: Vec::new(),
        }
    }

    /// Puts a text in the place of what stands there.
    pub fn put(&mut self, from: usize, to: usize, text: impl Into<String>) {
        self.list.push((from, to, text.into()));
    }

    /// The new text.
    pub fn done(mut self) -> String {
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

    /// Takes out whole lines, with the line end before them, so that no empty line is left.
    pub fn line_out(&mut self, start: usize, end: usize) {
        let start = self.layout.line_start(start);
        let before = self.layout.0.get(..start).unwrap_or_default();
        let start = before
            .strip_suffix('\n')
            .map_or(start, |rest| rest.strip_suffix('\r').unwrap_or(rest).len());
        self.put(start, self.layout.line_end(end), "");
    }

    /// Sets and removes keys of a map.
    pub fn map(&mut self, node: &Node, set: &[(String, New)], gone: &[&str]) {
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
    pub fn out_with_comma(&mut self, start: usize, end: usize) {
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

    /// Puts a value in the place of that of a key.
    pub fn value(&mut self, key: &Node, value: &Node, new: &New) {
        let colon = self.layout.after_colon(key);
        let (start, end) = (value.at.start as usize, self.layout.end_of(value));
        if let (New::List(new), Value::List(list)) = (new, &value.value)
            && let (Some(first), false) = (list.first(), self.layout.is_flow(value))
        {
            // Entries in lines stay entries in lines.
            let dash = self.layout.dash(first.at.start as usize);
            let mut lines = Vec::new();
            for entry in new {
                entry.item(dash - self.layout.line_start(dash), &mut lines);
            }
            let lines = lines.join(self.line_end);
            self.put(dash, end, lines.trim_start());
            return;
        }
        match start >= colon && end > start {
            true => self.put(start, end, new.inline()),
            // Nothing stood there.
            false => self.put(colon, colon, format!(" {}", new.inline())),
        }
    }
}

/// Lists, and keys in a place of their own.
impl Edits<'_> {
    /// Puts a new key behind another, with what is said on its line.
    pub fn behind(&mut self, (other, value): (&Node, &Node), map: &Node, (key, new): (&str, &New)) {
        let end = self
            .layout
            .end_of(value)
            .max(self.layout.after_colon(other));
        if self.layout.is_flow(map) {
            self.put(end, end, format!(", {key}: {}", new.inline()));
            return;
        }
        let at = self.layout.line_end(end);
        let mut lines = Vec::new();
        new.lines(
            key,
            (other.at.column as usize).saturating_sub(1),
            &mut lines,
        );
        for line in lines {
            self.put(at, at, format!("{}{line}", self.line_end));
        }
    }

    /// Puts entries to the end of a list that has some.
    pub fn more(&mut self, node: &Node, new: &[New]) {
        let Value::List(list) = &node.value else {
            return;
        };
        let Some((first, last)) = list.first().zip(list.last()) else {
            // Brackets with nothing in them.
            let inside = node.at.start as usize + 1;
            let new: Vec<_> = new.iter().map(New::inline).collect();
            self.put(inside, inside, new.join(", "));
            return;
        };
        let end = self.layout.end_of(last);
        if self.layout.is_flow(node) {
            let new: String = new
                .iter()
                .map(|new| format!(", {}", new.inline()))
                .collect();
            self.put(end, end, new);
            return;
        }
        let dash = self.layout.dash(first.at.start as usize);
        let blanks = dash - self.layout.line_start(dash);
        let at = self.layout.line_end(end);
        let mut lines = Vec::new();
        for entry in new {
            entry.item(blanks, &mut lines);
        }
        for line in lines {
            self.put(at, at, format!("{}{line}", self.line_end));
        }
    }

    /// Takes entries out of a list of which some stay.
    pub fn out(&mut self, node: &Node, gone: &[usize]) {
        let Value::List(list) = &node.value else {
            return;
        };
        let flow = self.layout.is_flow(node);
        let last = (0..list.len()).rev().find(|at| !gone.contains(at));
        for (at, entry) in list.iter().enumerate().filter(|(at, _)| gone.contains(at)) {
            let (start, end) = (entry.at.start as usize, self.layout.end_of(entry));
            match (flow, last) {
                (false, _) => self.line_out(self.layout.dash(start), end),
                (true, Some(last)) if at > last => {
                    // With the comma before it.
                    let before = list.get(at.saturating_sub(1));
                    let from = before.map_or(start, |before| self.layout.end_of(before));
                    self.put(from, end, "");
                }
                (true, _) => self.out_with_comma(start, end),
            }
        }
    }
}
