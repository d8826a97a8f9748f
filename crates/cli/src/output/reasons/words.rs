//! Sentences on limits and changes, from the record alone.

use super::record::{
    AskReport, ChangeReport, ColonyBecause, ColonyWhy, GroupReport, KindBecause, KindWhy,
    LimitReport, ReachedReport, SiteWhy, SpanReport, Thing,
};
use crate::output::build::decimal;
use crate::output::figures::{counted, kilos, percent, weight, whole};
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
        "%" => return format!("{}%", number(value)),
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

/// What a frame must hold: `brood 50%`, `stores 30%, no brood`, `brood 20 to 60%`, `foundation`.
pub(super) fn holding(ask: &AskReport, many_combs: bool) -> String {
    let comb = many_combs.then(|| clean(&ask.comb));
    if ask.drawn_share.most <= 0.0 {
        let parts = comb.into_iter().chain(["foundation".to_owned()]);
        return parts.collect::<Vec<_>>().join(", ");
    }
    let shares = [
        ("brood", ask.brood_share),
        ("sealed brood", ask.sealed_share),
        ("stores", ask.stores_share),
        ("drawn", ask.drawn_share),
    ];
    let mut parts: Vec<String> = shares
        .iter()
        .filter_map(|(name, share)| span(name, share))
        .collect();
    if parts.is_empty() {
        parts.push("any".to_owned());
    }
    comb.into_iter().chain(parts).collect::<Vec<_>>().join(", ")
}

/// A share that is asked for; nothing where any will do.
fn span(name: &str, share: &SpanReport) -> Option<String> {
    let (least, most) = (percent(share.least), percent(share.most));
    match (share.least > 0.0, share.most < 1.0) {
        (false, false) => None,
        (true, false) => Some(format!("{name} {least}")),
        (false, true) if share.most <= 0.0 => Some(format!("no {name}")),
        (false, true) => Some(format!("{name} up to {most}")),
        (true, true) => Some(format!("{name} {} to {most}", least.trim_end_matches('%'))),
    }
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
    let now = match unit {
        "%" => figure(limit.now.unwrap_or(0.0), unit),
        _ => number(limit.now.unwrap_or(0.0)),
    };
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
        Thing::KeepCovered => {
            format!(
                "{}'s brood is covered to {to} instead of {now}",
                colony(limit)
            )
        }
        Thing::Rides => format!(
            "{}: {to} of the bees ride on the brood instead of {now}",
            colony(limit)
        ),
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
    let none = limit.now == Some(0.0);
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
        Thing::WholeBoxes => format!("{kind} stocked only whole"),
        Thing::HoneyCap => format!("honey cap of all colonies ({now})"),
        Thing::KeepBrood | Thing::KeepBees | Thing::KeepDrawn => format!("must keep {now}"),
        Thing::KeepStores => format!("must keep {now} of stores"),
        Thing::KeepCovered => format!("brood that stays must be covered to {now}"),
        Thing::Rides => format!("at least {now} of the bees ride on the brood"),
        Thing::DrawFrames if none => "may give no frame".to_owned(),
        Thing::DrawBrood if none => "may give no brood".to_owned(),
        Thing::DrawBees if none => "may give no bees".to_owned(),
        Thing::DrawFrames | Thing::DrawBrood | Thing::DrawBees => {
            format!("may give at most {now}")
        }
        Thing::DrawHoney => format!("may give up at most {now} of honey"),
        Thing::Hold => {
            let reason = limit.reason.as_deref().map(clean).unwrap_or_default();
            format!("on hold: {reason}")
        }
    }
}

/// What is kept, by the key of a plan: `10 kg of stores`.
pub(in crate::output) fn kept(of: &str, value: f64) -> String {
    match of {
        "stores_kg" => format!("{} of stores", figure(value, "kg")),
        "brood_frames" => figure(value, "brood frames"),
        "drawn_frames" => figure(value, "drawn combs"),
        _ => figure(value, "bees"),
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

/// Limits of one sort eased: `less of the brood that colonies must keep`, then in how many.
pub(super) fn eased(named: &GroupReport, many: &str, many_combs: bool) -> String {
    let what = group(named, many_combs);
    match named.thing {
        Thing::Hold => "colonies on hold, once their hold is over".to_owned(),
        Thing::Boxes => "more boxes of a kind that is full".to_owned(),
        Thing::WholeBoxes => "boxes stocked in part".to_owned(),
        thing if thing.is_floor() => format!("less of {what}{many}"),
        thing if thing.is_cap() => format!("more of {what}{many}"),
        _ => format!("more of {what}"),
    }
}

/// A sort of limits, but for frames and bees.
pub(super) fn sort(thing: Thing) -> &'static str {
    match thing {
        Thing::Frames => "frames",
        Thing::Bees => "bees",
        Thing::Cells => "cells or queens",
        Thing::Boxes => "boxes",
        Thing::WholeBoxes => "boxes stocked only whole",
        Thing::HoneyCap => "the honey cap of all colonies",
        Thing::KeepBrood => "the brood that colonies must keep",
        Thing::KeepBees => "the bees that colonies must keep",
        Thing::KeepStores => "the stores that colonies must keep",
        Thing::KeepDrawn => "the drawn combs that colonies must keep",
        Thing::KeepCovered => "the bees that must cover the brood in colonies",
        Thing::Rides => "the bees that must ride on brood",
        Thing::DrawFrames => "the frames that colonies may give",
        Thing::DrawBrood => "the brood that colonies may give",
        Thing::DrawBees => "the bees that colonies may give",
        Thing::DrawHoney => "the honey that colonies may give up",
        Thing::Hold => "colonies on hold",
    }
}

/// Compartments and worth after a change: `11 compartments (+1)`; by worth where kinds differ in it.
pub(super) fn stocked(reached: &ReachedReport, by_worth: bool) -> String {
    let more = match reached.worth_more.abs() < 0.0005 {
        true => "same".to_owned(),
        false => format!("{:+}", rounded(reached.worth_more)),
    };
    let worth = format!("worth {} ({more})", reached.worth);
    match compartments(reached) {
        Some(compartments) if !by_worth => compartments,
        _ => worth,
    }
}

/// Compartments after a change, where their number is known.
fn compartments(reached: &ReachedReport) -> Option<String> {
    let stocked = i64::try_from(reached.compartments_stocked?).unwrap_or(i64::MAX);
    let more = match reached.compartments_more? {
        0 => "same".to_owned(),
        more => format!("{more:+}"),
    };
    let stocked = counted(stocked, "compartment", "compartments");
    Some(format!("{stocked} ({more})"))
}

/// What is reached without the colonies of a site.
pub(super) fn without_site(of: &SiteWhy, by_worth: bool) -> String {
    let site = clean(&of.site);
    let without = match of.visited_anyway {
        true => format!("taking anything at {site}"),
        false => format!("going to {site}"),
    };
    let mut reached = stocked(&of.without, by_worth);
    if let Some(compartments) = compartments(&of.without).filter(|_| by_worth) {
        reached = format!("{compartments}, {reached}");
    }
    format!("without {without}: {reached}, {}", cost(&of.without))
}

fn rounded(worth: f64) -> f64 {
    (worth * 1000.0).round() / 1000.0
}

/// Cost after a change: `cost 1.60 kg (+0.20), honey 1.41 kg (same)`; without the honey where it is not
/// estimated, or is all of it.
pub(super) fn cost(reached: &ReachedReport) -> String {
    let cost = beside("cost", reached.cost_g, reached.cost_more_g);
    match (reached.honey_given_up_g, reached.honey_more_g) {
        (Some(honey), Some(more)) if (honey, more) != (reached.cost_g, reached.cost_more_g) => {
            format!("{cost}, {}", beside("honey", honey, more))
        }
        _ => cost,
    }
}

/// A figure and what is more or less of it, grams as kilograms.
fn beside(name: &str, grams: i64, more: i64) -> String {
    let more = match more {
        0 => "same".to_owned(),
        more => format!("{:+.2}", decimal(more, 1000.0)),
    };
    format!("{name} {} ({more})", kilos(decimal(grams, 1000.0)))
}

/// Grams as they read best: `390 g`, `1.41 kg`.
pub(super) fn grams(grams: i64) -> String {
    weight(decimal(grams, 1000.0))
}

/// Names in a row: `2, 3 and 5`.
pub(super) fn names(list: &[String]) -> String {
    match list {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// The same of several colonies as of one.
pub(super) fn of_several(why: &str) -> String {
    let parts = why.split("; ").map(|part| match part.strip_prefix("has ") {
        Some(rest) => format!("each has {rest}"),
        None => part
            .replace("none of its limits", "none of their limits")
            .replace("none of its frames", "none of their frames")
            .replace("all its frames", "all their frames")
            .replace("nothing it has", "nothing they have"),
    });
    parts.collect::<Vec<_>>().join("; ")
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
        ColonyBecause::NothingFits => "none of its frames fits a recipe line".to_owned(),
        ColonyBecause::GaveAll(asks) => {
            let kinds = asks
                .iter()
                .map(|ask| format!("({})", holding(ask, many_combs)));
            let kinds: Vec<String> = kinds.collect();
            format!("all its frames {} are given", names(&kinds))
        }
        ColonyBecause::Limits(limits) => {
            let limits = limits.iter().filter(|of| !below(why, of));
            let limits: Vec<String> = limits.map(|of| limit(of, many_combs)).collect();
            limits.join(", ")
        }
        ColonyBecause::LimitsTogether(limits) => {
            let limits: Vec<String> = limits.iter().map(|of| limit(of, many_combs)).collect();
            format!("only together: {}", limits.join(", "))
        }
        ColonyBecause::TooDear => "others cost less".to_owned(),
        ColonyBecause::NotNeeded if why.frames > 0 || why.bees > 0 => {
            "none of its limits holds anything back".to_owned()
        }
        ColonyBecause::NotNeeded => "nothing it has would help".to_owned(),
        ColonyBecause::NotKnown => "not known".to_owned(),
    };
    let said = why.because.iter().filter(|because| match because {
        ColonyBecause::Limits(limits) => !limits.iter().all(|of| below(why, of)),
        _ => true,
    });
    said.map(because).collect::<Vec<_>>().join("; ")
}

/// Whether what a colony has less of than it must keep says this limit already.
fn below(why: &ColonyWhy, of: &LimitReport) -> bool {
    let floors = why.because.iter();
    let mut floors = floors.filter_map(|because| match because {
        ColonyBecause::Below { floor, .. } => Some(floor.thing),
        _ => None,
    });
    floors.any(|thing| thing == of.thing)
}

/// Why no more of a kind is stocked, without its name.
pub(super) fn kind_why(why: &KindWhy, many_combs: bool) -> String {
    match &why.because {
        KindBecause::WorthLess(worth) => {
            format!("one more would lower the total worth by {worth}")
        }
        KindBecause::NoBetter => "one more would only replace one of another kind".to_owned(),
        KindBecause::Never => "one more cannot be stocked, even with every limit lifted".to_owned(),
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
