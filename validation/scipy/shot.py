"""A shot as a hybrid system of sliding and rolling."""

import math

import numpy as np
from scipy.integrate import solve_ivp

from mechanics import (BOARD, FOOT, LANE_WIDTH, MARKS_FT, Ball, Friction, board_to_lateral, cross, matrix_to_quaternion,
                       quaternion_to_matrix, release_orientation, spin_axis)


# |u| below which time is stretched, and above which ordinary time is taken up again, m/s.
STRETCH_BELOW, STRETCH_ABOVE = 0.05, 0.1
# slip_end is the slip in m/s at which the stretched stage ends (the rest is extrapolated); breakaway_time is the time in
# s covered by a power series where a rolling ball breaks away. Both are refined together with the tolerances.
FINE = dict(rtol=1e-13, atol=1e-14, max_step=0.004, slip_end=1e-9, breakaway_time=2e-5)
COARSE = dict(rtol=1e-11, atol=1e-12, max_step=0.008, slip_end=1e-7, breakaway_time=4e-5)


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
