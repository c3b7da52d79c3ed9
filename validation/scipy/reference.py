"""Bowling-ball shots integrated with scipy, independently of the Go program.

Nothing of the Go code is used. The accelerations are not taken from reduced formulas:
Newton's and Euler's equations, the height constraint and either Coulomb's law or the
rolling constraint form one linear system for the spin's rate of change and the contact
force, solved at each evaluation. The shot is a hybrid system of sliding and rolling. Near
zero slip the slip velocity is written as (ln|u|, direction) with time stretched by 1/|u|,
which removes the singularity without softening the friction law.

Lane frame: x down-lane from the foul line, y left, z up. Body frame: axis 1 the pin
(low RG), axis 2 the intermediate axis (PSA x pin), axis 3 the preferred spin axis.

    /usr/bin/python3 reference.py            writes cases.json
    /usr/bin/python3 reference.py --check    compares with published and derived values
"""

import argparse
import json
import os
import sys

from inputs import MIXED, SLICK_ZONES, TWO_ZONES, ball, constant, crowned_oil, lane, release
from mechanics import BOARD
from shot import COARSE, FINE, Shot


def largest_difference(a, b, scale, worst, path=""):
    """Largest absolute difference by the last name in the path."""
    if isinstance(a, dict):
        for k in a:
            largest_difference(a[k], b[k], scale, worst, k)
    elif isinstance(a, list):
        if len(a) != len(b):
            raise RuntimeError("the two settings differ in the number of " + path)
        for p, q in zip(a, b):
            largest_difference(p, q, scale, worst, path)
    elif isinstance(a, float):
        worst[path] = max(worst.get(path, 0.0), abs(a - b))
    elif a != b:
        raise RuntimeError("the two settings differ in " + path)
    return worst


def solve_case(case):
    fine = Shot(case, FINE).run()
    expected = fine.result()
    coarse = Shot(case, COARSE).run().result()
    worst = largest_difference(expected, coarse, None, {})
    end = expected["end"]
    balance = end["energy_J"] - fine.energy_0 - end["work_J"]
    return expected, {"settings_agree_to": {k: float("%.1e" % v) for k, v in sorted(worst.items())},
                      "energy_balance_J": float("%.1e" % abs(balance))}


# ---------------------------------------------------------------- cases


def cases():
    c = []

    def add(name, note, the_ball, the_lane, friction, the_release):
        c.append({"name": name, "note": note, "ball": the_ball, "lane": the_lane, "friction": friction, "release": the_release})

    core = (2.48, 2.515, 2.53)  # RG 2.48, differential 0.050, intermediate differential 0.015
    benchmark = dict(mph=18.5, rpm=350, rotation=50, tilt=12, laydown=24, angle=2.86)
    add("textbook", "uniform sphere without spin, one friction coefficient", ball("uniform", mass=7.0, radius=0.11),
        lane(gravity=9.8), constant(0.21), release(speed=8.5))
    add("two-zone uniform", "0.04 to 12 m, then 0.20; leaves a real lane, so the lane has no edges here",
        ball("uniform", mass=7.0, radius=0.108), lane(endless=True), TWO_ZONES, release(speed=8.0, rpm=300, rotation=45))
    for name, note, pin_to_pap in (("symmetric core", "pin far from the axis: rolls without slipping again", 6.0),
                                   ("symmetric core, pin near 45 degrees", "rolls and slips again at every turn", 4.0)):
        add(name, "one friction coefficient, full shot; " + note,
            ball((2.50, 2.55, 2.55), pounds=15, diameter_in=8.57, layout=(55, pin_to_pap, 35)), lane(), constant(0.12),
            release(mph=17.5, rpm=320, rotation=30, tilt=13, laydown=11, angle=2.0))
    add("benchmark", "mixed friction on a crowned pattern, no pivot friction",
        ball(core, pounds=15, diameter_in=8.57, layout=(60, 4.5, 40)), lane(oil=crowned_oil()), MIXED, release(**benchmark))
    add("benchmark with pivot friction", "as before with a contact radius of 2.5 mm",
        ball(core, pounds=15, diameter_in=8.57, layout=(60, 4.5, 40), contact_radius_mm=2.5), lane(oil=crowned_oil()), MIXED,
        release(**benchmark))
    for axis, offset in zip(("pin", "intermediate", "PSA"), ((1, 0, 0), (0, 1, 0), (0, 0, 1))):
        add("offset along the %s axis" % axis, "mass centre 1 mm from the sphere's centre, two zones",
            ball(core, pounds=15, diameter_in=8.57, layout=(60, 4.5, 40), offset_mm=offset), lane(), SLICK_ZONES,
            release(mph=18.5, rpm=350, rotation=50, tilt=12, laydown=21, angle=1.5))
    add("tilted lane", "left edge 0.040 in higher", ball(core, pounds=15, diameter_in=8.57, layout=(60, 4.5, 40)),
        lane(tilt_in=0.040), SLICK_ZONES, release(mph=18.5, rpm=350, rotation=50, tilt=12, laydown=21, angle=1.5))
    add("negative tilt", "axis pointing down, with offset on all axes, pivot friction and a lower left edge",
        ball(core, pounds=14, diameter_in=8.55, layout=(30, 3.375, 20), offset_mm=(0.5, -0.3, 0.4), contact_radius_mm=2.5),
        lane(tilt_in=-0.040), SLICK_ZONES, release(mph=17.0, rpm=280, rotation=60, tilt=-10, laydown=20, angle=1.2, phase=30))
    add("no revs", "0 rpm; the orientation still follows from rotation, tilt and phase",
        ball((2.50, 2.54, 2.55), pounds=12, diameter_in=8.5, layout=(70, 5.0, 60), offset_mm=(0.3, 0.2, -0.4)),
        lane(), TWO_ZONES, release(mph=16.0, rpm=0, rotation=30, tilt=20, laydown=15, angle=-0.8, phase=0))
    add("high revs", "550 rpm, asymmetric core, phase 90 degrees, laid down 3 ft past the foul line",
        ball((2.46, 2.50, 2.52), pounds=15, diameter_in=8.59, layout=(45, 3.375, 30), contact_radius_mm=2.5),
        lane(oil=crowned_oil(), roughness=0.2e-6), MIXED,
        release(mph=20.5, rpm=550, rotation=40, tilt=8, laydown=27, angle=4.2, phase=90, laydown_distance=0.9144))
    add("rolling resistance", "symmetric core, rolling resistance 0.002, pivot friction",
        ball((2.50, 2.52, 2.52), pounds=15, diameter_in=8.57, layout=(55, 4.0, 35), contact_radius_mm=2.5, rolling_resistance=0.002),
        lane(), constant(0.12), release(mph=17.5, rpm=320, rotation=25, tilt=13, laydown=12, angle=1.5))
    add("pivot sticks", "uniform sphere whose small tilt is worn away while it rolls",
        ball("uniform", pounds=15, diameter_in=8.57, contact_radius_mm=2.5), lane(), constant(0.12),
        release(mph=17.5, rpm=320, rotation=20, tilt=0.5, laydown=10, angle=1.0))
    add("slips again", "large differential, high revs, low friction that the rolling force exceeds",
        ball((2.46, 2.52, 2.54), pounds=15, diameter_in=8.57, layout=(50, 3.375, 45)), lane(endless=True), constant(0.12),
        release(mph=15.0, rpm=550, rotation=0, tilt=45, laydown=20, angle=0))
    return c


LAYOUT_NOTE = ("Moments are about the mass centre, in body axes (pin, PSA x pin, PSA); pap_body and fingers_body are the unit "
               "vectors of the PAP and of t_up in these axes, from the layout with angle = distance / radius. Undrilled balls. "
               "Lane axes: x down-lane, y left, z up; board = 20 + y / board width. tilt_m is the rise of the left edge over "
               "41.5 in. Each state holds the axes pin_lane and psa_lane in lane components; contact_force_N is (down-lane, left).")


def write_cases(path):
    out = []
    for case in cases():
        expected, accuracy = solve_case(case)
        out.append(dict(case, expected=expected, accuracy=accuracy))
        end = expected["end"]
        print("%-32s board %8.4f  %.6f s  rolls %s  %s" % (case["name"], end["board"], end["time_s"],
              ["%.3f m" % r["distance_m"] for r in expected["roll_entries"]], expected["other_events"]), file=sys.stderr)
        print("    ", {k: accuracy["settings_agree_to"][k] for k in ("time_s", "lateral_m", "velocity_m_s", "spin_rad_s", "pin_lane")},
              accuracy["energy_balance_J"], file=sys.stderr)
    data = {"format": 1, "conventions": LAYOUT_NOTE, "board_m": BOARD, "settings": {"fine": FINE, "coarse": COARSE}, "cases": out}
    with open(path, "w") as f:
        f.write(dump(data))


def dump(value, indent=0, width=150):
    """JSON with short lists and mappings kept on one line."""
    flat = json.dumps(value, allow_nan=False)
    pad = " " * (indent + 1)
    if len(flat) + indent <= width or not isinstance(value, (dict, list)):
        return flat + ("\n" if indent == 0 else "")
    if isinstance(value, dict):
        inner = [pad + json.dumps(k) + ": " + dump(v, indent + 1, width) for k, v in value.items()]
        text = "{\n" + ",\n".join(inner) + "\n" + " " * indent + "}"
    else:
        inner = [pad + (json.dumps(v) if not isinstance(v, (dict, list)) else dump(v, indent + 1, width)) for v in value]
        if all(isinstance(v, float) for v in value):
            return flat
        text = "[\n" + ",\n".join(inner) + "\n" + " " * indent + "]"
    return text + ("\n" if indent == 0 else "")


def main():
    parser = argparse.ArgumentParser(description="Bowling shots integrated with scipy.")
    parser.add_argument("--check", action="store_true", help="compare with published and derived values")
    arguments = parser.parse_args()
    if arguments.check:
        import published
        published.check()
    else:
        write_cases(os.path.join(os.path.dirname(os.path.abspath(__file__)), "cases.json"))


if __name__ == "__main__":
    main()
