//! Cautions for the day, and what the honey estimate assumes.

use super::calendar::{MATED_QUEENS, RIPE_CELLS};
use super::figures::{counted, some, weight};
use super::headline::flying_home;
use super::queens;
use super::report::{
    BeesOnFrames, Caution, ColonyReport, CompartmentReport, Destination, Leaving, Progress, Report,
};
use super::riding::nearly_all;
use super::words::{Words, clean};
use spareframe_solver::Scenario;
use std::collections::BTreeSet;

/// Cautions of a plan: those of this plan first, then those of every stocking day. `given` is what goes in.
pub(super) fn cautions(scenario: &Scenario, report: &Report, given: &str) -> Vec<Caution> {
    let mut list = super::done::cautions(scenario, report);
    let caution = |(id, text): (&str, String)| Caution {
        id: id.to_owned(),
        text,
    };
    list.extend(queens::cautions(report).into_iter().map(caution));
    let always = ALWAYS.map(|(id, text)| (id, text.to_owned()));
    if report.compartments.is_empty() {
        // Colonies are opened for their queens alone.
        let opens = report
            .queens
            .iter()
            .any(|queens| !queens.colonies.is_empty());
        let opens = always.into_iter().filter(|_| opens).map(caution);
        list.extend(opens);
        return list;
    }
    let own = [
        ("thin-cover", thin_cover(report)),
        ("mixed-brood", mixed_brood(report)),
        ("taken-apart", apart(report)),
        ("shaken-bare", shaken_bare(report)),
        ("queen-not-located", unseen(report)),
        ("drift", drift(scenario, report)),
        ("gaps", gaps(report)),
        ("left-without-brood", broodless(report)),
        ("no-food", hungry(report)),
        ("wild-cells", super::next_cells::caution(report)),
        ("wild-cells-moved", moved(report)),
        ("robbing", Some(robbing(report))),
        ("cells", cells(report, given)),
        ("queens", caged(queens::given(report).count(), MATED_QUEENS)),
        ("brood-disease", Some(disease(report))),
    ];
    let own = own.into_iter().filter_map(|(id, text)| Some((id, text?)));
    list.extend(own.chain(always).map(caution));
    list
}

/// What holds on every stocking day.
const ALWAYS: [(&str, &str); 4] = [
    (
        "movement-law",
        "Notifiable disease, standstill and movement law: local rules and your bee inspector decide, \
         not this plan.",
    ),
    (
        "stings",
        "Stings can kill: veil on, know who is allergic and where their medicine is, telephone at hand, \
         do not work alone.",
    ),
    (
        "lifting",
        "Full boxes are heavy: lift with two, or frame by frame.",
    ),
    (
        "fire",
        "A smoker starts fires: bare ground, water beside it, out and cold before it goes in a vehicle.",
    ),
];

/// Colonies that something is still to be taken from.
fn giving(report: &Report) -> impl Iterator<Item = &ColonyReport> {
    report.colonies.iter().filter(|c| c.gives())
}

fn named<'a>(some: impl Iterator<Item = &'a ColonyReport>) -> Option<String> {
    let names: Vec<_> = some.map(|c| clean(&c.colony)).collect();
    (!names.is_empty()).then(|| colonies(&names))
}

fn apart(report: &Report) -> Option<String> {
    let apart = || report.colonies.iter().filter(|c| c.taken_apart);
    let names = named(apart())?;
    let left = match apart().any(|c| c.bees.after > 0.0) {
        true => " Share bees left over among the boxes or unite them.",
        false => "",
    };
    Some(format!(
        "No frame stays in {names}. See to the queen first.{left} Close the empty hive."
    ))
}

/// Colonies of which hardly a bee stays on combs but on the queen's.
fn shaken_bare(report: &Report) -> Option<String> {
    let bare = || report.colonies.iter().filter(|c| c.shaken_bare);
    let first = bare().next()?;
    let (their, them) = match bare().nth(1) {
        None => ("its queen's", "it"),
        Some(_) => ("their queens'", "them"),
    };
    // Half of its bees is a round figure to begin with.
    Some(format!(
        "Hardly a bee stays on the combs of {}, but on {their}: look whether that is enough, or keep more in {them}, and \
         see what it costs: `spareframe probe SCENARIO --set 'colonies.{}.keep.bees={:.0}'`.",
        named(bare())?,
        clean(&crate::probe::key(&first.colony)),
        first.bees.before / 2.0,
    ))
}

fn unseen(report: &Report) -> Option<String> {
    let unseen = |c: &&ColonyReport| !c.queen_located && c.queens.is_none() && !c.gives_comb_only();
    let names = named(giving(report).filter(unseen))?;
    Some(format!(
        "No frame is marked as holding the queen in {names}. Find her, or be sure that there is none, \
         before a frame or a bee leaves."
    ))
}

/// Brood combs of colonies without a queen: they bear wild cells.
fn moved(report: &Report) -> Option<String> {
    let brood = |c: &&ColonyReport| {
        let mut leaving = c.leaving.iter();
        c.queenless_since().is_some() && leaving.any(|l| l.each_holds.brood_share > 0.0)
    };
    let names = named(giving(report).filter(brood))?;
    Some(format!(
        "Brood combs out of {names}, where there is no queen, bear wild cells: break every one before a comb goes into a \
         box, and look again a week later: a queen out of one that was missed kills yours."
    ))
}

/// Colonies kept for honey that are closed with gaps.
fn gaps(report: &Report) -> Option<String> {
    let names = named(report.colonies.iter().filter(|c| c.gaps_left_empty > 0))?;
    let foundation = report.colonies.iter().map(|c| c.gaps_foundation_would_fill);
    let lies = match foundation.fold(0, u32::saturating_add) {
        0 => String::new(),
        n => {
            let gaps = counted(n.into(), "gap", "gaps");
            format!(" Foundation for {gaps} lies in the store room.")
        }
    };
    Some(format!(
        "Gaps stay empty in {names}, and in a flow bees build wild comb there: bring drawn comb, or foundation \
         where they draw comb.{lies}"
    ))
}

/// Colonies that give the last of their brood.
fn broodless(report: &Report) -> Option<String> {
    let last = |c: &&ColonyReport| {
        !c.taken_apart && c.brood_frames.before > 0.0 && c.brood_frames.after <= 0.0
    };
    let names = named(report.colonies.iter().filter(last))?;
    Some(format!(
        "No brood stays in {names}: give a comb with eggs back soon, or unite what is left."
    ))
}

/// Compartments with nothing to eat.
fn hungry(report: &Report) -> Option<String> {
    let fed = |c: &CompartmentReport| {
        c.feed_kg > 0.0 || c.all_frames().any(|(_, holds)| holds.stores_share > 0.0)
    };
    let hungry: Vec<_> = report.compartments.iter().filter(|c| !fed(c)).collect();
    let they = match hungry.len() {
        0 => return None,
        1 => "as it is stocked",
        _ => "as they are stocked",
    };
    let names = Words::of(report).listed(&hungry);
    Some(format!(
        "Neither stores nor feed in {names}: feed {they}, and again while comb is drawn; `spareframe calendar` says what \
         bees and brood eat."
    ))
}

fn drift(scenario: &Scenario, report: &Report) -> Option<String> {
    let near = |c: &&CompartmentReport| c.bees.iter().map(|b| b.bees).sum::<i64>() > c.bees_staying;
    let sites: BTreeSet<_> = report
        .compartments
        .iter()
        .filter(near)
        .map(|c| clean(&c.site))
        .collect();
    let sites: Vec<_> = sites.into_iter().collect();
    let metres = i64::try_from(scenario.drift.homing_metres).unwrap_or(i64::MAX);
    (!sites.is_empty()).then(|| {
        format!(
            "Boxes at {} stand within {} km of donors: {} bees fly home, {}% of those taken from so \
             near. That share is a setting, not a measurement; look after some days whether enough \
             stayed.",
            sites.join(", "),
            super::build::decimal(metres, 1000.0),
            some(flying_home(report)),
            scenario.drift.flying.0,
        )
    })
}

fn robbing(report: &Report) -> String {
    let open = report.colonies.iter().filter(|c| c.opens()).count();
    let open = i64::try_from(open).unwrap_or(i64::MAX);
    let open = match open {
        0 => "Open combs".to_owned(),
        n => format!(
            "Today {}; open combs",
            counted(n, "hive is opened", "hives are opened")
        ),
    };
    let feed: f64 = report.compartments.iter().map(|c| c.feed_kg).sum();
    if feed > 0.0 {
        let feed = weight(feed);
        return format!(
            "{open} and {feed} of feed (honey equivalent) start robbing: cover frames, feed at dusk, \
             spill nothing, keep entrances small."
        );
    }
    format!("{open} start robbing: cover frames, work fast, keep entrances small.")
}

fn cells(report: &Report, given: &str) -> Option<String> {
    let count = report.compartments.len() - queens::given(report).count();
    if count == 0 || given != RIPE_CELLS {
        return caged(count, given);
    }
    let count = i64::try_from(count).unwrap_or(i64::MAX);
    Some(format!(
        "{}: upright, warm, never knocked. Ripe cells hatch within a day or two, so the day cannot be put off; if the weather turns, cage the queens or keep the cells \
         warm at home.",
        counted(count, "ripe cell or queen", "ripe cells or queens")
    ))
}

/// Queens that go into compartments.
fn caged(count: usize, given: &str) -> Option<String> {
    let queens = i64::try_from(count).unwrap_or(i64::MAX);
    let one = given.trim_end_matches('s');
    (count > 0).then(|| {
        format!(
            "{}: each in a cage with candy, warm, out of the sun and of draught, until the bees have taken her.",
            counted(queens, one, given)
        )
    })
}

fn disease(report: &Report) -> String {
    let donors = named(giving(report)).unwrap_or_else(|| "each donor".to_owned());
    format!(
        "Check {donors} for brood disease before a comb moves. Move nothing from a colony in doubt."
    )
}

/// Compartments still to be filled with brood or bees of more than one colony.
fn mixed_brood(report: &Report) -> Option<String> {
    let mixed = |c: &&CompartmentReport| {
        let stand = usize::from(c.stands.is_some());
        let brood = c.frames.iter().filter(|f| f.each_holds.brood_share > 0.0);
        let brood = brood.filter_map(|f| f.colony.as_ref());
        let donors: BTreeSet<_> = brood.chain(c.bees.iter().map(|b| &b.colony)).collect();
        donors.len() + stand > 1 && !donors.is_empty() && c.done != Some(Progress::Finished)
    };
    let words = Words::of(report);
    let names = report.compartments.iter().filter(mixed);
    let names: Vec<_> = names.collect();
    (!names.is_empty()).then(|| {
        format!(
            "Brood or bees of more than one colony meet in {}: put them together without smoke and close \
             at once, as they may fight; note the donors, to trace disease.",
            words.listed(&names)
        )
    })
}

/// A caution where figures of several plans are set side by side.
pub(super) const NO_PLAN: &str = "These are figures, not a plan to work by: `spareframe stock` \
                                  says what goes where, with its cautions.";

/// How to ask about all rounds.
pub(super) const PROBE_SEASON: &str = "This is today's round alone: `spareframe probe SCENARIO --season` sets alternatives of the season side by side.";

/// Compartments with clearly fewer bees than would cover their brood. Where bees are shaken off the
/// very frames that lack them, that is what to do less of.
fn thin_cover(report: &Report) -> Option<String> {
    let short = |c: &CompartmentReport| c.bees_to_cover_brood - c.all_bees();
    let thin: Vec<_> = report
        .compartments
        .iter()
        .filter(|c| !nearly_all(c.all_bees(), c.bees_to_cover_brood))
        .collect();
    let worst = thin.iter().max_by_key(|c| short(c))?;
    let way_out = match thin.iter().any(|c| shaken(report, c)) {
        true => "shake less off where a colony can spare the bees",
        false => "add bees",
    };
    Some(format!(
        "{} too few bees to cover the brood; worst: {} ({} stay, {} would cover it). Brood may chill: \
         {way_out}, or wait for warm nights.",
        counted(
            i64::try_from(thin.len()).unwrap_or(i64::MAX),
            "compartment has",
            "compartments have"
        ),
        Words::of(report).compartment(worst),
        some(worst.all_bees()),
        some(worst.bees_to_cover_brood)
    ))
}

/// Whether brood frames for this compartment are shaken or brushed.
fn shaken(report: &Report, c: &CompartmentReport) -> bool {
    let brood = |l: &&Leaving| l.each_holds.brood_share > 0.0;
    let leaving = report.colonies.iter().flat_map(|donor| &donor.leaving);
    let to = |d: &Destination| {
        (&d.box_kind, d.box_no, d.compartment) == (&c.box_kind, c.box_no, c.compartment)
    };
    let off = |d: &Destination| {
        matches!(
            d.bees_on_frames,
            BeesOnFrames::ShakeLightly | BeesOnFrames::BrushOff
        )
    };
    leaving
        .filter(brood)
        .flat_map(|l| &l.goes_to)
        .any(|d| to(d) && off(d))
}

/// What the estimate of honey given up assumes.
pub(super) fn assumptions(scenario: &Scenario) -> Vec<String> {
    let mortality = super::build::decimal(scenario.colony_model.mortality.0, 10.0);
    vec![
        "Honey given up is an estimate, not a measurement and not a forecast of the crop.".into(),
        format!("Colony model after Khoury, Myerscough and Barron (2011) in daily steps, each queen laying as her brood says and as the season goes; foragers lost each day: {mortality}% (a setting)."),
        "Share lost = forager-days missing in the flow / forager-days without the draw; honey given up = expected crop x that share, and stores taken in kg.".into(),
        "Charged: fixed rates for each 1000 bees, sealed cells and open cells, so that plans can be compared exactly. Simulated again: the whole draw of each colony at once.".into(),
        "Not in it: weather, swarming, disease, robbing, and what a colony without an expected crop might bring in.".into(),
    ]
}

/// "colony 4", "colonies 4, 7".
pub(super) fn colonies(names: &[String]) -> String {
    let word = if names.len() == 1 {
        "colony"
    } else {
        "colonies"
    };
    format!("{word} {}", names.join(", "))
}
