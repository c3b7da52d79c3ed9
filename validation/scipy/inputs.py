"""Balls, releases and lanes of the cases. Units and geometry as in mechanics.py."""

import math

from mechanics import DEGREE, FOOT, GRAVITY, INCH, MICROINCH, MPH, OIL_UNIT, POUND, RPM, layout_vectors


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
