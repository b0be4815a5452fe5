"""Reads STL and 3MF files with trimesh: each must be one proper solid.

    python check_print.py FILE ...

Prints a JSON object: file name -> volume in mm³. A file that is not watertight, or wound inconsistently, is told and ends with 1.
"""

import json
import os
import sys

import trimesh


def main(paths):
    """The exit code."""
    volumes, faults = {}, []
    for path in paths:
        mesh = trimesh.load_mesh(path)
        if not (mesh.is_watertight and mesh.is_winding_consistent):
            faults.append(f"{path}: not watertight")
        volumes[os.path.basename(path)] = float(mesh.volume)
    for fault in faults:
        print(fault, file=sys.stderr)
    print(json.dumps(volumes))
    return 1 if faults else 0


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit("use: python check_print.py FILE ...")
    sys.exit(main(sys.argv[1:]))
