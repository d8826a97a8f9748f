//! Figures and phrases that the table and the Markdown writer share.

use super::report::{Answer, Carry, FramesReport, Headline, Holds, ProofReport, ProofState};

/// Text from a file, safe to show: control characters cannot reach the terminal.
pub(super) fn clean(text: &str) -> String {
    let hidden = |c: char| {
        c.is_control()
            || ('\u{202a}'..='\u{202e}').contains(&c)
            || ('\u{2066}'..='\u{2069}').contains(&c)
    };
    text.chars()
        .map(|c| if hidden(c) { '\u{fffd}' } else { c })
        .collect()
}

/// A whole number with a thin mark for thousands: `12,400`.
pub(super) fn whole(value: i64) -> String {
    let digits = value.unsigned_abs().to_string();
    let mut out = String::from(if value < 0 { "-" } else { "" });
    for (i, digit) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// So many of something, in the singular or the plural.
pub(super) fn counted(n: i64, one: &str, many: &str) -> String {
    format!("{} {}", whole(n), if n == 1 { one } else { many })
}

fn percent(share: f64) -> String {
    let tenths = (share * 1000.0).round() / 10.0;
    format!("{tenths}%")
}

/// What one frame holds: `brood 60% (40% sealed), stores 20%`.
pub(super) fn content(holds: &Holds) -> String {
    if holds.drawn_share <= 0.0 {
        return "foundation".to_owned();
    }
    let mut parts = Vec::new();
    if holds.brood_share > 0.0 {
        let sealed = if holds.sealed_share > 0.0 {
            format!(" ({} sealed)", percent(holds.sealed_share))
        } else {
            String::new()
        };
        parts.push(format!("brood {}{sealed}", percent(holds.brood_share)));
    }
    if holds.stores_share > 0.0 {
        parts.push(format!("stores {}", percent(holds.stores_share)));
    }
    if parts.is_empty() {
        parts.push(format!("drawn comb {}", percent(holds.drawn_share)));
    }
    parts.join(", ")
}

/// What a frame is first of all.
pub(super) fn short(holds: &Holds) -> &'static str {
    if holds.drawn_share <= 0.0 {
        "foundation"
    } else if holds.brood_share > 0.0 {
        "brood"
    } else if holds.stores_share > 0.0 {
        "stores"
    } else {
        "drawn comb"
    }
}

/// Where frames come from.
pub(super) fn origin(frames: &FramesReport) -> String {
    match (&frames.colony, frames.frame_group) {
        (Some(colony), Some(group)) => format!("colony {}, group {group}", clean(colony)),
        _ => "store room".to_owned(),
    }
}

/// One row of a compartment's frames.
pub(super) fn placed(frames: &FramesReport) -> String {
    let substitute = if frames.substitute.is_some() {
        ", substitute"
    } else {
        ""
    };
    format!(
        "{}, {}, from {}{substitute}",
        counted(i64::from(frames.frames), "frame", "frames"),
        short(&frames.each_holds),
        origin(frames)
    )
}

/// The first sentence of a plan.
pub(super) fn answer(headline: &Headline) -> String {
    let of = format!(
        "{} of {}",
        headline.compartments_stocked,
        counted(
            i64::try_from(headline.compartments_in_all).unwrap_or(i64::MAX),
            "compartment",
            "compartments"
        )
    );
    match headline.answer {
        Answer::Stocked => format!("{of} stocked."),
        Answer::NothingPossible => format!(
            "Nothing possible: not one of {} can be stocked without breaking a rule.",
            counted(
                i64::try_from(headline.compartments_in_all).unwrap_or(i64::MAX),
                "compartment",
                "compartments"
            )
        ),
        Answer::StoppedWithoutPlan => {
            "Stopped by the time limit before any plan was found. There may be one: \
             give it more time."
                .to_owned()
        }
    }
}

/// How sure the plan is.
pub(super) fn proof(proof: &ProofReport) -> String {
    let gap = match (&proof.open_goal, proof.reached, proof.best_possible) {
        (Some(goal), Some(reached), Some(best)) => {
            format!(" Not proved: {goal}, here {reached}, at best {best}.")
        }
        _ => String::new(),
    };
    match proof.state {
        ProofState::ProvedBest => {
            "Proved best: no plan does better in the order of the goals.".to_owned()
        }
        ProofState::BestFound => format!("Best found, not proved best.{gap}"),
        ProofState::StoppedByTimeLimit => {
            format!("Stopped by the time limit: the best found so far.{gap}")
        }
    }
}

/// Honey given up, in one sentence.
pub(super) fn honey(headline: &Headline) -> String {
    format!(
        "Honey given up (estimate): {:.2} kg charged, {:.2} kg simulated again.",
        headline.honey_given_up_charged_estimate_kg, headline.honey_given_up_simulated_estimate_kg
    )
}

/// Colonies and bees, in one sentence.
pub(super) fn work(headline: &Headline) -> String {
    format!(
        "{} opened, {} taken, {} of them shaken from frames that stay.",
        counted(i64::from(headline.colonies_opened), "colony", "colonies"),
        counted(headline.bees_taken, "bee", "bees"),
        whole(headline.bees_shaken)
    )
}

/// The items of one load.
pub(super) fn load(carry: &Carry) -> Vec<String> {
    let mut items: Vec<String> = carry
        .frames
        .iter()
        .map(|f| {
            let frames = counted(i64::from(f.frames), "frame", "frames");
            format!(
                "{frames} {}: {}",
                clean(&f.each_holds.comb),
                content(&f.each_holds)
            )
        })
        .collect();
    if carry.bees > 0 {
        items.push(counted(carry.bees, "bee", "bees"));
    }
    if carry.cells > 0 {
        items.push(counted(
            i64::from(carry.cells),
            "cell or queen",
            "cells or queens",
        ));
    }
    if carry.feed_kg > 0.0 {
        items.push(format!(
            "feed for substitutes: {:.2} kg honey equivalent",
            carry.feed_kg
        ));
    }
    items
}

/// Bees taken from a colony, in one line.
pub(super) fn bees_of(colony: &super::report::ColonyReport) -> String {
    let taken = counted(colony.bees_taken, "bee", "bees");
    if colony.bees_shaken > 0 {
        format!(
            "{taken}, of those {} shaken from frames that stay",
            whole(colony.bees_shaken)
        )
    } else if colony.bees_shaken_back > 0 {
        format!(
            "{taken} on these frames; shake {} back first",
            whole(colony.bees_shaken_back)
        )
    } else {
        format!("{taken}, all on these frames")
    }
}
