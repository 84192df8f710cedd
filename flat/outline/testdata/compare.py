"""Compares offsets and boolean operations with GEOS, by way of Debian's python3-shapely.

Reads one JSON object a line from standard input and answers each with one. All paths come
as fine chords; the arcs of GEOS are chords too, 64 to the quarter turn. The answer is the
area by which the two results differ (their symmetric difference) and GEOS's own area
and perimeter, from which the Go test derives how much the chords may account for.

The offset is put together from the strips about the single chords, by their union. The buffer
of a whole ring is no measure here: GEOS first leaves out vertices of its concave parts by up to
a hundredth of the distance (BufferInputLineSimplifier.h in its source).
"""
import json
import sys

from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union


def region(loops):
    """Outlines run counter-clockwise and add, holes clockwise and take away, largest first."""
    shape = Polygon()
    for ring in sorted((Polygon(pts) for pts in loops), key=lambda p: -p.area):
        if ring.exterior.is_ccw:
            shape = shape.union(ring)
        else:
            shape = shape.difference(ring)
    return shape


for line in sys.stdin:
    case = json.loads(line)
    a = region(case["a"])
    op = case["op"]
    if op == "offset":
        d = case["d"]
        strips = unary_union([
            LineString([p, q]).buffer(abs(d), resolution=64)
            for ring in case["a"] for p, q in zip(ring, ring[1:] + ring[:1])
        ])
        want = a.union(strips) if d > 0 else a.difference(strips)
    elif op == "area":
        want = a
    else:
        want = getattr(a, op)(region(case["b"]))
    got = region(case["result"])
    print(json.dumps({
        "differs": want.symmetric_difference(got).area,
        "area": want.area,
        "length": want.length + got.length,
    }), flush=True)
