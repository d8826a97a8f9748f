#!/usr/bin/env python3
"""Solves a stocking decision with general solvers and compares them with spareframe.

The decision is written as the model one would write down first: an integer for each frame
group and recipe line, two for the bees of each colony and box site (riding and loose), an
integer for each kind of box, a binary for each opened colony, and the share that each gives.
PuLP with CBC, OR-Tools CP-SAT and HiGHS solve it: worth first, then the cost with worth fixed
at its best. docs/model.md has the rules; the ids in scripts/general/ are the ones used there.

    python3 -m venv .venv && .venv/bin/pip install -r scripts/requirements.txt
    cargo build --release
    .venv/bin/python scripts/peers.py --colonies 12 40 200

Worth and cost are worked out again in whole numbers from the rounded answer of a solver and every
row is checked on it, so a float tolerance cannot pass for a better plan. Exits with 1 when
two proved answers differ or an answer breaks a row.

`--self-test` needs no spareframe: decisions with known answers, and random ones on which the
three solvers must agree. `--alone` has the solvers agree on the yards named.
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
from general.decision import Decision  # noqa: E402
from general.known import KNOWN, PARTS  # noqa: E402
from general.model import Model  # noqa: E402
from general.solvers import BEST, IMPOSSIBLE, NONE, SOLVERS  # noqa: E402


def solved(decision, make, limit):
    """One build and solve: figures, how many of the two goals were proved, seconds after each.

    Figures are None where nothing is found, or, with both goals proved, where nothing meets the wishes.
    """
    began = time.perf_counter()
    solver = make()
    model = Model(decision, solver)
    out = {"solver": make.name, "error": None, "figures": None, "proved": 0, "seconds": []}
    for goal in ("worth", "cost"):
        terms, sense = (model.worth, -1) if goal == "worth" else (model.cost(), 1)
        ended = solver.best(terms, sense, limit)
        out["seconds"].append(time.perf_counter() - began)
        if ended == IMPOSSIBLE:
            return out | ({"proved": 2} if goal == "worth" else {"error": "worth that was reached is impossible"})
        if ended == NONE:
            return out
        out["figures"] = model.figures(solver.value)
        reached = sum(solver.value(v) * a for v, a in terms)
        broken = solver.broken()
        if not broken and ended == BEST and reached != out["figures"][goal]:
            broken = f"{goal} {out['figures'][goal]} is said to be {reached}"
        if broken:
            return out | {"error": broken}
        if ended != BEST:
            return out
        out["proved"] += 1
        if goal == "worth":
            solver.row(terms, reached, None)
    return out


def key(figures):
    """What all must agree on, as far as it is proved: worth, then cost."""
    return (None, None) if figures is None else (figures["worth"], figures["cost"])


def agree(one, other):
    proved = min(one["proved"], other["proved"])
    return key(one["figures"])[:proved] == key(other["figures"])[:proved]


# --- the solvers alone ----------------------------------------------------------------------


def known(limit):
    fine = True
    for make_data in KNOWN:
        data, expected = make_data()
        for make in SOLVERS:
            got = solved(Decision(data), make, limit)
            figures = got["figures"] and tuple(got["figures"][part] for part in PARTS)
            same = figures == expected and got["proved"] == 2 and not got["error"]
            fine &= same
            verdict = "as worked out by hand" if same else f"WRONG: {expected} {got['error'] or ''}"
            print(f"{make_data.__name__:20} {make.name:16} {figures} {verdict}")
    return fine


def among_themselves(yards, limit):
    """Whether the three solvers agree on each yard: (colonies, seed, kind, tight)."""
    fine = True
    for colonies, seed, kind, tight in yards:
        decision = Decision(yard.make(colonies, seed, kind, tight=tight))
        answers = [solved(decision, make, limit) for make in SOLVERS]
        same = not any(a["error"] for a in answers) and all(agree(a, b) for a in answers for b in answers)
        fine &= same
        proved = "".join(str(a["proved"]) for a in answers)
        seconds = " ".join(f"{a['seconds'][-1]:.2f}" for a in answers)
        name = f"{kind}{' tight' if tight else ''} {colonies}/{seed}"
        verdict = "" if same else "DIFFERS"
        print(f"{name:28} {answers[0]['figures']} proved {proved} in {seconds} s {verdict}", flush=True)
        if not same:
            for answer in answers:
                print(f"  {answer['solver']:16} {answer['figures']} {answer['error'] or ''}")
    return fine


def self_test(limit):
    yards = [(6, seed, kind, seed == 3) for kind in yard.KINDS for seed in (1, 2, 3)]
    fine = known(limit) and among_themselves(yards, limit)
    print("self test", "passed" if fine else "FAILED")
    return fine


# --- beside spareframe ----------------------------------------------------------------------


def figures_of(plan):
    """What a plan in JSON says of itself: figures, and how many of the two goals are proved."""
    head = plan["headline"]
    if head["answer"] in ("wish_not_met", "stopped_without_plan"):
        return None, 2 if head["answer"] == "wish_not_met" else 0
    figures = {
        "worth": round(head["worth"] * 1000), "cost": head["cost_g"], "honey": head["honey_given_up_g"] or 0,
        "burden": head["burden"], "substitutes": head["substitutes"], "opened": head["colonies_opened"],
    }  # fmt: skip
    return figures, {None: 2, "cost": 1, "worth": 0}[(head["proof"] or {}).get("open_goal")]


def spareframe(binary, path, limit):
    """Runs the whole process."""
    command = [binary, "stock", "--format", "json", "--time-limit", f"{2 * limit:g}", path]
    began = time.perf_counter()
    done = subprocess.run(command, capture_output=True, check=False)
    seconds = time.perf_counter() - began
    try:
        figures, proved = figures_of(json.loads(done.stdout))
    except ValueError:
        sys.exit(f"{binary} stock {path}: exit {done.returncode}\n{done.stderr.decode()}")
    return {"solver": "spareframe", "error": None, "figures": figures, "proved": proved, "seconds": [seconds]}


def runs_of(args, data):
    """Runs of spareframe and of each solver, side by side, so that load falls on all alike."""
    decision = Decision(data)
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "yard.yaml")
        pathlib.Path(path).write_text(yard.scenario(data), encoding="utf-8")
        ours, theirs = [], {make: [] for make in SOLVERS}
        for _ in range(args.runs):
            ours.append(spareframe(args.binary, path, args.limit))
            for make, got in theirs.items():
                if not got or got[0]["seconds"][-1] < args.once_above:
                    got.append(solved(decision, make, args.limit))
    return ours, theirs


def text_of(answer):
    figures = answer["figures"]
    if figures is None:
        return "wishes cannot be met" if answer["proved"] else "no plan"
    parts = f"honey {figures['honey']}, burden {figures['burden']}, substitutes {figures['substitutes']}"
    text = f"{figures['worth'] / 1000:g}, {figures['cost']} g ({parts}, opened {figures['opened']})"
    return text if answer["proved"] == 2 else f"{text}, proved {answer['proved']} of 2"


def median(runs, at):
    return statistics.median(run["seconds"][at] for run in runs)


def measure(args, colonies, seed):
    """Prints the rows of one yard. Seconds of spareframe and of the fastest peer, each with whether
    both goals were proved in time, and whether all agree."""
    ours, theirs = runs_of(args, yard.make(colonies, seed, args.kind, tight=args.tight))
    base = median(ours, -1)
    sure = min(ours, key=lambda run: run["proved"])
    fine = all(agree(sure, run) for run in ours)
    name, more = f"| {colonies} | {seed} |", "" if sure["proved"] == 2 else "> "
    rows, peers = [f"{name} spareframe | | | {more}{base * 1000:.1f} | 1 | {text_of(sure)} |"], []
    for make, runs in theirs.items():
        worst = min(runs, key=lambda run: run["proved"])
        errors = [run["error"] for run in runs if run["error"]]
        same = not errors and all(agree(sure, run) for run in runs)
        fine &= same
        first, last = median(runs, 0), median(runs, -1)
        one, both = "" if worst["proved"] > 0 else "> ", "" if worst["proved"] == 2 else "> "
        proved = min(worst["proved"], sure["proved"])
        verdict = "same" if proved == 2 else f"same as far as both proved: {proved} of 2 goals"
        rows.append(
            f"{name} {make.name} | {one}{first * 1000:.0f} | {one}{first / base:.1f} | {both}{last * 1000:.0f} "
            f"| {both}{last / base:.1f} | {verdict if same else f'DIFFERS: {text_of(worst)} {errors}'} |"
        )
        peers.append((last, worst["proved"] == 2))
    print("\n".join(rows), flush=True)
    return (base, sure["proved"] == 2), min(peers), fine


def at_least(of, pairs, form):
    """`of`, say the median, of figures. A figure that is not sure may be higher; `> ` where that counts."""
    low = of([figure for figure, _ in pairs])
    high = of([figure if sure else math.inf for figure, sure in pairs])
    return f"{'' if low == high else '> '}{low:{form}}"


def line(cells):
    return f"| {' | '.join(map(str, cells))} |"


def heads(titles):
    return f"{line(titles)}\n|{'---|' * len(titles)}"


def summary(colonies, got):
    """The line of one size. A yard that spareframe has not proved counts as 0 times."""
    ours, peers = [our for our, _, _ in got], [peer for _, peer, _ in got]
    times = [(peer / our, sure) if proved else (0, False) for (our, proved), (peer, sure) in zip(ours, peers)]
    ms = lambda pairs, form: at_least(statistics.median, [(1000 * s, sure) for s, sure in pairs], form)
    proved = ", ".join(str(sum(sure for _, sure in pairs)) for pairs in (ours, peers))
    ratios = at_least(statistics.median, times, ".1f"), at_least(min, times, ".1f")
    return line([colonies, len(got), ms(ours, ".1f"), ms(peers, ".0f"), *ratios, proved])


def table(args):
    """Measures all yards; then, for each size, spareframe beside the fastest peer of each yard."""
    for make in SOLVERS:  # imports and first calls are not part of the times
        solved(Decision(KNOWN[0]()[0]), make, args.limit)
    times = "times spareframe"
    print(heads(["colonies", "seed", "solver", "worth alone, ms", times, "both goals, ms", times, "answer"]))
    fine, short = True, []
    for colonies in args.colonies:
        got = [measure(args, colonies, seed) for seed in args.seed]
        fine &= all(same for *_, same in got)
        short.append(summary(colonies, got))
    medians = "spareframe, median ms", "fastest peer, median ms", f"{times}, median", "least"
    print(f"\n{heads(['colonies', 'yards', *medians, 'proved by spareframe, by the fastest peer'])}")
    print("\n".join(short))
    return fine


def main():
    args = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    root = pathlib.Path(__file__).resolve().parent.parent
    args.add_argument("--binary", default=str(root / "target/release/spareframe"))
    args.add_argument("--colonies", type=int, nargs="+", default=[12, 40, 200])
    args.add_argument("--seed", type=int, nargs="+", default=[1])
    args.add_argument("--kind", choices=yard.KINDS, default="plain")
    args.add_argument("--tight", action="store_true", help="three times the boxes and cells")
    args.add_argument("--runs", type=int, default=5, help="runs of each, the median counts")
    args.add_argument("--limit", type=float, default=20, help="seconds for a goal of a peer, twice that for spareframe")
    args.add_argument("--once-above", type=float, default=5, help="a peer slower than this many seconds runs once")
    args.add_argument("--self-test", action="store_true", help="check the peers on known answers, without spareframe")
    args.add_argument("--alone", action="store_true", help="check that the peers agree on yards, without spareframe")
    args = args.parse_args()
    if args.self_test:
        sys.exit(not self_test(args.limit))
    if args.alone:
        yards = [(colonies, seed, args.kind, args.tight) for colonies in args.colonies for seed in args.seed]
        sys.exit(not among_themselves(yards, args.limit))
    sys.exit(not table(args))


if __name__ == "__main__":
    main()
