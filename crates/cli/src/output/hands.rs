//! What the hands do at one colony, in their order.

use super::calendar::written;
use super::contents::hanging;
use super::done::taken;
use super::figures::{counted, some, whole};
use super::report::{Adding, BeesOnFrames, ColonyReport, Destination, Filling, Holds, Leaving};
use super::words::{Words, clean};

/// What the hands are at, in their order.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Step {
    /// Nothing to do: what is done already.
    Done,
    /// The queen.
    Queen,
    /// Frames that leave.
    Frames,
    /// Bees to add.
    Bees,
    /// What travels to a box elsewhere.
    Carry,
    /// The queen goes back.
    Back,
    /// What fills the gaps.
    Gaps,
    /// The hive is closed.
    Close,
    /// Its new queen goes in.
    New,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Hand {
    pub step: Step,
    /// What.
    pub what: String,
    /// Into which compartments.
    pub to: Option<String>,
    /// The same with its compartments.
    pub goes_to: Vec<Destination>,
    /// The frames, where frames are lifted.
    pub frames: Option<Lifted>,
}

/// Frames alike that are lifted out or put in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lifted {
    pub frames: i64,
    /// Where they hang or lie, where the scenario says so.
    pub place: Option<String>,
    pub each_holds: Holds,
    /// The same in words.
    pub content: String,
    /// What becomes of their bees; empty where they have none.
    pub bees: String,
}

impl Hand {
    fn alone(step: Step, what: String) -> Self {
        Self {
            step,
            what,
            to: None,
            goes_to: Vec::new(),
            frames: None,
        }
    }

    /// Both in one line.
    pub fn line(&self) -> String {
        match &self.to {
            Some(to) => format!("{}, {to}", self.what),
            None => self.what.clone(),
        }
    }
}

impl Words {
    /// From finding the queen to closing the hive.
    pub(super) fn hands(&self, c: &ColonyReport) -> Vec<Hand> {
        let mut list = Vec::new();
        list.extend(taken(c).map(|taken| Hand::alone(Step::Done, taken)));
        if c.opens() {
            list.extend(queen(c).map(|what| Hand::alone(Step::Queen, what)));
            list.extend(wild_cells(c));
            list.extend(self.leaving(c));
            list.extend(self.adding(c));
            let closed = self.closed_boxes(c).into_iter();
            list.extend(closed.map(|what| Hand::alone(Step::Carry, what)));
            list.extend(self.closing(c));
            list.extend(new_queen(c));
        } else {
            list.push(Hand::alone(Step::Done, "nothing more to take".to_owned()));
        }
        list
    }

    /// The same with all from the queen's way back to the closed hive in one line.
    pub(super) fn hands_in_short(&self, c: &ColonyReport) -> Vec<Hand> {
        let mut list: Vec<Hand> = Vec::new();
        for hand in self.hands(c) {
            match list.last_mut() {
                Some(last) if last.step >= Step::Back => {
                    let between = match hand.what.starts_with(AND) {
                        true => " ",
                        false => "; ",
                    };
                    last.what += &format!("{between}{}", hand.what);
                }
                _ => list.push(hand),
            }
        }
        list
    }

    /// Frames that leave, and where they go. Those that look alike, and whose bees are treated alike, are
    /// one item: nobody shakes a frame to the hundred.
    fn leaving(&self, c: &ColonyReport) -> Vec<Hand> {
        let mut alike: Vec<Alike> = Vec::new();
        for leaving in &c.leaving {
            for to in &leaving.goes_to {
                let (how, bees) = (to.bees_on_frames, to.bees_each);
                let looks = |of: &Leaving| (self.content(&of.each_holds), of.place.clone());
                let same = |a: &&mut Alike| a.how == how && looks(a.leaving) == looks(leaving);
                match alike.iter_mut().find(same) {
                    Some(a) => {
                        a.ride = (a.ride.0.min(bees), a.ride.1.max(bees));
                        self.join(&mut a.to, std::slice::from_ref(to));
                    }
                    None => alike.push(Alike {
                        leaving,
                        how,
                        ride: (bees, bees),
                        to: vec![to.clone()],
                    }),
                }
            }
        }
        let item = |a: Alike| {
            let frames = a.to.iter().map(|d| i64::from(d.frames)).sum();
            let place = a.leaving.place.as_deref();
            let bees = on_frames(a.how, a.ride, frames);
            let (count, content) = (
                counted(frames, "frame", "frames"),
                self.content(&a.leaving.each_holds),
            );
            let behind = match bees.is_empty() {
                true => String::new(),
                false => format!(", {bees}"),
            };
            Hand {
                step: Step::Frames,
                what: format!("{count}, {content}{}{behind}", hanging(place)),
                to: Some(self.goes_to(&a.to)),
                frames: Some(Lifted {
                    frames,
                    place: place.map(clean),
                    each_holds: a.leaving.each_holds.clone(),
                    content,
                    bees,
                }),
                goes_to: a.to,
            }
        };
        alike.into_iter().map(item).collect()
    }

    /// Bees to add; lots of one size are one item.
    fn adding(&self, c: &ColonyReport) -> Vec<Hand> {
        let mut alike: Vec<(&Adding, Vec<Destination>)> = Vec::new();
        for lot in &c.adding {
            let to = Destination {
                frames: 1,
                bees_on_frames: BeesOnFrames::None,
                bees_each: 0,
                box_kind: lot.box_kind.clone(),
                box_no: lot.box_no,
                compartment: lot.compartment,
            };
            match alike.iter_mut().find(|(other, _)| other.bees == lot.bees) {
                Some((_, all)) => self.join(all, &[to]),
                None => alike.push((lot, vec![to])),
            }
        }
        let mut shaken = shaken(c);
        let mut item = |(lot, to): (&Adding, Vec<Destination>)| {
            let amount = match to.len() {
                1 => self.bees(lot.bees, lot.covered_frames, &c.covered_comb),
                n => {
                    let all = lot
                        .bees
                        .saturating_mul(i64::try_from(n).unwrap_or(i64::MAX));
                    let share = super::build::decimal(all, 1.0)
                        / super::build::decimal(c.bees_taken.max(1), 1.0);
                    let all = self.bees(all, c.covered_frames * share, &c.covered_comb);
                    format!("{all} in all, {} each", some(lot.bees))
                }
            };
            let lots = i64::try_from(to.len()).unwrap_or(i64::MAX);
            let from = self.shaken_from(c, &mut shaken, lot.bees.saturating_mul(lots));
            Hand {
                step: Step::Bees,
                what: format!("add {amount}, {from}"),
                to: Some(self.goes_to(&to)),
                goes_to: to,
                frames: None,
            }
        };
        let mut list = Vec::new();
        for lots in alike {
            list.push(item(lots));
        }
        list
    }

    /// Which frames so many bees are shaken from: those that leave without all of theirs, by where they go, as far as
    /// that suffices.
    fn shaken_from(&self, c: &ColonyReport, shaken: &mut Vec<Shaken>, bees: i64) -> String {
        if c.taken_apart {
            return "from those left over".to_owned();
        }
        let (mut left, mut from) = (bees, Vec::new());
        while left > 0
            && let Some((off, to)) = shaken.first_mut()
        {
            let given = left.min(*off);
            left -= given;
            *off -= given;
            self.join(&mut from, std::slice::from_ref(to));
            if *off == 0 {
                shaken.remove(0);
            }
        }
        let frames: i64 = from.iter().map(|d| i64::from(d.frames)).sum();
        let place = self.goes_to(&from);
        let place = place.trim_start_matches("to ");
        let brushed = |d: &Destination| d.bees_on_frames == BeesOnFrames::BrushOff;
        let how = match from.iter().all(brushed) {
            true => "brushed off",
            false => "shaken off",
        };
        match (frames, left) {
            (0, _) => format!("shaken from {}", stay(c)),
            (1, ..=0) => format!("{how} the frame for {place}"),
            (_, ..=0) => format!("{how} the frames for {place}"),
            (1, _) => format!("{how} the frame for {place}, then off {}", stay(c)),
            _ => format!("{how} the frames for {place}, then off {}", stay(c)),
        }
    }

    /// Queen back, gaps, close.
    fn closing(&self, c: &ColonyReport) -> Vec<Hand> {
        let alone = |step, what: &str| Hand::alone(step, what.to_owned());
        if c.taken_apart {
            let left = match left_over(c) {
                0 => "taken apart: no frame and no bee stays".to_owned(),
                n => format!(
                    "taken apart: no frame stays; {} bees are left over",
                    some(n)
                ),
            };
            return vec![Hand::alone(Step::Close, left)];
        }
        let gone: i64 = c.leaving.iter().map(|l| i64::from(l.frames)).sum();
        let gaps = self.gaps(c, gone);
        let mut list = Vec::new();
        match gone {
            0 if c.queens.is_some() => (),
            0 => list.push(alone(Step::Back, "queen back")),
            _ if gaps.is_empty() => list.push(Hand::alone(
                Step::Back,
                format!("{}, gaps at the outside", push(c)),
            )),
            _ => {
                list.push(alone(Step::Back, push(c)));
                list.extend(gaps);
            }
        }
        list.push(alone(Step::Close, "close"));
        list
    }

    /// What fills the gaps, and how many stay; nothing where that is left to the colony.
    fn gaps(&self, c: &ColonyReport, gone: i64) -> Vec<Hand> {
        let gap = if gone == 1 { "gap" } else { "gaps" };
        let fill = |(at, f): (usize, &Filling)| {
            let frames = i64::from(f.frames);
            let content = self.content(&f.each_holds);
            let item = format!(
                "{}, {content}{}",
                counted(frames, "frame", "frames"),
                hanging(f.place.as_deref())
            );
            Hand {
                what: match at {
                    0 => format!("fill the {gap} from the store room: {item}"),
                    _ => format!("{AND}{item}"),
                },
                frames: Some(Lifted {
                    frames,
                    place: f.place.as_deref().map(clean),
                    each_holds: f.each_holds.clone(),
                    content,
                    bees: String::new(),
                }),
                ..Hand::alone(Step::Gaps, String::new())
            }
        };
        let mut list: Vec<Hand> = c.gaps_filled_with.iter().enumerate().map(fill).collect();
        list.extend(left_empty(c).map(|open| Hand::alone(Step::Gaps, open)));
        list
    }
}

/// How a hand begins that only goes on with the one before.
const AND: &str = "and ";

/// Frames of one look that leave, with bees treated alike.
struct Alike<'a> {
    leaving: &'a Leaving,
    how: BeesOnFrames,
    ride: Ride,
    to: Vec<Destination>,
}

/// Gaps that stay empty, and why.
fn left_empty(c: &ColonyReport) -> Option<String> {
    let (empty, foundation) = (c.gaps_left_empty, c.gaps_foundation_would_fill);
    let stay = counted(empty.into(), "gap stays", "gaps stay");
    let why = match foundation {
        0 => "no comb is left".to_owned(),
        n if n == empty => {
            "no drawn comb is left, and foundation would do where the colony draws comb".to_owned()
        }
        n => format!(
            "no drawn comb is left, and foundation, for {n} of them, would do where the colony draws comb"
        ),
    };
    (empty > 0).then(|| format!("{stay} empty: {why}"))
}

/// Where bees are shaken off that no frame takes along.
fn stay(c: &ColonyReport) -> &'static str {
    match c.brood_frames.after > 0.0 {
        true => "frames that stay, brood frames first",
        false => "frames that stay",
    }
}

/// What is done with the frames that stay.
fn push(c: &ColonyReport) -> &'static str {
    let stays = c.queens.is_some() || c.gives_comb_only();
    match (stays, c.brood_frames.after > 0.0) {
        (false, true) => "queen back; push the brood together, combs to the edge",
        (false, false) => "queen back; push the combs together",
        (true, true) => "push the brood together, combs to the edge",
        (true, false) => "push the combs together",
    }
}

/// Bees that are shaken off the frames for one compartment.
type Shaken = (i64, Destination);

/// Frames that leave without all of their bees, by compartment, those with most to shake off first.
fn shaken(c: &ColonyReport) -> Vec<Shaken> {
    let mut all: Vec<Shaken> = Vec::new();
    for l in &c.leaving {
        for to in &l.goes_to {
            let off = match to.bees_on_frames {
                BeesOnFrames::None | BeesOnFrames::All => continue,
                BeesOnFrames::ShakeLightly | BeesOnFrames::BrushOff => {
                    l.each_holds.bees - to.bees_each
                }
            };
            if off <= 0 {
                continue;
            }
            let off = off.saturating_mul(i64::from(to.frames));
            match all.iter_mut().find(|(_, known)| known.same_place(to)) {
                Some((sum, known)) => {
                    *sum = sum.saturating_add(off);
                    known.frames = known.frames.saturating_add(to.frames);
                    if known.bees_on_frames != to.bees_on_frames {
                        known.bees_on_frames = BeesOnFrames::ShakeLightly;
                    }
                }
                None => all.push((off, to.clone())),
            }
        }
    }
    all.sort_by_key(|(off, _)| std::cmp::Reverse(*off));
    all
}

/// What the queen asks for before anything else; nothing where a new one goes in and nothing is taken.
fn queen(c: &ColonyReport) -> Option<String> {
    if let Some(since) = c.queenless_since() {
        let since = written(since);
        return c
            .gives()
            .then(|| format!("no queen to find: the old one is out since {since}"));
    }
    if c.gives_comb_only() {
        let frames = c.leaving.iter().map(|l| l.frames);
        let each = match frames.fold(0, u32::saturating_add) {
            1 => "the comb",
            _ => "each comb",
        };
        return Some(format!(
            "look {each} that leaves over for the queen before its bees are brushed off; she need not be found first"
        ));
    }
    let what = match (c.taken_apart, c.queen_located) {
        (true, _) if c.queens.is_some() => "find the queen and take her out: no frame stays",
        (false, _) if c.queens.is_some() => {
            "find the queen before anything else and take her out; be sure that there is no second one"
        }
        (true, _) => "find the queen and cage her, or be sure that there is none: no frame stays",
        (false, true) => "find the queen; set her frame aside, covered",
        (false, false) => {
            "find the queen before anything leaves, as no frame is marked as hers; set her frame aside, covered"
        }
    };
    Some(what.to_owned())
}

/// Wild cells on brood combs that leave a colony without a queen.
fn wild_cells(c: &ColonyReport) -> Option<Hand> {
    c.queenless_since()?;
    let brood = c.leaving.iter().filter(|l| l.each_holds.brood_share > 0.0);
    let frames = brood
        .map(|l| i64::from(l.frames))
        .fold(0, i64::saturating_add);
    (frames > 0).then(|| {
        let comb = if frames == 1 {
            "the brood comb"
        } else {
            "each brood comb"
        };
        Hand::alone(
            Step::Queen,
            format!("look {comb} that leaves over, and break every wild cell on it"),
        )
    })
}

/// Its new queen, last of all.
fn new_queen(c: &ColonyReport) -> Option<Hand> {
    let from = c.queens.as_ref()?.new_from.as_ref()?;
    let what = format!(
        "towards evening: break all wild cells, then the new queen in, from {}",
        clean(from)
    );
    Some(Hand::alone(Step::New, what))
}

/// Fewest and most bees that go with a frame.
type Ride = (i64, i64);

/// What becomes of the bees on frames that leave.
fn on_frames(how: BeesOnFrames, (least, most): Ride, frames: i64) -> String {
    let ride = match some(least) == some(most) {
        true => some(least),
        false => format!("{} to {}", some(least), whole(most)),
    };
    let (its, each) = match frames {
        1 => ("its", ""),
        _ => ("their", " on each"),
    };
    match how {
        BeesOnFrames::None => "brush off any bees".to_owned(),
        BeesOnFrames::All => format!("with {its} bees ({ride}{each})"),
        BeesOnFrames::ShakeLightly => format!("shake lightly ({ride} ride{each})"),
        BeesOnFrames::BrushOff => "brush off the bees".to_owned(),
    }
}

/// Bees that no compartment gets, of a colony that is taken apart.
fn left_over(c: &ColonyReport) -> i64 {
    #[expect(clippy::cast_possible_truncation, reason = "a number of bees")]
    let left = c.bees.after.round() as i64;
    left
}

/// What a colony gives of what it has.
pub(super) fn gives(c: &ColonyReport) -> String {
    let given = c.gives_percent;
    let of = |percent: i64, what: &str| (percent > 0).then(|| format!("{percent}% of its {what}"));
    let parts = [of(given.bees, "bees"), of(given.brood, "brood")];
    match parts.into_iter().flatten().collect::<Vec<_>>() {
        parts if parts.is_empty() && c.leaving.is_empty() && c.done.is_none() => {
            "gives nothing".to_owned()
        }
        parts if parts.is_empty() => "gives comb only".to_owned(),
        parts => format!("gives {}", parts.join(" and ")),
    }
}

/// Honey that a colony gives up, in a few words; `None` without an expected crop.
pub(super) fn honey(c: &ColonyReport) -> Option<String> {
    c.honey_given_up_g.map(super::figures::grams)
}

/// A colony as a heading: `Colony 5 (nucleus, at home)`.
pub(super) fn heading(c: &ColonyReport) -> String {
    let (name, role, site) = (clean(&c.colony), clean(&c.role), clean(&c.site));
    format!("Colony {name} ({role}, at {site})")
}
