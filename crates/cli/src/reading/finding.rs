//! A finding and how it is shown.

use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use std::ops::Range;

/// Whether a finding stops the reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Severity {
    /// The file cannot be used.
    Error,
    /// The file can be used; something looks wrong.
    Warning,
}

/// Every code with one line on what it means; docs/findings.md has a section for each.
pub const CODES: &[(&str, &str)] = &[
    (
        "too-large",
        "the file or its structure is larger than the limits",
    ),
    ("encoding", "the file is not UTF-8 or holds a NUL byte"),
    ("yaml", "the file is not well-formed YAML"),
    (
        "duplicate-key",
        "a name stands twice where it may stand once",
    ),
    ("unknown-key", "a key is not part of the format"),
    ("missing-key", "a required key is missing"),
    ("wrong-type", "a value is of the wrong kind"),
    ("out-of-range", "a quantity lies outside its range"),
    ("unknown-name", "a name refers to nothing in the file"),
    (
        "control-character",
        "a name or text holds a control character",
    ),
    ("empty", "a list, map or name is empty"),
    ("frame-overfull", "brood and stores exceed the drawn comb"),
    ("two-readings", "one thing is said in two ways"),
    ("two-meanings", "a figure may mean either of two things"),
    ("impossible-line", "no frame can ever meet a recipe line"),
    (
        "brood-by-accident",
        "frames with brood could serve a line that does not ask for brood",
    ),
    (
        "stores-by-accident",
        "full combs of stores could serve a line that asks for drawn comb",
    ),
    (
        "brood-uncovered",
        "the fewest bees of a recipe do not cover the brood that it asks for",
    ),
    (
        "no-frame-fits",
        "no frame at hand meets a recipe line or a substitute",
    ),
    (
        "too-many-frames",
        "more frames are counted than there are or fit",
    ),
    (
        "more-than-laid",
        "more brood is counted in a colony than a queen lays",
    ),
    (
        "more-than-a-hive",
        "more bees or stores are counted than a hive or a box holds",
    ),
    ("keep-above", "a colony's own floor is above what it has"),
    (
        "set-aside",
        "a role states floors and lets its colonies be taken apart whole",
    ),
    ("no-limits", "a colony kept for honey may give everything"),
    (
        "hold-without-reason",
        "a colony is on hold without a reason",
    ),
    (
        "dates-without-day",
        "days are given without a stocking day to count from",
    ),
    (
        "rearing-without-day",
        "days of rearing are given without a stocking day",
    ),
    (
        "old-count",
        "colonies were counted long before the stocking day",
    ),
    ("flow-over", "a flow has ended before the stocking day"),
    (
        "dates-order",
        "a day stands before one that it cannot come before",
    ),
    (
        "missing-distance",
        "the distance between two sites is missing",
    ),
    (
        "no-cells",
        "you count cells and have none for a kind of box",
    ),
    (
        "no-boxes",
        "a kind of box has a count of 0, or cells are for such kinds alone",
    ),
    (
        "two-distances",
        "a stated distance is not what the coordinates say",
    ),
    ("far-apart", "two sites lie further apart than a drive"),
    (
        "meaning-changed",
        "a key means something else than in the version of the format that the file names",
    ),
    ("unused-name", "something is defined and used by nothing"),
    (
        "not-to-take",
        "what is recorded as done, today or since a count, cannot have been taken",
    ),
    (
        "frames-misplaced",
        "frames recorded as done are not what the recipe asks for",
    ),
    (
        "no-next-cell",
        "a next cell is wanted, or something done, where there is none to be",
    ),
    (
        "queen-in-the-way",
        "a next cell is wanted where a queen or a cell is in",
    ),
    (
        "not-to-requeen",
        "a colony is to get a queen that is left untouched or taken apart",
    ),
    (
        "round-too-soon",
        "a round of the season is days before the boxes of an earlier one are free",
    ),
    (
        "want-too-soon",
        "something is wanted before any queen of the season can be ready",
    ),
    (
        "more-than-made",
        "more is wanted of a season than its boxes can ever hold",
    ),
];

/// Something the reader found in a scenario or a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// One of [`CODES`].
    pub code: &'static str,
    /// Error or warning.
    pub severity: Severity,
    /// File label.
    pub path: String,
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1.
    pub column: usize,
    /// Bytes of the source.
    pub span: Range<usize>,
    /// What was found.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// What to do.
    pub way_out: String,
}

/// Tabs become spaces, other control and direction-changing characters `?`.
pub(crate) fn plain(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\t' => ' ',
            c if bad(c) => '?',
            c => c,
        })
        .collect()
}

/// A text with characters that must not reach a terminal written as in `\n` and `\u{1b}`, so that none is lost.
pub(crate) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match bad(c) {
            true => out.extend(c.escape_default()),
            false => out.push(c),
        }
    }
    out
}

/// A character that must not reach a terminal.
pub(crate) fn bad(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{2028}' | '\u{2029}' | '\u{feff}')
}

/// Fewest columns that prose is wrapped to.
const LEAST: usize = 20;

impl Finding {
    /// Shows the finding with its line of `source`. Safe for a terminal.
    #[must_use]
    pub fn render(&self, source: &str, color: bool) -> String {
        self.render_within(source, color, None)
    }

    /// The same on a terminal of so many columns: the way out goes on in further lines.
    #[must_use]
    pub fn render_within(&self, source: &str, color: bool, width: Option<usize>) -> String {
        let level = match self.severity {
            Severity::Error => Level::ERROR,
            Severity::Warning => Level::WARNING,
        };
        let title = format!("found {}", plain(&self.found));
        let at = floor(source, self.span.start);
        let start = source
            .get(..at)
            .and_then(|s| s.rfind('\n'))
            .map_or(0, |i| i + 1);
        let rest = source.get(start..).unwrap_or_default();
        let line = rest.split('\n').next().unwrap_or_default();
        // Long lines are cut round the place; the caret is kept inside.
        let off = at - start;
        let from = floor(line, off.saturating_sub(80));
        let to = floor(line, (off + 120).min(line.len()));
        let before = plain(line.get(from..off).unwrap_or_default());
        let end = self.span.end.max(at).saturating_sub(start).min(to).max(off);
        let end = floor(line, end).max(off);
        let mark = plain(line.get(off..end).unwrap_or_default());
        let after = plain(line.get(end..to).unwrap_or_default());
        let shown = format!("{before}{mark}{after}");
        let span = before.len()..(before.len() + mark.len());
        // What stands before it: `   = help: `, and the digits of the line.
        let before_help = 9 + self.line.max(1).to_string().len();
        let way_out = match width {
            None => plain(&self.way_out),
            Some(width) => {
                let options = textwrap::Options::new(width.saturating_sub(before_help).max(LEAST))
                    .word_splitter(textwrap::WordSplitter::NoHyphenation)
                    .break_words(false);
                textwrap::wrap(&plain(&self.way_out), options).join("\n")
            }
        };
        let report = [level
            .primary_title(title)
            .id(self.code)
            .element(
                Snippet::source(shown)
                    .line_start(self.line.max(1))
                    .fold(false)
                    .annotation(
                        AnnotationKind::Primary
                            .span(span)
                            .label(format!("expected {}", plain(&self.expected))),
                    ),
            )
            .element(Level::HELP.message(way_out))];
        let renderer = if color {
            Renderer::styled()
        } else {
            Renderer::plain()
        };
        let place = format!("{}:{}:{}", plain(&self.path), self.line, self.column);
        format!("{place}\n{}\n", renderer.render(&report))
    }
}

fn floor(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}
