//! What to mind on the day, and what the honey estimate assumes.

use super::figures::{counted, whole};
use super::headline::flying_home;
use super::report::{Caution, Report};
use super::words::{Words, clean};
use spareframe_solver::Scenario;
use std::collections::BTreeSet;

/// Cautions of a plan: those of this plan first, then those of every stocking day.
pub(super) fn cautions(scenario: &Scenario, report: &Report) -> Vec<Caution> {
    let mut list = super::done::cautions(scenario, report);
    if report.compartments.is_empty() {
        return list;
    }
    let mut add = |id: &str, text: String| {
        list.push(Caution {
            id: id.to_owned(),
            text,
        })
    };
    thin_cover(report, &mut add);
    let apart: Vec<_> = report
        .colonies
        .iter()
        .filter(|c| c.taken_apart)
        .map(|c| clean(&c.colony))
        .collect();
    if !apart.is_empty() {
        add(
            "taken-apart",
            format!(
                "No frame stays in {}. See to the queen first; share bees left over among the boxes or unite them, and close the empty hive.",
                colonies(&apart)
            ),
        );
    }
    let unseen: Vec<_> = report
        .colonies
        .iter()
        .filter(|c| !c.queen_located)
        .map(|c| clean(&c.colony))
        .collect();
    if !unseen.is_empty() {
        add(
            "queen-not-located",
            format!(
                "No frame is marked as holding the queen in {}. Find her, or be sure that there is none, before a frame or a bee leaves.",
                colonies(&unseen)
            ),
        );
    }
    let drifting: BTreeSet<_> = report
        .compartments
        .iter()
        .filter(|c| c.bees.iter().map(|b| b.bees).sum::<i64>() > c.bees_staying)
        .map(|c| clean(&c.site))
        .collect();
    if !drifting.is_empty() {
        add(
            "drift",
            format!(
                "Boxes at {} stand within {} km of donors: {} fly home, {}% of those taken from so near. That share is a setting, not a measurement; look after some days whether enough stayed.",
                drifting.into_iter().collect::<Vec<_>>().join(", "),
                super::build::decimal(
                    i64::try_from(scenario.drift.homing_metres).unwrap_or(i64::MAX),
                    1000.0
                ),
                counted(flying_home(report), "bee", "bees"),
                super::build::decimal(scenario.drift.flying.0, 10.0),
            ),
        );
    }
    let robbing = if report.compartments.iter().any(|c| c.feed_kg > 0.0) {
        "Open combs and feed start robbing: cover frames, feed at dusk, spill nothing, keep entrances small."
    } else {
        "Open combs start robbing: cover frames, work fast, keep entrances small."
    };
    add("robbing", robbing.into());
    add("cells", "Ripe cells: upright, warm, never knocked. They hatch within a day or two, so the day cannot be put off; if the weather turns, cage the queens or keep the cells warm at home.".into());
    add("brood-disease", "Check each donor for brood disease before a comb moves. Move nothing from a colony in doubt.".into());
    add("movement-law", "Notifiable disease, standstill and movement law: local rules and your bee inspector decide, not this plan.".into());
    add(
        "stings",
        "Stings can kill: veil on, know who is allergic and where their medicine is, telephone at hand, do not work alone."
            .into(),
    );
    add(
        "lifting",
        "Full boxes are heavy: lift with two, or frame by frame.".into(),
    );
    add("fire", "A smoker starts fires: bare ground, water beside it, out and cold before it goes in a vehicle.".into());
    list
}

/// What to mind where figures of several plans are set side by side.
pub(super) const NO_PLAN: &str = "These are figures, no plan to work by: `spareframe stock` says \
                                  what goes where and what to mind.";

fn thin_cover(report: &Report, add: &mut impl FnMut(&str, String)) {
    let thin: Vec<_> = report
        .compartments
        .iter()
        .filter(|c| c.bees_staying < c.bees_to_cover_brood)
        .collect();
    let worst = thin
        .iter()
        .max_by_key(|c| c.bees_to_cover_brood - c.bees_staying);
    if let Some(worst) = worst {
        add(
            "thin-cover",
            format!(
                "{} fewer bees than would cover the brood given; worst: {} ({} stay, {} would cover it). Brood may chill: add bees or wait for warm nights.",
                counted(
                    i64::try_from(thin.len()).unwrap_or(i64::MAX),
                    "compartment has",
                    "compartments have"
                ),
                Words::of(report).compartment(worst),
                whole(worst.bees_staying),
                whole(worst.bees_to_cover_brood)
            ),
        );
    }
}

/// What the estimate of honey given up assumes.
pub(super) fn assumptions(scenario: &Scenario) -> Vec<String> {
    let mortality = super::build::decimal(scenario.colony_model.mortality.0, 10.0);
    vec![
        "Honey given up is an estimate, not a measurement and not a forecast of the crop.".into(),
        format!("Colony model of Khoury, Myerscough and Barron (2011) in daily steps; foragers lost each day: {mortality}% (a setting)."),
        "Share lost = forager-days missing in the flow / forager-days without the draw; honey given up = expected crop x that share, and stores taken in kg.".into(),
        "Charged: fixed rates for each 1000 bees, sealed cells and open cells, so that plans can be compared exactly. Simulated again: the whole draw of each colony at once.".into(),
        "Not in it: weather, swarming, disease, robbing, and what a colony without an expected crop might bring in.".into(),
    ]
}

/// "colony 4", "colonies 4, 7".
fn colonies(names: &[String]) -> String {
    let word = if names.len() == 1 {
        "colony"
    } else {
        "colonies"
    };
    format!("{word} {}", names.join(", "))
}
