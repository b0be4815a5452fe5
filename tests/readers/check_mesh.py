"""Reads a Wavefront OBJ file of many objects with trimesh and checks that each is a proper solid.

    python check_mesh.py MODEL.obj VOLUMES.json

VOLUMES.json says for every object (`o NAME` in the OBJ file) its volume in mm³: {"NAME": 123.4, ...}. Each object must
be watertight, wound the same way all over with its normals outward, and of that volume to one part in a million; and
both files must name the same objects. Prints a line for each fault and ends with 1, or one line and 0.
"""

import json
import math
import sys

import trimesh

TOLERANCE = 1e-6


def faults_of(mesh, wanted_mm3):
    """What is wrong with one object."""
    if not mesh.is_watertight:
        yield "is not watertight"
    if not mesh.is_winding_consistent:
        yield "has faces wound against their neighbours"
    # trimesh gives a negative volume to a solid that is turned inside out.
    volume = float(mesh.volume)
    if not math.isclose(volume, wanted_mm3, rel_tol=TOLERANCE):
        yield f"has a volume of {volume:.9g} mm³ where {wanted_mm3:.9g} mm³ is said"


def read_objects(path):
    """Name → mesh, as trimesh reads it. Corners at the same place are made one, as a reader of solids must."""
    scene = trimesh.load_scene(path, split_objects=True, group_material=False, process=True)
    return dict(scene.geometry)


def main(model_path, volumes_path):
    """The exit code."""
    with open(volumes_path, encoding="utf-8") as file:
        volumes = json.load(file)
    objects = read_objects(model_path)

    faults = [f"{name}: in {volumes_path} but not in {model_path}" for name in volumes.keys() - objects.keys()]
    faults += [f"{name}: in {model_path} but not in {volumes_path}" for name in objects.keys() - volumes.keys()]
    for name in objects.keys() & volumes.keys():
        faults += [f"{name}: {fault}" for fault in faults_of(objects[name], volumes[name])]
    if not objects:
        faults.append(f"{model_path}: holds no objects")

    for fault in sorted(faults):
        print(fault, file=sys.stderr)
    if not faults:
        total = sum(volumes.values())
        print(f"{model_path}: {len(objects)} solids, watertight, {total:.3f} mm³ as said")
    return 1 if faults else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit("use: python check_mesh.py MODEL.obj VOLUMES.json")
    sys.exit(main(*sys.argv[1:]))
