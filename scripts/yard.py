#!/usr/bin/env python3
"""Writes a yard of N colonies, from a seed, as a scenario and as the bare decision.

    python3 scripts/yard.py --colonies 40 --seed 1 --scenario yard.yaml --decision yard.json

The scenario is what `spareframe stock` reads. The decision is the same yard in the whole
numbers that the rules are defined in (thousandths, bees, grams), for scripts/peers.py. Every
share is chosen so that the conversion is exact. Same arguments, same bytes out.

70 % of the colonies are producers with a crop, 25 % nuclei, the rest on hold. They stand at
home and at a far yard; boxes stand at home, where bees fly back, and at a mating yard. Three
comb sizes. Boxes are a little more than the yard can fill, so floors and caps decide.
"""

import argparse
import datetime
import json
import random

COMBS = [
    {"name": "deep", "bees": 2500, "cells": 6600, "stores": 2600},
    {"name": "shallow", "bees": 1500, "cells": 3800, "stores": 1500},
    {"name": "mini", "bees": 600, "cells": 1400, "stores": 500},
]
SITES = ["home", "far yard", "mating yard"]
HOME, FAR, MATING = range(3)
DAY = datetime.date(2031, 5, 20)
DISTANCES = [[0, 5200, 7400], [5200, 0, 4100], [7400, 4100, 0]]


def group(count, comb, brood=0, sealed_of_brood=0, stores=0, drawn=1000, bees=0, queen=False):
    """Frames of a colony. brood a multiple of 100 and sealed_of_brood one of 10: exact."""
    return {
        "count": count, "comb": comb, "brood": brood, "sealed": brood * sealed_of_brood // 1000,
        "stores": stores, "drawn": drawn, "bees": bees, "queen": queen,
    }  # fmt: skip


def totals(colony):
    """What a colony has, in the units of the floors."""
    got = {"brood": 0, "bees": colony["extra_bees"], "stores": 0, "drawn": 0}
    for f in colony["frames"]:
        comb = COMBS[f["comb"]]
        got["brood"] += f["count"] * f["brood"]
        got["drawn"] += f["count"] * f["drawn"]
        got["bees"] += f["count"] * ((f["bees"] * comb["bees"] + 500) // 1000)
        got["stores"] += f["count"] * ((f["stores"] * comb["stores"] + 500) // 1000)
    return got


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


def producer(rng):
    frames = brood_groups(rng, 0, rng.randint(6, 8))
    frames.append(group(rng.randint(1, 2), 0, 0, 0, rng.choice([500, 600, 750]), 1000, rng.choice([300, 400])))
    frames.append(group(rng.randint(1, 3), 1, 0, 0, rng.choice([0, 450, 700]), rng.choice([800, 1000]), 400))
    start = rng.randint(5, 25)
    return {
        "role": "production", "frames": frames, "extra_bees": rng.randrange(20, 80) * 100,
        "crop": {"honey": rng.randrange(15, 46) * 1000, "from": start, "to": start + rng.randint(12, 24)},
        "draw": {"frames": rng.choice([1, 2, 2, 3]), "brood": rng.choice([600, 1000, 1200]),
                 "bees": rng.randrange(20, 51) * 100},
        "floor": {"brood": 2400, "bees": 9000, "stores": 1500, "drawn": 6000},
    }  # fmt: skip


def nucleus(rng):
    comb = rng.choice([0, 0, 1, 2])
    size = [rng.randint(4, 5), rng.randint(5, 7), rng.randint(8, 11)][comb]
    frames = brood_groups(rng, comb, size)
    frames.append(group(rng.randint(1, 3), comb, 0, 0, rng.choice([450, 600, 800]), 1000, rng.choice([200, 300])))
    if rng.random() < 0.5:
        frames.append(group(rng.randint(1, 2), comb, 0, 0, 0, 1000, 200))
    return {
        "role": "nucleus", "frames": frames, "extra_bees": rng.randrange(0, 16) * 100, "crop": None,
        "draw": {"frames": None, "brood": None, "bees": None},
        "floor": {"brood": [900, 900, 1200][comb], "bees": [2500, 2200, 1500][comb],
                  "stores": [700, 600, 300][comb], "drawn": [2000, 2500, 3000][comb]},
    }  # fmt: skip


def recipe(*lines):
    return [
        {"name": name, "count": count, "ask": ask, "substitutes": [{"ask": a, "feed": feed} for a, feed in subs]}
        for name, count, ask, subs in lines
    ]


def at_least(comb, brood=0, sealed=0, stores=0, drawn=0):
    return {"comb": comb, "brood": brood, "sealed": sealed, "stores": stores, "drawn": drawn}


def make(colonies, seed, crop=True):
    """The decision of a yard."""
    rng = random.Random(f"{colonies} {seed}")
    donors = []
    for i in range(colonies):
        u = rng.random()
        colony = producer(rng) if u < 0.70 or (u >= 0.95 and rng.random() < 0.5) else nucleus(rng)
        have = totals(colony)
        floor = colony.pop("floor")
        colony["keep"] = {what: min(floor[what], have[what]) for what in floor}
        colony["name"] = f"{colony['role'][0].upper()}{i + 1:04}"
        colony["site"] = FAR if rng.random() < 0.3 else HOME
        colony["hold"] = rng.choice(["chalkbrood", "varroa treatment"]) if u >= 0.95 else None
        if not crop:
            colony["crop"] = None
        donors.append(colony)
    foundation = lambda comb: {"comb": comb, "foundation": True}
    few = lambda share: max(1, round(colonies * share))
    spare = lambda count, comb, stores, drawn: {
        "count": count,
        "frame": {"comb": comb, "brood": 0, "sealed": 0, "stores": stores, "drawn": drawn, "bees": 0},
    }
    boxes = [
        {"name": "three-way", "count": few(0.15), "compartments": 3, "site": HOME, "worth": 1000, "whole": True,
         "bees": 1800, "lines": recipe(
             ("brood", 1, at_least(0, 400, 150), []),
             ("food", 1, at_least(0, stores=400), [(at_least(0, drawn=900), 1000)]))},
        {"name": "full nucleus", "count": few(0.10), "compartments": 1, "site": MATING, "worth": 2200,
         "whole": False, "bees": 5000, "lines": recipe(
             ("brood", 2, at_least(0, 400, 100), []),
             ("food", 1, at_least(0, stores=400), []),
             ("room", 1, at_least(0, drawn=900), [(foundation(0), 0)]))},
        {"name": "two-way", "count": few(0.10), "compartments": 2, "site": MATING, "worth": 1000, "whole": False,
         "bees": 1300, "lines": recipe(
             ("brood", 1, at_least(1, 300, 60), []),
             ("food", 1, at_least(1, stores=400), [(at_least(1, drawn=800), 700)]),
             ("room", 1, foundation(1), []))},
        {"name": "mini", "count": few(0.25), "compartments": 1, "site": HOME, "worth": 700, "whole": False,
         "bees": 700, "lines": recipe(
             ("brood", 1, at_least(2, 300), []),
             ("food", 1, at_least(2, stores=400), [(at_least(2, drawn=900), 300)]),
             ("room", 1, at_least(2, drawn=900), [(foundation(2), 0)]))},
    ]  # fmt: skip
    return {
        "combs": COMBS, "sites": SITES, "distances": DISTANCES, "colonies": donors,
        "store_room": [
            spare(few(0.1), 0, 800, 1000), spare(few(0.15), 0, 0, 1000), spare(few(0.2), 0, 0, 0),
            spare(few(0.15), 1, 0, 1000), spare(few(0.3), 1, 0, 0), spare(few(0.1), 2, 600, 1000),
            spare(few(0.3), 2, 0, 0),
        ],
        "boxes": boxes,
        "cells": [{"count": few(0.45), "boxes": []}, {"count": few(0.1), "boxes": [1, 2]},
                  {"count": few(0.2), "boxes": [3]}],
        "drift": {"homing_metres": 3000, "flying": 330},
        "honey_cap": None,
    }  # fmt: skip


def decimal(milli):
    return f"{milli / 1000:.3f}".rstrip("0").rstrip(".")


def flow_map(pairs):
    """A map in braces without the keys that have no value."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in pairs if value is not None) + "}"


def frame_text(frame, count, spare=False):
    comb = COMBS[frame["comb"]]["name"]
    # What is not said is no stores, and all drawn.
    stores = decimal(frame["stores"]) if frame["stores"] else None
    drawn = decimal(frame["drawn"]) if frame["drawn"] != 1000 else None
    pairs = [("count", count), ("comb", comb), ("stores", stores), ("drawn", drawn)]
    if not spare:
        if frame["brood"]:
            pairs += [("brood", decimal(frame["brood"])), ("sealed", decimal(1000 * frame["sealed"] // frame["brood"]))]
        pairs += [("bees", decimal(frame["bees"])), ("queen", "yes" if frame["queen"] else None)]
    return flow_map(pairs)


def ask_pairs(ask):
    comb = ("comb", COMBS[ask["comb"]]["name"])
    if ask.get("foundation"):
        return [comb, ("foundation", "yes")]
    return [comb, *((what, decimal(ask[what])) for what in ("brood", "sealed", "stores", "drawn") if ask[what])]


def line_text(line):
    subs = [flow_map([*ask_pairs(s["ask"]), ("feed", f"{s['feed']} g")]) for s in line["substitutes"]]
    pairs = [("name", line["name"]), ("count", line["count"]), *ask_pairs(line["ask"])]
    return flow_map([*pairs, ("or", f"[{', '.join(subs)}]" if subs else None)])


def colony_text(colony):
    draw, keep = colony["draw"], colony["keep"]
    out = [f"  {colony['name']}:", f"    site: {SITES[colony['site']]}", f"    role: {colony['role']}"]
    if colony["hold"]:
        out.append(f"    hold: {colony['hold']}")
    if colony["crop"]:
        days = [DAY + datetime.timedelta(days=colony["crop"][end]) for end in ("from", "to")]
        out += [f"    crop: {colony['crop']['honey']} g", f"    flow: [{days[0]}, {days[1]}]"]
    out.append("    frames:")
    out += [f"      - {frame_text(frame, frame['count'])}" for frame in colony["frames"]]
    out.append(f"    extra bees: {colony['extra_bees']}")
    floors = [("brood", decimal(keep["brood"])), ("bees", keep["bees"])]
    floors += [("stores", f"{keep['stores']} g"), ("drawn", decimal(keep["drawn"]))]
    out.append(f"    keep: {flow_map(floors)}")
    caps = [("frames", draw["frames"]), ("brood", None if draw["brood"] is None else decimal(draw["brood"]))]
    caps.append(("bees", draw["bees"]))
    if any(value is not None for _, value in caps):
        out.append(f"    draw: {flow_map(caps)}")
    return out


def scenario(data):
    """The same yard in the scenario format."""
    out = ["spareframe: 1", f"title: A yard of {len(data['colonies'])} colonies", f"day: {DAY}", "settings:"]
    out.append(f"  homing distance: {data['drift']['homing_metres']} m")
    out += [f"  flying share: {decimal(data['drift']['flying'])}", "combs:"]
    for comb in data["combs"]:
        figures = [("bees", comb["bees"]), ("cells", comb["cells"]), ("stores", f"{comb['stores']} g")]
        out.append(f"  {comb['name']}: {flow_map(figures)}")
    out += ["sites:", *(f"  {site}:" for site in SITES), "distances:"]
    for a, row in enumerate(data["distances"]):
        for b in range(a):
            out.append("  - " + flow_map([("from", SITES[b]), ("to", SITES[a]), ("is", f"{row[b]} m")]))
    # No limits of a role: each colony states its own.
    out += ["roles:", "  production: {keep: {bees: 0}}", "  nucleus: {keep: {bees: 0}}", "colonies:"]
    for colony in data["colonies"]:
        out += colony_text(colony)
    out.append("store room:")
    out += [f"  - {frame_text(spare['frame'], spare['count'], spare=True)}" for spare in data["store_room"]]
    out.append("recipes:")
    for box in data["boxes"]:
        out += [f"  {box['name']}:", f"    bees: {box['bees']}", "    lines:"]
        out += [f"      - {line_text(line)}" for line in box["lines"]]
    out.append("boxes:")
    for box in data["boxes"]:
        pairs = [("count", box["count"]), ("compartments", box["compartments"]), ("site", SITES[box["site"]])]
        pairs += [("recipe", box["name"]), ("worth", decimal(box["worth"])), ("whole", "yes" if box["whole"] else "no")]
        out.append(f"  {box['name']}: {flow_map(pairs)}")
    out.append("cells:")
    for batch in data["cells"]:
        names = [data["boxes"][k]["name"] for k in batch["boxes"]]
        out.append("  - " + flow_map([("count", batch["count"]), ("for", f"[{', '.join(names)}]" if names else None)]))
    return "\n".join(out) + "\n"


def main():
    args = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    args.add_argument("--colonies", type=int, default=40)
    args.add_argument("--seed", type=int, default=1)
    args.add_argument("--no-crop", action="store_true", help="producers without a crop: no honey is given up")
    args.add_argument("--scenario", help="file to write the scenario to; default standard output")
    args.add_argument("--decision", help="file to write the decision to, as JSON")
    args = args.parse_args()
    data = make(args.colonies, args.seed, not args.no_crop)
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
