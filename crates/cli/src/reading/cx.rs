//! The reader over the tree: looks values up and collects findings.

use super::finding::{Finding, Severity, bad};
use super::tables::{Field, Section};
use super::text;
use super::tree::{At, Kind, Node};

pub(crate) struct Cx {
    pub findings: Vec<Finding>,
    path: String,
}

impl Cx {
    pub fn new(path: &str) -> Self {
        Self {
            findings: Vec::new(),
            path: path.to_owned(),
        }
    }

    fn full(&self) -> bool {
        self.findings.len() >= 1000
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
                line: at.line,
                column: at.column,
                span: at.start..at.end,
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
    pub fn map<'a>(&mut self, node: &'a Node, section: &'static Section) -> Option<Map<'a>> {
        let entries = self.entries(node)?;
        for (key, _) in entries {
            if self.full() {
                break;
            }
            let name = word(key);
            if !section.fields.iter().any(|f| f.key == name) {
                let known: Vec<&str> = section.fields.iter().map(|f| f.key).collect();
                let help = near(name, known.iter().copied()).unwrap_or_else(|| "remove it".into());
                self.error(
                    "unknown-key",
                    key.at,
                    format!("`{name}`"),
                    format!("one of {}", known.join(", ")),
                    help,
                );
            }
        }
        let map = Map {
            at: node.at,
            entries,
            fields: section.fields,
        };
        for f in section.fields {
            if f.required && map.get(f.key).is_none() {
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
    pub fn entries<'a>(&mut self, node: &'a Node) -> Option<&'a [(Node, Node)]> {
        if let Kind::Map(m) = &node.kind {
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
    pub fn list<'a>(&mut self, node: &'a Node) -> &'a [Node] {
        if let Kind::List(l) = &node.kind {
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
        let Kind::Scalar { text, .. } = &node.kind else {
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
        text.clone()
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
    /// A quantity in its base unit times `scale`, rounded.
    pub fn quantity(
        &mut self,
        map: &Map,
        key: &str,
        scale: f64,
        covered: Option<i64>,
    ) -> Option<i64> {
        let node = map.get(key)?;
        let f = map.fields.iter().find(|f| f.key == key)?;
        self.value(node, f.kind, f.least, f.most, scale, covered)
    }
    pub fn value(
        &mut self,
        node: &Node,
        kind: &str,
        least: f64,
        most: f64,
        scale: f64,
        covered: Option<i64>,
    ) -> Option<i64> {
        let base = match text::split(word(node)) {
            Some((v, "frame" | "frames")) if kind == "bees" && covered.is_some() => {
                covered.map(|c| v * c as f64)
            }
            Some((v, unit)) => text::factor(kind, unit).map(|f| v * f),
            None => None,
        };
        let Some(base) = base else {
            self.error(
                "wrong-type",
                node.at,
                describe(node),
                text::form(kind),
                format!("write {}", text::form(kind)),
            );
            return None;
        };
        if base < least || base > most {
            self.error(
                "out-of-range",
                node.at,
                format!("`{}`", word(node)),
                format!(
                    "{}, from {least} to {most}{}",
                    text::form(kind),
                    base_unit(kind)
                ),
                if kind == "share" {
                    "shares are written `60 %` or `0.6`"
                } else {
                    "correct the figure"
                },
            );
            return None;
        }
        if kind == "count" && base.fract() != 0.0 {
            self.error(
                "wrong-type",
                node.at,
                describe(node),
                text::form(kind),
                "write a whole number",
            );
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
                .unwrap_or_else(|| format!("define this {what} or use another"));
            self.error(
                "unknown-name",
                node.at,
                format!("`{name}`"),
                format!("a known {what}"),
                help,
            );
        }
        at
    }
}

fn base_unit(kind: &str) -> &'static str {
    match kind {
        "grams" => " g",
        "metres" => " m",
        "area" => " dm2",
        _ => "",
    }
}

pub(crate) struct Map<'a> {
    pub at: At,
    pub entries: &'a [(Node, Node)],
    fields: &'static [Field],
}
impl<'a> Map<'a> {
    pub fn get(&self, key: &str) -> Option<&'a Node> {
        self.entries
            .iter()
            .find(|(k, _)| word(k) == key)
            .map(|(_, v)| v)
    }
}

/// The text of a scalar, or nothing.
pub(crate) fn word(node: &Node) -> &str {
    if let Kind::Scalar { text, .. } = &node.kind {
        text
    } else {
        ""
    }
}
fn describe(node: &Node) -> String {
    match &node.kind {
        Kind::Scalar { text, plain: true } if text.is_empty() => "nothing".into(),
        Kind::Scalar { text, .. } => format!("`{}`", text.chars().take(60).collect::<String>()),
        Kind::List(_) => "a list".into(),
        Kind::Map(_) => "a map".into(),
    }
}
fn near<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> Option<String> {
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
