//! What a season comes to.

use super::season::Stocks;

/// A season, decided. Only the first round is to be done; all else is an outlook.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlook {
    /// By round: what is stocked.
    pub rounds: Vec<Stocked>,
    /// By colony: what it gives, and what it is by then.
    pub colonies: Vec<Course>,
    /// By want: how far it is met.
    pub wants: Vec<Met>,
    /// Queens counted on, by day; days on which the number changes, or by which some are wanted.
    pub queens: Vec<Counted>,
    /// Honey given up by all colonies over the season, in grams, with what each opening and burden weighs, and what is
    /// otherwise than people were told.
    pub cost: i64,
    /// No season that meets as much costs less, in grams.
    pub least_cost: i64,
    /// Honey given up, in grams.
    pub honey: i64,
    /// Compartments and brood frames otherwise than people were told.
    pub otherwise: i64,
}

/// What is stocked on a round day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stocked {
    /// The day.
    pub day: i32,
    /// By kind of box: new stockings.
    pub new: Vec<i64>,
    /// By kind of box: cells for compartments that stand.
    pub next: Vec<i64>,
    /// By want: nuclei made.
    pub nuclei: Vec<i64>,
    /// By kind of box: units of this round that keep their queen over winter, and compartments of each.
    pub kept: Vec<(i64, i64)>,
    /// What goes in, and what colonies give for it: brood frames in hundredths, bees that stay, loose ones of them.
    pub needed: [i64; 3],
    /// What colonies give.
    pub given: [i64; 3],
}

impl Stocked {
    /// Cells that go in.
    #[must_use]
    pub fn cells(&self) -> i64 {
        self.new.iter().chain(&self.next).sum()
    }

    /// Compartments of what people were told of.
    #[must_use]
    pub fn counts(&self, of: &[Stocks]) -> i64 {
        let one = |of: &Stocks| match *of {
            Stocks::Cells(kind) => self.new[kind] + self.next[kind],
            Stocks::Nuclei(want) => self.nuclei[want],
        };
        of.iter().map(one).sum()
    }
}

/// A colony over the season.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// By round: what it gives.
    pub draws: Vec<Drawn>,
    /// By round: what it is before it gives.
    pub before: Vec<Strength>,
    /// By round: what it would be, had it never given.
    pub undrawn: Vec<Strength>,
    /// By round with a draw: days until it has 95 % of the brood that it would have had without any, by the mortality counted
    /// with and by the one beside it; `None` where it has not by the season's end.
    pub recovery: Vec<Option<(Option<i32>, Option<i32>)>>,
    /// Honey given up, in grams.
    pub honey: i64,
    /// Bees that go into winter, and how many had it never given; `None` without a winter's day.
    pub winter: Option<(f64, f64)>,
}

/// What a colony gives in a round.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Drawn {
    /// Which of the levels that were listed; 0 is nothing.
    pub level: usize,
    /// Brood frames.
    pub frames: u32,
    /// Open cells on them.
    pub open: f64,
    /// Sealed cells on them.
    pub sealed: f64,
    /// Bees that leave.
    pub bees: f64,
    /// Bees of them that ride.
    pub riding: f64,
}

impl Drawn {
    /// What it counts as beside what people were told: its brood frames, 1 where bees leave alone.
    #[must_use]
    pub fn counts(&self) -> i64 {
        match self.frames {
            0 => i64::from(self.bees > 0.0),
            frames => frames.into(),
        }
    }
}

/// What a colony is on a day.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Strength {
    /// Adult bees.
    pub bees: f64,
    /// Brood cells.
    pub brood: f64,
}

/// How far a want is met.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Met {
    /// So many are counted on.
    pub count: i64,
    /// No season that meets those before it as far gives more than this.
    pub most: i64,
    /// What holds it back, where it is not met whole.
    pub binds: Vec<Binds>,
}

/// What holds a want back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Binds {
    /// Brood frames that colonies give in a round.
    Brood(usize),
    /// Bees that colonies give in a round.
    Bees(usize),
    /// Loose bees that colonies give in a round.
    Loose(usize),
    /// Cells of a round.
    Cells(usize),
    /// Boxes of a kind.
    Boxes(usize),
    /// Compartments of a kind that are free for the next cell in a round.
    Free(usize, usize),
    /// Compartments of a kind at the season's end.
    Keeping(usize),
    /// Hives for nuclei.
    Hives,
    /// Honey that the whole yard may give up.
    Honey,
    /// Queens that are of age by a day.
    Queens(i32),
}

/// Queens counted on by a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Counted {
    /// The day.
    pub day: i32,
    /// Cells that are through by then.
    pub through: i64,
    /// Queens counted on, those of today's boxes among them.
    pub queens: i64,
    /// Of them, used by then.
    pub used: i64,
}
