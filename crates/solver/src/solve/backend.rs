//! The narrow door to the linear and integer solver: the only module that names it.

use std::time::Duration;

use good_lp::solvers::SolutionStatus;
use good_lp::{
    Expression, ProblemVariables, ResolutionError, Solution, SolverModel, Variable,
    WithInitialSolution, WithTimeLimit, constraint, variable,
};

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
    most: f64,
    whole: bool,
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

/// What came of a solve.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Answer {
    /// No assignment is cheaper.
    Best(Vec<f64>),
    /// Stopped by the time limit with an assignment in hand.
    Stopped(Vec<f64>),
    /// Stopped by the time limit with nothing in hand.
    Empty,
    /// No assignment exists.
    Impossible,
    /// The engine gave up; the text is its own.
    Failed,
}

impl Model {
    /// Adds a whole-number column from 0 to `most`.
    pub fn whole(&mut self, most: i64) -> Col {
        self.column(most as f64, true)
    }

    /// Adds a continuous column from 0 to `most`.
    pub fn share(&mut self, most: f64) -> Col {
        self.column(most, false)
    }

    fn column(&mut self, most: f64, whole: bool) -> Col {
        self.columns.push(Column {
            most,
            whole,
            cost: 0.0,
        });
        self.columns.len() - 1
    }

    /// Adds a row; rows without terms are kept and may make the model impossible.
    pub fn row(&mut self, terms: Vec<(Col, f64)>, sense: Sense, rhs: f64) {
        self.rows.push(Row { terms, sense, rhs });
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

    /// The least objective if whole-number columns may be fractions; `None` where the engine
    /// gives no answer.
    pub fn relaxed(&self) -> Option<f64> {
        let mut model = self.clone();
        for column in &mut model.columns {
            column.whole = false;
        }
        match model.solve(None, None) {
            Answer::Best(values) => Some(
                values
                    .iter()
                    .zip(&model.columns)
                    .map(|(v, c)| v * c.cost)
                    .sum(),
            ),
            _ => None,
        }
    }

    /// Solves, from `start` where one is given.
    pub fn solve(&self, start: Option<&[f64]>, limit: Option<Duration>) -> Answer {
        let mut variables = ProblemVariables::new();
        let handles: Vec<Variable> = self
            .columns
            .iter()
            .map(|column| {
                let definition = variable().min(0.0).max(column.most);
                variables.add(if column.whole {
                    definition.integer()
                } else {
                    definition
                })
            })
            .collect();
        let objective: Expression = self
            .columns
            .iter()
            .zip(&handles)
            .filter(|(column, _)| column.cost != 0.0)
            .map(|(column, &handle)| column.cost * handle)
            .sum();
        let mut model = variables
            .minimise(objective)
            .using(good_lp::solvers::microlp::microlp);
        for row in &self.rows {
            let left: Expression = row
                .terms
                .iter()
                .map(|&(col, coefficient)| coefficient * handles[col])
                .sum();
            model.add_constraint(match row.sense {
                Sense::AtMost => constraint!(left <= row.rhs),
                Sense::AtLeast => constraint!(left >= row.rhs),
                Sense::Equal => constraint!(left == row.rhs),
            });
        }
        if let Some(start) = start {
            model = model.with_initial_solution(handles.iter().copied().zip(start.iter().copied()));
        }
        if let Some(limit) = limit {
            model = model.with_time_limit(limit.as_secs_f64());
        }
        match model.solve() {
            Ok(solution) => {
                let values = handles
                    .iter()
                    .map(|&handle| solution.value(handle))
                    .collect();
                match solution.status() {
                    SolutionStatus::Optimal => Answer::Best(values),
                    SolutionStatus::TimeLimit | SolutionStatus::GapLimit => Answer::Stopped(values),
                }
            }
            Err(ResolutionError::Infeasible) => Answer::Impossible,
            Err(ResolutionError::Other(_)) if limit.is_some() => Answer::Empty,
            Err(_) => Answer::Failed,
        }
    }
}
