//! Texts beside the scenario's own: what was typed, and the file of alternatives. Their places
//! are counted behind the end of the scenario, so that a finding tells where it belongs.

use crate::reading::{At, Finding, Node, Value};

/// One text beside the scenario.
#[derive(Debug, Clone)]
pub(super) struct Piece<'a> {
    /// How findings name it.
    pub label: String,
    pub text: &'a str,
    /// Bytes before it.
    pub base: u32,
}

impl Piece<'_> {
    /// Where bytes of the text stand.
    pub fn at(&self, from: usize, to: usize) -> At {
        At::within(self.text, from, to).after(self.base)
    }

    /// Moves a place in the part of the text that begins at byte `from`.
    fn moved(&self, at: At, from: usize) -> At {
        let start = At::within(self.text, from, from);
        let column = if at.line <= 1 { start.column - 1 } else { 0 };
        At {
            line: at.line + start.line - 1,
            column: at.column + column,
            ..at.after(self.base)
                .after(u32::try_from(from).unwrap_or(u32::MAX))
        }
    }

    /// Moves every place of a value that was read from byte `from` of the text on.
    pub fn place(&self, node: &mut Node, from: usize) {
        node.at = self.moved(node.at, from);
        match &mut node.value {
            Value::Scalar { .. } => {}
            Value::List(list) => list.iter_mut().for_each(|node| self.place(node, from)),
            Value::Map(entries) => {
                for (key, value) in entries {
                    self.place(key, from);
                    self.place(value, from);
                }
            }
        }
    }

    /// Moves the place of a finding in the same way.
    pub fn place_finding(&self, finding: &mut Finding, from: usize) {
        let small = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        let at = At {
            line: small(finding.line),
            column: small(finding.column),
            start: small(finding.span.start),
            end: small(finding.span.end),
        };
        let at = self.moved(at, from);
        finding.line = at.line as usize;
        finding.column = at.column as usize;
        finding.span = at.start as usize..at.end as usize;
    }
}
