//! The reasons as headed lists of sentences, which the table and the Markdown writer share.

use super::record::{
    ColonyWhy, EffectReport, LimitReport, OfferReport, ReachedReport, Thing, WhyReport,
};
use super::words;
use crate::output::counted as counted_on;
use crate::output::figures::counted;
use crate::output::headline;
use crate::output::next_cells;
use crate::output::raise;
use crate::output::report::Answer;
use crate::output::words::clean;
use std::collections::{BTreeMap, BTreeSet};

/// The heading of colonies that give nothing.
const GIVE_NOTHING: &str = "Why these colonies give nothing";

/// A heading with its items.
pub(in crate::output) struct Section {
    pub title: String,
    pub items: Vec<Item>,
}

/// A sentence, and the settings that it stands for, to be copied as they are.
pub(in crate::output) struct Item {
    pub text: String,
    pub sets: Vec<String>,
}

impl From<String> for Item {
    fn from(text: String) -> Self {
        let sets = Vec::new();
        Self { text, sets }
    }
}

/// How things are named in one report.
#[derive(Clone, Copy)]
struct Style {
    /// Frames of more than one comb are asked for, so that each must name its own.
    combs: bool,
    /// Kinds of box differ in worth, so that it is worth that counts.
    worths: bool,
}

/// Most items of a section that are shown unless all are asked for (a choice: what fits a screen).
const MOST_SHOWN: usize = 8;

/// Sentences under the title.
pub(super) fn lead(report: &WhyReport) -> Vec<String> {
    let mut lines = vec![headline::answer(&report.today)];
    lines.extend(counted_on::sentence(report.today.counted_on.as_ref()));
    if report.today.answer == Answer::Stocked {
        lines.push(headline::cost(&report.today));
    }
    if !report.exact {
        lines.push(
            "Some searches were cut short: what they would say is missing below, and an amount may not be \
             the least."
                .to_owned(),
        );
    }
    lines.extend(report.season.map(str::to_owned));
    lines
}

/// All sections that have something to say; `all` shows every item.
pub(in crate::output) fn sections(report: &WhyReport, all: bool) -> Vec<Section> {
    let style = Style {
        combs: combs(report),
        worths: report.counted_by_worth,
    };
    let combs = style.combs;
    let mut sections = Vec::new();
    forbidding(report, combs, &mut sections);
    offers(report, style, all, &mut sections);
    // What a little more of would hardly change is named on request.
    let telling = |effect: &&EffectReport| all || tells(effect);
    let told: Vec<&EffectReport> = report.limits.iter().filter(telling).collect();
    let hardly = report.limits.len() - told.len();
    let mut limits = effects(&told, style);
    limits.extend(
        report
            .limits_only_together
            .iter()
            .filter(|s| !s.stocks_more())
            .map(|sort| {
                let name = words::group(&sort.limits, combs);
                format!(
                    "{name}, only together: without them {}",
                    brings(&sort.without, style)
                )
            }),
    );
    cut(&mut limits, all);
    push(&mut sections, "What limits today's plan", limits);
    push(
        &mut sections,
        "What does not limit it",
        not_limiting(report, combs, hardly, all),
    );
    let raises = report.raise.iter().filter_map(raise::from_today);
    push(&mut sections, "Combs to raise", raises.collect());
    let (some, none): (Vec<&ColonyWhy>, Vec<&ColonyWhy>) = report
        .colonies
        .iter()
        .partition(|colony| colony.frames > 0 || colony.bees > 0);
    push(&mut sections, GIVE_NOTHING, colonies(&none, combs));
    push(
        &mut sections,
        "Why these give no more",
        colonies(&some, combs),
    );
    let kinds = report.kinds.iter().map(|kind| {
        format!(
            "{}, {} of {}: {}",
            clean(&kind.box_kind),
            kind.compartments_stocked,
            counted(
                i64::try_from(kind.compartments_in_all).unwrap_or(i64::MAX),
                "compartment",
                "compartments"
            ),
            words::kind_why(kind, combs)
        )
    });
    push(&mut sections, "Boxes not fully stocked", kinds.collect());
    let sites = report.without_sites.iter();
    let sites = sites.map(|of| words::without_site(of, style.worths));
    push(&mut sections, "What each site brings", sites.collect());
    let left = report
        .no_next_cell
        .iter()
        .filter_map(next_cells::without_cell);
    push(&mut sections, "Next cells not given", left.collect());
    sections
}

/// Colonies that give nothing and are not opened for anything else, as names and reason.
pub(in crate::output) fn closed(
    report: &WhyReport,
    opened: &BTreeSet<&str>,
) -> Vec<(String, String)> {
    let none = report.colonies.iter();
    let none = none.filter(|c| c.frames == 0 && c.bees == 0 && !opened.contains(&*c.colony));
    by_reason(&none.collect::<Vec<_>>(), combs(report))
}

fn push<T: Into<Item>>(sections: &mut Vec<Section>, title: &str, items: Vec<T>) {
    if !items.is_empty() {
        let items = items.into_iter().map(Into::into).collect();
        let title = title.to_owned();
        sections.push(Section { title, items });
    }
}

fn cut<T: From<String>>(items: &mut Vec<T>, all: bool) {
    let more = items.len().saturating_sub(MOST_SHOWN);
    if !all && more > 1 {
        items.truncate(MOST_SHOWN);
        items.push(format!("and {more} more; -v shows all").into());
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
        1 => "Nothing can be stocked as long as this holds, whatever else is eased",
        _ => "Nothing can be stocked as long as these hold, all of them, whatever else is eased",
    };
    push(sections, title, groups);
}

fn offers(report: &WhyReport, style: Style, all: bool, sections: &mut Vec<Section>) {
    let (one, none) = match report.today.answer {
        Answer::Stocked => ("To stock more, any one of these would do", "stocks more"),
        _ => (
            "To stock anything, any one of these would do",
            "stocks anything",
        ),
    };
    let item = |offer: &OfferReport| {
        let changes = offer.changes.iter();
        let texts: Vec<String> = changes
            .map(|change| words::change(change, style.combs))
            .collect();
        Item {
            text: format!("{}: {}", texts.join(", "), brings(&offer.reached, style)),
            sets: sets(offer, all),
        }
    };
    let mut single: Vec<Item> = report.one_more.iter().map(item).collect();
    let several = report.limits_only_together.iter();
    let several = several.filter(|sort| sort.stocks_more()).map(|sort| {
        let eased = words::eased(&sort.limits, ", in several colonies at once", style.combs);
        format!("{eased}: all lifted, {}", brings(&sort.without, style)).into()
    });
    single.extend(several);
    let of = match single.is_empty() {
        true => "No single change",
        false => "No other single change",
    };
    cut(&mut single, all);
    push(sections, one, single);
    let mut several = |lead: &str, offer: &Option<OfferReport>| {
        let Some(offer) = offer else { return };
        let changes = offer.changes.iter();
        let mut items: Vec<Item> = changes
            .map(|change| words::change(change, style.combs).into())
            .collect();
        items.push(Item {
            text: format!("then {}", brings(&offer.reached, style)),
            sets: sets(offer, all),
        });
        let these = match (offer.changes.len(), offer.fewest) {
            (1, _) => "this would",
            (_, true) => "these together would",
            (_, false) => "these together would, and perhaps fewer",
        };
        push(sections, &format!("{lead} {these}"), items);
    };
    several(&format!("{of} {none};"), &report.fewest_together);
    several("With nothing from outside,", &report.fewest_of_our_own);
}

fn sets(offer: &OfferReport, all: bool) -> Vec<String> {
    let sets = offer.changes.iter().filter(|_| all);
    sets.map(|change| clean(&change.set)).collect()
}

/// What a change brings: `11 compartments (+1), cost 1.60 kg (+0.20)`, or `cost 390 g less`.
fn brings(reached: &ReachedReport, style: Style) -> String {
    if reached.worth_more > 0.0 {
        let stocked = words::stocked(reached, style.worths);
        return format!("{stocked}, {}", words::cost(reached));
    }
    format!("cost {} less", words::grams(-reached.cost_more_g))
}

/// Limits that hold something back; those of several colonies with the same effect are one item.
fn effects(effects: &[&EffectReport], style: Style) -> Vec<String> {
    let mut alike: Vec<(String, String, Vec<String>)> = Vec::new();
    for effect in effects {
        let limit = words::limit(&effect.limit, style.combs);
        let text = effect_text(effect, style);
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

/// Whether one more, or the end of a hold, brings something.
fn tells(effect: &EffectReport) -> bool {
    effect.one_more.is_some() || effect.is_hold() || effect.limit.thing == Thing::WholeBoxes
}

fn effect_text(effect: &EffectReport, style: Style) -> String {
    let without = brings(&effect.without, style);
    let limit = &effect.limit;
    let step = words::figure(effect.step, limit.unit.unwrap_or_default());
    let step = match limit.thing {
        Thing::Hold => return format!("once that is over, {without}"),
        _ if effect.is_hold() => return format!("without it {without}"),
        Thing::WholeBoxes => return format!("stocked in part, {without}"),
        thing if thing.is_floor() => format!("{step} less"),
        _ => format!("{step} more"),
    };
    let brought = effect.one_more.as_ref();
    match brought.map(|one| brings(&one.reached, style)) {
        None => format!("{step}: hardly a change; without it {without}"),
        Some(brought) if brought == without => format!("{step}: {brought}"),
        Some(brought) => format!("{step}: {brought}; without it {without}"),
    }
}

/// Limits that hold nothing back, in one sentence: how many, or which sorts. Nothing where some are not known:
/// a sort may hold some of these.
fn not_limiting(report: &WhyReport, combs: bool, hardly: usize, all: bool) -> Vec<String> {
    let others = match report.exact {
        true => report.not_limiting.len(),
        false => 0,
    };
    if !all {
        return match others + hardly {
            0 => Vec::new(),
            1 => vec!["easing the other limit changes little or nothing; -v names it".to_owned()],
            n => vec![format!(
                "easing any one of the other {n} limits a little changes little or nothing; -v names them, and what \
                 lifting them would do"
            )],
        };
    }
    if !report.exact {
        return Vec::new();
    }
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
    vec![format!(
        "easing any one of these changes little or nothing: {}",
        names.join("; ")
    )]
}

/// Colonies with the same reason are one item.
fn colonies(list: &[&ColonyWhy], combs: bool) -> Vec<String> {
    let alike = by_reason(list, combs).into_iter();
    alike
        .map(|(names, text)| format!("{names}: {text}"))
        .collect()
}

/// Colonies by the words on them: their names, and the words.
fn by_reason(list: &[&ColonyWhy], combs: bool) -> Vec<(String, String)> {
    let mut alike: Vec<(String, Vec<String>)> = Vec::new();
    for colony in list {
        let text = words::colony_why(colony, combs);
        let name = clean(&colony.colony);
        match alike.iter_mut().find(|(other, _)| *other == text) {
            Some((_, names)) => names.push(name),
            None => alike.push((text, vec![name])),
        }
    }
    let item = |(text, names): (String, Vec<String>)| match names.len() {
        1 => (words::names(&names), text),
        _ => (words::names(&names), words::of_several(&text)),
    };
    alike.into_iter().map(item).collect()
}
