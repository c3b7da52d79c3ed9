"""Compares the scipy reference with published and derived values: /usr/bin/python3 reference.py --check"""

import math

import numpy as np
from scipy.special import ellipj, ellipkinc

from inputs import TWO_ZONES, ball, constant, lane, release
from mechanics import BOARD, DEGREE, FOOT, GRAVITY, INCH, LANE_WIDTH, MPH, OIL_UNIT, RPM, layout_vectors, quaternion_to_matrix
from shot import FINE, Shot

FAST = dict(FINE, rtol=1e-11, atol=1e-12, max_step=0.008)
ENDLESS = 1e6


def shot(the_ball, friction, the_release, gravity=GRAVITY, end_time=None, end_x=60 * FOOT, marks=(), tilt_in=0.0, orientation=None):
    case = {"ball": the_ball, "lane": lane(gravity=gravity, endless=True, tilt_in=tilt_in), "friction": friction, "release": dict(the_release)}
    if orientation is not None:
        case["release"]["orientation_body_to_lane"] = orientation
    s = Shot(case, FAST, end_time=end_time, marks=marks, end_x=end_x)
    s.run()
    return s


class Table:
    def __init__(self):
        self.bad = 0

    def row(self, what, got, stated, digits_unit):
        """digits_unit: one unit in the last stated digit; agreement means within one of them (half, plus a rounded input)."""
        ok = abs(got - stated) <= digits_unit
        self.bad += not ok
        print("%-74s %18.10g %18.10g  %s" % (what, got, stated, "agrees" if ok else "DIFFERS by %.3g" % (got - stated)))


def textbook(t):
    def problem(name, radius, kappa, v0, back, mu, g, stated):
        k = math.sqrt(kappa) * radius / INCH
        s = shot(ball((k, k, k), mass=7.0, radius=radius), constant(mu),
                 release(speed=v0, rpm=back / RPM, rotation=180.0 if back else 0.0), gravity=g)
        r = s.rolls[0]
        for (label, got), (value, unit) in zip((("slides s", r["time_s"]), ("m", r["distance_m"]), ("then m/s", r["speed_m_s"])), stated):
            t.row(name + ": " + label, got, value, unit)
        return s
    problem("sphere 8.5 m/s, mu 0.21", 0.11, 0.4, 8.5, 0, 0.21, 9.8, ((1.180, 1e-3), (8.598, 1e-3), (6.071, 1e-3)))
    t.row("  deceleration", 0.21 * 9.8, 2.06, 1e-2)
    t.row("  spin-up", 0.21 * 9.8 / 0.4 / 0.11, 46.8, 0.1)
    problem("sphere 8.10 m/s, mu 0.19", 0.11, 0.4, 8.10, 0, 0.19, 9.8, ((1.2429, 1e-4), (8.629, 1e-3), (5.786, 1e-3)))
    g = 32.2 * FOOT
    problem("backspin 9 rad/s, mu 0.10 (feet)", 4 * INCH, 0.4, 15 * FOOT, 9.0, 0.10, g,
            ((1.597, 1e-3), (19.85 * FOOT, 1e-2 * FOOT), (9.857 * FOOT, 1e-3 * FOOT)))
    radius = 27 * INCH / (2 * math.pi)
    problem("k 3.28 in, 20 ft/s, mu 0.20 (feet)", radius, (3.28 * INCH / radius)**2, 20 * FOOT, 0, 0.20, g,
            ((1.1433, 1e-4), (18.6567 * FOOT, 1e-4 * FOOT), (12.637 * FOOT, 1e-3 * FOOT)))
    for k, value in ((2.46, 0.7532), (2.50, 0.7472), (2.55, 0.7396), (2.60, 0.7320), (2.80, 0.7020)):
        s = shot(ball((k, k, k), mass=7.0, radius=4.2975 * INCH), constant(0.3), release(speed=8.0))
        t.row("final over release speed, k %.2f in" % k, s.rolls[0]["speed_m_s"] / 8, value, 1e-4)


def two_zones(t):
    b = ball("uniform", mass=7.0, radius=0.108)
    stated = (("300 rpm 45 deg", release(speed=8.0, rpm=300, rotation=45),
               (1.554455, 0.186608, 0.240094, 7.439499), (2.131163, 0.453499, 15.990606), (2.490144, 0.699571, 6.436365, 6.1136)),
              ("0 rpm", release(speed=8.0), (1.559636, 0, 0, 7.388208), (2.413099, 0, 17.591245), (2.535031, 0, 5.714286, 0)))
    for name, r, zone, roll, pins in stated:
        s = shot(b, TWO_ZONES, r)
        p, q, e = s.plane_states[12.0], s.rolls[0], s.end
        for label, got, value in zip(("12 m: s", "lateral", "left", "down-lane"),
                                     (p["time_s"], p["lateral_m"], p["velocity_m_s"][1], p["velocity_m_s"][0]), zone):
            t.row("two zones %s, %s" % (name, label), got, value, 1e-6)
        for label, got, value in zip(("roll: s", "lateral", "down-lane"), (q["time_s"], q["lateral_m"], q["distance_m"]), roll):
            t.row("two zones %s, %s" % (name, label), got, value, 1e-6)
        for label, got, value, unit in zip(("pins: s", "lateral", "speed", "deg"),
                                           (e["time_s"], e["lateral_m"], e["speed_m_s"], e["heading_deg"]), pins, (1e-6, 1e-6, 1e-6, 1e-4)):
            t.row("two zones %s, %s" % (name, label), got, value, unit)


def rigid_body(t):
    # Low axis up; body columns (low, then two equal ones) = (up, right, down-lane) in lane components.
    orientation = np.column_stack([[0, 0, 1.0], [0, -1.0, 0], [1.0, 0, 0]])
    s = shot(ball((2.50, 2.55, 2.55), mass=7.0, radius=0.108), constant(0.04),
             release(speed=8.0, rpm=300, rotation=45, tilt=15), end_time=1.0, orientation=orientation)
    e = s.end
    w = e["spin_rad_s"]
    for label, got, value, unit in (("left m", e["lateral_m"], 0.0742850842, 1e-10), ("down-lane m", e["distance_m"], 7.8184796169, 1e-10),
                                    ("left m/s", e["velocity_m_s"][1], 0.1485459931, 1e-10),
                                    ("down-lane m/s", e["velocity_m_s"][0], 7.6369497645, 1e-10), ("spin right", -w[1], -31.07242915, 1e-8),
                                    ("spin down-lane", w[0], -17.46737676, 1e-8), ("spin up", w[2], 7.59728158, 1e-8)):
        t.row("symmetric ball after 1 s, " + label, got, value, unit)
    # Torque-free: no friction, pin 45 degrees from the axis.
    radius = 4.297 * INCH
    b = ball((2.50, 2.55, 2.55), mass=7.0, radius=radius, layout=(90, 45 * DEGREE * radius / INCH, 0))
    r = release(speed=1.0, rpm=300, rotation=45, tilt=15)
    s = shot(b, constant(0.0), r, end_time=1.0, end_x=ENDLESS)
    body = quaternion_to_matrix(s.y[4:8]).T @ s.y[8:11]
    start = 300 * RPM * np.array(b["pap_body"])
    angle = math.atan2(body[2], body[1]) - math.atan2(start[2], start[1])
    t.row("torque-free precession rad/s, integrated for 1 s", abs(angle), 0.862613, 1e-6)
    t.row("  period s", 2 * math.pi / abs(angle), 7.28390, 1e-5)
    t.row("  track spacing in per revolution", s.end["flare_m"] / INCH / (300 / 60), 0.524, 1e-3)
    k2 = lambda v: (v @ (np.array(b["principal_moments_kg_m2"]) * v)) / (v @ v)
    t.row("  RG^2 about the axis kept (ratio)", k2(body) / k2(start), 1, 1e-10)
    # Asymmetric top against Jacobi's functions.
    b = ball((2.48, 2.515, 2.53), mass=7.0, radius=radius, layout=(60, 4.5, 40))
    s = shot(b, constant(0.0), r, end_time=3.0, end_x=ENDLESS)
    body = quaternion_to_matrix(s.y[4:8]).T @ s.y[8:11]
    exact = jacobi(b["principal_moments_kg_m2"], 300 * RPM * np.array(b["pap_body"]), 3.0)
    t.row("asymmetric top after 3 s against Jacobi's functions, largest error", float(np.max(np.abs(body - exact))), 0, 1e-8)


def jacobi(moments, w0, time):
    """Free spin in body axes (Landau & Lifshitz, Mechanics, section 37); either side of the separatrix."""
    i = np.array(moments)
    twice_e, l2 = w0 @ (i * w0), (i * w0) @ (i * w0)
    swap = l2 < twice_e * i[1]
    o = [2, 1, 0] if swap else [0, 1, 2]
    (a, b, c), w = i[o], w0[o]
    p = math.sqrt((c - b) * (l2 - twice_e * a) / (a * b * c))
    m = (b - a) * (twice_e * c - l2) / ((c - b) * (l2 - twice_e * a))
    size = np.array([math.sqrt((twice_e * c - l2) / (a * (c - a))), math.sqrt((twice_e * c - l2) / (b * (c - b))),
                     math.sqrt((l2 - twice_e * a) / (c * (c - a)))])
    if swap:
        p = math.sqrt((b - c) * (twice_e * a - l2) / (a * b * c))
        m = (b - a) * (l2 - twice_e * c) / ((c - b) * (twice_e * a - l2))
    # Phase from the start, then both signs of the sense of running: take the one whose slope is right.
    third = 1 if w[2] > 0 else -1
    sn0, cn0 = w[1] / size[1], w[0] / size[0]
    tau0 = ellipkinc(math.atan2(sn0, cn0), m)
    slope = (moments[o[2]] - moments[o[0]]) * w[2] * w[0] / b  # Euler: b dw2 = (c - a) w3 w1 for the order kept
    slope = slope if not swap else (i[2] - i[0]) * w0[2] * w0[0] / i[1]
    dn0 = ellipj(tau0, m)[2]
    sense = 1 if slope * (size[1] * cn0 * dn0) > 0 else -1
    sn, cn, dn, _ = ellipj(tau0 + sense * p * time, m)
    out = np.empty(3)
    out[o] = size[0] * cn, size[1] * sn, third * size[2] * dn
    return out


def sizes_of_effects(t):
    r = lambda **k: release(speed=8.0, rpm=300, rotation=45, tilt=15, **k)
    lateral = lambda b, **k: shot(b, TWO_ZONES, r(**k)).end["lateral_m"]
    solid = lateral(ball("uniform", mass=7.0, radius=0.108))
    k255 = lateral(ball((2.55, 2.55, 2.55), mass=7.0, radius=0.108))
    t.row("RG 2.55 in against a uniform sphere, cm less hook", 100 * (solid - k255), 2.4, 0.1)
    for name, k in (("uniform", "uniform"), ("2.55 in", (2.55, 2.55, 2.55))):
        base = solid if k == "uniform" else k255
        # Pin on the axis (pin to PAP 0), so that the offset along the pin is along the spin axis.
        for offset, value in (((1, 0, 0), 7.0), ((-1, 0, 0), -7.0)):
            along = 100 * (lateral(ball(k, mass=7.0, radius=0.108, layout=(90, 0, 0), offset_mm=offset)) - base)
            t.row("1 mm offset along the spin axis, %s, sign %+d, cm" % (name, offset[0]), along, value, 0.5)
        across = [100 * (lateral(ball(k, mass=7.0, radius=0.108, layout=(90, 0, 0), offset_mm=(0, 1, 0)), phase=p) - base)
                  for p in range(0, 360, 30)]
        t.row("1 mm offset across the axis, %s, largest over 12 phases, cm" % name, max(map(abs, across)), 4.3, 0.1)
        print("    range %.3f to %.3f cm" % (min(across), max(across)))
    boards = []
    for p in range(0, 360, 45):
        for pin in (1.0, 3.375, 5.5):
            b = ball((2.50, 2.525, 2.55), mass=7.0, radius=0.108, layout=(60, pin, 40))
            same = b["pap_body"] @ (np.array([2.50, 2.525, 2.55])**2 * np.array(b["pap_body"]))
            k = math.sqrt(same)
            boards.append((lateral(b, phase=p) - lateral(ball((k, k, k), mass=7.0, radius=0.108))) / BOARD)
    t.row("0.050 in differential against equal moments of the same RG about the axis: boards", max(map(abs, boards)), 0, 1)
    for differential, value in ((0, 0), (0.02, 3.6), (0.04, 7.2), (0.05, 8.9), (0.06, 10.6)):
        s = shot(ball((2.50, 2.50 + differential, 2.50 + differential), mass=7.0, radius=0.108, layout=(90, 3.375, 0)), TWO_ZONES, r())
        t.row("flare over the shot, differential %.2f, in" % differential, s.end["flare_m"] / INCH, value, 0.05 + 1e-9)
        print("    up to 12 m: %.3f in; slips again %d times" % (s.plane_states[12.0]["flare_m"] / INCH, len(s.events)))
    w = 0.040 / 41.5
    t.row("lane tilt 0.040 in, sideways g", w, 0.00096, 1e-5)
    s = shot(ball("uniform", mass=7.0, radius=0.108), constant(0.0), release(speed=1.0), end_time=2.4, end_x=ENDLESS, tilt_in=0.040)
    t.row("  free sideways mm in 2.4 s", -1000 * s.end["lateral_m"], 27, 0.5)


def geometry_and_oil(t):
    t.row("uniform k at R 4.297 in", 4.297 * math.sqrt(0.4), 2.7177, 1e-4)
    radius = 27 * INCH / (2 * math.pi)
    arc = lambda cosine: math.acos(cosine) * radius / INCH
    for row in ((45, 4.5, 45, 3.9179, 2.8321), (65, 4, 30, 5.2638, 1.7733), (30, 3.375, 20, 3.9179, 1.0497)):
        pap, up = layout_vectors(row[0] * DEGREE, row[1] * INCH, row[2] * DEGREE, radius)
        t.row("layout %g/%g/%g: PSA to PAP in" % row[:3], arc(pap[2]), row[3], 1e-4)
        # The VAL is the great circle through PAP and t_up; its pole is t_g = PAP x t_up.
        t.row("  pin to VAL in", 90 * DEGREE * radius / INCH - arc(abs(np.cross(pap, up)[0])), row[4], 1e-4)
    pap, _ = layout_vectors(60 * DEGREE, 3.375 * INCH, 0, radius)
    t.row("RG about the axis, 2.50/2.55, pin 3.375 in away", math.sqrt(pap @ (np.array([2.50, 2.55, 2.55])**2 * pap)), 2.52512, 1e-5)
    t.row("1 oil unit um", OIL_UNIT * 1e6, 0.1798, 1e-4)
    t.row("  uin", OIL_UNIT / INCH * 1e6, 7.08, 1e-2)
    t.row("  uL per board-foot", OIL_UNIT * BOARD * FOOT * 1e9, 1.481, 1e-3)
    t.row("  mL per foot of full width", OIL_UNIT * LANE_WIDTH * FOOT * 1e6, 0.05775, 1e-5)
    for volume, feet, value in ((18, 38, 8.20), (25, 40, 10.82), (30, 42, 12.37)):
        t.row("mean units, %g mL on %g ft" % (volume, feet), volume * 1e-6 / (LANE_WIDTH * feet * FOOT) / OIL_UNIT, value, 1e-2)
    t.row("steepest straight line to 17.5 deg", math.degrees(math.atan(17 * BOARD / (60 * FOOT))), 1.44, 0.01)
    t.row("steepest straight line to 18 deg", math.degrees(math.atan(17.5 * BOARD / (60 * FOOT))), 1.48, 0.01)


def release_2025(t):
    for name, k, speed, angle in (("kappa 0.4", "uniform", 15.09, 6.388), ("RG 2.50", (2.50, 2.50, 2.50), 15.39, 5.297)):
        s = shot(ball(k, mass=6.8, radius=4.2975 * INCH), constant(0.2),
                 release(mph=17.9, rpm=416, rotation=45, angle=1.8, laydown=12))
        t.row("roll-out, %s, mph" % name, s.rolls[0]["speed_m_s"] / MPH, speed, 1e-2)
        t.row("roll-out, %s, deg" % name, s.rolls[0]["heading_deg"], angle, 1e-3)
    for label, to in (("12 m", 12.0), ("40 ft", 40 * FOOT)):
        for k in ("uniform", (2.50, 2.50, 2.50)):
            boards = []
            for mu in (0.020, 0.021, 0.022, 0.023, 0.024, 0.025, 0.04):
                s = shot(ball(k, mass=6.8, radius=4.2975 * INCH), {"law": "zones", "zones": [{"to_m": to, "mu": mu}, {"mu": 0.20}]},
                         release(mph=17.9, rpm=416, rotation=45, angle=1.8, laydown=12))
                boards.append("%g: %.2f" % (mu, s.end["board"]))
            print("published release, oil to %s, %s: board at the pins for film mu  %s" % (label, k, "  ".join(boards)))


def check():
    t = Table()
    print("%-74s %18s %18s" % ("", "scipy", "stated"))
    for part in (textbook, two_zones, rigid_body, geometry_and_oil, sizes_of_effects, release_2025):
        part(t)
    print("%d differ" % t.bad)
