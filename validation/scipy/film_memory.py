"""Shots with oil carried on the ball: writes film_memory.json.

Fixed-step RK4 while the ball slides. The film lies on points spread evenly over the ball, a Fibonacci lattice, each with the
time and the angle turned of its own last touch. The strip that touches the lane sweeps over them; a tree tells which lie near.
Two step sizes and two numbers of points show the error.

    /usr/bin/python3 film_memory.py
"""

import json
import math
import os

import numpy as np
from scipy.spatial import cKDTree

from mechanics import FOOT, cross, quaternion_to_matrix, rotation_about
from reference import MIXED, ball, crowned_oil, dump, lane, release
from shot import FINE, TURN, Q, Shot, T, U, W, X, Y

RUNS = ((5e-4, 1_000_000), (2.5e-4, 1_000_000), (2.5e-4, 4_000_000))  # step in s, number of points
# The slip at which sliding is taken as ended, m/s; the step shrinks with the slip on the way.
SLIP_END = 1e-7
STEP_PER_SLIP = 0.03  # s per m/s


class Points:
    """Points on the unit sphere that stand for equal areas."""

    trees = {}

    def __init__(self, number):
        if number not in self.trees:
            i = np.arange(number) + 0.5
            z = 1 - 2 * i / number
            longitude = math.pi * (1 + math.sqrt(5)) * i
            r = np.sqrt(1 - z * z)
            self.trees[number] = cKDTree(np.column_stack([r * np.cos(longitude), r * np.sin(longitude), z]))
        self.tree = self.trees[number]
        self.number = number

    def near(self, place, angle):
        return np.array(self.tree.query_ball_point(place, 2 * math.sin(angle / 2)), dtype=int)


class Strip:
    """The strip at one instant, in body axes: the contact, the way it moves over the ball, and across."""

    def __init__(self, contact, spin):
        way = cross(contact, spin)  # fixed in the lane, it moves by -spin x contact
        self.turning = math.sqrt(way @ way)
        self.contact, self.ahead = contact, way / self.turning
        self.across = cross(contact, self.ahead)


class MemoryShot(Shot):
    def __init__(self, case, points):
        super().__init__(case, FINE)
        self.past_oil, self.on_ball = False, 0.0
        self.memory = case["memory"]
        if not self.memory:
            return
        self.soak_in = self.memory["soak_in_s"] or math.inf
        self.points = Points(points)
        self.area = 4 * math.pi * self.ball.R**2 / points
        self.film, self.touched, self.free_from = (np.zeros(points) for _ in range(3))
        self.taken = self.soaked = 0.0

    def lane_film(self, y):
        if self.past_oil:
            return 0.0
        i, j = self.friction.cell(y[X], y[Y])
        return self.friction.oil(y[X], y[Y], (min(i, len(self.friction.distance) - 2), j))

    def strip(self, y):
        m = quaternion_to_matrix(y[Q])
        s = Strip(-m[2], m.T @ y[W])
        v = math.hypot(*(y[U] + self.rolling_velocity(y[W])))
        s.values = np.array([y[T], y[TURN], self.lane_film(y), v, self.ball.R * s.turning])
        return s

    def ahead_of(self, y, step):
        """The strip a step later, if the spin stayed as it is."""
        m = quaternion_to_matrix(y[Q])
        spin = m.T @ y[W]
        size = math.sqrt(spin @ spin)
        s = Strip(rotation_about(spin / size, -size * step) @ -m[2], spin)
        s.values = np.array([y[T] + step, y[TURN] + size * step, 0, 0, 0])
        return s

    def crossed(self, a, b):
        """The points that the strip crosses and that count, with the values at the time of each, and the film found there."""
        half = self.memory["contact_width_m"] / 2 / self.ball.R
        middle = a.contact + b.contact
        middle /= math.sqrt(middle @ middle)
        i = self.points.near(middle, 1.05 * (half + math.acos(min(1, a.contact @ b.contact))))
        p = self.points.tree.data[i]
        before, after = p @ a.ahead, p @ b.ahead
        keep = (before >= 0) & (after < 0)
        i, p, share = i[keep], p[keep], (before[keep] / (before[keep] - after[keep]))[:, None]
        aside = np.arcsin((1 - share[:, 0]) * (p @ a.across) + share[:, 0] * (p @ b.across))
        values = (1 - share) * a.values + share * b.values
        keep = (abs(aside) <= half) & (values[:, 1] >= self.free_from[i])
        i, values = i[keep], values[keep]
        return i, values, self.film[i] * np.exp(-(values[:, 0] - self.touched[i]) / self.soak_in)

    def look_ahead(self, y, step):
        if self.memory:
            found = self.crossed(self.strip(y), self.ahead_of(y, step))[2]
            if len(found):
                self.on_ball = float(np.mean(found))

    def exchange(self, a, y):
        if not self.memory:
            return
        i, values, found = self.crossed(a, self.strip(y))
        time, turned, h, v, surface = values.T
        left = np.minimum(found + self.memory["pick_up"] * h * v / np.maximum(surface, v / 5) - self.memory["give_back"] * found, h + found)
        self.soaked += self.area * float(np.sum(self.film[i] - found))
        self.taken += self.area * float(np.sum(left - found))
        self.film[i], self.touched[i], self.free_from[i] = left, time, turned + math.pi

    def balance(self, t):
        """What lies on the ball, what the cover has taken in, what the lane has lost, in m3."""
        now = self.film * np.exp(-(t - self.touched) / self.soak_in)
        on_ball, late = self.area * float(np.sum(now)), self.area * float(np.sum(self.film - now))
        if abs(on_ball + self.soaked + late - self.taken) > 1e-12 * self.taken:
            raise RuntimeError("oil is lost")
        return {"on_ball_m3": on_ball, "soaked_m3": self.soaked + late, "lane_m3": -self.taken}

    def rates(self, y):
        if self.mode == "slide":
            self.lane_oil = self.lane_film(y)
        return super().rates(y)

    def rk4(self, y, step):
        a = self.rates(y)
        b = self.rates(y + step / 2 * a)
        c = self.rates(y + step / 2 * b)
        d = self.rates(y + step * c)
        out = y + step / 6 * (a + 2 * b + 2 * c + d)
        out[Q] /= np.linalg.norm(out[Q])
        return out

    def slide_to_roll(self, step):
        """Slides until the slip ends, stopping exactly on the marks and at the end of the oil."""
        end = self.friction.distance[-1]
        stops = sorted([end] + list(self.marks))
        y = self.y
        states = []
        while True:
            slip = math.hypot(*y[U])
            if slip < SLIP_END:
                break
            h = min(step, STEP_PER_SLIP * slip)
            self.look_ahead(y, step)
            start = self.strip(y)
            new = self.rk4(y, h)
            stop = next(s for s in stops if s > y[X] + 1e-12)
            if new[X] >= stop:
                for _ in range(4):  # Newton's steps onto the mark
                    h -= (new[X] - stop) / (new[U][0] + self.rolling_velocity(new[W])[0])
                    new = self.rk4(y, h)
                new[X] = stop
            self.exchange(start, new)
            if new[X] == stop:
                self.lane_oil = self.lane_film(new)
                if stop == end:
                    self.past_oil = True
                else:
                    states.append((stop, self.report(new), self.on_ball, self.lane_oil))
            y = new
        self.y = y
        return states


def at_film(friction, film):
    ratio = friction.entrained * film / friction.sigma
    share = (1 - ratio / 4)**6.804 if ratio < 4 else 0.0
    return friction.film_mu + (friction.dry_mu - friction.film_mu) * share


KEPT = ("time_s", "distance_m", "lateral_m", "board", "velocity_m_s", "spin_rad_s", "slip_m_s", "friction", "heading_deg", "speed_m_s",
        "flare_m", "slip_distance_m", "turned_rad")


def keep(state):
    return {k: state[k] for k in KEPT}


def finish(case, step, points):
    shot = MemoryShot(case, points)
    friction = shot.friction
    friction.at = lambda x, y, cell, on_ball=0.0: at_film(friction, shot.lane_oil + shot.on_ball)
    shot.lane_oil = 0.0
    states = shot.slide_to_roll(step)
    marks = [dict(keep(s), mark_ft=round(x / FOOT, 9), ball_oil_m=float(b), lane_oil_m=float(h)) for x, s, b, h in states]
    shot.to_stretch()
    shot.to_roll()  # the film of the last sliding step stays in the check of mu N from here on
    roll = keep(shot.rolls[0])
    oil = shot.balance(shot.rolls[0]["time_s"]) if case["memory"] else None
    shot.cell = (len(friction.distance), 20)
    friction.planes, friction.lines = [], []
    shot.mark_states = {}
    shot.run()
    if shot.events:
        raise RuntimeError("slips again: film while rolling would matter")
    return {"marks_while_sliding": marks, "roll": roll, "oil_at_roll": oil, "pins": keep(shot.end)}


def numbers(value, path=()):
    if isinstance(value, dict):
        for k, v in value.items():
            yield from numbers(v, path + (k,))
    elif isinstance(value, list):
        for k, v in enumerate(value):
            yield from numbers(v, path + (k,))
    else:
        yield path, value


def cases():
    core = (2.48, 2.515, 2.53)
    r = release(mph=18.5, rpm=350, rotation=50, tilt=12, laydown=24, angle=2.86)
    for name, layout, give_back, width_mm, soak_in in (
            ("high flare", (60, 3.375, 40), 0.05, 6.5, 20.0), ("low flare", (60, 1.0, 40), 0.05, 6.5, None),
            ("benchmark layout", (60, 4.5, 40), 0.40, 5.0, 60.0)):
        memory = {"pick_up": 0.05, "give_back": give_back, "contact_width_m": width_mm * 1e-3, "soak_in_s": soak_in}  # null: never
        yield {"name": name, "ball": ball(core, pounds=15, diameter_in=8.57, layout=layout), "lane": lane(oil=crowned_oil()),
               "friction": dict(MIXED, film_memory="on"), "memory": memory, "release": r}


def main():
    out = []
    for case in cases():
        runs = [finish(case, step, points) for step, points in RUNS]
        changes = []
        for a, b in zip(runs, runs[1:]):
            worst = {}
            for (path, p), (_, q) in zip(numbers(a), numbers(b)):
                name = next(k for k in reversed(path) if isinstance(k, str))
                worst[name] = max(worst.get(name, 0.0), abs(p - q))
            changes.append(worst)
        half, more = ({k: float("%.1e" % v) for k, v in c.items()} for c in changes)
        slim = dict(case, lane=dict(case["lane"], oil="the oil of the case benchmark in cases.json"))
        out.append(dict(slim, expected=runs[-1], accuracy={"settings_agree_to": {k: max(half[k], more[k]) for k in half},
                                                           "change_with_half_the_step": half, "change_with_four_times_the_points": more}))
        print(case["name"], runs[-1]["pins"]["board"], runs[-1]["roll"]["distance_m"], half, more, flush=True)
        print([(m["mark_ft"], m["ball_oil_m"], m["lane_oil_m"], m["friction"]) for m in runs[-1]["marks_while_sliding"]])
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "film_memory.json")
    with open(path, "w") as f:
        f.write(dump({"format": 2, "runs": [{"step_s": step, "points": points} for step, points in RUNS], "cases": out}))


if __name__ == "__main__":
    main()
