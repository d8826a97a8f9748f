//! The reasons as headed lists of sentences, which the table and the Markdown writer share.

use super::record::{
    ColonyWhy, EffectReport, LimitReport, OfferReport, ReachedReport, Thing, WhyReport,
};
use super::words;
use crate::output::headline;
use crate::output::report::Answer;
use crate::output::words::clean;
use std::collections::{BTreeMap, BTreeSet};

/// A heading with its items.
pub(super) struct Section {
    pub title: String,
    pub items: Vec<String>,
}

/// Most items of a section that are shown unless all are asked for (a choice: what fits a screen).
const MOST_SHOWN: usize = 8;

/// Sentences under the title.
pub(super) fn lead(report: &WhyReport) -> Vec<String> {
    let mut lines = vec![headline::answer(&report.today)];
    if report.today.answer == Answer::Stocked {
        lines.push(headline::honey(&report.today));
    }
    if !report.exact {
        lines.push(
            "Today's plan is not proved best, so the reasons below may miss some.".to_owned(),
        );
    }
    lines
}

/// All sections that have something to say; `all` shows every item.
pub(super) fn sections(report: &WhyReport, all: bool) -> Vec<Section> {
    let combs = combs(report);
    let mut sections = Vec::new();
    forbidding(report, combs, &mut sections);
    offers(report, combs, all, &mut sections);
    let mut limits = effects(&report.limits, combs);
    limits.extend(report.limits_only_together.iter().map(|sort| {
        let name = words::group(&sort.limits, combs);
        format!(
            "{name}, only together: without them {}",
            brings(&sort.without)
        )
    }));
    cut(&mut limits, all);
    push(&mut sections, "What limits today's plan", limits);
    let spare = not_limiting(report, combs);
    push(
        &mut sections,
        "What does not by itself: more of it would bring nothing",
        spare,
    );
    let (some, none): (Vec<&ColonyWhy>, Vec<&ColonyWhy>) = report
        .colonies
        .iter()
        .partition(|colony| colony.frames > 0 || colony.bees > 0);
    push(
        &mut sections,
        "Why these colonies give nothing",
        colonies(&none, combs),
    );
    push(
        &mut sections,
        "Why these give no more",
        colonies(&some, combs),
    );
    let kinds = report.kinds.iter().map(|kind| {
        format!(
            "{}, {} of {} compartments: {}",
            clean(&kind.box_kind),
            kind.compartments_stocked,
            kind.compartments_in_all,
            words::kind_why(kind, combs)
        )
    });
    push(
        &mut sections,
        "Boxes that are not all stocked",
        kinds.collect(),
    );
    sections
}

fn push(sections: &mut Vec<Section>, title: &str, items: Vec<String>) {
    if !items.is_empty() {
        let title = title.to_owned();
        sections.push(Section { title, items });
    }
}

fn cut(items: &mut Vec<String>, all: bool) {
    let more = items.len().saturating_sub(MOST_SHOWN);
    if !all && more > 1 {
        items.truncate(MOST_SHOWN);
        items.push(format!("and {more} more; -v shows all"));
    }
}

/// Whether frames of more than one comb are asked for, so that each must name its own.
fn combs(report: &WhyReport) -> bool {
    let effects = report.limits.iter().map(|effect| &effect.limit);
    let asks = effects
        .chain(&report.not_limiting)
        .filter_map(|limit| limit.frame.as_ref());
    asks.map(|ask| &ask.comb).collect::<BTreeSet<_>>().len() > 1
}

fn forbidding(report: &WhyReport, combs: bool, sections: &mut Vec<Section>) {
    let groups: Vec<String> = report
        .forbidding
        .iter()
        .map(|group| words::group(group, combs))
        .collect();
    let title = match groups.len() {
        0 => return,
        1 => "This alone forbids the first compartment, whatever else gives way",
        _ => "These together forbid the first compartment, whatever else gives way",
    };
    push(sections, title, groups);
}

fn offers(report: &WhyReport, combs: bool, all: bool, sections: &mut Vec<Section>) {
    let one = match report.today.answer {
        Answer::Stocked => "To stock more, any one of these would do",
        _ => "To stock anything, any one of these would do",
    };
    let mut single: Vec<String> = report
        .one_more
        .iter()
        .map(|offer| offered(offer, combs, all))
        .collect();
    cut(&mut single, all);
    push(sections, one, single);
    let mut several = |title: &str, offer: &Option<OfferReport>| {
        let Some(offer) = offer else { return };
        let changes = offer.changes.iter();
        let mut items: Vec<String> = changes
            .map(|change| {
                let set = if all {
                    setting(&change.set)
                } else {
                    String::new()
                };
                format!("{}{set}", words::change(change, combs))
            })
            .collect();
        items.push(format!("then {}", brings(&offer.reached)));
        push(sections, title, items);
    };
    several(
        "No single change stocks more; these together would",
        &report.fewest_together,
    );
    let own = match report
        .fewest_of_our_own
        .as_ref()
        .map(|offer| offer.changes.len())
    {
        Some(1) => "With nothing from outside, this would",
        _ => "With nothing from outside, these together would",
    };
    several(own, &report.fewest_of_our_own);
}

fn setting(set: &str) -> String {
    format!("; as a setting: {}", clean(set))
}

fn offered(offer: &OfferReport, combs: bool, all: bool) -> String {
    let changes = offer.changes.iter();
    let texts: Vec<String> = changes.map(|change| words::change(change, combs)).collect();
    let sets: String = if all {
        offer
            .changes
            .iter()
            .map(|change| setting(&change.set))
            .collect()
    } else {
        String::new()
    };
    format!("{}: {}{sets}", texts.join(", "), brings(&offer.reached))
}

/// What a change brings: `11 compartments (+1), honey 1.41 kg (same)`, or `0.39 kg less honey`.
fn brings(reached: &ReachedReport) -> String {
    let price = reached.honey_price_estimate_kg;
    if reached.worth_more > 0.0 {
        return format!(
            "{}, honey {}",
            words::stocked(reached),
            words::honey(reached)
        );
    }
    match format!("{:.2}", -price).as_str() {
        "0.00" => "a few grams less honey".to_owned(),
        less => format!("{less} kg less honey"),
    }
}

/// Limits that hold something back; those of several colonies with the same effect are one item.
fn effects(effects: &[EffectReport], combs: bool) -> Vec<String> {
    let mut alike: Vec<(String, String, Vec<String>)> = Vec::new();
    for effect in effects {
        let limit = words::limit(&effect.limit, combs);
        let text = effect_text(effect, combs);
        let colony = effect.limit.colony.as_deref().map(clean);
        let same = alike
            .iter_mut()
            .find(|(other, what, names)| *other == limit && *what == text && !names.is_empty());
        match (same, colony) {
            (Some((.., names)), Some(colony)) => names.push(colony),
            (_, colony) => alike.push((limit, text, colony.into_iter().collect())),
        }
    }
    let item = |(limit, text, names): (String, String, Vec<String>)| match names.as_slice() {
        [] => format!("{limit}: {text}"),
        [one] => format!("colony {one}, {limit}: {text}"),
        several => format!("colonies {}, {limit}: each {text}", words::names(several)),
    };
    alike.into_iter().map(item).collect()
}

fn effect_text(effect: &EffectReport, combs: bool) -> String {
    let without = brings(&effect.without);
    if effect.limit.thing == Thing::Hold {
        return format!("once that is over, {without}");
    }
    let Some(one) = &effect.one_more else {
        return format!("one more brings nothing; without it {without}");
    };
    let step = one
        .changes
        .first()
        .map_or(String::new(), |change| step(change, combs));
    let brought = brings(&one.reached);
    if brought == without {
        return format!("{step} brings {brought}");
    }
    format!("{step} brings {brought}; without it {without}")
}

/// One more of something: `1 more frame`, `1 brood frame less to keep`.
fn step(change: &super::record::ChangeReport, combs: bool) -> String {
    let by = words::figure(
        change.by.unwrap_or(0.0),
        change.limit.unit.unwrap_or_default(),
    );
    match change.limit.thing {
        Thing::WholeBoxes => words::change(change, combs),
        Thing::KeepBrood | Thing::KeepBees | Thing::KeepStores | Thing::KeepDrawn => {
            format!("{by} less")
        }
        _ => format!("{by} more"),
    }
}

/// Sorts of limits of which none holds anything back, in one sentence.
fn not_limiting(report: &WhyReport, combs: bool) -> Vec<String> {
    let alone = report.limits.iter().map(|effect| effect.limit.thing);
    let together = report.limits_only_together.iter();
    let together = together.map(|sort| sort.limits.thing);
    let telling: BTreeSet<Thing> = alone.chain(together).collect();
    let mut by_thing: BTreeMap<Thing, Vec<&LimitReport>> = BTreeMap::new();
    for limit in &report.not_limiting {
        by_thing.entry(limit.thing).or_default().push(limit);
    }
    let mut names = Vec::new();
    for (thing, limits) in by_thing {
        match thing {
            Thing::Frames | Thing::Bees => {
                names.extend(limits.iter().map(|limit| words::limit(limit, combs)));
            }
            // Some of the sort hold something back, which stands above.
            thing if telling.contains(&thing) => {}
            thing => names.push(words::sort(thing).to_owned()),
        }
    }
    if names.is_empty() {
        return Vec::new();
    }
    vec![names.join("; ")]
}

/// Colonies with the same reason are one item.
fn colonies(list: &[&ColonyWhy], combs: bool) -> Vec<String> {
    let mut alike: Vec<(String, Vec<String>)> = Vec::new();
    for colony in list {
        let text = words::colony_why(colony, combs);
        let name = clean(&colony.colony);
        match alike.iter_mut().find(|(other, _)| *other == text) {
            Some((_, names)) => names.push(name),
            None => alike.push((text, vec![name])),
        }
    }
    let item = |(text, names): (String, Vec<String>)| format!("{}: {text}", words::names(&names));
    alike.into_iter().map(item).collect()
}
