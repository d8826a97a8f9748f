//! Which bees go with which frame: from the totals of a compartment to what the hands do.

use super::report::BeesOnFrames;
use spareframe_solver::{Colony, FrameGroup, FrameState, Hundreds};

/// Frames alike of one group that go to one compartment with as many bees each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Handled {
    pub group: usize,
    pub frames: u32,
    pub bees_each: Hundreds,
    pub on_frames: BeesOnFrames,
}

/// Deals the bees of one colony for one compartment out to the frames that go there. Brood frames get
/// the least that must ride, then are filled one by one, so that few are shaken; frames without brood carry as many of
/// the loose ones as there is room for, so that none are brushed off and put back. Also returns the loose bees that no
/// frame carries.
pub(super) fn dealt(
    colony: &Colony,
    frames: &[(usize, u32)],
    riding: Hundreds,
    loose: Hundreds,
) -> (Vec<Handled>, Hundreds) {
    let mut single: Vec<(usize, FrameState)> = Vec::new();
    for &(group, count) in frames {
        if let Some(FrameGroup { frame, .. }) = colony.frames.get(group) {
            single.extend((0..count).map(|_| (group, *frame)));
        }
    }
    let least = |frame: &FrameState| match frame.brood.0 > 0 {
        true => -(-colony.rides.0 * frame.bees.0).div_euclid(100),
        false => 0,
    };
    let (mut riding, mut loose) = (riding.0.max(0), loose.0.max(0));
    let mut each: Vec<i64> = Vec::new();
    for (_, frame) in &single {
        let first = least(frame).min(riding);
        riding -= first;
        each.push(first);
    }
    // Those that lack fewest come first, so that most frames go as they are.
    let mut order: Vec<(&FrameState, &mut i64)> = single
        .iter()
        .map(|(_, frame)| frame)
        .zip(&mut each)
        .collect();
    order.sort_by_key(|(frame, bees)| frame.bees.0 - **bees);
    for (frame, bees) in order {
        let left = match frame.brood.0 > 0 {
            true => &mut riding,
            false => &mut loose,
        };
        let more = (frame.bees.0 - *bees).clamp(0, *left);
        *left -= more;
        *bees += more;
    }
    (runs(&single, &each), Hundreds(loose.saturating_add(riding)))
}

/// Frames alike that follow each other as one.
fn runs(single: &[(usize, FrameState)], each: &[i64]) -> Vec<Handled> {
    let mut out: Vec<Handled> = Vec::new();
    for ((group, frame), &bees) in single.iter().zip(each) {
        let bees_each = Hundreds(bees);
        let same = |h: &&mut Handled| (h.group, h.bees_each) == (*group, bees_each);
        match out.last_mut().filter(same) {
            Some(last) => last.frames = last.frames.saturating_add(1),
            None => out.push(Handled {
                group: *group,
                frames: 1,
                bees_each,
                on_frames: on_frames(bees_each, frame.bees),
            }),
        }
    }
    out
}

/// Percent of the bees on a comb from which on a hand cannot tell them from all (a choice).
const NEARLY_ALL: i64 = 85;
/// Percent up to which a hand cannot tell them from none: brushing leaves as many (a choice).
const NEARLY_NONE: i64 = 100 - NEARLY_ALL;

/// Whether so many are all, as far as anybody sees.
pub(super) fn nearly_all(part: i64, whole: i64) -> bool {
    part.saturating_mul(100) >= whole.saturating_mul(NEARLY_ALL)
}

/// What the hands do so that about so many ride.
fn on_frames(ride: Hundreds, there: Hundreds) -> BeesOnFrames {
    match (ride.0, there.0) {
        (_, 0) => BeesOnFrames::None,
        (ride, there) if nearly_all(ride, there) => BeesOnFrames::All,
        (ride, there) if 100 * ride <= NEARLY_NONE * there => BeesOnFrames::BrushOff,
        _ => BeesOnFrames::ShakeLightly,
    }
}

/// Bees in covered frames of a comb that holds so many, to the nearest half.
pub(super) fn covered_frames(bees: Hundreds, full: Hundreds) -> f64 {
    let halves = (2 * bees.0 + full.0 / 2).checked_div(full.0).unwrap_or(0);
    super::build::decimal(halves, 2.0)
}

/// What a full frame of a colony holds in bees: of the comb of its first frame with brood, else of its
/// first.
pub(super) fn full_frame(combs: &[spareframe_solver::Comb], colony: &Colony) -> Hundreds {
    full_comb(combs, colony).map_or(Hundreds(0), |comb| comb.bees)
}

/// The comb of such a frame.
pub(super) fn full_comb<'a>(
    combs: &'a [spareframe_solver::Comb],
    colony: &Colony,
) -> Option<&'a spareframe_solver::Comb> {
    let mut frames = colony.frames.iter().map(|group| &group.frame);
    let brood = frames.clone().find(|frame| frame.brood.0 > 0);
    brood.or(frames.next()).and_then(|f| combs.get(f.comb.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use spareframe_solver::{CombId, Draw, Keep, Milli, Percent, SiteId};

    fn colony() -> Colony {
        let group = |brood, bees| FrameGroup {
            count: 4,
            frame: FrameState {
                comb: CombId(0),
                brood: Milli(brood),
                sealed: Milli(0),
                stores: Milli(0),
                drawn: Milli(1000),
                bees: Hundreds(bees),
            },
            queen: false,
        };
        Colony {
            name: "1".into(),
            site: SiteId(0),
            role: "nucleus".into(),
            hold: None,
            frames: vec![group(600, 21), group(0, 10), group(300, 9)],
            extra_bees: Hundreds(0),
            crop: None,
            keep: Keep::default(),
            draw: Draw::default(),
            rides: Percent(50),
            apart: false,
        }
    }

    fn shown(frames: &[(usize, u32)], riding: i64, loose: i64) -> (Vec<(u32, i64)>, i64) {
        let (handled, rest) = dealt(&colony(), frames, Hundreds(riding), Hundreds(loose));
        let runs = handled.iter().map(|h| (h.frames, h.bees_each.0));
        (runs.collect(), rest.0)
    }

    #[test]
    fn brood_frames_get_their_least_and_are_then_filled_one_by_one() {
        assert_eq!(shown(&[(0, 2)], 42, 0), (vec![(2, 21)], 0));
        assert_eq!(shown(&[(0, 2)], 32, 0), (vec![(1, 21), (1, 11)], 0));
        assert_eq!(shown(&[(0, 2)], 22, 5), (vec![(2, 11)], 5));
        let lacks_fewest = (vec![(1, 12), (1, 9)], 0);
        assert_eq!(shown(&[(0, 1), (2, 1)], 21, 0), lacks_fewest);
    }

    #[test]
    fn frames_without_brood_keep_as_many_of_their_bees_as_go_with_them() {
        assert_eq!(
            shown(&[(0, 1), (1, 1)], 21, 14),
            (vec![(1, 21), (1, 10)], 4)
        );
        assert_eq!(shown(&[(0, 1), (1, 1)], 21, 0), (vec![(1, 21), (1, 0)], 0));
        assert_eq!(shown(&[(1, 1)], 0, 4), (vec![(1, 4)], 0));
        assert_eq!(shown(&[(1, 2)], 0, 13), (vec![(1, 10), (1, 3)], 0));
        assert_eq!(shown(&[(1, 2)], 0, 15), (vec![(1, 10), (1, 5)], 0));
    }

    #[test]
    fn what_the_hands_do_depends_on_how_many_stay_on_the_frame() {
        let of = |ride, there| on_frames(Hundreds(ride), Hundreds(there));
        assert_eq!([of(21, 21), of(17, 20)], [BeesOnFrames::All; 2]);
        assert_eq!([of(17, 21), of(4, 21)], [BeesOnFrames::ShakeLightly; 2]);
        assert_eq!([of(3, 20), of(0, 21)], [BeesOnFrames::BrushOff; 2]);
        assert_eq!(of(0, 0), BeesOnFrames::None);
    }

    #[test]
    fn bees_are_counted_in_half_covered_frames() {
        let of = |bees| covered_frames(Hundreds(bees), Hundreds(21));
        assert_eq!([of(3), of(6), of(21), of(80)], [0.0, 0.5, 1.0, 4.0]);
    }
}
