//! What can be turned on the page for one colony.

use super::dials::{MOST, Trees, Turn, at, made};
use super::figure::Figure;
use crate::output::share::live::{Dial, Opened, short};
use crate::output::words::clean;
use crate::probe::key;
use crate::reading::Node;
use crate::scenario::{Loaded, QUICK, count_of};
use spareframe_solver::{Colony, ColonyId, Compartment, FrameGroup, FrameState, Origin, Scenario};

/// A colony that is open.
pub(super) fn opened(trees: &Trees, loaded: &Loaded, at: usize) -> Option<Opened> {
    let colony = loaded.scenario.colonies.get(at)?;
    let glance = loaded.places.at_a_glance.get(at) == Some(&true);
    let expected = loaded.counts.get(at).is_some_and(|of| of.count.is_some());
    let groups = match glance {
        // What is expected hangs in other groups than what was counted.
        _ if expected => Vec::new(),
        true => counted_at_a_glance(trees, &loaded.scenario, (at, colony)),
        false => frame_by_frame(trees, &loaded.scenario, (at, colony)),
    };
    Some(Opened {
        at,
        hold: format!("colonies.{}.hold", key(&colony.name)),
        finished: finished(&loaded.scenario, at, colony),
        groups,
        floors: floors(trees, colony),
        caps: caps(trees, colony),
        more: match glance && !expected {
            true => not_counted(trees, colony),
            false => Vec::new(),
        },
        expected,
    })
}

/// Something of a colony is in the boxes, and it gives nothing more.
fn finished(scenario: &Scenario, at: usize, colony: &Colony) -> bool {
    let shut = colony.draw.frames == Some(0) && colony.draw.bees.is_some_and(|bees| bees.0 == 0);
    let of_it = |c: &Compartment| {
        let frames = c.frames.iter();
        let mut frames = frames.map(|placed| placed.origin);
        frames.any(|origin| matches!(origin, Origin::Colony(id, _) if id.0 == at))
            || c.bees.iter().any(|placed| placed.colony.0 == at)
    };
    (shut || colony.apart) && scenario.done.iter().any(of_it)
}

fn frame_by_frame(
    trees: &Trees,
    scenario: &Scenario,
    (at, colony): (usize, &Colony),
) -> Vec<(Option<Dial>, Option<Dial>)> {
    let name = &*colony.name;
    let group = |(nth, group): (usize, &FrameGroup)| {
        let entry = nth.to_string();
        let within = |key: &str| {
            format!(
                "colonies.{}.frames[{}].{key}",
                crate::probe::key(name),
                nth + 1
            )
        };
        let done = scenario.done.iter().flat_map(|c| &c.frames);
        let done = done.filter(|placed| placed.origin == Origin::Colony(ColonyId(at), nth));
        let done = done.fold(0_i64, |sum, placed| sum.saturating_add(placed.count.into()));
        let percent = |milli: i64| Figure::of(milli * 100, " %");
        let share = match (group.frame.brood.0, group.frame.stores.0) {
            (0, 0) => None,
            (0, stores) => Some(("stores", stores)),
            (brood, _) => Some(("brood", brood)),
        };
        let of = format!("colony {}, {}", clean(name), said(colony, nth));
        let count = trees.dial(
            &["colonies", name, "frames", &entry, "count"],
            Some(Figure::of(1000, "")),
            Turn {
                path: within("count"),
                label: "frames",
                of: &of,
                least: done.saturating_mul(1000),
                most: MOST,
                step: 1000,
            },
        );
        let share = share.map(|(what, now)| {
            let steps = ["colonies", name, "frames", &entry, what];
            let then = at_share(trees.before, &steps).filter(|then| *then != now);
            let turn = Turn {
                path: within(what),
                label: what,
                of: &format!("{of}, {what} on each"),
                least: 5000,
                most: 100_000,
                step: 5000,
            };
            made(&percent(now), then.map(percent).as_ref(), turn)
        });
        // The queen's frame stays; how many there are of it is not asked.
        (count.filter(|_| !group.queen), share)
    };
    colony.frames.iter().enumerate().map(group).collect()
}

/// What frames of a group are called: by what is on them, and by number where others are called so.
fn said(colony: &Colony, nth: usize) -> String {
    let groups = colony.frames.iter().filter(|group| !group.queen);
    let name = |group: &FrameGroup| short(&group.frame);
    let own = colony.frames.get(nth).map_or("", name);
    let alike = groups.filter(|group| name(group) == own).count();
    match alike {
        0 | 1 => own.to_owned(),
        _ => format!("{own} (group {})", nth + 1),
    }
}

/// A share in the file, in thousandths: `55 %`, `0.55`.
fn at_share(root: &Node, steps: &[&str]) -> Option<i64> {
    let figure = Figure::read(at(root, steps)?)?;
    match figure.unit.trim() {
        "%" => Some(figure.milli / 100),
        "" => Some(figure.milli),
        _ => None,
    }
}

/// The first frame group of each quick count has its dial: a glance counts combs, whatever is on each.
fn counted_at_a_glance(
    trees: &Trees,
    scenario: &Scenario,
    (at, colony): (usize, &Colony),
) -> Vec<(Option<Dial>, Option<Dial>)> {
    let name = &*colony.name;
    let mut seen: Vec<&str> = Vec::new();
    let group = |group: &FrameGroup| {
        let what = count_of(&group.frame);
        if !QUICK.contains(&what) || seen.contains(&what) {
            return (None, None);
        }
        seen.push(what);
        let done = scenario.done.iter().flat_map(|c| &c.frames);
        let done = done.filter(|placed| {
            let of = |nth: usize| {
                colony
                    .frames
                    .get(nth)
                    .is_some_and(|g| count_of(&g.frame) == what)
            };
            matches!(placed.origin, Origin::Colony(id, nth) if id.0 == at && of(nth))
        });
        let done = done.fold(0_i64, |sum, placed| sum.saturating_add(placed.count.into()));
        let count = i64::from(group.count).saturating_mul(1000);
        let turn = Turn {
            path: format!("colonies.{}.{what}", key(name)),
            label: what,
            of: &format!("colony {}, {what}", clean(name)),
            least: done.saturating_mul(1000),
            most: MOST,
            step: 1000,
        };
        let usual = Figure::of(count, "");
        (
            trees.dial(&["colonies", name, what], Some(usual), turn),
            None,
        )
    };
    colony.frames.iter().map(group).collect()
}

/// Quick counts that a colony has nothing of.
fn not_counted(trees: &Trees, colony: &Colony) -> Vec<Dial> {
    let counts = [
        ("brood", " combs"),
        ("stores", " combs"),
        ("empty", ""),
        ("foundation", ""),
    ];
    let there = |what: &str| {
        colony
            .frames
            .iter()
            .any(|group| count_of(&group.frame) == what)
    };
    let missing = counts.into_iter().filter(|(what, _)| !there(what));
    let dial = |(what, unit): (&str, &str)| {
        let turn = Turn {
            path: format!("colonies.{}.{what}", key(&colony.name)),
            label: what,
            of: &format!("colony {}, {what}", clean(&colony.name)),
            least: 0,
            most: MOST,
            step: 1000,
        };
        trees.dial(
            &["colonies", &colony.name, what],
            Some(Figure::of(0, unit)),
            turn,
        )
    };
    missing.filter_map(dial).collect()
}

/// Floors, as the levels of a colony are shown: brood, bees, stores, drawn combs.
fn floors(trees: &Trees, colony: &Colony) -> Vec<Option<Dial>> {
    let keep = &colony.keep;
    let totals = |of: fn(&FrameState) -> i64| {
        let each = colony.frames.iter();
        each.fold(0_i64, |sum, g| {
            sum.saturating_add(of(&g.frame).saturating_mul(g.count.into()))
        })
    };
    let bees = totals(|f| f.bees.0).saturating_add(colony.extra_bees.0);
    let limits = [
        (
            "brood",
            Figure::of(keep.brood.0, " frames"),
            totals(|f| f.brood.0),
            100,
        ),
        (
            "bees",
            Figure::of(keep.bees.bees().0.saturating_mul(1000), ""),
            bees.saturating_mul(100_000),
            500_000,
        ),
        (
            "stores",
            Figure::of(keep.stores.0, " kg"),
            keep.stores.0.max(20_000),
            500,
        ),
        (
            "drawn",
            Figure::of(keep.drawn.0, " frames"),
            totals(|f| f.drawn.0),
            500,
        ),
    ];
    let dial = |(limit, now, most, step): (&str, Figure, i64, i64)| {
        let turn = Turn {
            path: format!("colonies.{}.keep.{limit}", key(&colony.name)),
            label: limit,
            of: &format!("colony {}, must keep {limit}", clean(&colony.name)),
            least: 0,
            most,
            step,
        };
        let own = at(trees.now, &["colonies", &colony.name, "keep", limit]).is_some();
        let then =
            at(trees.before, &["colonies", &colony.name, "keep", limit]).and_then(Figure::read);
        let then = then.filter(|then| own && *then != now);
        Some(made(&now, then.as_ref(), turn))
    };
    limits.into_iter().map(dial).collect()
}

/// Caps that hold for a colony.
fn caps(trees: &Trees, colony: &Colony) -> Vec<Dial> {
    if colony.apart {
        return Vec::new();
    }
    let draw = &colony.draw;
    let limits = [
        (
            "frames",
            draw.frames.map(|n| Figure::of(i64::from(n) * 1000, "")),
            1000,
        ),
        ("honey", draw.honey.map(|g| Figure::of(g.0, " kg")), 500),
    ];
    let dial = |(limit, now, step): (&str, Option<Figure>, i64)| {
        let turn = Turn {
            path: format!("colonies.{}.draw.{limit}", key(&colony.name)),
            label: limit,
            of: &format!("colony {}, gives at most: {limit}", clean(&colony.name)),
            least: 0,
            most: 30_000,
            step,
        };
        let steps = ["colonies", &colony.name, "draw", limit];
        let then = at(trees.before, &steps).and_then(Figure::read);
        let now = now?;
        let then = then.filter(|then| *then != now);
        Some(made(&now, then.as_ref(), turn))
    };
    limits.into_iter().filter_map(dial).collect()
}
