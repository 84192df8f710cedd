"""Reads each DXF named with ezdxf and with GDAL and holds them against each other.

ezdxf's audit must find no error and nothing to fix; both readers must see the
same number of entities on each layer, and the CUT outlines must enclose the same
area in both: exactly from the bulges that ezdxf reads, by the chords of 0.1 degree
that GDAL makes of an arc. So to a millionth, and what the chords lose of the arcs.
"""
import collections
import json
import math
import subprocess
import sys

import ezdxf


def area(points):
    return 0.5 * sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(points, points[1:] + points[:1]))


def vertices(entity):
    """x, y and bulge of a closed polyline of either generation of the format."""
    if entity.dxftype() == "LWPOLYLINE":
        return [(x, y, bulge) for x, y, _, _, bulge in entity.get_points()]
    return [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in entity.vertices]


def exact_area(points):
    """Area of a closed polyline with bulges: the chords' and, on each arc of
    radius r and sweep w, the cap r^2 (w - sin w) / 2."""
    total = area([p[:2] for p in points])
    for (x, y, bulge), (u, v, _) in zip(points, points[1:] + points[:1]):
        if bulge:
            sweep = 4 * math.atan(bulge)
            radius = math.dist((x, y), (u, v)) / 2 / math.sin(abs(sweep) / 2)
            total += radius * radius * (sweep - math.sin(sweep)) / 2
    return total


def chord_loss(points, step=math.radians(0.1)):
    """The area between the arcs of a polyline and chords of the given step: each
    cap of sweep d is r^2 d^3 / 12 to first order."""
    loss = 0.0
    for (x, y, bulge), (u, v, _) in zip(points, points[1:] + points[:1]):
        if bulge:
            sweep = 4 * math.atan(abs(bulge))
            radius = math.dist((x, y), (u, v)) / 2 / math.sin(sweep / 2)
            loss += radius * radius * sweep * min(step, sweep) ** 2 / 12
    return loss


def hold(name):
    document = ezdxf.readfile(name)
    audit = document.audit()
    assert not audit.errors, audit.errors
    assert not audit.fixes, audit.fixes

    mine = collections.Counter()
    cut = lost = 0.0
    declared = {layer.dxf.name for layer in document.layers}
    for entity in document.modelspace():
        mine[entity.dxf.layer] += 1
        assert entity.dxf.layer in declared, f"{name}: layer {entity.dxf.layer} is not declared"
        if entity.dxf.layer == "CUT":
            assert entity.dxftype() in ("LWPOLYLINE", "POLYLINE"), entity.dxftype()
            assert entity.is_closed, "the cut outline is open"
            cut += exact_area(vertices(entity))
            lost += chord_loss(vertices(entity))

    features = json.loads(subprocess.run(
        ["ogr2ogr", "-f", "GeoJSON", "/vsistdout/", name, "--config", "OGR_ARC_STEPSIZE", "0.1"],
        check=True, capture_output=True, text=True).stdout)["features"]
    theirs = collections.Counter(f["properties"]["Layer"] for f in features)
    assert mine == theirs, f"{name}: ezdxf {mine}, GDAL {theirs}"
    seen = 0.0
    for f in features:
        if f["properties"]["Layer"] != "CUT":
            continue
        kind, points = f["geometry"]["type"], f["geometry"]["coordinates"]
        ring = points[0] if kind == "Polygon" else points
        assert math.dist(ring[0][:2], ring[-1][:2]) < 1e-6, "GDAL reads the cut outline as open"
        seen += area([tuple(p[:2]) for p in ring[:-1]])
    assert cut > 0, f"{name}: no cut outline, or clockwise: area {cut}"
    assert abs(abs(seen) - cut) <= 1e-6 * cut + 2 * lost, f"{name}: area {cut} by ezdxf, {seen} by GDAL"
    print(f"{name}: {sum(mine.values())} entities on {len(mine)} layers, area {cut:.9f}, read alike by ezdxf and GDAL")


for name in sys.argv[1:]:
    hold(name)
