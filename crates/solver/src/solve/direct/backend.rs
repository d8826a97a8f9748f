//! The narrow door to the mixed-integer solver.

use std::panic::{AssertUnwindSafe, catch_unwind};

use good_lp::{
    Constraint, Expression, ProblemVariables, SolverModel, Variable, constraint, variable,
};
use microlp::TerminationReason;

/// Bounds beyond this are none: the solver counts in 32 bits.
const MOST: i64 = 1 << 30;

/// Nodes of branch and bound until the solver gives up; deterministic.
const NODES: u64 = 20_000;

/// Index of a column.
pub(super) type Col = usize;

/// How a row compares with its right-hand side.
#[derive(Debug, Clone, Copy)]
pub(super) enum Sense {
    AtMost,
    AtLeast,
    Equal,
}

#[derive(Debug, Clone)]
struct Row {
    terms: Vec<(Col, i64)>,
    sense: Sense,
    rhs: i64,
}

/// A minimisation over whole columns.
#[derive(Debug, Clone, Default)]
pub(super) struct Model {
    /// Least and most of each.
    columns: Vec<(i64, i64)>,
    costs: Vec<i64>,
    rows: Vec<Row>,
}

/// What came of a solve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Answer {
    /// No assignment is cheaper.
    Best(Vec<i64>),
    /// No assignment exists.
    Impossible,
    /// The solver gave up.
    Failed,
}

impl Model {
    /// Adds a column from `least` to `most`.
    pub fn column(&mut self, least: i64, most: i64) -> Col {
        self.columns
            .push((least.clamp(-MOST, MOST), most.clamp(-MOST, MOST)));
        self.costs.push(0);
        self.columns.len() - 1
    }

    /// Adds a row.
    pub fn row(&mut self, terms: Vec<(Col, i64)>, sense: Sense, rhs: i64) {
        self.rows.push(Row { terms, sense, rhs });
    }

    /// Replaces the objective.
    pub fn minimise(&mut self, terms: &[(Col, i64)]) {
        self.costs.fill(0);
        for &(col, cost) in terms {
            self.costs[col] += cost;
        }
    }

    /// Solves; where the solver fails on the way, again with columns or rows turned round, which leads
    /// it along another path.
    pub fn solve(&self) -> Answer {
        for (columns, rows) in [(false, false), (true, false), (false, true), (true, true)] {
            // The solver asserts its own numbers now and then; a failed assertion is a failed solve.
            let attempt = || self.attempt(columns, rows);
            match catch_unwind(AssertUnwindSafe(attempt)) {
                Ok(Answer::Failed) | Err(_) => {}
                Ok(answer) => return answer,
            }
        }
        Answer::Failed
    }

    fn attempt(&self, turned: bool, rows_turned: bool) -> Answer {
        let mut variables = ProblemVariables::new();
        let mut add = |&(least, most): &(i64, i64)| {
            let column = variable().integer();
            variables.add(column.min(least as f64).max(most as f64))
        };
        let mut handles: Vec<Variable> = match turned {
            true => self.columns.iter().rev().map(&mut add).collect(),
            false => self.columns.iter().map(&mut add).collect(),
        };
        if turned {
            handles.reverse();
        }
        let costs = self.costs.iter().zip(&handles);
        let costs = costs.filter(|(cost, _)| **cost != 0);
        let objective: Expression = costs.map(|(&cost, &handle)| cost as f64 * handle).sum();
        let mut model = variables
            .minimise(objective)
            .using(good_lp::solvers::microlp::microlp);
        let mut rows: Vec<&Row> = self.rows.iter().collect();
        if rows_turned {
            rows.reverse();
        }
        for row in rows {
            model.add_constraint(row.constraint(&handles));
        }
        let mut options = microlp::SolveOptions::default();
        options.node_limit = Some(NODES);
        options.mip_gap = 0.0;
        let outcome = match model.as_inner().solve_with(options) {
            Ok(outcome) => outcome,
            Err(microlp::Error::Infeasible) => return Answer::Impossible,
            Err(_) => return Answer::Failed,
        };
        let Ok(solution) = outcome.into_solution() else {
            return Answer::Failed;
        };
        let whole = |value: f64| value.round() as i64;
        let mut values: Vec<i64> = solution.iter().map(|(_, value)| whole(value)).collect();
        if turned {
            values.reverse();
        }
        match solution.termination_reason() {
            TerminationReason::ProvenOptimal => Answer::Best(values),
            _ => Answer::Failed,
        }
    }
}

impl Row {
    /// Scaled so that its greatest coefficient is 1.
    fn constraint(&self, handles: &[Variable]) -> Constraint {
        let greatest = self.terms.iter().map(|(_, times)| times.abs()).max();
        let by = greatest.unwrap_or(1).max(1) as f64;
        let terms = self.terms.iter();
        let left: Expression = terms
            .map(|&(col, times)| times as f64 / by * handles[col])
            .sum();
        let rhs = self.rhs as f64 / by;
        match self.sense {
            Sense::AtMost => constraint!(left <= rhs),
            Sense::AtLeast => constraint!(left >= rhs),
            Sense::Equal => constraint!(left == rhs),
        }
    }
}
