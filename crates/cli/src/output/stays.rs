//! What stays in each colony, as the columns of a table.

use super::figures::{level, percent_level};
use super::report::{ColonyReport, Level, Report};

/// Cover in percent below which it is worth a column (a choice: above, no brood chills).
const NEAR: f64 = 150.0;

/// Which columns there are. A floor under drawn comb that is not there, or brood that is amply covered,
/// says little.
pub(super) struct Stays {
    drawn: bool,
    covered: bool,
    /// What was before is expected, from a count of an earlier day.
    counted: bool,
    /// Frames are hung into gaps.
    hung: bool,
}

impl Stays {
    pub(super) fn of(report: &Report) -> Self {
        let any = |kept: &dyn Fn(&ColonyReport) -> bool| report.colonies.iter().any(kept);
        Self {
            drawn: any(&|c| c.drawn_frames.must_keep > 0.0),
            covered: any(&|c| c.brood_covered_percent.is_some_and(|l| l.after < NEAR)),
            counted: any(&|c| c.counted.is_some()),
            hung: any(&|c| !c.gaps_filled_with.is_empty()),
        }
    }

    /// The title of the table; `frames`, whether it has those.
    pub(super) fn title(&self, frames: bool) -> String {
        let expected = match self.counted {
            true => ", expected from the count",
            false => "",
        };
        let hung = match frames && self.hung {
            true => " + hung in",
            false => "",
        };
        format!("What stays{expected}: before > after{hung} (must keep)")
    }

    /// The headings, that of the colony left out.
    pub(super) fn header(&self) -> Vec<&'static str> {
        let mut header = vec!["Brood frames", "Bees", "Stores kg"];
        header.extend(self.drawn.then_some("Drawn combs"));
        header.extend(self.covered.then_some("Brood covered"));
        header.extend(self.counted.then_some("Counted"));
        header.push("Frames");
        header
    }

    /// The levels of one colony, in the order of the headings.
    pub(super) fn levels(&self, c: &ColonyReport) -> Vec<String> {
        let mut levels = vec![
            level(&c.brood_frames, 3),
            level(&c.bees, 0),
            level(&c.stores_kg, 3),
        ];
        levels.extend(self.drawn.then(|| level(&c.drawn_frames, 3)));
        let covered = |l: &Level| percent_level(l);
        let none = || "no brood".to_owned();
        let covered = || c.brood_covered_percent.as_ref().map_or_else(none, covered);
        levels.extend(self.covered.then(covered));
        let day = || c.counted.clone().unwrap_or_else(|| "today".to_owned());
        levels.extend(self.counted.then(day));
        levels.push(frames(c));
        levels
    }
}

/// Frames before, those that stay, and those hung in: `12 > 10 + 2`.
pub(super) fn frames(c: &ColonyReport) -> String {
    let hung = c.gaps_filled_with.iter().map(|f| f.frames);
    let stay = match c.frames_before == c.frames_after {
        true => c.frames_after.to_string(),
        false => format!("{} > {}", c.frames_before, c.frames_after),
    };
    match hung.fold(0, u32::saturating_add) {
        0 => stay,
        n => format!("{stay} + {n}"),
    }
}
