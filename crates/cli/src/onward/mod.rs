//! A day is closed: what was done becomes what is written down of colonies, store room, cells and compartments, in the
//! text of the scenario, in place. `done` says what was done, as does `table` with its `rows`, `colonies`, `shelf`, `queens` and `standing` what that changes,
//! `written` how frames are written.

mod colonies;
mod done;
mod queens;
mod rows;
mod shelf;
mod standing;
mod table;
mod written;

pub use done::{Done, Refused, Requeened, done};
pub use table::done_by_table;

pub(crate) use standing::{Filled, restated};

use crate::editing::{Change, New, Step, What, apply};
use crate::reading::{Cx, Finding, Node, parse, source};
use crate::scenario::{Loaded, SECTIONS};
use jiff::civil::Date;

/// What came of closing a day.
#[derive(Debug, Clone)]
pub struct Onward {
    /// The text of the next scenario; none where the file is written in a way in which it cannot be changed in place.
    pub text: Option<String>,
    /// Colonies that something left.
    pub drawn: usize,
    /// Compartments stocked, begun or given a next cell.
    pub stocked: usize,
    /// Compartments that got a cell and are short of one, as there were too few.
    pub without_cell: usize,
    /// Mated queens that left their compartments.
    pub queens: usize,
}

/// What the file goes on to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Next {
    /// Its day.
    pub day: Date,
    /// Ripe cells at hand for the next round; none leaves those that are left.
    pub cells: Option<u32>,
    /// When they were grafted; none leaves what stands there.
    pub grafted: Option<Date>,
}

impl From<Date> for Next {
    fn from(day: Date) -> Self {
        Self {
            day,
            cells: None,
            grafted: None,
        }
    }
}

/// The next scenario, from that of `day`, its day or an earlier one: `loaded` is what was read of `bytes`.
///
/// # Errors
/// What is wrong in the file, if it is none.
pub fn onward(
    (label, bytes): (&str, &[u8]),
    loaded: &Loaded,
    done: &Done,
    (day, next): (Date, Next),
) -> Result<Onward, Vec<Finding>> {
    let mut cx = Cx::new(label, SECTIONS);
    let text = source(&mut cx, bytes);
    let root = text.and_then(|text| parse(&mut cx, text, crate::inspect::START));
    let (Some(text), Some(root)) = (text, root) else {
        return Err(cx.findings);
    };
    let mut changes = colonies::since(&root, loaded, done, day);
    let drawn = changes.len();
    changes.extend(shelf::store_room(&root, loaded, done));
    let given = shelf::given(&loaded.scenario, done);
    match next.cells {
        Some(cells) => changes.push(shelf::cells_at_hand(cells)),
        None => changes.extend(shelf::cells(&root, loaded, &given)),
    }
    changes.extend(next.grafted.map(|day| shelf::grafted(&root, day)));
    let queens = queens::queens(&root, loaded, (done, &given), day);
    let nuclei = &queens.nuclei;
    changes.extend(standing::standing(
        &root,
        loaded,
        (done, &given, nuclei),
        day,
    ));
    // Where the next cell went in on the same day, that is said of it.
    let again = |change: &Change| match change.path.as_slice() {
        [_, Step::Entry(entry)] => {
            let stands = loaded.scenario.standing.get(*entry);
            let stands = stands.filter(|_| change.path.first() == Some(&Step::from("standing")));
            stands.is_some_and(|stands| done.compartments.iter().any(|c| stands.is(c)))
        }
        _ => false,
    };
    changes.extend(queens.changes.into_iter().filter(|change| !again(change)));
    let round = usize::from(next.cells.is_some()) + usize::from(next.grafted.is_some());
    let something = changes.len() > round || !done.compartments.is_empty();
    changes.extend(days(&root, something, (day, next.day)));
    let without_cell = given.without.len();
    Ok(Onward {
        text: match changes.is_empty() {
            true => Some(text.to_owned()),
            false => apply(text, &root, &changes),
        },
        drawn,
        stocked: done.compartments.len(),
        without_cell,
        queens: queens.given,
    })
}

/// The day, the day of the counts, and what was done, which is closed.
fn days(root: &Node, something: bool, (day, to): (Date, Date)) -> Vec<Change> {
    let mut changes = Vec::new();
    let mut top = |what| changes.push(Change::at([], what));
    if something && root.get("done").is_some() {
        top(What::Gone("done".into()));
    }
    if to != day {
        top(What::Set("day".to_owned(), New::Scalar(to.to_string())));
    }
    if (something || to != day) && root.get("counted").is_none() {
        let counted = New::Scalar(day.to_string());
        top(What::Behind("day", "counted".to_owned(), counted));
    }
    changes
}
