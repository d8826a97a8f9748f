//! Values that are new in a scenario, as YAML.

/// A value that was not there.
#[derive(Debug, Clone)]
pub(crate) enum New {
    Scalar(String),
    List(Vec<New>),
    Map(Vec<(String, New)>),
}

impl New {
    /// In one line, with brackets.
    pub(crate) fn inline(&self) -> String {
        match self {
            Self::Scalar(text) => text.clone(),
            Self::List(list) => {
                let list: Vec<_> = list.iter().map(Self::inline).collect();
                format!("[{}]", list.join(", "))
            }
            Self::Map(entries) => {
                let entry = |(key, new): &(String, Self)| format!("{key}: {}", new.inline());
                let entries: Vec<_> = entries.iter().map(entry).collect();
                format!("{{{}}}", entries.join(", "))
            }
        }
    }

    /// Lines of a key with this value, so many blanks in.
    pub(crate) fn lines(&self, key: &str, blanks: usize, out: &mut Vec<String>) {
        let indent = " ".repeat(blanks);
        match self {
            Self::Scalar(text) => out.push(format!("{indent}{key}: {text}")),
            Self::List(list) => {
                out.push(format!("{indent}{key}:"));
                for entry in list {
                    entry.item(blanks + 2, out);
                }
            }
            Self::Map(entries) => {
                out.push(format!("{indent}{key}:"));
                for (key, new) in entries {
                    new.lines(key, blanks + 2, out);
                }
            }
        }
    }

    /// Lines of an entry of a list, its dash so many blanks in.
    pub(crate) fn item(&self, blanks: usize, out: &mut Vec<String>) {
        let indent = " ".repeat(blanks);
        let Self::Map(entries) = self else {
            out.push(format!("{indent}- {}", self.inline()));
            return;
        };
        let mut lines = Vec::new();
        for (key, new) in entries {
            new.lines(key, blanks + 2, &mut lines);
        }
        if let Some(first) = lines.first_mut() {
            *first = format!("{indent}- {}", first.trim_start());
        }
        out.extend(lines);
    }
}

/// A text as YAML, in quotes where it would not stand without.
pub(crate) fn quoted(text: &str) -> String {
    let plain = text.starts_with(char::is_alphanumeric)
        && !text.ends_with(' ')
        && text
            .chars()
            .all(|c| c.is_alphanumeric() || " ._/+-".contains(c))
        && text != "null";
    match plain {
        true => text.to_owned(),
        false => serde_json::Value::from(text).to_string(),
    }
}
