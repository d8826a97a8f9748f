//! What is known of a season, and what is wanted of it.

use spareframe_colony::Setting;

/// Cells of which one gives a mated queen, in percent, where nothing is known (a choice inside the published 70 to 93).
pub const SUCCESS: u32 = 75;
/// Most brood frames that a colony gives in a round (a choice).
pub const MOST_FRAMES: u32 = 6;
/// Bees of winter are those that emerge in so many days before the winter's day (a choice: from mid-August for one in
/// mid-October; autumn bees outlive summer foragers many times over, which the colony model does not know).
pub const WINTER_BEES: i32 = 61;

/// A season. Days are counted from today, which is 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Season {
    /// Days on which boxes are stocked and next cells given, each once, the first first; 0 or later.
    pub rounds: Vec<Round>,
    /// Boxes that are stocked with cells.
    pub kinds: Vec<Kind>,
    /// Colonies that may give.
    pub colonies: Vec<Colony>,
    /// What is wanted, the first first: each is met as far as those before it allow.
    pub wants: Vec<Want>,
    /// Of a hundred cells so many give a mated queen, 1..=100; default [`SUCCESS`].
    pub success: u32,
    /// Queens that are there already, or of which the cell is in.
    pub queens: Vec<Ready>,
    /// Days from one step to another.
    pub days: Days,
    /// What goes into winter; `None`: nothing is asked of colonies at the season's end.
    pub winter: Option<Winter>,
    /// The last day on which brood frames or bees leave a colony; `None`: no such day.
    pub last_draw: Option<i32>,
    /// What the colony model counts with; its season is that of today.
    pub setting: Setting,
    /// What parts of the cost weigh.
    pub prices: Prices,
    /// Exactly so many compartments are given a cell on the first round; `None`: as many as are best.
    pub today: Option<i64>,
    /// At most so many nuclei are made on the first round; `None`: as many as are best.
    pub nuclei_today: Option<i64>,
    /// Most honey that all colonies together may give up over the season, in grams; `None` is no cap.
    pub honey: Option<i64>,
    /// What people were told, where the season is to stay near to one that was shared.
    pub told: Option<Told>,
}

/// What people were told of the rounds that are still to come.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Told {
    /// How many compartments.
    pub stocked: Vec<ToldOf>,
    /// By colony, by round: brood frames that it was to give, 1 for bees alone; `None`: nothing was told of that round.
    pub given: Vec<Vec<Option<i64>>>,
}

/// How many compartments were to be stocked in a round.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ToldOf {
    /// Which round.
    pub round: usize,
    /// Of what: their sum is counted.
    pub of: Vec<Stocks>,
    /// How many.
    pub then: i64,
}

/// What is stocked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stocks {
    /// Compartments of a kind that are given a cell, new or next.
    Cells(usize),
    /// Nuclei of a want.
    Nuclei(usize),
}

/// A day on which boxes are stocked and next cells given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Round {
    /// The day.
    pub day: i32,
    /// Cells at hand for it; `None`: not counted.
    pub cells: Option<u32>,
    /// No queen comes of it, and nobody knows that before: all up to it is decided as if it were not so.
    pub rained_out: bool,
}

impl Season {
    /// Of a hundred cells of a round so many give a mated queen.
    pub(crate) fn success_of(&self, round: usize) -> i64 {
        match self.rounds[round].rained_out {
            true => 0,
            false => i64::from(self.success),
        }
    }

    /// Of ten thousand next cells of a round so many fail in compartments whose last one failed, too.
    pub(crate) fn failed_twice(&self, round: usize) -> i64 {
        let day = self.rounds[round].day;
        let mut before = (0..round).rev();
        let last = before.find(|&before| self.rounds[before].day + self.days.free <= day);
        let before = last.map_or(i64::from(self.success), |last| self.success_of(last));
        (100 - before) * (100 - self.success_of(round))
    }

    /// The same with no round rained out.
    pub(crate) fn dry(&self) -> Self {
        let mut dry = self.clone();
        dry.rounds
            .iter_mut()
            .for_each(|round| round.rained_out = false);
        dry
    }
}

/// Days from one step to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Days {
    /// From stocking until its queen may be taken. Default 27: cell in after a day, emerged by 2 days later, 24 days old.
    pub usable: i32,
    /// From stocking to a stocking day on which the compartment may get its next cell. Default 28: two days after the
    /// queen was taken, and cells go in the day after the stocking day.
    pub free: i32,
    /// From stocking to the first eggs. Default 13.
    pub laying: i32,
    /// From foundation hung into a colony to a bred comb. Default 28.
    pub raised: i32,
}

impl Default for Days {
    fn default() -> Self {
        Self {
            usable: 27,
            free: 28,
            laying: 13,
            raised: 28,
        }
    }
}

/// What a compartment needs, or lacks.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Need {
    /// Brood combs, in hundredths of a frame; of colonies whose combs are [`Kind::comb`].
    pub brood: i64,
    /// Bees that stay in it.
    pub bees: i64,
    /// It has no brood line: loose bees alone cover it.
    pub loose: bool,
}

/// A kind of box that is stocked with cells.
#[derive(Debug, Clone, PartialEq)]
pub struct Kind {
    /// Its name.
    pub name: String,
    /// Compartments that are free for new stockings.
    pub compartments: u32,
    /// Frame size of its brood combs; colonies of other sizes give it none.
    pub comb: usize,
    /// Its combs are of a size that no colony has: they are raised in colonies, and none is there before
    /// [`Days::raised`].
    pub raised: bool,
    /// What a new stocking needs.
    pub need: Need,
    /// What one that stands is to hold for its next cell.
    pub again: Need,
    /// What a brood comb of it holds when it goes in.
    pub comb_cells: f64,
    /// Cells that all of its combs have room for.
    pub room: f64,
    /// Compartments in which bees stand from an earlier day.
    pub standing: Vec<Stands>,
}

/// A compartment in which bees stand from an earlier day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stands {
    /// From this day on it may get a next cell.
    pub free: i32,
    /// What it lacks for one.
    pub lacks: Need,
}

/// Queens that are there already, or whose cell is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ready {
    /// May be taken from this day on.
    pub day: i32,
    /// How many.
    pub count: u32,
    /// Seen mated; else counted on like cells.
    pub mated: bool,
}

/// A colony.
#[derive(Debug, Clone, PartialEq)]
pub struct Colony {
    /// Its name.
    pub name: String,
    /// Adult bees today.
    pub bees: f64,
    /// Cells with eggs or larvae today.
    pub open: f64,
    /// Sealed cells today.
    pub sealed: f64,
    /// Eggs a day that its queen would lay in a colony without end, today; `None`: as its brood says.
    pub laying: Option<f64>,
    /// Days on which nobody lays in it, the first and the last: it gets a new queen; she lays as her own kind.
    pub broodless: Option<(i32, i32)>,
    /// Frame size.
    pub comb: usize,
    /// Brood cells on a standard frame of its own: its mean over frames with brood.
    pub frame_cells: f64,
    /// Bees on a standard brood frame.
    pub frame_bees: f64,
    /// Bees that cover one brood cell of a full frame: the floor `covered` is of these.
    pub cover: f64,
    /// For 1, 2, … real brood frames that may leave today: what they hold at most, and the fewest bees on them.
    pub today: Vec<Taken>,
    /// What it keeps.
    pub keep: Keep,
    /// What may leave.
    pub caps: Caps,
    /// The honey expected of it.
    pub crop: Option<Crop>,
    /// Of a hundred bees that leave so many stay in the boxes, 1..=100.
    pub stay: i64,
    /// It is kept to give: floors do not hold, and giving is no burden.
    pub apart: bool,
}

/// What leaves with some frames.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Taken {
    /// Open cells.
    pub open: f64,
    /// Sealed cells.
    pub sealed: f64,
    /// Bees that ride on them, at most.
    pub bees: f64,
    /// Bees on them, at least.
    pub fewest: f64,
}

/// What a colony keeps, at each draw and at the start of its flow.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Keep {
    /// Brood cells.
    pub brood: f64,
    /// Bees.
    pub bees: f64,
    /// Percent of the bees that would cover the brood that stays, or as well as before the draw.
    pub covered: f64,
}

/// What may leave a colony in a round; `None` is no cap.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Caps {
    /// Brood frames.
    pub frames: Option<u32>,
    /// Brood cells.
    pub brood: Option<f64>,
    /// Bees.
    pub bees: Option<f64>,
    /// Honey given up over the season, in grams.
    pub honey: Option<f64>,
}

/// The honey expected of a colony.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Crop {
    /// Grams, above 0.
    pub grams: f64,
    /// First day of the flow.
    pub from: i32,
    /// Last day of the flow.
    pub to: i32,
}

/// What parts of the cost weigh, in grams of honey.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Prices {
    /// A point of burden.
    pub burden: i64,
    /// A colony opened in a round.
    pub opened: i64,
    /// A compartment or a brood frame otherwise than people were told.
    pub otherwise: i64,
}

/// What is to go into winter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Winter {
    /// The day on which it is looked at.
    pub on: i32,
    /// Fewest bees of a unit that winters.
    pub bees: f64,
    /// Food of a unit, in grams.
    pub food: f64,
}

/// What is wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct Want {
    /// Of what.
    pub what: What,
    /// How many; `None`: as many as there can be.
    pub count: Option<u32>,
    /// By which day.
    pub by: i32,
}

/// What is wanted of mated queens.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// Queens that leave: for sale, or for named colonies.
    Queens,
    /// Nuclei made for them on round days, each with a queen.
    Nuclei {
        /// Brood and bees of one.
        need: Need,
        /// Frame size of its brood combs.
        comb: usize,
        /// Hives for them.
        hives: u32,
        /// Brood cells that one is made with.
        cells: f64,
    },
    /// Units that winter in their compartments with their queen, several united into one where each is too weak.
    Kept,
}
