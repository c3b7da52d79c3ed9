"""Time against error at the pins: lanesim beside scipy, both on the benchmark shot of ../scipy.

    LANESIM_PRECISION=precision/lanesim.csv go test . -run WorkPrecision -count 1    (in the folder above)
    /usr/bin/python3 precision.py                                                    writes scipy.csv and precision.svg

scipy's shot is written in Python around solve_ivp (DOP853) and is there to show what a general-purpose solver with a
tolerance does for the same equations, not how fast it could be in another language.
"""

import csv
import math
import os
import sys
import time

HERE = os.path.dirname(os.path.abspath(__file__))
sys.path.insert(0, os.path.join(HERE, "..", "scipy"))

from mechanics import BOARD  # noqa: E402
from reference import cases  # noqa: E402
from shot import Shot  # noqa: E402


def settings(rtol):
    return dict(rtol=rtol, atol=rtol / 10, max_step=0.05, slip_end=max(1e-9, rtol), breakaway_time=4e-5)


def measure():
    case = next(c for c in cases() if c["name"] == "benchmark")
    exact = None
    rows = []
    for exponent in (-13, -11, -9, -7, -6, -5, -4):
        start = time.perf_counter()
        lateral = Shot(case, settings(10.0**exponent)).run().result()["end"]["lateral_m"]
        seconds = time.perf_counter() - start
        if exact is None:
            exact = lateral
            continue
        rows.append(("scipy", 10.0**exponent, abs(lateral - exact) / BOARD, seconds * 1e6))
    with open(os.path.join(HERE, "scipy.csv"), "w", newline="") as f:
        w = csv.writer(f)
        w.writerow(("shot", "tolerance", "error_boards", "microseconds"))
        w.writerows(("%s" % a, "%.2g" % b, "%.3g" % c, "%.4g" % d) for a, b, c, d in rows)


def read(name):
    curves = {}
    with open(os.path.join(HERE, name)) as f:
        for r in csv.DictReader(f):
            curves.setdefault(r["shot"], []).append((float(r["microseconds"]), max(float(r["error_boards"]), 1e-9)))
    return curves


INK, SOFT, FAINT = "#22262b", "#555c64", "#d9dde1"
STYLES = (("#0072b2", ""), ("#d55e00", "9 4"), ("#000000", "3 3"), ("#009e73", "12 3 3 3"))


PLACES = {"lanesim, no film memory": ("start", 12, 5), "lanesim, film memory": ("middle", 14, -44), "scipy": ("start", 12, 5)}


def draw(curves, path):
    width, height, left, right, top, bottom = 900, 520, 64, 40, 100, 56
    x0, x1, y0, y1 = 1, 7, -10, 0.5  # decades of us and boards

    def at(x, y):
        return (left + (math.log10(x) - x0) / (x1 - x0) * (width - left - right),
                top + (y1 - math.log10(y)) / (y1 - y0) * (height - top - bottom))

    out = ['<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" font-family="Liberation Sans, Arial, sans-serif" '
           'font-size="15" fill="%s">' % (width, height, INK), '<rect width="100%" height="100%" fill="#fff"/>',
           '<text x="16" y="34" font-size="22" font-weight="bold">Time of a shot against its error at the pins</text>',
           '<text x="16" y="58" fill="%s">Lower and farther left is better. Each point is a tolerance; at those of studies '
           'steps are longer.</text>' % SOFT]
    for d in range(x0, x1 + 1):
        x, _ = at(10.0**d, 1)
        label = {1: "10 µs", 2: "100 µs", 3: "1 ms", 4: "10 ms", 5: "0.1 s", 6: "1 s", 7: "10 s"}[d]
        out.append('<line x1="%.1f" y1="%d" x2="%.1f" y2="%d" stroke="%s"/>' % (x, top, x, height - bottom, FAINT))
        out.append('<text x="%.1f" y="%d" text-anchor="middle" fill="%s">%s</text>' % (x, height - bottom + 20, SOFT, label))
    for d in range(y0, 1, 1):
        _, y = at(10, 10.0**d)
        out.append('<line x1="%d" y1="%.1f" x2="%d" y2="%.1f" stroke="%s"/>' % (left, y, width - right, y, FAINT))
        out.append('<text x="%d" y="%.1f" text-anchor="end" fill="%s">%s</text>' % (left - 8, y + 5, SOFT, "1" if d == 0 else "1e%d" % d))
    out.append('<text x="%d" y="%d" fill="%s">error at the pins, boards</text>' % (16, top - 14, SOFT))
    out.append('<text x="%d" y="%d" fill="%s">time of one shot</text>' % (left, height - 12, SOFT))
    for (name, points), (color, dash) in zip(curves.items(), STYLES):
        path_points = " ".join("%.1f,%.1f" % at(x, y) for x, y in points)
        out.append('<polyline points="%s" fill="none" stroke="%s" stroke-width="2.4" stroke-dasharray="%s"/>' % (path_points, color, dash))
        for x, y in points:
            out.append('<circle cx="%.1f" cy="%.1f" r="3" fill="%s"/>' % (*at(x, y), color))
        # Beside the most exact point; that of film lies by the slowest.
        x, y = at(*(max(points, key=lambda p: p[0]) if ", film" in name else min(points, key=lambda p: p[1])))
        anchor, dx, dy = PLACES[name]
        out.append('<text x="%.1f" y="%.1f" text-anchor="%s" fill="%s" font-weight="bold">%s</text>' % (x + dx, y + dy, anchor, color, name))
    out.append("</svg>")
    with open(path, "w") as f:
        f.write("\n".join(out) + "\n")


if __name__ == "__main__":
    if not os.path.exists(os.path.join(HERE, "scipy.csv")) or "--anew" in sys.argv:
        measure()
    curves = {}
    for name, points in read("lanesim.csv").items():
        curves["lanesim, " + ("film memory" if "layout" in name else "no film memory")] = points
    for name, points in read("scipy.csv").items():
        curves["scipy"] = points
    draw(curves, os.path.join(HERE, "precision.svg"))
