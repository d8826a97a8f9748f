"""What a colony is charged for what it gives, worked out again from docs/honey.md."""

import math

OPEN, SEALED = 9, 12  # days as egg and larva, and sealed


def share_of(share, whole):
    """`share` thousandths of `whole`, rounded half up."""
    return (share * whole + 500) // 1000


def up(value, by):
    """The quotient, rounded up."""
    return -(-value // by)


def share_of_the_year(day):
    """Laying on a day of the year, as a share of the most."""
    not_yet = 1 - 1 / (1 + 385 * math.exp(-2 * day / 30))
    return 1 - max(not_yet, 1 / (1 + 36 * math.exp(-2 * (day - 155) / 30)))


def season(counted, later):
    """Laying so many days after the count against that on its day, at most 2."""
    share = lambda after: share_of_the_year((counted + after - later - 1) % 365 + 1)
    return lambda after: 1.0 if after == 0 or share(0) == 0 else min(2.0, share(after) / share(0))


def forager_days(house, foragers, brood, m, laying, start, end):
    """Foragers summed over the days start..end, both inclusive; day 0 is the stocking day. `laying` says how
    much is laid, by day and bees."""
    total, brood = 0.0, list(brood)
    start, end = max(0, start), min(365, end)
    for day in range(end + 1 if start <= end else 0):
        if day >= start:
            total += foragers
        if day < end:
            bees = house + foragers
            recruited = house * (0.25 - 0.75 * foragers / bees) if bees > 0 else 0.0
            eggs = laying(day, bees) if bees > 0 else 0.0
            emerging = brood.pop()
            brood.insert(0, eggs)
            house = max(0.0, house + emerging - recruited)
            foragers = max(0.0, foragers + recruited - m * foragers)
    return total


def whole(combs, colony):
    """Bees, sealed and open cells of a colony, those with the queen included."""
    have = {"bees": 100 * colony["extra_bees"], "sealed": 0, "open": 0}
    for frame in colony["frames"]:
        cells = combs[frame["comb"]]["cells"]
        sealed = share_of(frame["sealed"], cells)
        have["bees"] += frame["count"] * 100 * frame["bees"]
        have["sealed"] += frame["count"] * sealed
        have["open"] += frame["count"] * (share_of(frame["brood"], cells) - sealed)
    return have


def rates(combs, colony, mortality=154, year=None):
    """Milligrams for 1000 bees, sealed cells and open cells; zero without a crop. `year` is the day of the year
    and by how many days the year runs later; None knows no season."""
    got = {"bees": 0, "sealed": 0, "open": 0, "stores": bool(colony["crop"])}
    if not colony["crop"]:
        return got
    have, m, crop = whole(combs, colony), mortality / 1000.0, colony["crop"]
    b = m + 0.75 - 0.25
    ratio = 2.0 * 0.25 / (b + math.sqrt(b * b + 4.0 * m * 0.25))  # foragers for each house bee

    laid = (have["open"] + have["sealed"]) / (OPEN + SEALED)
    queen = laid * (10000.0 + have["bees"]) / have["bees"] if laid and have["bees"] else 2000.0
    ratio_of = season(*year) if year else lambda day: 1.0

    def laying(day, bees):
        return min(2000.0, queen * ratio_of(day) * bees / (10000.0 + bees))

    def days(**left):
        part = {what: left.get(what, 1.0) for what in have}
        house = have["bees"] / (1.0 + ratio)
        brood = [have["open"] / OPEN * part["open"]] * OPEN + [have["sealed"] / SEALED * part["sealed"]] * SEALED
        foragers = (have["bees"] - house) * part["bees"]
        return forager_days(house * part["bees"], foragers, brood, m, laying, crop["from"], crop["to"])

    without = days()
    for what, there in have.items():
        taken = min(there, 1000)
        if taken > 0 and without > 0:
            lost = min(1.0, max(0.0, 1.0 - days(**{what: 1.0 - taken / there}) / without))
            grams = lost * crop["honey"] * 1000.0 / taken
            got[what] = max(0, math.ceil((grams - 1e-6) * 1000.0))
    return got


def frame_charge(comb, frame, rate):
    """Grams for a frame without its bees."""
    sealed = share_of(frame["sealed"], comb["cells"])
    opened = share_of(frame["brood"], comb["cells"]) - sealed
    stores = share_of(frame["stores"], comb["stores"]) if rate["stores"] else 0
    return stores + up(sealed * rate["sealed"] + opened * rate["open"], 1_000_000)


def hundred_charge(rate):
    """Grams for a hundred bees."""
    return up(rate["bees"], 10_000)
