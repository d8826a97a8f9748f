//! What leaves each colony and what stays, as the report shows it. Sums before and after come
//! from the check, so that no figure is worked out twice.

use super::build::{Notes, bees, decimal, holds, place, site};
use super::counted::of_colony;
use super::gaps::fillings;
use super::report::{
    Adding, ColonyQueens, ColonyReport, Destination, DoneDraw, Given, Leaving, Level,
};
use super::riding::{covered_frames, dealt, full_comb, full_frame, nearly_all};
use spareframe_solver::{
    Colony, ColonyAccount, ColonyId, Compartment, FrameGroup, Gaps, Grams, Holding, Hundreds,
    Origin, Plan, Scenario, honey, share_of,
};
use std::collections::BTreeMap;

/// What goes from one colony into one compartment.
#[derive(Debug, Clone)]
struct Lot<'a> {
    to: &'a Compartment,
    /// Frame groups and frames.
    frames: Vec<(usize, u32)>,
    riding: Hundreds,
    loose: Hundreds,
}

/// What leaves one colony, by compartment in the order of the plan.
#[derive(Debug, Clone, Default)]
pub(super) struct Taken<'a> {
    lots: Vec<Lot<'a>>,
}

impl<'a> Taken<'a> {
    fn lot(&mut self, to: &'a Compartment) -> Option<&mut Lot<'a>> {
        if !self.lots.last().is_some_and(|lot| std::ptr::eq(lot.to, to)) {
            self.lots.push(Lot {
                to,
                frames: Vec::new(),
                riding: Hundreds(0),
                loose: Hundreds(0),
            });
        }
        self.lots.last_mut()
    }

    fn groups(&self) -> BTreeMap<usize, u32> {
        let mut groups: BTreeMap<usize, u32> = BTreeMap::new();
        for &(group, count) in self.lots.iter().flat_map(|lot| &lot.frames) {
            let sum = groups.entry(group).or_default();
            *sum = sum.saturating_add(count);
        }
        groups
    }

    fn frames(&self) -> u32 {
        self.groups().into_values().fold(0, u32::saturating_add)
    }

    fn bees(&self) -> Hundreds {
        let lots = self.lots.iter().flat_map(|lot| [lot.riding.0, lot.loose.0]);
        Hundreds(lots.fold(0, i64::saturating_add))
    }

    fn nothing(&self) -> bool {
        self.frames() == 0 && self.bees().0 == 0
    }
}

/// What leaves each colony, in the order of the scenario.
pub(super) fn draws<'a>(scenario: &Scenario, plan: &'a Plan) -> Vec<Taken<'a>> {
    let mut draws = vec![Taken::default(); scenario.colonies.len()];
    let mut add = |id: ColonyId, c: &'a Compartment, put: &dyn Fn(&mut Lot<'a>)| {
        if let Some(lot) = draws.get_mut(id.0).and_then(|draw| draw.lot(c)) {
            put(lot);
        }
    };
    for c in plan.touched() {
        for placed in &c.frames {
            if let Origin::Colony(id, group) = placed.origin {
                add(id, c, &|lot| lot.frames.push((group, placed.count)));
            }
        }
        for placed in &c.bees {
            add(placed.colony, c, &|lot| {
                lot.riding += placed.riding;
                lot.loose += placed.loose;
            });
        }
    }
    draws
}

fn simulated(scenario: &Scenario, colony: &Colony, taken: &Taken) -> Grams {
    let groups = taken.groups().into_iter();
    let frames: Vec<_> = groups
        .filter_map(|(g, count)| Some((colony.frames.get(g)?.frame, count)))
        .collect();
    let model = &scenario.colony_model;
    honey::simulated(&scenario.combs, colony, model, taken.bees(), &frames)
}

/// Honey given up by simulation, of all colonies together, in grams.
pub(super) fn simulated_total(scenario: &Scenario, draws: &[Taken]) -> i64 {
    let drawn = scenario.colonies.iter().zip(draws);
    drawn
        .filter(|(_, taken)| !taken.nothing())
        .map(|(colony, taken)| simulated(scenario, colony, taken).0)
        .fold(0, i64::saturating_add)
}

/// A colony that is opened; `taken` is all that leaves it, `left` what is still to be taken of that.
pub(super) fn colony(
    scenario: &Scenario,
    notes: &Notes,
    account: &ColonyAccount,
    (taken, left): (&Taken, &Taken),
    (gaps, queens): (Option<&Gaps>, Option<ColonyQueens>),
) -> Option<ColonyReport> {
    let colony = scenario.colonies.get(account.colony.0)?;
    let opens = |queens: &ColonyQueens| !queens.is_out || queens.new_from.is_some();
    if taken.nothing() && !queens.as_ref().is_some_and(opens) {
        return None;
    }
    let full = full_frame(&scenario.combs, colony);
    let counts = colony.frames.iter().map(|g| g.count);
    let frames_before = counts.fold(0, u32::saturating_add);
    let frames_after = frames_before.saturating_sub(taken.frames());
    let (leaving, adding) = hands(scenario, notes, account.colony, colony, left);
    let level = |of: fn(&Holding) -> i64, keep: i64, unit: f64| Level {
        before: decimal(of(&account.before), unit),
        after: decimal(of(&account.after), unit),
        must_keep: decimal(keep, unit),
    };
    let keep = &colony.keep;
    let estimated = |grams: Grams| colony.crop.map(|_| grams.0);
    Some(ColonyReport {
        colony: colony.name.clone(),
        site: site(scenario, colony.site.0),
        role: colony.role.clone(),
        counted: of_colony(notes, account.colony.0),
        done: done_draw(taken, left),
        leaving,
        adding,
        gaps_filled_with: gaps.map_or_else(Vec::new, |gaps| fillings(scenario, notes, gaps)),
        gaps_left_empty: gaps.map_or(0, |gaps| gaps.empty),
        gaps_foundation_would_fill: gaps.map_or(0, |gaps| gaps.foundation),
        bees_taken: bees(left.bees()),
        covered_frames: covered_frames(left.bees(), full),
        covered_comb: full_comb(&scenario.combs, colony)
            .map_or_else(String::new, |c| c.name.clone()),
        frames_before,
        frames_after,
        taken_apart: frames_before > 0 && frames_after == 0,
        shaken_bare: !colony.apart && shaken_bare(colony, account, taken),
        queen_located: colony.frames.iter().any(|g| g.queen && g.count > 0),
        queens,
        brood_frames: level(|h| h.brood.0, keep.brood.0, 1000.0),
        bees: level(|h| h.bees.bees().0, keep.bees.bees().0, 1.0),
        stores_kg: level(|h| h.stores.0, keep.stores.0, 1000.0),
        drawn_frames: level(|h| h.drawn.0, keep.drawn.0, 1000.0),
        brood_covered_percent: covered(scenario, colony, account, taken),
        gives_percent: given(scenario, colony, account, taken),
        burden: account.burden,
        honey_given_up_g: estimated(account.honey),
        honey_given_up_simulated_g: estimated(simulated(scenario, colony, taken)),
    })
}

/// What is still to be done at a colony: frames by group with their bees, and bees to add.
fn hands(
    scenario: &Scenario,
    notes: &Notes,
    id: ColonyId,
    colony: &Colony,
    left: &Taken,
) -> (Vec<Leaving>, Vec<Adding>) {
    let full = full_frame(&scenario.combs, colony);
    let mut by_group: BTreeMap<usize, Vec<Destination>> = BTreeMap::new();
    let mut adding = Vec::new();
    for lot in &left.lots {
        let Some(kind) = scenario.boxes.get(lot.to.kind.0) else {
            continue;
        };
        let (box_no, compartment) = (
            lot.to.box_no.saturating_add(1),
            lot.to.place.saturating_add(1),
        );
        let (handled, loose) = dealt(colony, &lot.frames, lot.riding, lot.loose);
        for h in handled {
            let to = Destination {
                frames: h.frames,
                bees_on_frames: h.on_frames,
                bees_each: bees(h.bees_each),
                box_kind: kind.name.clone(),
                box_no,
                compartment,
            };
            by_group.entry(h.group).or_default().push(to);
        }
        if loose.0 > 0 {
            adding.push(Adding {
                bees: bees(loose),
                covered_frames: covered_frames(loose, full),
                box_kind: kind.name.clone(),
                box_no,
                compartment,
            });
        }
    }
    let leaving = |(group, goes_to): (usize, Vec<Destination>)| {
        let frames = goes_to.iter().map(|to| to.frames);
        Some(Leaving {
            frame_group: group + 1,
            place: place(notes, Origin::Colony(id, group)),
            frames: frames.fold(0, u32::saturating_add),
            each_holds: holds(scenario, &colony.frames.get(group)?.frame),
            goes_to,
        })
    };
    (by_group.into_iter().filter_map(leaving).collect(), adding)
}

/// Sums of a figure of its frames: of all, and of those that leave.
fn sums(colony: &Colony, taken: &Taken, of: impl Fn(&FrameGroup) -> i64) -> (i64, i64) {
    let groups = taken.groups();
    let mut sums = (0_i64, 0_i64);
    for (index, group) in colony.frames.iter().enumerate() {
        let (each, gone) = (of(group), groups.get(&index).copied().unwrap_or(0));
        let times = |count: u32| each.saturating_mul(i64::from(count));
        sums.0 = sums.0.saturating_add(times(group.count));
        sums.1 = sums.1.saturating_add(times(gone));
    }
    sums
}

/// How bees that stay cover the brood that stays, before and after.
fn covered(
    scenario: &Scenario,
    colony: &Colony,
    account: &ColonyAccount,
    taken: &Taken,
) -> Option<Level> {
    let comb = |g: &FrameGroup| scenario.combs.get(g.frame.comb.0).map_or(0, |c| c.bees.0);
    let (all, gone) = sums(colony, taken, |g| g.frame.brood.0.saturating_mul(comb(g)));
    let percent = |bees: Hundreds, cover: i64| {
        let percent = bees.0.saturating_mul(100_000).checked_div(cover)?;
        (cover > 0).then(|| decimal(percent, 1.0))
    };
    let before = percent(account.before.bees, all)?;
    Some(Level {
        before,
        after: percent(account.after.bees, all.saturating_sub(gone))?,
        must_keep: decimal(colony.keep.covered.0, 1.0).min(before),
    })
}

/// Whether nearly all bees are shaken off the combs that stay, as far as anybody sees, but for those on the queen's: where
/// hers is not known, the fullest.
fn shaken_bare(colony: &Colony, account: &ColonyAccount, taken: &Taken) -> bool {
    let gone = taken.groups();
    let stay =
        |(index, group): &(usize, &FrameGroup)| group.count > gone.get(index).copied().unwrap_or(0);
    let stay = || colony.frames.iter().enumerate().filter(stay);
    let hers = stay().filter(|(_, group)| group.queen);
    let each = |(_, group): (usize, &FrameGroup)| group.frame.bees.0;
    let hers = hers.map(each).max().or(stay().map(each).max()).unwrap_or(0);
    let (all, leave) = sums(colony, taken, |group| group.frame.bees.0);
    let others = all.saturating_sub(leave).saturating_sub(hers);
    let on_combs = account.after.bees.0.saturating_sub(colony.extra_bees.0);
    let shaken = others.saturating_add(hers).saturating_sub(on_combs);
    shaken > 0 && nearly_all(shaken, others)
}

/// What it gives of its bees and of its brood cells.
fn given(scenario: &Scenario, colony: &Colony, account: &ColonyAccount, taken: &Taken) -> Given {
    let cells = |g: &FrameGroup| {
        let comb = scenario.combs.get(g.frame.comb.0);
        share_of(g.frame.brood, comb.map_or(0, |comb| comb.cells))
    };
    let (all, gone) = sums(colony, taken, cells);
    Given {
        bees: percent(taken.bees().0, account.before.bees.0),
        brood: percent(gone, all),
    }
}

/// A part in whole percent: the nearest, at least 1 of anything and at most 99 where some stays. Never more than a cap that
/// allows it: caps in percent are rounded to the nearest unit.
fn percent(part: i64, whole: i64) -> i64 {
    if part <= 0 || whole <= part {
        return if part <= 0 { 0 } else { 100 };
    }
    let halves = part.saturating_mul(200);
    let nearest = halves
        .saturating_add(whole)
        .div_euclid(whole.saturating_mul(2));
    let least_cap = -(100 - halves).div_euclid(whole.saturating_mul(2));
    nearest.min(least_cap).clamp(1, 99)
}

/// What has already left: all that is taken without what is still to be.
fn done_draw(taken: &Taken, left: &Taken) -> Option<DoneDraw> {
    let gone = Hundreds(taken.bees().0.saturating_sub(left.bees().0));
    let done = DoneDraw {
        frames: taken.frames().saturating_sub(left.frames()),
        bees: bees(gone),
    };
    (done.frames > 0 || done.bees > 0).then_some(done)
}

#[cfg(test)]
mod tests {
    use super::percent;

    #[test]
    fn a_draw_within_a_cap_is_not_shown_above_it() {
        // 35 % of 216 hundreds are 75.6, so 76 may leave.
        assert_eq!(percent(76, 216), 35);
        for whole in 1..=400_i64 {
            for cap in 1..=100 {
                let most = (whole * cap * 2 + 100).div_euclid(200);
                // All of it is all of it.
                let shown = percent(most, whole);
                assert!(shown <= cap || most == whole, "{cap} % of {whole}: {shown}");
            }
        }
    }

    #[test]
    fn shares_are_shown_to_the_nearest_percent() {
        let shown = [
            (0, 5),
            (5, 5),
            (140, 340),
            (68, 100),
            (1, 1000),
            (999, 1000),
        ];
        assert_eq!(
            shown.map(|(part, whole)| percent(part, whole)),
            [0, 100, 41, 68, 1, 99]
        );
    }
}
