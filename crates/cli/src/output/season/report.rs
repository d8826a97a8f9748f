//! The record that every writer of a season shares.

use super::super::counted::CountedOn;
use super::super::report::Report;
use super::near::NearReport;
use serde::Serialize;

/// Version of this format; it rises when a key changes its meaning.
pub const FORMAT_VERSION: u32 = 1;

/// A season. Only `plan`, today's round, is a plan; all else is an outlook.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeasonReport {
    /// Version of this format.
    pub spareframe_season: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// Today, the day of the first round, as year-month-day.
    pub day: String,
    /// When colonies were counted; absent where that was today.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counted_on: Option<CountedOn>,
    /// The answer in short.
    pub headline: HeadlineReport,
    /// What is otherwise than in a season that was shared; absent where nothing is, or none is to be stayed near to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub near: Option<NearReport>,
    /// What is wanted, the first first.
    pub wants: Vec<WantReport>,
    /// The season for other numbers stocked today, ascending; the one that is planned among them.
    pub today_against_the_season: Vec<AgainstReport>,
    /// Rounds, today's first.
    pub rounds: Vec<RoundReport>,
    /// Days on which the brood of each colony is reckoned: every seventh, and the last on which anything is counted.
    pub weeks: Vec<String>,
    /// Colonies that may give, in the order of the file.
    pub colonies: Vec<CourseReport>,
    /// Queens by day.
    pub queens: Vec<QueensReport>,
    /// What is united, and what is short; absent without a winter's day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub autumn: Option<AutumnReport>,
    /// The season with other numbers of boxes, where that was asked for.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub boxes: Vec<BoxesReport>,
    /// Share of the cells from which a mated queen is counted on, 0..=1.
    pub success: f64,
    /// Its standard deviation between rounds.
    pub spread: f64,
    /// Last day on which frames or bees leave a colony.
    pub last_draw: Option<String>,
    /// What to mind.
    pub mind: Vec<String>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
    /// Today's round, frame by frame: proved, and checked.
    pub plan: Report,
}

/// The answer in short.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct HeadlineReport {
    /// Compartments that are stocked today, by today's plan.
    pub stock_today: i64,
    /// Of them, next cells in compartments that stand.
    pub next_cells_today: i64,
    /// Of them, nuclei that are given a mated queen.
    pub nuclei_today: i64,
    /// So many fewer than sums of brood and bees would allow: real frames do not part so well.
    pub fewer_by_real_frames: i64,
    /// The day that queens are counted by.
    pub queens_by: String,
    /// Mated queens counted on by then.
    pub queens: i64,
    /// In eight of ten seasons so many, at least and at most.
    pub queens_least: i64,
    /// See above.
    pub queens_most: i64,
    /// Which want is the first that is not met whole, from 1; null where all are.
    pub first_unmet: Option<usize>,
    /// So many more at most of that: no season on these counts gives more.
    pub at_most_more: i64,
    /// What holds that back, the most first.
    pub held_back_by: Vec<String>,
    /// The day by which to count the colonies again, and to plan anew: before grafting for the next round.
    pub look_again: String,
    /// The next round; null where there is none.
    pub next_round: Option<String>,
}

/// Something wanted.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WantReport {
    /// `queens`, `nuclei`, `requeen` or `winter`.
    pub what: &'static str,
    /// Colonies to requeen.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub colonies: Vec<String>,
    /// Kind of box of nuclei.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub box_kind: Option<String>,
    /// How many; null: as many as there can be.
    pub asked: Option<u32>,
    /// Last day.
    pub by: String,
    /// So many are counted on.
    pub met: i64,
    /// No season that meets those before it as far gives more.
    pub at_most: i64,
    /// Chance that enough queens mate by then for it and those before it, in percent; null where as many as there can be
    /// are wanted.
    pub enough_queens_percent: Option<u32>,
    /// What holds it back, the most first; empty where it is met whole.
    pub held_back_by: Vec<String>,
}

/// The season for a number stocked today.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AgainstReport {
    /// Cells that go in today.
    pub cells_today: i64,
    /// It is the number that is planned.
    pub planned: bool,
    /// By want: how far it is met.
    pub met: Vec<i64>,
    /// Mated queens counted on by the day of the headline.
    pub queens: i64,
    /// Cells of the whole season.
    pub cells: i64,
    /// Honey given up over the season, in grams: an estimate. Null where no colony states a crop.
    pub honey_given_up_g: Option<i64>,
    /// Cost of the season, in grams of honey.
    pub cost_g: i64,
    /// No season that meets as much costs less.
    pub least_cost_g: i64,
    /// Colonies with fewer bees for winter than are to be; null without a winter's day.
    pub colonies_below_winter: Option<usize>,
}

impl AgainstReport {
    /// Whether a season that meets as much may cost clearly less.
    pub fn dear(&self) -> bool {
        self.cost_g > self.least_cost_g + self.least_cost_g / 10 + 200
    }
}

/// So many of a kind of box.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct KindCount {
    /// Kind of box.
    pub box_kind: String,
    /// How many compartments.
    pub compartments: i64,
}

/// A round.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RoundReport {
    /// The stocking day.
    pub day: String,
    /// An outlook: not to the frame. Today's round is none.
    pub outlook: bool,
    /// The grafting day.
    pub graft: String,
    /// The day on which cells go in.
    pub cells_in: String,
    /// Cells to have ready.
    pub cells: i64,
    /// New stockings by kind of box.
    pub new: Vec<KindCount>,
    /// Next cells for what stands, by kind of box.
    pub next: Vec<KindCount>,
    /// Nuclei made.
    pub nuclei: i64,
    /// The same by kind of box.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub nuclei_in: Vec<KindCount>,
    /// Brood combs that go in, in standard frames.
    pub brood_combs: f64,
    /// Bees that stay in the boxes.
    pub bees: i64,
    /// Combs without brood that new compartments and nuclei ask for: to be had ready, and not reckoned but for today.
    pub other_combs: i64,
    /// Of these, for next cells: brood combs that what stands lacks.
    pub top_up_brood_combs: f64,
    /// Bees that it lacks.
    pub top_up_bees: i64,
    /// It is taken to be rained out: no queen comes of it.
    pub rained_out: bool,
    /// Mated queens counted on from it.
    pub queens: i64,
    /// In eight of ten such rounds, at least and at most.
    pub queens_least: i64,
    /// See above.
    pub queens_most: i64,
    /// The day of the first eggs, where a queen mates.
    pub laying_from: String,
    /// The day from which its queens may be taken.
    pub usable_from: String,
    /// The stocking day from which its compartments may get their next cell.
    pub free_from: String,
}

/// A colony over the season.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CourseReport {
    /// Its name.
    pub colony: String,
    /// Brood that it keeps at each draw, in full frames of its own size; 0 where nothing is asked.
    pub keeps_brood_frames: f64,
    /// By round.
    pub rounds: Vec<DrawReport>,
    /// Brood on each day of `weeks`, before what it gives on that day, in full frames of its own size.
    pub brood_frames_by_week: Vec<f64>,
    /// The same, had it never given.
    pub brood_frames_by_week_undrawn: Vec<f64>,
    /// Honey given up over the season, in grams: an estimate. Null where it states no crop.
    pub honey_given_up_g: Option<i64>,
    /// Bees that go into winter; null without a winter's day.
    pub winter_bees: Option<i64>,
    /// The same, had it never given.
    pub winter_bees_undrawn: Option<i64>,
}

impl CourseReport {
    /// Whether it gives brood or bees in some round.
    pub fn gives(&self) -> bool {
        let mut rounds = self.rounds.iter();
        rounds.any(|round| round.brood_combs > 0 || round.bees_given > 0)
    }
}

/// What a colony gives in a round, and what it is.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DrawReport {
    /// The stocking day.
    pub day: String,
    /// Brood combs that it gives.
    pub brood_combs: u32,
    /// Brood combs that it has before, each as full as they are today.
    pub brood_combs_before: u32,
    /// Bees that leave it.
    pub bees_given: i64,
    /// Bees before.
    pub bees: i64,
    /// Brood before, in full frames of its own size.
    pub brood_frames: f64,
    /// Brood that leaves it, in full frames of its own size.
    pub brood_frames_given: f64,
    /// Bees, had it never given.
    pub bees_undrawn: i64,
    /// Brood, had it never given.
    pub brood_frames_undrawn: f64,
    /// Days until it has 95 % of the brood that it would have had untouched, were nothing more taken, if 15.4 % of the
    /// foragers, or what you state, are lost a day; null: not in this season, or nothing was given.
    pub brood_back_days: Option<i32>,
    /// The same with 10 %.
    pub brood_back_days_with_fewer_losses: Option<i32>,
}

/// Queens by a day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QueensReport {
    /// The day.
    pub day: String,
    /// Cells whose queens may be taken by then.
    pub cells: i64,
    /// Mated queens counted on.
    pub queens: i64,
    /// In eight of ten seasons, at least and at most.
    pub queens_least: i64,
    /// See above.
    pub queens_most: i64,
    /// Of those counted on, used by then.
    pub used: i64,
}

/// Autumn.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AutumnReport {
    /// The winter's day.
    pub on: String,
    /// Unite, take partitions out, and end feeding by this day.
    pub unite_by: String,
    /// Fewest bees of what winters.
    pub bees: i64,
    /// Food of what winters in boxes, in kg.
    pub food_kg: f64,
    /// What winters in boxes.
    pub units: Vec<UnitsReport>,
    /// Colonies that are too weak for winter.
    pub weak: Vec<WeakReport>,
}

/// Units that winter in boxes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct UnitsReport {
    /// Kind of box.
    pub box_kind: String,
    /// The round that their queens are of.
    pub round: String,
    /// How many.
    pub units: i64,
    /// Compartments that make one of them.
    pub compartments_each: i64,
}

/// A colony too weak for winter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct WeakReport {
    /// Its name.
    pub colony: String,
    /// Bees expected.
    pub bees: i64,
    /// So many are lacking.
    pub lacks: i64,
    /// It would be too weak, had it never given.
    pub anyway: bool,
}

/// The season with another number of boxes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BoxesReport {
    /// Kind of box.
    pub box_kind: String,
    /// Boxes of it.
    pub boxes: u32,
    /// By want: how far it is met.
    pub met: Vec<i64>,
    /// Mated queens counted on by the day of the headline.
    pub queens: i64,
    /// At most so many more queens or whatever is first not met.
    pub at_most_more: i64,
    /// Honey given up over the season, in grams: an estimate. Null where no colony states a crop.
    pub honey_given_up_g: Option<i64>,
}
