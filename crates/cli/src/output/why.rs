//! What keeps compartments empty: each limit is lifted alone, and the search run again. A limit
//! is named only where lifting it lets more be stocked.

use super::report::HeldBack;
use spareframe_solver::{
    Bees, Draw, Goals, Keep, Outcome, Proof, Scenario, SolveOptions, Until, solve,
};
use std::time::Duration;

/// Longest search for one limit (a choice): what is not found by then is not named.
const PATIENCE: Duration = Duration::from_secs(1);

/// The limits that hold back a plan with these goals. Lifting any one of them alone helps. Each
/// search ends after `time_limit`, a second at most.
#[must_use]
pub fn held_back_by(
    scenario: &Scenario,
    goals: &Goals,
    time_limit: Option<Duration>,
) -> Vec<HeldBack> {
    let patience = time_limit.map_or(PATIENCE, |limit| limit.min(PATIENCE));
    let mut found = Vec::new();
    let mut sure = true;
    let mut lift = |rule: &str, text: String, change: &dyn Fn(&mut Scenario)| {
        let mut lifted = scenario.clone();
        change(&mut lifted);
        if lifted == *scenario {
            return;
        }
        let options = SolveOptions {
            time_limit: Some(patience),
            until: Until::Worth,
        };
        match solve(&lifted, &options) {
            Outcome::Stocked(s) if s.goals.worth > goals.worth => found.push(HeldBack {
                rule: rule.to_owned(),
                text,
            }),
            Outcome::Stocked(s) => sure &= s.proof == Proof::Best,
            Outcome::Nothing => {}
            Outcome::TimedOut => sure = false,
        }
    };
    lift("cells", "too few ripe cells or queens".into(), &|s| {
        s.cells = None;
    });
    let keep = "what the colonies must keep: they can spare no more";
    lift("keep", keep.into(), &|s| {
        for c in &mut s.colonies {
            c.keep = Keep::default();
        }
    });
    let draw = "the caps on what may be drawn, honey among them";
    lift("draw", draw.into(), &|s| {
        s.honey_cap = None;
        for c in &mut s.colonies {
            c.draw = Draw::default();
        }
    });
    let hold = "colonies on hold";
    lift("supply", hold.into(), &|s| {
        for c in &mut s.colonies {
            c.hold = None;
        }
    });
    let bees = "the fewest bees that the recipes ask for";
    lift("bees", bees.into(), &|s| {
        for k in &mut s.boxes {
            k.bees = Bees(0);
        }
    });
    let whole = "boxes that are stocked whole or not at all";
    lift("boxes", whole.into(), &|s| {
        for k in &mut s.boxes {
            k.whole = false;
        }
    });
    for (kind, line) in lines(scenario) {
        let name = &scenario.boxes[kind].lines[line].name;
        let text = format!(
            "too few frames for `{name}` of {}",
            scenario.boxes[kind].name
        );
        lift("recipe", text, &|s| {
            s.boxes[kind].lines.remove(line);
        });
    }
    if found.is_empty() && sure {
        found.push(HeldBack {
            rule: "several".to_owned(),
            text: "no single limit: two or more have to give way together".to_owned(),
        });
    }
    found
}

/// Lines of all kinds of box, by index. Kinds with the same recipe are asked about in turn.
fn lines(scenario: &Scenario) -> Vec<(usize, usize)> {
    let kinds = scenario.boxes.iter().enumerate();
    kinds
        .flat_map(|(kind, k)| (0..k.lines.len()).map(move |line| (kind, line)))
        .collect()
}
