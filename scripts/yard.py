#!/usr/bin/env python3
"""Writes a yard of N colonies, from a seed, as a scenario and as the bare decision.

    python3 scripts/yard.py --colonies 40 --seed 1 --scenario yard.yaml --decision yard.json

The scenario is what `spareframe stock` reads. The decision is the same yard in the whole
numbers that the rules are defined in (thousandths, hundreds of bees, grams), for
scripts/peers.py. Every figure is chosen so that reading the scenario gives just these. Same
arguments, same bytes out.

Kinds of yard (`--kind`):

plain           70 % of the colonies are producers with a crop, 25 % nuclei, the rest on hold.
                They stand at home and at a far yard; boxes stand at home, where bees fly back,
                and at a mating yard. Three comb sizes, four kinds of box.
frame-by-frame  20 different frames in each colony, two recipes with seven lines in all, some
                colonies taken apart whole.
near-and-far    two places with donors, one near both places with boxes and one far, both
                recipes with bees.
small-boxes     small boxes, most of them without a line for brood.
all-kinds       limits, prices, drift, riding, wishes, boxes, recipes and cells at random.

Boxes are a little more than the yard can fill, so floors and caps decide; `--tight` makes
three times as many boxes and cells.
"""

import argparse
import json
import random

from general.decision import place
from yard_text import DAY, scenario

COMBS = [
    {"name": "deep", "bees": 25, "cells": 6600, "stores": 2600},
    {"name": "shallow", "bees": 15, "cells": 3800, "stores": 1500},
    {"name": "mini", "bees": 6, "cells": 1400, "stores": 500},
]
SITES = ["home", "far yard", "mating yard"]
HOME, FAR, MATING = range(3)
DISTANCES = [[0, 5200, 7400], [5200, 0, 4100], [7400, 4100, 0]]
PRICES = {"burden": 5, "substitute": 50, "opened": 20}
NO_FLOORS = {"brood": 0, "bees": 0, "stores": 0, "drawn": 0, "covered": 0}
NO_CAPS = {"frames": None, "brood": None, "bees": None, "honey": None}
ILL = ("chalkbrood", "varroa treatment")


def share_of(share, whole):
    """`share` thousandths of `whole`, rounded half up."""
    return (share * whole + 500) // 1000


def group(count, comb, brood=0, sealed_of_brood=0, stores=0, drawn=1000, covered=0, queen=False):
    """Frames of a colony, `covered` with bees to so many thousandths."""
    return {
        "count": count, "comb": comb, "brood": brood, "sealed": share_of(sealed_of_brood, brood),
        "stores": stores, "drawn": drawn, "bees": share_of(covered, COMBS[comb]["bees"]), "queen": queen,
    }  # fmt: skip


def totals(colony):
    """What a colony has, in the units of the floors."""
    got = {"brood": 0, "bees": colony["extra_bees"], "stores": 0, "drawn": 0}
    for f in colony["frames"]:
        got["brood"] += f["count"] * f["brood"]
        got["drawn"] += f["count"] * f["drawn"]
        got["bees"] += f["count"] * f["bees"]
        got["stores"] += f["count"] * share_of(f["stores"], COMBS[f["comb"]]["stores"])
    return got


# --- colonies -------------------------------------------------------------------------------


def brood_groups(rng, comb, frames):
    """Brood frames with varied shares, in up to three groups; the last frame has the queen."""
    out = [group(1, comb, rng.choice([300, 400, 500]), rng.randrange(20, 61) * 10, 100, 1000, 800, True)]
    left = frames - 1
    while left > 0:
        n = min(left, rng.randint(1, 3))
        brood = rng.choice([300, 400, 500, 600, 700])
        stores = rng.choice([50, 100, 150, 200])
        out.append(group(n, comb, brood, rng.randrange(20, 91) * 10, stores, 1000, rng.randrange(60, 101) * 10))
        left -= n
    return out


def crop(rng):
    start = rng.randint(5, 25)
    return {"honey": rng.randrange(15, 46) * 1000, "from": start, "to": start + rng.randint(12, 24)}


def producer(rng):
    frames = brood_groups(rng, 0, rng.randint(6, 8))
    frames.append(group(rng.randint(1, 2), 0, 0, 0, rng.choice([500, 600, 750]), 1000, rng.choice([300, 400])))
    frames.append(group(rng.randint(1, 3), 1, 0, 0, rng.choice([0, 450, 700]), rng.choice([800, 1000]), 400))
    return {
        "role": "production", "frames": frames, "extra_bees": rng.randrange(20, 80), "crop": crop(rng),
        "draw": {**NO_CAPS, "frames": rng.choice([1, 2, 2, 3]), "brood": rng.choice([600, 1000, 1200]),
                 "bees": rng.randrange(20, 51)},
        "floor": {"brood": 2400, "bees": 90, "stores": 1500, "drawn": 6000},
    }  # fmt: skip


def nucleus(rng):
    comb = rng.choice([0, 0, 1, 2])
    size = [rng.randint(4, 5), rng.randint(5, 7), rng.randint(8, 11)][comb]
    frames = brood_groups(rng, comb, size)
    frames.append(group(rng.randint(1, 3), comb, 0, 0, rng.choice([450, 600, 800]), 1000, rng.choice([200, 300])))
    if rng.random() < 0.5:
        frames.append(group(rng.randint(1, 2), comb, 0, 0, 0, 1000, 200))
    return {
        "role": "nucleus", "frames": frames, "extra_bees": rng.randrange(0, 16), "crop": None, "draw": NO_CAPS,
        "floor": {"brood": [900, 900, 1200][comb], "bees": [25, 22, 15][comb],
                  "stores": [700, 600, 300][comb], "drawn": [2000, 2500, 3000][comb]},
    }  # fmt: skip


def recorded(rng):
    """A hive of two boxes, recorded frame by frame: hardly two frames alike."""
    frames = []
    for i in range(rng.randint(7, 11)):
        brood = rng.randint(10, 85) * 10
        stores = rng.randint(0, (950 - brood) // 20) * 10
        frames.append(group(1, 0, brood, rng.randint(0, 100) * 10, stores, 1000, rng.randint(40, 100) * 10, i == 2))
    while len(frames) < 20:
        stores = rng.choice([0, rng.randint(5, 95) * 10])
        drawn = rng.choice([1000, 1000, rng.randint(stores // 10, 100) * 10])
        frames.append(group(1, 0, 0, 0, stores, drawn, rng.randint(0, 60) * 10 if drawn else 0))
    apart = rng.random() < 0.15
    limits = {"frames": rng.randint(2, 6), "brood": rng.randint(10, 30) * 100, "bees": rng.randint(30, 90)}
    return {
        "role": "production", "frames": frames, "extra_bees": rng.randrange(0, 100), "apart": apart,
        "crop": crop(rng) if rng.random() < 0.7 else None,
        "draw": NO_CAPS if apart else {**NO_CAPS, **limits},
        "floor": NO_FLOORS if apart else {"brood": 2000, "bees": 80, "stores": 3000, "drawn": 8000},
    }  # fmt: skip


def settle(colony, name, site, rng, hold=0.05):
    """Fills in what all colonies have; a floor is not above what there is."""
    have, floor = totals(colony), colony.pop("floor")
    colony.setdefault("apart", False)
    covered = 0 if colony["apart"] else 100
    colony["keep"] = {"covered": covered} | {what: min(floor[what], have[what]) for what in have}
    colony |= {"name": name, "site": site, "rides": 50}
    colony["hold"] = rng.choice(ILL) if rng.random() < hold else None
    return colony


# --- recipes and boxes ----------------------------------------------------------------------


def ask(comb, **spans):
    """What a line asks for: `brood=400` is the least, `brood=(200, 600)` from one to another."""
    out = {"comb": comb}
    for what in ("brood", "sealed", "stores", "drawn"):
        span = spans.get(what, 0)
        out[what] = list(span) if isinstance(span, tuple) else [span, 1000]
    return out


def empty(comb, drawn):
    return ask(comb, brood=(0, 0), drawn=drawn)


def foundation(comb):
    return ask(comb, drawn=(0, 0))


def recipe(*lines):
    return [
        {"name": name, "count": count, "ask": asked, "substitutes": [{"ask": a, "feed": feed} for a, feed in subs]}
        for name, count, asked, subs in lines
    ]


def box(name, count, compartments, site, worth, bees, *lines, whole=False):
    return {
        "name": name, "count": count, "compartments": compartments, "site": site, "worth": worth,
        "whole": whole, "bees": bees, "lines": recipe(*lines),
    }  # fmt: skip


def spare(count, comb, stores, drawn):
    frame = {"comb": comb, "brood": 0, "sealed": 0, "stores": stores, "drawn": drawn, "bees": 0}
    return {"count": count, "frame": frame}


def shelf(few):
    return [
        spare(few(0.1), 0, 800, 1000), spare(few(0.15), 0, 0, 1000), spare(few(0.2), 0, 0, 0),
        spare(few(0.15), 1, 0, 1000), spare(few(0.3), 1, 0, 0), spare(few(0.1), 2, 600, 1000),
        spare(few(0.3), 2, 0, 0),
    ]  # fmt: skip


# --- yards ----------------------------------------------------------------------------------


def yard(colonies, boxes, store_room, cells, **others):
    return {
        "year": [DAY.timetuple().tm_yday, 0], "combs": COMBS, "sites": SITES, "distances": DISTANCES, "colonies": colonies, "store_room": store_room,
        "boxes": boxes, "cells": cells, "drift": {"homing_metres": 3000, "flying": 33}, "honey_cap": None,
        "prices": PRICES, "gives": [], **others,
    }  # fmt: skip


def plain(rng, colonies, few):
    donors = []
    for i in range(colonies):
        colony = producer(rng) if rng.random() < 0.73 else nucleus(rng)
        name = f"{colony['role'][0].upper()}{i + 1:04}"
        donors.append(settle(colony, name, FAR if rng.random() < 0.3 else HOME, rng))
    boxes = [
        box("three-way", few(0.15), 3, HOME, 1000, 1800,
            ("brood", 1, ask(0, brood=400, sealed=150), []),
            ("food", 1, ask(0, stores=400), [(empty(0, 900), 1000)]), whole=True),
        box("full nucleus", few(0.10), 1, MATING, 2200, 5000,
            ("brood", 2, ask(0, brood=400, sealed=100), []),
            ("food", 1, ask(0, stores=400), []),
            ("room", 1, empty(0, 900), [(foundation(0), 0)])),
        box("two-way", few(0.10), 2, MATING, 1000, 1300,
            ("brood", 1, ask(1, brood=300, sealed=60), []),
            ("food", 1, ask(1, stores=400), [(empty(1, 800), 700)]),
            ("room", 1, foundation(1), [])),
        box("mini", few(0.25), 1, HOME, 700, 700,
            ("brood", 1, ask(2, brood=300), []),
            ("food", 1, ask(2, stores=400), [(empty(2, 900), 300)]),
            ("room", 1, empty(2, 900), [(foundation(2), 0)])),
    ]  # fmt: skip
    cells = [(0.45, []), (0.1, [1, 2]), (0.2, [3])]
    return yard(donors, boxes, shelf(few), [{"count": few(share), "boxes": kinds} for share, kinds in cells])


def frame_by_frame(rng, colonies, few):
    donors = []
    for i in range(colonies):
        donors.append(settle(recorded(rng), f"H{i + 1:04}", FAR if rng.random() < 0.3 else HOME, rng))
    boxes = [
        box("four-frame", few(0.4), 1, HOME, 1000, 4000,
            ("young brood", 1, ask(0, brood=200, sealed=(0, 200)), [(ask(0, brood=200), 0)]),
            ("ripe brood", 1, ask(0, sealed=250), []),
            ("food", 1, ask(0, stores=400), [(ask(0, stores=250), 500)]),
            ("room", 1, empty(0, 900), [(foundation(0), 0)])),
        box("three-frame", few(0.3), 2, MATING, 800, 2500,
            ("brood", 1, ask(0, brood=(200, 600)), [(ask(0, brood=100), 0)]),
            ("food", 1, ask(0, brood=(0, 0), stores=400), [(empty(0, 900), 1000)]),
            ("room", 1, empty(0, 500), [(foundation(0), 0)])),
    ]  # fmt: skip
    return yard(donors, boxes, shelf(few), [{"count": few(0.8), "boxes": []}])


def near_and_far(rng, colonies, few):
    donors = []
    for i in range(colonies):
        colony = producer(rng) if rng.random() < 0.7 else nucleus(rng)
        donors.append(settle(colony, f"C{i + 1:04}", rng.randrange(2), rng, 0.0))
    food = ("food", 1, ask(0, stores=400), [(empty(0, 900), 1000), (foundation(0), 1500)])
    boxes = [
        box("one", few(0.35), 1, 2, 1000, rng.choice([1500, 1800, 2100]), ("brood", 1, ask(0, brood=300), []), food),
        box("two", few(0.25), 1, 3, rng.choice([1000, 1600]), rng.choice([2500, 3300]),
            ("brood", 2, ask(0, brood=300, sealed=60), []), food),
    ]  # fmt: skip
    sites = ["near yard", "far yard", "orchard", "heath"]
    distances = [[0, 6100, 900, 1700], [6100, 0, 5400, 4800], [900, 5400, 0, 1200], [1700, 4800, 1200, 0]]
    return yard(donors, boxes, shelf(few), [{"count": few(0.7), "boxes": []}], sites=sites, distances=distances)


def small_boxes(rng, colonies, few):
    donors = []
    for i in range(colonies):
        colony = producer(rng) if rng.random() < 0.6 else nucleus(rng)
        donors.append(settle(colony, f"C{i + 1:04}", FAR if rng.random() < 0.4 else HOME, rng))
    food = ("food", 1, ask(2, stores=400), [(empty(2, 900), 300)])
    room = ("room", 2, empty(2, 900), [(foundation(2), 0)])
    boxes = [
        box("dipped", few(0.5), 1, MATING, 600, rng.choice([800, 1000]), food, room),
        box("four in one", few(0.15), 4, HOME, 500, rng.choice([600, 750]),
            ("strip", 1, foundation(2), []), whole=True),
        box("with brood", few(0.3), 1, rng.choice([HOME, MATING]), 900, 1100,
            ("brood", 1, ask(2, brood=300), [(ask(2, brood=100), 0)]), food),
        box("half", few(0.2), 2, HOME, 1000, 1700,
            ("brood", 1, ask(0, brood=300), []), ("any", 1, ask(0, drawn=500), [(foundation(0), 0)])),
    ]  # fmt: skip
    store_room = [*shelf(few), spare(few(0.4), 2, 450, 1000), spare(few(1.2), 2, 0, 0)]
    cells = [{"count": few(0.9), "boxes": []}, {"count": few(0.3), "boxes": [0, 1]}]
    return yard(donors, boxes, store_room, cells)


# What recipes at random are put together from: a line for brood or none, and others, for a comb.
BROOD_LINES = [
    lambda c, n: ("brood", n, ask(c, brood=300), []),
    lambda c, n: ("brood", n, ask(c, brood=(200, 600)), [(ask(c, brood=100), 0)]),
    lambda c, n: ("brood", n, ask(c, sealed=150), [(ask(c, brood=300, sealed=50), 0), (ask(c, brood=300), 0)]),
    lambda c, n: ("brood", n, ask(c, brood=300, sealed=(0, 150)), [(ask(c, brood=300), 0)]),
]
OTHER_LINES = [
    lambda c, n: ("food", n, ask(c, stores=400), [(empty(c, 900), 1000)]),
    lambda c, n: ("food", n, ask(c, brood=(0, 0), stores=400), [(ask(c, stores=50), 300), (foundation(c), 900)]),
    lambda c, n: ("room", n, empty(c, 900), [(foundation(c), 0)]),
    lambda c, n: ("room", n, foundation(c), []),
    lambda c, n: ("any", n, ask(c, drawn=500), [(foundation(c), 0)]),
]


def any_box(rng, number, sites, few):
    comb, brood, others = rng.choice([0, 0, 0, 1, 2]), rng.random() < 0.75, rng.randint(0, 2)
    count = rng.choice([1, 1, 1, 2])
    lines = [rng.choice(BROOD_LINES)(comb, count)] if brood else []
    lines += [make(comb, rng.choice([1, 1, 2])) for make in rng.sample(OTHER_LINES, others if brood else others + 1)]
    seen = [name for name, *_ in lines]
    lines = [(f"{name} {i + 1}" if seen.count(name) > 1 else name, *rest) for i, (name, *rest) in enumerate(lines)]
    bees = rng.choice([0, 50, 700, 1300, 1800, 2500, 4010]) if comb == 0 else rng.choice([0, 99, 500, 700, 1150])
    return box(f"box {number}", few(rng.choice([0.1, 0.2, 0.3])), rng.choice([1, 1, 2, 3]), rng.randrange(sites),
               rng.choice([500, 700, 1000, 1000, 2200]), bees, *lines, whole=rng.random() < 0.3)  # fmt: skip


def any_limits(rng, colony):
    """Riding, covering, caps and floors of a colony at random; some cannot give at all."""
    colony["rides"] = rng.choice([0, 30, 50, 50, 77, 100])
    if not colony["apart"]:
        colony["keep"]["covered"] = rng.choice([0, 60, 100, 100, 130])
        if rng.random() < 0.05:
            colony["keep"][rng.choice(["brood", "bees", "stores", "drawn"])] += 5000
    caps = {}
    if rng.random() < 0.2:
        caps["honey"] = rng.randint(2, 40) * 50
    if rng.random() < 0.1:
        caps["bees"] = rng.randint(0, 30)
    # A scenario cannot cap a colony that may be taken apart: it says `draw: all` instead.
    if not colony["apart"]:
        colony["draw"] = {**colony["draw"], **caps}


def any_wishes(rng, donors, boxes):
    """Wishes for frames that serve some line; whether they can be met is left open."""
    gives, lines = {}, [line for each in boxes for line in each["lines"]]
    serves = lambda frame: not frame["queen"] and any(place(frame, line) is not None for line in lines)
    for _ in range(rng.choice([0, 0, 0, 1, 2])):
        index = rng.randrange(len(donors))
        able = [i for i, frame in enumerate(donors[index]["frames"]) if serves(frame)]
        if able and (not donors[index]["hold"] or rng.random() < 0.1):
            gives[index, rng.choice([None, *able])] = rng.choice([1, 1, 1, 2])
    return [{"colony": colony, "group": at, "frames": frames} for (colony, at), frames in gives.items()]


def all_kinds(rng, colonies, few):
    donors, sites = [], rng.randint(1, 3)
    for i in range(colonies):
        colony = rng.choice([producer, producer, nucleus, recorded])(rng)
        donors.append(settle(colony, f"C{i + 1:04}", rng.randrange(sites), rng, 0.1))
        any_limits(rng, colony)
    boxes = [any_box(rng, i + 1, sites, few) for i in range(rng.randint(2, 4))]
    for_some = lambda: sorted(rng.sample(range(len(boxes)), rng.randint(0, len(boxes))))
    batch = lambda: {"count": few(rng.choice([0.2, 0.5])), "boxes": for_some()}
    near = lambda: rng.choice([700, 2999, 3000, 6000])
    a, b, c = near(), near(), near()
    distances = [row[:sites] for row in [[0, a, b], [a, 0, c], [b, c, 0]][:sites]]
    return yard(
        donors, boxes, shelf(few), rng.choice([None, [batch() for _ in range(rng.randint(1, 3))]]),
        sites=SITES[:sites], distances=distances, gives=any_wishes(rng, donors, boxes),
        drift={"homing_metres": 3000, "flying": rng.choice([0, 25, 33, 50, 100])},
        honey_cap=rng.choice([None, None, None, rng.randint(0, 20) * 500]),
        prices={"burden": rng.choice([0, 1, 5, 30]), "substitute": rng.choice([0, 50, 200]),
                "opened": rng.choice([0, 20, 150])},
    )  # fmt: skip


KINDS = {
    "plain": plain, "frame-by-frame": frame_by_frame, "near-and-far": near_and_far,
    "small-boxes": small_boxes, "all-kinds": all_kinds,
}  # fmt: skip


def make(colonies, seed, kind="plain", crop=True, tight=False):
    """The decision of a yard."""
    few = lambda share: max(1, round(colonies * share))
    data = KINDS[kind](random.Random(f"{kind} {colonies} {seed}"), colonies, few)
    if not crop:
        for colony in data["colonies"]:
            colony["crop"] = None
    if tight:
        for counted in [*data["boxes"], *(data["cells"] or [])]:
            counted["count"] *= 3
    return data


def main():
    args = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    args.add_argument("--colonies", type=int, default=40)
    args.add_argument("--seed", type=int, default=1)
    args.add_argument("--kind", choices=KINDS, default="plain")
    args.add_argument("--tight", action="store_true", help="three times the boxes and cells")
    args.add_argument("--no-crop", action="store_true", help="producers without a crop: no honey is given up")
    args.add_argument("--scenario", help="file to write the scenario to; default standard output")
    args.add_argument("--decision", help="file to write the decision to, as JSON")
    args = args.parse_args()
    data = make(args.colonies, args.seed, args.kind, not args.no_crop, args.tight)
    if args.decision:
        with open(args.decision, "w", encoding="utf-8") as out:
            json.dump(data, out, indent=1)
            out.write("\n")
    text = scenario(data)
    if args.scenario:
        with open(args.scenario, "w", encoding="utf-8") as out:
            out.write(text)
    else:
        print(text, end="")


if __name__ == "__main__":
    main()
