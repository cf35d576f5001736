"""Writes tests/patterns/pieces.json: whole pieces measured by a general-purpose kernel of solids.

Random sizes go through the JSON door of a piece. Of each answer the kernel makes two sets of solids that know
nothing of each other: those of `placed`, from their corners and faces, and those of `parts`, each cut out of
its stick or board by its ends, rips, laps and holes as the list says. The table holds each request with what was
measured: volumes as placed and as cut, the greatest volume that two placed solids share, and the whole extent.
"""

import json
import math
import pathlib
import subprocess
import sys
from importlib.metadata import version

from manifold3d import CrossSection, FillRule, Manifold, Mesh64
import numpy

ROOT = pathlib.Path(__file__).resolve().parents[3]
CASES = 10


class Dice:
    """A linear congruential generator (multiplier of Knuth's MMIX), so that the table never changes."""

    def __init__(self, seed):
        self.state = seed

    def share(self):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 11) / 2**53

    def between(self, low, high):
        """To 1/16, or any."""
        x = low + (high - low) * self.share()
        return round(x * 16) / 16 if self.share() < 0.5 else x

    def pick(self, items):
        return items[int(self.share() * len(items))]


def post_stand(d):
    shape, legs = d.pick(["square", "round", "hexagonal", "triangular"]), d.pick([3, 4])
    if shape in ("square", "triangular"):
        legs = 4 if shape == "square" else 3
    return {
        "overall_height": d.between(20, 60), "footprint": d.between(14, 30), "legs": legs,
        "post_width": d.between(2, 5), "post_shape": shape, "leg_seen": d.between(1, 3),
        "leg_away": d.between(0.75, 1.5), "cleat": d.pick([0, 0.5]), "post_length": d.between(15, 50),
    }


def plain_box(d):
    return {
        "width": d.between(5, 30), "depth": d.between(4, 20), "height": d.between(3, 15), "thickness": d.between(0.25, 1.25),
        "back": d.pick([True, False]), "floor": d.pick([True, False]), "lid": d.pick([True, False]),
        "joint": d.pick(["mitered", "butted"]),
    }


def shelf_bracket(d):
    return {
        "leg_a": d.between(8, 16), "leg_b": d.between(9, 18), "leg_seen": d.between(0.75, 2), "leg_away": d.between(0.75, 2),
        "seat_a": d.between(3, 6), "seat_b": d.between(3, 7), "knee_seen": d.between(0.75, 2),
        "joint": d.pick(["mitered", "butted"]), "count": d.pick([1, 2, 3]),
    }


def shelf_unit(d):
    return {
        "width": d.between(12, 48), "depth": d.between(6, 16), "height": d.between(24, 80), "shelves": d.pick([0, 1, 3, 5]),
        "thickness": d.between(0.5, 1.25), "back_thickness": d.pick([0, 0.25]), "spacing": d.pick(["even", "growing"]),
    }


def holed_beam(d):
    return {
        "length": d.between(30, 80), "seen": d.between(2, 6), "away": d.between(1, 4), "holes": d.pick([1, 2, 5, 8]),
        "diameter": d.between(0.5, 1.75), "rule": d.pick(["equal_gaps", "half_gaps", "equal_centres"]),
        "margin_start": d.between(2, 6), "margin_end": d.between(2, 6),
    }


def slatted_trellis(d):
    return {
        "width": d.between(15, 48), "height": d.between(20, 80), "stile_seen": d.between(1, 3), "rail_seen": d.between(1, 3),
        "thickness": d.between(0.75, 1.5), "slats": d.pick([1, 3, 6]), "slat_seen": d.between(0.75, 1.75),
        "slat_thickness": d.between(0.25, 0.75),
    }


def scale_board(d):
    return {
        "total_length": d.between(30, 80), "width": d.between(2, 6), "thickness": d.between(0.5, 1.5), "sections": d.pick([1, 2, 3]),
        "offset": d.between(0, 8), "long_every": 4, "figure_every": 1, "spacing": d.pick([0.25, 0.5, 1]),
    }


def drop_front_rack(d):
    n = d.pick([1, 2, 3, 5])
    height, frame, gap = d.between(20, 60), d.between(1, 2.5), d.between(0.75, 2)
    panel = (height - 2 * frame - (n + 1) * gap) / n
    return {
        "width": d.between(12, 40), "height": height, "frame_seen": frame, "frame_thickness": d.between(0.75, 2.5), "panels": n,
        "panel_height": panel, "panel_thickness": d.between(0.375, 0.75), "opening_deg": d.between(0, 95),
        "back_thickness": d.between(0.25, 0.75), "hinge_x": d.between(1, 2.5), "inner_face_from_axis": -d.between(0.125, 0.5),
        "lower_edge_from_axis": -d.between(0.125, 0.5), "panel_hole_up_panel": 0.8 * panel, "back_hole_height": 0.8 * panel,
    }


def splayed_stool(d):
    wide, deep = d.between(12, 18), d.between(9, 13)
    return {
        "overall_height": d.between(12, 28), "top_width": wide, "top_depth": deep, "top_thickness": d.between(0.75, 1.5),
        "leg_section": d.between(1, 2), "footprint_width": wide + d.between(0, 5), "footprint_depth": deep + d.between(0, 5),
        "leg_inset": d.between(0.5, 1.5), "stretcher_height": d.between(4, 8), "stretcher_seen": d.between(1, 2),
        "stretcher_away": d.between(0.5, 1), "stretchers": d.pick(["front_back", "sides", "both"]),
    }


def braced_frame(d):
    return {
        "outside_width": d.between(24, 48), "outside_height": d.between(24, 60), "rail_seen": d.between(2, 4),
        "stile_seen": d.between(2, 4), "thickness": d.between(0.75, 1.5), "braces": d.pick(["none", "one", "crossed", "k"]),
        "ends": d.pick(["corner", "rails", "stiles", "edge"]), "joint": d.pick(["half_lap", "second_in_halves"]),
        "strip_seen": d.between(1.5, 3.5), "corner": d.pick(["butted", "mitered"]),
    }


def sloped_planter(d):
    return {
        "outside_bottom_width": d.between(12, 24), "outside_bottom_depth": d.between(9, 18), "height": d.between(5, 12),
        "tilt_front_deg": d.between(0, 25), "tilt_side_deg": d.between(0, 25), "thickness": d.between(0.5, 1),
        "joint": d.pick(["mitered", "butted"]), "floor_height": d.between(0.25, 2), "floor_thickness": d.between(0.375, 0.75),
        "feet_height": d.pick([0, 1.5]),
    }


def trug(d):
    base = d.between(8, 14)
    return {
        "base_width": base, "top_width": base - d.between(2, 5), "height": d.between(8, 12), "shoulder_height": d.between(2, 4),
        "end_thickness": d.between(0.5, 1), "length": d.between(14, 24), "side_thickness": d.between(0.25, 0.5),
        "floor_thickness": d.between(0.375, 0.75), "handle": d.pick(["none", "dowel", "strip"]), "handle_size": d.between(0.75, 1.5),
        "divider_height": d.pick([0, 3]),
    }


PATTERNS = [
    post_stand, slatted_trellis, shelf_bracket, holed_beam, scale_board, plain_box, shelf_unit, drop_front_rack,
    sloped_planter, trug, splayed_stool, braced_frame,
]


def door():
    """The program of the JSON door of a piece, built."""
    line = ["cargo", "build", "--quiet", "--package", "offsquare-door", "--example", "piece", "--message-format", "json"]
    told = subprocess.run(line, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout
    built = [json.loads(row).get("executable") for row in told.splitlines()]
    program = [name for name in built if name][-1]

    def ask(request):
        said = subprocess.run([program], input=json.dumps(request), check=True, stdout=subprocess.PIPE, text=True)
        return json.loads(said.stdout)

    return ask


def whole(solid):
    assert solid.status().name == "NoError" and solid.volume() > 0, solid.status()
    return solid


def placed(one):
    """Faces as fans: they are flat and convex."""
    fans = [[f[0], f[i], f[i + 1]] for f in one["faces"] for i in range(1, len(f) - 1)]
    corners = numpy.array(one["vertices"], dtype=numpy.float64)
    return whole(Manifold(Mesh64(corners, numpy.array(fans, dtype=numpy.uint64))))


def tan(degrees):
    return math.tan(math.radians(degrees))


def kept(solid, point, outward):
    """What lies on the side of a plane that its normal points away from."""
    n = [-x / math.hypot(*outward) for x in outward]
    return solid.trim_by_plane(n, sum(a * b for a, b in zip(n, point)))


def as_cut(part):
    """A part from the list alone: x along it, y from edge A to edge B, z from the lower face to the upper."""
    long, seen, away = part["length"], part["seen"], part["away"]
    shaped = part.get("section") or part.get("outline")
    if shaped:
        area = CrossSection([numpy.array(shaped)], FillRule.NonZero)
        solid = Manifold.extrude(area, long if part.get("section") else away)
    else:
        solid = Manifold.cube((3 * long, seen, away)).translate((-long, 0, 0))
        rips = part.get("rips", {"near_deg": 0.0, "far_deg": 0.0})
        # Each long edge, sloping or not, and each end reaches its greatest at the part's bounds.
        for side, y, deg in ((-1, 0, rips["near_deg"]), (1, seen, rips["far_deg"])):
            solid = kept(solid, (0, y, away if deg > 0 else 0), (0, side, -tan(deg)))
        uncut = solid
        for side, x, end in ((-1, 0, part["left"]), (1, long, part["right"])):
            m, b = end["mitre_deg"], end["bevel_deg"]
            n = (side * math.cos(math.radians(m)), math.sin(math.radians(m)), -tan(b))
            # Where the plane lies is told by the point of the uncut stick that reaches furthest along it.
            corners = uncut.to_mesh64().vert_properties[:, 1:3]
            # The end's x at (y, z) is x0 - side * (y sin m - z tan b) / cos m.
            back = [(y * n[1] + z * n[2]) / abs(n[0]) for y, z in corners]
            solid = kept(solid, (x + side * min(back), 0, 0), n)
    for lap in part.get("laps", []):
        (a, b), (c, e) = lap["shoulders"]
        low, high = (0, lap["depth"]) if lap["in_back"] else (away - lap["depth"], away)
        bite = Manifold.hull_points([(x, y, z) for x, y in (a, b, c, e) for z in (low, high)])
        solid -= bite
    for hole in part.get("holes", []):
        deep = hole["depth"] or away
        # With the 36 sides of the answer's own prisms.
        drill = Manifold.cylinder(deep + 1, hole["diameter"] / 2, circular_segments=36)
        solid -= drill.translate((hole["x"], hole["y"], away - deep))
    return whole(solid)


def round_as_cut(part, one):
    """Round stock of the answer's own prism: 36 sides, corners on the round."""
    start, end = (d / 2 for d in one["round"])
    return Manifold.cylinder(part["length"], start, end, circular_segments=36)


def rounded(x):
    return round(x, 8) + 0.0


def measured(answer):
    solids = [placed(one) for one in answer["placed"]]
    cut = []
    for one in answer["placed"]:
        part = answer["parts"][one["part"]]
        cut.append(round_as_cut(part, one) if "round" in one else as_cut(part))
    most = 0.0
    for i, a in enumerate(solids):
        for b in solids[:i]:
            most = max(most, (a ^ b).volume())
    boxes = [s.bounding_box() for s in solids]
    extent = [max(b[k + 3] for b in boxes) - min(b[k] for b in boxes) for k in range(3)]
    return {
        "volumes": [rounded(s.volume()) for s in solids],
        "as_cut": [rounded(s.volume()) for s in cut],
        "shared": rounded(most),
        "extent": [rounded(x) for x in extent],
    }


def main():
    ask, cases = door(), []
    for number, sizes in enumerate(PATTERNS):
        dice, made, tries = Dice(1 + number), 0, 0
        while made < CASES:
            tries += 1
            assert tries < 20 * CASES, f"{sizes.__name__}: hardly any sizes can be made"
            request = {"unit": "in", "pattern": sizes.__name__, "sizes": sizes(dice)}
            answer = ask(request)
            if "parts" in answer:
                cases.append(request | measured(answer))
                made += 1
    made_with = {"manifold3d": version("manifold3d")}
    lines = ",\n".join(json.dumps(c) for c in cases)
    text = '{"made_with": %s, "cases": [\n%s\n]}\n' % (json.dumps(made_with), lines)
    (ROOT / "tests" / "patterns" / "pieces.json").write_text(text)


sys.dont_write_bytecode = True
main()
