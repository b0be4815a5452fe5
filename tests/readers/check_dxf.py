"""Reads DXF files with ezdxf: each must pass its audit, in millimetres; tells what is in it.

    python check_dxf.py FILE.dxf ...

Prints a JSON object: file name -> {"width", "height" of the layer "outline", mm, "layers": names in use, "lines": how many, "length": of all
lines of the outline, mm}. A fault ends with 1.
"""

import json
import math
import os
import sys

import ezdxf
from ezdxf import bbox

MILLIMETRES = 4


def length_of(polyline):
    """The length of a polyline, along its arcs."""
    length = 0
    for part in polyline.virtual_entities():
        if part.dxftype() == "LINE":
            length += part.dxf.start.distance(part.dxf.end)
        else:
            turn = (part.dxf.end_angle - part.dxf.start_angle) % 360 or 360
            length += math.radians(turn) * part.dxf.radius
    return length


def told(path):
    """What is in a file."""
    drawing = ezdxf.readfile(path)
    audit = drawing.audit()
    if audit.has_errors:
        raise ValueError(f"{path}: " + "; ".join(error.message for error in audit.errors))
    if drawing.header.get("$INSUNITS") != MILLIMETRES:
        raise ValueError(f"{path}: not in millimetres")
    model = drawing.modelspace()
    outline = list(model.query('LWPOLYLINE[layer=="outline"]'))
    size = bbox.extents(outline, fast=False).size
    return {
        "width": size.x,
        "height": size.y,
        "layers": sorted({entity.dxf.layer for entity in model}),
        "lines": len(model),
        "length": sum(length_of(line) for line in outline),
    }


def main(paths):
    """The exit code."""
    try:
        print(json.dumps({os.path.basename(path): told(path) for path in paths}))
    except (ValueError, IOError, ezdxf.DXFError) as fault:
        print(fault, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit("use: python check_dxf.py FILE.dxf ...")
    sys.exit(main(sys.argv[1:]))
