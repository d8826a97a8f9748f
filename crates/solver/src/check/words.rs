//! Breaches in words.

use super::asked::Asked;
use super::breach::{Amount, Breach, Fault, Place, Rule, Spot, Thing};
use crate::plan::Origin;
use crate::scenario::{BoxId, ColonyId, Scenario, SiteId};
use crate::units::Hundreds;
use std::fmt::{self, Display, Formatter};

/// A breach in words: where, what was found, and what was expected.
///
/// ```
/// use spareframe_solver::{Amount, Breach, ColonyId, Fault, Place, Rule, Scenario};
/// let breach = Breach {
///     rule: Rule::Draw,
///     place: Place::Colony(ColonyId(3)),
///     fault: Fault::Above { found: Amount::Frames(2), most: Amount::Frames(1) },
/// };
/// assert_eq!(
///     breach.in_words(&Scenario::default()).to_string(),
///     "draw: colony number 4: found 2 frames taken, expected at most 1 frame",
/// );
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InWords {
    /// Which rule.
    pub rule: Rule,
    /// Where: colony, compartment, kind of box or store room.
    pub place: String,
    /// What was found, with unit.
    pub found: String,
    /// What the rule asks for, with unit.
    pub expected: String,
}

impl Display for InWords {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let Self {
            rule,
            place,
            found,
            expected,
        } = self;
        let rule = rule.id();
        write!(f, "{rule}: {place}: found {found}, expected {expected}")
    }
}

impl Breach {
    /// Itself in words, with the names of the scenario that was checked.
    #[must_use]
    pub fn in_words(&self, scenario: &Scenario) -> InWords {
        let (found, expected) = self.figures(scenario);
        InWords {
            rule: self.rule,
            place: place(scenario, self.place),
            found,
            expected,
        }
    }

    fn figures(&self, scenario: &Scenario) -> (String, String) {
        match self.fault {
            Fault::Below { found, least } => (
                self.found(found),
                format!("at least {}{}", amount(least), self.because()),
            ),
            Fault::Above { found, most } => (
                self.found(found),
                format!("at most {}{}", amount(most), self.because()),
            ),
            Fault::Count { found, asked } => (frames(found), frames(asked.into())),
            Fault::Unfit(origin) => (
                unfit(scenario, origin),
                "frames that fit the line or one of its substitutes".into(),
            ),
            Fault::Bare { bees, least } => (
                format!("{} left", hundreds(bees)),
                format!("at least {} to cover the brood that stays", hundreds(least)),
            ),
            Fault::Unknown {
                thing,
                index,
                there,
            } => unknown(scenario, thing, index, there),
            Fault::OnHold { frames: f, bees } => (
                format!("{} and {} taken", frames(f), hundreds(bees)),
                format!("nothing: on hold{}", reason(scenario, self.place)),
            ),
            Fault::Queen(count) => (frames(count), "0 frames: the queen is there".into()),
            Fault::Empty if self.rule == Rule::Supply => {
                ("0 frames".into(), "1 frame or more".into())
            }
            Fault::Empty => (
                "no bees, or fewer than none".into(),
                "100 bees or more".into(),
            ),
            Fault::Twice => ("in the plan more than once".into(), "once".into()),
            Fault::InPart { stocked, all } => (
                format!("{} stocked", compartments(stocked.into())),
                format!("all {all} or none"),
            ),
            Fault::NoCell { without, of } => (
                format!("{} without a cell", compartments(without)),
                format!("a cell for each of {}", compartments(of)),
            ),
            Fault::Stands => (
                "a new stocking or a cell".into(),
                "nothing: bees stand in it, and no next cell is wanted".into(),
            ),
            Fault::Absent => ("nothing".into(), "what is already done there".into()),
            Fault::MoreThanDone => (
                "more than is done there, and not stocked".into(),
                "what is already done there".into(),
            ),
            Fault::LeftOut => (
                "left begun, though it lacks nothing".into(),
                "stocked: there is a cell for it".into(),
            ),
        }
    }

    /// What was found, and what it does.
    fn found(&self, found: Amount) -> String {
        let does = match (self.rule, found) {
            (_, Amount::Honey(_)) | (Rule::Supply | Rule::Done, _) => "",
            (Rule::Keep, _) => " left",
            (Rule::Ride, _) => " riding",
            (Rule::Bees, _) => " that stay",
            _ => " taken",
        };
        format!("{}{does}", amount(found))
    }

    fn because(&self) -> &'static str {
        match (self.rule, self.fault) {
            (Rule::Ride, Fault::Below { .. }) => " to ride on the brood frames that leave",
            (Rule::Ride, _) => ": no more sit on the brood frames that leave",
            (
                Rule::Supply,
                Fault::Above {
                    most: Amount::Hundreds(_),
                    ..
                },
            ) => ": no more sit on its frames without the queen",
            (Rule::Give, _) => ", as wished for",
            (Rule::Done, _) => ": done already",
            _ => "",
        }
    }
}

fn unknown(scenario: &Scenario, thing: Thing, index: u64, there: u64) -> (String, String) {
    let (one, many) = match thing {
        Thing::Colony => ("colony", "colonies"),
        Thing::FrameGroup(_) => ("frame group", "frame groups"),
        Thing::Entry => ("entry", "entries"),
        Thing::Line => ("line", "lines"),
        Thing::Kind => ("kind of box", "kinds of box"),
        Thing::Box => ("box", "boxes"),
        Thing::Compartment => ("compartment", "compartments"),
    };
    let of = match thing {
        Thing::FrameGroup(id) => format!(" of {}", colony(scenario, id)),
        Thing::Entry => " of the store room".to_owned(),
        _ => String::new(),
    };
    let number = index.saturating_add(1);
    let there = counted(i64::try_from(there).unwrap_or(i64::MAX), one, many);
    (format!("{one} number {number}{of}"), there)
}

fn reason(scenario: &Scenario, place: Place) -> String {
    let Place::Colony(id) = place else {
        return String::new();
    };
    let colony = scenario.colonies.get(id.0);
    let reason = colony.and_then(|colony| colony.hold.as_ref());
    reason.map_or_else(String::new, |reason| format!(" ({reason})"))
}

fn place(scenario: &Scenario, place: Place) -> String {
    match place {
        Place::Colony(id) => colony(scenario, id),
        Place::Origin(from) => origin(scenario, from),
        Place::AllColonies => "all colonies".to_owned(),
        Place::Kind(id) => kind(scenario, id),
        Place::Box(id, box_no) => format!("{}, box {}", kind(scenario, id), number(box_no)),
        Place::Compartment(at) => spot(scenario, at),
        Place::Line(at, line) => format!("{}, {}", spot(scenario, at), line_of(scenario, at, line)),
        Place::From(at, from) => format!("{}, {}", spot(scenario, at), origin(scenario, from)),
        Place::BeesIn(at, id) => {
            format!("{}, bees of {}", spot(scenario, at), colony(scenario, id))
        }
        Place::ToSite(id, at) => format!("{}, for {}", colony(scenario, id), site(scenario, at)),
        Place::Site(at) => format!("{}, all compartments together", site(scenario, at)),
        Place::BroodlessAt(at) => format!(
            "{}, all compartments without a brood line together",
            site(scenario, at)
        ),
    }
}

fn colony(scenario: &Scenario, id: ColonyId) -> String {
    match scenario.colonies.get(id.0) {
        Some(colony) => format!("colony {}", colony.name),
        None => format!("colony number {}", id.0.saturating_add(1)),
    }
}

fn site(scenario: &Scenario, id: SiteId) -> String {
    match scenario.sites.get(id.0) {
        Some(site) => format!("site {}", site.name),
        None => format!("site number {}", id.0.saturating_add(1)),
    }
}

fn kind(scenario: &Scenario, id: BoxId) -> String {
    match scenario.boxes.get(id.0) {
        Some(kind) => kind.name.clone(),
        None => format!("kind of box number {}", id.0.saturating_add(1)),
    }
}

fn spot(scenario: &Scenario, spot: Spot) -> String {
    format!(
        "{}, box {}, compartment {}",
        kind(scenario, spot.kind),
        number(spot.box_no),
        number(spot.place)
    )
}

fn line_of(scenario: &Scenario, spot: Spot, line: usize) -> String {
    let asked = Asked::of(scenario, spot);
    match asked.as_ref().and_then(|asked| asked.lines.get(line)) {
        Some((line, _)) => format!("line {}", line.name),
        None => format!("line number {}", line.saturating_add(1)),
    }
}

/// Where a frame is from, and what tells it apart from others there: numbers of groups are not written down
/// where a colony is counted at a glance.
fn origin(scenario: &Scenario, from: Origin) -> String {
    let place = stands_in(scenario, from);
    let frame = super::supply::frame_at(scenario, from);
    let Some(frame) = frame.filter(|_| matches!(from, Origin::Colony(..))) else {
        return place;
    };
    let holds = match (frame.brood.0, frame.stores.0, frame.drawn.0) {
        (1.., ..) => format!("brood {}", percent(frame.brood.0)),
        (_, 1.., _) => format!("stores {}", percent(frame.stores.0)),
        (.., 1..) => "empty comb".to_owned(),
        _ => "foundation".to_owned(),
    };
    format!("{place} ({holds})")
}

fn stands_in(scenario: &Scenario, from: Origin) -> String {
    match from {
        Origin::Colony(id, group) => format!(
            "{}, frame group {}",
            colony(scenario, id),
            group.saturating_add(1)
        ),
        Origin::StoreRoom(entry) => format!("store room, entry {}", entry.saturating_add(1)),
    }
}

/// Thousandths of a comb in percent.
fn percent(thousandths: i64) -> String {
    match (thousandths / 10, thousandths % 10) {
        (whole, 0) => format!("{whole}%"),
        (whole, tenths) => format!("{whole}.{tenths}%"),
    }
}

fn unfit(scenario: &Scenario, from: Origin) -> String {
    let text = format!("a frame that does not fit ({})", stands_in(scenario, from));
    let Some(frame) = super::supply::frame_at(scenario, from) else {
        return text;
    };
    let comb = scenario.combs.get(frame.comb.0);
    format!(
        "{text}: {}, brood {}, sealed {}, stores {}, drawn {}",
        comb.map_or("comb unknown", |comb| comb.name.as_str()),
        thousandths(frame.brood.0),
        thousandths(frame.sealed.0),
        thousandths(frame.stores.0),
        thousandths(frame.drawn.0),
    )
}

/// Counted from 1.
fn number(index: u32) -> u64 {
    u64::from(index) + 1
}

/// A quantity with its unit.
fn amount(amount: Amount) -> String {
    match amount {
        Amount::Frames(count) => frames(count),
        Amount::Brood(frames) => format!("{} brood frames", thousandths(frames.0)),
        Amount::Drawn(frames) => format!("{} drawn combs", thousandths(frames.0)),
        Amount::Hundreds(bees) => hundreds(bees),
        Amount::Bees(bees) => counted(bees.0, "bee", "bees"),
        Amount::Loose(bees) => counted(bees.0, "loose bee", "loose bees"),
        Amount::Stores(grams) => format!("{} kg of stores", thousandths(grams.0)),
        Amount::Honey(grams) => format!("{} kg of honey given up", thousandths(grams.0)),
    }
}

fn frames(count: i64) -> String {
    counted(count, "frame", "frames")
}

fn compartments(count: i64) -> String {
    counted(count, "compartment", "compartments")
}

fn hundreds(bees: Hundreds) -> String {
    counted(bees.bees().0, "bee", "bees")
}

fn counted(count: i64, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// Thousandths as a decimal figure.
fn thousandths(value: i64) -> String {
    let sign = if value < 0 { "-" } else { "" };
    let size = value.unsigned_abs();
    format!("{sign}{}.{:03}", size / 1000, size % 1000)
}
