//! The reader over the tree: looks values up and collects findings.

use super::fields::{Field, Kind, Section};
use super::finding::{Finding, Severity, bad, plain};
use super::text;
use super::tree::{At, Node, Value};

/// Most findings kept (a choice): nobody reads more, and a file of noise would fill the memory.
const MOST_FINDINGS: usize = 200;

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
        if !self.full() {
            let path = self.path.clone();
            self.findings.push(Finding {
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
        let entries = self.entries(node)?;
        for (key, _) in entries {
            if self.full() {
                break;
            }
            let name = word(key);
            if !section.fields.iter().any(|f| f.key == name) {
                self.unknown_key(key, name, section);
            }
        }
        let map = Map {
            at: node.at,
            entries,
            fields: section.fields,
        };
        for f in section.fields {
            if f.required() && map.get(f.key).is_none() {
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

    fn unknown_key(&mut self, key: &Node, name: &str, section: &Section) {
        let known: Vec<&str> = section.fields.iter().map(|f| f.key).collect();
        let has = |s: &&&Section| s.fields.iter().any(|f| f.key == name);
        let help = near(name, known.iter().copied())
            .or_else(|| {
                let home = self.sections.iter().find(has)?;
                Some(format!("`{name}` belongs to a {}", home.name))
            })
            .unwrap_or_else(|| "remove it".into());
        self.error(
            "unknown-key",
            key.at,
            format!("`{}`", cut(name)),
            format!("one of {}", known.join(", ")),
            help,
        );
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
            "write keys and values",
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
    pub fn name(&mut self, node: &Node) -> String {
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
        } else if text.chars().count() > 200 {
            self.error(
                "out-of-range",
                node.at,
                "a text over 200 characters",
                "at most 200",
                "shorten it",
            );
        }
        text.to_string()
    }
    pub fn flag(&mut self, node: Option<&Node>) -> bool {
        match node.map(|n| (n, word(n))) {
            None => false,
            Some((_, "true" | "yes")) => true,
            Some((_, "false" | "no")) => false,
            Some((n, _)) => {
                self.error(
                    "wrong-type",
                    n.at,
                    describe(n),
                    "yes or no",
                    "write `yes` or `no`",
                );
                false
            }
        }
    }
    /// A quantity in its base unit times `scale`, rounded half away from 0. `covered` is how many
    /// bees cover a frame.
    pub fn quantity(
        &mut self,
        map: &Map,
        key: &str,
        scale: f64,
        covered: Option<i64>,
    ) -> Option<i64> {
        let node = map.get(key)?;
        let f = map.fields.iter().find(|f| f.key == key)?;
        self.value(node, f.kind, f.range?, scale, covered)
    }
    /// A whole number within its range.
    pub fn count(&mut self, map: &Map, key: &str) -> Option<u32> {
        let value = self.quantity(map, key, 1.0, None)?;
        u32::try_from(value).ok()
    }
    pub fn value(
        &mut self,
        node: &Node,
        kind: Kind,
        (least, most): (f64, f64),
        scale: f64,
        covered: Option<i64>,
    ) -> Option<i64> {
        let kind = if let Kind::Cap(of) = kind { *of } else { kind };
        let wrong = |cx: &mut Self| {
            let form = text::form(kind);
            let way_out = format!("write {form}");
            cx.error("wrong-type", node.at, describe(node), form, way_out);
        };
        let base = match text::split(word(node)) {
            Some((v, "frame" | "frames")) if kind == Kind::Bees && covered.is_some() => {
                covered.map(|c| v * c as f64)
            }
            Some((v, unit)) => text::factor(kind, unit).map(|f| v * f),
            None => None,
        };
        let Some(base) = base else {
            wrong(self);
            return None;
        };
        if base < least || base > most {
            let form = text::form(kind);
            let unit = text::base_unit(kind);
            self.error(
                "out-of-range",
                node.at,
                describe(node),
                format!("{form}, from {least} to {most}{unit}"),
                if kind == Kind::Share {
                    "shares are written `60 %` or `0.6`"
                } else {
                    "correct the figure"
                },
            );
            return None;
        }
        if kind == Kind::Count && base.fract() != 0.0 {
            wrong(self);
            return None;
        }
        Some((base * scale).round() as i64)
    }
    /// Index of a name among the known.
    pub fn find(&mut self, node: &Node, what: &str, known: &[String]) -> Option<usize> {
        let name = word(node);
        let at = known.iter().position(|k| k == name);
        if at.is_none() && !self.full() {
            let help = near(name, known.iter().map(String::as_str))
                .unwrap_or_else(|| format!("use a {what} that there is"));
            self.error(
                "unknown-name",
                node.at,
                describe(node),
                format!("a known {what}"),
                help,
            );
        }
        at
    }
}

pub(crate) struct Map<'a> {
    pub at: At,
    pub entries: &'a [(Node<'a>, Node<'a>)],
    fields: &'static [Field],
}
impl<'a> Map<'a> {
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
fn describe(node: &Node) -> String {
    match &node.value {
        Value::Scalar { text, plain: true } if text.is_empty() => "nothing".into(),
        Value::Scalar { text, .. } => format!("`{}`", cut(text)),
        Value::List(_) => "a list".into(),
        Value::Map(_) => "a map".into(),
    }
}

/// The beginning of a text, enough to recognise it.
fn cut(text: &str) -> String {
    plain(&text.chars().take(60).collect::<String>())
}

pub(crate) fn near<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Option<String> {
    if name.len() > 200 {
        return None;
    }
    known
        .take(2000)
        .map(|k| {
            (
                strsim::damerau_levenshtein(&name.to_lowercase(), &k.to_lowercase()),
                k,
            )
        })
        .filter(|(d, k)| *d <= 1 + k.chars().count() / 3)
        .min()
        .map(|(_, k)| format!("did you mean `{k}`?"))
}
