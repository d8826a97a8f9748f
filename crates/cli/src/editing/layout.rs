//! Where things stand in the text of a scenario.

use crate::reading::{Node, Value};

/// The text, asked for places in it.
#[derive(Clone, Copy)]
pub(crate) struct Layout<'a>(pub(crate) &'a str);

impl Layout<'_> {
    /// The dash of an entry that begins at a place.
    pub(crate) fn dash(&self, at: usize) -> usize {
        let before = self.0.get(..at).unwrap_or_default();
        let mut end = before.len();
        for line in before.rsplit('\n') {
            let start = end - line.len();
            let inner = line.trim_start();
            if inner.starts_with('-') {
                return start + (line.len() - inner.len());
            }
            end = start.saturating_sub(1);
            if !(inner.is_empty() || inner.starts_with('#')) {
                break;
            }
        }
        self.line_start(at)
    }

    /// Behind comment lines that stand deeper in than so many blanks.
    pub(crate) fn behind_comments(&self, at: usize, blanks: usize) -> usize {
        let mut at = at;
        loop {
            let rest = self.0.get(at..).unwrap_or_default();
            let Some(next) = rest.find('\n').map(|i| at + i + 1) else {
                return at;
            };
            let line = self.0.get(next..self.line_end(next)).unwrap_or_default();
            let inner = line.trim_start();
            if !inner.starts_with('#') || line.len() - inner.len() <= blanks {
                return at;
            }
            at = self.line_end(next);
        }
    }

    /// Whether a list or map is in brackets.
    pub(crate) fn is_flow(&self, node: &Node) -> bool {
        let first = self.0.as_bytes().get(node.at.start as usize);
        match node.value {
            // A list in lines may begin where its first entry does, with that entry's brace.
            Value::List(_) => first == Some(&b'['),
            _ => first == Some(&b'{'),
        }
    }

    /// Whether a key stands on the line of its entry's dash.
    pub(crate) fn dash_before(&self, key: &Node) -> bool {
        let start = key.at.start as usize;
        let line = self
            .0
            .get(self.line_start(start)..start)
            .unwrap_or_default();
        line.trim_start().starts_with('-')
    }

    /// Where the line of a place begins.
    pub(crate) fn line_start(&self, at: usize) -> usize {
        let before = self.0.get(..at).unwrap_or_default();
        before.rfind('\n').map_or(0, |i| i + 1)
    }

    /// Before the end of the line.
    pub(crate) fn line_end(&self, at: usize) -> usize {
        let rest = self.0.get(at..).unwrap_or_default();
        let line = rest.split('\n').next().unwrap_or_default();
        at + line.trim_end_matches('\r').len()
    }

    /// Behind the colon of a key.
    pub(crate) fn after_colon(&self, key: &Node) -> usize {
        let end = key.at.end as usize;
        let rest = self.0.get(end..).unwrap_or_default();
        rest.find(':').map_or(end, |i| end + i + 1)
    }

    /// Behind the last letter of a value.
    pub(crate) fn end_of(&self, node: &Node) -> usize {
        let inner = match &node.value {
            Value::Scalar { .. } => {
                let (start, end) = (node.at.start as usize, node.at.end as usize);
                let text = self.0.get(start..end).unwrap_or_default();
                return start + text.trim_end().len();
            }
            Value::List(list) => list.last().map(|last| self.end_of(last)),
            Value::Map(map) => map
                .last()
                .map(|(key, last)| self.end_of(last).max(self.after_colon(key))),
        };
        let start = node.at.start as usize;
        match self.is_flow(node) {
            true => self.bracket(inner.unwrap_or(start + 1)),
            false => inner.unwrap_or(start),
        }
    }

    /// Behind the bracket that closes, from behind the last entry on.
    fn bracket(&self, from: usize) -> usize {
        let rest = self.0.get(from..).unwrap_or_default();
        let mut comment = false;
        for (i, c) in rest.char_indices() {
            match c {
                '#' => comment = true,
                '\n' => comment = false,
                '}' | ']' if !comment => return from + i + 1,
                _ => {}
            }
        }
        self.0.len()
    }
}
