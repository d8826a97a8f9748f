//! The independent check: is a plan valid, and what does it reach?
//!
//! The check shares the definitions of the model with the optimiser, and none of its
//! arithmetic: it recomputes every figure from the scenario and the plan alone, in exact
//! integers wide enough (`i128`) that no sum of the input can overflow. A plan edited by
//! hand may be wrong in any way; what is wrong comes back as a [`Breach`], never as a panic.
//!
//! Definitions:
//!
//! * A share of a frame is `share x whole / 1000` of its comb, rounded half up, for each frame
//!   alone (bees, cells, grams).
//! * Charged honey (mg) = sealed cells x rate + open cells x rate + bees x rate, at the rates
//!   of [`crate::honey::rates`], plus 1000 x grams of stores for a colony with a crop.
//! * A colony is opened if a frame or a bee is taken from it.
//! * Shaken bees of a colony = bees taken less the bees on the frames taken, at least 0.
//! * Of bees taken, `1000 - flying` thousandths stay where the box stands nearer to the
//!   donor's site than the homing distance, else all.

use crate::honey::{self, HoneyRates};
use crate::plan::{Compartment, Origin};
use crate::scenario::{
    Ask, BoxId, BoxKind, Colony, ColonyId, Comb, FrameState, Line, Scenario, SiteId,
};
use crate::units::{Bees, Grams, Milli, Milligrams, Worth};
use crate::{Goals, Plan};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// The rules of a valid plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rule {
    /// No more frames than there are; none with the queen or from a colony on hold.
    Supply,
    /// Each compartment gets every line's frames.
    Recipe,
    /// Floors hold.
    Keep,
    /// Caps hold.
    Draw,
    /// Enough bees arrive and stay.
    Bees,
    /// No more compartments than exist; whole boxes whole.
    Boxes,
    /// No more compartments than cells.
    Cells,
}

/// A broken rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Breach {
    /// Which rule.
    pub rule: Rule,
    /// Where: colony, compartment, box kind or store room, in words.
    pub place: String,
    /// What was found, with unit.
    pub found: String,
    /// What the rule asks for, with unit.
    pub expected: String,
}

/// What a colony holds, summed over its frames.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Holding {
    /// Brood, in thousandths of a frame equivalent.
    pub brood: Milli,
    /// Bees, on frames and besides.
    pub bees: Bees,
    /// Stores, rounded to whole grams for each frame.
    pub stores: Grams,
    /// Drawn comb, in thousandths of a frame equivalent.
    pub drawn: Milli,
}

/// What a plan takes from one colony and what it leaves there.
///
/// A plan that takes more than there is leaves negative figures; [`check`] reports it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ColonyAccount {
    /// Which colony.
    pub colony: ColonyId,
    /// Before the draw.
    pub before: Holding,
    /// After the draw.
    pub after: Holding,
    /// Frames taken.
    pub frames: u64,
    /// Bees taken, with the frames and shaken.
    pub bees: Bees,
    /// Bees shaken from frames that stay.
    pub shaken: Bees,
    /// Honey given up, charged.
    pub honey: Milligrams,
}

/// Recomputes a plan's goals and every breach, from the scenario and the plan alone.
///
/// Breaches are in the order of their rules; within one rule in the order of the scenario
/// or of the plan. Goals are those of the plan as it stands, valid or not; figures beyond
/// the range of their type are given as the nearest they can hold.
///
/// ```
/// use spareframe_solver::{Goals, Plan, Scenario, check};
/// assert_eq!(check(&Scenario::default(), &Plan::default()), (Goals::default(), vec![]));
/// ```
#[must_use]
pub fn check(scenario: &Scenario, plan: &Plan) -> (Goals, Vec<Breach>) {
    let mut breaches = Vec::new();
    let taken = Taken::of(scenario, plan);
    let accounts = accounts(scenario, &taken);
    supply(scenario, plan, &taken, &mut breaches);
    recipe(scenario, plan, &mut breaches);
    keep(scenario, &accounts, &mut breaches);
    draw(scenario, &accounts, &mut breaches);
    bees(scenario, plan, &mut breaches);
    boxes(scenario, plan, &mut breaches);
    cells(scenario, plan, &mut breaches);
    (goals(scenario, plan, &accounts), breaches)
}

/// What a plan takes from each colony and leaves there, in the order of the scenario,
/// colonies that give nothing included.
#[must_use]
pub fn remains(scenario: &Scenario, plan: &Plan) -> Vec<ColonyAccount> {
    let taken = Taken::of(scenario, plan);
    accounts(scenario, &taken)
        .iter()
        .enumerate()
        .map(|(colony, account)| ColonyAccount {
            colony: ColonyId(colony),
            before: account.before.narrow(),
            after: account.before.less(account.drawn).narrow(),
            frames: u64::try_from(account.frames).unwrap_or(u64::MAX),
            bees: Bees(narrow(account.bees)),
            shaken: Bees(narrow(account.shaken())),
            honey: Milligrams(narrow(account.honey)),
        })
        .collect()
}

fn narrow(value: i128) -> i64 {
    i64::try_from(value).unwrap_or(if value < 0 { i64::MIN } else { i64::MAX })
}

/// A share of a whole, rounded half up. A share outside 0..=1000 counts as the nearest of
/// these, so that no sum can overflow.
fn part(share: Milli, whole: i64) -> i128 {
    let twice = 2 * i128::from(share.0.clamp(0, 1000)) * i128::from(whole);
    (twice + 1000).div_euclid(2000)
}

/// Figures of one frame, or sums of them.
#[derive(Debug, Clone, Copy, Default)]
struct Content {
    brood: i128,
    bees: i128,
    stores: i128,
    drawn: i128,
    open_cells: i128,
    sealed_cells: i128,
}

impl Content {
    fn of(combs: &[Comb], frame: &FrameState) -> Self {
        let shares = Self {
            brood: i128::from(frame.brood.0),
            drawn: i128::from(frame.drawn.0),
            ..Self::default()
        };
        let Some(comb) = combs.get(frame.comb.0) else {
            return shares;
        };
        let sealed_cells = part(frame.sealed, comb.cells);
        Self {
            bees: part(frame.bees, comb.bees.0),
            stores: part(frame.stores, comb.stores.0),
            open_cells: part(frame.brood, comb.cells) - sealed_cells,
            sealed_cells,
            ..shares
        }
    }

    fn add(&mut self, other: Self, times: i128) {
        self.brood += times * other.brood;
        self.bees += times * other.bees;
        self.stores += times * other.stores;
        self.drawn += times * other.drawn;
        self.open_cells += times * other.open_cells;
        self.sealed_cells += times * other.sealed_cells;
    }

    fn less(mut self, other: Self) -> Self {
        self.add(other, -1);
        self
    }

    fn narrow(self) -> Holding {
        Holding {
            brood: Milli(narrow(self.brood)),
            bees: Bees(narrow(self.bees)),
            stores: Grams(narrow(self.stores)),
            drawn: Milli(narrow(self.drawn)),
        }
    }
}

/// What the plan takes, by origin.
struct Taken {
    /// Frames, by colony and frame group; only groups that exist.
    groups: Vec<Vec<i128>>,
    /// Bees, by colony; only positive entries of the plan.
    bees: Vec<i128>,
    /// Frames, by entry of the store room.
    store_room: Vec<i128>,
}

impl Taken {
    fn of(scenario: &Scenario, plan: &Plan) -> Self {
        let mut taken = Self {
            groups: scenario
                .colonies
                .iter()
                .map(|c| vec![0; c.frames.len()])
                .collect(),
            bees: vec![0; scenario.colonies.len()],
            store_room: vec![0; scenario.store_room.len()],
        };
        for compartment in &plan.compartments {
            for placed in &compartment.frames {
                let slot = match placed.origin {
                    Origin::Colony(colony, group) => taken
                        .groups
                        .get_mut(colony.0)
                        .and_then(|groups| groups.get_mut(group)),
                    Origin::StoreRoom(entry) => taken.store_room.get_mut(entry),
                };
                if let Some(slot) = slot {
                    *slot += i128::from(placed.count);
                }
            }
            for placed in &compartment.bees {
                if let Some(slot) = taken.bees.get_mut(placed.colony.0) {
                    *slot += i128::from(placed.bees.0.max(0));
                }
            }
        }
        taken
    }
}

/// One colony's account in wide integers.
struct Account {
    before: Content,
    /// What leaves; its `bees` are those taken, not those on the frames taken.
    drawn: Content,
    frames: i128,
    bees: i128,
    bees_on_frames: i128,
    honey: i128,
}

impl Account {
    fn opened(&self) -> bool {
        self.frames > 0 || self.bees > 0
    }

    fn shaken(&self) -> i128 {
        (self.bees - self.bees_on_frames).max(0)
    }
}

fn accounts(scenario: &Scenario, taken: &Taken) -> Vec<Account> {
    scenario
        .colonies
        .iter()
        .zip(taken.groups.iter().zip(&taken.bees))
        .map(|(colony, (groups, &bees))| account(scenario, colony, groups, bees))
        .collect()
}

fn account(scenario: &Scenario, colony: &Colony, groups: &[i128], bees: i128) -> Account {
    let mut before = Content {
        bees: i128::from(colony.extra_bees.0),
        ..Content::default()
    };
    let mut drawn = Content::default();
    let mut frames = 0;
    for (group, &count) in colony.frames.iter().zip(groups) {
        let content = Content::of(&scenario.combs, &group.frame);
        before.add(content, i128::from(group.count));
        drawn.add(content, count);
        frames += count;
    }
    let bees_on_frames = drawn.bees;
    drawn.bees = bees;
    let mut honey = 0;
    if frames > 0 || bees > 0 {
        let HoneyRates {
            bees: per_bee,
            sealed,
            open,
            stores: _,
        } = honey::rates(&scenario.combs, colony, &scenario.colony_model);
        honey = drawn
            .sealed_cells
            .saturating_mul(sealed.into())
            .saturating_add(drawn.open_cells.saturating_mul(open.into()))
            .saturating_add(bees.saturating_mul(per_bee.into()));
        if colony.crop.is_some() {
            honey = honey.saturating_add(drawn.stores.saturating_mul(1000));
        }
    }
    Account {
        before,
        drawn,
        frames,
        bees,
        bees_on_frames,
        honey,
    }
}

fn all_honey(accounts: &[Account]) -> i128 {
    accounts
        .iter()
        .fold(0, |sum, account| sum.saturating_add(account.honey))
}

fn goals(scenario: &Scenario, plan: &Plan, accounts: &[Account]) -> Goals {
    let worth: i128 = plan
        .compartments
        .iter()
        .filter_map(|c| scenario.boxes.get(c.kind.0))
        .map(|kind| i128::from(kind.worth.0))
        .sum();
    let opened = accounts.iter().filter(|a| a.opened()).count();
    Goals {
        worth: Worth(narrow(worth)),
        honey: Milligrams(narrow(all_honey(accounts))),
        opened: u32::try_from(opened).unwrap_or(u32::MAX),
        shaken: Bees(narrow(accounts.iter().map(Account::shaken).sum())),
    }
}

fn breach(
    rule: Rule,
    place: &str,
    found: impl Into<String>,
    expected: impl Into<String>,
) -> Breach {
    Breach {
        rule,
        place: place.to_owned(),
        found: found.into(),
        expected: expected.into(),
    }
}

/// Thousandths as a decimal figure.
fn milli(value: i128) -> String {
    let sign = if value < 0 { "-" } else { "" };
    let size = value.unsigned_abs();
    format!("{sign}{}.{:03}", size / 1000, size % 1000)
}

/// A number of bees in thousandths as a decimal figure, whole where it is whole.
fn milli_bees(value: i128) -> String {
    if value % 1000 == 0 {
        (value / 1000).to_string()
    } else {
        milli(value)
    }
}

fn counted(count: impl Into<i128>, one: &str, many: &str) -> String {
    let count = count.into();
    format!("{count} {}", if count == 1 { one } else { many })
}

fn colony_name(colony: &Colony) -> String {
    format!("colony {}", colony.name)
}

fn group_name(colony: &Colony, group: usize) -> String {
    format!("colony {}, frame group {}", colony.name, group + 1)
}

fn place_of(scenario: &Scenario, compartment: &Compartment) -> String {
    let kind = match scenario.boxes.get(compartment.kind.0) {
        Some(kind) => kind.name.clone(),
        None => format!("kind of box {}", compartment.kind.0 + 1),
    };
    format!(
        "{kind}, box {}, compartment {}",
        u64::from(compartment.box_no) + 1,
        u64::from(compartment.place) + 1
    )
}

fn supply(scenario: &Scenario, plan: &Plan, taken: &Taken, breaches: &mut Vec<Breach>) {
    let rule = Rule::Supply;
    for compartment in &plan.compartments {
        let place = || place_of(scenario, compartment);
        for placed in &compartment.frames {
            match placed.origin {
                Origin::Colony(id, group) => match scenario.colonies.get(id.0) {
                    None => breaches.push(breach(
                        rule,
                        &place(),
                        format!("frames of colony number {}", id.0.saturating_add(1)),
                        counted(scenario.colonies.len() as i128, "colony", "colonies"),
                    )),
                    Some(colony) if group >= colony.frames.len() => breaches.push(breach(
                        rule,
                        &colony_name(colony),
                        format!("frame group number {}", group.saturating_add(1)),
                        counted(colony.frames.len() as i128, "frame group", "frame groups"),
                    )),
                    Some(_) => {}
                },
                Origin::StoreRoom(entry) if entry >= scenario.store_room.len() => {
                    breaches.push(breach(
                        rule,
                        "store room",
                        format!("entry number {}", entry.saturating_add(1)),
                        counted(scenario.store_room.len() as i128, "entry", "entries"),
                    ));
                }
                Origin::StoreRoom(_) => {}
            }
            if placed.count == 0 {
                breaches.push(breach(
                    rule,
                    &place(),
                    "0 frames from one origin",
                    "1 frame or more",
                ));
            }
        }
        for placed in &compartment.bees {
            if placed.colony.0 >= scenario.colonies.len() {
                breaches.push(breach(
                    rule,
                    &place(),
                    format!(
                        "bees of colony number {}",
                        placed.colony.0.saturating_add(1)
                    ),
                    counted(scenario.colonies.len() as i128, "colony", "colonies"),
                ));
            }
        }
    }
    let colonies = scenario
        .colonies
        .iter()
        .zip(taken.groups.iter().zip(&taken.bees));
    for (colony, (groups, &bees)) in colonies {
        if let Some(reason) = &colony.hold {
            let frames: i128 = groups.iter().sum();
            if frames > 0 || bees > 0 {
                breaches.push(breach(
                    rule,
                    &colony_name(colony),
                    format!(
                        "{} and {} taken",
                        counted(frames, "frame", "frames"),
                        counted(bees, "bee", "bees")
                    ),
                    format!("nothing: on hold ({reason})"),
                ));
            }
        }
        for (index, (group, &count)) in colony.frames.iter().zip(groups).enumerate() {
            if group.queen && count > 0 {
                breaches.push(breach(
                    rule,
                    &group_name(colony, index),
                    counted(count, "frame", "frames"),
                    "0 frames: the queen is there",
                ));
            }
            if count > i128::from(group.count) {
                breaches.push(breach(
                    rule,
                    &group_name(colony, index),
                    counted(count, "frame", "frames"),
                    format!("at most {}", counted(group.count, "frame", "frames")),
                ));
            }
        }
    }
    for (index, (entry, &count)) in scenario
        .store_room
        .iter()
        .zip(&taken.store_room)
        .enumerate()
    {
        if count > i128::from(entry.count) {
            breaches.push(breach(
                rule,
                &format!("store room, entry {}", index + 1),
                counted(count, "frame", "frames"),
                format!("at most {}", counted(entry.count, "frame", "frames")),
            ));
        }
    }
}

fn fits(ask: &Ask, frame: &FrameState) -> bool {
    match *ask {
        Ask::AtLeast {
            comb,
            brood,
            sealed,
            stores,
            drawn,
        } => {
            frame.comb == comb
                && frame.brood >= brood
                && frame.sealed >= sealed
                && frame.stores >= stores
                && frame.drawn >= drawn
        }
        Ask::Foundation { comb } => frame.comb == comb && frame.drawn.0 == 0,
    }
}

fn serves(line: &Line, frame: &FrameState) -> bool {
    fits(&line.ask, frame) || line.substitutes.iter().any(|s| fits(&s.ask, frame))
}

fn frame_at(scenario: &Scenario, origin: Origin) -> Option<&FrameState> {
    match origin {
        Origin::Colony(colony, group) => scenario
            .colonies
            .get(colony.0)?
            .frames
            .get(group)
            .map(|g| &g.frame),
        Origin::StoreRoom(entry) => scenario.store_room.get(entry).map(|e| &e.frame),
    }
}

fn origin_name(scenario: &Scenario, origin: Origin) -> String {
    match origin {
        Origin::Colony(id, group) => match scenario.colonies.get(id.0) {
            Some(colony) => group_name(colony, group),
            None => format!("colony number {}", id.0.saturating_add(1)),
        },
        Origin::StoreRoom(entry) => format!("store room, entry {}", entry.saturating_add(1)),
    }
}

fn recipe(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    let rule = Rule::Recipe;
    for compartment in &plan.compartments {
        // A kind that does not exist has no recipe; rule boxes reports it.
        let Some(kind) = scenario.boxes.get(compartment.kind.0) else {
            continue;
        };
        let place = place_of(scenario, compartment);
        let mut given = vec![0i128; kind.lines.len()];
        for placed in &compartment.frames {
            let (Some(line), Some(sum)) = (kind.lines.get(placed.line), given.get_mut(placed.line))
            else {
                breaches.push(breach(
                    rule,
                    &place,
                    format!("frames for line number {}", placed.line.saturating_add(1)),
                    counted(kind.lines.len() as i128, "line", "lines"),
                ));
                continue;
            };
            *sum += i128::from(placed.count);
            // An origin that does not exist is reported by rule supply.
            let Some(frame) = frame_at(scenario, placed.origin) else {
                continue;
            };
            if !serves(line, frame) {
                breaches.push(breach(
                    rule,
                    &format!("{place}, line {}", line.name),
                    format!(
                        "a frame that does not fit ({}): brood {}, sealed {}, stores {}, drawn {}",
                        origin_name(scenario, placed.origin),
                        milli(frame.brood.0.into()),
                        milli(frame.sealed.0.into()),
                        milli(frame.stores.0.into()),
                        milli(frame.drawn.0.into()),
                    ),
                    "frames that fit the line or one of its substitutes",
                ));
            }
        }
        for (line, &count) in kind.lines.iter().zip(&given) {
            if count != i128::from(line.count) {
                breaches.push(breach(
                    rule,
                    &format!("{place}, line {}", line.name),
                    counted(count, "frame", "frames"),
                    counted(line.count, "frame", "frames"),
                ));
            }
        }
    }
}

fn keep(scenario: &Scenario, accounts: &[Account], breaches: &mut Vec<Breach>) {
    for (colony, account) in scenario.colonies.iter().zip(accounts) {
        if !account.opened() {
            continue;
        }
        let after = account.before.less(account.drawn);
        let place = colony_name(colony);
        let mut floor = |left: i128, least: i64, show: &dyn Fn(i128) -> String| {
            let least = i128::from(least);
            if left < least {
                breaches.push(breach(
                    Rule::Keep,
                    &place,
                    format!("{} left", show(left)),
                    format!("at least {}", show(least)),
                ));
            }
        };
        let floors = &colony.keep;
        floor(after.brood, floors.brood.0, &|v| {
            format!("{} brood frames", milli(v))
        });
        floor(after.bees, floors.bees.0, &|v| counted(v, "bee", "bees"));
        floor(after.stores, floors.stores.0, &|v| {
            format!("{} kg of stores", milli(v))
        });
        floor(after.drawn, floors.drawn.0, &|v| {
            format!("{} drawn combs", milli(v))
        });
    }
}

/// Milligrams as kg with six decimals, exact.
fn kilograms(mg: i128) -> String {
    let sign = if mg < 0 { "-" } else { "" };
    let size = mg.unsigned_abs();
    format!(
        "{sign}{}.{:06} kg of honey given up",
        size / 1_000_000,
        size % 1_000_000
    )
}

fn draw(scenario: &Scenario, accounts: &[Account], breaches: &mut Vec<Breach>) {
    let mut cap = |place: &str, taken: i128, most: Option<i128>, show: &dyn Fn(i128) -> String| {
        if let Some(most) = most
            && taken > most
        {
            breaches.push(breach(
                Rule::Draw,
                place,
                show(taken),
                format!("at most {}", show(most)),
            ));
        }
    };
    for (colony, account) in scenario.colonies.iter().zip(accounts) {
        if !account.opened() {
            continue;
        }
        let place = colony_name(colony);
        let caps = &colony.draw;
        cap(&place, account.frames, caps.frames.map(i128::from), &|v| {
            format!("{} taken", counted(v, "frame", "frames"))
        });
        cap(
            &place,
            account.drawn.brood,
            caps.brood.map(|b| b.0.into()),
            &|v| format!("{} brood frames taken", milli(v)),
        );
        cap(&place, account.bees, caps.bees.map(|b| b.0.into()), &|v| {
            format!("{} taken", counted(v, "bee", "bees"))
        });
        cap(
            &place,
            account.honey,
            caps.honey.map(|h| h.0.into()),
            &kilograms,
        );
    }
    let all = all_honey(accounts);
    if accounts.iter().any(Account::opened) {
        cap(
            "all colonies",
            all,
            scenario.honey_cap.map(|h| h.0.into()),
            &kilograms,
        );
    }
}

/// Thousandths of the bees taken that stay. A distance that is not given counts as 0 m.
fn staying(scenario: &Scenario, donor: SiteId, site: SiteId) -> i128 {
    let metres = scenario
        .distances
        .get(donor.0)
        .and_then(|row| row.get(site.0))
        .copied()
        .unwrap_or(0);
    if metres < scenario.drift.homing_metres {
        1000 - i128::from(scenario.drift.flying.0.clamp(0, 1000))
    } else {
        1000
    }
}

fn bees(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    let rule = Rule::Bees;
    // By box site: thousandths of bees that stay, and bees asked for.
    let mut sites: BTreeMap<SiteId, (i128, i128)> = BTreeMap::new();
    for compartment in &plan.compartments {
        for placed in &compartment.bees {
            if placed.bees.0 <= 0 {
                breaches.push(breach(
                    rule,
                    &place_of(scenario, compartment),
                    format!("{} from one colony", counted(placed.bees.0, "bee", "bees")),
                    "1 bee or more",
                ));
            }
        }
        let Some(kind) = scenario.boxes.get(compartment.kind.0) else {
            continue;
        };
        let stay: i128 = compartment
            .bees
            .iter()
            .filter_map(|placed| {
                let colony = scenario.colonies.get(placed.colony.0)?;
                let bees = i128::from(placed.bees.0.max(0));
                Some(bees * staying(scenario, colony.site, kind.site))
            })
            .sum();
        let fewest = i128::from(kind.bees.0);
        // The loss is of whole bees, rounded down.
        if stay <= 1000 * (fewest - 1) {
            breaches.push(breach(
                rule,
                &place_of(scenario, compartment),
                format!("{} bees stay", milli_bees(stay)),
                format!("at least {}", counted(fewest, "bee", "bees")),
            ));
        }
        let (site_stay, site_fewest) = sites.entry(kind.site).or_default();
        *site_stay += stay;
        *site_fewest += fewest;
    }
    for (site, (stay, fewest)) in sites {
        if stay < 1000 * fewest {
            let name = scenario
                .sites
                .get(site.0)
                .map_or("unknown", |s| s.name.as_str());
            breaches.push(breach(
                rule,
                &format!("site {name}"),
                format!(
                    "{} bees stay in all compartments together",
                    milli_bees(stay)
                ),
                format!("at least {}", counted(fewest, "bee", "bees")),
            ));
        }
    }
}

fn boxes(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    let rule = Rule::Boxes;
    let mut seen: BTreeSet<(BoxId, u32, u32)> = BTreeSet::new();
    // Compartments stocked of each box that exists.
    let mut stocked: BTreeMap<(BoxId, u32), u32> = BTreeMap::new();
    for compartment in &plan.compartments {
        let Compartment {
            kind: id,
            box_no,
            place,
            ..
        } = compartment;
        let name = || place_of(scenario, compartment);
        let Some(kind) = scenario.boxes.get(id.0) else {
            breaches.push(breach(
                rule,
                &format!("kind of box {}", id.0.saturating_add(1)),
                "a compartment of it",
                counted(scenario.boxes.len() as i128, "kind of box", "kinds of box"),
            ));
            continue;
        };
        let exists = *box_no < kind.count && *place < kind.compartments;
        if *box_no >= kind.count {
            breaches.push(breach(
                rule,
                &name(),
                format!("box {}", u64::from(*box_no) + 1),
                counted(kind.count, "box", "boxes"),
            ));
        }
        if *place >= kind.compartments {
            breaches.push(breach(
                rule,
                &name(),
                format!("compartment {}", u64::from(*place) + 1),
                counted(kind.compartments, "compartment", "compartments"),
            ));
        }
        if !seen.insert((*id, *box_no, *place)) {
            breaches.push(breach(
                rule,
                &name(),
                "stocked more than once",
                "stocked once",
            ));
        } else if exists {
            *stocked.entry((*id, *box_no)).or_default() += 1;
        }
    }
    for ((id, box_no), count) in stocked {
        if let Some(kind) = scenario.boxes.get(id.0)
            && kind.whole
            && count != kind.compartments
        {
            breaches.push(breach(
                rule,
                &format!("{}, box {}", kind.name, u64::from(box_no) + 1),
                format!("{} stocked", counted(count, "compartment", "compartments")),
                format!("all {} or none", kind.compartments),
            ));
        }
    }
}

fn cells(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    let Some(batches) = &scenario.cells else {
        return;
    };
    let mut wanted: BTreeMap<BoxId, i128> = BTreeMap::new();
    for compartment in &plan.compartments {
        if scenario.boxes.get(compartment.kind.0).is_some() {
            *wanted.entry(compartment.kind).or_default() += 1;
        }
    }
    let kinds: Vec<(BoxId, i128)> = wanted.into_iter().collect();
    let mut lacking: Vec<i128> = kinds.iter().map(|&(_, count)| count).collect();
    let mut spare: Vec<i128> = batches.iter().map(|b| i128::from(b.count)).collect();
    let reach: Vec<Vec<usize>> = kinds
        .iter()
        .map(|(kind, _)| {
            let open = |b: &&crate::CellBatch| b.boxes.is_empty() || b.boxes.contains(kind);
            (0..batches.len())
                .filter(|&j| batches.get(j).as_ref().is_some_and(open))
                .collect()
        })
        .collect();
    // given[i][j]: cells of batch j that kind i has. Shortest augmenting paths.
    let mut given = vec![vec![0i128; batches.len()]; kinds.len()];
    for (start, lack) in lacking.iter_mut().enumerate() {
        while *lack > 0 {
            let Some(path) = augment(&reach, &given, &spare, start) else {
                break;
            };
            // path: kind, batch, kind, batch, ...; the last batch has cells to spare.
            let mut most = *lack;
            for (step, pair) in path.iter().enumerate() {
                if let Some(next) = path.get(step + 1) {
                    most = most.min(given[next.0][pair.1]);
                } else {
                    most = most.min(spare[pair.1]);
                }
            }
            for (step, &(kind, batch)) in path.iter().enumerate() {
                given[kind][batch] += most;
                match path.get(step + 1) {
                    Some(next) => given[next.0][batch] -= most,
                    None => spare[batch] -= most,
                }
            }
            *lack -= most;
        }
    }
    for (&(kind, count), &lack) in kinds.iter().zip(&lacking) {
        if lack > 0 {
            let name = scenario
                .boxes
                .get(kind.0)
                .map_or("", |k: &BoxKind| k.name.as_str());
            breaches.push(breach(
                Rule::Cells,
                name,
                format!(
                    "{} without a cell",
                    counted(lack, "compartment", "compartments")
                ),
                format!(
                    "a cell for each of {}",
                    counted(count, "compartment", "compartments")
                ),
            ));
        }
    }
}

/// A shortest path from kind `start` to a batch with cells to spare: pairs (kind, batch),
/// where each later kind gives up cells of the batch before it. `None` if there is none.
fn augment(
    reach: &[Vec<usize>],
    given: &[Vec<i128>],
    spare: &[i128],
    start: usize,
) -> Option<Vec<(usize, usize)>> {
    let mut kind_from: Vec<Option<usize>> = vec![None; reach.len()];
    let mut batch_from: Vec<Option<usize>> = vec![None; spare.len()];
    let mut queue = VecDeque::from([start]);
    while let Some(kind) = queue.pop_front() {
        for &batch in &reach[kind] {
            if batch_from[batch].is_some() {
                continue;
            }
            batch_from[batch] = Some(kind);
            if spare[batch] > 0 {
                let mut path = vec![(kind, batch)];
                let mut at = kind;
                while at != start {
                    let before = kind_from[at]?;
                    let through = batch_from[before]?;
                    path.push((through, before));
                    at = through;
                }
                path.reverse();
                return Some(path);
            }
            for (other, row) in given.iter().enumerate() {
                if other != start && kind_from[other].is_none() && row[batch] > 0 {
                    kind_from[other] = Some(batch);
                    queue.push_back(other);
                }
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Crop, Draw, FrameGroup, Keep, PlacedBees, PlacedFrames};

    fn scenario() -> Scenario {
        let frame = FrameState {
            comb: crate::CombId(0),
            brood: Milli(600),
            sealed: Milli(400),
            stores: Milli(200),
            drawn: Milli(1000),
            bees: Milli(750),
        };
        let colony = |name: &str| Colony {
            name: name.into(),
            site: SiteId(0),
            role: "production".into(),
            hold: None,
            frames: vec![FrameGroup {
                count: 6,
                frame,
                queen: false,
            }],
            extra_bees: Bees(3000),
            crop: Some(Crop {
                honey: Grams(20_000),
                from: 5,
                to: 30,
            }),
            keep: Keep::default(),
            draw: Draw::default(),
        };
        Scenario {
            combs: vec![Comb {
                name: "comb".into(),
                bees: Bees(2000),
                cells: 5000,
                stores: Grams(2000),
            }],
            colonies: vec![colony("a"), colony("b")],
            ..Scenario::default()
        }
    }

    fn plan(count: u32) -> Plan {
        Plan {
            compartments: vec![Compartment {
                kind: BoxId(0),
                box_no: 0,
                place: 0,
                frames: vec![PlacedFrames {
                    line: 0,
                    origin: Origin::Colony(ColonyId(0), 0),
                    count,
                }],
                bees: vec![PlacedBees {
                    colony: ColonyId(0),
                    bees: Bees(3200),
                }],
            }],
        }
    }

    #[test]
    fn accounts_before_and_after() {
        let accounts = remains(&scenario(), &plan(2));
        assert_eq!(accounts.len(), 2);
        let a = accounts[0];
        assert_eq!((a.frames, a.bees, a.shaken), (2, Bees(3200), Bees(200)));
        let holding = |brood, bees, stores, drawn| Holding {
            brood: Milli(brood),
            bees: Bees(bees),
            stores: Grams(stores),
            drawn: Milli(drawn),
        };
        assert_eq!(a.before, holding(3600, 12_000, 2400, 6000));
        assert_eq!(a.after, holding(2400, 8800, 1600, 4000));
        assert_eq!(accounts[1].before, accounts[1].after);
        assert_eq!(accounts[1].honey, Milligrams(0));
    }

    #[test]
    fn account_of_too_great_a_draw_is_negative() {
        let a = remains(&scenario(), &plan(10))[0];
        assert_eq!(a.after.brood, Milli(-2400));
    }

    #[test]
    fn a_share_is_rounded_half_up() {
        assert_eq!(part(Milli(5), 100), 1);
        assert_eq!(part(Milli(4), 100), 0);
        assert_eq!(part(Milli(333), 10), 3);
        assert_eq!(part(Milli(1000), 4321), 4321);
    }
}
