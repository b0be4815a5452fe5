"""Measures PDF pages in their vector coordinates as poppler reads them: the bars of 100 mm, and level lines.

    python check_rod.py PAPER.pdf ...

Prints a JSON object: file name -> a list of pages, each {"width", "height", "across": lengths of the bars that lie, "along": of those that stand, "levels":
[[x from, x to, y from the upper edge], ...]}, all in mm. A bar is a closed rectangle some 100 by 2 or 3. Needs pdftocairo of poppler.
"""

import json
import os
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree

MM = 25.4 / 72
NUMBER = re.compile(r"[-+]?[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?")


def matrix(element):
    """The matrix of an element."""
    found = re.match(r"matrix\(([^)]*)\)", element.get("transform", ""))
    return [float(number) for number in NUMBER.findall(found.group(1))] if found else [1, 0, 0, 1, 0, 0]


def times(a, b):
    """First b, then a."""
    return [
        a[0] * b[0] + a[2] * b[1],
        a[1] * b[0] + a[3] * b[1],
        a[0] * b[2] + a[2] * b[3],
        a[1] * b[2] + a[3] * b[3],
        a[0] * b[4] + a[2] * b[5] + a[4],
        a[1] * b[4] + a[3] * b[5] + a[5],
    ]


def runs(path, by):
    """The runs of straight lines in a path, in mm; curves end one."""
    all_runs, run = [], []
    for letter, numbers in re.findall(r"([MLCZHV])([^MLCZHV]*)", path):
        values = [float(number) for number in NUMBER.findall(numbers)]
        if letter == "M":
            all_runs.append(run)
            run = []
        if letter in "ML":
            for x, y in zip(values[::2], values[1::2]):
                run.append(((by[0] * x + by[2] * y + by[4]) * MM, (by[1] * x + by[3] * y + by[5]) * MM))
        elif letter == "Z" and run:
            run.append(run[0])
        elif letter in "CHV":
            all_runs.append(run)
            run = []
    all_runs.append(run)
    return [one for one in all_runs if len(one) > 1]


def is_stroked(element):
    """Whether a path is drawn as a line: poppler says so in an attribute or in a style."""
    style = dict(part.split(":", 1) for part in element.get("style", "").split(";") if ":" in part)
    return element.get("stroke", style.get("stroke", "none")).strip() != "none"


def stroked(element, by, found):
    """Adds the runs of all stroked paths below an element."""
    by = times(by, matrix(element))
    if element.tag.endswith("}defs"):
        return
    if element.tag.endswith("}path") and is_stroked(element):
        found.extend(runs(element.get("d", ""), by))
    for child in element:
        stroked(child, by, found)


def page(picture):
    """What is measured on a page."""
    found = []
    stroked(picture, [1, 0, 0, 1, 0, 0], found)
    told = {"width": float(picture.get("width").removesuffix("pt")) * MM, "height": float(picture.get("height").removesuffix("pt")) * MM}
    told.update({"across": [], "along": [], "levels": []})
    for run in found:
        if len(run) >= 5 and max(abs(run[0][i] - run[4][i]) for i in (0, 1)) < 1e-3:
            wide, high = abs(run[2][0] - run[0][0]), abs(run[2][1] - run[0][1])
            if 95 < wide < 105 and 2 < high < 3:
                told["across"].append(wide)
            if 95 < high < 105 and 2 < wide < 3:
                told["along"].append(high)
        for a, b in zip(run, run[1:]):
            if abs(a[1] - b[1]) < 1e-3 and abs(a[0] - b[0]) > 1:
                told["levels"].append([min(a[0], b[0]), max(a[0], b[0]), a[1]])
    return told


def pages(path):
    """What is measured on all pages of a file."""
    count = subprocess.run(["pdfinfo", path], check=True, capture_output=True, text=True).stdout
    count = int(re.search(r"^Pages:\s*(\d+)", count, re.MULTILINE).group(1))
    told = []
    with tempfile.TemporaryDirectory() as folder:
        out = os.path.join(folder, "page.svg")
        for number in range(1, count + 1):
            # Else it fits pages to the paper, which makes them smaller by a hair.
            whole = ["-noshrink", "-nocenter", "-f", str(number), "-l", str(number)]
            subprocess.run(["pdftocairo", "-svg", *whole, path, out], check=True)
            told.append(page(tree.parse(out).getroot()))
    return told


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit("use: python check_rod.py PAPER.pdf ...")
    print(json.dumps({os.path.basename(path): pages(path) for path in sys.argv[1:]}))
