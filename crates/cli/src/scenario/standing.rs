//! Compartments in which bees stand from an earlier day, read from the file.

use super::done::number;
use super::fields as t;
use super::frames::frame;
use super::known::Known;
use super::limits::HUNDREDS;
use super::stands::{Barred, QUEENS, Queen, Stands};
use super::whole::date;
use crate::reading::{At, Cx, Map, Names, Node, word};
use jiff::ToSpan;
use jiff::civil::Date;
use s::{BoxId, BoxKind, FrameGroup, Hundreds};
use spareframe_colony::{BROOD_DAYS, SEALED_DAYS};
use spareframe_solver as s;

/// Rounds without a mated queen after which there is no next cell, and days without open brood (common practice:
/// the bees are old then, and workers begin to lay).
pub(crate) const MOST_FAILED: u32 = 2;
const DAYS_WITHOUT_BROOD: i32 = 28;
/// Days from the egg to the sealed cell.
const OPEN_DAYS: i32 = (BROOD_DAYS - SEALED_DAYS) as i32;
/// Furthest day from the stocking day.
const FAR: i32 = 400;

/// Reads what stands. `day` is the stocking day, `counted` the day of counts that name none.
pub(crate) fn standing(
    cx: &mut Cx,
    node: &Node,
    (known, counted): (&Known, Option<Date>),
    sc: &s::Scenario,
) -> Vec<Stands> {
    if known.day.is_none() {
        if !known.has_day {
            cx.error(
                "dates-without-day",
                node.at,
                "compartments that stand, without a stocking day",
                "`day` at the top",
                "add `day: 2031-05-20`",
            );
        }
        return Vec::new();
    }
    let boxes: Names = sc.boxes.iter().map(|b| b.name.as_str()).collect();
    let mut all: Vec<Stands> = Vec::new();
    for n in cx.list_or_none(node) {
        let days = known.day.zip(counted.or(known.day));
        let Some(one) = days.and_then(|days| stands(cx, n, (known, days), (sc, &boxes))) else {
            continue;
        };
        let place = |one: &Stands| {
            let of = &one.counted_as;
            (of.kind, of.box_no, of.place)
        };
        if all.iter().any(|other| place(other) == place(&one)) {
            cx.error(
                "duplicate-key",
                n.at,
                "a compartment that stands twice",
                "each compartment once",
                "put all that is in it into one entry, or correct `number` or `compartment`",
            );
            continue;
        }
        all.push(one);
    }
    all
}

fn stands(
    cx: &mut Cx,
    node: &Node,
    (known, (day, counted)): (&Known, (Date, Date)),
    (sc, boxes): (&s::Scenario, &Names),
) -> Option<Stands> {
    let m = cx.map(node, &t::STANDING)?;
    let kind = m.get("box").and_then(|n| cx.find(n, "box", boxes));
    let of = kind.and_then(|kind| sc.boxes.get(kind));
    let box_no = number(cx, &m, "number", of.map(|b| b.count));
    let place = number(cx, &m, "compartment", of.map(|b| b.compartments));
    let (frames, places) = frames(cx, &m, of, known).into_iter().unzip();
    let full = of.map_or(Hundreds(1), |of| known.bees_on(comb(of, known)));
    let extra = cx.quantity(&m, "extra bees", HUNDREDS, Some(full.bees().0));
    let days = days(cx, &m, day, counted);
    let from = m.get("from").map_or(&[][..], |n| cx.list(n));
    let from = from.iter().map(|n| cx.name(n)).collect();
    let queen = cx.one_of(&m, "queen");
    let queen = queen.and_then(|said| t::QUEEN.iter().position(|word| *word == said));
    let queen = queen
        .and_then(|at| QUEENS.get(at))
        .copied()
        .unwrap_or_default();
    let failed = cx.count(&m, "failed").unwrap_or(0);
    let failed_before = cx.count(&m, "failed before").unwrap_or(0);
    let taken = cx.count(&m, "taken").unwrap_or(0);
    let Days {
        since,
        counted,
        seen,
        round,
        eggs,
    } = days?;
    let round = round.unwrap_or(if queen == Queen::Cell { seen } else { since });
    let sealed = i64::from(BROOD_DAYS as u32) - i64::from(SEALED_DAYS as u32);
    let eggs = match queen {
        Queen::Laying => Some(eggs.unwrap_or(seen)),
        Queen::Mated | Queen::ToBeTaken => {
            Some(eggs.unwrap_or(seen.saturating_sub(sealed.days()).max(round)))
        }
        _ => None,
    };
    let counted_as = s::Standing {
        kind: BoxId(kind?),
        box_no: box_no?,
        place: place?,
        frames,
        extra_bees: Hundreds(extra.unwrap_or(0)),
        wants_cell: false,
    };
    let mut one = Stands {
        counted_as,
        places,
        since,
        counted,
        from,
        queen,
        seen,
        round,
        eggs,
        failed,
        failed_before,
        taken,
        cell_from: None,
        barred: None,
    };
    // A round that failed since would be counted.
    let was_taken = queen == Queen::None && taken > 0 && failed == 0;
    if was_taken && m.get("next cell").is_none() {
        one.cell_from = Some(seen.saturating_add(known.without_queen.days()));
    }
    one.barred = barred(&one, day, of?);
    let goes_in = day.saturating_add(known.cells_in.days());
    one.counted_as.wants_cell = wants_cell(cx, &m, &one) && one.may_have_cell(goes_in);
    room(cx, &m, &one.counted_as, of?, known);
    Some(one)
}

/// The comb of a kind of box.
fn comb(kind: &BoxKind, known: &Known) -> s::CombId {
    let first = kind.lines.first().or(kind.again.lines.first());
    first.map_or(known.usual(), |line| line.ask.comb)
}

fn frames(
    cx: &mut Cx,
    m: &Map,
    of: Option<&BoxKind>,
    known: &Known,
) -> Vec<(FrameGroup, Option<String>)> {
    let comb = of.map_or(known.usual(), |of| comb(of, known));
    let mut out = Vec::new();
    for n in m.get("frames").map_or(&[][..], |n| cx.list(n)) {
        let Some(read) = frame(cx, n, comb, known, false) else {
            continue;
        };
        if read.give > 0 || read.group.queen {
            cx.error(
                "out-of-range",
                n.at,
                "a wish, or the queen's frame, in a compartment that stands",
                "neither: nothing is taken from it",
                "remove `give` and `queen`; how its queen is stands beside `frames`",
            );
        }
        out.push((read.group, read.place));
    }
    out
}

/// The days of one compartment.
struct Days {
    since: Date,
    counted: Date,
    seen: Date,
    round: Option<Date>,
    eggs: Option<Date>,
}

/// The days bees went in, were counted, and the queen was seen.
fn days(cx: &mut Cx, m: &Map, day: Date, counted: Date) -> Option<Days> {
    let mut read = |key: &str| match m.get(key) {
        Some(n) => date(cx, n).map(|read| Some((read, n.at))).ok_or(()),
        None => Ok(None),
    };
    let (since, own, seen) = (read("since"), read("counted"), read("seen"));
    let (round, eggs) = (read("round").ok()?, read("eggs").ok()?);
    let (since, at) = since.ok()??;
    let mut found = false;
    let mut later = |at: At, found_as: &str, (first, by): (Date, &str)| {
        found = true;
        cx.error(
            "dates-order",
            at,
            found_as,
            format!("{first} {by}"),
            "correct the date, or the other one",
        );
    };
    if since > day {
        later(
            at,
            "bees that went in after the stocking day",
            (day, "or earlier"),
        );
    } else if (day - since).get_days() > FAR {
        later(
            at,
            "bees that went in more than 400 days ago",
            (day, "less 400 days, or later"),
        );
    }
    let mut within = |read: Option<(Date, At)>, default: Date, what: [&str; 2]| {
        let Some((read, at)) = read else {
            return default;
        };
        if read < since {
            later(at, what[0], (since, "or later, when bees went in"));
        } else if read > day {
            later(at, what[1], (day, "or earlier, the stocking day"));
        }
        read
    };
    let counted = within(
        own.ok()?,
        counted.max(since),
        [
            "a count from before bees went in",
            "a count from after the stocking day",
        ],
    );
    let seen = within(
        seen.ok()?,
        since,
        [
            "a queen seen before bees went in",
            "a queen seen after the stocking day",
        ],
    );
    let mut said = |read: Option<(Date, At)>, what: [&str; 2]| {
        read.is_some().then(|| within(read, since, what))
    };
    let round = said(
        round,
        [
            "a round that began before bees went in",
            "a round that begins after the stocking day",
        ],
    );
    let eggs = said(
        eggs,
        [
            "eggs seen before bees went in",
            "eggs seen after the stocking day",
        ],
    );
    (!found).then_some(Days {
        since,
        counted,
        seen,
        round,
        eggs,
    })
}

/// Why there is no next cell for it.
fn barred(one: &Stands, day: Date, kind: &BoxKind) -> Option<Barred> {
    if one.queen == Queen::LayingWorkers {
        return Some(Barred::LayingWorkers);
    }
    if one.failed >= MOST_FAILED {
        return Some(Barred::Failed(one.failed));
    }
    let days = (day - open_until(one, kind)?).get_days();
    (days >= DAYS_WITHOUT_BROOD).then_some(Barred::NoOpenBrood(days))
}

/// The last day on which there was open brood, or the day bees went in; `None` where a queen lays.
fn open_until(one: &Stands, kind: &BoxKind) -> Option<Date> {
    if matches!(
        one.queen,
        Queen::Laying | Queen::Mated | Queen::ToBeTaken | Queen::DroneLayer
    ) {
        return None;
    }
    let has = |of: fn(&FrameGroup) -> i64| one.counted_as.frames.iter().any(|g| of(g) > 0);
    let open = has(|g| g.frame.brood.0 - g.frame.sealed.0);
    let (from, days) = match (open, has(|g| g.frame.brood.0), kind.has_brood_line()) {
        (true, ..) => (one.counted, OPEN_DAYS),
        (false, true, _) => (one.counted, 0),
        (false, false, true) => (one.since, OPEN_DAYS),
        (false, false, false) => (one.since, 0),
    };
    from.checked_add(jiff::Span::new().days(days)).ok()
}

/// Whether a next cell is wanted and allowed; finds where it is wanted and not allowed.
fn wants_cell(cx: &mut Cx, m: &Map, one: &Stands) -> bool {
    let Some(node) = m.get("next cell") else {
        return one.queen == Queen::None && one.barred.is_none();
    };
    if !cx.flag(Some(node)) {
        return false;
    }
    if let Some(barred) = one.barred {
        cx.error(
            "no-next-cell",
            node.at,
            format!("a next cell, and {barred}"),
            "no next cell: the bees are old, and workers lay or soon will",
            "unite it, or tip it out before a full colony; write `next cell: no`, or remove it",
        );
        return false;
    }
    let there = match one.queen {
        Queen::Cell => "a cell",
        Queen::Virgin => "a virgin queen",
        Queen::Laying => "a queen that lays",
        Queen::Mated => "a mated queen",
        _ => return true,
    };
    let queen = m.get("queen").map_or("cell", word);
    cx.warn(
        "queen-in-the-way",
        node.at,
        format!("a next cell beside {there}"),
        "no queen, or one that is taken out before",
        format!("write `queen: none` or `queen: to be taken` instead of `{queen}`, or remove `next cell`"),
    );
    true
}

/// Warns of more frames and bees than there is room for.
fn room(cx: &mut Cx, m: &Map, stands: &s::Standing, kind: &BoxKind, known: &Known) {
    let frames = |lines: &[s::Line]| lines.iter().map(|line| u64::from(line.count)).sum::<u64>();
    let most = frames(&kind.lines).max(frames(&kind.again.lines));
    let there: u64 = stands.frames.iter().map(|g| u64::from(g.count)).sum();
    let at = |key: &str| m.get(key).map_or(m.at, |n| n.at);
    if there > most {
        cx.warn(
            "too-many-frames",
            at("frames"),
            format!("{there} frames in a compartment of `{}`", kind.name),
            format!("at most {most}, as in its recipe"),
            "count again, or correct `box`",
        );
    }
    let full = known.bees_on(comb(kind, known)).bees().0;
    let fit = BEES_A_FRAME * full * i64::try_from(most).unwrap_or(0);
    let bees = stands.bees().bees().0;
    if bees > fit && kind.bees.0 <= fit {
        cx.warn(
            "more-than-a-hive",
            at(if m.get("extra bees").is_some() {
                "extra bees"
            } else {
                "frames"
            }),
            format!("{bees} bees in a compartment of `{}`", kind.name),
            format!("at most {fit}, twice what covers its frames"),
            "count again, or correct `box`",
        );
    }
}

/// Warns of compartments that have no room for what their next cell asks for, as what stands in them has brood.
pub(super) fn crowded(cx: &mut Cx, top: &Map, sc: &s::Scenario) {
    let nodes = top.get("standing").map_or(&[][..], |n| cx.list_or_none(n));
    for (node, stands) in nodes.iter().zip(&sc.standing).filter(|(_, s)| s.wants_cell) {
        let Some(kind) = sc.boxes.get(stands.kind.0) else {
            continue;
        };
        let lacks = stands.lacks(&kind.again).lines;
        let more = lacks.iter().map(|l| l.count).fold(0, u32::saturating_add);
        let over = stands.over(kind, more);
        let bare = stands.frames.iter().filter(|g| g.frame.brood.0 == 0);
        if over > bare.map(|g| g.count).fold(0, u32::saturating_add) {
            let frames = if more == 1 { "frame" } else { "frames" };
            cx.warn(
                "too-many-frames",
                node.at,
                format!("no room in a compartment of `{}` for {more} more {frames}, which its next cell asks for", kind.name),
                "frames without brood, which can come out",
                "give a frame with brood to another compartment, or write `next cell: no`",
            );
        }
    }
}

/// Bees fit, for each frame, so many times as cover it (a choice: more hang outside).
const BEES_A_FRAME: i64 = 2;
