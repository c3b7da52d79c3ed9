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

import numpy as np
from scipy.integrate import solve_ivp
from scipy.special import ellipj, ellipk

INCH = 0.0254
FOOT = 0.3048
POUND = 0.45359237
MPH = 0.44704
RPM = 2 * math.pi / 60
DEGREE = math.pi / 180
MICROINCH = 2.54e-8
GRAVITY = 9.80665
LANE_WIDTH = 41.5 * INCH
BOARD = LANE_WIDTH / 39
OIL_UNIT = 0.0167e-6 / FOOT**2  # 0.0167 cm^3 per square foot, as a film thickness in m
MARKS_FT = (15.0, 30.0, 45.0, 60.0)

# |u| below which time is stretched, and above which ordinary time is taken up again, m/s.
STRETCH_BELOW, STRETCH_ABOVE = 0.05, 0.1
# slip_end is the slip in m/s at which the stretched stage ends (the rest is extrapolated); breakaway_time is the time in
# s covered by a power series where a rolling ball breaks away. Both are refined together with the tolerances.
FINE = dict(rtol=1e-13, atol=1e-14, max_step=0.004, slip_end=1e-9, breakaway_time=2e-5)
COARSE = dict(rtol=1e-11, atol=1e-12, max_step=0.008, slip_end=1e-7, breakaway_time=4e-5)


# ---------------------------------------------------------------- inputs

def board_to_lateral(board):
    return (board - 20) * BOARD


def layout_vectors(drilling_angle, pin_to_pap, val_angle, radius):
    """PAP and finger direction in body axes (pin, PSA x pin, PSA), right-hander.

    Worked in the frame (PAP, t_up, t_g), which is right-handed: t_up x t_g = PAP."""
    d = pin_to_pap / radius
    pin = np.array([math.cos(d), math.sin(d) * math.cos(val_angle), math.sin(d) * math.sin(val_angle)])
    t = np.array([math.sin(d), -math.cos(d) * math.cos(val_angle), -math.cos(d) * math.sin(val_angle)])
    psa = math.cos(drilling_angle) * t + math.sin(drilling_angle) * np.cross(t, pin)
    axes = np.array([pin, np.cross(psa, pin), psa])
    return axes[:, 0].copy(), axes[:, 1].copy()  # body components of PAP and of t_up


def spin_axis(release):
    """Unit vector of the spin axis in lane components."""
    a, b, h = release["axis_rotation_rad"], release["axis_tilt_rad"], release["launch_angle_rad"]
    ahead = np.array([math.cos(h), -math.sin(h), 0.0])  # + launch angle points to the right
    left = np.array([math.sin(h), math.cos(h), 0.0])
    return (-math.cos(b) * math.sin(a)) * ahead + (math.cos(b) * math.cos(a)) * left + np.array([0, 0, math.sin(b)])


def rotation_about(axis, angle):
    k = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    return np.eye(3) + math.sin(angle) * k + (1 - math.cos(angle)) * (k @ k)


def release_orientation(case):
    """Matrix taking body components to lane components at release."""
    if "orientation_body_to_lane" in case["release"]:
        return np.array(case["release"]["orientation_body_to_lane"], float)
    pap, up = (np.array(case["ball"][n], float) for n in ("pap_body", "fingers_body"))
    w = spin_axis(case["release"])
    down = np.array([0, 0, -1.0])
    down = down - (down @ w) * w
    down /= np.linalg.norm(down)
    lane = np.column_stack([w, down, np.cross(w, down)])
    body = np.column_stack([pap, up, np.cross(pap, up)])
    return rotation_about(w, case["release"]["phase_rad"]) @ lane @ body.T


def matrix_to_quaternion(q):
    m = np.array([
        [q[0, 0] - q[1, 1] - q[2, 2], q[1, 0] + q[0, 1], q[2, 0] + q[0, 2], q[2, 1] - q[1, 2]],
        [0, q[1, 1] - q[0, 0] - q[2, 2], q[2, 1] + q[1, 2], q[0, 2] - q[2, 0]],
        [0, 0, q[2, 2] - q[0, 0] - q[1, 1], q[1, 0] - q[0, 1]],
        [0, 0, 0, q[0, 0] + q[1, 1] + q[2, 2]]]) / 3
    values, vectors = np.linalg.eigh(m, UPLO="U")
    x, y, z, w = vectors[:, np.argmax(values)]
    r = np.array([w, x, y, z])
    return r if w >= 0 else -r


def quaternion_to_matrix(q):
    w, x, y, z = q
    n = w * w + x * x + y * y + z * z
    return np.array([
        [w*w + x*x - y*y - z*z, 2*(x*y - w*z), 2*(x*z + w*y)],
        [2*(x*y + w*z), w*w - x*x + y*y - z*z, 2*(y*z - w*x)],
        [2*(x*z - w*y), 2*(y*z + w*x), w*w - x*x - y*y + z*z]]) / n


# ---------------------------------------------------------------- friction

class Friction:
    """Friction coefficient, smooth inside a cell; the caller steps from cell to cell."""

    def __init__(self, case):
        law = case["friction"]
        self.law = law["law"]
        self.planes, self.lines = [], []
        if self.law == "constant":
            self.mu = law["mu"]
        elif self.law == "zones":
            self.planes = [z["to_m"] for z in law["zones"][:-1]]
            self.zone_mu = [z["mu"] for z in law["zones"]]
        else:
            self.film_mu, self.dry_mu, self.entrained = law["film"], law["dry"], law["entrained"]
            self.sigma = math.hypot(case["ball"]["roughness_m"], case["lane"]["roughness_m"])
            oil = case["lane"]["oil"]
            self.planes = [d for d in oil["distances_m"] if d > 0]
            self.distance = np.array(oil["distances_m"])
            self.film = np.array(oil["units"]) * OIL_UNIT
            self.lines = [board_to_lateral(b) for b in range(1, 40)]

    def cell(self, x, y):
        i = sum(1 for p in self.planes if p <= x)
        j = sum(1 for line in self.lines if line <= y)
        return i, j

    def oil(self, x, y, cell):
        i, j = cell
        if i >= len(self.distance) - 1:
            return 0.0
        s = (x - self.distance[i]) / (self.distance[i + 1] - self.distance[i])
        f = self.film
        if j == 0 or j == 39:
            c = 0 if j == 0 else 38
            return (1 - s) * f[i, c] + s * f[i + 1, c]
        r = (y - self.lines[j - 1]) / BOARD
        return ((1 - s) * ((1 - r) * f[i, j - 1] + r * f[i, j])
                + s * ((1 - r) * f[i + 1, j - 1] + r * f[i + 1, j]))

    def at(self, x, y, cell, on_ball=0.0):
        if self.law == "constant":
            return self.mu
        if self.law == "zones":
            return self.zone_mu[cell[0]]
        film = self.oil(x, y, cell) + on_ball
        ratio = self.entrained * film / self.sigma
        share = (1 - ratio / 4) ** 6.804 if ratio < 4 else 0.0
        return self.film_mu + (self.dry_mu - self.film_mu) * share


# ---------------------------------------------------------------- mechanics

def cross(a, b):
    return np.array([a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]])


def skew(a):
    return np.array([[0, -a[2], a[1]], [a[2], 0, -a[0]], [-a[1], a[0], 0]])


class Ball:
    def __init__(self, case):
        b = case["ball"]
        self.m, self.R = b["mass_kg"], b["radius_m"]
        self.moments = np.array(b["principal_moments_kg_m2"], float)
        self.offset = np.array(b["mass_centre_offset_m"], float)
        self.contact_radius = b["contact_radius_m"]
        self.rolling_resistance = b.get("rolling_resistance", 0.0)
        self.g = case["lane"]["gravity_m_s2"]
        slope = case["lane"]["tilt_m"] / LANE_WIDTH  # left edge higher than the right
        self.field = np.array([0.0, -self.g * slope, -self.g])

    def solve(self, mode, q, w, u_hat, slip, mu, spin_sign):
        """Rate of change of the spin, contact force (3), acceleration of C, pivot torque.

        Unknowns: dw/dt (3), contact force f (3), pivot torque when it is a constraint."""
        Q = quaternion_to_matrix(q)
        inertia = (Q * self.moments) @ Q.T
        d = Q @ self.offset
        rho = -d - np.array([0, 0, self.R])
        gyro = cross(w, inertia @ w)
        centripetal = cross(w, cross(w, d))
        n = 7 if mode == "stick" else 6
        a = np.zeros((n, n))
        b = np.zeros(n)
        # Euler: I dw - rho x f - torque = -w x I w
        a[:3, :3] = inertia
        a[:3, 3:6] = -skew(rho)
        b[:3] = -gyro
        per_normal = np.zeros(3)
        radius = self.contact_radius
        if mode == "slide":
            if radius > 0 and w[2] != 0:
                part = radius * abs(w[2])
                per_normal[2] = -(3 * math.pi / 16) * mu * radius * part / (part + 15 * math.pi / 16 * slip) * math.copysign(1, w[2])
        elif mode == "roll":
            per_normal[2] = -(3 * math.pi / 16) * mu * radius * spin_sign
        horizontal = math.hypot(w[0], w[1])
        if self.rolling_resistance and horizontal > 0:
            per_normal[:2] -= self.rolling_resistance * self.R * w[:2] / horizontal
        a[:3, 5] -= per_normal
        # Acceleration of C: f/m + field - dw x d - w x (w x d) = f/m + field + [d]x dw - centripetal
        accel_w, accel_0 = skew(d), self.field - centripetal
        a[3, :3], a[3, 5], b[3] = accel_w[2], 1 / self.m, -accel_0[2]
        if mode == "slide":
            a[4, 3], a[4, 5] = 1, mu * u_hat[0]
            a[5, 4], a[5, 5] = 1, mu * u_hat[1]
        else:  # dv_C/dt = (R dw_y, -R dw_x)
            a[4, :3], a[4, 3], b[4] = accel_w[0], 1 / self.m, -accel_0[0]
            a[4, 1] -= self.R
            a[5, :3], a[5, 4], b[5] = accel_w[1], 1 / self.m, -accel_0[1]
            a[5, 0] += self.R
        if mode == "stick":
            a[2, 6] = -1
            a[6, 2] = 1
        z = np.linalg.solve(a, b)
        dw, f = z[:3], z[3:6]
        torque = per_normal * f[2]
        if mode == "stick":
            torque[2] += z[6]
        return dw, f, f / self.m + accel_w @ dw + accel_0, torque, gyro, inertia, d

    def flare_rate(self, w, inertia, gyro):
        size = math.sqrt(w @ w)
        if size == 0:
            return 0.0
        drift = np.linalg.solve(inertia, -gyro)
        drift = drift - (drift @ w) / size**2 * w
        return self.R * math.sqrt(drift @ drift) / size


# State: x y | u_x u_y (or ln|u|, direction) | quaternion | spin | flare, work, slip distance, turned angle | time
X, Y, U, Q, W, FLARE, WORK, SLIP, TURN, T = 0, 1, slice(2, 4), slice(4, 8), slice(8, 11), 11, 12, 13, 14, 15


class Shot:
    def __init__(self, case, setting, end_time=None, marks=MARKS_FT, end_x=60 * FOOT):
        self.case, self.setting = case, setting
        self.ball, self.friction = Ball(case), Friction(case)
        self.end_time, self.end_x = end_time, end_x
        self.marks = {round(m * FOOT, 12): m for m in marks}
        self.mark_states, self.events, self.turning, self.rolls = {}, [], [], []
        self.plane_states = {}
        self.spin_sign = 0.0
        r = case["release"]
        y = np.zeros(16)
        y[X], y[Y] = r["laydown_distance_m"], board_to_lateral(r["laydown_board"])
        y[Q] = matrix_to_quaternion(release_orientation(case))
        y[W] = r["rev_rate_rad_s"] * spin_axis(r)
        h = r["launch_angle_rad"]
        v = r["speed_m_s"] * np.array([math.cos(h), -math.sin(h)])
        y[U] = v - self.rolling_velocity(y[W])
        self.y, self.cell = y, self.friction.cell(y[X], y[Y])
        slip = math.hypot(*y[U])
        self.mode = "slide" if slip >= STRETCH_BELOW else "stretch" if slip > 1e-12 else "roll"
        if self.mode == "roll":
            self.y[U] = 0
            self.spin_sign = float(np.sign(y[W][2]))
        if self.mode == "stretch":
            self.to_stretch()

    def rolling_velocity(self, w):
        return self.ball.R * np.array([w[1], -w[0]])

    # -- derivatives

    def parts(self, y):
        """(mode for the force solve, unit slip, slip speed, slip velocity)."""
        if self.mode == "slide":
            u = y[U]
            s = math.hypot(u[0], u[1])
            return "slide", u / s, s, u
        if self.mode == "stretch":
            s = math.exp(y[2])
            e = np.array([math.cos(y[3]), math.sin(y[3])])
            return "slide", e, s, s * e
        return self.mode, None, 0.0, np.zeros(2)

    def rates(self, y):
        mode, e, s, u = self.parts(y)
        w, q, ball = y[W], y[Q], self.ball
        mu = self.friction.at(y[X], y[Y], self.cell)
        dw, f, accel, torque, gyro, inertia, d = ball.solve(mode, q, w, e, s, mu, self.spin_sign)
        out = np.empty(16)
        out[:2] = u + self.rolling_velocity(w)
        du = accel[:2] - self.rolling_velocity(dw)
        if self.mode == "stretch":
            out[2] = du @ e  # per stretched time, dt = s dsigma
            out[3] = du[1] * e[0] - du[0] * e[1]
        elif self.mode == "slide":
            out[U] = du
        else:
            out[U] = 0
        a, b, c, dd = q
        wx, wy, wz = w
        out[Q] = 0.5 * np.array([-wx*b - wy*c - wz*dd, wx*a + wy*dd - wz*c, wy*a + wz*b - wx*dd, wz*a + wx*c - wy*b])
        out[W] = dw
        out[FLARE] = ball.flare_rate(w, inertia, gyro)
        v_centre_mass = np.append(out[:2], 0) + cross(w, d)
        out[WORK] = f[:2] @ u + torque @ w + ball.m * (ball.field[:2] @ v_centre_mass[:2])
        out[SLIP] = s
        out[TURN] = math.sqrt(w @ w)
        out[T] = 1
        if self.mode == "stretch":
            out[:2] *= s
            out[4:] *= s
        return out

    def report(self, y):
        mode, e, s, u = self.parts(y)
        w, ball = y[W], self.ball
        mu = self.friction.at(y[X], y[Y], self.cell)
        dw, f, accel, torque, gyro, inertia, d = ball.solve(mode, y[Q], w, e, s, mu, self.spin_sign)
        v = u + self.rolling_velocity(w)
        m = quaternion_to_matrix(y[Q])
        v_g = np.append(v, 0) + cross(w, d)
        return {
            "time_s": float(y[T]), "distance_m": float(y[X]), "lateral_m": float(y[Y]),
            "board": float(20 + y[Y] / BOARD),
            "velocity_m_s": v.tolist(), "spin_rad_s": w.tolist(),
            "slip_velocity_m_s": u.tolist(), "slip_m_s": float(s),
            "heading_deg": math.degrees(math.atan2(v[1], v[0])), "speed_m_s": math.hypot(*v),
            "friction": float(mu), "normal_N": float(f[2]), "contact_force_N": f[:2].tolist(),
            "pin_lane": m[:, 0].tolist(), "psa_lane": m[:, 2].tolist(),
            "flare_m": float(y[FLARE]), "slip_distance_m": float(y[SLIP]), "turned_rad": float(y[TURN]),
            "energy_J": float(0.5 * ball.m * v_g @ v_g + 0.5 * w @ inertia @ w + ball.m * ball.g * d[2]),
            "work_J": float(y[WORK]),
            "mode": {"slide": "slide", "roll": "roll", "stick": "roll, pivot stuck"}[mode],
        }

    # -- modes

    def to_stretch(self):
        u = self.y[U].copy()
        self.y[2], self.y[3] = math.log(math.hypot(*u)), math.atan2(u[1], u[0])
        self.mode = "stretch"

    def to_slide(self):
        s, th = math.exp(self.y[2]), self.y[3]
        self.y[U] = s * math.cos(th), s * math.sin(th)
        self.mode = "slide"

    def to_roll(self):
        """Carries the last bit of slip to zero at the present rate, then rolls."""
        rate = self.rates(self.y)  # per sigma; d(ln s)/dsigma = du.e = ds/dt
        s = math.exp(self.y[2])
        remaining = s / -rate[2]
        step = rate / s * remaining
        step[2:4] = 0
        self.y = self.y + step
        self.y[U] = 0
        self.mode, self.spin_sign = "roll", float(np.sign(self.y[W][2]))
        if self.excess(self.y) > 0:
            raise RuntimeError("slip reached zero where rolling needs more than mu N")
        self.rolls.append(self.report(self.y))

    def roll_forces(self, y):
        mu = self.friction.at(y[X], y[Y], self.cell)
        _, f, _, torque, *_ = self.ball.solve(self.mode, y[Q], y[W], None, 0.0, mu, self.spin_sign)
        return mu, f, torque

    def excess(self, y):
        mu, f, _ = self.roll_forces(y)
        return math.hypot(f[0], f[1]) - mu * f[2]

    def pivot_excess(self, y):
        mu, f, torque = self.roll_forces(y)
        return abs(torque[2]) - 3 * math.pi / 16 * mu * f[2] * self.ball.contact_radius

    # -- segments

    def run(self):
        r = self.report(self.y)
        self.release = r
        self.energy_0 = r["energy_J"]
        for _ in range(5000):
            if self.segment():
                self.end = self.report(self.y)
                return self
        raise RuntimeError("too many segments")

    def segment(self):
        y0 = self.y
        y0[Q] /= np.linalg.norm(y0[Q])
        stops = sorted(set(self.friction.planes) | set(self.marks) | {self.end_x})
        plane = next(p for p in stops if p > y0[X] + 1e-9)
        table = []  # (name, function, direction, terminal)
        table.append(("plane", lambda t, y: y[X] - plane, 1, True))
        lines, j = self.friction.lines, self.cell[1]
        if lines and self.cell[0] < len(self.friction.planes):
            if j > 0:
                table.append(("right line", lambda t, y: y[Y] - lines[j - 1], -1, True))
            if j < 39:
                table.append(("left line", lambda t, y: y[Y] - lines[j], 1, True))
        if self.end_time is not None:
            table.append(("time", lambda t, y: y[T] - self.end_time, 1, True))
        table.append(("turn", lambda t, y: self.parts(y)[3][1] - self.ball.R * y[W][0], 0, False))
        if not self.case["lane"].get("endless", False):
            table.append(("gutter", lambda t, y: abs(y[Y]) - LANE_WIDTH / 2, 1, True))
        max_step = self.setting["max_step"]
        if self.mode == "slide":
            table.append(("stretch", lambda t, y: math.hypot(*y[U]) - STRETCH_BELOW, -1, True))
        elif self.mode == "stretch":
            table.append(("slide", lambda t, y: y[2] - math.log(STRETCH_ABOVE), 1, True))
            table.append(("roll", lambda t, y: y[2] - math.log(self.setting["slip_end"]), -1, True))
            max_step = 125 * self.setting["max_step"]
        else:
            table.append(("slip", lambda t, y: self.excess(y), 1, True))
            if self.ball.contact_radius > 0:
                if self.mode == "stick":
                    table.append(("unstick", lambda t, y: self.pivot_excess(y), 1, True))
                else:
                    table.append(("stick", lambda t, y: y[W][2], -self.spin_sign, True))
        functions = []
        for _, function, direction, terminal in table:
            def event(t, y, function=function):
                return function(t, y)
            event.direction, event.terminal = direction, terminal
            functions.append(event)
        solution = solve_ivp(lambda t, y: self.rates(y), (0, 1e5), y0, method="DOP853", events=functions,
                             rtol=self.setting["rtol"], atol=self.setting["atol"], max_step=max_step)
        if solution.status != 1:
            raise RuntimeError("integration ended without an event: " + solution.message)
        hit = None
        for (name, _, _, terminal), times, states in zip(table, solution.t_events, solution.y_events):
            if name == "turn":
                for state in states:
                    self.turning.append(self.report(state))
            elif terminal and len(times):
                hit, self.y = name, states[-1].copy()
        return self.arrive(hit, plane, lines, j)

    def arrive(self, hit, plane, lines, j):
        i = self.cell[0]
        if hit == "plane":
            self.y[X] = plane
            if round(plane, 12) in self.marks:
                self.mark_states[self.marks[round(plane, 12)]] = self.report(self.y)
            self.plane_states[plane] = self.report(self.y)
            if plane == self.end_x:
                return True
            if plane in self.friction.planes:
                self.cell = (i + 1, j)
                self.recheck()
        elif hit == "right line":
            self.y[Y], self.cell = lines[j - 1], (i, j - 1)
        elif hit == "left line":
            self.y[Y], self.cell = lines[j], (i, j + 1)
        elif hit == "time":
            return True
        elif hit == "gutter":
            self.events.append("gutter")
            return True
        elif hit == "stretch":
            self.to_stretch()
        elif hit == "slide":
            self.to_slide()
        elif hit == "roll":
            self.to_roll()
        elif hit == "slip":
            self.break_away()
        elif hit == "stick":
            self.y[W][2] = 0
            self.mode = "stick"
            state = self.report(self.y)
            if self.pivot_excess(self.y) > 0:
                self.mode, self.spin_sign = "roll", -self.spin_sign
            else:
                self.events.append({"event": "pivot sticks", "time_s": state["time_s"], "distance_m": state["distance_m"]})
        elif hit == "unstick":
            torque = self.roll_forces(self.y)[2][2]
            self.mode, self.spin_sign = "roll", -float(np.sign(torque))
        return False

    def recheck(self):
        """A friction step under a rolling ball may set it sliding."""
        if self.mode in ("roll", "stick") and self.excess(self.y) > 1e-9:
            raise RuntimeError("a friction step sets the rolling ball sliding: not provided for")

    def break_away(self):
        """Starts the slip u = c t^2/2 along -F, turning at the rate b, where |F| has just passed mu N.

        There the slip's rate is zero at t = 0 and grows as (g + b m) t, with g its rate of change at a fixed direction and
        m its derivative by the direction; it must point along the slip: g + b m = c e."""
        _, f, _ = self.roll_forces(self.y)
        state = self.report(self.y)
        self.events.append({"event": "slips again", "time_s": state["time_s"], "distance_m": state["distance_m"]})
        step, small = self.setting["breakaway_time"], 1e-6
        roll_rates, angle, y = self.rates(self.y), math.atan2(-f[1], -f[0]), self.y
        mode, self.mode = self.mode, "stretch"

        def slip_rate(y, angle):
            at = y.copy()
            at[2], at[3] = math.log(1e-15), angle
            r, e = self.rates(at), np.array([math.cos(angle), math.sin(angle)])
            return r[2] * e + r[3] * np.array([-e[1], e[0]])

        g = (slip_rate(y + small * roll_rates, angle) - slip_rate(y - small * roll_rates, angle)) / (2 * small)
        m = (slip_rate(y, angle + small) - slip_rate(y, angle - small)) / (2 * small)
        e = np.array([math.cos(angle), math.sin(angle)])
        c, b = np.linalg.solve(np.column_stack([e, -m]), g)
        if c <= 0:
            raise RuntimeError("no slip grows where the rolling force passes mu N")

        def at(y, t):
            out = y.copy()
            out[2], out[3] = math.log(c * t * t / 2), angle + b * t
            return out

        def rates(y, t):
            here = at(y, t)
            return self.rates(here) / math.exp(here[2])

        half = y + step / 2 * rates(y, step / 4)
        self.y = at(y + step * rates(half, step / 2), step)

    def result(self):
        # Outermost point of the path; a straight path has only rounding there.
        bends = [s for s in self.turning if s["distance_m"] > 0 and abs(s["contact_force_N"][1]) > 1e-6][:1]
        out = {"release": self.release, "marks": [dict(mark_ft=m, **s) for m, s in sorted(self.mark_states.items())],
               "roll_entries": self.rolls, "other_events": self.events,
               "outermost": bends[0] if bends else None, "end": self.end}
        return out


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
    add("symmetric core", "one friction coefficient, full shot with roll",
        ball((2.50, 2.55, 2.55), pounds=15, diameter_in=8.57, layout=(55, 4.0, 35)), lane(), constant(0.12),
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
        ball((2.50, 2.55, 2.55), pounds=15, diameter_in=8.57, layout=(55, 4.0, 35), contact_radius_mm=2.5, rolling_resistance=0.002),
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
