"""Builds solids with manifold3d and checks that ours are the same.

    python check_solids.py SOLIDS.json

SOLIDS.json holds

    {"parts": [{"name", "size": [l, w, t],
                "prisms": [{"axis": 0..2, "from", "to", "outline": [[u, v], ...]}, ...],
                "volume", "cells", "positions": [[x, y, z], ...], "triangles": [[a, b, c], ...]}, ...],
     "pairs": [{"name", "a", "b", "pose_a": {"basis": 3 columns, "origin"}, "pose_b": {...}, "volume"}, ...]}

A part is the box from the origin to `size` less its prisms: the outline, counter-clockwise across `axis` in the two axes
that follow it in cyclic order, swept from `from` to `to`. `volume` is that of our surface, `cells` that of our convex
pieces, both in mm³; `volume` of a pair is what our two parts have in common where they stand, null where they only touch
or are apart.

For every part our mesh must be a manifold to the library, of the volume that is said, and it must fill the same space:
what it has without the library's own solid, and the other way round, comes to no more than one part in a million. For
every pair both must say overlap or both none, and of the same volume. The library works in double precision from its
version 3 on; 2.x rounded every corner to single precision and could not tell.

Prints counts and the worst errors; a line for each fault, then ends with 1.
"""

import json
import sys

import numpy
from manifold3d import Error, Manifold, Mesh64, OpType, triangulate

TOLERANCE = 1e-6
# Less in common than this is what rounding leaves between turned faces that touch, mm³.
TOUCH_MM3 = 1e-8


def solid_of(positions, triangles):
    """A solid of the library's own, on exactly these corners."""
    return Manifold(Mesh64(numpy.asarray(positions, dtype=numpy.float64), numpy.asarray(triangles, dtype=numpy.uint64)))


def box(size):
    """The blank."""
    return Manifold.cube(size)


def prism(axis, start, end, outline):
    """An outline swept along an axis: two ends, and two triangles to each side."""
    flat = numpy.asarray(outline, dtype=numpy.float64)
    count = len(flat)
    positions = numpy.empty((2 * count, 3))
    for half, depth in enumerate((start, end)):
        rows = slice(half * count, (half + 1) * count)
        positions[rows, axis] = depth
        positions[rows, (axis + 1) % 3] = flat[:, 0]
        positions[rows, (axis + 2) % 3] = flat[:, 1]
    triangles = []
    for a, b, c in triangulate([flat]):
        triangles += [[a, c, b], [count + a, count + b, count + c]]
    for a in range(count):
        b = (a + 1) % count
        triangles += [[a, b, count + b], [a, count + b, count + a]]
    return solid_of(positions, triangles)


def built(part):
    """The part as the library cuts it."""
    cuts = [prism(cut["axis"], cut["from"], cut["to"], cut["outline"]) for cut in part["prisms"]]
    for cut in cuts:
        if cut.status() != Error.NoError:
            raise ValueError(f"{part['name']}: the library takes no prism of this outline: {cut.status()}")
    return Manifold.batch_boolean([box(part["size"]), *cuts], OpType.Subtract)


def placed(solid, pose):
    """The solid where it stands: three columns of the basis, then the origin."""
    return solid.transform(numpy.column_stack([*pose["basis"], pose["origin"]]))


class Report:
    """What was compared, and what was found."""

    def __init__(self):
        self.faults = []
        self.worst = {}

    def compare(self, name, what, found, wanted, scale):
        """Notes how far two volumes are apart, as part of `scale`."""
        error = abs(found - wanted) / max(scale, 1e-300)
        self.worst[what] = max(self.worst.get(what, 0.0), error)
        if not error <= TOLERANCE:
            self.faults.append(f"{name}: {what}: {found:.9g} mm³ where the library has {wanted:.9g} mm³")


def check_part(part, theirs, report):
    """Our part against the library's."""
    name, wanted = part["name"], theirs.volume()
    ours = solid_of(part["positions"], part["triangles"])
    if ours.status() != Error.NoError:
        report.faults.append(f"{name}: our mesh is no solid to the library: {ours.status()}")
        return
    report.compare(name, "volume said", part["volume"], wanted, wanted)
    report.compare(name, "volume of the mesh", ours.volume(), wanted, wanted)
    report.compare(name, "volume of the cells", part["cells"], wanted, wanted)
    report.compare(name, "space that only one of them fills", (ours - theirs).volume() + (theirs - ours).volume(), 0.0, wanted)


def check_pair(pair, solids, report):
    """Whether two parts have space in common, and how much; gives the verdict."""
    a, b = solids[pair["a"]], solids[pair["b"]]
    common = (placed(a, pair["pose_a"]) ^ placed(b, pair["pose_b"])).volume()
    ours = pair["volume"]
    overlap = common > TOUCH_MM3
    if overlap != (ours is not None):
        report.faults.append(f"{pair['name']}: we say {ours}, the library has {common:.9g} mm³ in common")
    elif overlap:
        report.compare(pair["name"], "volume in common", ours, common, common + TOUCH_MM3 / TOLERANCE)
    return overlap


def main(path):
    """The exit code."""
    with open(path, encoding="utf-8") as file:
        document = json.load(file)
    report = Report()
    solids = [built(part) for part in document["parts"]]
    for part, theirs in zip(document["parts"], solids, strict=True):
        check_part(part, theirs, report)
    overlapping = sum(check_pair(pair, solids, report) for pair in document["pairs"])

    parts, pairs = len(document["parts"]), len(document["pairs"])
    print(f"{parts} parts, {pairs} pairs of which {overlapping} overlap")
    for what, error in report.worst.items():
        print(f"  worst error, {what}: {error:.2g} of the whole")
    for fault in report.faults:
        print(fault, file=sys.stderr)
    return 1 if report.faults or not parts or not pairs else 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("use: python check_solids.py SOLIDS.json")
    sys.exit(main(sys.argv[1]))
