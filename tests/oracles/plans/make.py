"""Optima of cutting plans by a general-purpose MIP solver, written from the definition of a plan alone.

Every set of parts that fits on a board is listed (all counts, the shortest sequence by dynamic
programming over what is placed and how the last part lies); a covering model over these sets is
solved by HiGHS: least price first, then the fewest boards at that price. Writes tests/boards/table.json.

    make.py            makes the table
    make.py --time     solves the table's instances again and prints seconds for each, as JSON: those of
                       the solver alone, and with the listing of sets
"""

import json
import math
import sys
import time
from pathlib import Path

import highspy
import numpy

TABLE = Path(__file__).resolve().parents[2] / "boards" / "table.json"
EPS = 1e-9
# Seconds spent in the solver.
SOLVING = [0.0]


class Dice:
    """A linear congruential generator (multiplier of Knuth's MMIX), so that the table never changes."""

    def __init__(self, seed):
        self.state = seed * 2862933555777941757 + 3037000493 & (1 << 64) - 1

    def below(self, n):
        self.state = self.state * 6364136223846793005 + 1442695040888963407 & (1 << 64) - 1
        return (self.state >> 33) % n

    def pick(self, items):
        return items[self.below(len(items))]


def lies(part):
    """The end angles of a part, left and right, in every way in which it may lie."""
    l, r = part.get("left", 0), part.get("right", 0)
    ways = [(l, r), (-r, -l)]
    if not part.get("one_good_face", False):
        ways += [(-l, -r), (r, l)]
    return sorted({(a + 0.0, b + 0.0) for a, b in ways})


def distance(job, a, b):
    """Least distance between the tips of a right end at a and a left end at b."""
    kerf = job["kerf"] * max(1 / math.cos(math.radians(a)), 1 / math.cos(math.radians(b)))
    oa, ob = (job["width"] * math.tan(math.radians(x)) for x in (a, b))
    at_b = max(-oa, 0) + max(-ob, 0)
    at_a = max(oa, 0) + max(ob, 0)
    return kerf - min(at_a, at_b)


def patterns(job, room):
    """Every count of parts that fits within the room, with its shortest extent."""
    parts = job["parts"]
    ways = [lies(p) for p in parts]
    ends = sorted({w for way in ways for w in way})
    gap = {(a, b): distance(job, a[1], b[0]) for a in ends for b in ends}
    start = tuple(0 for _ in parts)
    layer = {start: {None: 0.0}}
    found = {}
    # A set is reached through sets with one part less, so each size follows from the one before.
    while layer:
        following = {}
        for counts, tips in layer.items():
            for i, part in enumerate(parts):
                if counts[i] >= part["qty"]:
                    continue
                grown = counts[:i] + (counts[i] + 1,) + counts[i + 1 :]
                new = following.setdefault(grown, {})
                for last, tip in tips.items():
                    for way in ways[i]:
                        reach = tip + part["length"] + (gap[last, way] if last else 0.0)
                        if reach <= room + EPS and reach < new.get(way, math.inf):
                            new[way] = reach
        layer = {c: t for c, t in following.items() if t}
        for counts, tips in layer.items():
            found[counts] = min(tips.values())
    return found


def fullest(job, found):
    """Those that cannot take one part more: the others are never needed to cover."""
    keep = []
    for counts in found:
        grown = (
            counts[:i] + (counts[i] + 1,) + counts[i + 1 :]
            for i, p in enumerate(job["parts"])
            if counts[i] < p["qty"]
        )
        if not any(g in found for g in grown):
            keep.append(counts)
    return keep


def minimise(costs, rows, lower, upper, limits):
    """Least cost over whole numbers of columns; None if there is no way."""
    h = highspy.Highs()
    h.setOptionValue("output_flag", False)
    h.setOptionValue("mip_rel_gap", 0.0)
    h.setOptionValue("mip_abs_gap", 1e-6)
    h.setOptionValue("threads", 1)
    n = len(costs)
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = n, len(rows)
    lp.col_cost_ = numpy.array(costs, dtype=float)
    lp.col_lower_ = numpy.zeros(n)
    lp.col_upper_ = numpy.array(limits, dtype=float)
    lp.row_lower_, lp.row_upper_ = numpy.array(lower, float), numpy.array(upper, float)
    starts, index, value = [0], [], []
    for row in rows:
        for c, v in row:
            index.append(c)
            value.append(v)
        starts.append(len(index))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = numpy.array(starts, dtype=numpy.int32)
    lp.a_matrix_.index_ = numpy.array(index, dtype=numpy.int32)
    lp.a_matrix_.value_ = numpy.array(value, dtype=float)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * n
    h.passModel(lp)
    begin = time.thread_time()
    h.run()
    SOLVING[0] += time.thread_time() - begin
    status = h.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return None
    if status != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError(f"no optimum: {status}")
    return h.getObjectiveValue()


def solve(job, both=True):
    """Least price in cents and fewest boards at it; None where no plan exists."""
    parts = [p for p in job["parts"] if p["qty"] > 0]
    job = dict(job, parts=parts)
    columns = []
    for b, board in enumerate(job["boards"]):
        room = board["length"] - 2 * job["trim"]
        columns += [(b, c) for c in fullest(job, patterns(job, room))] if room > 0 else []
    cents = [round(b["price"] * 100) for b in job["boards"]]
    total = sum(p["qty"] for p in parts)
    rows = [
        [(j, c[i]) for j, (_, c) in enumerate(columns) if c[i]] for i in range(len(parts))
    ]
    lower, upper = [p["qty"] for p in parts], [math.inf] * len(parts)
    for b, board in enumerate(job["boards"]):
        if board.get("limit") is not None:
            rows.append([(j, 1) for j, (at, _) in enumerate(columns) if at == b])
            lower.append(-math.inf)
            upper.append(board["limit"])
    limits = [total] * len(columns)
    if not all(rows[: len(parts)]):
        return None
    price = minimise([cents[b] for b, _ in columns], rows, lower, upper, limits)
    if price is None:
        return None
    price = round(price)
    if not both:
        return price, None
    rows.append([(j, cents[b]) for j, (b, _) in enumerate(columns) if cents[b]])
    lower.append(-math.inf)
    upper.append(price + 0.25)
    boards = minimise([1.0] * len(columns), rows, lower, upper, limits)
    return price, round(boards)


def instance(seed):
    """An invented job: even seeds square, odd ones mitered; some with owned or few boards."""
    dice = Dice(seed + 1)
    mitered = seed % 2 == 1
    width = dice.pick([1.5, 2.5, 3.5])
    boards = []
    for length in sorted({dice.pick([72, 96, 120, 144]) for _ in range(1 + dice.below(3))}):
        price = length * (6 + dice.below(5)) / 100
        boards.append({"id": str(length), "length": length, "price": round(price, 2)})
    if dice.below(3) == 0:
        boards.append(
            {"id": "own", "length": 30 + dice.below(480) / 16, "price": 0, "limit": 1 + dice.below(2)}
        )
    if dice.below(6) == 0:
        boards[0]["limit"] = 1 + dice.below(3)
    parts = []
    for i in range(3 + dice.below(5)):
        left = right = 0
        if mitered:
            ends = [0, 15, 22.5, 30, 45, (1 + dice.below(600)) / 10]
            left, right = (dice.pick(ends) * dice.pick([1, -1]) for _ in range(2))
        ol, orr = (width * math.tan(math.radians(x)) for x in (left, right))
        least = max(max(ol, 0) + max(orr, 0), max(-ol, 0) + max(-orr, 0))
        length = max(9 + dice.below(800) / 16, math.ceil(least * 16) / 16)
        part = {"id": f"p{i}", "qty": 1 + dice.below(9), "length": length}
        if mitered:
            part.update(left=left + 0, right=right + 0, one_good_face=dice.below(3) == 0)
        parts.append(part)
    return {
        "name": f"case {seed}",
        "units": "in",
        "width": width,
        "kerf": dice.pick([0.09375, 0.125]),
        "trim": dice.pick([0, 0, 0, 0.5]),
        "boards": boards,
        "parts": parts,
    }


def main():
    if "--time" in sys.argv:
        times = []
        for case in json.loads(TABLE.read_text()):
            SOLVING[0] = 0.0
            begin = time.thread_time()
            solve(case["instance"], both=False)
            times.append([SOLVING[0], time.thread_time() - begin])
        print(json.dumps(times))
        return
    table = []
    for seed in range(44):
        job = instance(seed)
        best = solve(job)
        case = {"instance": job, "status": "ok" if best else "infeasible"}
        if best:
            case.update(price=best[0] / 100, boards=best[1])
        table.append(case)
        print(job["name"], case.get("price"), case.get("boards"), file=sys.stderr)
    lines = ",\n".join(json.dumps(case) for case in table)
    TABLE.write_text(f"[\n{lines}\n]\n")


if __name__ == "__main__":
    main()
