"""Read DXF files with ezdxf, strictly, and say in JSON what was found.

Areas come from the bulges by the circular-segment formula, written here on its own:
area of a chord polygon plus r^2/2 (s - sin s) for an arc of sweep s.
"""
import json
import math
import sys

import ezdxf


def area(points):
    total = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(points, points[1:] + points[:1]):
        total += (x0 * y1 - x1 * y0) / 2
        if bulge:
            sweep = 4 * math.atan(bulge)
            radius = math.hypot(x1 - x0, y1 - y0) / (2 * math.sin(abs(sweep) / 2))
            total += radius * radius / 2 * (sweep - math.sin(sweep))
    return total


def look(name):
    doc = ezdxf.readfile(name)
    audit = doc.audit()
    found = {
        "version": doc.dxfversion,
        "units": doc.units,
        "measurement": doc.header["$MEASUREMENT"],
        "faults": [str(e.message) for e in audit.errors + audit.fixes],
        "entities": {},
        "areas": {},
        "open": 0,
        "text": [],
    }
    for e in doc.modelspace():
        layer = e.dxf.layer
        if layer not in doc.layers:
            found["faults"].append("undeclared layer " + layer)
        key = e.dxftype() + " " + layer
        found["entities"][key] = found["entities"].get(key, 0) + 1
        if e.dxftype() == "LWPOLYLINE":
            closed, points = e.closed, [tuple(p) for p in e.get_points("xyb")]
        elif e.dxftype() == "POLYLINE":
            closed = e.is_closed
            points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0)) for v in e.vertices]
        elif e.dxftype() == "CIRCLE":
            found["areas"].setdefault(layer, []).append(math.pi * e.dxf.radius ** 2)
            continue
        elif e.dxftype() == "TEXT":
            found["text"].append(e.plain_text())
            continue
        else:
            continue
        if closed:
            found["areas"].setdefault(layer, []).append(area(points))
        else:
            found["open"] += 1
    return found


print(json.dumps([look(name) for name in sys.argv[1:]]))
