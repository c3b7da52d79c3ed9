// The last 20 ft with its boards stretched: two layouts half a board apart are one line on
// a whole lane.

import { apart, drawMarkers, drawPaths, drawSurface, ending, Frame, segment, text, tick, type Context } from "./drawing";
import { foot, type Scene } from "./path";
import type { Theme } from "./theme";
import type { Size } from "./view";

const length = 20 * foot;

function frameOf(size: Size, scene: Scene): Frame {
  const lane = scene.shots.lane;
  const from = lane.length - length;
  let low = lane.pocket[0];
  let high = lane.pocket[1];
  for (const path of scene.paths) {
    for (let x = from; x <= lane.length + 1e-6; x += foot) {
      const board = path.boardAt(Math.min(x, lane.length));
      if (Number.isNaN(board)) continue;
      low = Math.min(low, board);
      high = Math.max(high, board);
    }
  }
  low = Math.max(-2.6, Math.floor(low - 0.8));
  high = Math.min(lane.boards + 3.6, Math.ceil(high + 0.8));
  const more = Math.max(0, 8 - (high - low)) / 2;
  const small = size.width < 460;
  return new Frame(small ? 22 : 28, size.width - (small ? 92 : 104), 6, size.height - (small ? 18 : 22), from, lane.length + 0.25 * foot, low - more, high + more);
}

export function drawInset(c: Context, size: Size, scene: Scene, theme: Theme): void {
  const lane = scene.shots.lane;
  const f = frameOf(size, scene);
  const type = size.width < 460 ? 11 : 13;
  drawSurface(c, f, lane, theme);
  const room = (f.bottom - f.top) / (f.high - f.low); // of a board
  const every = [1, 2, 5].find((n) => n * room >= type + 2) ?? 10;
  f.within(c, () => {
    c.lineWidth = 1;
    for (let board = Math.ceil(f.low); board <= f.high; board++) {
      c.strokeStyle = theme.grid;
      c.globalAlpha = board % every === 0 ? 1 : 0.4;
      segment(c, f.left, f.y(board), f.right, f.y(board));
    }
    c.globalAlpha = 1;
    c.fillStyle = theme.pocket;
    c.fillRect(f.x(lane.length - 2.2 * foot), f.y(lane.pocket[1]), f.right, f.y(lane.pocket[0]) - f.y(lane.pocket[1]));
    c.strokeStyle = theme.soft;
    segment(c, f.x(lane.length), f.top, f.x(lane.length), f.bottom);
  });
  for (let board = Math.ceil(f.low); board <= f.high; board++) {
    if (board % every === 0 && board >= 1 && board <= lane.boards) {
      text(c, String(board), f.left - 4, f.y(board), { size: type - 1, colour: theme.soft, align: "right", baseline: "middle" });
    }
  }
  for (let at = 40; at <= 60; at += 5) {
    text(c, at === 60 ? "60 ft" : String(at), f.x(lane.length - length + (at - 40) * foot), f.bottom + type + 2, { size: type, colour: theme.soft, align: "center" });
  }
  drawPaths(c, f, scene, theme, size.width < 460 ? 2.6 : 3.2);
  // The word stands on that side of the pocket from which no path comes.
  const coming = scene.paths.map((path) => path.boardAt(lane.length - 2.5 * foot)).filter((board) => !Number.isNaN(board));
  const below = coming.length > 0 && Math.min(...coming) > (lane.pocket[0] + lane.pocket[1]) / 2;
  text(c, "pocket", f.x(lane.length - 0.2 * foot), below ? f.y(lane.pocket[0]) + type : f.y(lane.pocket[1]) - 4, { size: type - 1, colour: theme.soft, align: "right", halo: theme.paper });
  if (scene.paths.every((path) => Number.isNaN(path.boardAt(f.from)))) text(c, "neither ball gets here", (f.left + f.right) / 2, f.top + 3 * type, { size: type + 1, colour: theme.ink, align: "center" });
  drawTicks(c, f, scene, theme);
  drawEnds(c, f, scene, theme, type);
}

export function drawInsetBalls(c: Context, size: Size, scene: Scene, theme: Theme): void {
  drawMarkers(c, frameOf(size, scene), scene, theme, size.width < 460 ? 8 : 10);
}

function drawTicks(c: Context, f: Frame, scene: Scene, theme: Theme): void {
  for (const side of [0, 1] as const) {
    for (const event of scene.shots.shots[side].events) {
      if (event.distance < f.from || event.key === "pins" || event.key === "pattern_end") continue;
      tick(c, f.x(event.distance), f.y(event.board), theme);
    }
  }
}

/** Where the shots enter, and by how many boards they differ there. */
function drawEnds(c: Context, f: Frame, scene: Scene, theme: Theme, type: number): void {
  const ends = ([0, 1] as const).map((side) => {
    const shot = scene.shots.shots[side];
    const board = scene.paths[side].at(scene.end).board;
    return { side, board, reaches: shot.status === "pins", words: shot.status === "pins" ? `${board.toFixed(1)} ${shot.hit}` : shot.status, y: f.y(board) };
  });
  ends.sort((a, b) => Math.round((a.y - b.y) / 2)); // A first where they are one
  const both = ends[0]!.reaches && ends[1]!.reaches;
  const line = type + 4;
  // The boards between them stand in the middle: they need a line of their own.
  const gap = both ? line : 0;
  const placed = apart(ends.map((e) => e.y), ends.map(() => line), f.top, f.bottom, gap);
  ends.forEach((e, i) => ending(c, e.side, e.words, f.right + 9, placed[i]!, type, theme));
  if (!both) return;
  const middle = (placed[0]! + placed[1]!) / 2;
  const boards = Math.abs(ends[0]!.board - ends[1]!.board);
  text(c, `↕ ${boards < 0.095 ? boards.toFixed(2) : boards.toFixed(1)} boards`, f.right + 9, middle, { size: type - 0.5, colour: theme.soft, baseline: "middle" });
}
