//! The narrow door to the linear and integer solvers: the only module that names them.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::Duration;

use good_lp::{
    Constraint, DualValues, Expression, ProblemVariables, Solution, SolutionWithDual, SolverModel,
    Variable, constraint, variable,
};
use microlp::TerminationReason;

/// Index of a column in a [`Model`].
pub(super) type Col = usize;

/// How a row compares with its right-hand side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sense {
    AtMost,
    AtLeast,
    Equal,
}

#[derive(Debug, Clone)]
struct Column {
    least: f64,
    most: f64,
    whole: bool,
    /// The upper bound follows from a row, so the relaxation can do without it.
    implied: bool,
    cost: f64,
}

#[derive(Debug, Clone)]
struct Row {
    terms: Vec<(Col, f64)>,
    sense: Sense,
    rhs: f64,
}

/// A minimisation over columns that are 0 or more.
#[derive(Debug, Clone, Default)]
pub(super) struct Model {
    columns: Vec<Column>,
    rows: Vec<Row>,
}

/// The relaxation's answer.
#[derive(Debug, Clone)]
pub(super) struct Relaxed {
    /// Value of each column.
    pub values: Vec<f64>,
    /// For each row, by how much the least objective rises for one more on its right-hand side.
    pub prices: Vec<f64>,
}

/// How long a search may take, and what is good enough for it.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Effort {
    /// Most time.
    pub time: Option<Duration>,
    /// Most nodes of branch and bound: unlike time, the same on every machine.
    pub nodes: Option<u64>,
    /// The search may end with an assignment that is proved to be no further above the least cost
    /// than this share of its own cost.
    pub gap: f64,
}

/// What came of a solve.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Answer {
    /// No assignment is cheaper, or none by more than was asked for.
    Best(Vec<f64>),
    /// Stopped by a limit with an assignment in hand.
    Stopped(Vec<f64>),
    /// Stopped by a limit with nothing in hand.
    Empty,
    /// No assignment exists.
    Impossible,
    /// The engine gave up; the text is its own.
    Failed,
}

impl Model {
    /// How many columns there are.
    pub fn columns(&self) -> usize {
        self.columns.len()
    }

    /// Adds a whole-number column from 0 to `most`.
    pub fn whole(&mut self, most: i64) -> Col {
        self.between(0, most)
    }

    /// Adds a whole-number column from `least` to `most`, both within 32 bits.
    pub fn between(&mut self, least: i64, most: i64) -> Col {
        self.column(least as f64, most as f64, true, false)
    }

    /// Adds a whole-number column from 0 to `most`, a bound that a row holds as well.
    pub fn implied(&mut self, most: i64) -> Col {
        self.column(0.0, most as f64, true, true)
    }

    /// Adds a continuous column from 0 to `most`.
    pub fn share(&mut self, most: f64) -> Col {
        self.column(0.0, most, false, false)
    }

    fn column(&mut self, least: f64, most: f64, whole: bool, implied: bool) -> Col {
        self.columns.push(Column {
            least,
            most,
            whole,
            implied,
            cost: 0.0,
        });
        self.columns.len() - 1
    }

    /// Adds a row; rows without terms are kept and may make the model impossible.
    ///
    /// Returns the row's index.
    pub fn row(&mut self, terms: Vec<(Col, f64)>, sense: Sense, rhs: f64) -> usize {
        self.rows.push(Row { terms, sense, rhs });
        self.rows.len() - 1
    }

    /// Adds a column for what a row is short of, at a price.
    pub fn missing(&mut self, row: usize, price: f64) -> Col {
        let col = self.share(f64::INFINITY);
        self.rows[row].terms.push((col, 1.0));
        self.columns[col].cost = price;
        col
    }

    /// Adds a row that holds the objective down.
    pub fn hold_down(&mut self, most: f64) {
        let columns = self.columns.iter().enumerate();
        let terms = columns.filter(|(_, column)| column.cost != 0.0);
        let terms = terms.map(|(col, column)| (col, column.cost)).collect();
        self.row(terms, Sense::AtMost, most);
    }

    /// Replaces the objective (to be made least).
    pub fn minimise(&mut self, terms: &[(Col, f64)]) {
        for column in &mut self.columns {
            column.cost = 0.0;
        }
        for &(col, cost) in terms {
            self.columns[col].cost += cost;
        }
    }

    /// Solves with fractions allowed everywhere. Only a guide: whoever uses it must be right
    /// whatever it says. `None` where the engine gives no answer.
    pub fn relax(&self) -> Option<Relaxed> {
        let (mut model, handles) = self.relaxation();
        model
            .settings()
            .tol_gap_abs(1e-9)
            .tol_gap_rel(1e-10)
            .max_iter(100);
        let rows: Vec<_> = self
            .rows
            .iter()
            .map(|row| model.add_constraint(row_constraint(row, &handles)))
            .collect();
        let mut solution = catch_unwind(AssertUnwindSafe(|| model.solve()))
            .ok()?
            .ok()?;
        let values = handles
            .iter()
            .map(|&handle| solution.value(handle))
            .collect();
        let dual = solution.compute_dual();
        let prices = rows.into_iter().map(|row| dual.dual(row)).collect();
        Some(Relaxed { values, prices })
    }

    fn relaxation(&self) -> (good_lp::solvers::clarabel::ClarabelProblem, Vec<Variable>) {
        let mut variables = ProblemVariables::new();
        let handles: Vec<Variable> = self
            .columns
            .iter()
            .map(|column| {
                let definition = variable().min(column.least);
                let bounded = column.most.is_finite() && !column.implied;
                variables.add(if bounded {
                    definition.max(column.most)
                } else {
                    definition
                })
            })
            .collect();
        let objective = self.objective(&handles);
        (
            variables
                .minimise(objective)
                .using(good_lp::solvers::clarabel::clarabel),
            handles,
        )
    }

    fn objective(&self, handles: &[Variable]) -> Expression {
        self.columns
            .iter()
            .zip(handles)
            .filter(|(column, _)| column.cost != 0.0)
            .map(|(column, &handle)| column.cost * handle)
            .sum()
    }

    /// Solves, with no limit but that of time.
    pub fn solve(&self, limit: Option<Duration>) -> Answer {
        let effort = Effort {
            time: limit,
            ..Effort::default()
        };
        self.solve_within(effort).0
    }

    /// Solves; where the engine fails on the way, again with columns or rows turned round, which
    /// leads it along another path.
    ///
    /// Returns with the answer how many nodes were searched.
    pub fn solve_within(&self, effort: Effort) -> (Answer, u64) {
        let turns = [(false, false), (true, false), (false, true), (true, true)];
        let mut searched = 0;
        for (columns, rows) in turns {
            let nodes = effort.nodes.map(|nodes| nodes.saturating_sub(searched));
            let left = Effort { nodes, ..effort };
            // The engine asserts its own numbers now and then; a failed assertion is a failed
            // solve.
            let attempt = || self.attempt(columns, rows, left);
            match catch_unwind(AssertUnwindSafe(attempt)) {
                Ok((Answer::Failed, nodes)) => searched += nodes,
                Ok((answer, nodes)) => return (answer, searched + nodes),
                Err(_) => {}
            }
        }
        (Answer::Failed, searched)
    }

    /// Solves with fractions allowed everywhere and stops at a corner, where few columns are
    /// fractions.
    pub fn corner(&self) -> Option<Vec<f64>> {
        let mut model = self.clone();
        for column in &mut model.columns {
            column.whole = false;
        }
        match model.solve(None) {
            Answer::Best(values) => Some(values),
            _ => None,
        }
    }

    fn attempt(&self, turned: bool, rows_turned: bool, effort: Effort) -> (Answer, u64) {
        let mut variables = ProblemVariables::new();
        let mut add = |column: &Column| {
            let definition = variable().min(column.least).max(column.most);
            variables.add(if column.whole {
                definition.integer()
            } else {
                definition
            })
        };
        let mut handles: Vec<Variable>;
        if turned {
            handles = self.columns.iter().rev().map(&mut add).collect();
            handles.reverse();
        } else {
            handles = self.columns.iter().map(&mut add).collect();
        }
        let objective = self.objective(&handles);
        let mut model = variables
            .minimise(objective)
            .using(good_lp::solvers::microlp::microlp);
        let count = self.rows.len();
        for index in 0..count {
            let row = &self.rows[if rows_turned {
                count - 1 - index
            } else {
                index
            }];
            model.add_constraint(row_constraint(row, &handles));
        }
        let mut options = microlp::SolveOptions::default();
        options.time_limit = effort.time;
        options.node_limit = effort.nodes;
        options.mip_gap = effort.gap;
        let outcome = match model.as_inner().solve_with(options) {
            Ok(outcome) => outcome,
            Err(microlp::Error::Infeasible) => return (Answer::Impossible, 0),
            Err(_) => return (Answer::Failed, 0),
        };
        let nodes = outcome.stats().nodes_solved;
        let Ok(solution) = outcome.into_solution() else {
            return (Answer::Empty, nodes);
        };
        let mut values: Vec<f64> = solution.iter().map(|(_, value)| value).collect();
        if turned {
            values.reverse();
        }
        let answer = match solution.termination_reason() {
            TerminationReason::ProvenOptimal | TerminationReason::MipGap => Answer::Best(values),
            _ => Answer::Stopped(values),
        };
        (answer, nodes)
    }
}

fn row_constraint(row: &Row, handles: &[Variable]) -> Constraint {
    let left: Expression = row
        .terms
        .iter()
        .map(|&(col, coefficient)| coefficient * handles[col])
        .sum();
    match row.sense {
        Sense::AtMost => constraint!(left <= row.rhs),
        Sense::AtLeast => constraint!(left >= row.rhs),
        Sense::Equal => constraint!(left == row.rhs),
    }
}
