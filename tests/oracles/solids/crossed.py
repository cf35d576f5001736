"""Two braces across a frame, cut by its members, with half laps where they cross.

x along the rails, y up, z through the thickness; brace 2 leans the other way.
"""

import math

from OCP.GccAna import GccAna_Lin2d2Tan
from OCP.GccEnt import GccEnt
from OCP.gp import gp_Ax22d, gp_Circ2d, gp_Dir2d, gp_Pnt2d

from kernel import *

PAIRS = [
    (30.0, 44.0, 2.5, 2.5, 0.75, 0.75), (30.0, 44.0, 2.5, 3.5, 1.5, 1.5), (44.0, 30.0, 3.5, 1.5, 0.75, 1.0),
    (60.0, 24.0, 2.5, 1.0, 1.0, 0.75),
]


def along_from_corner(w, h, s, ends):
    """Direction and middle of the strip: on the diagonal, or its edges through both corners."""
    middle_ = (w / 2, h / 2, 0.0)
    if ends == "corner":
        return gp_Dir(w, h, 0.0), middle_
    # A line from the lower left corner that touches the circle of the strip's width about the upper
    # right one; flat on the rails it is the steeper.
    circle = gp_Circ2d(gp_Ax22d(gp_Pnt2d(w, h), gp_Dir2d(1, 0), True), s)
    found = GccAna_Lin2d2Tan(GccEnt.Unqualified_s(circle), gp_Pnt2d(0, 0), 1e-12)
    d = [found.ThisSolution(i + 1).Direction() for i in range(found.NbSolutions())]
    d = [(x.X(), x.Y()) if x.Y() > 0 else (-x.X(), -x.Y()) for x in d]
    pick = max if ends == "rails" else min
    x, y = pick(d, key=lambda v: math.atan2(v[1], v[0]))
    return gp_Dir(x, y, 0.0), middle_


def strip(w, h, s, thick, ends, low):
    """The strip between the frame's members, from z = low."""
    along, at = along_from_corner(w, h, s, ends)
    across = Z.Crossed(along)
    endless = bar((at[0], at[1], low + thick / 2), across, Z, along, s, thick)
    frame = [plane((0, 0, 0), Y.Reversed()), plane((0, h, 0), Y), plane((0, 0, 0), X.Reversed()), plane((w, 0, 0), X)]
    return between(endless, *frame), along, across


def reach(shape, d):
    at = sorted(gp_Vec(ORIGIN, p).Dot(gp_Vec(d)) for p in points(shape))
    return at[0], at[-1]


def lap_of(brace, along, across, s, lap, shoulder):
    """What of the lap is measured along one brace; `lap` is the wood that both share, in plan."""
    base, _ = reach(brace, along)
    out = {}
    for key, d in (("left", across), ("right", across.Reversed())):
        edge_face, lap_face = face_toward(brace, d), face_toward(lap, d)
        start, _ = reach(edge_face, along)
        a, b = reach(lap_face, along)
        out[f"{key}_from_point"] = [a - base, b - base]
        out[f"{key}_from_edge_end"] = [a - start, b - start]
        out["lap_length"] = b - a
    out["lap_extent"] = extent(lap, along)
    out["shoulder_reading_deg"] = readings(shoulder, along, Z)["mitre_deg"]
    out["shoulder_line_length"] = max(length(e) for e in edges(shoulder) if abs(direction(e).Z()) < 1e-9)
    return out


def pairs():
    out = []
    for w, h, s1, s2, t1, t2 in PAIRS:
        for ends in ("corner", "rails", "stiles"):
            one, u1, n1 = strip(w, h, s1, t1, ends, 0.0)
            two, u2, n2 = strip(w, h, s2, t2, ends, 0.0)
            flip = lambda d: gp_Dir(-d.X(), d.Y(), d.Z())
            two, u2, n2 = mirrored(two, (w / 2, 0, 0), X), flip(u2), flip(n2).Reversed()
            shared = common(one, two)
            # Housings: from each brace the half that the other keeps.
            thin = min(t1, t2)
            low = lambda z: plane((0, 0, z), Z)
            notched = less(one, between(shared, plane((0, 0, t1 - thin / 2), Z.Reversed()))) if t1 == t2 else None
            answers = {
                "angle_facing_rails_deg": angle(u1, u2),
                "angle_facing_stiles_deg": 180.0 - angle(u1, u2),
                "crossing_acute_deg": acute(u1, u2),
                "lap_area": area(face_toward(shared, Z)),
                "brace_1": lap_of(one, u1, n1, s1, shared, face_toward(shared, n2)),
                "brace_2": lap_of(two, u2, n2, s2, shared, face_toward(shared, n1)),
            }
            if notched is not None:
                # What the housing takes is half the lap's wood.
                assert abs(volume(one) - volume(notched) - answers["lap_area"] * thin / 2) < 1e-8
            inputs = {"opening_width": w, "opening_height": h, "strip_width_1": s1, "strip_width_2": s2,
                      "thickness_1": t1, "thickness_2": t2, "ends": ends}
            out.append({"layout": "brace", "unit": "in", "inputs": inputs | {"joint": "half_lap"},
                        "answers": answers, "volume": volume(one) + volume(two)})
            # One through, the other in two halves: the lower one.
            both = less(two, between(bar((w / 2, h / 2, 0.0), n1, Z, u1, s1, 4 * max(t1, t2))))
            halves = sorted(solids(both), key=lambda s: reach(s, Y)[0])
            assert len(halves) == 2
            half = halves[0]
            joint = face_toward(half, n1) if n1.Y() > 0 else face_toward(half, n1.Reversed())
            left, right = (length(max(edges_along(face_toward(half, d), u2), key=length)) for d in (n2, n2.Reversed()))
            out.append({"layout": "brace", "unit": "in", "inputs": inputs | {"joint": "second_in_halves"},
                        "answers": {"half": {
                            "long_point_length": extent(half, u2),
                            "left_edge_length": left,
                            "right_edge_length": right,
                            "joint_reading_deg": readings(joint, u2, Z)["mitre_deg"],
                            "joint_cut_length": max(length(e) for e in edges(joint) if abs(direction(e).Z()) < 1e-9),
                            "face_area": area(face_toward(half, Z)),
                        }}, "volume": volume(half)})
    return out
