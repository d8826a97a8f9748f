//! The season as lanes over the weeks: what is drawn of each colony and of each lot of compartments, for page and picture.

mod axis;
mod boxes;
mod colony;
mod drawn;
mod queens;

pub(in super::super) use axis::Axis;
pub(in super::super) use boxes::{BoxLane, KindLanes};
pub(in super::super) use colony::{ColonyLane, Gives};
pub(in super::super) use drawn::{LOOKS, Part, Place};
use queens::QueensLane;

use super::report::SeasonReport;

/// All lanes of a season.
#[derive(Debug)]
pub(in super::super) struct Lanes {
    pub axis: Axis,
    /// Colonies that give, in the order of the file.
    pub colonies: Vec<ColonyLane>,
    /// Most brood that one of them has or would have, in full frames.
    pub most_brood: f64,
    /// Kinds of box, each with its lots of compartments.
    pub kinds: Vec<KindLanes>,
    pub queens: QueensLane,
}

impl Lanes {
    /// The lanes; `None` where the record names no day.
    pub fn of(report: &SeasonReport) -> Option<Self> {
        let axis = Axis::of(report)?;
        let giving = report.colonies.iter().filter(|colony| colony.gives());
        let colonies = giving.map(|course| ColonyLane::of(report, course, &axis));
        let colonies: Vec<ColonyLane> = colonies.collect();
        let most = colonies.iter().map(ColonyLane::most);
        Some(Self {
            most_brood: most.fold(0.0, f64::max),
            kinds: boxes::kinds(report, &axis),
            queens: QueensLane::of(report, &axis),
            colonies,
            axis,
        })
    }
}
