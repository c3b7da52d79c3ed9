// A smooth ball strikes a free pin, computed by jolt-physics (npm, MIT licence), a general-purpose engine of rigid bodies.
//
//   npm install --prefix DIRECTORY jolt-physics@1.1.0
//   node blow.mjs DIRECTORY
//
// prints for some offsets in inches the directions of ball and pin in degrees and the pin's speed in m/s. The outline of the pin
// is a cubic spline through the table of the outline; where the ball touches, the pin is the sphere on its axis that touches the
// outline there, which a convex body of the engine can be exactly.

import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { join, resolve } from 'node:path';

const directory = resolve(process.argv[2]);
const require = createRequire(join(directory, 'package.json'));
const { default: load } = await import(pathToFileURL(require.resolve('jolt-physics')));
const Jolt = await load();

const IN = 0.0254, LB = 0.45359237;
const OUTLINE = [[0, 2.031], [0.75, 2.828], [2.25, 3.906], [3.375, 4.510], [4.5, 4.766], [5.875, 4.563], [7.25, 3.703], [8.625, 2.472],
  [9.375, 1.965], [10, 1.797], [10.875, 1.870], [11.75, 2.094], [12.625, 2.406], [13.727, 2.546]].map(([h, d]) => [h * IN, d / 2 * IN]);

// The spline's second derivatives: natural at the base, level at the head. Solved by elimination on the full matrix.
function moments() {
  const n = OUTLINE.length, a = Array.from({ length: n }, () => new Array(n + 1).fill(0));
  a[0][0] = 1;
  for (let i = 1; i < n - 1; i++) {
    const [x0, y0] = OUTLINE[i - 1], [x1, y1] = OUTLINE[i], [x2, y2] = OUTLINE[i + 1];
    a[i][i - 1] = (x1 - x0) / 6; a[i][i] = (x2 - x0) / 3; a[i][i + 1] = (x2 - x1) / 6;
    a[i][n] = (y2 - y1) / (x2 - x1) - (y1 - y0) / (x1 - x0);
  }
  const [x0, y0] = OUTLINE[n - 2], [x1, y1] = OUTLINE[n - 1];
  a[n - 1][n - 2] = (x1 - x0) / 6; a[n - 1][n - 1] = (x1 - x0) / 3; a[n - 1][n] = -(y1 - y0) / (x1 - x0);
  for (let c = 0; c < n; c++) {
    for (let r = c + 1; r < n; r++) {
      const f = a[r][c] / a[c][c];
      for (let k = c; k <= n; k++) a[r][k] -= f * a[c][k];
    }
  }
  const m = new Array(n);
  for (let r = n - 1; r >= 0; r--) {
    m[r] = a[r][n];
    for (let k = r + 1; k < n; k++) m[r] -= a[r][k] * m[k];
    m[r] /= a[r][r];
  }
  return m;
}
const M = moments();

function sphereAt(h) { // on the axis, touching the outline at height h
  let i = 1;
  while (i < OUTLINE.length - 1 && h > OUTLINE[i][0]) i++;
  const [l, rl] = OUTLINE[i - 1], [u, ru] = OUTLINE[i], d = u - l, a = (u - h) / d, b = (h - l) / d;
  const r = a * rl + b * ru + ((a ** 3 - a) * M[i - 1] + (b ** 3 - b) * M[i]) * d * d / 6;
  const slope = (ru - rl) / d + ((3 * b * b - 1) * M[i] - (3 * a * a - 1) * M[i - 1]) * d / 6;
  return { s: h + r * slope, rho: r * Math.sqrt(1 + slope * slope) };
}

const R = 4.29 * IN, CENTRE = 5.80 * IN, SPEED = 17 * 0.44704, E = 0.7;

// The height at which a ball on the floor, offset across its path, first touches the upright pin: the sphere that it meets soonest.
function contact(offset) {
  let best = { x: Infinity };
  for (let h = 3 * IN; h < 6 * IN; h += 1e-6) {
    const { s, rho } = sphereAt(h), reach = (R + rho) ** 2 - (R - s) ** 2 - offset ** 2;
    if (reach > 0 && -Math.sqrt(reach) < best.x) best = { x: -Math.sqrt(reach), s, rho };
  }
  return best;
}

function blow(offsetInches) {
  const offset = offsetInches * IN, at = contact(offset);
  const settings = new Jolt.JoltSettings();
  const layers = new Jolt.ObjectLayerPairFilterTable(1);
  layers.EnableCollision(0, 0);
  const broad = new Jolt.BroadPhaseLayerInterfaceTable(1, 1);
  broad.MapObjectToBroadPhaseLayer(0, new Jolt.BroadPhaseLayer(0));
  settings.mObjectLayerPairFilter = layers;
  settings.mBroadPhaseLayerInterface = broad;
  settings.mObjectVsBroadPhaseLayerFilter = new Jolt.ObjectVsBroadPhaseLayerFilterTable(broad, 1, layers, 1);
  const jolt = new Jolt.JoltInterface(settings), system = jolt.GetPhysicsSystem(), bodies = system.GetBodyInterface();
  system.SetGravity(new Jolt.Vec3(0, 0, 0));
  const make = (shape, x, y, z, mass, moments) => {
    const c = new Jolt.BodyCreationSettings(shape, new Jolt.RVec3(x, y, z), new Jolt.Quat(0, 0, 0, 1), Jolt.EMotionType_Dynamic, 0);
    c.mFriction = 0; c.mRestitution = E; c.mLinearDamping = 0; c.mAngularDamping = 0; c.mMaxAngularVelocity = 1000;
    c.mOverrideMassProperties = Jolt.EOverrideMassProperties_MassAndInertiaProvided;
    c.mMassPropertiesOverride.mMass = mass;
    const inertia = Jolt.Mat44.prototype.sIdentity();
    moments.forEach((v, i) => inertia.SetColumn4(i, new Jolt.Vec4(...[0, 1, 2, 3].map((k) => (k === i ? v : 0)))));
    c.mMassPropertiesOverride.mInertia = inertia;
    const b = bodies.CreateBody(c);
    bodies.AddBody(b.GetID(), Jolt.EActivation_Activate);
    return b;
  };
  const mp = 3.5 * LB, mb = 15 * LB, across = mp * (3.63 * IN) ** 2, along = mp * (1.376 * IN) ** 2, ib = mb * (2.5 * IN) ** 2;
  // The pin's mass centre is the shape's, so the sphere is moved against it, and the centre of mass is moved back.
  const off = new Jolt.OffsetCenterOfMassShapeSettings(new Jolt.Vec3(0, 0, CENTRE - at.s), new Jolt.SphereShapeSettings(at.rho));
  const pin = make(off.Create().Get(), 0, 0, at.s, mp, [across, across, along]);
  const ball = make(new Jolt.SphereShape(R), at.x - 0.0005, offset, R, mb, [ib, ib, ib]);
  ball.SetLinearVelocity(new Jolt.Vec3(SPEED, 0, 0));
  for (let i = 0; i < 400; i++) jolt.Step(1e-5, 1);
  const velocity = (b) => { const v = b.GetLinearVelocity(); return [v.GetX(), v.GetY(), v.GetZ()]; }; // the engine uses the vector again
  const vb = velocity(ball), vp = velocity(pin), degrees = (v) => Math.atan2(v[1], v[0]) * 180 / Math.PI;
  return { offset_in: offsetInches, ball_deg: degrees(vb), pin_deg: degrees(vp), pin_mps: Math.hypot(...vp) };
}

console.log(JSON.stringify([0, 1, 2, 3, 4, 5].map(blow), null, 1));
