#!/usr/bin/env python3
"""Reads what `share`, `calendar` and `inspect --table` write with readers that are not ours: the calendar with
the package icalendar, the tables with the spreadsheet Gnumeric (ssconvert) and openpyxl, the page with the
parser html5lib in its strict mode, every figure of it beside the plan in JSON. Also with names that try to break out of
each format, and the page of a hundred yards of every kind (yard.py).

read_shared.py PROGRAM SCENARIO...
"""

import datetime
import html.parser
import json
import subprocess
import sys
import tempfile
import warnings
from pathlib import Path

import icalendar
import openpyxl

import read_page
import yard

YARDS = 100

NASTY = [
    '=cmd|"/C calc"!A0',
    "@SUM(1+1)",
    "</script><script>alert(1)</script>",
    '<img src=x onerror="alert(1)">',
    "BEGIN:VEVENT; x, y\\n\\,z",
    "-2+3",
    "Königin 女王 " + "ü" * 90,
]


def scenario_of(names):
    """A scenario in which each name stands in a place of its own."""
    title, colony, box, site, place, line, recipe = map(json.dumps, names)
    return f"""
spareframe: 2
title: {title}
day: 2031-05-20
sites: {{{site}: {{at: [48.1, 11.5]}}, far: {{at: [48.2, 11.6]}}}}
colonies:
  {colony}:
    site: {site}
    role: nucleus
    frames:
      - {{count: 6, place: {place}, brood: 60 %, stores: 20 %}}
      - {{count: 4, stores: 80 %}}
    extra bees: 20000
recipes: {{{recipe}: {{lines: [{{name: {line}, brood: 30 %}}], bees: 500}}}}
boxes: {{{box}: {{count: 2, site: far, recipe: {recipe}, keeps queen: 3 weeks}}}}
"""


def run(program, *args):
    done = subprocess.run([program, *args], capture_output=True, check=False)
    assert done.returncode in (0, 1), (args, done.stderr.decode())
    return done.stdout


def season_of(program, scenario):
    """The season of a scenario that has one today."""
    if "\nseason:" not in Path(scenario).read_text(encoding="utf-8"):
        return None
    return json.loads(run(program, "season", scenario, "-q", "--format", "json"))


def outlook(program, scenario, events):
    """Days of later rounds, each said to be an outlook; those of `season` with the same ids."""
    found = season_of(program, scenario)
    own = {str(event["UID"]): event for event in events if str(event["UID"]).startswith("season-")}
    if not found:
        assert not own, own
        return
    alone = icalendar.Calendar.from_ical(run(program, "season", scenario, "-q", "--format", "ics"))
    alone = {str(event["UID"]): event for event in alone.walk("VEVENT")}
    assert set(own) <= set(alone), set(own) - set(alone)
    days = sorted(event["DTSTART"].dt.isoformat() for event in own.values())
    rounds = [r for r in found["rounds"] if r["outlook"] and r["cells"] + r["nuclei"]]
    wanted = [r["day"] for r in rounds]
    wanted += [r[key] for r in rounds if r["cells"] for key in ("graft", "cells_in", "usable_from")]
    if found["headline"]["next_round"]:
        wanted.append(found["headline"]["look_again"])
    if found.get("autumn"):
        wanted.append(found["autumn"]["unite_by"])
    assert days == sorted(wanted), (days, wanted)
    for uid, event in own.items():
        assert event["DTSTART"].dt == alone[uid]["DTSTART"].dt
        assert str(event["SUMMARY"]) == str(alone[uid]["SUMMARY"])
        assert "utlook" in str(event["SUMMARY"]) + str(event["DESCRIPTION"]), uid


def calendar(program, folder, scenario):
    """What is to be done is there, each once, on its days, with its id; a newer one has the same ids."""
    wanted = json.loads(run(program, "calendar", scenario, "-q", "--format", "json"))
    entries = {entry["id"]: entry for entry in wanted["entries"]}
    events = {}
    for revision in ("0", "7"):
        raw = run(program, "share", scenario, "-q", "--format", "ics", "--revision", revision)
        assert all(len(line) <= 75 for line in raw.split(b"\r\n")), "lines over 75 octets"
        read = icalendar.Calendar.from_ical(raw)
        assert read["VERSION"] == "2.0" and read["PRODID"]
        assert not read.errors, read.errors
        events[revision] = read.walk("VEVENT")
    first, newer = events["0"], events["7"]
    uids = [str(event["UID"]) for event in first]
    titles = [str(event["SUMMARY"]) for event in first]
    assert len(set(uids)) == len(uids)
    outlook(program, scenario, first)
    today = [title for uid, title in zip(uids, titles, strict=True) if not uid.startswith("season-")]
    assert len(set(today)) == len(today)
    assert uids == [str(event["UID"]) for event in newer]
    assert {int(event["SEQUENCE"]) for event in newer} == {7}
    for event, uid in zip(first, uids, strict=True):
        assert not event.errors, event.errors
        if uid.startswith("season-"):
            continue
        entry = entries[uid.split(".")[0]]
        assert entry["kind"] in ("work", "leave_closed"), entry["id"]
        start, end = event["DTSTART"].dt, event["DTEND"].dt
        assert type(start) is type(end) is datetime.date
        assert start.isoformat() == entry["first_day"]
        assert (end - datetime.timedelta(days=1)).isoformat() in (entry["first_day"], entry["last_day"])
        assert str(event["SUMMARY"]).startswith(entry["title"])
        assert (wanted["title"] or "") in str(event["SUMMARY"])
        assert str(event["DESCRIPTION"]).startswith(entry["detail"])
        assert str(event["DESCRIPTION"]).endswith(f"({entry['basis']})")
        alarms = event.walk("VALARM")
        assert len(alarms) == (entry["kind"] == "work"), entry["id"]
        for alarm in alarms:
            assert alarm["TRIGGER"].dt == datetime.timedelta(hours=-6)
    for id in ("graft", "stocking", "mating-flights", "first-look"):
        told = any(uid.startswith(id + ".") for uid in uids)
        assert told or id not in entries, id
    return len(first)


def sheet(folder, name, raw):
    """The cells of a table as a spreadsheet has them, none of them a formula."""
    csv, xlsx = Path(folder, name + ".csv"), Path(folder, name + ".xlsx")
    csv.write_bytes(raw)
    options = ["--import-type=Gnumeric_stf:stf_csvtab", "--import-encoding=UTF-8"]
    subprocess.run(["ssconvert", *options, csv, xlsx], capture_output=True, check=True)
    rows = list(openpyxl.load_workbook(xlsx).active.iter_rows())
    for row in rows:
        for cell in row:
            assert cell.data_type != "f", cell.value
    return [[cell.value for cell in row] for row in rows]


def tables(program, folder, scenario):
    """Frames and bees of the plan, and the colonies, cell by cell."""
    season = season_of(program, scenario)
    plan = season["plan"] if season else json.loads(run(program, "stock", scenario, "-q", "--format", "json"))
    cells = sheet(folder, "frames", run(program, "share", scenario, "-q", "--format", "csv"))
    head, *rows = cells
    number = {name: at for at, name in enumerate(head)}
    wanted = []
    for c in plan["compartments"] + plan.get("begun", []):
        for f in c["frames"]:
            wanted.append((f["frames"], None, f["each_holds"]["brood_share"]))
        for b in c["bees"]:
            wanted.append((None, b["bees"], None))
    columns = ["frames", "bees before drift", "brood (share of comb)"]
    # Next cells and queens have rows of their own.
    placed = [row for row in rows if row[number["row"]] in ("frames", "bees")]
    assert [tuple(row[number[c]] for c in columns) for row in placed] == wanted
    colonies = [f.get("colony") for c in plan["compartments"] for f in c["frames"] if f.get("colony")]
    shown = {str(row[number["from colony"]]).removeprefix("'") for row in rows}
    assert set(colonies) <= shown, (set(colonies), shown)
    table = run(program, "inspect", "-q", "--table", scenario)
    assert sheet(folder, "colonies", table)[0][0] == "colony"
    # What the spreadsheet saves again is the same scenario.
    again = Path(folder, "again.csv")
    subprocess.run(["ssconvert", Path(folder, "colonies.xlsx"), again], capture_output=True, check=True)
    kept = run(program, "inspect", str(again), "--into", scenario, "-q", "--out", "-")
    assert kept == Path(scenario).read_bytes(), "a table through a spreadsheet and back"
    return len(rows)


class Scripts(html.parser.HTMLParser):
    """What could run or fetch in a page."""

    def __init__(self):
        super().__init__()
        self.kinds = []
        self.wrong = []

    def handle_starttag(self, tag, attrs):
        attrs = dict(attrs)
        if tag == "script":
            self.kinds.append(attrs.get("type"))
        self.wrong += [name for name in attrs if name.startswith("on") or name in ("src", "srcdoc")]


def page(program, scenario):
    """No error of the strict parser; nothing but data and the page's own script; every figure is the plan's."""
    text = run(program, "share", scenario, "-q", "--format", "html").decode()
    found = Scripts()
    found.feed(text)
    assert found.kinds == ["application/json"] * 2 + [None], found.kinds
    plan, season = json.loads(run(program, "share", scenario, "-q", "--format", "json")), season_of(program, scenario)
    assert season is None or season["plan"] == plan
    read_page.compare(text, plan, season)
    assert not found.wrong, found.wrong
    return len(text)


def main():
    warnings.filterwarnings("ignore", message="Workbook contains no default style")
    program, *scenarios = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(1, YARDS + 1):
            kind = sorted(yard.KINDS)[seed % len(yard.KINDS)]
            path = Path(folder, f"{kind}-{seed}.yaml")
            path.write_text(yard.scenario(yard.make(4 + seed % 12, seed, kind)), encoding="utf-8")
            page(program, str(path))
        print(f"{YARDS} yards of {len(yard.KINDS)} kinds: every figure of the page is the plan's")
        for turn in range(len(NASTY)):
            path = Path(folder, f"nasty-{turn}.yaml")
            names = NASTY[turn:] + NASTY[:turn]
            path.write_text(scenario_of(names), encoding="utf-8")
            scenarios.append(str(path))
        for scenario in scenarios:
            entries = calendar(program, folder, scenario)
            rows = tables(program, folder, scenario)
            size = page(program, scenario)
            print(f"{Path(scenario).name}: {entries} entries, {rows} rows, page of {size} characters")


if __name__ == "__main__":
    main()
