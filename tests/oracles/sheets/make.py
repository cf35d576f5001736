"""A table of guillotine jobs with their least price, from a general-purpose MIP solver.

Every set of pieces that can be cut from a board of each kind is listed by trying every cut; a mixed-integer
programme (HiGHS, through scipy) picks the cheapest sets that cover the pieces within the supply, then
the fewest at that price. Nothing of the project is imported.

    pip install -r requirements.txt && python make.py        (writes tests/boards/sheets_table.json)
"""

import json
import pathlib
import random
import sys
from functools import lru_cache

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp

TINY = 1e-9


def listed(job):
    """Pieces one by one: part index, and the ways they lie."""
    pieces = []
    for i, part in enumerate(job["parts"]):
        l, w = part["length"], part["width"]
        ways = [(l, w), (w, l)] if part["grain"] == "free" else [(l, w)]
        pieces += [(i, ways)] * part["qty"]
    return pieces


def cutter(job, pieces):
    """A function that says whether a set of pieces (a bit mask) can be cut from x by y."""
    kerf, rip = job["kerf"], job["rip_kerf"]

    @lru_cache(maxsize=None)
    def sums(mask, axis):
        gap = kerf if axis == 0 else rip
        found = set()
        for i, (_, ways) in enumerate(pieces):
            if mask >> i & 1:
                found |= {round(s + gap + way[axis], 9) for s in found for way in ways} | {
                    way[axis] for way in ways
                }
        return sorted(found)

    @lru_cache(maxsize=None)
    def cut(mask, x, y):
        inside = [i for i in range(len(pieces)) if mask >> i & 1]
        if sum(pieces[i][1][0][0] * pieces[i][1][0][1] for i in inside) > x * y + TINY:
            return False
        if len(inside) == 1:
            return any(w[0] <= x + TINY and w[1] <= y + TINY for w in pieces[inside[0]][1])
        low = mask & -mask
        part = (mask - 1) & mask
        while part:
            if part & low:
                rest = mask ^ part
                for c in sums(part, 0):
                    if c > x + TINY:
                        break
                    if cut(part, c, y) and cut(rest, round(x - c - kerf, 9), y):
                        return True
                for c in sums(part, 1):
                    if c > y + TINY:
                        break
                    if cut(part, x, c) and cut(rest, x, round(y - c - rip, 9)):
                        return True
            part = (part - 1) & mask
        return False

    return cut


def solve(job):
    """Least price and fewest boards at that price; None if there is no plan."""
    pieces = listed(job)
    cut = cutter(job, pieces)
    columns = []
    for b, board in enumerate(job["boards"]):
        x = round(board["length"] - 2 * job["trim"], 9)
        y = round(board["width"] - 2 * job["edge_trim"], 9)
        good = set()
        for mask in range(1, 1 << len(pieces)):
            # A set that does not fit without a piece does not fit with it.
            smaller = [mask & ~(1 << i) for i in range(len(pieces)) if mask >> i & 1]
            if all(s == 0 or s in good for s in smaller) and cut(mask, x, y):
                good.add(mask)
        columns += [(b, mask) for mask in good]
    if not columns:
        return None
    n, m, k = len(columns), len(pieces), len(job["boards"])
    cover = numpy.array([[mask >> i & 1 for _, mask in columns] for i in range(m)], float)
    used = numpy.array([[float(c[0] == b) for c in columns] for b in range(k)])
    limit = [numpy.inf if b.get("limit") is None else b["limit"] for b in job["boards"]]
    price = numpy.array([job["boards"][b]["price"] for b, _ in columns])
    rules = [LinearConstraint(cover, 1, numpy.inf), LinearConstraint(used, 0, limit)]
    whole = {"integrality": numpy.ones(n), "bounds": Bounds(0, 1)}
    options = {"mip_rel_gap": 0}
    first = milp(price, constraints=rules, options=options, **whole)
    if first.status == 2:
        return None
    assert first.status == 0, first.message
    rules.append(LinearConstraint(price, -numpy.inf, first.fun + 1e-6))
    second = milp(numpy.ones(n), constraints=rules, options=options, **whole)
    assert second.status == 0, second.message
    return {"price": round(float(first.fun), 6), "boards": round(second.fun)}


def job(seed):
    """A job of 4 to 7 pieces; sizes are often shares of a board."""
    dice = random.Random(seed)
    sheets = seed % 2 == 1
    kerf = dice.choice([0, 0.125, 0.25])
    trim = dice.choice([0, 0, 0.5])
    made = {
        "cut": "sheets" if sheets else "strips",
        "kerf": kerf,
        "rip_kerf": dice.choice([kerf, kerf, 0.0625]),
        "trim": trim,
        "edge_trim": dice.choice([0, trim]),
        "boards": [],
        "parts": [],
    }
    for i in range(dice.randint(1, 3)):
        length = dice.randint(16, 48)
        width = dice.randint(12, 32) if sheets else dice.randint(3, 11)
        board = {"id": f"b{i}", "length": length, "width": width}
        board["price"] = round(length * width * dice.uniform(0.05, 0.08), 2)
        chance = dice.random()
        if chance < 0.25:
            board |= {"price": 0, "limit": dice.randint(1, 2)}
        elif chance < 0.45:
            board["limit"] = dice.randint(1, 4)
        made["boards"].append(board)
    left = dice.randint(4, 7)
    while left > 0:
        qty = dice.randint(1, min(left, 3))
        left -= qty
        board = dice.choice(made["boards"])

        def share(whole, gap, edge):
            if dice.random() < 0.5:
                shares = dice.randint(2, 4)
                return round((whole - 2 * edge - (shares - 1) * gap) / shares, 6)
            return round(dice.uniform(0.15, 0.75) * whole * 16) / 16

        length = share(board["length"], kerf, trim)
        width = share(board["width"], made["rip_kerf"], made["edge_trim"])
        grain = "free" if sheets and dice.random() < 0.5 else "along"
        part = {"id": f"p{len(made['parts'])}", "qty": qty, "length": length, "width": width}
        made["parts"].append(part | {"grain": grain})
    return made


def main():
    rows = []
    for seed in range(int(sys.argv[1]) if len(sys.argv) > 1 else 90):
        instance = job(seed)
        rows.append({"seed": seed, "job": instance, "best": solve(instance)})
        print(seed, rows[-1]["best"], file=sys.stderr, flush=True)
    table = pathlib.Path(__file__).resolve().parents[2] / "boards" / "sheets_table.json"
    lines = ",\n".join(json.dumps(row, separators=(",", ":")) for row in rows)
    table.write_text(f"[\n{lines}\n]\n")


main()
