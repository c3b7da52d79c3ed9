// The shot of BenchmarkThrow by a plain Dormand-Prince 5(4) pair in C++: a yardstick for
// the time that the equations themselves take, without film on the ball, dense output and
// summary. It prints the board at the pins, the evaluations, and the time of one shot.
//
//   g++ -O3 -march=native -std=c++17 dormand_prince.cpp -o /tmp/dormand_prince
//   /tmp/dormand_prince 1e-5
//
// Mass, moments, orientation and state at release are those that physics/benchmark_test.go
// prepares.

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <vector>

namespace {

constexpr double foot = 0.3048, gravity = 9.80665, pi = 3.14159265358979323846;

// The ball: kg, m, kg m^2.
constexpr double mass = 6.8038855500000004, radius = 0.108839, contactRadius = 2.5e-3;
constexpr std::array<double, 3> moments = {0.026997763866764283, 0.027765174777925668, 0.028097357364524497};

// The lane: 42 rows a foot apart, 39 columns a board apart; friction by mixed lubrication.
constexpr int rows = 42, columns = 39;
constexpr double lengthOfLane = 60 * foot, endOfOil = 41 * foot;
constexpr double board = 41.5 * 0.0254 / 39, firstColumn = -19 * board;
constexpr double frictionOfFilm = 0.04, frictionOfDryBoards = 0.22, entrained = 0.5, roughness = 25 * 2.54e-8;
double film[rows * columns]; // m

void layOil() {
  const double unit = 0.0167e-6 / (foot * foot);
  for (int i = 0; i < rows; i++)
    for (int j = 0; j < columns; j++) {
      const double edge = std::min(j + 1, columns - j), u = std::clamp((edge - 5) / 5, 0.0, 1.0);
      film[i * columns + j] = unit * 40 * (1 - 0.65 * i / 41) * (0.1 + 0.9 * (1 - std::cos(pi * u)) / 2);
    }
}

// State: place, velocity, spin in the lane's axes, quaternion from body to lane, work, slip.
constexpr int dimension = 13;
using State = std::array<double, dimension>;
constexpr State scale = {1, 1, 1, 1, 10, 10, 10, 1, 1, 1, 1, 1, 1};
constexpr int controlled = 11;

bool oiled, rolling;
double side; // sign of the spin about the vertical while rolling
double slip; // m/s, of the last evaluation
long evaluations;

double friction(double x, double y) {
  if (!oiled) return frictionOfDryBoards;
  const double along = x / foot, across = (y - firstColumn) / board;
  const int i = std::clamp(static_cast<int>(along), 0, rows - 2), j = std::clamp(static_cast<int>(across), 0, columns - 2);
  const double u = std::min(along - i, 1.0), v = std::clamp(across - j, 0.0, 1.0);
  const double *f = film + i * columns + j;
  const double near = f[0] + v * (f[1] - f[0]), far = f[columns] + v * (f[columns + 1] - f[columns]);
  const double ratio = entrained * (near + u * (far - near)) / roughness;
  if (ratio >= 4) return frictionOfFilm;
  return frictionOfFilm + (frictionOfDryBoards - frictionOfFilm) * std::pow(1 - ratio / 4, 6.804);
}

// rates as in physics/centred.go.
void rates(const State &s, State &d) {
  evaluations++;
  const double a = s[7], b = s[8], c = s[9], e = s[10];
  const double q[3][3] = {{1 - 2 * (c * c + e * e), 2 * (b * c - a * e), 2 * (b * e + a * c)},
                          {2 * (b * c + a * e), 1 - 2 * (b * b + e * e), 2 * (c * e - a * b)},
                          {2 * (b * e - a * c), 2 * (c * e + a * b), 1 - 2 * (b * b + c * c)}};
  const double wx = s[4], wy = s[5], wz = s[6];
  double w[3], momentum[3];
  for (int k = 0; k < 3; k++) {
    w[k] = q[0][k] * wx + q[1][k] * wy + q[2][k] * wz;
    momentum[k] = moments[k] * w[k];
  }
  const double gyro[3] = {momentum[1] * w[2] - momentum[2] * w[1], momentum[2] * w[0] - momentum[0] * w[2],
                          momentum[0] * w[1] - momentum[1] * w[0]};
  const double mu = friction(s[0], s[1]), weight = mass * gravity;
  double change[3];
  if (!rolling) {
    const double ux = s[2] - radius * wy, uy = s[3] + radius * wx;
    slip = std::sqrt(ux * ux + uy * uy);
    const double ex = slip > 0 ? ux / slip : 0, ey = slip > 0 ? uy / slip : 0;
    const double pivot = -3 * pi / 16 * mu * weight * contactRadius * contactRadius * wz /
                         (contactRadius * std::fabs(wz) + 15 * pi / 16 * slip);
    const double torque[3] = {-weight * radius * mu * ey, weight * radius * mu * ex, pivot};
    for (int k = 0; k < 3; k++)
      change[k] = (gyro[k] + q[0][k] * torque[0] + q[1][k] * torque[1] + q[2][k] * torque[2]) / moments[k];
    d[0] = s[2], d[1] = s[3], d[2] = -mu * gravity * ex, d[3] = -mu * gravity * ey;
    d[11] = pivot * wz - mu * weight * slip, d[12] = slip;
  } else {
    const double shift = mass * radius * radius, pivot = -3 * pi / 16 * mu * contactRadius * side * weight;
    double up[3], first = 0, second = 0;
    for (int k = 0; k < 3; k++) {
      change[k] = (gyro[k] + q[2][k] * pivot) / (moments[k] + shift);
      up[k] = q[2][k] / (moments[k] + shift);
      first += q[2][k] * up[k], second += q[2][k] * change[k];
    }
    for (int k = 0; k < 3; k++) change[k] += shift * second / (1 - shift * first) * up[k];
    d[0] = radius * wy, d[1] = -radius * wx, d[11] = pivot * wz, d[12] = 0;
  }
  for (int k = 0; k < 3; k++) d[4 + k] = q[k][0] * change[0] + q[k][1] * change[1] + q[k][2] * change[2];
  if (rolling) d[2] = radius * d[5], d[3] = -radius * d[4];
  d[7] = 0.5 * (-wx * b - wy * c - wz * e);
  d[8] = 0.5 * (wx * a + wy * e - wz * c);
  d[9] = 0.5 * (wy * a + wz * b - wx * e);
  d[10] = 0.5 * (wz * a + wx * c - wy * b);
}

State k1, k2, k3, k4, k5, k6, k7, trial, next;

void attempt(const State &y, double h) {
  for (int i = 0; i < dimension; i++) trial[i] = y[i] + h * k1[i] / 5;
  rates(trial, k2);
  for (int i = 0; i < dimension; i++) trial[i] = y[i] + h * (3. / 40 * k1[i] + 9. / 40 * k2[i]);
  rates(trial, k3);
  for (int i = 0; i < dimension; i++) trial[i] = y[i] + h * (44. / 45 * k1[i] - 56. / 15 * k2[i] + 32. / 9 * k3[i]);
  rates(trial, k4);
  for (int i = 0; i < dimension; i++)
    trial[i] = y[i] + h * (19372. / 6561 * k1[i] - 25360. / 2187 * k2[i] + 64448. / 6561 * k3[i] - 212. / 729 * k4[i]);
  rates(trial, k5);
  for (int i = 0; i < dimension; i++)
    trial[i] = y[i] + h * (9017. / 3168 * k1[i] - 355. / 33 * k2[i] + 46732. / 5247 * k3[i] + 49. / 176 * k4[i] -
                           5103. / 18656 * k5[i]);
  rates(trial, k6);
  for (int i = 0; i < dimension; i++)
    next[i] = y[i] + h * (35. / 384 * k1[i] + 500. / 1113 * k3[i] + 125. / 192 * k4[i] - 2187. / 6784 * k5[i] +
                          11. / 84 * k6[i]);
  rates(next, k7);
}

double error(double h, double tolerance) {
  double sum = 0;
  for (int i = 0; i < controlled; i++) {
    const double e = h * (71. / 57600 * k1[i] - 71. / 16695 * k3[i] + 71. / 1920 * k4[i] - 17253. / 339200 * k5[i] +
                          22. / 525 * k6[i] - 1. / 40 * k7[i]) / (tolerance * scale[i]);
    sum += e * e;
  }
  return std::sqrt(sum / controlled);
}

// release puts the ball down; the quaternion is that of the orientation Q.
State release() {
  const double q[3][3] = {{-0.83723070990422677, 0.088476779142577053, -0.5396448813301391},
                          {0.016189555623718592, -0.9823818084315924, -0.18618238571728662},
                          {-0.54661013225330057, -0.16461422178909577, 0.82104781913284397}};
  State y = {0, 0.10811282051282051, 8.2599388730128709, -0.412649332594694, -26.279413460212982, 24.386171091022049, 7.6203614721325605};
  const double e = 0.5 * std::sqrt(1 - q[0][0] - q[1][1] + q[2][2]);
  y[7] = (q[1][0] - q[0][1]) / (4 * e), y[8] = (q[0][2] + q[2][0]) / (4 * e), y[9] = (q[1][2] + q[2][1]) / (4 * e), y[10] = e;
  return y;
}

// shot returns the board at the pins.
double shot(double tolerance, int &steps) {
  State y = release();
  oiled = true, rolling = false, steps = 0;
  double h = 1e-3, before = 1e-4;
  rates(y, k1);
  for (;;) {
    double step = h;
    if (!rolling) { // no more than 95 % of the slip in a step
      const double ux = y[2] - radius * y[5], uy = y[3] + radius * y[4];
      const double ax = k1[2] - radius * k1[5], ay = k1[3] + radius * k1[4];
      const double falls = -(ux * ax + uy * ay);
      if (falls > 0) step = std::min(step, 0.95 * (ux * ux + uy * uy) / falls);
    }
    attempt(y, step);
    const double size = error(step, tolerance);
    if (size > 1) {
      h = step * std::max(0.2, 0.9 * std::pow(size, -0.17) * std::pow(before, 0.04));
      continue;
    }
    const double edge = oiled ? endOfOil : lengthOfLane;
    const bool lands = next[0] >= edge;
    for (double at = step; lands && std::fabs(next[0] - edge) > 1e-12;) {
      at -= (next[0] - edge) / next[2];
      attempt(y, at);
    }
    steps++;
    y = next, k1 = k7;
    h = step * std::clamp(0.9 * std::pow(std::max(size, 1e-10), -0.17) * std::pow(before, 0.04), 0.2, 10.0);
    before = std::max(size, 1e-4);
    const double norm = std::sqrt(y[7] * y[7] + y[8] * y[8] + y[9] * y[9] + y[10] * y[10]);
    for (int k = 7; k < 11; k++) y[k] /= norm;
    if (lands && !oiled) return 20 + y[1] / board;
    if (lands) {
      oiled = false;
      rates(y, k1);
    } else if (!rolling && slip < 10 * tolerance) {
      rolling = true, side = y[6] > 0 ? 1 : -1;
      y[2] = radius * y[5], y[3] = -radius * y[4];
      rates(y, k1);
      h = 0.01;
    }
  }
}

} // namespace

int main(int argc, char **argv) {
  const double tolerance = argc > 1 ? std::atof(argv[1]) : 1e-5;
  layOil();
  int steps;
  const double at = shot(tolerance, steps);
  std::printf("board %.10f, %ld evaluations, %d steps\n", at, evaluations, steps);
  constexpr int batches = 15, shots = 500;
  std::vector<double> times;
  for (int k = 0; k < batches; k++) {
    const auto start = std::chrono::steady_clock::now();
    for (int i = 0; i < shots; i++)
      if (shot(tolerance, steps) != at) return 1;
    times.push_back(std::chrono::duration<double, std::micro>(std::chrono::steady_clock::now() - start).count() / shots);
  }
  std::sort(times.begin(), times.end());
  std::printf("least %.1f us, median %.1f us\n", times[0], times[batches / 2]);
}
