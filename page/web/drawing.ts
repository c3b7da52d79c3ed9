// What the lane and its enlarged end have in common: the frame that turns distances and
// boards into pixels, the oil, the paths, the pins.

import { foot, type Path, type Scene } from "./path";
import { PATH, type Lane } from "./protocol/shots";
import { dashes, font, letters, oilRamp, type Theme } from "./theme";

export type Context = CanvasRenderingContext2D;

/** Turns distance (m) and board into pixels. Board 1 of the bowler's side lies below. */
export class Frame {
  constructor(
    readonly left: number,
    readonly right: number,
    readonly top: number,
    readonly bottom: number,
    readonly from: number, // m
    readonly to: number, // m
    readonly low: number, // board
    readonly high: number, // board
  ) {}

  x(distance: number): number {
    return this.left + ((distance - this.from) / (this.to - this.from)) * (this.right - this.left);
  }

  y(board: number): number {
    return this.bottom - ((board - this.low) / (this.high - this.low)) * (this.bottom - this.top);
  }

  /** Draws inside the frame only. */
  within(c: Context, draw: () => void): void {
    c.save();
    c.beginPath();
    c.rect(this.left, this.top, this.right - this.left, this.bottom - this.top);
    c.clip();
    draw();
    c.restore();
  }
}

/** The picture of the oil, made again only for another oil or theme. */
let kept: { film: Float32Array; theme: Theme; picture: HTMLCanvasElement } | undefined;

const columns = 240;

function oilPicture(lane: Lane, theme: Theme): HTMLCanvasElement {
  const { distances, film } = lane.oil;
  if (kept && kept.theme === theme && kept.film.length === film.length && kept.film.every((v, i) => v === film[i])) return kept.picture;
  const picture = document.createElement("canvas");
  picture.width = columns;
  picture.height = lane.boards;
  const c = picture.getContext("2d")!;
  const image = c.createImageData(columns, lane.boards);
  const full = thickest(lane);
  const ramp = oilRamp(theme);
  for (let column = 0; column < columns; column++) {
    const x = ((column + 0.5) / columns) * lane.length;
    let i = 0;
    while (i < distances.length - 1 && distances[i + 1]! <= x) i++;
    const j = i + 1 < distances.length ? i + 1 : i;
    const share = j > i ? (x - distances[i]!) / (distances[j]! - distances[i]!) : 0;
    for (let board = 0; board < lane.boards; board++) {
      const at = (k: number) => film[k * lane.boards + (lane.left ? lane.boards - 1 - board : board)] ?? 0;
      const thick = x > lane.oilEnd || distances.length === 0 ? 0 : at(i) + share * (at(j) - at(i));
      const colour = ramp(thick / full);
      const to = 4 * ((lane.boards - 1 - board) * columns + column);
      for (let k = 0; k < 3; k++) image.data[to + k] = colour[k]!;
      image.data[to + 3] = thick > 0 ? 255 : 0;
    }
  }
  c.putImageData(image, 0, 0);
  kept = { film: film.slice(), theme, picture };
  return picture;
}

/** The thickest film in um; 1 on a dry lane. */
export function thickest(lane: Lane): number {
  let most = 0;
  for (const v of lane.oil.film) if (v > most) most = v;
  return most || 1;
}

/** The lane's surface with its oil and gutters. */
export function drawSurface(c: Context, f: Frame, lane: Lane, theme: Theme): void {
  f.within(c, () => {
    c.fillStyle = theme.gutter;
    c.fillRect(f.left, f.top, f.right - f.left, f.bottom - f.top);
    const top = f.y(lane.boards + 0.5);
    const height = f.y(0.5) - top;
    c.fillStyle = theme.paper;
    c.fillRect(f.x(0), top, f.x(lane.length + 3.2 * foot) - f.x(0), height);
    if (lane.oilEnd > 0) {
      c.imageSmoothingEnabled = true;
      c.drawImage(oilPicture(lane, theme), f.x(0), top, f.x(lane.length) - f.x(0), height);
    }
  });
  c.strokeStyle = theme.soft;
  c.lineWidth = 1;
  c.strokeRect(f.left, f.top, f.right - f.left, f.bottom - f.top);
}

/** Both paths on casings that keep them off the oil. Where they coincide, A shows in the gaps of B's dashes. */
export function drawPaths(c: Context, f: Frame, scene: Scene, theme: Theme, width: number): void {
  f.within(c, () => {
    c.lineJoin = "round";
    c.strokeStyle = theme.casing;
    c.lineWidth = width + 3;
    for (const path of scene.paths) {
      trace(c, f, path);
      c.stroke();
    }
    for (const side of [0, 1] as const) {
      trace(c, f, scene.paths[side]);
      c.setLineDash(dashes[side].map((length) => length * width));
      c.strokeStyle = theme.paths[side];
      c.lineWidth = width;
      c.stroke();
      c.setLineDash([]);
    }
  });
}

function trace(c: Context, f: Frame, path: Path): void {
  c.beginPath();
  for (let i = 0; i < path.count; i++) {
    const x = f.x(path.value(i, PATH.distance));
    const y = f.y(path.value(i, PATH.board));
    if (i === 0) c.moveTo(x, y);
    else c.lineTo(x, y);
  }
}

/** Rows of pins behind the head pin, and how far they stand from the middle, in m. */
const spots: [number, number][] = [0, 1, 2, 3].flatMap((row) => Array.from({ length: row + 1 }, (_, i) => [row * 0.26396, (i - row / 2) * 0.3048] as [number, number]));
const pinRadius = 0.0606; // m, at its thickest

/** The pins from above. They are as wide as the frame shows them, and no longer round where it is stretched. */
export function drawPins(c: Context, f: Frame, lane: Lane, theme: Theme): void {
  const boards = lane.boards / lane.width; // per m
  f.within(c, () => {
    c.lineWidth = 1.2;
    for (const [back, aside] of spots) {
      c.beginPath();
      const across = f.y(0) - f.y(pinRadius * boards);
      c.ellipse(f.x(lane.length + back), f.y((lane.boards + 1) / 2 + aside * boards), Math.max(2, f.x(pinRadius) - f.x(0)), Math.max(2, across), 0, 0, 2 * Math.PI);
      c.fillStyle = theme.pin;
      c.strokeStyle = theme.soft;
      c.fill();
      c.stroke();
    }
  });
}

/** The balls at the scene's time, each with its letter; with both where they cover each other. */
export function drawMarkers(c: Context, f: Frame, scene: Scene, theme: Theme, radius: number): void {
  const shown = ([1, 0] as const).flatMap((side) => {
    const at = scene.paths[side].at(scene.time);
    if (scene.paths[side].count === 0 || at.distance < f.from - 0.01) return [];
    return [{ side, x: f.x(at.distance), y: Math.min(f.bottom, Math.max(f.top, f.y(at.board))) }];
  });
  const [b, a] = shown;
  const covered = a !== undefined && b !== undefined && Math.hypot(a.x - b.x, a.y - b.y) < 0.9 * radius;
  for (const { side, x, y } of shown) {
    c.beginPath();
    c.arc(x, y, radius, 0, 2 * Math.PI);
    c.fillStyle = theme.paper;
    c.fill();
    c.lineWidth = 2.5;
    c.strokeStyle = theme.paths[side];
    c.stroke();
    const letter = covered ? "AB" : letters[side];
    text(c, letter, x, y + 0.5, { size: Math.round(radius * (covered ? 1.05 : 1.35)), bold: true, align: "center", baseline: "middle", colour: theme.ink });
  }
}

/** A straight line between two places. */
export function segment(c: Context, x0: number, y0: number, x1: number, y1: number): void {
  c.beginPath();
  c.moveTo(x0, y0);
  c.lineTo(x1, y1);
  c.stroke();
}

/** The mark of an event across a path. */
export function tick(c: Context, x: number, y: number, theme: Theme): void {
  c.strokeStyle = theme.ink;
  c.lineWidth = 2;
  segment(c, x, y - 5, x, y + 5);
}

/** A shot's letter and words beside the end of its path. */
export function ending(c: Context, side: 0 | 1, words: string, x: number, y: number, type: number, theme: Theme): void {
  const width = text(c, letters[side], x, y, { size: type + 1, bold: true, colour: theme.ink, baseline: "middle" });
  text(c, words, x + 3 + width, y, { size: type, colour: theme.ink, baseline: "middle" });
}

export interface Lettering {
  size: number;
  colour: string;
  bold?: boolean;
  align?: CanvasTextAlign;
  baseline?: CanvasTextBaseline;
  halo?: string;
}

/** Writes a text; returns its width. */
export function text(c: Context, words: string, x: number, y: number, l: Lettering): number {
  c.font = font(l.size, l.bold);
  c.textAlign = l.align ?? "left";
  c.textBaseline = l.baseline ?? "alphabetic";
  if (l.halo) {
    c.strokeStyle = l.halo;
    c.lineWidth = 3;
    c.lineJoin = "round";
    c.strokeText(words, x, y);
  }
  c.fillStyle = l.colour;
  c.fillText(words, x, y);
  return c.measureText(words).width;
}

/** Moves labels apart along a line, within bounds: each centre as near as possible to its place. */
export function apart(at: number[], widths: number[], from: number, to: number, gap: number): number[] {
  const placed = [...at];
  let edge = from;
  for (let i = 0; i < placed.length; i++) {
    placed[i] = Math.max(placed[i]!, edge + widths[i]! / 2);
    edge = placed[i]! + widths[i]! / 2 + gap;
  }
  edge = to;
  for (let i = placed.length - 1; i >= 0; i--) {
    placed[i] = Math.min(placed[i]!, edge - widths[i]! / 2);
    edge = placed[i]! - widths[i]! / 2 - gap;
  }
  return placed;
}
