//! The reader over the tree: looks values up and collects findings.

use super::fields::{Field, Section};
use super::finding::{Finding, Severity, bad, plain};
use super::names::{Names, meant_key, near};
use super::tree::{At, Node, Value};

/// Most findings kept (a choice): nobody reads more, and a file of noise would fill the memory.
const MOST_FINDINGS: usize = 200;
/// Longest name (a choice: longer ones fit no line of a plan).
const MOST_CHARACTERS: usize = 200;

/// Most names listed in a finding (a choice: what fits a line).
const MOST_LISTED: usize = 12;

pub(crate) struct Cx {
    pub findings: Vec<Finding>,
    path: String,
    /// Every section of the format, to say where a misplaced key belongs.
    sections: &'static [&'static Section],
}

impl Cx {
    pub fn new(path: &str, sections: &'static [&'static Section]) -> Self {
        Self {
            findings: Vec::new(),
            path: path.to_owned(),
            sections,
        }
    }

    /// Adds a finding. Where there are enough, an error stands instead of a warning, so that no
    /// error is lost behind odd things.
    pub fn add(&mut self, finding: Finding) {
        if self.full() && finding.severity == Severity::Error {
            let warning = |f: &Finding| f.severity == Severity::Warning;
            if let Some(last) = self.findings.iter().rposition(warning) {
                self.findings.remove(last);
            }
        }
        if !self.full() {
            self.findings.push(finding);
        }
    }

    /// Adds what was found elsewhere, as found here.
    pub fn as_found(&mut self, other: &Finding, at: At, found: String) {
        self.push(
            other.code,
            other.severity,
            at,
            found,
            other.expected.clone(),
            other.way_out.clone(),
        );
    }

    /// Whether there is an error so far.
    pub fn failed(&self) -> bool {
        self.findings.iter().any(|f| f.severity == Severity::Error)
    }
    fn full(&self) -> bool {
        self.findings.len() >= MOST_FINDINGS
    }
    fn push(
        &mut self,
        code: &'static str,
        severity: Severity,
        at: At,
        found: String,
        expected: String,
        way_out: String,
    ) {
        let path = self.path.clone();
        self.add(Finding {
            code,
            severity,
            path,
            line: at.line as usize,
            column: at.column as usize,
            span: at.start as usize..at.end as usize,
            found,
            expected,
            way_out,
        });
    }
    pub fn error(
        &mut self,
        code: &'static str,
        at: At,
        found: impl Into<String>,
        expected: impl Into<String>,
        way_out: impl Into<String>,
    ) {
        self.push(
            code,
            Severity::Error,
            at,
            found.into(),
            expected.into(),
            way_out.into(),
        );
    }
    pub fn warn(
        &mut self,
        code: &'static str,
        at: At,
        found: impl Into<String>,
        expected: impl Into<String>,
        way_out: impl Into<String>,
    ) {
        self.push(
            code,
            Severity::Warning,
            at,
            found.into(),
            expected.into(),
            way_out.into(),
        );
    }

    /// The entries of a section, with unknown and missing keys found.
    pub fn map<'a>(&mut self, node: &'a Node<'a>, section: &'static Section) -> Option<Map<'a>> {
        if let (true, Some(way_out)) = (
            matches!(node.value, Value::Scalar { .. }),
            nothing(section, word(node)),
        ) {
            self.error(
                "wrong-type",
                node.at,
                describe(node),
                "a map of `key: value`",
                way_out,
            );
            return None;
        }
        let entries = self.entries(node)?;
        for (key, _) in entries {
            if self.full() {
                break;
            }
            let name = word(key);
            if !section.fields.iter().any(|f| f.key == name) {
                self.unknown_key(key.at, name, section);
            }
        }
        let map = Map {
            at: node.at,
            entries,
            fields: section.fields,
        };
        // A key that is there but misspelt is found once.
        let misspelt = |f: &Field| {
            let names = entries.iter().take(100).map(|(key, _)| word(key));
            let mut unknown = names.filter(|n| !section.fields.iter().any(|f| f.key == *n));
            unknown.any(|name| {
                near(name, std::iter::once(f.key), 3).is_some()
                    || meant_key(section.name, name) == Some(f.key)
            })
        };
        for f in section.fields {
            if f.required() && map.get(f.key).is_none() && !misspelt(f) {
                self.error(
                    "missing-key",
                    node.at,
                    format!("no `{}`", f.key),
                    format!("`{}`: {}", f.key, f.meaning),
                    format!("add `{}:`", f.key),
                );
            }
        }
        Some(map)
    }

    /// Finds that a section has no such key.
    pub fn unknown_key(&mut self, at: At, name: &str, section: &Section) {
        let known: Vec<&str> = section.fields.iter().map(|f| f.key).collect();
        let comma = name.starts_with(|c: char| c.is_ascii_digit());
        let help = blank_lacks(name, &known)
            .or_else(|| meant_key(section.name, name).map(|key| format!("did you mean `{key}`?")))
            .or_else(|| near(name, known.iter().copied(), 1))
            .or_else(|| self.home(name))
            .or_else(|| near(name, known.iter().copied(), 3))
            .or_else(|| {
                comma.then(|| "in `{ }` a comma ends a value: write `6.5` and `20_000`".into())
            })
            .unwrap_or_else(|| "remove it".into());
        self.error(
            "unknown-key",
            at,
            format!("`{}`", cut(name)),
            format!("one of {}", known.join(", ")),
            help,
        );
    }

    /// Where a key of another section belongs: `a substitute`, `an entry of `gone``.
    fn home(&self, name: &str) -> Option<String> {
        let has = |s: &&&Section| s.fields.iter().any(|f| f.key == name);
        let top = self.sections.first().map(|s| s.name);
        let place = |s: &&Section| match s.name {
            of if Some(of) == top => "the top of the file".to_owned(),
            of => part(of),
        };
        let homes: Vec<String> = self.sections.iter().filter(has).map(place).collect();
        let homes = match homes.as_slice() {
            [] => return None,
            [one] => one.clone(),
            [first @ .., last] => format!("{} or {last}", first.join(", ")),
        };
        Some(format!("`{name}` belongs to {homes}"))
    }

    pub fn entries<'a>(&mut self, node: &'a Node<'a>) -> Option<&'a [(Node<'a>, Node<'a>)]> {
        if let Value::Map(m) = &node.value {
            return Some(m);
        }
        self.error(
            "wrong-type",
            node.at,
            describe(node),
            "a map of `key: value`",
            match node.value {
                Value::List(_) => "write keys and values, without `- ` or `[ ]`",
                _ => "write keys and values, as `{key: value, key: value}`",
            },
        );
        None
    }
    pub fn list<'a>(&mut self, node: &'a Node<'a>) -> &'a [Node<'a>] {
        if let Value::List(l) = &node.value {
            if l.is_empty() {
                self.error(
                    "empty",
                    node.at,
                    "an empty list",
                    "at least one entry",
                    "add an entry or remove the key",
                );
            }
            return l;
        }
        self.error(
            "wrong-type",
            node.at,
            describe(node),
            "a list",
            "begin each entry with `- `",
        );
        &[]
    }
    /// A list in which nothing means that there is none.
    pub fn list_or_none<'a>(&mut self, node: &'a Node<'a>) -> &'a [Node<'a>] {
        match &node.value {
            Value::List(list) if list.is_empty() => &[],
            _ => self.list(node),
        }
    }
    /// A name or short text; at most 200 characters.
    pub fn name(&mut self, node: &Node) -> String {
        let text = self.prose(node);
        if text.chars().count() <= MOST_CHARACTERS {
            return text;
        }
        self.error(
            "out-of-range",
            node.at,
            format!("a text over {MOST_CHARACTERS} characters"),
            format!("at most {MOST_CHARACTERS}"),
            "shorten it",
        );
        text.chars().take(MOST_CHARACTERS).collect()
    }
    /// A text as long as the file may be.
    pub fn prose(&mut self, node: &Node) -> String {
        let Value::Scalar { text, .. } = &node.value else {
            self.error(
                "wrong-type",
                node.at,
                describe(node),
                "text",
                "write plain text",
            );
            return String::new();
        };
        if text.trim().is_empty() {
            self.error(
                "empty",
                node.at,
                "an empty text",
                "a name or text",
                "fill it in",
            );
        } else if text.chars().any(bad) {
            self.error(
                "control-character",
                node.at,
                "a control character",
                "printable text",
                "retype the text",
            );
        }
        text.to_string()
    }
    /// Index of a name among the known.
    pub fn find(&mut self, node: &Node, what: &str, known: &Names) -> Option<usize> {
        let name = word(node);
        let at = known.get(name);
        if at.is_none() && !self.full() {
            let list: Vec<&str> = known.list().iter().map(String::as_str).collect();
            self.unknown_name(node.at, (name, &describe(node)), what, &list);
        }
        at
    }
    /// Finds that a name is none of the known.
    pub fn unknown_name(&mut self, at: At, (name, found): (&str, &str), what: &str, list: &[&str]) {
        let help = near(name, list.iter().copied(), 3).unwrap_or_else(|| match what {
            "comb" => "name one of them, or describe it at the top: `combs: {ours: {area: 9.4 dm2}}`".into(),
            "role" => "name one of them, or describe it at the top: `roles: {lender: {draw: {frames: 4}}}`".into(),
            _ => format!("name a {what} of the file"),
        });
        let expected = match list.len() {
            0 => format!("a {what}, and the file has none"),
            n if n <= MOST_LISTED => format!("a known {what}: {}", plain(&list.join(", "))),
            _ => format!("a known {what}"),
        };
        self.error("unknown-name", at, found, expected, help);
    }
    /// Whether so many are too many.
    pub fn too_many(&mut self, at: At, count: usize, what: &str, most: usize) -> bool {
        if count > most {
            self.error(
                "out-of-range",
                at,
                format!("{count} {what}"),
                format!("at most {most}"),
                "join those that are alike",
            );
        }
        count > most
    }
}

pub(crate) struct Map<'a> {
    pub at: At,
    pub entries: &'a [(Node<'a>, Node<'a>)],
    fields: &'static [Field],
}
impl<'a> Map<'a> {
    /// A key that is there, with its field.
    pub(super) fn with_field(&self, key: &str) -> Option<(&'a Node<'a>, &'static Field)> {
        let field = self.fields.iter().find(|f| f.key == key)?;
        Some((self.get(key)?, field))
    }
    pub fn get(&self, key: &str) -> Option<&'a Node<'a>> {
        self.entries
            .iter()
            .find(|(k, _)| word(k) == key)
            .map(|(_, v)| v)
    }
}

/// The text of a scalar, or nothing.
pub(crate) fn word<'a>(node: &'a Node) -> &'a str {
    if let Value::Scalar { text, .. } = &node.value {
        text
    } else {
        ""
    }
}
/// A value in a few words.
pub(crate) fn describe(node: &Node) -> String {
    match &node.value {
        Value::Scalar { text, plain: true } if text.is_empty() || text == "~" => "nothing".into(),
        Value::Scalar { text, .. } => format!("`{}`", cut(text)),
        Value::List(_) => "a list".into(),
        Value::Map(_) => "a map".into(),
    }
}

/// The way out for a section of which it is said that there is nothing in it.
fn nothing(section: &Section, word: &str) -> Option<&'static str> {
    match (section.name, word) {
        ("draw", "none" | "nothing" | "no" | "0") => Some(
            "to take nothing, write `draw: {frames: 0, bees: 0}`, or `hold:` with the reason; without caps leave `draw` out",
        ),
        ("keep", "none" | "nothing" | "no" | "0") => Some(
            "for no floor of its own leave `keep` out; to take the colony apart write `draw: all`",
        ),
        _ => None,
    }
}

/// A key that stands close to its value, as `brood:3.5` in brackets.
fn blank_lacks(name: &str, known: &[&str]) -> Option<String> {
    let (key, value) = name.split_once(':')?;
    let lacks = known.contains(&key) && !value.is_empty();
    lacks.then(|| format!("write a blank behind the colon: `{key}: {}`", cut(value)))
}

/// A section as it is spoken of.
fn part(section: &str) -> String {
    match section {
        "event" => "an entry of `since`".to_owned(),
        "batch" => "an entry of `cells`".to_owned(),
        "taken" => "a frame in `done`".to_owned(),
        "gone" | "standing" | "requeen" | "done" => format!("an entry of `{section}`"),
        "settings" | "prices" | "keep" | "draw" | "again" | "rearing" | "intervals" => {
            format!("`{section}`")
        }
        of => format!("a {of}"),
    }
}

/// The beginning of a text, enough to recognise it.
fn cut(text: &str) -> String {
    plain(&text.chars().take(60).collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_is_kept_however_many_warnings_come_before_it() {
        let mut cx = Cx::new("yard.yaml", &[]);
        let root = crate::reading::parse(&mut cx, "a: 1", ("a scenario", "x"));
        let at = root.expect("a map").at;
        for _ in 0..MOST_FINDINGS + 50 {
            cx.warn("unused-name", at, "a", "b", "c");
        }
        assert!(!cx.failed());
        cx.error("unknown-key", at, "a", "b", "c");
        assert!(cx.failed());
        assert_eq!(cx.findings.len(), MOST_FINDINGS);
    }
}
