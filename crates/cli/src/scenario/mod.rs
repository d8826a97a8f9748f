//! Reading a scenario file: YAML to a solver value, with every finding at once.

mod boxes;
mod counted;
mod done;
mod fields;
mod fit;
mod frames;
mod known;
mod limits;
mod origins;
mod parts;
mod places;
mod queens;
mod rearing;
mod recipes;
mod reference;
mod rounds;
mod schema;
pub mod season;
mod since;
mod standing;
mod stands;
mod weeks;
mod whole;

pub use crate::reading::{CODES, Finding, Severity};
pub use queens::{QueenStands, Queens, Requeen};
pub use rearing::{Keeps, Rearing};
pub use reference::reference_markdown;
pub use schema::schema;
pub use stands::{Barred, Queen, Stands};
pub use weeks::ColonyCount;

pub(crate) use done::of_table;
pub(crate) use fields::{COLONY, FRAME, SECTIONS};
pub(crate) use frames::{BROOD_AT_A_GLANCE, QUICK, SEALED};
pub(crate) use origins::count_of;
pub(crate) use weeks::{raised_in, ready_after};
pub(crate) use whole::convert;

use crate::reading::{Cx, Node, parse, source};

/// A scenario ready to solve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loaded {
    /// What the solver takes.
    pub scenario: spareframe_solver::Scenario,
    /// The stocking day, if given.
    pub day: Option<jiff::civil::Date>,
    /// The title, if given.
    pub title: Option<String>,
    /// Where frames hang or lie, for people.
    pub places: Places,
    /// What the calendar counts with.
    pub rearing: Rearing,
    /// First and last day on which bees find nothing, counted from the stocking day.
    pub dearth: Option<(i32, i32)>,
    /// What the file says of each of [`spareframe_solver::Scenario::standing`], in their order.
    pub standing: Vec<Stands>,
    /// Mated queens that stand, and where they are to go.
    pub queens: Queens,
    /// Rounds to come, where the file has a season.
    pub season: Option<season::Asked>,
    /// The day of the counts of colonies and compartments that name none.
    pub counted: Option<jiff::civil::Date>,
    /// By colony: the count that what stands in `scenario` is reckoned from.
    pub counts: Vec<ColonyCount>,
    /// By colony: the way in which it was counted.
    pub(crate) ways: Vec<done::Counts>,
}

/// Where frames hang or lie, in the words of the file; `None` where it says nothing.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Places {
    /// By colony and frame group.
    pub colonies: Vec<Vec<Option<String>>>,
    /// By colony: whether it was counted at a glance, so that its frame groups have no numbers.
    pub at_a_glance: Vec<bool>,
    /// By entry of the store room.
    pub store_room: Vec<Option<String>>,
}

/// What came of reading a file.
#[derive(Debug, Clone)]
pub struct Read {
    /// The scenario, unless there is an error among the findings.
    pub loaded: Option<Loaded>,
    /// Errors and warnings in the order of the file; at most 200.
    pub findings: Vec<Finding>,
}

/// Reads a scenario; `path_label` names the file in findings.
///
/// ```
/// use spareframe::scenario::{read, starter};
/// assert!(read("starter.yaml", starter().as_bytes()).loaded.is_some());
/// let wrong = starter().replace("role: nucleus", "rolle: nucleus");
/// let wrong = read("wrong.yaml", wrong.as_bytes());
/// assert!(wrong.loaded.is_none());
/// assert_eq!(wrong.findings[0].way_out, "did you mean `role`?");
/// ```
#[must_use]
pub fn read(path_label: &str, bytes: &[u8]) -> Read {
    let mut cx = Cx::new(path_label, SECTIONS);
    let loaded = tree(&mut cx, bytes).and_then(|root| convert(&mut cx, &root));
    let mut findings = cx.findings;
    findings.sort_by_key(|f| f.span.start);
    let failed = findings.iter().any(|f| f.severity == Severity::Error);
    Read {
        loaded: if failed { None } else { loaded },
        findings,
    }
}

/// The values of a scenario file with their places.
pub(crate) fn tree<'a>(cx: &mut Cx, bytes: &'a [u8]) -> Option<Node<'a>> {
    source(cx, bytes).and_then(|text| parse(cx, text, ("a scenario", "spareframe start NAME")))
}

/// A commented scenario to start from.
#[must_use]
pub fn starter() -> &'static str {
    include_str!("starter.yaml")
}
