//! The decision as rows and columns, one function for each rule, and the four goals in turn.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use super::backend::{Answer, Col, Model, Sense};
use super::options::{DrawOption, lean, list};
use super::tables::Tables;

/// Donors with the same options and the same bees, which share whole-number counts.
#[derive(Debug, Clone)]
pub(super) struct Kin {
    /// Positions in [`Tables::donors`].
    pub donors: Vec<usize>,
    pub options: Vec<DrawOption>,
    bee_rate: i64,
    stay: Vec<i64>,
}

/// Counts chosen by the optimiser.
#[derive(Debug, Clone, Default)]
pub(super) struct Choice {
    /// Compartments of each kind.
    pub compartments: Vec<i64>,
    /// For each donor: the frames of each of its items, where it is opened.
    pub takes: Vec<Option<Vec<u32>>>,
    /// Bees of each donor for each site.
    pub bees: Vec<Vec<i64>>,
}

impl Choice {
    /// Honey charged, mg.
    pub fn honey(&self, tables: &Tables) -> i64 {
        let mut charged = 0;
        for (index, donor) in tables.donors.iter().enumerate() {
            charged += self.bees[index].iter().sum::<i64>() * donor.bee_rate;
            for (item, &count) in donor.items.iter().zip(self.takes[index].iter().flatten()) {
                charged += item.charge * i64::from(count);
            }
        }
        charged
    }

    /// Colonies opened.
    pub fn opened(&self) -> i64 {
        self.takes.iter().filter(|take| take.is_some()).count() as i64
    }
}

/// The result of all goals.
pub(super) struct Search {
    pub choice: Option<Choice>,
    /// The first goal that is not proved, its bound, and whether time ran out.
    pub open: Option<(u8, i64, bool)>,
}

struct Columns {
    kinds: Vec<Col>,
    options: Vec<Vec<Col>>,
    bees: Vec<Vec<Col>>,
    service: BTreeMap<(usize, usize), Col>,
    shelf: Vec<Col>,
    shaken: Vec<Col>,
}

/// Bound on the bees that go to one site; the engine holds whole columns in 32 bits.
const MOST_BEES: i64 = 2_000_000_000;

struct Deadline(Option<Instant>);

impl Deadline {
    fn left(&self) -> Option<Duration> {
        self.0
            .map(|end| end.saturating_duration_since(Instant::now()))
    }
}

/// Pursues the four goals in their order.
pub(super) fn search(tables: &Tables, limit: Option<Duration>) -> Search {
    let deadline = Deadline(limit.and_then(|limit| Instant::now().checked_add(limit)));
    let lists: Vec<_> = tables
        .donors
        .iter()
        .map(|donor| list(donor, tables.classes.len()))
        .collect();
    let cut = lists.iter().any(|list| list.cut);
    let full: Vec<Vec<DrawOption>> = lists.into_iter().map(|list| list.options).collect();
    let short: Vec<Vec<DrawOption>> = full.iter().map(|options| lean(options)).collect();

    // Goals 1 to 3 look at the short lists.
    let kin = kindred(tables, short);
    let (mut model, columns) = build(tables, &kin, false);
    let worth = worth_terms(tables, &columns);
    let honey = honey_terms(tables, &kin, &columns);
    let opened: Vec<(Col, f64)> = columns
        .options
        .iter()
        .flatten()
        .map(|&col| (col, 1.0))
        .collect();

    let mut open = None;
    let mut note = |goal: u8, bound: i64, timed_out: bool| {
        open.get_or_insert((goal, bound, timed_out));
    };

    let negated: Vec<(Col, f64)> = worth.iter().map(|&(col, w)| (col, -w)).collect();
    model.minimise(&negated);
    let (first, best) = match model.solve(None, deadline.left()) {
        Answer::Best(values) => (values, true),
        Answer::Stopped(values) => (values, false),
        Answer::Empty => {
            note(1, relaxed_worth(&model), true);
            return Search { choice: None, open };
        }
        Answer::Impossible | Answer::Failed => {
            return Search {
                choice: None,
                open: Some((1, relaxed_worth(&model), false)),
            };
        }
    };
    if !best {
        note(1, relaxed_worth(&model), true);
    }
    if cut {
        note(1, relaxed_worth(&model), false);
    }
    let reached = total(&worth, &first);
    let mut choice = read(tables, &kin, &columns, &first);
    if reached == 0 {
        return Search {
            choice: Some(choice),
            open,
        };
    }
    model.row(worth, Sense::AtLeast, reached as f64);

    let mut start = first;
    model.minimise(&scaled(&honey, 1e-3));
    match model.solve(Some(&start), deadline.left()) {
        Answer::Best(values) => {
            choice = read(tables, &kin, &columns, &values);
            let least = not_below(value(&honey, &values));
            if choice.honey(tables) > least {
                note(2, least, false);
            }
            start = values;
        }
        Answer::Stopped(values) => {
            note(2, bound(&model, 1e3), true);
            choice = read(tables, &kin, &columns, &values);
            start = values;
        }
        Answer::Empty => note(2, bound(&model, 1e3), true),
        Answer::Impossible | Answer::Failed => note(2, bound(&model, 1e3), false),
    }
    let honey_reached = choice.honey(tables);
    let cap = at_most(honey_reached);
    model.row(scaled(&honey, 1e-3), Sense::AtMost, cap / 1e3);

    model.minimise(&opened);
    match model.solve(Some(&start), deadline.left()) {
        Answer::Best(values) => choice = read(tables, &kin, &columns, &values),
        Answer::Stopped(values) => {
            note(3, bound(&model, 1.0), true);
            choice = read(tables, &kin, &columns, &values);
        }
        Answer::Empty => note(3, bound(&model, 1.0), true),
        Answer::Impossible | Answer::Failed => note(3, bound(&model, 1.0), false),
    }
    let opened_reached = choice.opened();

    // Goal 4 needs the exact frames, so it looks at the full lists.
    let full = full
        .into_iter()
        .map(|options| {
            options
                .into_iter()
                .filter(|option| option.charge <= honey_reached)
                .collect()
        })
        .collect();
    let kin = kindred(tables, full);
    let (mut model, columns) = build(tables, &kin, true);
    let honey = honey_terms(tables, &kin, &columns);
    let opened: Vec<(Col, f64)> = columns
        .options
        .iter()
        .flatten()
        .map(|&col| (col, 1.0))
        .collect();
    model.row(
        worth_terms(tables, &columns),
        Sense::AtLeast,
        reached as f64,
    );
    model.row(
        scaled(&honey, 1e-3),
        Sense::AtMost,
        (honey_reached as f64 + 0.4) / 1000.0,
    );
    model.row(opened, Sense::AtMost, at_most(opened_reached));
    let shaken: Vec<(Col, f64)> = columns.shaken.iter().map(|&col| (col, 1.0)).collect();
    model.minimise(&shaken);
    match model.solve(None, deadline.left()) {
        Answer::Best(values) => choice = read(tables, &kin, &columns, &values),
        Answer::Stopped(values) => {
            note(4, bound(&model, 1.0), true);
            choice = read(tables, &kin, &columns, &values);
        }
        Answer::Empty => note(4, 0, true),
        Answer::Impossible | Answer::Failed => note(4, 0, false),
    }
    Search {
        choice: Some(choice),
        open,
    }
}

fn relaxed_worth(model: &Model) -> i64 {
    model
        .relaxed()
        .map_or(i64::MAX, |least| (-least + 1e-6).floor() as i64)
}

fn bound(model: &Model, scale: f64) -> i64 {
    model.relaxed().map_or(0, |least| not_below(least * scale))
}

fn scaled(terms: &[(Col, f64)], factor: f64) -> Vec<(Col, f64)> {
    terms
        .iter()
        .map(|&(col, value)| (col, value * factor))
        .collect()
}

/// A whole value as an upper limit: half a unit of slack lets nothing worse in.
fn at_most(reached: i64) -> f64 {
    reached as f64 + 0.4
}

fn value(terms: &[(Col, f64)], values: &[f64]) -> f64 {
    terms
        .iter()
        .map(|&(col, coefficient)| coefficient * values[col])
        .sum()
}

/// The least whole number that is not below `least`, but for the engine's rounding.
fn not_below(least: f64) -> i64 {
    (least - 1e-2).ceil() as i64
}

fn whole(value: f64) -> i64 {
    value.round() as i64
}

/// Exact total over rounded columns; coefficients are whole numbers held as floats.
fn total(terms: &[(Col, f64)], values: &[f64]) -> i64 {
    terms
        .iter()
        .map(|&(col, coefficient)| whole(coefficient) * whole(values[col]))
        .sum()
}

fn kindred(tables: &Tables, lists: Vec<Vec<DrawOption>>) -> Vec<Kin> {
    let mut kin: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for (index, (donor, options)) in tables.donors.iter().zip(&lists).enumerate() {
        let alike = (options.clone(), donor.bee_rate, donor.stay.clone());
        kin.entry(alike).or_default().push(index);
    }
    kin.into_iter()
        .map(|((options, bee_rate, stay), donors)| Kin {
            donors,
            options,
            bee_rate,
            stay,
        })
        .collect()
}

fn worth_terms(tables: &Tables, columns: &Columns) -> Vec<(Col, f64)> {
    columns
        .kinds
        .iter()
        .zip(&tables.kinds)
        .map(|(&col, kind)| (col, (kind.worth * kind.step) as f64))
        .collect()
}

fn honey_terms(_tables: &Tables, kin: &[Kin], columns: &Columns) -> Vec<(Col, f64)> {
    let mut terms = Vec::new();
    for (index, kin) in kin.iter().enumerate() {
        for (option, &col) in kin.options.iter().zip(&columns.options[index]) {
            terms.push((col, option.charge as f64));
        }
        for &col in &columns.bees[index] {
            terms.push((col, kin.bee_rate as f64));
        }
    }
    terms.retain(|&(_, charge)| charge != 0.0);
    terms
}

/// All columns, then one function for each rule.
fn build(tables: &Tables, kin: &[Kin], exact: bool) -> (Model, Columns) {
    let mut model = Model::default();
    let columns = columns(&mut model, tables, kin, exact);
    draw_and_keep(&mut model, kin, &columns);
    supply(&mut model, tables, kin, &columns, exact);
    recipe(&mut model, tables, &columns);
    bees(&mut model, tables, kin, &columns);
    cells(&mut model, tables, &columns);
    honey_cap(&mut model, tables, kin, &columns);
    if exact {
        shaken(&mut model, kin, &columns);
    }
    (model, columns)
}

/// Rule boxes is in the bounds: a kind's column counts compartments, or whole boxes.
fn columns(model: &mut Model, tables: &Tables, kin: &[Kin], exact: bool) -> Columns {
    let kinds = tables
        .kinds
        .iter()
        .map(|kind| model.whole(kind.most / kind.step))
        .collect();
    let options = kin
        .iter()
        .map(|kin| {
            kin.options
                .iter()
                .map(|_| model.whole(kin.donors.len() as i64))
                .collect()
        })
        .collect();
    let bees = kin
        .iter()
        .map(|kin| {
            let most = kin
                .options
                .iter()
                .map(|option| option.most_bees)
                .max()
                .unwrap_or(0);
            let most = most * kin.donors.len() as i64;
            kin.stay
                .iter()
                .map(|&stay| model.share(if stay > 0 { most as f64 } else { 0.0 }))
                .collect()
        })
        .collect();
    let mut service = BTreeMap::new();
    for (class, serves) in tables.classes.iter().enumerate() {
        for need in serves
            .iter()
            .enumerate()
            .filter(|(_, rank)| rank.is_some())
            .map(|(n, _)| n)
        {
            service.insert((class, need), model.share(f64::INFINITY));
        }
    }
    let shelf = tables
        .store_room
        .iter()
        .map(|spares| model.share(spares.iter().map(|&(_, count)| f64::from(count)).sum()))
        .collect();
    let shaken = if exact {
        kin.iter().map(|_| model.share(f64::INFINITY)).collect()
    } else {
        Vec::new()
    };
    Columns {
        kinds,
        options,
        bees,
        service,
        shelf,
        shaken,
    }
}

/// Rules keep and draw: one option for each colony, and the bees that it leaves free.
fn draw_and_keep(model: &mut Model, kin: &[Kin], columns: &Columns) {
    for (index, kin) in kin.iter().enumerate() {
        let options = &columns.options[index];
        let one = options.iter().map(|&col| (col, 1.0)).collect();
        model.row(one, Sense::AtMost, kin.donors.len() as f64);
        let mut free: Vec<(Col, f64)> = columns.bees[index].iter().map(|&col| (col, 1.0)).collect();
        for (option, &col) in kin.options.iter().zip(options) {
            free.push((col, -(option.most_bees as f64)));
        }
        model.row(free, Sense::AtMost, 0.0);
    }
}

/// Rule supply: what serves a need was taken from a colony or the store room.
fn supply(model: &mut Model, tables: &Tables, kin: &[Kin], columns: &Columns, exact: bool) {
    let mut rows: Vec<Vec<(Col, f64)>> =
        columns.shelf.iter().map(|&col| vec![(col, 1.0)]).collect();
    for (index, kin) in kin.iter().enumerate() {
        for (option, &col) in kin.options.iter().zip(&columns.options[index]) {
            for &(class, count) in &option.supply {
                rows[class].push((col, f64::from(count)));
            }
        }
    }
    for (&(class, _), &col) in &columns.service {
        rows[class].push((col, -1.0));
    }
    debug_assert_eq!(rows.len(), tables.classes.len());
    for row in rows {
        model.row(row, if exact { Sense::Equal } else { Sense::AtLeast }, 0.0);
    }
}

/// Rule recipe: each stocked compartment's lines are served.
fn recipe(model: &mut Model, tables: &Tables, columns: &Columns) {
    for (index, need) in tables.needs.iter().enumerate() {
        let kind = &tables.kinds[need.kind];
        let mut row: Vec<(Col, f64)> = columns
            .service
            .iter()
            .filter(|((_, served), _)| *served == index)
            .map(|(_, &col)| (col, 1.0))
            .collect();
        row.push((
            columns.kinds[need.kind],
            -((i64::from(need.each) * kind.step) as f64),
        ));
        model.row(row, Sense::Equal, 0.0);
    }
}

/// Rule bees: what stays at a site is enough for its compartments.
///
/// Bees are whole. Where nothing is lost the rows are those of a network, so that whole frames
/// leave whole bees. Where some fly home, the totals from near and far are whole columns and
/// the rest is a network again.
fn bees(model: &mut Model, tables: &Tables, kin: &[Kin], columns: &Columns) {
    for site in 0..tables.sites.len() {
        let mut stay: BTreeMap<i64, Vec<(Col, f64)>> = BTreeMap::new();
        for (index, kin) in kin.iter().enumerate() {
            if kin.stay[site] > 0 {
                stay.entry(kin.stay[site])
                    .or_default()
                    .push((columns.bees[index][site], 1.0));
            }
        }
        let mut row: Vec<(Col, f64)> = Vec::new();
        if stay.keys().all(|&share| share == 1000) {
            row = stay.into_values().flatten().collect();
        } else {
            for (share, mut from) in stay {
                let total = model.whole(MOST_BEES);
                row.push((total, share as f64 / 1000.0));
                from.push((total, -1.0));
                model.row(from, Sense::AtLeast, 0.0);
            }
        }
        for (kind, &col) in tables.kinds.iter().zip(&columns.kinds) {
            if kind.site == site {
                row.push((col, -((kind.bees * kind.step) as f64)));
            }
        }
        model.row(row, Sense::AtLeast, 0.0);
    }
}

/// Rule cells: a cell of a fitting batch for each compartment.
fn cells(model: &mut Model, tables: &Tables, columns: &Columns) {
    let Some(batches) = &tables.cells else { return };
    let mut used: Vec<Vec<(Col, f64)>> = vec![Vec::new(); tables.kinds.len()];
    for (count, kinds) in batches {
        let mut row = Vec::new();
        for &kind in kinds {
            let col = model.share(f64::INFINITY);
            row.push((col, 1.0));
            used[kind].push((col, 1.0));
        }
        model.row(row, Sense::AtMost, *count as f64);
    }
    for (index, mut row) in used.into_iter().enumerate() {
        row.push((columns.kinds[index], -(tables.kinds[index].step as f64)));
        model.row(row, Sense::AtLeast, 0.0);
    }
}

/// Rule draw, the cap over all colonies.
fn honey_cap(model: &mut Model, tables: &Tables, kin: &[Kin], columns: &Columns) {
    if let Some(cap) = tables.honey_cap {
        let terms = honey_terms(tables, kin, columns);
        model.row(scaled(&terms, 1e-3), Sense::AtMost, cap as f64 / 1000.0);
    }
}

/// Goal 4: bees beyond those that ride on the frames.
fn shaken(model: &mut Model, kin: &[Kin], columns: &Columns) {
    for (index, kin) in kin.iter().enumerate() {
        let mut row: Vec<(Col, f64)> = vec![(columns.shaken[index], 1.0)];
        row.extend(columns.bees[index].iter().map(|&col| (col, -1.0)));
        for (option, &col) in kin.options.iter().zip(&columns.options[index]) {
            row.push((col, option.riding as f64));
        }
        model.row(row, Sense::AtLeast, 0.0);
    }
}

/// Turns counts shared by kin into a choice for each donor.
fn read(tables: &Tables, kin: &[Kin], columns: &Columns, values: &[f64]) -> Choice {
    let mut choice = Choice {
        compartments: columns
            .kinds
            .iter()
            .zip(&tables.kinds)
            .map(|(&col, kind)| whole(values[col]) * kind.step)
            .collect(),
        takes: vec![None; tables.donors.len()],
        bees: vec![vec![0; tables.sites.len()]; tables.donors.len()],
    };
    let mut riding = vec![(0, 0); tables.donors.len()];
    for (index, kin) in kin.iter().enumerate() {
        let mut donors = kin.donors.iter();
        for (option, &col) in kin.options.iter().zip(&columns.options[index]) {
            for &donor in donors
                .by_ref()
                .take(usize::try_from(whole(values[col])).unwrap_or(0))
            {
                choice.takes[donor] = Some(option.take.clone());
                riding[donor] = (option.riding, option.most_bees);
            }
        }
    }
    if let Some(bees) = super::bees::share(tables, &choice, &riding) {
        choice.bees = bees;
    }
    choice
}
