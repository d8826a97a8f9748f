"""Compartments in which bees stand, taken apart into kinds of box of their own (docs/model.md, "What stands").

An entry of `standing` names a `box` kind and its `number`, has `frames` and `extra_bees` as a colony, and says whether a
`next_cell` is wanted; `again` of the kind has `lines` and `bees`.
"""


def taken_apart(data, place):
    """The decision without `standing`: each that wants a cell is a kind of one compartment, which asks for what it lacks."""
    boxes = [dict(box) for box in data["boxes"]]
    cells = data["cells"] and [dict(batch) for batch in data["cells"]]

    def add(of, box):
        for batch in cells or ():
            if of in batch["boxes"]:
                batch["boxes"] = [*batch["boxes"], len(boxes)]
        boxes.append({**box, "compartments": 1, "whole": False})

    for k, box in enumerate(data["boxes"]):
        mine = [s for s in data.get("standing", ()) if s["box"] == k]
        if not mine:
            continue
        if box["whole"]:
            apart = len({s["number"] for s in mine})
            boxes[k]["count"] -= apart
            add(k, {**box, "count": apart * box["compartments"] - len(mine)})
        else:
            boxes[k].update(count=box["count"] * box["compartments"] - len(mine), compartments=1)
        for stands in mine:
            if stands["next_cell"]:
                add(k, {**box, "count": 1, **lacking(stands, box.get("again", {}), place)})
    return {**data, "boxes": boxes, "cells": cells, "standing": ()}


def lacking(stands, again, place):
    """Lines and bees that it lacks; lines that lack nothing are left out."""
    bees = stands["extra_bees"] + sum(f["count"] * f["bees"] for f in stands["frames"])
    short = again.get("bees", 0) - 100 * bees
    lines = again.get("lines", [])
    frames = [f for f in stands["frames"] for _ in range(f["count"])]
    served = most_served(lines, frames, [0] * len(lines), place)
    left = [{**line, "count": line["count"] - n} for line, n in zip(lines, served)]
    return {"lines": [line for line in left if line["count"]], "bees": short if short >= 100 else 0}


def most_served(lines, frames, served, place):
    """Of all ways to put frames into lines, or none, the one that serves the first lines most."""
    if not frames:
        return served
    first, rest = frames[0], frames[1:]
    ways = [most_served(lines, rest, served, place)]
    for at, line in enumerate(lines):
        if served[at] < line["count"] and place(first, line) is not None:
            ways.append(most_served(lines, rest, [n + (i == at) for i, n in enumerate(served)], place))
    return max(ways)
