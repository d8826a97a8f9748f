//! A spreadsheet's table of inspections, put into a scenario: `table` reads it, `changes` says what it
//! changes in which colony, `edit` changes the text and nothing else in it (`new`: how it is
//! written), `expected` is what the text must then say, `write` is the way back.

mod cells;
mod changes;
mod columns;
mod counts;
mod edit;
mod expected;
mod looks;
mod new;
mod places;
mod table;
mod write;

pub use crate::look::look;
pub use columns::By;
pub use write::table;

pub(crate) use cells::{bare, figure};
pub(crate) use columns::name_and_unit;

use crate::editing::same;
use crate::reading::{At, Cx, Finding, Node, Severity, parse, source};
use crate::scenario::{SECTIONS, convert};
use changes::{ColonyChange, changes};
use counts::Counts;
use expected::{changed, odd};

/// What came of putting a table into a scenario.
#[derive(Debug, Clone, Default)]
pub struct Inspected {
    /// The scenario's text with the table in it; none if there is an error among the findings.
    pub text: Option<String>,
    /// The same, whatever was found in it: what is found in the scenario stands in this, if it is there.
    pub changed_text: Option<String>,
    /// What is wrong or odd in the table.
    pub findings: Vec<Finding>,
    /// What is wrong or odd in the scenario.
    pub in_scenario: Vec<Finding>,
    /// Colonies whose figures changed, and compartments of which something else was seen.
    pub changed: Vec<String>,
    /// Colonies that were not there before.
    pub added: Vec<String>,
    /// Compartments that stand no more; their frames are in no store room.
    pub gone: Vec<String>,
}

/// Puts a table into a scenario. `by` says how the table is read where its header does not, and
/// `recount` lets it stand in place of the other way of counting a colony.
///
/// ```
/// use spareframe::inspect::inspect;
/// use spareframe::scenario::starter;
/// let table = "colony;brood (combs);bees\n2;4,5;9 frames\n";
/// let done = inspect(("t.csv", table.as_bytes()), ("s.yaml", starter().as_bytes()), None, false);
/// let text = done.text.unwrap();
/// assert!(text.contains("brood: 4.5 combs  # without a share"));
/// ```
#[must_use]
pub fn inspect(
    (table_label, table): (&str, &[u8]),
    (label, scenario): (&str, &[u8]),
    by: Option<By>,
    recount: bool,
) -> Inspected {
    let mut out = Inspected::default();
    let mut cx = Cx::new(table_label, SECTIONS);
    let mut rows = source(&mut cx, table).and_then(|text| table::read(&mut cx, text, by));
    let mut before = Cx::new(label, SECTIONS);
    let text = source(&mut before, scenario);
    let root = text.and_then(|text| parse(&mut before, text, START));
    let mut seen = looks::Rows::default();
    if let (Some(rows), Some(root)) = (&mut rows, &root) {
        seen = looks::part(rows, (label, scenario), root);
    }
    if let (Some(rows), Some(text), Some(root)) = (&rows, text, &root) {
        let stated = rows.states("counted");
        let counts = Counts::of(label, scenario, root, stated);
        let changes = changes(&mut cx, root, rows, recount, counts.as_ref());
        put_in(&mut cx, &mut out, (label, text, root), &changes);
    }
    if !seen.is_empty() {
        looks::put_in(&mut cx, &mut out, label, &seen);
    }
    out.in_scenario.extend(before.findings);
    out.findings.extend(cx.findings);
    out.findings.sort_by_key(|f| f.span.start);
    let failed = |list: &[Finding]| list.iter().any(|f| f.severity == Severity::Error);
    if !failed(&out.findings) && !failed(&out.in_scenario) {
        out.text.clone_from(&out.changed_text);
    }
    out
}

/// What a scenario is, and which command writes one.
pub(crate) const START: (&str, &str) = ("a scenario", "spareframe start NAME");

fn put_in(
    cx: &mut Cx,
    out: &mut Inspected,
    (label, text, root): (&str, &str, &Node),
    changes: &[ColonyChange],
) {
    let expected = changed(root, changes);
    let new = edit::edit(text, root, changes);
    let mut after = Cx::new(label, SECTIONS);
    let tree = parse(&mut after, &new, START);
    let as_expected = tree.as_ref().is_some_and(|tree| same(tree, &expected));
    if !as_expected {
        // Where a cell is wrong, that is what is said.
        if !cx.failed() {
            let odd = match &tree {
                Some(tree) => odd(tree, &expected, changes),
                None => alone(text, root, changes),
            };
            let (at, name) = odd.map_or((At::top(), String::new()), |change| {
                let at = change.from.first().map_or(At::top(), |from| from.at);
                (at, format!(" for colony `{}`", change.name))
            });
            cx.error(
                "yaml",
                at,
                format!("a change{name} that cannot be made in the text as it is written"),
                "a colony written as in docs/scenario.md",
                "write the colony so, or put the figures in by hand",
            );
        }
        return;
    }
    if let Some(tree) = tree {
        let read = convert(&mut after, &tree);
        places::back(cx, out, &tree, changes, after.findings);
        if read.is_some() {
            let named = |added: bool| {
                let of = changes.iter().filter(move |c| c.new == added && c.differs);
                of.map(|c| c.name.clone()).collect()
            };
            (out.changed, out.added) = (named(false), named(true));
        }
    }
    out.changed_text = Some(new);
}

/// Most colonies that are tried one by one (a choice: each takes as long as reading the scenario).
const MOST_TRIED: usize = 500;

/// The first colony whose change alone leaves a text that is no YAML.
fn alone<'c>(text: &str, root: &Node, changes: &'c [ColonyChange]) -> Option<&'c ColonyChange> {
    let broken = |change: &&ColonyChange| {
        let new = edit::edit(text, root, std::slice::from_ref(*change));
        parse(&mut Cx::new("", SECTIONS), &new, START).is_none()
    };
    changes.iter().take(MOST_TRIED).find(broken)
}
