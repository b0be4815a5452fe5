"""Reckons beams with anastruct, a library of finite elements, and checks that ours bend the same.

    python check_beams.py BEAMS.json

BEAMS.json holds, in N and mm,

    {"beams": [{"name",
                "stretches": [{"length", "bending"}, ...],          bending: E times I
                "supports": [{"at", "built_in"}, ...],
                "loads": [{"at", "force"} or {"from", "to", "per_mm"}, ...],
                "sags": [{"at", "mm"}, ...],                        downward
                "greatest": [{"from", "to", "mm"}, ...],            of each span, either way
                "reactions": [{"at", "force"}, ...]}, ...]}         upward

Every deflection must agree to 0.1 % (or to a millionth of the beam's greatest, where it is next to nothing); so must the
greatest of each span with the greatest found at all places of "sags" and at nodes at most 25 mm apart, and what the
supports bear.
Bending alone: the elements are those of Euler and Bernoulli.

Prints counts and the worst errors; a line for each fault, then ends with 1.
"""

import json
import sys

from anastruct import SystemElements

AGREE = 1e-3
STEP = 25.0
# So stiff lengthwise that nothing is lost to it.
LENGTHWISE = 1e12


def places(beam):
    """Every place where something changes or is compared, and others between them, at most STEP apart."""
    end = sum(stretch["length"] for stretch in beam["stretches"])
    wanted = {0.0, end}
    at = 0.0
    for stretch in beam["stretches"]:
        at += stretch["length"]
        wanted.add(at)
    for thing in beam["supports"] + beam["sags"]:
        wanted.add(thing["at"])
    for load in beam["loads"]:
        wanted.update([load["at"]] if "at" in load else [load["from"], load["to"]])
    wanted = sorted(wanted)
    found = [wanted[0]]
    for stop in wanted[1:]:
        count = max(1, -int(-(stop - found[-1]) // STEP))
        start = found[-1]
        found.extend(start + (stop - start) * step / count for step in range(1, count))
        found.append(stop)
    return found


def bending_at(beam, x):
    at = 0.0
    for stretch in beam["stretches"]:
        at += stretch["length"]
        if x < at:
            return stretch["bending"]
    return beam["stretches"][-1]["bending"]


def solved(beam):
    """Deflection downward and reaction upward by place."""
    at = places(beam)
    node = {x: index + 1 for index, x in enumerate(at)}
    system = SystemElements()
    for element, (a, b) in enumerate(zip(at, at[1:]), start=1):
        middle = (a + b) / 2
        system.add_element([[a, 0.0], [b, 0.0]], EA=LENGTHWISE, EI=bending_at(beam, middle))
        per_mm = sum(load["per_mm"] for load in beam["loads"] if "from" in load and load["from"] < middle < load["to"])
        if per_mm:
            system.q_load(q=-per_mm, element_id=element)
    for index, support in enumerate(beam["supports"]):
        if support["built_in"]:
            system.add_support_fixed(node[support["at"]])
        elif index == 0:
            system.add_support_hinged(node[support["at"]])
        else:
            system.add_support_roll(node[support["at"]])
    for load in beam["loads"]:
        if "at" in load:
            system.point_load(node[load["at"]], Fy=-load["force"])
    system.solve()
    sags = {x: -system.get_node_displacements(node[x])["uy"] for x in at}
    pushed = {load["at"]: 0.0 for load in beam["supports"]}
    for support in pushed:
        pushed[support] = -system.get_node_results_system(node[support])["Fy"]
    return sags, pushed


def main(path):
    with open(path, encoding="utf-8") as file:
        beams = json.load(file)["beams"]
    faults, worst, compared = [], 0.0, 0
    for beam in beams:
        sags, pushed = solved(beam)
        scale = max(abs(sag) for sag in sags.values())
        total = sum(abs(load["force"] if "at" in load else load["per_mm"] * (load["to"] - load["from"])) for load in beam["loads"])
        pairs = [(f"sag at {sag['at']}", sag["mm"], sags[sag["at"]], scale) for sag in beam["sags"]]
        for span in beam["greatest"]:
            within = [abs(sag) for x, sag in sags.items() if span["from"] <= x <= span["to"]]
            pairs.append((f"greatest from {span['from']} to {span['to']}", abs(span["mm"]), max(within), scale))
        for reaction in beam["reactions"]:
            pairs.append((f"reaction at {reaction['at']}", reaction["force"], pushed[reaction["at"]], total))
        for name, ours, theirs, scale in pairs:
            compared += 1
            error = abs(ours - theirs) - 1e-6 * scale
            if error > 0:
                worst = max(worst, error / abs(theirs) if theirs else 1.0)
            if error > AGREE * abs(theirs):
                faults.append(f"{beam['name']}: {name}: ours {ours}, theirs {theirs}")
    print(f"{len(beams)} beams, {compared} figures compared; the worst is off by {worst:.1e} of itself")
    for fault in faults:
        print(fault)
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
