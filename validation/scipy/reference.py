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
import math
import os
import sys

from mechanics import BOARD, DEGREE, FOOT, GRAVITY, INCH, MICROINCH, MPH, OIL_UNIT, POUND, RPM, layout_vectors
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

def ball(name_k, mass=None, pounds=None, radius=None, diameter_in=None, layout=(45, 3.375, 45), offset_mm=(0, 0, 0),
         contact_radius_mm=0.0, roughness_uin=25.0, rolling_resistance=0.0):
    """name_k is "uniform" or the three principal radii of gyration in inches (low, intermediate, high)."""
    mass = pounds * POUND if mass is None else mass
    radius = diameter_in * INCH / 2 if radius is None else radius
    k = [math.sqrt(0.4) * radius] * 3 if name_k == "uniform" else [v * INCH for v in name_k]
    angles = layout[0] * DEGREE, layout[1] * INCH, layout[2] * DEGREE
    pap, fingers = layout_vectors(*angles, radius)
    return {"mass_kg": mass, "radius_m": radius, "radii_of_gyration_m": k,
            "principal_moments_kg_m2": [0.4 * mass * radius**2] * 3 if name_k == "uniform" else [mass * v**2 for v in k],
            "mass_centre_offset_m": [v * 1e-3 for v in offset_mm],
            "layout": {"drilling_angle_deg": layout[0], "pin_to_pap_in": layout[1], "val_angle_deg": layout[2]},
            "pap_body": pap.tolist(), "fingers_body": fingers.tolist(),
            "contact_radius_m": contact_radius_mm * 1e-3, "rolling_resistance": rolling_resistance,
            "roughness_m": roughness_uin * MICROINCH}


def release(speed=None, mph=None, rpm=0.0, rotation=0.0, tilt=0.0, angle=0.0, phase=0.0, laydown=20.0, laydown_distance=0.0):
    return {"speed_m_s": mph * MPH if speed is None else speed, "rev_rate_rad_s": rpm * RPM,
            "axis_rotation_rad": rotation * DEGREE, "axis_tilt_rad": tilt * DEGREE, "launch_angle_rad": angle * DEGREE,
            "phase_rad": phase * DEGREE, "laydown_board": laydown, "laydown_distance_m": laydown_distance,
            "trade": {"speed_mph": (speed / MPH if mph is None else mph), "rev_rate_rpm": rpm, "axis_rotation_deg": rotation,
                      "axis_tilt_deg": tilt, "launch_angle_deg": angle, "phase_deg": phase}}


def lane(tilt_in=0.0, gravity=GRAVITY, oil=None, endless=False, roughness=0.0):
    out = {"gravity_m_s2": gravity, "tilt_m": tilt_in * INCH, "roughness_m": roughness, "endless": endless}
    if oil:
        out["oil"] = oil
    return out


def crowned_oil():
    """40 units at the front of the middle boards, falling in a straight line to 35 % at 41 ft."""
    def across(b):
        a = abs(b - 20)
        if a <= 5:
            return 1.0
        return 0.1 if a >= 13 else 0.55 + 0.45 * math.cos(math.pi * (a - 5) / 8)
    feet = range(42)
    return {"formula": "units(x, b) = 40 (1 - 0.65 x / 41 ft) c(b); with a = |b - 20|: c = 1 for a <= 5, "
                       "0.55 + 0.45 cos(pi (a - 5) / 8) for 5 < a < 13, 0.1 for a >= 13; nodes at every foot 0 to 41 and "
                       "board centre 1 to 39, bilinear between, constant outside boards 1 and 39, dry beyond 41 ft",
            "unit_m": OIL_UNIT, "distances_m": [f * FOOT for f in feet],
            "units": [[40 * (1 - 0.65 * f / 41) * across(b) for b in range(1, 40)] for f in feet]}


def constant(mu):
    return {"law": "constant", "mu": mu}


TWO_ZONES = {"law": "zones", "zones": [{"to_m": 12.0, "mu": 0.04}, {"mu": 0.20}]}
SLICK_ZONES = {"law": "zones", "zones": [{"to_m": 12.0, "mu": 0.022}, {"mu": 0.20}]}
MIXED = {"law": "mixed", "film": 0.04, "dry": 0.22, "entrained": 0.5, "film_memory": "off"}


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
