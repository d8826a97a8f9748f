//! Sentences on limits and changes, from the record alone.

use super::record::{
    AskReport, ChangeReport, ColonyBecause, ColonyWhy, GroupReport, KindBecause, KindWhy,
    LimitReport, ReachedReport, Thing,
};
use crate::output::figures::{counted, percent, whole};
use crate::output::words::clean;

/// A figure with its unit: `1.2 brood frames`, `3 kg`, `1 frame`.
pub(super) fn figure(value: f64, unit: &str) -> String {
    let one = (value - 1.0).abs() < 1e-9;
    let unit = match unit {
        "frames" if one => "frame",
        "brood frames" if one => "brood frame",
        "drawn combs" if one => "drawn comb",
        "bees" if one => "bee",
        "cells" if one => "cell",
        "boxes" if one => "box",
        other => other,
    };
    format!("{} {unit}", number(value))
}

/// A number with a mark for thousands and no more decimals than it has.
fn number(value: f64) -> String {
    if value.fract() == 0.0 {
        #[expect(clippy::cast_possible_truncation, reason = "figures of an apiary")]
        return whole(value as i64);
    }
    value.to_string()
}

/// What a frame must hold: `brood 50%`, `stores 30%, drawn 50%`, `foundation`.
pub(super) fn holding(ask: &AskReport, many_combs: bool) -> String {
    let mut parts = Vec::new();
    if many_combs {
        parts.push(clean(&ask.comb));
    }
    if ask.foundation {
        parts.push("foundation".to_owned());
        return parts.join(", ");
    }
    let begun = parts.len();
    for (name, share) in [
        ("brood", ask.brood_share),
        ("sealed brood", ask.sealed_share),
        ("stores", ask.stores_share),
        ("drawn", ask.drawn_share),
    ] {
        if share > 0.0 {
            parts.push(format!("{name} {}", percent(share)));
        }
    }
    if parts.len() == begun {
        parts.push("any".to_owned());
    }
    parts.join(", ")
}

/// More frames of one kind: `2 more frames (brood 50%)`.
fn more(change: &ChangeReport, what: &str, one: &str, many: &str) -> String {
    let by = change.by.unwrap_or(0.0);
    let name = if (by - 1.0).abs() < 1e-9 { one } else { many };
    let number = number(by);
    format!("{number} more {name}{what}")
}

fn colony(limit: &LimitReport) -> String {
    format!(
        "colony {}",
        clean(limit.colony.as_deref().unwrap_or_default())
    )
}

/// A change as a short clause.
pub(super) fn change(change: &ChangeReport, many_combs: bool) -> String {
    let limit = &change.limit;
    let unit = limit.unit.unwrap_or_default();
    let to = figure(change.to.unwrap_or(0.0), unit);
    let now = number(limit.now.unwrap_or(0.0));
    let kind = clean(limit.box_kind.as_deref().unwrap_or_default());
    match limit.thing {
        Thing::Frames => {
            let held = limit.frame.as_ref();
            let held = held.map_or(String::new(), |ask| {
                format!(" ({})", holding(ask, many_combs))
            });
            more(change, &held, "frame", "frames")
        }
        Thing::Bees => {
            let site = clean(limit.site.as_deref().unwrap_or_default());
            more(change, &format!(" at {site}"), "bee", "bees")
        }
        Thing::Cells => more(change, "", "cell or queen", "cells or queens"),
        Thing::Boxes => more(change, &format!(", {kind}"), "box", "boxes"),
        Thing::WholeBoxes => format!("stock {kind} in part"),
        Thing::HoneyCap => format!("honey cap of all colonies {to} instead of {now}"),
        Thing::KeepBrood | Thing::KeepBees | Thing::KeepStores | Thing::KeepDrawn => {
            let of = match limit.thing {
                Thing::KeepStores => " of stores",
                _ => "",
            };
            format!("{} keeps {to}{of} instead of {now}", colony(limit))
        }
        Thing::DrawFrames | Thing::DrawBrood | Thing::DrawBees => {
            format!("{} may give {to} instead of {now}", colony(limit))
        }
        Thing::DrawHoney => {
            format!(
                "{} may give up {to} of honey instead of {now}",
                colony(limit)
            )
        }
        Thing::Hold => format!("{} once its hold is over", colony(limit)),
    }
}

/// A limit as a clause without its colony; `now` where it is the same for all that are meant.
pub(super) fn limit(limit: &LimitReport, many_combs: bool) -> String {
    let now = limit
        .now
        .map(|now| figure(now, limit.unit.unwrap_or_default()));
    let now = now.unwrap_or_default();
    let kind = clean(limit.box_kind.as_deref().unwrap_or_default());
    match limit.thing {
        Thing::Frames => {
            let held = limit.frame.as_ref();
            format!(
                "frames ({})",
                held.map_or(String::new(), |ask| holding(ask, many_combs))
            )
        }
        Thing::Bees => format!(
            "bees at {}",
            clean(limit.site.as_deref().unwrap_or_default())
        ),
        Thing::Cells => format!("cells or queens ({})", number(limit.now.unwrap_or(0.0))),
        Thing::Boxes => format!("boxes of {kind}"),
        Thing::WholeBoxes => format!("{kind} stocked whole only"),
        Thing::HoneyCap => format!("honey cap of all colonies ({now})"),
        Thing::KeepBrood | Thing::KeepBees | Thing::KeepDrawn => format!("must keep {now}"),
        Thing::KeepStores => format!("must keep {now} of stores"),
        Thing::DrawFrames | Thing::DrawBrood | Thing::DrawBees => {
            format!("may give {now} at most")
        }
        Thing::DrawHoney => format!("may give up {now} of honey at most"),
        Thing::Hold => {
            let reason = limit.reason.as_deref().map(clean).unwrap_or_default();
            format!("on hold: {reason}")
        }
    }
}

/// Limits of one sort: `what colonies must keep of brood`.
pub(super) fn group(group: &GroupReport, many_combs: bool) -> String {
    match group.thing {
        Thing::Frames => {
            let held = group.frame.as_ref();
            format!(
                "frames ({})",
                held.map_or(String::new(), |ask| holding(ask, many_combs))
            )
        }
        Thing::Bees => format!(
            "bees at {}",
            clean(group.site.as_deref().unwrap_or_default())
        ),
        thing => sort(thing).to_owned(),
    }
}

/// A sort of limits, but for frames and bees.
pub(super) fn sort(thing: Thing) -> &'static str {
    match thing {
        Thing::Frames => "frames",
        Thing::Bees => "bees",
        Thing::Cells => "cells or queens",
        Thing::Boxes => "boxes",
        Thing::WholeBoxes => "boxes stocked whole only",
        Thing::HoneyCap => "the honey cap of all colonies",
        Thing::KeepBrood => "the brood that colonies must keep",
        Thing::KeepBees => "the bees that colonies must keep",
        Thing::KeepStores => "the stores that colonies must keep",
        Thing::KeepDrawn => "the drawn combs that colonies must keep",
        Thing::DrawFrames => "the frames that colonies may give at most",
        Thing::DrawBrood => "the brood that colonies may give at most",
        Thing::DrawBees => "the bees that colonies may give at most",
        Thing::DrawHoney => "the honey that colonies may give up at most",
        Thing::Hold => "colonies on hold",
    }
}

/// Compartments and worth after a change: `11 compartments (+1)`; by worth where kinds differ in it.
pub(super) fn stocked(reached: &ReachedReport, by_worth: bool) -> String {
    let worth = format!("worth {} (+{})", reached.worth, rounded(reached.worth_more));
    match (reached.compartments_stocked, reached.compartments_more) {
        (Some(stocked), Some(more)) if !by_worth => {
            let stocked = i64::try_from(stocked).unwrap_or(i64::MAX);
            format!(
                "{} (+{more})",
                counted(stocked, "compartment", "compartments")
            )
        }
        _ => worth,
    }
}

fn rounded(worth: f64) -> f64 {
    (worth * 1000.0).round() / 1000.0
}

/// Honey after a change: `honey 1.41 kg (+0.20)`, or `no honey given up`.
pub(super) fn honey(reached: &ReachedReport) -> String {
    let all = reached.honey_given_up_charged_estimate_kg;
    let price = reached.honey_price_estimate_kg;
    let shown = format!("{price:+.2}");
    let same = shown.trim_start_matches(['+', '-']) == "0.00";
    if all == 0.0 && same {
        return "no honey given up".to_owned();
    }
    let price = if same { "same".to_owned() } else { shown };
    format!("honey {all:.2} kg ({price})")
}

/// Names in a row: `2, 3 and 5`.
pub(super) fn names(list: &[String]) -> String {
    match list {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// Why a colony gives nothing, or no more, without its name.
pub(super) fn colony_why(why: &ColonyWhy, many_combs: bool) -> String {
    let because = |because: &ColonyBecause| match because {
        ColonyBecause::OnHold(reason) if reason.is_empty() => "on hold".to_owned(),
        ColonyBecause::OnHold(reason) => format!("on hold: {}", clean(reason)),
        ColonyBecause::Below { floor, has } => format!(
            "has {}, {}",
            figure(*has, floor.unit.unwrap_or_default()),
            limit(floor, many_combs)
        ),
        ColonyBecause::NothingFits => "no frame of it fits a line".to_owned(),
        ColonyBecause::GaveAll(asks) => {
            let kinds: Vec<String> = asks.iter().map(|ask| holding(ask, many_combs)).collect();
            format!(
                "every frame of it with {} is given",
                kinds.join(" or with ")
            )
        }
        ColonyBecause::Limits(limits) => {
            let limits: Vec<String> = limits.iter().map(|of| limit(of, many_combs)).collect();
            limits.join(", ")
        }
        ColonyBecause::LimitsTogether(limits) => {
            let limits: Vec<String> = limits.iter().map(|of| limit(of, many_combs)).collect();
            format!("only together: {}", limits.join(", "))
        }
        ColonyBecause::TooDear => "too dear in honey".to_owned(),
        ColonyBecause::NotNeeded if why.frames > 0 || why.bees > 0 => {
            "none of its limits holds anything back".to_owned()
        }
        ColonyBecause::NotNeeded => "nothing it has would help".to_owned(),
        ColonyBecause::NotKnown => "not known".to_owned(),
    };
    // What it has less of than it must keep says the limit already.
    let below = |of: &LimitReport| {
        why.because.iter().any(
            |other| matches!(other, ColonyBecause::Below { floor, .. } if floor.thing == of.thing),
        )
    };
    let said = why.because.iter().filter(|because| match because {
        ColonyBecause::Limits(limits) => !limits.iter().all(below),
        _ => true,
    });
    said.map(because).collect::<Vec<_>>().join("; ")
}

/// Why no more of a kind is stocked, without its name.
pub(super) fn kind_why(why: &KindWhy, many_combs: bool) -> String {
    match &why.because {
        KindBecause::WorthLess(worth) => {
            format!("one more would lower the worth of all by {worth}")
        }
        KindBecause::NoBetter => {
            "one more would take the place of another kind, and be no better".to_owned()
        }
        KindBecause::Never => "one more cannot be stocked even with every limit lifted".to_owned(),
        KindBecause::NotKnown => "not known".to_owned(),
        KindBecause::Limits(groups) => {
            let groups: Vec<String> = groups.iter().map(|of| group(of, many_combs)).collect();
            match groups.as_slice() {
                [one] => format!("easing {one} would allow one more"),
                several => format!("easing {} together would allow one more", names(several)),
            }
        }
    }
}
