//! What a look changes in the entry of its compartment.

use super::seen::{Seen, word_of};
use super::{Look, names};
use crate::editing::{Change, New, Step, What, apply};
use crate::inspect::START;
use crate::onward::{Filled, restated};
use crate::reading::{At, Cx, Kind, Node, Value, parse};
use crate::scenario::{BROOD_AT_A_GLANCE, Loaded, Queen, SECTIONS, Stands, convert};
use spareframe_solver::{BoxKind, Hundreds, Milli, Standing};
use spareframe_weeks::{glance, stands};

/// The text with what was seen in it, and the names of compartments that it changes and of those that stand no more. None where it cannot be changed in
/// place, or would be no scenario any more.
pub(crate) fn put_in(
    cx: &mut Cx,
    (text, root): (&str, &Node),
    loaded: &Loaded,
    looks: &[Look],
) -> (Option<String>, [Vec<String>; 2]) {
    let names = names(loaded);
    let mut changes = Vec::new();
    let (mut changed, mut gone) = (Vec::new(), Vec::new());
    for look in looks {
        if look.seen == Some(Seen::Gone) {
            gone.push(look.entry);
        }
        let of = changes_of(cx, root, loaded, look);
        if !of.is_empty() && look.seen != Some(Seen::Gone) {
            changed.extend(names.get(look.entry).cloned());
        }
        changes.extend(of);
    }
    gone.sort_unstable();
    gone.dedup();
    let named = gone.iter().filter_map(|&at| names.get(at).cloned());
    let changed = [changed, named.collect()];
    if gone.len() == loaded.standing.len() && !gone.is_empty() {
        changes = vec![Change::at([], What::Gone("standing".into()))];
    } else if !gone.is_empty() {
        changes.push(Change::at([Step::from("standing")], What::Out(gone)));
    }
    if changes.is_empty() {
        return (Some(text.to_owned()), changed);
    }
    let new = apply(text, root, &changes);
    let Some(new) = new else {
        cx.error(
            "yaml",
            At::top(),
            "a change that cannot be made in the text as it is written",
            "`standing` written as in docs/scenario.md",
            "write it so, or put the figures in by hand",
        );
        return (None, changed);
    };
    let mut after = Cx::new("", SECTIONS);
    let tree = parse(&mut after, &new, START);
    if let Some(tree) = &tree {
        let _ = convert(&mut after, tree);
    }
    // What is wrong in the new text is found with it; here it is what was seen.
    for finding in after
        .findings
        .iter()
        .filter(|f| f.severity == crate::reading::Severity::Error)
    {
        cx.as_found(finding, At::top(), finding.found.clone());
    }
    (Some(new), changed)
}

/// What a look changes in its entry.
fn changes_of(cx: &mut Cx, root: &Node, loaded: &Loaded, look: &Look) -> Vec<Change> {
    let entry = look.entry;
    let (Some(was), Some(day)) = (loaded.standing.get(entry), loaded.day) else {
        return Vec::new();
    };
    let Some(kind) = loaded.scenario.boxes.get(was.counted_as.kind.0) else {
        return Vec::new();
    };
    let glance = at_a_glance(cx, loaded, (was, kind), look);
    let node = match root.get("standing").map(|node| &node.value) {
        Some(Value::List(list)) => list.get(entry),
        _ => None,
    };
    let mut whats = Vec::new();
    if let Some(seen) = look.seen {
        queen(was, seen, look, &mut whats);
    }
    let laid = was.eggs.is_some() && matches!(look.seen, Some(Seen::Taken | Seen::Queen(_)));
    let lays = matches!(look.seen, Some(Seen::Queen(now)) if lays(now));
    if glance.is_some() || (laid && !lays) {
        // What a queen has laid who is no more stays as it is expected.
        let then = glance.unwrap_or_else(|| on(loaded, was, look, day));
        let usual = loaded.counted.unwrap_or(day).max(was.since);
        whats.push(match look.day == usual {
            true => What::Gone("counted".into()),
            false => set("counted", look.day.to_string()),
        });
        whats.extend(restated(&loaded.scenario, kind, &Filled::of(&then)));
    }
    let path = || [Step::from("standing"), Step::from(entry)];
    let says = |what: &What| match (what, node) {
        (What::Gone(key), Some(node)) => node.get(key).is_some(),
        (What::Set(key, New::Scalar(new)), Some(node)) => {
            node.get(key).map(crate::reading::word) != Some(new)
        }
        _ => true,
    };
    let changes = whats.into_iter().filter(says);
    changes.map(|what| Change::at(path(), what)).collect()
}

fn set(key: &str, text: impl Into<String>) -> What {
    What::Set(key.to_owned(), New::Scalar(text.into()))
}

fn lays(queen: Queen) -> bool {
    matches!(queen, Queen::Laying | Queen::Mated | Queen::ToBeTaken)
}

/// How its queen is, and how often it has failed.
fn queen(was: &Stands, seen: Seen, look: &Look, whats: &mut Vec<What>) {
    let now = match seen {
        Seen::Queen(now) => now,
        Seen::Taken => Queen::None,
        Seen::Gone => return,
    };
    if was.queen == now && seen != Seen::Taken {
        // Known before: the first day that it was seen stays.
        return;
    }
    whats.push(set("queen", word_of(now)));
    whats.push(set("seen", look.day.to_string()));
    match was.eggs.filter(|_| lays(now)) {
        Some(eggs) => whats.push(set("eggs", eggs.to_string())),
        None => whats.push(What::Gone("eggs".into())),
    }
    // A cell keeps the day that it went in.
    if was.queen == Queen::Cell && was.round != was.since {
        whats.push(set("round", was.round.to_string()));
    }
    let lost = matches!(now, Queen::None | Queen::DroneLayer | Queen::LayingWorkers);
    let mated = matches!(was.queen, Queen::Mated | Queen::ToBeTaken);
    let open = matches!(was.queen, Queen::Cell | Queen::Virgin | Queen::Laying);
    if seen == Seen::Taken && lays(was.queen) {
        whats.push(set("taken", was.taken.saturating_add(1).to_string()));
    }
    if seen == Seen::Taken || mated {
        whats.push(What::Gone("failed".into()));
        whats.extend(was.failed_before_now().map(|n| set("failed before", n)));
    } else if lost && open {
        whats.push(set("failed", (was.failed + 1).to_string()));
    }
    if !lost {
        whats.push(What::Gone("next cell".into()));
    }
}

/// What is expected to be in it on the day of the look.
fn on(loaded: &Loaded, was: &Stands, look: &Look, day: jiff::civil::Date) -> Standing {
    let scenario = &loaded.scenario;
    let of = (&scenario.combs[..], &scenario.colony_model);
    let mut stand = was.stand(day);
    // Earlier than the day of the scenario, if the table says so.
    let before = u32::try_from((day - look.day).get_days()).unwrap_or(0);
    let Some(ago) = stand.ago.checked_sub(before) else {
        return was.counted_as.clone();
    };
    let mut model = *of.1;
    if let Some(season) = &mut model.season {
        season.counted -= i32::try_from(before).unwrap_or(0);
    }
    stand.ago = ago;
    stands((of.0, &model), &stand, None, 0)
}

/// What it holds by a glance, where one was taken.
fn at_a_glance(
    cx: &mut Cx,
    loaded: &Loaded,
    (was, kind): (&Stands, &BoxKind),
    look: &Look,
) -> Option<Standing> {
    let scenario = &loaded.scenario;
    let comb = kind.lines.first().or(kind.again.lines.first());
    let comb = comb.and_then(|line| scenario.combs.get(line.ask.comb.0));
    let full = comb.map_or(100, |comb| comb.bees.bees().0);
    let node = |(text, at): &(String, At)| Node {
        at: *at,
        value: Value::Scalar {
            text: text.clone().into(),
            plain: true,
        },
    };
    let bees = look.bees.as_ref().and_then(|bees| {
        cx.value(
            &node(bees),
            Kind::Bees,
            (0.0, 1_000_000.0),
            0.01,
            Some(full),
        )
    });
    let brood = look.brood.as_ref().and_then(|brood| {
        let combs = cx.combs_of(&node(brood), (0.0, 200.0), BROOD_AT_A_GLANCE)?;
        Some(Milli(combs.total))
    });
    if bees.is_none() && brood.is_none() {
        return None;
    }
    let then = on(loaded, was, look, loaded.day?);
    let lays = match look.seen {
        Some(Seen::Queen(now)) => lays(now),
        Some(_) => false,
        None => was.eggs.is_some(),
    };
    let bees = bees.map(Hundreds);
    Some(glance(&scenario.combs, &then, bees, brood, lays))
}
