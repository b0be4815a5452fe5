"""Reads a STEP file with an independent B-rep kernel and tells of every solid in it.

    python check_step.py CASE.step

Prints a JSON list, a solid an entry in the order of the file: {"name": ..., "valid": ..., "volume": mm³, "cylinders": faces that are true
cylinders}. A file that the kernel finds fault with is told, and ends with 1.
"""

import json
import sys

from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.GeomAbs import GeomAbs_Cylinder
from OCP.GProp import GProp_GProps
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.collections import Sequence_TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopAbs import TopAbs_FACE, TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS
from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool


def every(shape, kind):
    """The pieces of that kind in a shape."""
    explorer = TopExp_Explorer(shape, kind)
    while explorer.More():
        yield explorer.Current()
        explorer.Next()


def name_of(label):
    """The name that a label bears."""
    name = TDataStd_Name()
    return name.Get().ToExtString() if label.FindAttribute(TDataStd_Name.GetID_s(), name) else ""


def told(shape, name):
    """What there is to tell of a placed part."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, properties, 1e-9)
    faces = [BRepAdaptor_Surface(TopoDS.Face(face)).GetType() for face in every(shape, TopAbs_FACE)]
    return {
        "name": name,
        "solids": sum(1 for _ in every(shape, TopAbs_SOLID)),
        "valid": bool(BRepCheck_Analyzer(shape).IsValid()),
        "volume": properties.Mass(),
        "cylinders": sum(1 for kind in faces if kind == GeomAbs_Cylinder),
        "faces": len(faces),
    }


def main(path):
    """The exit code."""
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    if reader.ReadFile(path) != IFSelect_RetDone or not reader.Transfer(document):
        print(f"{path}: the kernel does not read it", file=sys.stderr)
        return 1
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    free = Sequence_TDF_Label()
    shapes.GetFreeShapes(free)
    found = []
    for index in range(1, free.Length() + 1):
        parts = Sequence_TDF_Label()
        XCAFDoc_ShapeTool.GetComponents_s(free.Value(index), parts)
        for at in range(1, parts.Length() + 1):
            label = parts.Value(at)
            found.append(told(XCAFDoc_ShapeTool.GetShape_s(label), name_of(label)))
    json.dump(found, sys.stdout)
    return 0


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("use: python check_step.py CASE.step")
    sys.exit(main(sys.argv[1]))
