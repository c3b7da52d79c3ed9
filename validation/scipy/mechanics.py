"""Units, geometry, friction and the equations of motion as one linear system. Frames as in reference.py."""

import math

import numpy as np

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
        i = sum(1 for p in self.planes if p <= x + 1e-9)  # as segment() takes the next plane
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
