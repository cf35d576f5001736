"""Boxes with sloping sides: boards between their planes, cut by their neighbors, mitered or butted."""

import math

from kernel import *


def slab(outer, t):
    """The planes of a board's outer and inner face, both with their outside outward."""
    inner = moved_pln(outer, -t)
    return outer, gp_Pln(inner.Location(), inner.Axis().Direction().Reversed())


def miter_plane(own, other, out):
    """Through the outer corner edge and the inner one."""
    line = meeting(own[0], other[0])
    inside, _ = meeting(own[1], other[1])
    return plane_through(line, inside, out)


def measure(board, own, along, h):
    """A board whose level edges run along `along`; outer face own[0]."""
    n = own[0].Axis().Direction()
    outer, inner = face_toward(board, n), face_toward(board, n.Reversed())
    low, high = face_toward(board, Z.Reversed()), face_toward(board, Z)
    left, right = face_toward(board, along.Reversed()), face_toward(board, along)
    # Up the slope, on the outer face.
    up = n.Crossed(along)
    up = up if up.Z() > 0 else up.Reversed()
    # Seen on the outer face, bottom edge toward the operator.
    x = along if along.Crossed(up).Dot(n) > 0 else along.Reversed()
    ends = (left, right) if dot(x, along) > 0 else (right, left)
    answers = {
        "outer_bottom_width": length(shared_edge(outer, low)),
        "outer_top_width": length(shared_edge(outer, high)),
        "inner_bottom_width": length(shared_edge(inner, low)),
        "inner_top_width": length(shared_edge(inner, high)),
        "slant_height": max(extent(outer, up), 0.0),
        "corner_edge_length": length(shared_edge(outer, right)),
        "length_needed": extent(board, along),
        "width_needed": extent(board, up),
        **readings(right, along, n),
        "edge_rip_deg": readings(high, up, n)["bevel_deg"],
    }
    held = readings(right, along, Z)
    answers["held_at_slope_mitre_deg"] = held["mitre_deg"]
    answers["held_at_slope_bevel_deg"] = held["bevel_deg"]
    lying = {e: cut(f, x, n) for e, f in zip(("left", "right"), ends)}
    return answers, lying, volume(board)


REGULAR = [
    (4, 10.0, 15.0, 0.75, 6.0), (4, 10.0, 0.0, 0.75, 6.0), (6, 5.0, 15.0, 0.75, 6.0), (5, 8.0, 49.4, 0.5, 4.0),
    (8, 4.0, 30.0, 0.5, 5.0), (3, 12.0, 35.26, 0.75, 6.0), (6, 9.0, -20.0, 0.75, 5.0), (7, 6.0, 5.0, 1.5, 10.0),
    (12, 3.0, 65.0, 0.375, 3.0), (4, 16.0, -35.0, 1.0, 7.0), (3, 20.0, 60.0, 1.25, 4.0), (5, 14.0, 80.0, 0.25, 1.0),
]


def regular():
    out = []
    for n, s, tilt, t, h in REGULAR:
        apothem = s / 2 / math.tan(math.pi / n)
        lean = math.radians(tilt)
        # The board at the front; its neighbors are itself turned around the z axis.
        outer = plane((0.0, -apothem, 0.0), gp_Dir(0.0, -math.cos(lean), -math.sin(lean)))
        own = slab(outer, t)
        right, left = (tuple(turned_pln(p, Z, k * 360.0 / n) for p in own) for k in (1, -1))
        ends = (plane((0, 0, 0), Z.Reversed()), plane((0, 0, h), Z))
        endless = between(bar((0, 0, 0), Y, Z, X, FAR, FAR, FAR / 2), *own, *ends)
        board = between(endless, miter_plane(own, right, X), miter_plane(own, left, X.Reversed()))
        answers, lying, v = measure(board, own, X, h)
        # Butted: its right end lies on the neighbor's inner face, its left end covers the other neighbor's.
        butted = between(endless, gp_Pln(right[1].Location(), right[1].Axis().Direction().Reversed()), left[0])
        butt = readings(face_toward(butted, X), X, outer.Axis().Direction())
        facing = angle(outer.Axis().Direction(), right[0].Axis().Direction())
        answers.update({"butt_bevel_deg": butt["bevel_deg"], "dihedral_deg": 180.0 - facing})
        del answers["held_at_slope_bevel_deg"]
        assert abs(butt["mitre_deg"] - answers["mitre_deg"]) < 1e-9
        out.append({
            "layout": "sloped_box", "form": "regular", "unit": "in",
            "inputs": {"sides": n, "outer_bottom_side": s, "tilt_deg": tilt, "thickness": t, "height": h},
            "answers": answers, "volume": v * n, "cuts": [lying],
        })
        butted, lying, v = measure(butted, own, X, h)
        butted.update({"butt_bevel_deg": butt["bevel_deg"], "dihedral_deg": 180.0 - facing})
        out.append({
            "layout": "sloped_box", "form": "regular", "unit": "in",
            "inputs": {"sides": n, "outer_bottom_side": s, "tilt_deg": tilt, "thickness": t, "height": h, "joint": "butt"},
            "answers": butted, "volume": v * n, "cuts": [lying],
        })
    return out


TWO = [
    (14.0, 8.0, 15.0, 10.0, 0.75, 0.75, 6.0), (14.0, 8.0, 20.0, -8.0, 0.75, 0.75, 6.0), (12.0, 12.0, 45.0, 45.0, 0.5, 0.5, 5.0),
    (16.0, 10.0, 12.0, 30.0, 0.75, 0.5, 6.0), (16.0, 10.0, 0.0, 25.0, 0.75, 1.0, 6.0), (20.0, 15.0, -15.0, -20.0, 0.75, 0.5, 7.0),
    (18.0, 9.0, 60.0, 5.0, 0.375, 0.75, 3.0), (15.0, 15.0, 50.0, 55.0, 1.5, 0.25, 3.0), (10.0, 10.0, 0.0, 0.0, 0.75, 0.75, 5.0),
    (24.0, 18.0, 40.0, -30.0, 0.5, 1.25, 6.0),
]


def two_slopes():
    out = []
    for w, d, a, b, tf, ts, h in TWO:
        for joint in ("mitre", "front_between", "sides_between"):
            ra, rb = math.radians(a), math.radians(b)
            front = slab(plane((0.0, -d / 2, 0.0), gp_Dir(0.0, -math.cos(ra), -math.sin(ra))), tf)
            back = tuple(turned_pln(p, Z, 180.0) for p in front)
            side = slab(plane((w / 2, 0.0, 0.0), gp_Dir(math.cos(rb), 0.0, -math.sin(rb))), ts)
            other = tuple(turned_pln(p, Z, 180.0) for p in side)
            level = (plane((0, 0, 0), Z.Reversed()), plane((0, 0, h), Z))
            room = bar((0, 0, 0), Y, Z, X, FAR, FAR, FAR / 2)
            # `stop` is the plane at which a board ends, its normal to the board's outside.
            def ends(own, left, right, along, fits_between):
                if joint == "mitre":
                    return miter_plane(own, right, along), miter_plane(own, left, along.Reversed())
                if fits_between:
                    return tuple(gp_Pln(n[1].Location(), n[1].Axis().Direction().Reversed()) for n in (right, left))
                return right[0], left[0]
            f = between(room, *front, *level, *ends(front, other, side, X, joint == "front_between"))
            s = between(room, *side, *level, *ends(side, front, back, Y, joint == "sides_between"))
            fa, fl, fv = measure(f, front, X, h)
            sa, sl, sv = measure(s, side, Y, h)
            facing = angle(front[0].Axis().Direction(), side[0].Axis().Direction())
            out.append({
                "layout": "sloped_box", "form": "two_slopes", "unit": "in",
                "inputs": {"outer_bottom_width": w, "outer_bottom_depth": d, "tilt_front_deg": a, "tilt_side_deg": b,
                           "thickness_front": tf, "thickness_side": ts, "height": h, "joint": joint},
                "answers": {"dihedral_deg": 180.0 - facing, "front": fa, "side": sa},
                "volume": 2 * fv + 2 * sv,
                "cuts": [fl, sl],
            })
    return out
