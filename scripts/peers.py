#!/usr/bin/env python3
"""Solves a stocking decision with general solvers and compares them with spareframe.

The decision is written as the model one would write down first: an integer for each frame
group and recipe line, an integer for the bees of each colony and box site, an integer for
each kind of box, a binary for each opened colony. PuLP with CBC, OR-Tools CP-SAT and HiGHS
solve it goal by goal, each earlier goal fixed at its best value. docs/model.md has the rules;
the ids in the comments below are the ones used there.

    python3 -m venv .venv && .venv/bin/pip install -r scripts/requirements.txt
    cargo build --release
    .venv/bin/python scripts/peers.py --colonies 12 40 200

Every goal is recomputed in whole numbers from the rounded answer of a solver and every rule
is checked on it, so a float tolerance cannot pass for a better plan. Exits with 1 when two
proved answers differ or an answer breaks a rule.

`--self-test` needs no spareframe: a tiny decision with a known answer, and random ones on
which the three solvers must agree.
"""

import argparse
import json
import math
import os
import pathlib
import statistics
import subprocess
import sys
import tempfile
import time

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import yard  # noqa: E402


def share_of(share, whole):
    """`share` thousandths of `whole`, rounded half up."""
    return (share * whole + 500) // 1000


# --- honey rates, as in docs/honey.md -------------------------------------------------------


def forager_days(house, foragers, brood, m, start, end):
    """Foragers summed over the days start..end, both inclusive; day 0 is the stocking day."""
    total, brood = 0.0, list(brood)
    start, end = max(0, start), min(365, end)
    for day in range(end + 1 if start <= end else 0):
        if day >= start:
            total += foragers
        if day < end:
            bees = house + foragers
            recruited = house * (0.25 - 0.75 * foragers / bees) if bees > 0 else 0.0
            eggs = 2000.0 * bees / (27000.0 + bees) if bees > 0 else 0.0
            emerging = brood.pop()
            brood.insert(0, eggs)
            house = max(0.0, house + emerging - recruited)
            foragers = max(0.0, foragers + recruited - m * foragers)
    return total


def honey_rates(data, colony, mortality=100):
    """Grams for 1000 bees, sealed cells and open cells; zero without a crop."""
    if not colony["crop"]:
        return {"bees": 0, "sealed": 0, "open": 0, "stores": False}
    m = mortality / 1000.0
    bees, sealed, open_ = colony["extra_bees"], 0, 0
    for frame in colony["frames"]:
        comb = data["combs"][frame["comb"]]
        shut = share_of(frame["sealed"], comb["cells"])
        bees += frame["count"] * share_of(frame["bees"], comb["bees"])
        sealed += frame["count"] * shut
        open_ += frame["count"] * (share_of(frame["brood"], comb["cells"]) - shut)
    have = {"bees": bees, "sealed": sealed, "open": open_}
    b = m + 0.75 - 0.25
    ratio = 2.0 * 0.25 / (b + math.sqrt(b * b + 4.0 * m * 0.25))  # foragers for each house bee

    def days(**left):
        house = bees / (1.0 + ratio)
        part = {what: left.get(what, 1.0) for what in have}
        brood = [open_ / 9.0 * part["open"]] * 9 + [sealed / 12.0 * part["sealed"]] * 12
        flow = colony["crop"]["from"], colony["crop"]["to"]
        return forager_days(house * part["bees"], (bees - house) * part["bees"], brood, m, *flow)

    rates, without = {"bees": 0, "sealed": 0, "open": 0, "stores": True}, days()
    for what, there in have.items():
        taken = min(there, 1000)
        if taken > 0 and without > 0:
            lost = min(1.0, max(0.0, 1.0 - days(**{what: 1.0 - taken / there}) / without))
            grams = lost * colony["crop"]["honey"] * 1000.0 / taken
            rates[what] = max(0, math.ceil(grams - 1e-6))
    return rates

# --- the decision ---------------------------------------------------------------------------


def fits(frame, ask):
    """Whether a frame is what a recipe line (or a substitute) asks for."""
    if frame["comb"] != ask["comb"]:
        return False
    if ask.get("foundation"):
        return frame["drawn"] == 0
    return all(frame[what] >= ask.get(what, 0) for what in ("brood", "sealed", "stores", "drawn"))


class Decision:
    """A decision in whole numbers, with what every row needs worked out once."""

    def __init__(self, data):
        self.data = data
        self.boxes = data["boxes"]
        self.sites = sorted({b["site"] for b in self.boxes})
        self.colonies = []
        for colony in data["colonies"]:
            if colony.get("hold"):
                continue
            rate = colony.get("rates") or honey_rates(data, colony)
            groups = []
            have = {"brood": 0, "bees": colony["extra_bees"], "stores": 0, "drawn": 0}
            for frame in colony["frames"]:
                comb = data["combs"][frame["comb"]]
                bees = share_of(frame["bees"], comb["bees"])
                stores = share_of(frame["stores"], comb["stores"])
                brood = share_of(frame["brood"], comb["cells"])
                sealed = share_of(frame["sealed"], comb["cells"])
                charge = sealed * rate["sealed"] + (brood - sealed) * rate["open"]
                charge += stores * 1000 if rate["stores"] else 0
                n = frame["count"]
                have["brood"] += n * frame["brood"]
                have["drawn"] += n * frame["drawn"]
                have["bees"] += n * bees
                have["stores"] += n * stores
                if not frame["queen"]:
                    groups.append({"frame": frame, "n": n, "bees": bees, "stores": stores, "charge": charge})
            room = {what: have[what] - colony["keep"].get(what, 0) for what in have}
            if min(room.values()) < 0:
                continue  # below a floor already: it would still be after any draw
            cap = colony["draw"]
            for what in ("brood", "bees"):
                if cap.get(what) is not None:
                    room[what] = min(room[what], cap[what])
            self.colonies.append(
                {
                    "name": colony["name"],
                    "groups": groups,
                    "room": room,
                    "frames_cap": cap.get("frames"),
                    "honey_cap": cap.get("honey"),
                    "bee_rate": rate["bees"],
                    "stay": [self.stay(colony["site"], site) for site in self.sites],
                }
            )

    def stay(self, donor, site):
        drift = self.data["drift"]
        near = self.data["distances"][donor][site] < drift["homing_metres"]
        return 1000 - drift["flying"] if near else 1000

    def lines(self, frame):
        """(kind of box, line) that a frame can serve."""
        for k, box in enumerate(self.boxes):
            for i, line in enumerate(box["lines"]):
                if any(fits(frame, ask) for ask in [line["ask"], *(s["ask"] for s in line["substitutes"])]):
                    yield k, i


class Model:
    """Emits the rows of a decision to a solver, the later goals' rows only when reached."""

    def __init__(self, decision, solver):
        self.d, self.s = decision, solver
        s, data = solver, decision.data
        serve = {(k, i): [] for k, box in enumerate(decision.boxes) for i in range(len(box["lines"]))}
        honey = []
        self.x, self.b = [], []
        for c in decision.colonies:
            xs, bees = [], [s.var(max(0, c["room"]["bees"])) for _ in decision.sites]
            for g in c["groups"]:
                mine = []
                for line in decision.lines(g["frame"]):
                    v = s.var(g["n"])
                    serve[line].append((v, 1))
                    mine.append(v)
                if mine:
                    s.row([(v, 1) for v in mine], None, g["n"])  # supply
                xs.append(mine)
            each = [(v, g) for mine, g in zip(xs, c["groups"]) for v in mine]
            for what in ("brood", "drawn"):  # keep, draw
                s.row([(v, g["frame"][what]) for v, g in each], None, c["room"][what])
            s.row([(v, g["stores"]) for v, g in each], None, c["room"]["stores"])  # keep
            s.row([(v, 1) for v in bees], None, c["room"]["bees"])  # keep, draw
            if c["frames_cap"] is not None:
                s.row([(v, 1) for v, _ in each], None, c["frames_cap"])  # draw
            charge = [(v, g["charge"]) for v, g in each] + [(v, c["bee_rate"]) for v in bees]
            charge = [(v, a) for v, a in charge if a]
            if c["honey_cap"] is not None:
                s.row(charge, None, c["honey_cap"])  # draw
            honey += charge
            self.x.append(xs)
            self.b.append(bees)
        self.spare = []
        for spare in data["store_room"]:
            mine = []
            for line in decision.lines(spare["frame"]):
                v = s.var(spare["count"])
                serve[line].append((v, 1))
                mine.append(v)
            s.row([(v, 1) for v in mine], None, spare["count"])  # supply
            self.spare.append(mine)
        self.n = []
        for k, box in enumerate(decision.boxes):
            n = s.var(box["count"] * box["compartments"])  # boxes
            for i, line in enumerate(box["lines"]):
                s.row([*serve[k, i], (n, -line["count"])], 0, 0)  # recipe
            if box["whole"]:
                s.row([(n, 1), (s.var(box["count"]), -box["compartments"])], 0, 0)  # boxes
            self.n.append(n)
        for j, site in enumerate(decision.sites):  # bees
            terms = [(self.b[c][j], col["stay"][j]) for c, col in enumerate(decision.colonies)]
            here = [(self.n[k], -1000 * b["bees"]) for k, b in enumerate(decision.boxes) if b["site"] == site]
            s.row(terms + here, 0, None)
        if data["cells"] is not None:
            used = {k: [] for k in range(len(decision.boxes))}
            for batch in data["cells"]:
                got = []
                for k in batch["boxes"] or range(len(decision.boxes)):
                    v = s.var(batch["count"])
                    got.append((v, 1))
                    used[k].append((v, 1))
                s.row(got, None, batch["count"])  # cells
            for k, got in used.items():
                s.row([*got, (self.n[k], -1)], 0, None)  # cells
        self.honey = honey
        if data["honey_cap"] is not None:
            s.row(honey, None, data["honey_cap"])  # draw
        self.terms = [(self.n[k], b["worth"]) for k, b in enumerate(decision.boxes)]

    def goal(self, goal):
        """(terms, sense) of a goal, adding the variables it alone needs."""
        s, d = self.s, self.d
        if goal == 0:
            return self.terms, -1
        if goal == 1:
            return self.honey, 1
        out = []
        for c, xs, bees in zip(d.colonies, self.x, self.b):
            if goal == 2:
                v = s.var(1)
                for g, mine in zip(c["groups"], xs):
                    if mine:
                        s.row([*((m, 1) for m in mine), (v, -g["n"])], None, 0)
                s.row([*((m, 1) for m in bees), (v, -c["room"]["bees"])], None, 0)
            else:
                v = s.var(max(0, c["room"]["bees"]))
                on = [(m, g["bees"]) for g, mine in zip(c["groups"], xs) for m in mine]
                s.row([(v, 1), *on, *((m, -1) for m in bees)], 0, None)
            out.append((v, 1))
        return out, 1

    def figures(self, value):
        """The four goals of an answer in whole numbers."""
        total = lambda terms: sum(value(v) * a for v, a in terms)
        opened = shaken = 0
        for c, xs, bees in zip(self.d.colonies, self.x, self.b):
            took = sum(value(v) for v in bees)
            on = sum(value(v) * g["bees"] for g, mine in zip(c["groups"], xs) for v in mine)
            opened += bool(took or any(value(v) for mine in xs for v in mine))
            shaken += max(0, took - on)
        return [total(self.terms), total(self.honey), opened, shaken]


# --- the solvers ----------------------------------------------------------------------------


class Rows:
    """Keeps the rows, so that an answer can be checked in whole numbers."""

    def __init__(self):
        self.kept = []

    def row(self, terms, low, high):
        self.kept.append((terms, low, high))
        self.add(terms, low, high)

    def broken(self):
        for terms, low, high in self.kept:
            got = sum(self.value(v) * a for v, a in terms)
            if (low is not None and got < low) or (high is not None and got > high):
                return f"{got} outside {low}..{high}"
        return None


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
        if not terms:
            return
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
        self.values = [round(v.value() or 0) for v in self.vars]
        found = self.problem.sol_status in (self.pulp.LpSolutionOptimal, self.pulp.LpSolutionIntegerFeasible)
        return found, self.problem.sol_status == self.pulp.LpSolutionOptimal

    def value(self, v):
        return self.values[v]


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
        if not terms:
            return
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
        found = status in (self.cp.OPTIMAL, self.cp.FEASIBLE)
        if found:
            self.values = [solver.value(v) for v in self.vars]
        return found, status == self.cp.OPTIMAL

    def value(self, v):
        return self.values[v]


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
        if terms:
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
        info = h.getInfo()
        found = info.primal_solution_status == 2
        if found:
            self.values = [round(v) for v in h.getSolution().col_value]
        return found, h.getModelStatus() == self.hs.HighsModelStatus.kOptimal

    def value(self, v):
        return self.values[v]


SOLVERS = (Cbc, CpSat, Highs)


def run(decision, make, goals, limit):
    """One build and solve. Figures, how many goals were proved, and seconds after each."""
    began = time.perf_counter()
    solver = make()
    model = Model(decision, solver)
    seconds, proved, figures = [], 0, None
    for goal in goals:
        terms, sense = model.goal(goal)
        if not terms:
            seconds.append(time.perf_counter() - began)
            proved += 1
            continue
        found, best = solver.solve(terms, sense, limit)
        seconds.append(time.perf_counter() - began)
        if not found:
            break
        figures = model.figures(solver.value)
        broken = solver.broken()
        if broken:
            return {"error": broken, "figures": figures, "proved": proved, "seconds": seconds}
        if not best:
            break
        proved += 1
        # Fixed at the value the solver itself uses for the goal, in whole numbers.
        got = sum(solver.value(v) * a for v, a in terms)
        solver.row(terms, got if sense < 0 else None, got if sense > 0 else None)
    return {"error": None, "figures": figures, "proved": proved, "seconds": seconds}


# --- self test ------------------------------------------------------------------------------


def tiny():
    """Two colonies, one store room, boxes at home and away; the answer is worked out by hand.

    A nucleus with 3 brood frames that must keep 1, so 2 may go; a producer with 2 that may
    give 1, at honey. Each compartment wants 1 brood frame, 1 foundation and 700 bees that
    stay. Box kind 0 stands at home, so 1000 bees have to be taken for 700 that stay; kind 1 is
    away. 4 foundations and 3 cells: three compartments. Away is worth 1000, home 900, away has
    2 places, so worth = 2900 with all three brood frames. Bees: 1400 away and 1000 at home,
    2400. The nucleus may give 2000; the producer gives at least 400 of them. Honey: its
    frame 500 cells sealed x 2 + 0 open, and 400 bees x 3: 1000 + 1200 = 2200 mg. Opened: both.
    Shaken: the nucleus' two frames carry 800 each, 2000 - 1600 = 400; the producer's frame
    carries 800 and gives 400: 400 in all.
    """
    frame = {"comb": 0, "brood": 500, "sealed": 500, "stores": 0, "drawn": 1000, "bees": 800, "queen": False}
    colony = lambda name, count, keep, draw: {
        "name": name, "site": 0, "hold": None, "crop": None, "extra_bees": 1000, "keep": keep, "draw": draw,
        "frames": [{**frame, "count": count}, {**frame, "count": 1, "queen": True}],
    }
    lines = [
        {"count": 1, "ask": {"comb": 0, "brood": 400}, "substitutes": []},
        {"count": 1, "ask": {"comb": 0, "foundation": True}, "substitutes": []},
    ]
    box = lambda site, worth: {
        "count": 1, "compartments": 2, "site": site, "worth": worth, "whole": False, "lines": lines, "bees": 700,
    }
    data = {
        "combs": [{"name": "a", "bees": 1000, "cells": 1000, "stores": 1000}],
        "distances": [[0, 5000], [5000, 0]],
        "colonies": [
            colony("nucleus", 3, {"brood": 1000, "bees": 2200}, {}),
            colony("producer", 2, {"brood": 1000}, {"frames": 1}),
            {**colony("sick", 9, {}, {}), "hold": "foulbrood"},
        ],
        "store_room": [{"count": 4, "frame": {**frame, "brood": 0, "sealed": 0, "drawn": 0, "bees": 0}}],
        "boxes": [box(0, 900), box(1, 1000)],
        "cells": [{"count": 1, "boxes": [1]}, {"count": 2, "boxes": []}],
        "drift": {"homing_metres": 3000, "flying": 300},
        "honey_cap": None,
    }
    data["colonies"][1]["rates"] = {"bees": 3, "sealed": 2, "open": 1, "stores": True}
    return Decision(data), [2900, 2200, 2, 400]


def self_test(limit):
    fine = True
    decision, expected = tiny()
    for make in SOLVERS:
        got = run(decision, make, range(4), limit)
        same = got["figures"] == expected and got["proved"] == 4 and not got["error"]
        fine &= same
        print(f"tiny      {make.name:16} {got['figures']} {'as worked out by hand' if same else f'WRONG: {expected}'}")
    for seed in range(1, 13):
        decision, answers = Decision(yard.make(8, seed)), []
        for make in SOLVERS:
            got = run(decision, make, range(4), limit)
            answers.append(got)
            print(f"yard 8/{seed}  {make.name:16} {got['figures']} proved {got['proved']} of 4 {got['error'] or ''}")
        whole = [a for a in answers if a["proved"] == 4]
        fine &= not any(a["error"] for a in answers) and len({tuple(a["figures"]) for a in whole}) <= 1
    print("self test", "passed" if fine else "FAILED")
    return fine


# --- measurement ----------------------------------------------------------------------------


OPEN_GOALS = ("worth", "honey given up, charged (kg)", "colonies opened", "bees shaken")


def spareframe(binary, path, limit):
    """Runs the whole process. Seconds, goals in whole numbers, how many it says are proved, plan."""
    command = [binary, "stock", "--format", "json", "--time-limit", f"{4 * limit:g}", path]
    began = time.perf_counter()
    done = subprocess.run(command, capture_output=True, check=False)
    seconds = time.perf_counter() - began
    try:
        plan = json.loads(done.stdout)
        head = plan["headline"]
    except ValueError:
        sys.exit(f"{binary} stock {path}: exit {done.returncode}\n{done.stderr.decode()}")
    honey = round(head["honey_given_up_charged_estimate_kg"] * 1e6)
    goals = [round(head["worth"] * 1000), honey, head["colonies_opened"], head["bees_shaken"]]
    first_open = head["proof"]["open_goal"]
    return seconds, goals, 4 if first_open is None else OPEN_GOALS.index(first_open), plan


def at_a_limit(data, plan):
    """How many opened colonies could not give one bee more, or no frame more of those they have."""
    colonies = {colony["name"]: colony for colony in data["colonies"]}
    count = 0
    for opened in plan["colonies"]:
        colony = colonies[opened["colony"]]
        taken = {leaving["frame_group"] - 1: 0 for leaving in opened["leaving"]}
        for leaving in opened["leaving"]:
            taken[leaving["frame_group"] - 1] += leaving["frames"]
        left = {"brood": 0, "stores": 0, "drawn": 0}
        bees = colony["extra_bees"] - opened["bees_taken"]
        amounts = []
        for index, frame in enumerate(colony["frames"]):
            comb = data["combs"][frame["comb"]]
            stays = frame["count"] - taken.get(index, 0)
            amount = {"brood": frame["brood"], "stores": share_of(frame["stores"], comb["stores"]), "drawn": frame["drawn"]}
            for what in left:
                left[what] += stays * amount[what]
            bees += frame["count"] * share_of(frame["bees"], comb["bees"])
            if stays and not frame["queen"]:
                amounts.append(amount)
        keep, draw = colony["keep"], colony["draw"]
        brood_taken = sum(n * colony["frames"][index]["brood"] for index, n in taken.items())
        room = {what: left[what] - keep[what] for what in left}
        if draw["brood"] is not None:
            room["brood"] = min(room["brood"], draw["brood"] - brood_taken)
        frames = draw["frames"] is not None and sum(taken.values()) >= draw["frames"]
        frames |= not any(all(amount[what] <= room[what] for what in room) for amount in amounts)
        no_bee = bees <= keep["bees"] or (draw["bees"] is not None and opened["bees_taken"] >= draw["bees"])
        count += frames or no_bee
    return count


def median(values):
    return statistics.median(values)


def measure(args, colonies):
    """Table rows for one size, and whether all proved answers are the same."""
    data = yard.make(colonies, args.seed)
    decision = Decision(data)
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "yard.yaml")
        pathlib.Path(path).write_text(yard.scenario(data), encoding="utf-8")
        ours = [spareframe(args.binary, path, args.limit)]
        theirs = {make: [run(decision, make, range(4), args.limit)] for make in SOLVERS}
        for _ in range(args.runs - 1):  # side by side, so that load falls on all alike
            ours.append(spareframe(args.binary, path, args.limit))
            for make, got in theirs.items():
                if got[0]["seconds"][-1] < args.once_above:
                    got.append(run(decision, make, range(4), args.limit))
    base = median(seconds for seconds, *_ in ours)
    goals, sure = ours[0][1], min(proved for _, _, proved, _ in ours)
    fine = all(other[:sure] == goals[:sure] for _, other, _, _ in ours)
    answer = f"{goals[0] / 1000:g}, {goals[1] / 1e6:g} kg, {goals[2]}, {goals[3]}"
    answer += "" if sure == 4 else f" (proved {sure} of 4 goals)"
    answer += f"; {at_a_limit(data, ours[0][3])} of {goals[2]} opened end at a limit"
    rows = [f"| {colonies} | spareframe | | | {'' if sure == 4 else '> '}{base * 1000:.1f} | 1 | {answer} |"]
    print(f"{colonies} colonies: spareframe {goals}, proved {sure} of 4", file=sys.stderr)
    for make, got in theirs.items():
        proved = min(g["proved"] for g in got)
        for g in got:
            if g["error"]:
                print(f"{make.name}: {g['error']}", file=sys.stderr)
                fine = False
        figures = got[0]["figures"]
        both = min(proved, sure)
        same = both == 0 or figures[:both] == goals[:both]
        print(f"  {make.name}: {figures}, proved {proved} of 4", file=sys.stderr)
        fine &= same
        first = median(g["seconds"][0] for g in got)
        last = median(g["seconds"][-1] for g in got)
        more = "" if proved == 4 else "> "
        verdict = "same" if both == 4 else f"same as far as both proved: {both} of 4 goals"
        one = "" if proved > 0 else "> "
        rows.append(
            f"| {colonies} | {make.name} | {one}{first * 1000:.0f} | {one}{first / base:.1f} "
            f"| {more}{last * 1000:.0f} | {more}{last / base:.1f} | {verdict if same else f'DIFFERS: {figures}'} |"
        )
    return rows, fine


def main():
    args = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    root = pathlib.Path(__file__).resolve().parent.parent
    args.add_argument("--binary", default=str(root / "target/release/spareframe"))
    args.add_argument("--colonies", type=int, nargs="+", default=[12, 40, 200])
    args.add_argument("--seed", type=int, default=1)
    args.add_argument("--runs", type=int, default=5, help="runs of each, the median counts")
    args.add_argument("--limit", type=float, default=20, help="seconds for each goal of a peer, four times that for spareframe")
    args.add_argument("--once-above", type=float, default=5, help="a peer slower than this many seconds runs once")
    args.add_argument("--self-test", action="store_true", help="check the peers alone, without spareframe")
    args = args.parse_args()
    if args.self_test:
        sys.exit(not self_test(args.limit))
    for make in SOLVERS:  # imports and first calls are not part of the times
        run(tiny()[0], make, range(4), args.limit)
    table, fine = [], True
    for colonies in args.colonies:
        rows, same = measure(args, colonies)
        table += rows
        fine &= same
    print("| colonies | solver | worth alone, ms | times spareframe | all four goals, ms | times spareframe | answer |")
    print("|---|---|---|---|---|---|---|")
    print("\n".join(table))
    sys.exit(not fine)


if __name__ == "__main__":
    main()
