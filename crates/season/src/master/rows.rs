//! Which rows there are, and what each set counts in them.

use std::collections::BTreeMap;
use std::rc::Rc;

use spareframe_engine::Row;

use super::super::compartment::{lacks, united};
use super::super::listing::List;
use super::super::season::{MOST_FRAMES, Need, Season, Stocks, What};
use super::super::walk::horizon;
use super::tighten::tighten;
use super::{Dense, Giver, Goal, Master, Whole};

/// A whole number that is chosen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Figure {
    /// New stockings of a kind in a round.
    New(usize, usize),
    /// Next cells of a kind in a round.
    Next(usize, usize),
    /// Nuclei of a want made in a round.
    Nuclei(usize, usize),
    /// Units of a want that keep their queen, of a kind and a round.
    Kept(usize, usize, usize),
    /// As how many a want counts.
    Want(usize),
    /// Compartments more or fewer than people were told, of one thing that they were told.
    Otherwise(usize),
    /// Brood frames of a comb size that colonies give in a round, as far as they are used: a whole number.
    Frames(usize, usize),
}

/// What a row is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum RowOf {
    /// Brood frames of a comb size in a round.
    Brood(usize, usize),
    /// Bees in a round.
    Bees(usize),
    /// Loose bees in a round.
    Loose(usize),
    /// Cells of a round.
    Cells(usize),
    /// Boxes of a kind.
    Boxes(usize),
    /// Compartments of a kind that are free for a next cell in a round.
    Free(usize, usize),
    /// Compartments of a kind at the end.
    Keeping(usize),
    /// Units kept of a kind and a round.
    KeptOf(usize, usize),
    /// Queens by a day.
    Queens(i32),
    /// What a want counts.
    Want(usize),
    /// Exactly so many cells today.
    Today,
    /// Nuclei made today, at most.
    NucleiToday,
    /// Honey that all colonies give up.
    Honey,
    /// More than people were told.
    More(usize),
    /// Fewer than people were told.
    Fewer(usize),
    /// Whole brood frames of a comb size in a round.
    Frames(usize, usize),
}

struct Builder<'a> {
    season: &'a Season,
    rows: BTreeMap<RowOf, (i64, bool)>,
    entries: Vec<Vec<(RowOf, i64)>>,
    figures: Vec<(Figure, i64)>,
    lacks: Vec<Vec<Option<Need>>>,
}

/// Compartments times this, so that what failed twice can be a part of one.
const PARTS: i64 = 10_000;

/// By kind and round: what a next cell lacks.
fn all_lacks(season: &Season) -> Vec<Vec<Option<Need>>> {
    let of_kind = |kind| {
        (0..season.rounds.len())
            .map(move |round| lacks(season, kind, round))
            .collect()
    };
    season.kinds.iter().map(of_kind).collect()
}

/// The model; bounds of numbers by themselves alone, or as tight as rows and colonies make them.
pub(super) fn build(season: &Season, listed: &super::Listed, tight: bool) -> Master {
    let mut builder = Builder {
        season,
        rows: BTreeMap::new(),
        entries: Vec::new(),
        figures: Vec::new(),
        lacks: all_lacks(season),
    };
    builder.cells();
    builder.wants();
    builder.told();
    builder.rows_of_rounds();
    builder.rows_of_kinds();
    builder.rows_of_queens();
    builder.finish(listed, tight)
}

impl Builder<'_> {
    fn figure(&mut self, figure: Figure, most: i64) {
        self.figures.push((figure, most.max(0)));
        self.entries.push(Vec::new());
    }

    fn row(&mut self, of: RowOf, rhs: i64) {
        self.rows.insert(of, (rhs, false));
    }

    fn equal(&mut self, of: RowOf, rhs: i64) {
        self.rows.insert(of, (rhs, true));
    }

    /// What each figure counts in a row.
    fn count(&mut self, of: RowOf, each: impl Fn(Figure) -> i64) {
        for ((figure, _), entries) in self.figures.iter().zip(&mut self.entries) {
            let by = each(*figure);
            if by != 0 {
                entries.push((of, by));
            }
        }
    }

    fn most_cells(&self, round: usize) -> i64 {
        self.season.rounds[round].cells.map_or(i64::MAX, i64::from)
    }

    /// New stockings and next cells.
    fn cells(&mut self) {
        let season = self.season;
        for (at, kind) in season.kinds.iter().enumerate() {
            for (round, of) in season.rounds.iter().enumerate() {
                let cells = self.most_cells(round);
                if !kind.raised || of.day >= season.days.raised {
                    self.figure(
                        Figure::New(at, round),
                        cells.min(i64::from(kind.compartments)),
                    );
                }
                if self.lacks[at][round].is_some() {
                    let all = i64::from(kind.compartments) + kind.standing.len() as i64;
                    self.figure(Figure::Next(at, round), cells.min(all));
                }
            }
        }
    }

    fn wants(&mut self) {
        let season = self.season;
        let cells = self.figures.iter().map(|(_, most)| most).sum::<i64>();
        let there: i64 = season
            .queens
            .iter()
            .map(|ready| i64::from(ready.count))
            .sum();
        let all = cells.saturating_add(there);
        for (want, of) in season.wants.iter().enumerate() {
            let mut most = of.count.map_or(all, i64::from).min(all);
            match &of.what {
                What::Queens => {}
                What::Nuclei { hives, .. } => {
                    most = most.min(i64::from(*hives));
                    let days = season.rounds.iter().enumerate();
                    let days = days.filter(|(_, round)| round.day <= of.by);
                    for (round, _) in days {
                        let cap = self.season.nuclei_today.filter(|_| round == 0);
                        self.figure(
                            Figure::Nuclei(want, round),
                            cap.map_or(most, |cap| cap.min(most)),
                        );
                    }
                }
                What::Kept => {
                    for (at, kind) in season.kinds.iter().enumerate() {
                        for round in 0..season.rounds.len() {
                            if united(season, kind, round).is_some() {
                                self.figure(Figure::Kept(want, at, round), most);
                            }
                        }
                    }
                }
            }
            self.figure(Figure::Want(want), most);
            let made = move |figure| match figure {
                Figure::Nuclei(of, _) | Figure::Kept(of, ..) if of == want => 1,
                Figure::Want(of) if of == want => -1,
                _ => 0,
            };
            if of.what != What::Queens {
                self.equal(RowOf::Want(want), 0);
                self.count(RowOf::Want(want), made);
            }
        }
    }

    /// How far numbers are from those that people were told.
    fn told(&mut self) {
        let season = self.season;
        for (at, told) in season
            .told
            .iter()
            .flat_map(|told| &told.stocked)
            .enumerate()
        {
            let counts = |figure: Figure| {
                let round = told.round;
                let of = |of: &Stocks| match (*of, figure) {
                    (Stocks::Cells(kind), Figure::New(k, r) | Figure::Next(k, r)) => {
                        (kind, round) == (k, r)
                    }
                    (Stocks::Nuclei(want), Figure::Nuclei(w, r)) => (want, round) == (w, r),
                    _ => false,
                };
                i64::from(told.of.iter().any(of))
            };
            let most: i64 = self
                .figures
                .iter()
                .map(|(figure, most)| most.saturating_mul(counts(*figure)))
                .fold(0, i64::saturating_add);
            self.figure(Figure::Otherwise(at), most.max(told.then));
            for (row, sign) in [(RowOf::More(at), -1), (RowOf::Fewer(at), 1)] {
                self.row(row, sign * told.then);
                self.count(row, |figure| match figure {
                    Figure::Otherwise(of) => i64::from(of == at),
                    _ => sign * counts(figure),
                });
            }
        }
    }

    /// What a figure asks for in a round, and of which comb size.
    fn need(&self, figure: Figure, round: usize) -> Option<(Need, usize)> {
        let season = self.season;
        match figure {
            Figure::New(kind, of) if of == round => {
                Some((season.kinds[kind].need, season.kinds[kind].comb))
            }
            Figure::Next(kind, of) if of == round => {
                self.lacks[kind][round].map(|need| (need, season.kinds[kind].comb))
            }
            Figure::Nuclei(want, of) if of == round => match &season.wants[want].what {
                What::Nuclei { need, comb, .. } => Some((*need, *comb)),
                _ => None,
            },
            _ => None,
        }
    }

    /// Brood, bees and cells.
    fn rows_of_rounds(&mut self) {
        for round in 0..self.season.rounds.len() {
            let needs: Vec<Option<(Need, usize)>> = self
                .figures
                .iter()
                .map(|(figure, _)| self.need(*figure, round))
                .collect();
            for (need, entries) in needs.iter().zip(&mut self.entries) {
                let Some((need, comb)) = need else { continue };
                if need.brood > 0 {
                    self.rows.insert(RowOf::Brood(*comb, round), (0, false));
                    self.rows.insert(RowOf::Frames(*comb, round), (0, false));
                    entries.push((RowOf::Brood(*comb, round), -need.brood));
                }
                if need.bees > 0 {
                    self.rows.insert(RowOf::Bees(round), (0, false));
                    entries.push((RowOf::Bees(round), -need.bees));
                }
                if need.bees > 0 && need.loose {
                    self.rows.insert(RowOf::Loose(round), (0, false));
                    entries.push((RowOf::Loose(round), -need.bees));
                }
            }
            let sizes: Vec<usize> = self
                .rows
                .keys()
                .filter_map(|row| match *row {
                    RowOf::Frames(comb, of) if of == round => Some(comb),
                    _ => None,
                })
                .collect();
            for comb in sizes {
                let all = self.season.colonies.len() as i64 + 1;
                self.figure(Figure::Frames(comb, round), all * i64::from(MOST_FRAMES));
                self.count(RowOf::Brood(comb, round), |figure| {
                    100 * i64::from(figure == Figure::Frames(comb, round))
                });
                self.count(RowOf::Frames(comb, round), |figure| {
                    -100 * i64::from(figure == Figure::Frames(comb, round))
                });
            }
            let cells = move |figure| match figure {
                Figure::New(_, of) | Figure::Next(_, of) if of == round => 1,
                _ => 0,
            };
            if let Some(most) = self.season.rounds[round].cells {
                self.row(RowOf::Cells(round), -i64::from(most));
                self.count(RowOf::Cells(round), move |figure| -cells(figure));
            }
            if let (0, Some(nuclei)) = (round, self.season.nuclei_today) {
                self.row(RowOf::NucleiToday, -nuclei);
                self.count(RowOf::NucleiToday, |figure| {
                    -i64::from(matches!(figure, Figure::Nuclei(_, 0)))
                });
            }
            if let (0, Some(honey)) = (round, self.season.honey) {
                self.row(RowOf::Honey, -honey);
            }
            if let (0, Some(today)) = (round, self.season.today) {
                self.equal(RowOf::Today, today);
                self.count(RowOf::Today, cells);
            }
        }
    }

    /// Boxes, and compartments that are free.
    fn rows_of_kinds(&mut self) {
        let season = self.season;
        let units: Vec<Vec<i64>> = season
            .kinds
            .iter()
            .map(|kind| {
                (0..season.rounds.len())
                    .map(|round| united(season, kind, round).unwrap_or(0))
                    .collect()
            })
            .collect();
        let kept = self
            .figures
            .iter()
            .any(|(figure, _)| matches!(figure, Figure::Kept(..)));
        for (at, kind) in season.kinds.iter().enumerate() {
            self.row(RowOf::Boxes(at), -i64::from(kind.compartments));
            self.count(RowOf::Boxes(at), move |figure| {
                -i64::from(matches!(figure, Figure::New(of, _) if of == at))
            });
            // By a round, or, one further, by the end.
            for round in 0..=season.rounds.len() {
                let day = season.rounds.get(round).map(|round| round.day);
                let of = match day {
                    Some(_) if self.lacks[at][round].is_none() => continue,
                    Some(_) => RowOf::Free(at, round),
                    None if kept => RowOf::Keeping(at),
                    None => continue,
                };
                let free =
                    |q: usize| day.is_none_or(|day| season.rounds[q].day + season.days.free <= day);
                let tokens = kind
                    .standing
                    .iter()
                    .filter(|stands| day.is_none_or(|day| stands.free <= day));
                self.row(of, -PARTS * tokens.count() as i64);
                self.count(of, |figure| match figure {
                    Figure::New(k, q) if k == at && free(q) => PARTS,
                    Figure::Next(k, q) if k == at => {
                        let used = if q <= round { -PARTS } else { 0 };
                        let comes = if free(q) {
                            PARTS - season.failed_twice(q)
                        } else {
                            0
                        };
                        used + comes
                    }
                    Figure::Kept(_, k, q) if k == at && free(q) => -PARTS * units[k][q],
                    _ => 0,
                });
            }
            for round in (0..season.rounds.len()).filter(|_| kept) {
                let p = season.success_of(round);
                self.row(RowOf::KeptOf(at, round), 0);
                self.count(RowOf::KeptOf(at, round), |figure| match figure {
                    Figure::New(k, q) | Figure::Next(k, q) if (k, q) == (at, round) => p,
                    Figure::Kept(_, k, q) if (k, q) == (at, round) => -(p * units[k][q]).max(100),
                    _ => 0,
                });
            }
        }
    }

    /// Queens by each day on which some are wanted.
    fn rows_of_queens(&mut self) {
        let season = self.season;
        let end = horizon(season);
        let used_on = |figure: Figure| match figure {
            Figure::Want(want) if season.wants[want].what == What::Queens => {
                Some(season.wants[want].by)
            }
            Figure::Nuclei(_, round) => Some(season.rounds[round].day),
            Figure::Kept(..) => Some(end),
            _ => None,
        };
        let mut days: Vec<i32> = self
            .figures
            .iter()
            .filter_map(|(figure, _)| used_on(*figure))
            .collect();
        days.sort_unstable();
        days.dedup();
        let own = i64::from(season.success);
        for day in days {
            let there = season.queens.iter().filter(|ready| ready.day <= day);
            let there =
                there.map(|ready| i64::from(ready.count) * if ready.mated { 100 } else { own });
            self.row(RowOf::Queens(day), -there.sum::<i64>());
            self.count(RowOf::Queens(day), |figure| match figure {
                Figure::New(_, q) | Figure::Next(_, q)
                    if season.rounds[q].day + season.days.usable <= day =>
                {
                    season.success_of(q)
                }
                _ if used_on(figure).is_some_and(|used| used <= day) => -100,
                _ => 0,
            });
        }
    }

    fn finish(self, listed: &super::Listed, tight: bool) -> Master {
        let season = self.season;
        let keys: Vec<RowOf> = self.rows.keys().copied().collect();
        let position: BTreeMap<RowOf, usize> =
            keys.iter().enumerate().map(|(at, of)| (*of, at)).collect();
        let mut scale = vec![1; keys.len()];
        let mut placed = |entries: &[(RowOf, i64)]| -> Vec<(usize, i64)> {
            let found = entries
                .iter()
                .filter_map(|(of, by)| Some((*position.get(of)?, *by)));
            let found: Vec<(usize, i64)> = found.filter(|(_, by)| *by != 0).collect();
            for &(row, by) in &found {
                scale[row] = scale[row].max(by.abs());
            }
            found
        };
        let wholes = self.figures.iter().zip(&self.entries);
        let wholes: Vec<Whole> = wholes
            .map(|(&(figure, most), entries)| Whole {
                figure,
                least: 0,
                most,
                from: 0,
                to: most,
                entries: placed(entries),
            })
            .collect();
        let givers = season.colonies.iter().zip(listed.own());
        let givers = givers.map(
            |(
                colony,
                List {
                    levels, columns, ..
                },
            )| {
                let entries = columns.iter().map(|column| {
                    let rounds = column.gives.iter().enumerate();
                    let rows = rounds.flat_map(|(round, [brood, bees, loose])| {
                        [
                            (RowOf::Frames(colony.comb, round), *brood),
                            (RowOf::Bees(round), *bees),
                            (RowOf::Loose(round), *loose),
                        ]
                    });
                    let honey = [(RowOf::Honey, -column.honey)];
                    placed(&rows.chain(honey).collect::<Vec<_>>())
                });
                let entries: Vec<Vec<(usize, i64)>> = entries.collect();
                Giver {
                    dense: Rc::new(Dense::of(columns, &entries)),
                    entries: Rc::new(entries),
                    left: Rc::new((0..columns.len() as u32).collect()),
                    columns: columns.clone(),
                    levels: levels.clone(),
                }
            },
        );
        let givers: Vec<Giver> = givers.collect();
        let rows = self.rows.values().zip(&scale);
        let rows = rows.map(|(&(rhs, equal), &scale)| Row { rhs, equal, scale });
        let rows: Vec<Row> = rows.collect();
        let mut wholes = wholes;
        if tight {
            tighten(&keys, &rows, &givers, &mut wholes);
        }
        Master {
            rows,
            keys,
            givers,
            wholes,
            goal: Goal::Cost,
            otherwise: season.prices.otherwise,
            lacks: self.lacks,
        }
    }
}

/// Bees of a lot without brood: the most that a compartment asks for that wants no brood; 0 where none does.
pub(crate) fn lots(season: &Season) -> f64 {
    let lacks = all_lacks(season);
    let new = season.kinds.iter().map(|kind| kind.need);
    let next = lacks.iter().flatten().flatten().copied();
    let alone = new.chain(next).filter(|need| need.brood == 0 || need.loose);
    alone.map(|need| need.bees).max().unwrap_or(0) as f64
}
