//! What if: a scenario with some of its values changed, as if the file had been edited.

mod graft;
mod path;
mod piece;
mod range;
mod tables;
mod typed;
mod values;

pub(crate) use path::key;

pub use typed::Typed;

/// The figures of a range, as `6..40 by 2`; `None` where it is none.
pub(crate) fn figures(text: &str) -> Option<Vec<String>> {
    range::figures(text).ok()
}

use crate::reading::{Cx, Finding, Node, Severity, plain};
use crate::scenario::{Loaded, SECTIONS, convert, tree};
use graft::{Change, graft};
use piece::Piece;
use rayon::prelude::*;
use std::borrow::Cow;
use typed::Asked;

/// Most alternatives in one run (a choice: nobody compares more, and each takes a search).
pub const MOST: usize = 1000;

/// Most findings that are returned (a choice, as for a file).
const MOST_FINDINGS: usize = 200;

/// A scenario and its alternatives, all of them read and free of errors.
#[derive(Debug)]
pub struct Question<'a> {
    label: String,
    root: Node<'a>,
    asked: Asked<'a>,
    /// The scenario as it is.
    pub today: Loaded,
    /// Changes that hold in every alternative and are not in their names.
    pub in_all: Vec<String>,
    /// The alternatives, in order.
    pub alternatives: Vec<Alternative>,
}

/// One alternative.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Alternative {
    /// What it is called: its name in the file of alternatives, or what it changes.
    pub name: String,
    named: Option<usize>,
    /// Which value each varied path takes.
    values: Vec<usize>,
}

/// A finding with the text that it is about.
#[derive(Debug, Clone)]
pub struct Remark<'a> {
    /// The finding.
    pub finding: Finding,
    /// The text that its span counts in.
    pub source: Cow<'a, str>,
}

/// Reads a scenario and everything that is to be changed in it; every finding at once, those of
/// the unchanged scenario first. There is no question where one of them is an error.
///
/// ```
/// use spareframe::probe::{Typed, question};
/// let file = spareframe::scenario::starter().as_bytes();
/// let typed = Typed { sets: vec!["cells=2..4".into()], ..Typed::default() };
/// let (question, _) = question("starter.yaml", file, &typed);
/// assert_eq!(question.unwrap().alternatives.len(), 3);
/// let wrong = Typed { sets: vec!["cels=2".into()], ..Typed::default() };
/// let (none, remarks) = spareframe::probe::question("starter.yaml", file, &wrong);
/// assert!(none.is_none());
/// assert_eq!(remarks[0].finding.way_out, "did you mean `cells`?");
/// ```
#[must_use]
pub fn question<'a>(
    label: &str,
    bytes: &'a [u8],
    typed: &'a Typed,
) -> (Option<Question<'a>>, Vec<Remark<'a>>) {
    let mut cx = Cx::new(label, SECTIONS);
    let root = tree(&mut cx, bytes);
    let today = root.as_ref().and_then(|root| convert(&mut cx, root));
    let mut plain = cx.findings;
    plain.sort_by_key(|finding| finding.span.start);
    let mut cx = Cx::new(label, SECTIONS);
    let asked = typed::read(&mut cx, (root.as_ref(), bytes.len()), typed);
    let pieces = asked.pieces.clone();
    let unread = asked.unread.clone();
    let readable = !failed(&plain) && !failed(&unread);
    let mut question = None;
    if let (Some(root), Some(today), true) = (root, today, readable) {
        let (alternatives, in_all) = combine(&mut cx, &asked);
        let whole = Question {
            label: label.to_owned(),
            root,
            asked,
            today,
            in_all,
            alternatives,
        };
        cx.findings.extend(whole.check(&plain));
        question = Some(whole);
    }
    let mut found = cx.findings;
    found.sort_by_key(|finding| finding.span.start);
    let text = String::from_utf8_lossy;
    let scenario = text(bytes);
    let file = typed.alternatives.as_ref();
    let file = file.map_or(Cow::default(), |(_, bytes)| text(bytes));
    let of = |source: &Cow<'a, str>| {
        let source = source.clone();
        move |finding| Remark {
            finding,
            source: source.clone(),
        }
    };
    let placed = found
        .into_iter()
        .map(|finding| placed(finding, &pieces, &scenario));
    let mut remarks: Vec<Remark> = plain.into_iter().map(of(&scenario)).collect();
    remarks.extend(unread.into_iter().map(of(&file)));
    remarks.extend(placed);
    remarks.truncate(MOST_FINDINGS);
    let bad = remarks
        .iter()
        .any(|r| r.finding.severity == Severity::Error);
    (question.filter(|_| !bad), remarks)
}

/// A scenario as it is in the file and as it is with changes.
#[derive(Debug)]
pub(crate) struct Changed<'a> {
    pub before: Node<'a>,
    pub now: Node<'a>,
    pub loaded: Loaded,
}

/// A scenario with changes, each of one value; `None` where anything is wrong with it, for [`question`] to say what.
pub(crate) fn changed<'a>(bytes: &'a [u8], typed: &'a Typed) -> Option<Changed<'a>> {
    let mut cx = Cx::new("", SECTIONS);
    let before = tree(&mut cx, bytes)?;
    let asked = typed::read(&mut cx, (Some(&before), bytes.len()), typed);
    let mut changes = Vec::new();
    for varied in &asked.varied {
        let [wanted] = varied.values.as_slice() else {
            return None;
        };
        let path = &varied.path;
        changes.push(Change { path, wanted });
    }
    let mut now = before.clone();
    graft(&mut cx, &mut now, &changes);
    let loaded = convert(&mut cx, &now).filter(|_| !cx.failed() && asked.unread.is_empty())?;
    Some(Changed {
        before,
        now,
        loaded,
    })
}

fn failed(findings: &[Finding]) -> bool {
    findings.iter().any(|f| f.severity == Severity::Error)
}

/// A finding in the text where it belongs.
fn placed<'a>(mut finding: Finding, pieces: &[Piece<'a>], scenario: &Cow<'a, str>) -> Remark<'a> {
    let behind = |piece: &&Piece| piece.base as usize <= finding.span.start;
    let Some(piece) = pieces.iter().rev().find(behind) else {
        let source = scenario.clone();
        return Remark { finding, source };
    };
    let base = piece.base as usize;
    finding.path.clone_from(&piece.label);
    finding.span = finding.span.start - base..finding.span.end.saturating_sub(base);
    let source = Cow::Borrowed(piece.text);
    Remark { finding, source }
}

/// Every combination, the first change slowest, and the changes that are the same in all.
fn combine(cx: &mut Cx, asked: &Asked) -> (Vec<Alternative>, Vec<String>) {
    let count = asked.count();
    let mut places = asked.varied.iter().filter_map(|varied| varied.path.first());
    if let (Some(part), true) = (places.next_back(), count > MOST) {
        values::too_many(cx, part.at, &format!("{} alternatives", counted(count)));
        return (Vec::new(), Vec::new());
    }
    let varies = |at: usize| asked.varied[at].values.len() > 1;
    let paths = 0..asked.varied.len();
    let all_one = asked.named.is_empty() && !paths.clone().any(varies);
    let in_all = paths.clone().filter(|&at| !all_one && !varies(at));
    let in_all = in_all.map(|at| asked.varied[at].shown(0)).collect();
    let mut out = Vec::new();
    if asked.named.is_empty() && asked.varied.is_empty() {
        return (out, in_all);
    }
    for number in 0..count {
        let mut rest = number;
        let mut values = vec![0; asked.varied.len()];
        for at in paths.clone().rev() {
            let size = asked.varied[at].values.len().max(1);
            values[at] = rest % size;
            rest /= size;
        }
        let named = asked.named.get(rest);
        let shown = paths.clone().filter(|&at| all_one || varies(at));
        let shown = shown.map(|at| asked.varied[at].shown(values[at]));
        let name: Vec<String> = named
            .map(|n| plain(&n.name))
            .into_iter()
            .chain(shown)
            .collect();
        out.push(Alternative {
            name: name.join(", "),
            named: named.map(|_| rest),
            values,
        });
    }
    (out, in_all)
}

/// Beyond so many they are not counted on.
fn counted(count: usize) -> String {
    match count {
        ..=1_000_000 => count.to_string(),
        _ => "more than a million".to_owned(),
    }
}

impl<'a> Question<'a> {
    /// The changes of an alternative, as they are written.
    #[must_use]
    pub fn changes(&self, alternative: &Alternative) -> Vec<String> {
        let varied = self.asked.varied.iter().zip(&alternative.values);
        let mut out: Vec<String> = varied.map(|(varied, &value)| varied.shown(value)).collect();
        if let Some(named) = alternative.named.and_then(|at| self.asked.named.get(at)) {
            let shown = |(path, wanted): &(Vec<path::Part>, values::Wanted)| {
                let path = path::typed(path.iter().map(|part| &part.step));
                format!("{path}={}", wanted.text)
            };
            out.extend(named.changes.iter().map(shown));
        }
        out
    }

    /// The scenario of an alternative.
    #[must_use]
    pub fn load(&self, alternative: &Alternative) -> Option<Loaded> {
        let mut cx = Cx::new(&self.label, SECTIONS);
        self.read(&mut cx, alternative).filter(|_| !cx.failed())
    }

    fn read(&self, cx: &mut Cx, alternative: &Alternative) -> Option<Loaded> {
        let mut changes: Vec<Change<'_, 'a>> = Vec::new();
        for (varied, &value) in self.asked.varied.iter().zip(&alternative.values) {
            let path = &varied.path;
            changes.extend(
                varied
                    .values
                    .get(value)
                    .map(|wanted| Change { path, wanted }),
            );
        }
        if let Some(named) = alternative.named.and_then(|at| self.asked.named.get(at)) {
            changes.extend(
                named
                    .changes
                    .iter()
                    .map(|(path, wanted)| Change { path, wanted }),
            );
        }
        let mut root = self.root.clone();
        // What cannot be changed stays as it is, so that the rest is looked through all the same.
        graft(cx, &mut root, &changes);
        convert(cx, &root)
    }

    /// What is found in alternatives and not in the scenario as it is, each thing once. What is
    /// found in the scenario's own text says which changes bring it about.
    fn check(&self, plain: &[Finding]) -> Vec<Finding> {
        let found: Vec<Vec<Finding>> = self
            .alternatives
            .par_iter()
            .map(|alternative| {
                let mut cx = Cx::new(&self.label, SECTIONS);
                self.read(&mut cx, alternative);
                cx.findings.retain(|finding| !plain.contains(finding));
                cx.findings
            })
            .collect();
        let end = self
            .asked
            .pieces
            .first()
            .map_or(usize::MAX, |piece| piece.base as usize);
        let mut once: Vec<Finding> = Vec::new();
        let mut out = Vec::new();
        for (alternative, found) in self.alternatives.iter().zip(found) {
            for mut finding in found {
                if once.len() >= MOST_FINDINGS || once.contains(&finding) {
                    continue;
                }
                once.push(finding.clone());
                if finding.span.start < end {
                    let changes = self.changes(alternative).join(", ");
                    finding.found = format!("{}, with {changes}", finding.found);
                }
                out.push(finding);
            }
        }
        out
    }
}
