"""A yard of scripts/yard.py in the scenario format, version 2."""

import datetime

DAY = datetime.date(2031, 5, 20)
SHARES = ("brood", "sealed", "stores", "drawn")
PRICES = {"burden": "burden", "substitute": "substitute", "opened": "hive opened"}


def decimal(milli):
    return f"{milli / 1000:.3f}".rstrip("0").rstrip(".")


def percent(milli):
    return f"{decimal(100 * milli)} %"


def flow_map(pairs):
    """A map in braces without the keys that have no value."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in pairs if value is not None) + "}"


def back(part, whole):
    """The share in thousandths of which the part is that of the whole, rounded half up."""
    return (2000 * part + whole) // (2 * whole) if whole else 0


def frame_text(combs, frame, count, spare=False, give=None):
    comb = combs[frame["comb"]]
    # What is not said is no stores, and all drawn.
    stores = decimal(frame["stores"]) if frame["stores"] else None
    drawn = decimal(frame["drawn"]) if frame["drawn"] != 1000 else None
    pairs = [("count", count), ("comb", comb["name"]), ("stores", stores), ("drawn", drawn)]
    if not spare:
        if frame["brood"]:
            pairs += [("brood", decimal(frame["brood"])), ("sealed", decimal(back(frame["sealed"], frame["brood"])))]
        pairs += [("bees", decimal(back(frame["bees"], comb["bees"]))), ("queen", "yes" if frame["queen"] else None)]
    return flow_map([*pairs, ("give", give)])


def span_pair(what, span):
    least, most = span
    if what == "brood" and most == 0:
        return ("no brood", "yes")
    if most == 1000:
        return (what, percent(least)) if least else None
    return (what, f"{percent(least)} to {percent(most)}")


def ask_pairs(combs, ask):
    comb = ("comb", combs[ask["comb"]]["name"])
    if ask["drawn"][1] == 0:
        return [comb, ("foundation", "yes")]
    return [comb, *filter(None, (span_pair(what, ask[what]) for what in SHARES))]


def line_text(combs, line):
    subs = [flow_map([*ask_pairs(combs, s["ask"]), ("feed", f"{s['feed']} g")]) for s in line["substitutes"]]
    pairs = [("name", line["name"]), ("count", line["count"]), *ask_pairs(combs, line["ask"])]
    return flow_map([*pairs, ("or", f"[{', '.join(subs)}]" if subs else None)])


def limits_text(colony):
    draw, keep = colony["draw"], colony["keep"]
    if colony["apart"]:
        yield "    draw: all"
    else:
        floors = [("brood", decimal(keep["brood"])), ("bees", 100 * keep["bees"])]
        floors += [("stores", f"{keep['stores']} g"), ("drawn", decimal(keep["drawn"]))]
        yield f"    keep: {flow_map([*floors, ('covered', f'''{keep['covered']} %''')])}"
    caps = [("frames", draw["frames"]), ("brood", None if draw["brood"] is None else decimal(draw["brood"]))]
    caps.append(("bees", None if draw["bees"] is None else 100 * draw["bees"]))
    caps.append(("honey", None if draw["honey"] is None else f"{draw['honey']} g"))
    if any(value is not None for _, value in caps):
        yield f"    draw: {flow_map(caps)}"


def colony_text(data, colony, wishes):
    out = [f"  {colony['name']}:", f"    site: {data['sites'][colony['site']]}", f"    role: {colony['role']}"]
    if colony["hold"]:
        out.append(f"    hold: {colony['hold']}")
    if colony["crop"]:
        days = [DAY + datetime.timedelta(days=colony["crop"][end]) for end in ("from", "to")]
        out += [f"    crop: {colony['crop']['honey']} g", f"    flow: [{days[0]}, {days[1]}]"]
    if None in wishes:
        out.append(f"    give: {wishes[None]}")
    out.append("    frames:")
    for index, frame in enumerate(colony["frames"]):
        out.append(f"      - {frame_text(data['combs'], frame, frame['count'], give=wishes.get(index))}")
    out += [f"    extra bees: {100 * colony['extra_bees']}", f"    rides: {colony['rides']} %"]
    return out + list(limits_text(colony))


def settings_text(data):
    yield "settings:"
    yield f"  homing distance: {data['drift']['homing_metres']} m"
    yield f"  flying share: {data['drift']['flying']} %"
    yield f"  prices: {flow_map((key, f'''{data['prices'][what]} g''') for what, key in PRICES.items())}"
    if data["honey_cap"] is not None:
        yield f"  honey cap: {data['honey_cap']} g"


def boxes_text(data):
    yield "recipes:"
    for box in data["boxes"]:
        yield from (f"  {box['name']}:", f"    bees: {box['bees']} bees", "    lines:")
        yield from (f"      - {line_text(data['combs'], line)}" for line in box["lines"])
    yield "boxes:"
    for box in data["boxes"]:
        pairs = [("count", box["count"]), ("compartments", box["compartments"]), ("site", data["sites"][box["site"]])]
        pairs += [("recipe", box["name"]), ("worth", decimal(box["worth"])), ("whole", "yes" if box["whole"] else "no")]
        yield f"  {box['name']}: {flow_map(pairs)}"


def scenario(data):
    """The whole file."""
    out = ["spareframe: 2", f"title: A yard of {len(data['colonies'])} colonies", f"day: {DAY}", *settings_text(data)]
    out.append("combs:")
    for comb in data["combs"]:
        figures = [("bees", 100 * comb["bees"]), ("cells", comb["cells"]), ("stores", f"{comb['stores']} g")]
        out.append(f"  {comb['name']}: {flow_map(figures)}")
    out += ["sites:", *(f"  {site}:" for site in data["sites"])]
    if len(data["sites"]) > 1:
        out.append("distances:")
    for a, row in enumerate(data["distances"]):
        for b in range(a):
            out.append("  - " + flow_map([("from", data["sites"][b]), ("to", data["sites"][a]), ("is", f"{row[b]} m")]))
    # No limits of a role: each colony states its own.
    out += ["roles:", "  production: {keep: {bees: 0}}", "  nucleus: {keep: {bees: 0}}", "colonies:"]
    wishes = {}
    for give in data["gives"]:
        wishes.setdefault(give["colony"], {})[give["group"]] = give["frames"]
    for index, colony in enumerate(data["colonies"]):
        out += colony_text(data, colony, wishes.get(index, {}))
    if data["store_room"]:
        out.append("store room:")
    for spare in data["store_room"]:
        out.append(f"  - {frame_text(data['combs'], spare['frame'], spare['count'], spare=True)}")
    out += boxes_text(data)
    if data["cells"] is not None:
        out.append("cells:")
        for batch in data["cells"]:
            names = [data["boxes"][k]["name"] for k in batch["boxes"]]
            pairs = [("count", batch["count"]), ("for", f"[{', '.join(names)}]" if names else None)]
            out.append("  - " + flow_map(pairs))
    return "\n".join(out) + "\n"
