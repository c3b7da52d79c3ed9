"""Shots with oil carried on the ball, by brute force: writes film_memory.json.

Fixed-step RK4, the whole contact history kept, the nearest earlier contact found by scanning every sample between half a
turn and one and a half turns ago and refining with a quartic through five of them. Three step sizes show the error.

    /usr/bin/python3 film_memory.py
"""

import json
import math
import os

import numpy as np

from mechanics import FOOT, quaternion_to_matrix
from reference import MIXED, ball, crowned_oil, dump, lane, release
from shot import FINE, TURN, Q, Shot, T, U, W, X, Y

STEPS = (1e-3, 5e-4, 2.5e-4)
MEMORY = {"pick_up": 0.05, "give_back": 0.40, "contact_width_m": 6.5e-3, "soak_in_s": 60.0}
# The slip at which sliding is taken as ended, m/s; the step shrinks with the slip on the way.
SLIP_END = 1e-7
STEP_PER_SLIP = 0.03  # s per m/s


class MemoryShot(Shot):
    def __init__(self, case):
        super().__init__(case, FINE)
        self.memory = case["memory"] or MEMORY
        self.past_oil = False

    def contact(self, y):
        return -quaternion_to_matrix(y[Q])[2]

    def lane_film(self, y):
        if self.past_oil:
            return 0.0
        i, j = self.friction.cell(y[X], y[Y])
        return self.friction.oil(y[X], y[Y], (min(i, len(self.friction.distance) - 2), j))

    def brought(self, y):
        """Film on the ball where it touches now, left about one turn ago."""
        old = np.searchsorted(self.turns_array[:self.n], y[TURN] - 3 * math.pi)
        new = np.searchsorted(self.turns_array[:self.n], y[TURN] - math.pi, side="right")
        if new - old < 5:
            return 0.0
        here = self.contact(y)
        gap = self.points_array[old:new] - here
        chord2 = np.einsum("ij,ij->i", gap, gap)
        k = old + int(np.argmin(chord2))
        first = min(max(k - 2, old), new - 5)
        five = slice(first, first + 5)
        t = self.times_array[five]
        middle, scale = t[2], t[4] - t[0]
        z = (t - middle) / scale
        p = np.polyfit(z, chord2[first - old:first - old + 5], 4)
        slope, curve = np.polyder(p), np.polyder(p, 2)
        best = (self.times_array[k] - middle) / scale
        for _ in range(6):
            c = np.polyval(curve, best)
            if c <= 0:
                break
            best = min(max(best - np.polyval(slope, best) / c, z[0]), z[4])
        distance = 2 * self.ball.R * math.asin(math.sqrt(max(np.polyval(p, best), 0.0)) / 2)
        width = self.memory["contact_width_m"]
        if distance >= width:
            return 0.0
        left = np.polyval(np.polyfit(z, self.left_array[five], 4), best)
        age = y[T] - (middle + scale * best)
        return (1 - (distance / width)**2)**3 * left * math.exp(-age / self.memory["soak_in_s"])

    def prepare(self, y):
        self.on_ball = self.brought(y)
        self.lane_oil = self.lane_film(y)

    def remember(self, y):
        self.prepare(y)
        h, b = self.lane_oil, self.on_ball
        v = math.hypot(*(y[U] + self.rolling_velocity(y[W])))
        sweep = max(self.ball.R * math.hypot(y[W][0], y[W][1]), v / 5)
        left = min(b + (self.memory["pick_up"] * h * v - self.memory["give_back"] * b * sweep) / sweep, h + b)
        i = self.n
        self.times_array[i], self.turns_array[i], self.points_array[i], self.left_array[i] = y[T], y[TURN], self.contact(y), left
        self.n += 1

    def rates(self, y):
        if self.mode == "slide":
            self.prepare(y)
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
        size = int(6 / step) + 5000
        self.times_array, self.turns_array, self.left_array = (np.zeros(size) for _ in range(3))
        self.points_array, self.n = np.zeros((size, 3)), 0
        end = self.friction.distance[-1]
        stops = sorted([end] + list(self.marks))
        y = self.y
        states = []
        self.remember(y)
        while True:
            slip = math.hypot(*y[U])
            if slip < SLIP_END:
                break
            h = min(step, STEP_PER_SLIP * slip)
            new = self.rk4(y, h)
            stop = next(s for s in stops if s > y[X] + 1e-12)
            if new[X] >= stop:
                for _ in range(4):  # Newton's steps onto the mark
                    h -= (new[X] - stop) / (new[U][0] + self.rolling_velocity(new[W])[0])
                    new = self.rk4(y, h)
                new[X] = stop
                self.prepare(new)
                if stop == end:
                    self.past_oil = True
                else:
                    states.append((stop, self.report(new), self.on_ball, self.lane_oil))
            y = new
            self.remember(y)
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


def finish(case, step):
    shot = MemoryShot(case)
    friction = shot.friction
    friction.at = lambda x, y, cell, on_ball=0.0: at_film(friction, shot.lane_oil + shot.on_ball)
    shot.on_ball = shot.lane_oil = 0.0
    if not case["memory"]:
        shot.brought = lambda y: 0.0
    states = shot.slide_to_roll(step)
    marks = [dict(keep(s), mark_ft=round(x / FOOT, 9), ball_oil_m=float(b), lane_oil_m=float(h)) for x, s, b, h in states]
    shot.to_stretch()
    shot.to_roll()  # the film of the last sliding step stays in the check of mu N from here on
    roll = keep(shot.rolls[0])
    shot.cell = (len(friction.distance), 20)
    friction.planes, friction.lines = [], []
    shot.mark_states = {}
    shot.run()
    if shot.events:
        raise RuntimeError("slips again: film while rolling would matter")
    return {"marks_while_sliding": marks, "roll": roll, "pins": keep(shot.end)}


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
    for name, layout in (("high flare", (60, 3.375, 40)), ("low flare", (60, 1.0, 40)), ("benchmark layout", (60, 4.5, 40))):
        yield {"name": name, "ball": ball(core, pounds=15, diameter_in=8.57, layout=layout), "lane": lane(oil=crowned_oil()),
               "friction": dict(MIXED, film_memory="on"), "memory": MEMORY, "release": r}


def main():
    out = []
    for case in cases():
        runs = [finish(case, h) for h in STEPS]
        differences = []
        for a, b in zip(runs, runs[1:]):
            worst = {}
            for (path, p), (_, q) in zip(numbers(a), numbers(b)):
                name = next(k for k in reversed(path) if isinstance(k, str))
                worst[name] = max(worst.get(name, 0.0), abs(p - q))
            differences.append({k: float("%.1e" % v) for k, v in worst.items()})
        slim = dict(case, lane=dict(case["lane"], oil="the oil of the case benchmark in cases.json"))
        out.append(dict(slim, expected=runs[-1], accuracy={"change_on_first_halving": differences[0], "change_on_second_halving": differences[1]}))
        print(case["name"], runs[-1]["pins"]["board"], runs[-1]["roll"]["distance_m"], differences, flush=True)
        print([(m["mark_ft"], m["ball_oil_m"], m["lane_oil_m"], m["friction"]) for m in runs[-1]["marks_while_sliding"]])
    path = os.path.join(os.path.dirname(os.path.abspath(__file__)), "film_memory.json")
    with open(path, "w") as f:
        f.write(dump({"format": 1, "steps_s": STEPS, "cases": out}))


if __name__ == "__main__":
    main()
