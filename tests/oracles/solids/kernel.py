"""Solids by the Open CASCADE geometry kernel: built from planes, cut, and measured on their faces.

Everything that is measured is read from the kernel's faces, edges and volumes; lengths in the table's
unit, angles in degrees.
"""

import math

from OCP.BRep import BRep_Tool
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_Transform,
)
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeHalfSpace, BRepPrimAPI_MakePrism
from OCP.GProp import GProp_GProps
from OCP.GeomAPI import GeomAPI_IntSS
from OCP.Geom import Geom_Plane
from OCP.GeomAdaptor import GeomAdaptor_Curve
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_REVERSED, TopAbs_SOLID, TopAbs_VERTEX
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pln, gp_Pnt, gp_Trsf, gp_Vec

ORIGIN = gp_Pnt(0, 0, 0)
X, Y, Z = gp_Dir(1, 0, 0), gp_Dir(0, 1, 0), gp_Dir(0, 0, 1)
FAR = 400.0


# Building

def plane(at, normal):
    return gp_Pln(gp_Pnt(*at), normal)


def behind(pln):
    """All that lies on the side from which the plane's normal points away."""
    n = gp_Vec(pln.Axis().Direction())
    face = BRepBuilderAPI_MakeFace(pln, -FAR, FAR, -FAR, FAR).Face()
    return BRepPrimAPI_MakeHalfSpace(face, pln.Location().Translated(n * -1.0)).Solid()


def common(a, b):
    return BRepAlgoAPI_Common(a, b).Shape()


def less(a, b):
    return BRepAlgoAPI_Cut(a, b).Shape()


def bar(at, e1, e2, along, a, b, length=FAR):
    """A bar a by b through `at`, its sides square to e1 and e2, twice `length` long."""
    v = lambda d, k: gp_Vec(d) * k
    start = gp_Pnt(*at).Translated(v(along, -length))
    polygon = BRepBuilderAPI_MakePolygon()
    for s, t in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        polygon.Add(start.Translated(v(e1, s * a / 2)).Translated(v(e2, t * b / 2)))
    polygon.Close()
    face = BRepBuilderAPI_MakeFace(polygon.Wire()).Face()
    return BRepPrimAPI_MakePrism(face, v(along, 2 * length)).Shape()


def between(shape, *planes):
    for p in planes:
        shape = common(shape, behind(p))
    return shape


def turned(shape, axis, degrees, at=(0, 0, 0)):
    t = gp_Trsf()
    t.SetRotation(gp_Ax1(gp_Pnt(*at), axis), math.radians(degrees))
    return BRepBuilderAPI_Transform(shape, t, True).Shape()


def mirrored(shape, at, normal):
    t = gp_Trsf()
    t.SetMirror(gp_Ax2(gp_Pnt(*at), normal))
    return BRepBuilderAPI_Transform(shape, t, True).Shape()


def moved_pln(pln, by):
    """The parallel plane `by` further along the normal."""
    return pln.Translated(gp_Vec(pln.Axis().Direction()) * by)


def turned_pln(pln, axis, degrees):
    return pln.Rotated(gp_Ax1(ORIGIN, axis), math.radians(degrees))


def meeting(a, b):
    """A point and the direction of the line in which two planes meet."""
    curve = GeomAPI_IntSS(Geom_Plane(a), Geom_Plane(b), 1e-12).Line(1)
    line = GeomAdaptor_Curve(curve).Line()
    return line.Location(), line.Direction()


def plane_through(line, point, out):
    """The plane through a line and a point off it, its normal turned to the side of `out`."""
    at, along = line
    n = along.Crossed(gp_Dir(gp_Vec(at, point)))
    if gp_Vec(n).Dot(gp_Vec(out)) < 0:
        n = n.Reversed()
    return gp_Pln(at, n)


# Measuring

def parts(shape, kind, cast):
    found, e = [], TopExp_Explorer(shape, kind)
    while e.More():
        item = cast(e.Current())
        if not any(item.IsSame(f) for f in found):
            found.append(item)
        e.Next()
    return found


def faces(shape):
    return parts(shape, TopAbs_FACE, TopoDS.Face)


def solids(shape):
    return parts(shape, TopAbs_SOLID, TopoDS.Solid)


def edges(shape):
    return parts(shape, TopAbs_EDGE, TopoDS.Edge)


def points(shape):
    return [BRep_Tool.Pnt_s(v) for v in parts(shape, TopAbs_VERTEX, TopoDS.Vertex)]


def normal(face):
    """Outward. (A mirrored plane is left-handed: its axis is not the surface's normal.)"""
    p = BRepAdaptor_Surface(face).Plane()
    n = p.XAxis().Direction().Crossed(p.YAxis().Direction())
    return n.Reversed() if face.Orientation() == TopAbs_REVERSED else n


def dot(a, b):
    return gp_Vec(a).Dot(gp_Vec(b))


def face_toward(shape, direction):
    """The face whose outside looks most to that side."""
    return max(faces(shape), key=lambda f: dot(normal(f), direction))


def pln_of(face):
    return gp_Pln(points(face)[0], normal(face))


def length(edge):
    p = GProp_GProps()
    BRepGProp.LinearProperties_s(edge, p)
    return p.Mass()


def direction(edge):
    a, b = points(edge)
    return gp_Dir(gp_Vec(a, b))


def area(face):
    p = GProp_GProps()
    BRepGProp.SurfaceProperties_s(face, p)
    return p.Mass()


def middle(face):
    p = GProp_GProps()
    BRepGProp.SurfaceProperties_s(face, p)
    return p.CentreOfMass()


def volume(shape):
    p = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, p)
    return p.Mass()


def shared_edge(a, b):
    for e in edges(a):
        for f in edges(b):
            if e.IsSame(f):
                return e
    raise ValueError("the faces share no edge")


def edges_along(shape, d):
    return [e for e in edges(shape) if abs(dot(direction(e), d)) > 1 - 1e-12]


def extent(shape, d):
    at = [gp_Vec(ORIGIN, p).Dot(gp_Vec(d)) for p in points(shape)]
    return max(at) - min(at)


def asin(x):
    return math.degrees(math.asin(max(-1.0, min(1.0, x))))


def angle(a, b):
    """Between two directions, 0 to 180."""
    return math.degrees(math.atan2(gp_Vec(a).Crossed(gp_Vec(b)).Magnitude(), dot(a, b)))


def acute(a, b):
    x = angle(a, b)
    return min(x, 180.0 - x)


def side(x):
    return "left" if x > 1e-12 else "right" if x < -1e-12 else "neither"


def cut(face, along, up):
    """The saw's settings for an end face of a piece that lies with `along` to the right and `up` upwards.

    The line in which the cut meets the table is measured against square, and the cut's plane against the
    plane that stands upright on that line. Swing left: the line's end toward the operator lies left;
    lean left: the plane's top lies left.
    """
    n = normal(face)
    fence = up.Crossed(along)
    n1, n2, n3 = dot(n, along), dot(n, fence), dot(n, up)
    return {
        "mitre_deg": math.degrees(math.atan2(abs(n2), abs(n1))),
        "bevel_deg": asin(abs(n3)),
        "swing": side(-n2 / n1),
        "lean": side(n3 / n1),
    }


def readings(face, along, up):
    c = cut(face, along, up)
    return {k: c[k] for k in ("mitre_deg", "bevel_deg")}
