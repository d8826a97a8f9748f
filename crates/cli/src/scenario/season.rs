//! The season: rounds to come, and what their queens are for.

use super::fields as t;
use super::known::Known;
use super::rearing::Rearing;
use super::rounds::{per_round, rained_out, rounds, too_soon};
use super::whole::date;
use crate::reading::{At, Cx, Kind, Map, Names, Node, word};
use jiff::ToSpan;
use jiff::civil::Date;
use s::{Bees, BoxId, ColonyId, Grams};
use spareframe_rearing::IntervalId;
use spareframe_solver as s;

/// Most wants (a choice).
const MOST_WANTS: usize = 50;
/// A season as the file states it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// Days of all rounds, the first first; some may be over.
    pub rounds: Vec<Date>,
    /// By round: cells at hand; `None` where they are not counted.
    pub cells: Vec<Option<u32>>,
    /// Share of the cells from which a mated queen is counted on, in percent.
    pub success: Option<u32>,
    /// Standard deviation of success between rounds, in thousandths.
    pub spread: Option<u32>,
    /// Rounds of which no queen comes.
    pub rained_out: Vec<Date>,
    /// What queens are for, the first first; none: as many as there can be.
    pub wants: Vec<Want>,
    /// Last day on which frames or bees leave a colony.
    pub last_draw: Option<Date>,
    /// Last day on which enough drones fly.
    pub drones_until: Option<Date>,
    /// What goes into winter.
    pub winter: Option<Winter>,
}

/// What queens are for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Want {
    /// What.
    pub what: What,
    /// How many; `None`: as many as there can be.
    pub count: Option<u32>,
    /// Last day on which they are of use.
    pub by: Option<Date>,
}

/// What queens are for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// They leave.
    Queens,
    /// Nuclei in a kind of box.
    Nuclei(BoxId),
    /// Colonies, each once.
    Requeen(Vec<ColonyId>),
    /// They winter where they are.
    Winter,
}

/// What goes into winter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Winter {
    /// The day on which it is looked at.
    pub on: Date,
    /// Fewest bees.
    pub bees: Option<Bees>,
    /// Food of what winters in boxes.
    pub food: Option<Grams>,
}

/// Days from one stocking to the day on which a queen may be taken, and to that on which her compartment may get its next
/// cell.
#[must_use]
pub fn usable_and_free(rearing: &Rearing) -> (i32, i32) {
    let days = |id| rearing.intervals.get(id);
    let emerged = match rearing.given {
        spareframe_rearing::Given::RipeCells => days(IntervalId::Emergence).most,
        _ => 0,
    };
    let cells_in = days(IntervalId::CellsIn).usual;
    let usable = cells_in
        .saturating_add(emerged)
        .saturating_add(days(IntervalId::Age).least);
    let free = usable
        .saturating_add(days(IntervalId::NextCell).usual)
        .saturating_sub(cells_in);
    let days = |days: u32| i32::try_from(days).unwrap_or(i32::MAX);
    (days(usable), days(free).max(1))
}

/// Reads the section `season`.
pub(super) fn season(
    cx: &mut Cx,
    node: &Node,
    (known, rearing): (&Known, &Rearing),
    sc: &s::Scenario,
    colonies: &Names,
) -> Option<Asked> {
    let m = cx.map(node, &t::SEASON)?;
    if !known.has_day {
        cx.error(
            "dates-without-day",
            node.at,
            "a season without a stocking day",
            "`day` at the top",
            "add `day: 2031-05-20`, the day of today's round",
        );
    }
    let rounds = m.get("rounds").map_or(Vec::new(), |n| rounds(cx, n));
    let days: Vec<Date> = rounds.iter().map(|(day, _)| *day).collect();
    let cells = per_round(cx, &m, &days);
    let rained_out = rained_out(cx, &m, &days);
    let share = |n: i64| u32::try_from(n).unwrap_or(0);
    let winter = m.get("winter").and_then(|n| winter(cx, n, days.last()));
    let of = Yard {
        sc,
        takes: &rearing.takes,
        colonies,
    };
    let (usable, free) = usable_and_free(rearing);
    too_soon(cx, &rounds, free);
    let mut wants = Vec::new();
    if let Some(n) = m.get("wants") {
        let list = cx.list(n);
        if !cx.too_many(n.at, list.len(), "wants", MOST_WANTS) {
            wants.extend(list.iter().filter_map(|n| want(cx, n, &of)));
        }
    }
    let first = days.first().copied().filter(|_| sc.standing.is_empty());
    if let Some(first) = first {
        let ready = first.saturating_add(usable.days());
        for (want, at) in &wants {
            not_ready(cx, want, *at, ready);
        }
    }
    Some(Asked {
        cells,
        rained_out,
        success: cx.quantity(&m, "success", 100.0, None).map(share),
        spread: cx.quantity(&m, "spread", 1000.0, None).map(share),
        last_draw: m.get("last draw").and_then(|n| date(cx, n)),
        drones_until: m.get("drones until").and_then(|n| date(cx, n)),
        wants: kept(cx, wants, winter.as_ref(), &of),
        rounds: days,
        winter,
    })
}

/// What a want may name.
struct Yard<'a> {
    sc: &'a s::Scenario,
    takes: &'a [bool],
    colonies: &'a Names,
}

const KEYS: [&str; 4] = ["queens", "nuclei", "requeen", "winter"];

fn want(cx: &mut Cx, node: &Node, of: &Yard) -> Option<(Want, At)> {
    let m = cx.map(node, &t::WANT)?;
    let by = m.get("by").and_then(|n| Some((date(cx, n)?, n.at)));
    let there: Vec<&str> = KEYS
        .into_iter()
        .filter(|key| m.get(key).is_some())
        .collect();
    let [key] = there[..] else {
        cx.error(
            "wrong-type",
            node.at,
            match there.len() {
                0 => "a want of nothing".to_owned(),
                _ => format!("`{}` in one want", there.join("` and `")),
            },
            "one of queens, nuclei, requeen, winter in each entry",
            "write an entry for each: the first is met first",
        );
        return None;
    };
    let value = m.get(key)?;
    let (what, count) = match key {
        "requeen" => {
            let colonies = colonies(cx, value, of);
            let count = u32::try_from(colonies.len()).ok();
            (What::Requeen(colonies), count)
        }
        key => {
            let count = count_or_most(cx, &m, key)?;
            let what = match key {
                "nuclei" => What::Nuclei(nuclei(cx, &m, value.at, of)?),
                "winter" => What::Winter,
                _ => What::Queens,
            };
            (what, count)
        }
    };
    let want = Want {
        what,
        count,
        by: by.map(|(by, _)| by),
    };
    Some((want, by.map_or(value.at, |(_, at)| at)))
}

/// How many; `None` within: as many as there can be.
fn count_or_most(cx: &mut Cx, m: &Map, key: &str) -> Option<Option<u32>> {
    match m.get(key).map(word) {
        Some("most") => Some(None),
        _ => {
            let node = m.get(key)?;
            let count = cx.value(node, Kind::Count, (1.0, t::COUNT), 1.0, None)?;
            Some(u32::try_from(count).ok())
        }
    }
}

fn colonies(cx: &mut Cx, node: &Node, of: &Yard) -> Vec<ColonyId> {
    let mut out = Vec::new();
    for n in cx.list(node) {
        let Some(id) = cx.find(n, "colony", of.colonies).map(ColonyId) else {
            continue;
        };
        if out.contains(&id) {
            cx.error(
                "duplicate-key",
                n.at,
                format!("colony `{}` twice", word(n)),
                "each colony once: it gets one queen",
                "remove one of them",
            );
            continue;
        }
        super::queens::untouched(cx, n.at, of.sc.colonies.get(id.0));
        out.push(id);
    }
    out
}

/// The kind of box that nuclei are made in.
fn nuclei(cx: &mut Cx, m: &Map, at: At, of: &Yard) -> Option<BoxId> {
    let takes = |kind: &usize| of.takes.get(*kind) == Some(&true);
    let kinds: Vec<usize> = (0..of.sc.boxes.len()).filter(takes).collect();
    if let Some(node) = m.get("box") {
        let names: Names = of.sc.boxes.iter().map(|kind| kind.name.as_str()).collect();
        let kind = cx.find(node, "box", &names)?;
        if takes(&kind) {
            return Some(BoxId(kind));
        }
        cx.error(
            "unknown-name",
            node.at,
            format!("nuclei in `{}`, which takes cells", word(node)),
            "a kind of box that takes mated queens",
            "add `takes: mated queens` to a kind of box, and name it",
        );
        return None;
    }
    if let [kind] = kinds[..] {
        return Some(BoxId(kind));
    }
    cx.error(
        "missing-key",
        at,
        match kinds.len() {
            0 => "nuclei, and no kind of box takes mated queens".to_owned(),
            count => format!("nuclei, and {count} kinds of box take mated queens"),
        },
        "`box`: the kind of box that they are made in",
        match kinds.len() {
            0 => "add a kind of box with the recipe of a nucleus and `takes: mated queens`",
            _ => "add `box:` with the name of one of them",
        },
    );
    None
}

/// Finds wants of a day on which no queen of the season can be ready.
fn not_ready(cx: &mut Cx, want: &Want, at: At, ready: Date) {
    if let Some(by) = want.by.filter(|by| *by < ready) {
        cx.error(
            "want-too-soon",
            at,
            format!("wanted by {by}, before any queen is ready"),
            format!("{ready} or later: queens of the first round may be taken from then on"),
            "move the day, or begin the rounds sooner",
        );
    }
}

fn winter(cx: &mut Cx, node: &Node, last: Option<&Date>) -> Option<Winter> {
    let m = cx.map(node, &t::WINTER)?;
    let node = m.get("on")?;
    let on = date(cx, node)?;
    if let Some(last) = last.filter(|last| **last >= on) {
        cx.error(
            "dates-order",
            node.at,
            format!("winter on {on}, and a round on {last}"),
            "a winter's day after the last round",
            "correct the date, or leave the round out",
        );
    }
    Some(Winter {
        on,
        bees: cx.quantity(&m, "bees", 1.0, None).map(Bees),
        food: cx.quantity(&m, "food", 1.0, None).map(Grams),
    })
}

/// Finds what is to winter or to be made, and cannot.
fn kept(cx: &mut Cx, wants: Vec<(Want, At)>, winter: Option<&Winter>, of: &Yard) -> Vec<Want> {
    let room = |kind: &s::BoxKind| u64::from(kind.count) * u64::from(kind.compartments);
    let kinds = of.sc.boxes.iter().enumerate();
    let cells = kinds.filter(|(kind, _)| of.takes.get(*kind) != Some(&true));
    let compartments: u64 = cells.map(|(_, kind)| room(kind)).sum();
    let mut wintering = 0;
    for (want, at) in &wants {
        let count = u64::from(want.count.unwrap_or(0));
        match want.what {
            What::Winter => {
                if winter.is_none() {
                    cx.error(
                        "missing-key",
                        *at,
                        "queens that are to winter, and no winter's day",
                        "`winter` in the season",
                        "add `winter: {on: 2031-10-15}`",
                    );
                }
                wintering += count;
                if wintering > compartments {
                    let found =
                        format!("{wintering} queens to winter in {compartments} compartments");
                    too_many(cx, *at, found, compartments);
                }
            }
            What::Nuclei(kind) => {
                let Some(kind) = of.sc.boxes.get(kind.0) else {
                    continue;
                };
                if count > room(kind) {
                    let found = format!("{count} nuclei in {} `{}`", room(kind), kind.name);
                    too_many(cx, *at, found, room(kind));
                }
            }
            _ => {}
        }
    }
    wants.into_iter().map(|(want, _)| want).collect()
}

fn too_many(cx: &mut Cx, at: At, found: String, most: u64) {
    let way_out = "lower the number, or state more boxes";
    cx.error(
        "more-than-made",
        at,
        found,
        format!("at most {most}"),
        way_out,
    );
}
