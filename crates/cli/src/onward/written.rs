//! Frames and shares as a scenario has them.

use crate::editing::{New, quoted};
use spareframe_solver::{Comb, CombId, FrameState, Hundreds, Milli, share_of};

/// A share in percent, exact.
pub(crate) fn share(share: Milli) -> String {
    let (whole, tenth) = (share.0.div_euclid(10), share.0.rem_euclid(10));
    match tenth {
        0 => format!("{whole} %"),
        _ => format!("{whole}.{tenth} %"),
    }
}

/// Frames alike, in brackets: what each holds. `usual` is the comb that need not be named; bees stand there where
/// they are asked for.
pub(crate) fn frames(
    combs: &[Comb],
    (frame, count): (&FrameState, u32),
    usual: Option<CombId>,
    bees: Option<Hundreds>,
) -> New {
    let mut map = vec![("count", count.to_string())];
    let comb = combs.get(frame.comb.0);
    if let Some(comb) = comb.filter(|_| usual != Some(frame.comb)) {
        map.push(("comb", quoted(&comb.name)));
    }
    if frame.brood.0 > 0 {
        map.push(("brood", share(frame.brood)));
        map.push(("sealed", part_of(frame.sealed.0, frame.brood.0)));
    }
    if frame.stores.0 > 0 {
        map.push(("stores", share(frame.stores)));
    }
    if frame.drawn.0 < 1000 {
        map.push(("drawn", share(frame.drawn)));
    }
    if let Some(bees) = bees {
        let full = comb.map_or(1, |comb| comb.bees.0).max(1);
        map.push(("bees", part_of(bees.0, full)));
    }
    brackets(map)
}

/// A part of a whole as a share, as short as it reads back the same.
fn part_of(part: i64, whole: i64) -> String {
    let nearest = |unit: i64| (2 * part * unit + whole).div_euclid(2 * whole);
    let percent = nearest(100);
    match share_of(Milli(10 * percent), whole) == part {
        true => format!("{percent} %"),
        false => share(Milli(nearest(1000))),
    }
}

/// A map in brackets.
pub(crate) fn brackets(map: Vec<(&str, String)>) -> New {
    let entries: Vec<String> = map
        .iter()
        .map(|(key, text)| format!("{key}: {text}"))
        .collect();
    New::Scalar(format!("{{{}}}", entries.join(", ")))
}
