"""PuLP with CBC, OR-Tools CP-SAT and HiGHS behind one set of calls."""

import math
import os

BEST, FOUND, NONE, IMPOSSIBLE = "best", "found", "none", "impossible"


class Rows:
    """Keeps the rows, so that an answer can be checked in whole numbers."""

    def __init__(self):
        self.kept, self.impossible = [], False

    def row(self, terms, low, high):
        terms = merged(terms)
        self.kept.append((terms, low, high))
        if not terms:
            self.impossible |= (low or 0) > 0 or (high is not None and high < 0)
            return
        by = math.gcd(*(a for _, a in terms))
        low, high = None if low is None else -(-low // by), None if high is None else high // by
        self.add([(v, a // by) for v, a in terms], low, high)

    def best(self, terms, sense, limit):
        """Looks for the best answer; how that ended."""
        return IMPOSSIBLE if self.impossible else self.solve(merged(terms), sense, limit)

    def value(self, v):
        return self.values[v]

    def broken(self):
        for terms, low, high in self.kept:
            got = sum(self.value(v) * a for v, a in terms)
            if (low is not None and got < low) or (high is not None and got > high):
                return f"{got} outside {low}..{high}"
        return None


def merged(terms):
    """Each variable once, and only where it counts."""
    sums = {}
    for v, a in terms:
        sums[v] = sums.get(v, 0) + a
    return [(v, a) for v, a in sums.items() if a]


class Cbc(Rows):
    name = "PuLP, CBC"

    def __init__(self):
        super().__init__()
        import pulp

        self.pulp, self.vars = pulp, []
        self.problem = pulp.LpProblem("stock", pulp.LpMinimize)

    def var(self, high):
        self.vars.append(self.pulp.LpVariable(f"v{len(self.vars)}", 0, high, "Integer"))
        return len(self.vars) - 1

    def expr(self, terms):
        return self.pulp.LpAffineExpression([(self.vars[v], a) for v, a in terms])

    def add(self, terms, low, high):
        expr = self.expr(terms)
        if low is not None and low == high:
            self.problem += expr == low
        elif high is not None:
            self.problem += expr <= high
        else:
            self.problem += expr >= low

    def solve(self, terms, sense, limit):
        self.problem.setObjective(self.expr([(v, a * sense) for v, a in terms]))
        solver = self.pulp.PULP_CBC_CMD(msg=False, gapRel=0, gapAbs=0.5, threads=os.cpu_count(), timeLimit=limit)
        self.problem.solve(solver)
        status = self.problem.sol_status
        if status == self.pulp.LpSolutionInfeasible:
            return IMPOSSIBLE
        if status not in (self.pulp.LpSolutionOptimal, self.pulp.LpSolutionIntegerFeasible):
            return NONE
        self.values = [round(v.value() or 0) for v in self.vars]
        return BEST if status == self.pulp.LpSolutionOptimal else FOUND


class CpSat(Rows):
    name = "OR-Tools CP-SAT"

    def __init__(self):
        super().__init__()
        from ortools.sat.python import cp_model

        self.cp, self.vars, self.values = cp_model, [], None
        self.model = cp_model.CpModel()

    def var(self, high):
        self.vars.append(self.model.new_int_var(0, high, ""))
        return len(self.vars) - 1

    def expr(self, terms):
        return self.cp.LinearExpr.weighted_sum([self.vars[v] for v, _ in terms], [a for _, a in terms])

    def add(self, terms, low, high):
        low = self.cp.INT32_MIN * 2**20 if low is None else low
        high = self.cp.INT32_MAX * 2**20 if high is None else high
        self.model.add_linear_constraint(self.expr(terms), low, high)

    def solve(self, terms, sense, limit):
        self.model.clear_hints()
        for v, a in enumerate(self.values or []):
            self.model.add_hint(self.vars[v], a)
        self.model.minimize(self.expr([(v, a * sense) for v, a in terms]))
        solver = self.cp.CpSolver()
        solver.parameters.max_time_in_seconds = limit
        status = solver.solve(self.model)
        if status == self.cp.INFEASIBLE:
            return IMPOSSIBLE
        if status not in (self.cp.OPTIMAL, self.cp.FEASIBLE):
            return NONE
        self.values = [solver.value(v) for v in self.vars]
        return BEST if status == self.cp.OPTIMAL else FOUND


class Highs(Rows):
    name = "HiGHS"

    def __init__(self):
        super().__init__()
        import highspy
        import numpy

        self.hs, self.np, self.h = highspy, numpy, highspy.Highs()
        self.h.setOptionValue("output_flag", False)
        self.h.setOptionValue("mip_rel_gap", 0.0)
        self.h.setOptionValue("mip_abs_gap", 0.5)
        self.high, self.new_rows, self.sent, self.values = [], [], 0, []

    def var(self, high):
        self.high.append(high)
        return len(self.high) - 1

    def add(self, terms, low, high):
        self.new_rows.append((terms, low, high))

    def solve(self, terms, sense, limit):
        np, h, inf = self.np, self.h, self.hs.kHighsInf
        total, new = len(self.high), len(self.high) - self.sent
        none = np.array([], dtype=np.int32), np.array([], dtype=np.float64)
        if new:
            zero = np.zeros(new)
            h.addCols(new, zero, zero, np.array(self.high[self.sent :], dtype=float), 0, np.zeros(new, np.int32), *none)
            which = np.arange(self.sent, total, dtype=np.int32)
            h.changeColsIntegrality(new, which, np.array([self.hs.HighsVarType.kInteger] * new))
        self.sent = total
        if self.new_rows:
            starts = np.cumsum([0, *(len(t) for t, _, _ in self.new_rows)][:-1]).astype(np.int32)
            h.addRows(
                len(self.new_rows),
                np.array([-inf if low is None else low for _, low, _ in self.new_rows], dtype=float),
                np.array([inf if high is None else high for _, _, high in self.new_rows], dtype=float),
                sum(len(t) for t, _, _ in self.new_rows),
                starts,
                np.array([v for t, _, _ in self.new_rows for v, _ in t], dtype=np.int32),
                np.array([a for t, _, _ in self.new_rows for _, a in t], dtype=float),
            )
            self.new_rows = []
        cost = np.zeros(total)
        for v, a in terms:
            cost[v] += a * sense
        h.changeColsCost(total, np.arange(total, dtype=np.int32), cost)
        # No start: given the last goal's answer, HiGHS 1.16.0 at times calls it optimal for the
        # next goal when it is not (seen on 3 of 40 yards of 8 colonies).
        h.clearSolver()
        h.setOptionValue("time_limit", float(limit) + h.getRunTime())
        h.run()
        status = h.getModelStatus()
        if status in (self.hs.HighsModelStatus.kInfeasible, self.hs.HighsModelStatus.kUnboundedOrInfeasible):
            return IMPOSSIBLE
        if h.getInfo().primal_solution_status != 2:
            return NONE
        self.values = [round(v) for v in h.getSolution().col_value]
        return BEST if status == self.hs.HighsModelStatus.kOptimal else FOUND


SOLVERS = (Cbc, CpSat, Highs)
