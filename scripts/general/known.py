"""Decisions whose answers are worked out by hand, one rule or two in each."""

PARTS = ("worth", "cost", "honey", "burden", "substitutes", "opened")
FAR, HOME = 1, 0
BROOD = {"comb": 0, "brood": [400, 1000], "sealed": [0, 1000], "stores": [0, 1000], "drawn": [0, 1000]}
FOUNDATION = {**BROOD, "brood": [0, 1000], "drawn": [0, 0]}
EMPTY = {**BROOD, "brood": [0, 0], "drawn": [900, 1000]}


def frame(count, bees, brood=500, sealed=0, drawn=1000, queen=False):
    shares = {"brood": brood, "sealed": sealed, "stores": 0, "drawn": drawn}
    return {"count": count, "comb": 0, "bees": bees, "queen": queen, **shares}


def spare(count, drawn):
    return {"count": count, "frame": frame(1, 0, brood=0, drawn=drawn)}


def colony(name, frames, extra_bees, **others):
    basis = {"site": HOME, "hold": None, "crop": None, "keep": {}, "draw": {}, "rides": 50}
    return {"name": name, "frames": frames, "extra_bees": extra_bees, **basis, **others}


def line(ask, *substitutes):
    return {"count": 1, "ask": ask, "substitutes": [{"ask": other, "feed": 0} for other in substitutes]}


def box(count, bees, *lines, site=FAR, worth=1000, compartments=1, whole=False):
    where = {"site": site, "worth": worth, "compartments": compartments, "whole": whole}
    return {"count": count, "bees": bees, "lines": list(lines), **where}


def decision(colonies, boxes, store_room=(), **others):
    return {
        "combs": [{"name": "a", "bees": 20, "cells": 8000, "stores": 2000}], "distances": [[0, 5000], [5000, 0]],
        "colonies": colonies, "store_room": list(store_room), "boxes": boxes, "cells": None,
        "drift": {"homing_metres": 3000, "flying": 30}, "honey_cap": None, **others,
    }  # fmt: skip


def nucleus(**others):
    """150 hundreds of bees and 20,000 brood cells: five frames of 4000 cells and 21 hundreds."""
    return colony("nucleus", [frame(4, 21), frame(1, 21, queen=True)], 45, **others)


def worked_example():
    """The one in docs/model.md: two frames leave, 22 to 42 hundreds ride, 40 are needed. Burden
    40 + 20, cost 5 * 60 + 20."""
    return decision([nucleus()], [box(2, 2000, line(BROOD))]), (2000, 320, 0, 60, 0, 1)


def all_ride():
    """All 21 ride on each frame, and 41 may leave: one compartment. 14 % of the bees, 20 % of the cells."""
    data = decision([nucleus(rides=100, keep={"bees": 109})], [box(2, 2000, line(BROOD))])
    return data, (1000, 120, 0, 20, 0, 1)


def two_colonies():
    """The nucleus has three brood frames to spare and must keep two frames' brood, the queen's among
    them, so two leave; the producer gives one at most. A compartment at home needs 10 hundreds
    for 700 bees that stay, one away 7; there are cells for three, one of them for away alone. Away is
    worth more: two away and one at home, 24 hundreds. The nucleus gives 20 at most; from the producer at
    least 4 ride. Its frame has 4000 sealed cells at 510 mg for 1000: 2.04 g, charged 3; a hundred of its
    bees at 25,000 mg for 1000: 2.5 g, charged 3. So honey is 3 + 4 * 3 = 15. Of the nucleus 50 % of the
    cells leave (and 48 % of the bees): 50 + 30 + 10 = 90. Of the producer 34 %: 34 + 14 = 48."""
    nuc = colony("nucleus", [frame(3, 8), frame(1, 8, queen=True)], 10, keep={"brood": 1000, "bees": 22})
    producer = colony(
        "producer", [frame(2, 8, sealed=500), frame(1, 8, sealed=500, queen=True)], 10,
        draw={"frames": 1}, rates={"bees": 25_000, "sealed": 510, "open": 9, "stores": True},
    )  # fmt: skip
    sick = colony("sick", [frame(9, 20)], 99, hold="foulbrood")
    lines = line(BROOD), line(FOUNDATION)
    boxes = [box(1, 700, *lines, site=HOME, worth=900, compartments=2), box(1, 700, *lines, compartments=2)]
    cells = [{"count": 1, "boxes": [1]}, {"count": 2, "boxes": []}]
    data = decision([nuc, producer, sick], boxes, [spare(4, 0)], cells=cells)
    return data, (2900, 15 + 5 * 138 + 2 * 20, 15, 138, 0, 2)


def beside_frames(**others):
    """10 hundreds on each of two frames, 10 with the queen and 45 beside them."""
    one = colony("one", [frame(2, 10), frame(1, 10, queen=True)], 45, **others)
    return decision([one], [box(2, 1500, line(BROOD))])


def bees_beside_frames_stay():
    """20 hundreds can be taken: one compartment. 20 % of the bees, 34 % of the cells: 34 + 14."""
    return beside_frames(), (1000, 5 * 48 + 20, 0, 48, 0, 1)


def bees_beside_frames_taken_apart():
    """All 75 can be taken: two compartments, and no burden."""
    return beside_frames(apart=True), (2000, 20, 0, 0, 0, 1)


def covered(bees, fewest):
    """Three frames full of brood, 60 hundreds to cover them; one may leave with its bees."""
    frames = [frame(2, 20, brood=1000), frame(1, bees - 40, brood=1000, queen=True)]
    one = colony("one", frames, 0, keep={"covered": 100})
    return decision([one], [box(1, fewest, line(BROOD))])


def covered_just():
    """60 hundreds: one frame with its 20 leaves 40 for 40. 34 % of bees and cells: 34 + 14."""
    return covered(60, 2000), (1000, 5 * 48 + 20, 0, 48, 0, 1)


def covered_not():
    """21 would leave 39 for 40."""
    return covered(60, 2100), (0, 0, 0, 0, 0, 0)


def covered_as_before():
    """50 for 60: what stays has to be 34 for 40 at least, so 16 may leave. 34 % of the cells."""
    return covered(50, 1600), (1000, 5 * 48 + 20, 0, 48, 0, 1)


def covered_worse():
    """17 would leave 33 for 40, which is less than 50 for 60."""
    return covered(50, 1700), (0, 0, 0, 0, 0, 0)


def below_a_floor():
    """Short of bees, it gives neither bees nor the brood they ride on, but an empty comb; the nucleus its brood, 11 hundreds of
    bees and 20 % of its cells. Two opened."""
    weak = colony("weak", [frame(1, 10), frame(1, 0, brood=0)], 0, keep={"bees": 11})
    return decision([weak, nucleus()], [box(2, 0, line(BROOD), line(EMPTY))]), (1000, 5 * 20 + 40, 0, 20, 0, 2)


def loose(rides, expected):
    """One box with brood and one without, 1000 bees each, and 20 hundreds that may leave."""
    one = colony("one", [frame(1, 30), frame(9, 0, queen=True)], 70, rides=rides, draw={"bees": 20})
    boxes = [box(1, 1000, line(BROOD), worth=1100), box(1, 1000, line(FOUNDATION))]
    return decision([one], boxes, [spare(1, 0)]), expected


def loose_too_few():
    """15 ride, so 5 loose ones are left for the box without: 15 % of 100 hundreds, 10 % of the cells."""
    return loose(50, (1100, 5 * 15 + 20, 0, 15, 0, 1))


def loose_enough():
    """10 ride (33 % of 30, rounded up) and 10 are loose: 20 %."""
    return loose(33, (2100, 5 * 20 + 20, 0, 20, 0, 1))


def near_the_hive():
    """70 of a hundred stay: 29 hundreds for 2000 bees, 20 % of 150 (19.3 rounded up); 20 % of the cells."""
    return decision([nucleus()], [box(1, 2000, line(BROOD), site=HOME)]), (1000, 5 * 20 + 20, 0, 20, 0, 1)


def substitutes():
    """One empty comb on the shelf, foundation for the other two, which is second choice: 2 * 50. Bees are
    not asked for; half of the 21 ride: 33 hundreds, 22 %. 60 % of the cells: 60 + 40 + 20."""
    boxes = [box(3, 0, line(BROOD), line(EMPTY, FOUNDATION))]
    return decision([nucleus()], boxes, [spare(1, 1000), spare(9, 0)]), (3000, 5 * 120 + 2 * 50 + 20, 0, 120, 2, 1)


def taken_apart():
    """No burden, and prices of the scenario's own: three frames, one opened."""
    prices = {"burden": 7, "substitute": 0, "opened": 33}
    return decision([nucleus(apart=True)], [box(3, 0, line(BROOD))], prices=prices), (3000, 33, 0, 0, 0, 1)


def whole_boxes():
    """Two boxes of two compartments could take all four frames without the queen; brood of two frames has
    to stay, hers among them, so three could leave: one box whole."""
    boxes = [box(2, 0, line(BROOD), compartments=2, whole=True)]
    return decision([nucleus(keep={"brood": 1000})], boxes), (2000, 5 * 60 + 20, 0, 60, 0, 1)


def two_like_nuclei(**others):
    return decision([nucleus(), nucleus()], [box(2, 0, line(BROOD))], **others)


def from_each():
    """One frame of each: twice 20 and twice opened, 240; two of one would be 60 and once opened, 320."""
    return two_like_nuclei(), (2000, 2 * (5 * 20 + 20), 0, 40, 0, 2)


def wished():
    """Two frames of the second are wished for."""
    return two_like_nuclei(gives=[{"colony": 1, "group": 0, "frames": 2}]), (2000, 320, 0, 60, 0, 1)


def wished_too_many():
    """There are boxes for two alone."""
    return two_like_nuclei(gives=[{"colony": 1, "group": None, "frames": 3}]), None


def wished_of_the_queen():
    return two_like_nuclei(gives=[{"colony": 0, "group": 1, "frames": 1}]), None


def at_most_one():
    return two_like_nuclei(most={"compartments": 1}), (1000, 120, 0, 20, 0, 1)


def at_most_worth():
    return two_like_nuclei(most={"worth": 1999}), (1000, 120, 0, 20, 0, 1)


def honey_caps():
    """A hundred bees cost 3 g, a frame 0: 11 ride on each, 33 g. The colony's cap allows one frame, all
    colonies' cap two of three."""
    rates = {"bees": 30_000, "sealed": 0, "open": 0, "stores": True}
    capped = nucleus(rates=rates, draw={"honey": 65})
    data = decision([capped, nucleus(rates=rates), nucleus(rates=rates)], [box(3, 0, line(BROOD))], honey_cap=98)
    return data, (2000, 2 * (33 + 100 + 20), 66, 40, 0, 2)


def standing(bees, brood, **others):
    """A box of two that is stocked whole or not at all; bees stand in the first compartment, on a comb of so much brood."""
    held = frame(1, 0, brood=brood)
    stands = {"box": 0, "number": 0, "frames": [held], "extra_bees": bees, "next_cell": True, **others}
    new = box(1, 2000, line(BROOD), compartments=2, whole=True)
    again = {"lines": [line(BROOD), line(EMPTY)], "bees": 1000}
    shelf = [spare(1, 1000)]
    return decision([nucleus()], [{**new, "again": again}], shelf, standing=[stands])


def next_cell_beside_a_new_one():
    """Ten hundreds and 50 % brood stand: an empty comb is lacking, off the shelf. The other compartment takes a frame and
    20 hundreds, of which all 21 on it may ride: 14 % and 20 %, burden 20."""
    return standing(10, 500), (2000, 120, 0, 20, 0, 1)


def next_cell_with_brood():
    """10 % brood is no brood, so that a frame is lacking, and an empty comb; bees are enough. Two frames leave, 22
    hundreds ride at least, enough for 2000 bees: 40 % of the cells, burden 60."""
    return standing(10, 100), (2000, 320, 0, 60, 0, 1)


def left_alone():
    """It wants no cell: one compartment is stocked in part of a box."""
    return standing(10, 500, next_cell=False), (1000, 120, 0, 20, 0, 1)


KNOWN = (
    worked_example, all_ride, two_colonies, bees_beside_frames_stay, bees_beside_frames_taken_apart,
    covered_just, covered_not, covered_as_before, covered_worse, below_a_floor, loose_too_few, loose_enough, near_the_hive, substitutes, taken_apart, whole_boxes, from_each, wished,
    wished_too_many, wished_of_the_queen, at_most_one, at_most_worth, honey_caps,
    next_cell_beside_a_new_one, next_cell_with_brood, left_alone,
)  # fmt: skip
