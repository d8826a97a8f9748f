//! Paths to a value of a scenario, as `colonies.Ash.frames[2].count`.

use crate::reading::{At, Cx, plain};

/// Longest path in steps (a choice: the format needs 8).
const MOST_STEPS: usize = 16;

/// One step of a path.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Step {
    /// Into a map.
    Key(String),
    /// Into a list, from 1.
    Entry(usize),
    /// To a new entry at the end of a list.
    Append,
}

/// A step and where it is written.
#[derive(Debug, Clone)]
pub(super) struct Part {
    pub step: Step,
    pub at: At,
}

/// Where the byte at which a path ends is: a path ends before the first `=` outside quotes.
pub(super) fn end(text: &str) -> usize {
    let mut quote = None;
    let mut fresh = true;
    for (i, c) in text.char_indices() {
        match (quote, c) {
            (Some(open), c) if c == open => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') if fresh => quote = Some(c),
            (None, '=') => return i,
            _ => {}
        }
        fresh = c == '.' || (fresh && c == ' ');
    }
    text.len()
}

/// Reads a path. `at` says where bytes of the text stand.
pub(super) fn path(cx: &mut Cx, text: &str, at: &dyn Fn(usize, usize) -> At) -> Option<Vec<Part>> {
    let mut parts = Vec::new();
    let mut rest = 0;
    loop {
        let (name, from, to, next) = match name(text, rest) {
            Ok(read) => read,
            Err(i) => {
                let way_out = "close the quote, and put a point after it";
                return wrong(cx, at(i, text.len()), text, way_out);
            }
        };
        if name.is_empty() {
            let way_out = "write keys and names joined by single points";
            return wrong(cx, at(from.min(text.len()), text.len()), text, way_out);
        }
        parts.push(Part {
            step: Step::Key(name),
            at: at(from, to),
        });
        rest = next;
        while text[rest..].starts_with('[') {
            let Some(length) = text[rest..].find(']') else {
                return wrong(cx, at(rest, text.len()), text, "close the bracket");
            };
            let place = at(rest, rest + length + 1);
            let step = match text[rest + 1..rest + length].trim() {
                "+" => Step::Append,
                number => match number.parse() {
                    Ok(entry) if entry > 0 => Step::Entry(entry),
                    _ => {
                        let way_out = "write `[2]` for the second entry, `[+]` for a new one; \
                                       put a name with a bracket in quotes";
                        return wrong(cx, place, text, way_out);
                    }
                },
            };
            parts.push(Part { step, at: place });
            rest += length + 1;
            rest += blanks(&text[rest..]);
        }
        if parts.len() > MOST_STEPS {
            return wrong(cx, at(0, text.len()), text, "shorten it");
        }
        match text[rest..].chars().next() {
            None => return Some(parts),
            Some('.') => rest += 1,
            Some(_) => {
                let way_out = "put a point between the steps";
                return wrong(cx, at(rest, text.len()), text, way_out);
            }
        }
    }
}

fn blanks(text: &str) -> usize {
    text.len() - text.trim_start_matches(' ').len()
}

/// A key or name with its bytes, and the byte after it; or the byte of a quote left open.
fn name(text: &str, from: usize) -> Result<(String, usize, usize, usize), usize> {
    let from = from + blanks(&text[from..]);
    let rest = &text[from..];
    if let Some(quote) = rest.chars().next().filter(|c| matches!(c, '"' | '\'')) {
        let length = rest[1..].find(quote).ok_or(from)?;
        let to = from + length + 2;
        return Ok((
            rest[1..=length].to_owned(),
            from,
            to,
            to + blanks(&text[to..]),
        ));
    }
    let length = rest.find(['.', '[']).unwrap_or(rest.len());
    let name = rest[..length].trim_end();
    Ok((name.to_owned(), from, from + name.len(), from + length))
}

fn wrong(cx: &mut Cx, at: At, text: &str, way_out: &str) -> Option<Vec<Part>> {
    let shown: String = plain(text).chars().take(60).collect();
    let expected = "a path such as `colonies.Ash.frames[2].count`";
    cx.error("wrong-type", at, format!("`{shown}`"), expected, way_out);
    None
}

/// A key or a name as it is typed, in quotes where it needs them.
pub(crate) fn key(name: &str) -> String {
    let plain = !name.contains(['.', '[', '=', '"', '\'']) && name.trim() == name;
    match plain {
        true => name.to_owned(),
        false if name.contains('"') => format!("'{name}'"),
        false => format!("\"{name}\""),
    }
}

/// A path as it is typed, names in quotes where they need them.
pub(super) fn typed<'a>(steps: impl Iterator<Item = &'a Step>) -> String {
    let mut out = String::new();
    for step in steps {
        match step {
            Step::Entry(n) => out += &format!("[{n}]"),
            Step::Append => out += "[+]",
            Step::Key(key) => {
                if !out.is_empty() {
                    out.push('.');
                }
                out += &self::key(key);
            }
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steps(text: &str) -> Option<Vec<Step>> {
        let mut cx = Cx::new("path", crate::scenario::SECTIONS);
        let parts = path(&mut cx, text, &|a, b| At::within(text, a, b));
        assert_eq!(parts.is_none(), cx.failed(), "{text}");
        parts.map(|parts| parts.into_iter().map(|part| part.step).collect())
    }

    fn key(name: &str) -> Step {
        Step::Key(name.to_owned())
    }

    #[test]
    fn keys_keep_their_blanks_and_quotes_guard_points() {
        let frames = steps("colonies.Ash.frames[2].count");
        let wanted = [
            key("colonies"),
            key("Ash"),
            key("frames"),
            Step::Entry(2),
            key("count"),
        ];
        assert_eq!(frames, Some(wanted.to_vec()));
        let room = steps("store room[+]");
        assert_eq!(room, Some(vec![key("store room"), Step::Append]));
        for text in [
            "colonies.\"St. John [2]\".keep",
            " colonies . 'St. John [2]' . keep ",
        ] {
            let wanted = [key("colonies"), key("St. John [2]"), key("keep")];
            assert_eq!(steps(text), Some(wanted.to_vec()), "{text}");
        }
        for text in ["colonies.\"St. John [2]\".keep", "a.'x\"y'[3]", "b[+]"] {
            assert_eq!(typed(steps(text).unwrap().iter()), text);
        }
    }

    #[test]
    fn what_is_no_path_is_found() {
        for text in [
            "", ".", "a.", "a..b", "a[0]", "a[x]", "a[1", "a[1]b", "a.\"b", "\"a\"b", "a[-1]",
        ] {
            assert_eq!(steps(text), None, "{text}");
        }
        assert_eq!(steps(&"a.".repeat(40)), None);
        assert_eq!(steps(&format!("a[{}]", "9".repeat(40))), None);
    }

    #[test]
    fn a_path_ends_at_the_first_equals_sign_outside_quotes() {
        assert_eq!(end("cells=12"), 5);
        assert_eq!(end("a.\"b=c\".d=e=f"), 9);
        assert_eq!(end("it's=3"), 4);
        assert_eq!(end("cells"), 5);
    }
}
