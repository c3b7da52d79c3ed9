// The lane on its side: foul line left, distance to the right, boards upward from the
// bowler's side. Across it is stretched.

import { apart, drawMarkers, drawPaths, drawPins, drawSurface, ending, Frame, segment, text, thickest, tick, type Context } from "./drawing";
import { foot, type Scene } from "./path";
import { letters, oilRamp, type Theme } from "./theme";
import type { Size } from "./view";

const arrows = 15 * foot;
const unit = 0.17976; // um in a unit of oil: 0.0167 mL on a square foot

/** Events labelled elsewhere: at the end of the path, and at the end of the oil. */
const elsewhere = new Set(["pins", "pattern_end", "gutter", "end"]);

function frameOf(size: Size, scene: Scene): Frame {
  const small = size.width < 560;
  const lane = scene.shots.lane;
  return new Frame(small ? 18 : 26, size.width - (small ? 46 : 64), small ? 17 : 22, size.height - (small ? 32 : 42), -0.6 * foot, lane.length + 3.4 * foot, -2.6, lane.boards + 3.6);
}

/** Everything that stands still. */
export function drawLane(c: Context, size: Size, scene: Scene, theme: Theme): void {
  const lane = scene.shots.lane;
  const f = frameOf(size, scene);
  const type = size.width < 560 ? 11 : 13;
  drawSurface(c, f, lane, theme);
  drawScales(c, f, scene, theme, type);
  drawPins(c, f, lane, theme);
  drawPaths(c, f, scene, theme, size.width < 560 ? 2.4 : 3);
  drawEvents(c, f, scene, theme, type);
  drawEnds(c, f, scene, theme, type);
  drawOilScale(c, f, scene, theme, type);
}

/** What moves. */
export function drawLaneBalls(c: Context, size: Size, scene: Scene, theme: Theme): void {
  drawMarkers(c, frameOf(size, scene), scene, theme, size.width < 560 ? 8 : 10);
}

function drawScales(c: Context, f: Frame, scene: Scene, theme: Theme, type: number): void {
  const lane = scene.shots.lane;
  c.lineWidth = 1;
  const feet = lane.length / foot;
  const below = f.bottom + 2 * type + 5;
  for (let at = 0; at <= feet + 0.01; at += 10) {
    c.strokeStyle = theme.soft;
    segment(c, f.x(at * foot), f.bottom, f.x(at * foot), f.bottom + 3);
    text(c, at > feet - 5 ? `${at} ft` : String(at), f.x(at * foot), below, { size: type, colour: theme.soft, align: "center" });
  }
  for (const board of [1, 10, 20, 30, 39]) text(c, String(board), f.left - 4, f.y(board), { size: type - 1, colour: theme.soft, align: "right", baseline: "middle" });
  // The arrows, one on every fifth board.
  c.fillStyle = theme.soft;
  for (let board = 5; board <= 35; board += 5) {
    c.beginPath();
    const x = f.x(arrows);
    const y = f.y(board);
    c.moveTo(x - 3, y - 2.4);
    c.lineTo(x + 3, y);
    c.lineTo(x - 3, y + 2.4);
    c.fill();
  }
  if (lane.oilEnd > 0) {
    c.setLineDash([2, 3]);
    c.strokeStyle = theme.soft;
    segment(c, f.x(lane.oilEnd), f.y(lane.boards + 0.5), f.x(lane.oilEnd), f.y(0.5));
    c.setLineDash([]);
  }
  c.strokeStyle = theme.ink;
  c.lineWidth = 1.5;
  segment(c, f.x(0), f.y(lane.boards + 0.5), f.x(0), f.y(0.5));
}

/** Ticks on the paths, with their words above the lane for A and below it for B. */
function drawEvents(c: Context, f: Frame, scene: Scene, theme: Theme, type: number): void {
  for (const side of [0, 1] as const) {
    const events = scene.shots.shots[side].events.filter((e) => !elsewhere.has(e.key)).sort((a, b) => a.distance - b.distance);
    const above = side === 0;
    const baseline = above ? f.top - 5 : f.bottom + type + 1;
    c.font = `${type}px system-ui, sans-serif`;
    const widths = events.map((e) => c.measureText(e.label).width + 2);
    const at = apart(events.map((e) => f.x(e.distance)), widths, above ? f.left : f.left + 20, f.right + 40, 6);
    events.forEach((e, i) => {
      const x = f.x(e.distance);
      const y = f.y(e.board);
      const toward = above ? -1 : 1;
      c.strokeStyle = theme.soft;
      c.lineWidth = 0.8;
      c.beginPath();
      c.moveTo(x, y + 6 * toward);
      c.lineTo(x, above ? f.top + 8 : f.bottom - 8);
      c.lineTo(at[i]!, above ? f.top - 3 : f.bottom + 3);
      c.stroke();
      tick(c, x, y, theme);
      text(c, e.label, at[i]!, baseline, { size: type, colour: theme.ink, align: "center" });
    });
    if (events.length > 0) text(c, letters[side], at[0]! - widths[0]! / 2 - 12, baseline, { size: type, bold: true, colour: theme.ink });
  }
}

/** The shots' letters where the paths end, with the board or how the shot ended. */
function drawEnds(c: Context, f: Frame, scene: Scene, theme: Theme, type: number): void {
  const ends = ([0, 1] as const).map((side) => {
    const shot = scene.shots.shots[side];
    const at = scene.paths[side].at(scene.end);
    return { side, at, reaches: shot.status === "pins", words: shot.status === "pins" ? at.board.toFixed(1) : shot.status, y: f.y(at.board) };
  });
  const reaching = ends.filter((e) => e.reaches).sort((a, b) => Math.round((a.y - b.y) / 2));
  const placed = apart(reaching.map((e) => e.y), reaching.map(() => type + 3), f.top, f.bottom, 0);
  reaching.forEach((e, i) => ending(c, e.side, e.words, f.right + 5, placed[i]!, type, theme));
  // A path that does not reach the pins is labelled at its end: inward from the gutter, one label above the other.
  ends.filter((e) => !e.reaches && scene.paths[e.side].count > 0).forEach((e, i) => {
    const inward = e.at.board > 20 ? 1 : -1;
    const y = Math.min(f.bottom - type, Math.max(f.top + type, e.y)) + inward * i * (type + 4);
    const x = f.x(e.at.distance);
    const left = x > f.right - 90;
    text(c, `${letters[e.side]} ${e.words}`, left ? x - 14 : x + 14, y, { size: type + 1, bold: true, colour: theme.ink, align: left ? "right" : "left", baseline: "middle", halo: theme.paper });
  });
}

/** The scale of the oil: above the lane, or on it past the arrows if labels fill the space above. */
function drawOilScale(c: Context, f: Frame, scene: Scene, theme: Theme, type: number): void {
  const lane = scene.shots.lane;
  const narrow = f.right - f.left < 480;
  const y = narrow ? f.y(lane.boards) + type + 1 : f.top - 5;
  let x = narrow ? f.x(17 * foot) : f.left;
  const halo = narrow ? { halo: theme.casing } : {};
  if (lane.oilEnd === 0) {
    text(c, "dry lane", x, y, { size: type, colour: theme.soft });
    return;
  }
  x += text(c, narrow ? "0" : "oil 0", x, y, { size: type, colour: theme.ink, ...halo }) + 3;
  const wide = narrow ? 18 : 30;
  const ramp = oilRamp(theme);
  for (let i = 0; i < wide; i++) {
    const [r, g, b] = ramp(i / wide);
    c.fillStyle = `rgb(${r},${g},${b})`;
    c.fillRect(x + i, y - type + 3, 1.5, type - 2);
  }
  c.strokeStyle = theme.soft;
  c.lineWidth = 0.8;
  c.strokeRect(x, y - type + 3, wide, type - 2);
  text(c, `${Math.round(thickest(lane) / unit)} units`, x + wide + 4, y, { size: type, colour: theme.ink, ...halo });
}
