//! Where frames that are done are from: a frame group, a quick count, or the store room.

use super::done::{Day, number};
use crate::reading::{Cx, Map, Names, describe, word};
use s::{ColonyId, Comb, FrameState, Origin};
use spareframe_solver as s;

impl Day<'_> {
    /// Where the frames are from, with how many of each frame group.
    pub(super) fn origins(&self, cx: &mut Cx, m: &Map, count: Option<u32>) -> Vec<(Origin, u32)> {
        match (m.get("colony"), m.get("store room")) {
            (Some(name), None) => {
                let Some(id) = self.colony(cx, name) else {
                    return Vec::new();
                };
                let quick = self.counts.get(id.0).is_some_and(|counts| counts.quick);
                if quick && !(self.numbered && m.get("group").is_some()) {
                    return self.of_counts(cx, m, id, count).unwrap_or_default();
                }
                let group = self.group(cx, m, id);
                let origin = group.map(|group| Origin::Colony(id, group));
                origin.zip(count).into_iter().collect()
            }
            (None, Some(_)) => self
                .entry(cx, m)
                .map(Origin::StoreRoom)
                .zip(count)
                .into_iter()
                .collect(),
            (Some(_), Some(n)) => {
                cx.error(
                    "two-readings",
                    n.at,
                    "`store room` beside `colony`",
                    "one place that the frames are from",
                    "remove one of them",
                );
                Vec::new()
            }
            (None, None) => {
                cx.error(
                    "missing-key",
                    m.at,
                    "frames from nowhere",
                    "`colony` and `group`, or `store room`",
                    "add where they are from",
                );
                Vec::new()
            }
        }
    }

    /// The entry of the store room that is named.
    pub(super) fn entry(&self, cx: &mut Cx, m: &Map) -> Option<usize> {
        let most = u32::try_from(self.scenario.store_room.len()).ok();
        let entry = number(cx, m, "store room", most);
        entry.and_then(|entry| usize::try_from(entry).ok())
    }

    /// The frame group of a colony that lists its frames.
    fn group(&self, cx: &mut Cx, m: &Map, id: ColonyId) -> Option<usize> {
        let groups = self.scenario.colonies.get(id.0)?.frames.len();
        if let Some(of) = m.get("of") {
            cx.error(
                "unknown-key",
                of.at,
                "`of` for a colony that lists its frames",
                format!("`group`, 1 to {groups}, in the order of the list"),
                "write `group:` instead",
            );
            return None;
        }
        if m.get("group").is_none() && groups > 1 {
            cx.error(
                "missing-key",
                m.at,
                "no `group`",
                format!("1 to {groups}, as the colony has several frame groups"),
                "add `group:`, counted from 1 in the order of the colony's frames",
            );
            return None;
        }
        let group = number(cx, m, "group", u32::try_from(groups).ok())?;
        usize::try_from(group).ok()
    }

    /// Frames of a colony with quick counts, named as they are counted: the fullest first, for nobody knows
    /// which of them it was.
    fn of_counts(
        &self,
        cx: &mut Cx,
        m: &Map,
        id: ColonyId,
        count: Option<u32>,
    ) -> Option<Vec<(Origin, u32)>> {
        let groups = &self.scenario.colonies.get(id.0)?.frames;
        let frames: Vec<&FrameState> = groups.iter().map(|g| &g.frame).collect();
        let (found, of) = alike(cx, m, &frames, &self.scenario.combs)?;
        let mut left = count?;
        let mut out = Vec::new();
        let of_it: Vec<(Origin, u32)> = found
            .into_iter()
            .filter_map(|group| Some((Origin::Colony(id, group), groups.get(group)?.count)))
            .collect();
        for &(origin, there) in &of_it {
            let taken = self.frames.get(&origin).copied().unwrap_or(0);
            let here = there.saturating_sub(taken).min(left);
            left -= here;
            out.extend((here > 0).then_some((origin, here)));
        }
        if left > 0 {
            let there: u32 = of_it.iter().map(|(_, count)| count).sum();
            cx.error(
                "not-to-take",
                m.get("of").map_or(m.at, |n| n.at),
                format!("{left} more frames of {of} than the colony has, {there}"),
                "no more than there were before",
                "write the file as it was before the day's work, or correct the record",
            );
            return None;
        }
        Some(out)
    }
}

/// Which of these frames of a colony with quick counts are meant, by index: by what they are counted as (`of`), by their
/// size (`comb`), or by both; and what they are called.
pub(super) fn alike(
    cx: &mut Cx,
    m: &Map,
    frames: &[&FrameState],
    combs: &[Comb],
) -> Option<(Vec<usize>, String)> {
    let comb = match m.get("comb") {
        Some(node) => {
            let names: Names = combs.iter().map(|comb| comb.name.as_str()).collect();
            Some(cx.find(node, "comb", &names)?)
        }
        None => None,
    };
    let of_size = |frame: &FrameState| comb.is_none_or(|comb| frame.comb.0 == comb);
    let mut there: Vec<&str> = Vec::new();
    for frame in frames.iter().filter(|frame| of_size(frame)) {
        let of = count_of(frame);
        if !there.contains(&of) {
            there.push(of);
        }
    }
    let which = format!("one of its counts: {}", there.join(", "));
    if let Some(group) = m.get("group") {
        let number = word(group).parse::<usize>().unwrap_or(1);
        let meant = there.get(number.wrapping_sub(1)).or(there.first());
        let way_out = format!("write `of: {}` instead", meant.unwrap_or(&"brood"));
        let found = format!("{} as the `group` of quick counts", describe(group));
        cx.error("two-meanings", group.at, found, which, way_out);
        return None;
    }
    let of = match (m.get("of"), there.as_slice()) {
        (Some(_), _) => Some(cx.one_of(m, "of")?),
        (None, [one]) => Some(*one),
        (None, _) if comb.is_some() => None,
        (None, _) => {
            let way_out = "add `of: brood`, or whichever it was";
            cx.error("missing-key", m.at, "no `of`", which, way_out);
            return None;
        }
    };
    let counted = |frame: &FrameState| of.is_none_or(|of| count_of(frame) == of);
    let found: Vec<usize> = (0..frames.len())
        .filter(|&at| of_size(frames[at]) && counted(frames[at]))
        .collect();
    let called: Vec<&str> = comb
        .and_then(|comb| combs.get(comb))
        .map(|comb| comb.name.as_str())
        .into_iter()
        .chain(of)
        .collect();
    if found.is_empty() {
        match m.get("of") {
            Some(of) => {
                let found = format!("`of: {}`", word(of));
                cx.error(
                    "not-to-take",
                    of.at,
                    found,
                    which,
                    "correct which they were",
                );
            }
            None => cx.error(
                "not-to-take",
                m.get("comb").map_or(m.at, |n| n.at),
                "frames of a size that the colony has not",
                "the size of its frames, or of those hung in since",
                "correct `comb`",
            ),
        }
        return None;
    }
    Some((found, called.join(", ")))
}

/// What a frame is counted as in quick counts.
pub(crate) fn count_of(frame: &FrameState) -> &'static str {
    match frame {
        FrameState { brood, .. } if brood.0 > 0 => "brood",
        FrameState { stores, .. } if stores.0 > 0 => "stores",
        FrameState { drawn, .. } if drawn.0 > 0 => "empty",
        _ => "foundation",
    }
}
