"""Reads the page of `share` with the parser html5lib in its strict mode, and sets what it shows beside the plan in JSON: nothing
of the program is used, so that a figure that is drawn, listed or labelled otherwise than it is planned is found."""

import datetime
import re

import html5lib

SPACE = "{http://www.w3.org/1999/xhtml}"


class Page:
    """A page as a tree, with its parts by class."""

    def __init__(self, text):
        self.tree = html5lib.HTMLParser(strict=True).parse(text)

    def all(self, name, tree=None):
        """Elements of a class, or of a tag in angle brackets."""
        tree = self.tree if tree is None else tree
        if name.startswith("<"):
            return [e for e in tree.iter() if e.tag == SPACE + name.strip("<>")]
        return [e for e in tree.iter() if name in (e.get("class") or "").split()]


def said(element):
    """All text in it."""
    return " ".join("".join(element.itertext()).split())


def labels(plan):
    """The short names of compartments, as docs/share.md has them."""
    kinds = plan["headline"]["kinds"]
    single = {k["box_kind"] for k in kinds if k["compartments_in_all"] == k["boxes_in_all"]}
    touched = plan["compartments"] + plan.get("begun", [])
    used = [k["box_kind"] for k in kinds if any(c["box_kind"] == k["box_kind"] for c in touched)]
    several = 1 < len(used) <= 26

    def label(place):
        kind = place["box_kind"]
        letter = chr(ord("A") + used.index(kind)) if several and kind in used else ""
        inside = "" if kind in single else f".{place['compartment']}"
        return f"{letter}{place['box_no']}{inside}"

    return label


def place(of):
    return of["box_kind"], of["box_no"], of["compartment"]


def figures(page, plan):
    """The three figures that lead it."""
    head = plan["headline"]
    shown = [said(dd) for dd in page.all("<dd>", page.all("figs")[0])]
    left = head.get("compartments_standing", 0) - head.get("next_cells_wanted", 0)
    wanted = f"{head['compartments_stocked']} of {head['compartments_in_all'] - left}"
    assert shown[0] == wanted, (shown, wanted)
    grams = head["honey_given_up_g"]
    assert shown[1] == ("–" if grams is None else f"{grams / 1000:.2f} kg"), shown
    opened = head["colonies_opened"] + head.get("colonies_opened_for_queens", 0)
    assert shown[2].startswith(f"{opened} of "), shown


def colonies(page, plan, label):
    """Every frame of every hive that is opened: where it goes, what stays, what fills the gap."""
    drawn, sheets = page.all("colony"), page.all("sheet")
    assert len(drawn) == len(sheets) == len(plan["colonies"])
    by_name = {c["colony"]: c for c in plan["colonies"]}
    for hive in drawn:
        name = page.all("name", hive)[0].get("title")
        colony = by_name[name]
        goes = [label(to) for l in colony["leaving"] for to in l["goes_to"] for _ in range(to["frames"])]
        up = [said(page.all("<b>", slot)[0]) for slot in page.all("up", hive)]
        assert sorted(up) == sorted(goes), (name, up, goes)
        done = (colony.get("done") or {}).get("frames", 0)
        stay = colony["frames_before"] - done - len(goes)
        assert len(page.all("stay", hive)) == stay, name
        fill = sum(f["frames"] for f in colony.get("gaps_filled_with", []))
        assert len(page.all("ghost", hive)) == fill, name
    for sheet in sheets:
        colony = by_name[sheet.get("data-name")]
        frames = 0
        rows = [row for row in page.all("do", sheet) if page.all("comb", row)]
        for row in rows:
            text = said(page.all("<b>", page.all("tx", row)[0])[0])
            if "from the store room" not in text:
                frames += int(text.split()[0])
        assert frames == sum(l["frames"] for l in colony["leaving"]), (sheet.get("data-name"), frames)
        into = {said(span).split()[0] for dest in page.all("dest", sheet) for span in dest if span.tag == SPACE + "span"}
        to = [label(to) for l in colony["leaving"] for to in l["goes_to"]]
        to += [label(lot) for lot in colony.get("adding", [])]
        assert into == set(to), (into, to)
        bees = next(said(row) for row in page.all("<tr>", page.all("keep", sheet)[0]) if said(row).startswith("Bees"))
        level = colony["bees"]
        assert f"{level['before']:,.0f} → {level['after']:,.0f}" in bees, (bees, level)


def boxes(page, plan, label):
    """Every frame of every compartment, and what is in already; bees to add; labels."""
    touched = plan["compartments"] + plan.get("begun", [])
    halves = {int(h.get("data-half")): h for h in page.all("half") if h.get("data-half")}
    assert sorted(halves) == list(range(len(touched)))
    for at, c in enumerate(touched):
        half = halves[at]
        assert said(page.all("num", half)[0]) == label(c)
        names = [(f.get("colony") or "store", f.get("done", 0), f["frames"]) for f in c["frames"]]
        there = (c.get("stands") or {}).get("frames", [])
        wanted = ["there" for g in there for _ in range(g["frames"] - g.get("out", 0))]
        wanted += [name for name, _, frames in names for _ in range(frames)]
        drawn = page.all("fr", half)
        assert [said(f) for f in drawn] == wanted, (label(c), wanted)
        there = wanted.count("there") + sum(done for _, done, _ in names)
        assert len(page.all("isin", half)) == there, label(c)
        lots = [lot for d in plan["colonies"] for lot in d.get("adding", []) if place(lot) == place(c)]
        assert len(page.all("plus", half)) == len(lots), label(c)
    told = [said(e) for e in page.all("lno")]
    assert sorted(told) == sorted(label(c) for c in plan["compartments"] if c.get("done") != "finished")


def ready(page, plan):
    """All that comes out of the store room is to be had ready somewhere, once."""
    shown = sum(int(said(page.all("qty", item)[0])) for item in page.all("store") if item.tag == SPACE + "li")
    boxes = sum(
        f["frames"] - f.get("done", 0)
        for c in plan["compartments"]
        if c.get("done") != "finished"
        for f in c["frames"]
        if not f.get("colony")
    )
    gaps = sum(f["frames"] for c in plan["colonies"] for f in c.get("gaps_filled_with", []))
    assert shown == boxes + gaps, (shown, boxes, gaps)


def written(day):
    """A day as the page has it."""
    day = datetime.date.fromisoformat(day)
    return f"{day:%a} {day.day} {day:%B}"


def season(page, found):
    """Every figure of the season, what is drawn of it, and what is told in its tables."""
    part = next(e for e in page.all("season") if e.get("id") == "season")
    head = found["headline"]
    shown = [said(dd) for dd in page.all("<dd>", page.all("sfig", part)[0])]
    assert shown[0].split()[0] == str(head["stock_today"]) == str(found["plan"]["headline"]["compartments_stocked"])
    span = sorted({head["queens_least"], head["queens_most"]})
    assert shown[1] == f"{head['queens']} {' to '.join(map(str, span))} in 8 of 10 seasons", shown
    assert shown[2] == written(head["look_again"]), shown
    more = [re.match(r"At most (\d+) more|No season on these counts gives more|All that is wanted is met", said(p)) for p in page.all("proof", part)]
    more = next(match for match in more if match)
    assert (more[0][0] == "A" and more[1] is None) == (head["first_unmet"] is None), more
    assert head["first_unmet"] is None or int(more[1] or 0) == head["at_most_more"], more
    wants = page.all("<li>", page.all("wants", part)[0])
    for item, want in zip(wants, found["wants"], strict=True):
        met = said(page.all("<b>", item)[0])
        whole = want["asked"] is not None and want["met"] >= want["asked"]
        assert met == (("met" if want["asked"] == 1 else "all") if whole else str(want["met"])), (met, want)
    lanes(page, part, found)
    lots(page, part, found)
    steps = [(int(said(q)), said(r)) for q, r in zip(page.all("qn", part), page.all("qr2", part), strict=True)]
    wanted = []
    for row in found["queens"]:
        span = sorted({row["queens_least"], row["queens_most"]})
        step = (row["queens"], " to ".join(map(str, span)))
        if (not wanted and row["queens_most"]) or (wanted and wanted[-1] != step):
            wanted.append(step)
    assert steps == wanted, (steps, wanted)
    told = {said(page.all("<caption>", table)[0]): table for table in page.all("<table>", part)}
    rows = lambda name: [[said(cell) for cell in row] for row in page.all("<tr>", told[name])[1:]]
    by_day = [[str(row[key]) for key in ("cells", "queens", "used")] for row in found["queens"]]
    assert [[row[1], row[2], row[4]] for row in rows("Queens by day (outlook)")] == by_day
    against = found["today_against_the_season"]
    column = 1 + (len(found["wants"]) if len(found["wants"]) > 1 else 0)
    shown = [(row[0].removesuffix(" <"), row[column]) for row in rows("Today against the season (outlook)")]
    assert shown == [(str(row["cells_today"]), str(row["queens"])) for row in against]
    assert page.all("tosea") and str(head["queens"]) in said(page.all("tosea")[0]).split()


def gives(round):
    return round["brood_combs"] or round["bees_given"]


def lanes(page, part, found):
    """A lane for each colony that gives: its combs by number, and its line of brood from week to week."""
    giving = [c for c in found["colonies"] if any(map(gives, c["rounds"]))]
    drawn = page.all("co", part)
    if not drawn:
        assert not giving
        return
    of_class = lambda name, tree: next(e for e in tree.iter() if name in (e.get("class") or "").split())
    days = float(next(e for e in drawn[0].iter() if e.get("viewBox")).get("viewBox").split()[2])
    place = float(re.search(r"left:([0-9.]+)%", of_class("now", page.all("marks", part)[0]).get("style"))[1])
    today, first = place * days / 100, datetime.date.fromisoformat(found["day"])
    after = lambda day: (datetime.date.fromisoformat(day) - first).days
    figures = [c[key] for c in giving for key in ("brood_frames_by_week", "brood_frames_by_week_undrawn")]
    figures += [[r["brood_frames"], r["brood_frames_undrawn"]] for c in giving for r in c["rounds"]]
    most = max(b for own in figures for b in own)
    for shown, colony in zip(drawn, giving, strict=True):
        assert page.all("nm", shown)[0].get("title") == colony["colony"]
        marks, rounds = page.all("gv", shown), list(filter(gives, colony["rounds"]))
        assert [said(b) for b in marks] == [str(r["brood_combs"] or "") for r in rounds], colony["colony"]
        assert ["out" in b.get("class").split() for b in marks] == [r["day"] != found["day"] for r in rounds]
        path = of_class("br", shown).get("d")
        line = [tuple(map(float, point.split())) for point in re.split("[ML]", path)[1:]]
        known = [(after(r["day"]), r["brood_frames"]) for r in colony["rounds"]]
        known += [(after(r["day"]), r["brood_frames"] - r["brood_frames_given"]) for r in rounds]
        known += zip(map(after, found["weeks"]), colony["brood_frames_by_week"], strict=True)
        for day, frames in known:
            y = 0.82 * 40 - 0.76 * 40 * frames / most
            near = [at for x, at in line if abs(x - today - day) < 0.11]
            assert any(abs(y - at) < 0.11 for at in near), (colony["colony"], day, frames, near, y)


def lots(page, part, found):
    """Lots of compartments: in each round as many are stocked anew, and get a next cell, as are planned."""
    table = next(t for t in page.all("<table>", part) if said(page.all("<caption>", t)[0]).startswith("Compartments"))
    rows = [[said(cell) for cell in row] for row in page.all("<tr>", table)[1:]]
    drawn = [int(said(page.all("nm", lane)[0]).split()[0]) for lane in page.all("bo", part)]
    assert drawn == [int(count) for _, count, _ in rows]
    for round in found["rounds"]:
        for what, counts in (("stocked", round["new"]), ("next cell", round["next"]), ("made on", round.get("nuclei_in", []))):
            day = f"{datetime.date.fromisoformat(round['day']):%a} {round['day']}"
            for count in counts:
                of = [int(n) for kind, n, says in rows if kind == count["box_kind"] and f"{what} {day}" in says]
                assert sum(of) == count["compartments"], (round["day"], what, of, count)


def compare(text, plan, found=None):
    """All of it; nothing where no plan was found."""
    page = Page(text)
    if found:
        season(page, found)
    label = labels(plan)
    figures(page, plan)
    colonies(page, plan, label)
    boxes(page, plan, label)
    ready(page, plan)
