"""Legs splayed two ways and the stretchers between them (right front leg; x right, y back, z up)."""

import math

from kernel import *

LEANS = [(8.0, 5.0), (10.0, 6.0), (5.0, 12.0), (0.0, 7.0), (15.0, 0.0), (25.0, 20.0), (44.0, 31.0), (0.5, 0.25)]
ROLLS = ["front", "side", "tilt", "lean"]


def uncut(a, b, t, roll, at=(0.0, 0.0, 0.0)):
    """The endless leg and its axis (upward), outward F (to the front) and S (to the right)."""
    ta, tb = math.tan(math.radians(a)), math.tan(math.radians(b))
    axis = gp_Dir(-ta, tb, 1.0)
    if roll == "front":
        # Tipped back about x, then swung within its own front face.
        e2 = Y.Rotated(gp_Ax1(ORIGIN, X), math.radians(-b))
        e2 = e2 if abs(dot(e2, axis)) < 1e-12 else Y.Rotated(gp_Ax1(ORIGIN, X), math.radians(b))
        e1 = axis.Crossed(e2)
    elif roll == "side":
        e1 = X.Rotated(gp_Ax1(ORIGIN, Y), math.radians(a))
        e1 = e1 if abs(dot(e1, axis)) < 1e-12 else X.Rotated(gp_Ax1(ORIGIN, Y), math.radians(-a))
        e2 = axis.Crossed(e1)
    else:
        e1, e2 = X, Y
        if roll == "lean":
            plan = gp_Dir(-ta, tb, 0.0)
            e1, e2 = plan, Z.Crossed(plan)
        tip = gp_Ax1(ORIGIN, Z.Crossed(axis))
        by = math.radians(angle(Z, axis))
        e1, e2 = e1.Rotated(tip, by), e2.Rotated(tip, by)
    leg = bar(at, e1, e2, axis, t, t)
    # Of each pair of faces the one that looks to the front, and the one that looks to the right.
    sides = [f for f in faces(leg) if abs(dot(normal(f), axis)) < 0.5]
    # In "lean" F is the pair that stands upright.
    upright = [f for f in sides if roll == "lean" and abs(normal(f).Z()) < 1e-9]
    f = max(upright or sides, key=lambda f: -normal(f).Y())
    s = max((f for f in sides if f not in upright), key=lambda f: normal(f).X())
    return leg, axis, normal(f), normal(s)


def floor_and_top(h):
    return plane((0, 0, 0), Z.Reversed()), plane((0, 0, h), Z)


def legs():
    out = []
    for i, (a, b) in enumerate(LEANS):
        for roll in ROLLS:
            if roll == "lean" and a * b == 0.0:
                continue
            t, h = (1.5, 18.0) if i % 2 == 0 else (2.25, 27.5)
            endless, axis, nf, ns = uncut(a, b, t, roll)
            leg = between(endless, *floor_and_top(h))
            foot, top = face_toward(leg, Z.Reversed()), face_toward(leg, Z)
            long_edges = edges_along(leg, axis)
            assert len(long_edges) == 4
            m0, m1 = middle(foot), middle(top)
            lean = direction(long_edges[0])
            plan = gp_Dir(lean.X(), lean.Y(), 0.0)
            side_f, side_s = face_toward(leg, nf), face_toward(leg, ns)
            e = [direction(x) for x in edges(foot)]
            corner = acute(direction(shared_edge(foot, side_f)), direction(shared_edge(foot, side_s)))
            assert abs(volume(leg) - area(foot) * h) < 1e-9 * volume(leg) and len(e) == 4
            groups = {}
            for key, n, face in (("on_face_F", nf, side_f), ("on_face_S", ns, side_s)):
                groups[key] = readings(top, axis, n) | {"cut_line": length(shared_edge(top, face))}
            # Lying on F: F down, the foot to the left.
            lying = {end: cut(f, axis, nf.Reversed()) for end, f in (("left", foot), ("right", top))}
            out.append({
                "layout": "two_way_splay", "unit": "in",
                "inputs": {"splay_front_deg": a, "splay_side_deg": b, "section": t, "height": h, "roll": roll},
                "answers": {
                    "resultant_deg": angle(Z, axis),
                    "sight_line_from_front_deg": acute(plan, X),
                    "sight_line_from_side_deg": acute(plan, Y),
                    "axis_length": m0.Distance(m1),
                    "edge_length": max(length(x) for x in long_edges),
                    "overall_length": extent(leg, axis),
                    **groups,
                    "footprint_corner_acute_deg": corner,
                    "footprint_area": area(foot),
                    "toe_out_x": m0.X() - m1.X(),
                    "toe_out_y": m1.Y() - m0.Y(),
                },
                "volume": volume(leg),
                "cuts": [lying],
            })
    return out


def stretchers():
    out = []
    for i, (a, b) in enumerate(LEANS[:7]):
        for roll in ROLLS:
            if roll == "lean" and a * b == 0.0:
                continue
            for which in ("front", "side"):
                t, h, up = (1.5, 18.0, 7.0) if i % 2 == 0 else (2.0, 24.0, 21.0)
                wide, deep, w, q = 14.0, 11.0, 2.0, 0.75
                # The axis passes the top plane at half the spacings to the right and to the front.
                at = (wide / 2, -deep / 2, h)
                endless, axis, nf, ns = uncut(a, b, t, roll, at)
                here = middle(face_toward(between(endless, plane((0, 0, up), Z.Reversed()), plane((0, 0, h + 1), Z)), Z.Reversed()))
                # Seen from outside, upper edge up: along to the right; the leg at hand stands that way.
                if which == "front":
                    along, outside, leg_way, toward, apart = X, Y.Reversed(), X, ns.Reversed(), 2 * here.X()
                    spot = (0.0, here.Y(), up)
                else:
                    along, outside, leg_way, toward, apart = Y, X, Y.Reversed(), nf.Reversed(), -2 * here.Y()
                    spot = (here.X(), 0.0, up)
                inner = pln_of(face_toward(endless, toward))
                # The stretcher lies before that face; the other leg is this one in a mirror.
                stop = gp_Pln(inner.Location(), inner.Axis().Direction().Reversed())
                other = stop.Mirrored(gp_Ax2(ORIGIN, leg_way))
                piece = between(bar(spot, outside, Z, along, q, w), stop, other)
                ends = [face_toward(piece, along.Reversed()), face_toward(piece, along)]
                lengths = [length(e) for e in edges_along(piece, along)]
                assert len(lengths) == 4
                lying = {e: cut(f, along, outside) for e, f in zip(("left", "right"), ends)}
                out.append({
                    "layout": "two_way_splay", "form": "stretcher", "unit": "in",
                    "inputs": {"splay_front_deg": a, "splay_side_deg": b, "section": t, "height": h, "roll": roll,
                               "axis_spacing_front_at_top": wide, "axis_spacing_side_at_top": deep,
                               "stretcher_height": up, "stretcher_width": w, "stretcher_thickness": q, "which": which},
                    "answers": {
                        "centre_to_centre": apart,
                        "shoulder_length_on_centre": middle(ends[0]).Distance(middle(ends[1])),
                        "overall_length": extent(piece, along),
                        "longest_edge": max(lengths),
                        "shortest_edge": min(lengths),
                        "on_wide_face": readings(ends[1], along, outside),
                        "on_edge": readings(ends[1], along, Z),
                    },
                    "volume": volume(piece),
                    "cuts": [lying],
                })
    return out
