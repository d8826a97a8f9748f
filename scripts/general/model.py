"""The rows of a decision, as one would write them down first; ids as in docs/model.md."""

from .decision import burden, share_given

STEPS = (20, 40, 60, 80)


class Model:
    """Emits a decision to a solver: the rows, then worth, then what the cost alone needs."""

    def __init__(self, decision, solver):
        self.d, self.s = decision, solver
        self.serve = {(k, i): [] for k, box in enumerate(decision.boxes) for i in range(len(box["lines"]))}
        self.places = []  # (frames, place) of each substitute
        self.honey = []
        self.draws = [self.colony(c) for c in decision.colonies]
        for count, lines in decision.spare:
            self.frames(count, lines)
        self.n = [self.kind(k, box) for k, box in enumerate(decision.boxes)]
        for at, site in enumerate(decision.sites):
            self.site(at, site)
        self.cells()
        self.wishes()
        self.ceilings()
        if decision.data["honey_cap"] is not None:
            solver.row(self.honey, None, decision.data["honey_cap"])  # draw
        self.worth = [(self.n[k], box["worth"]) for k, box in enumerate(decision.boxes)]

    def frames(self, count, lines):
        """A variable for each line that so many equal frames can serve: [(variable, site)]."""
        out = []
        for k, i, place in lines:
            v = self.s.var(count)
            self.serve[k, i].append((v, 1))
            if place:
                self.places.append((v, place))
            out.append((v, self.d.boxes[k]["site"]))
        self.s.row([(v, 1) for v, _ in out], None, count)  # supply
        return out

    def colony(self, c):
        s, most = self.s, max(0, c["room"]["bees"])
        each = [(v, site, g) for g in c["groups"] for v, site in self.frames(g["n"], g["lines"])]
        riding = [s.var(most) for _ in self.d.sites]
        loose = [s.var(most) for _ in self.d.sites]
        bees = [(v, 1) for v in riding + loose]
        for what in ("brood", "drawn", "stores"):
            s.row([(v, g[what]) for v, _, g in each], None, c["room"][what])  # keep, draw
        s.row(bees, None, c["room"]["bees"])  # keep, draw
        self.covered(c, each, bees)
        if c["frames_cap"] is not None:
            s.row([(v, 1) for v, _, _ in each], None, c["frames_cap"])  # draw
        for at, site in enumerate(self.d.sites):  # ride
            there = [(v, g) for v, to, g in each if to == site and g["least"] is not None]
            s.row([(riding[at], 1), *((v, -g["least"]) for v, g in there)], 0, None)
            s.row([(riding[at], 1), *((v, -g["bees"]) for v, g in there)], None, 0)
        honey = [(v, g["charge"]) for v, _, g in each] + [(v, c["bee_charge"]) for v, _ in bees]
        if c["honey_cap"] is not None:
            s.row(honey, None, c["honey_cap"])  # draw
        self.honey += honey
        return {"colony": c, "each": each, "riding": riding, "loose": loose}

    def covered(self, c, each, bees):
        """keep: bees that stay cover the brood that stays, or as well as before."""
        have, percent = c["have"], c["covered"]
        if 100_000 * have["bees"] >= percent * have["cover"]:
            a, b = 100_000, percent
        else:
            a, b = have["cover"], have["bees"]
        most = a * have["bees"] - b * have["cover"]
        self.s.row([*((v, a) for v, _ in bees), *((v, -b * g["cover"]) for v, _, g in each)], None, most)

    def kind(self, k, box):
        n = self.s.var(box["count"] * box["compartments"])  # boxes
        for i, line in enumerate(box["lines"]):
            self.s.row([*self.serve[k, i], (n, -line["count"])], 0, 0)  # recipe
        if box["whole"]:
            self.s.row([(n, 1), (self.s.var(box["count"]), -box["compartments"])], 0, 0)  # boxes
        return n

    def site(self, at, site):
        """bees: all cover all, and loose bees those without a line for brood."""
        for brood_too in (True, False):
            needs = [
                (self.n[k], -box["bees"])
                for k, box in enumerate(self.d.boxes)
                if box["site"] == site and (brood_too or not self.d.brood_kind[k])
            ]
            terms = [(draw["loose"][at], draw["colony"]["stay"][at]) for draw in self.draws]
            if brood_too:
                terms += [(draw["riding"][at], draw["colony"]["stay"][at]) for draw in self.draws]
            self.s.row(terms + needs, 0, None)

    def cells(self):
        batches = self.d.data["cells"]
        if batches is None:
            return
        used = {k: [] for k in range(len(self.d.boxes))}
        for batch in batches:
            got = []
            for k in batch["boxes"] or range(len(self.d.boxes)):
                v = self.s.var(batch["count"])
                got.append((v, 1))
                used[k].append((v, 1))
            self.s.row(got, None, batch["count"])  # cells
        for k, got in used.items():
            self.s.row([*got, (self.n[k], -1)], 0, None)  # cells

    def wishes(self):
        by_index = {draw["colony"]["index"]: draw for draw in self.draws}
        for give in self.d.gives:
            draw = by_index.get(give["colony"])
            each = draw["each"] if draw else []
            mine = [(v, 1) for v, _, g in each if give["group"] in (None, g["index"])]
            self.s.row(mine, give["frames"], None)  # give

    def ceilings(self):
        most = self.d.most
        if most.get("compartments") is not None:
            self.s.row([(v, 1) for v in self.n], None, most["compartments"])
        if most.get("worth") is not None:
            self.s.row([(v, box["worth"]) for v, box in zip(self.n, self.d.boxes)], None, most["worth"])

    def cost(self):
        """Terms of the cost, with the variables that it alone needs."""
        prices = self.d.prices
        terms = self.honey + [(v, prices["substitute"] * place) for v, place in self.places]
        for draw in self.draws:
            terms += [(v, prices["opened"]) for v in self.opened(draw)] if prices["opened"] else []
            if prices["burden"] and draw["colony"]["burdened"]:
                terms += [(v, prices["burden"]) for v in self.burden(draw)]
        return [(v, a) for v, a in terms if a]

    def opened(self, draw):
        c, y = draw["colony"], self.s.var(1)
        for g in c["groups"]:
            self.s.row([*((v, 1) for v, _, of in draw["each"] if of is g), (y, -g["n"])], None, 0)
        bees = draw["riding"] + draw["loose"]
        self.s.row([*((v, 1) for v in bees), (y, -max(0, c["room"]["bees"]))], None, 0)
        return [y]

    def burden(self, draw):
        have, p = draw["colony"]["have"], self.s.var(100)
        bees = draw["riding"] + draw["loose"]
        if have["bees"]:
            self.s.row([(p, have["bees"]), *((v, -100) for v in bees)], 0, None)
        if have["cells"]:
            self.s.row([(p, have["cells"]), *((v, -100 * g["cells"]) for v, _, g in draw["each"])], 0, None)
        out = [p]
        for step in STEPS:
            over = self.s.var(100 - step)
            self.s.row([(over, 1), (p, -1)], -step, None)
            out.append(over)
        return out

    def figures(self, value):
        """Worth, cost and what makes it, worked out from the frames, bees and boxes of an answer."""
        prices = self.d.prices
        honey = points = opened = 0
        for draw in self.draws:
            c, bees = draw["colony"], draw["riding"] + draw["loose"]
            taken = sum(value(v) for v in bees)
            frames = [(value(v), g) for v, _, g in draw["each"]]
            opened += taken > 0 or any(count for count, _ in frames)
            honey += taken * c["bee_charge"] + sum(count * g["charge"] for count, g in frames)
            if c["burdened"]:
                points += burden(share_given(c["have"], taken, sum(count * g["cells"] for count, g in frames)))
        subs = sum(value(v) * place for v, place in self.places)
        cost = honey + prices["burden"] * points + prices["substitute"] * subs + prices["opened"] * opened
        worth = sum(value(v) * a for v, a in self.worth)
        return {"worth": worth, "cost": cost, "honey": honey, "burden": points, "substitutes": subs, "opened": opened}
