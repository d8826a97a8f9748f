"""A decision in whole numbers, with what each row needs worked out once.

`data` is what scripts/yard.py makes: shares in thousandths, bees in hundreds (those of recipes in
bees), stores and honey in grams, percent whole.
"""

from .honey import frame_charge, hundred_charge, rates, share_of
from .stands import taken_apart

LIMITED = ("brood", "bees", "stores", "drawn")
PRICES = {"burden": 5, "substitute": 50, "opened": 20}


def fits(frame, ask):
    """Whether a frame is what is asked for."""
    if frame["comb"] != ask["comb"]:
        return False
    return all(ask[what][0] <= frame[what] <= ask[what][1] for what in ("brood", "sealed", "stores", "drawn"))


def place(frame, line):
    """Its place in a line's order of preference; None where it fits neither."""
    asks = [line["ask"], *(sub["ask"] for sub in line["substitutes"])]
    return next((number for number, ask in enumerate(asks) if fits(frame, ask)), None)


def asks_for_brood(line):
    return line["ask"]["brood"][0] > 0 or line["ask"]["sealed"][0] > 0


class Decision:
    """Colonies that can be opened, box sites, and where each frame may go."""

    def __init__(self, data):
        data = taken_apart(data, place)
        self.data, self.boxes = data, data["boxes"]
        self.sites = sorted({box["site"] for box in self.boxes})
        self.prices = {**PRICES, **data.get("prices", {})}
        self.brood_kind = [any(map(asks_for_brood, box["lines"])) for box in self.boxes]
        colonies = [self.colony(index, colony) for index, colony in enumerate(data["colonies"])]
        self.colonies = [colony for colony in colonies if colony]
        self.spare = [(s["count"], self.lines(s["frame"])) for s in data["store_room"]]
        self.gives = data.get("gives", [])
        self.most = data.get("most", {})

    def lines(self, frame):
        """(kind of box, line, place) that a frame can serve."""
        every = ((k, i, place(frame, line)) for k, box in enumerate(self.boxes) for i, line in enumerate(box["lines"]))
        return [(k, i, number) for k, i, number in every if number is not None]

    def stay(self, donor, site):
        """Percent of the bees taken there that stay."""
        drift = self.data["drift"]
        near = self.data["distances"][donor][site] < drift["homing_metres"]
        return 100 - drift["flying"] if near else 100

    def group(self, index, frame, rate):
        comb = self.data["combs"][frame["comb"]]
        return {
            "index": index, "n": frame["count"], "queen": frame["queen"], "brood": frame["brood"],
            "drawn": frame["drawn"], "stores": share_of(frame["stores"], comb["stores"]), "bees": frame["bees"],
            "cells": share_of(frame["brood"], comb["cells"]), "cover": frame["brood"] * comb["bees"],
            "charge": frame_charge(comb, frame, rate), "lines": self.lines(frame),
        }  # fmt: skip

    def colony(self, index, colony):
        """None where it cannot be opened: on hold. Below a floor, it gives none of what that is under."""
        rate = colony.get("rates") or rates(
            self.data["combs"], colony, self.data.get("mortality", 154), self.data.get("year")
        )
        groups = [self.group(at, frame, rate) for at, frame in enumerate(colony["frames"])]
        have = {what: sum(g["n"] * g[what] for g in groups) for what in (*LIMITED, "cells", "cover")}
        have["bees"] += colony["extra_bees"]
        keep, draw = colony["keep"], colony["draw"]
        room = {what: max(0, have[what] - keep.get(what, 0)) for what in LIMITED}
        if colony.get("hold"):
            return None
        if not colony.get("apart", False):
            room["bees"] = min(room["bees"], sum(g["n"] * g["bees"] for g in groups if not g["queen"]))
        for what in ("brood", "bees"):
            if draw.get(what) is not None:
                room[what] = min(room[what], draw[what])
        rides = colony.get("rides", 50)
        able = [g for g in groups if not g["queen"] and g["lines"]]
        for g in able:
            g["least"] = -(-rides * g["bees"] // 100) if g["brood"] > 0 else None
        return {
            "index": index, "name": colony["name"], "groups": able, "have": have, "room": room,
            "covered": keep.get("covered", 0), "frames_cap": draw.get("frames"), "honey_cap": draw.get("honey"),
            "bee_charge": hundred_charge(rate), "burdened": not colony.get("apart", False),
            "stay": [self.stay(colony["site"], site) for site in self.sites],
        }  # fmt: skip


def share_given(have, taken, cells):
    """The share a colony gives, in whole percent rounded up: the greater of bees and cells."""
    percent = lambda part, whole: -(-100 * part // whole) if whole else 0
    return max(percent(taken, have["bees"]), percent(cells, have["cells"]))


def burden(share):
    return share + sum(max(0, share - step) for step in (20, 40, 60, 80))
