// A ball in its orientation at a moment: pin, PSA, PAP, holes, and its track so far, broad
// where it carries oil.

import { text, type Context } from "./drawing";
import type { Quaternion, Scene } from "./path";
import { TRACK } from "./protocol/shots";
import { letters, type Theme } from "./theme";

type Vector = [number, number, number];
type Matrix = [Vector, Vector, Vector]; // rows: to the right, up, toward the viewer

/** From where the balls are seen. */
export type Sight = "behind" | "pins" | "side" | "pap";

/** Above this film, in um, the contact left oil on the ball. */
const oily = 0.02;

const cross = (a: Vector, b: Vector): Vector => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const unit = (a: Vector): Vector => {
  const length = Math.hypot(...a) || 1;
  return [a[0] / length, a[1] / length, a[2] / length];
};

/** The axes of a viewer in a direction, with another direction up. */
function looking(from: Vector, up: Vector): Matrix {
  const toward = unit(from);
  const right = unit(cross(up, toward));
  return [right, cross(toward, right), toward];
}

/** The rotation of a unit quaternion as a matrix. */
function matrix([w, x, y, z]: Quaternion): Matrix {
  return [
    [1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)],
    [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)],
    [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)],
  ];
}

function product(a: Matrix, b: Matrix): Matrix {
  const column = (j: number): Vector => [b[0][j]!, b[1][j]!, b[2][j]!];
  const columns = [column(0), column(1), column(2)];
  return a.map((row) => columns.map((c) => dot(row, c))) as Matrix;
}

const apply = (m: Matrix, v: Vector): Vector => [dot(m[0], v), dot(m[1], v), dot(m[2], v)];

/** Turns the ball's axes into the viewer's. */
function viewOf(scene: Scene, side: 0 | 1, sight: Sight): Matrix {
  const shot = scene.shots.shots[side];
  if (sight === "pap") {
    const pap = shot.marks.find((m) => m.kind === "pap")?.at ?? [0, 1, 0];
    const pin = shot.marks.find((m) => m.kind === "pin")?.at;
    const up: Vector = pin && Math.abs(dot(pin, pap)) < 0.98 ? pin : Math.abs(pap[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
    return looking(pap, up);
  }
  const handed = shot.left ? -1 : 1;
  const from: Vector = sight === "behind" ? [-0.94, 0, 0.34] : sight === "pins" ? [0.94, 0, 0.34] : [0, 0.94 * handed, 0.34];
  return product(looking(from, [0, 0, 1]), matrix(scene.paths[side].at(scene.time).turn));
}

interface Place {
  x: number;
  y: number;
  radius: number;
}

export function drawBall(c: Context, place: Place, scene: Scene, side: 0 | 1, sight: Sight, theme: Theme, moving: boolean): void {
  const { x, y, radius } = place;
  const shade = c.createRadialGradient(x - radius * 0.35, y - radius * 0.4, radius * 0.1, x, y, radius);
  shade.addColorStop(0, theme.ball[0]);
  shade.addColorStop(1, theme.ball[1]);
  c.beginPath();
  c.arc(x, y, radius, 0, 2 * Math.PI);
  c.fillStyle = shade;
  c.fill();
  c.lineWidth = 1.5;
  c.strokeStyle = theme.soft;
  c.stroke();
  if (scene.paths[side].count === 0) return;
  const view = viewOf(scene, side, sight);
  drawTrack(c, place, scene, side, view, theme, moving);
  drawMarks(c, place, scene, side, view, theme);
}

function drawTrack(c: Context, { x, y, radius }: Place, scene: Scene, side: 0 | 1, view: Matrix, theme: Theme, moving: boolean): void {
  const track = scene.tracks[side];
  const shot = scene.shots.shots[side];
  const last = scene.time >= scene.end ? track.count : track.until(scene.time);
  const step = moving && track.count > 900 ? 2 : 1;
  const band = new Path2D();
  const line = new Path2D();
  let seen = false;
  let wet = false;
  for (let i = 0; i < last; i += step) {
    const p: Vector = [track.value(i, TRACK.x), track.value(i, TRACK.y), track.value(i, TRACK.z)];
    const front = dot(view[2], p) > 0;
    if (!front) {
      seen = wet = false;
      continue;
    }
    const px = x + radius * dot(view[0], p);
    const py = y - radius * dot(view[1], p);
    const carries = track.value(i, TRACK.left) > oily;
    if (seen) line.lineTo(px, py);
    else line.moveTo(px, py);
    if (carries && wet) band.lineTo(px, py);
    else if (carries) band.moveTo(px, py);
    seen = true;
    wet = carries;
  }
  const width = Math.max(3, (shot.contactWidth / shot.radius) * radius);
  c.lineJoin = "round";
  c.strokeStyle = theme.oil[1];
  c.lineWidth = width;
  c.stroke(band);
  c.strokeStyle = theme.paths[side];
  c.lineWidth = 1.3;
  c.stroke(line);
}

function drawMarks(c: Context, { x, y, radius }: Place, scene: Scene, side: 0 | 1, view: Matrix, theme: Theme): void {
  const type = radius < 60 ? 10 : 12;
  for (const mark of scene.shots.shots[side].marks) {
    const at = apply(view, unit(mark.at));
    if (at[2] < 0.08) continue;
    const px = x + radius * at[0];
    const py = y - radius * at[1];
    if (mark.kind === "hole" || mark.kind === "grip") {
      // A circle on the sphere is seen as an ellipse, shorter toward the middle.
      const across = Math.sin(mark.radius) * radius;
      c.beginPath();
      c.ellipse(px * Math.cos(mark.radius) + x * (1 - Math.cos(mark.radius)), py * Math.cos(mark.radius) + y * (1 - Math.cos(mark.radius)), Math.max(1, across * at[2]), across, Math.atan2(-at[1], at[0]), 0, 2 * Math.PI);
      c.fillStyle = theme.hole;
      c.strokeStyle = theme.soft;
      c.lineWidth = 0.8;
      c.fill();
      c.stroke();
      continue;
    }
    c.strokeStyle = theme.ink;
    c.fillStyle = theme.ink;
    c.lineWidth = 2;
    c.beginPath();
    const s = radius < 60 ? 3.5 : 5;
    if (mark.kind === "pap") {
      c.moveTo(px - s, py);
      c.lineTo(px + s, py);
      c.moveTo(px, py - s);
      c.lineTo(px, py + s);
      c.stroke();
    } else if (mark.kind === "pin") {
      c.arc(px, py, s * 0.8, 0, 2 * Math.PI);
      c.fill();
    } else {
      c.rect(px - s * 0.7, py - s * 0.7, 1.4 * s, 1.4 * s);
      c.stroke();
    }
    text(c, mark.label, px + s + 2, py - s * 0.4, { size: type, bold: true, colour: theme.ink, halo: theme.ball[0] });
  }
}

/**
 * Both balls beside each other, with letters, speed and rev rate. Apart they leave room between them for a control.
 */
export function drawBalls(c: Context, size: { width: number; height: number }, scene: Scene, sight: Sight, theme: Theme, moving: boolean, apart = false): void {
  const type = size.width < 420 ? 11 : 13;
  const radius = Math.min(apart ? (size.width - 116) / 4 : size.width / 4 - 10, (size.height - type - 12) / 2);
  for (const side of [0, 1] as const) {
    const x = apart ? (side === 0 ? radius + 16 : size.width - radius - 2) : size.width * (side === 0 ? 0.25 : 0.75);
    drawBall(c, { x, y: radius + 3, radius }, scene, side, sight, theme, moving);
    const at = scene.paths[side].at(scene.time);
    const mph = (at.speed / 0.44704).toFixed(1);
    const rpm = Math.round((at.revRate * 30) / Math.PI);
    const letter = Math.max(2, x - radius - (apart ? 12 : 2));
    text(c, letters[side], letter, type + 2, { size: type + 3, bold: true, colour: theme.ink });
    text(c, `${mph} mph, ${rpm} rpm`, x, Math.min(size.height - 3, 2 * radius + type + 10), { size: type, colour: theme.soft, align: "center" });
  }
}
