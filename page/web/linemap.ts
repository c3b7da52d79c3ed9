// A map of lines: the share of hits over laydown and board at the arrows.

import { svg } from "./dom";
import { ticks } from "./charts";
import type { Lines } from "./protocol/studies";

const wide = 340;
const tall = 240;
const edge = { left: 34, right: 12, top: 18, bottom: 32 };
const levels = 6;

/** The map of a ball's lines with the best of them marked. */
export function lineMap(ball: Lines["balls"][number]): SVGElement {
  const { laydown, arrows, share } = ball.map;
  const at = (i: number, j: number) => share[i * arrows.length + j]!;
  const finite = share.filter((v) => v > 0.005);
  const most = Math.max(0.01, ...finite);
  // Only the part of the lane in which lines hit at all.
  const hit = (rows: number[], of: (k: number) => boolean): [number, number] => {
    const some = rows.filter((_, k) => of(k));
    return some.length > 0 ? [Math.min(...some) - 1, Math.max(...some) + 1] : [rows[0]!, rows.at(-1)!];
  };
  const worth = 0.15 * most;
  const [x0, x1] = hit(laydown, (i) => arrows.some((_, j) => at(i, j) > worth));
  const [y0, y1] = hit(arrows, (j) => laydown.some((_, i) => at(i, j) > worth));
  const x = (v: number) => edge.left + ((v - x0) / (x1 - x0)) * (wide - edge.left - edge.right);
  const y = (v: number) => tall - edge.bottom - ((v - y0) / (y1 - y0)) * (tall - edge.top - edge.bottom);
  const root = svg("svg", { class: "chart map", viewBox: `0 0 ${wide} ${tall}`, role: "img",
    "aria-label": `${ball.side.toUpperCase()} ${ball.name}: best from board ${ball.laydown.toFixed(1)} over board ${ball.arrows.toFixed(1)} at the arrows, ${ball.share.text}` });
  const put = (tag: string, properties: Record<string, string | number>, words?: string) => root.append(svg(tag, properties, words));
  const cell = (rows: number[], k: number, low: number, high: number): [number, number] => [
    Math.max(low, k > 0 ? (rows[k - 1]! + rows[k]!) / 2 : rows[k]!), Math.min(high, k < rows.length - 1 ? (rows[k]! + rows[k + 1]!) / 2 : rows[k]!)];
  for (let i = 0; i < laydown.length; i++) {
    const [left, right] = cell(laydown, i, x0, x1);
    for (let j = 0; j < arrows.length; j++) {
      const [low, high] = cell(arrows, j, y0, y1);
      const value = at(i, j);
      const level = Math.min(levels, Math.ceil((value / most) * levels));
      if (right <= left || high <= low || !(level > 0)) continue;
      put("rect", { class: ball.side, x: x(left), y: y(high), width: x(right) - x(left), height: y(low) - y(high), opacity: (0.12 + (0.78 * (level - 1)) / (levels - 1)).toFixed(2) });
    }
  }
  for (const v of ticks(x0, x1, 7)) put("text", { x: x(v), y: tall - edge.bottom + 14, "text-anchor": "middle" }, String(v));
  for (const v of ticks(y0, y1, 6)) put("text", { x: edge.left - 5, y: y(v) + 4, "text-anchor": "end" }, String(v));
  put("rect", { class: "frame", x: edge.left, y: edge.top, width: wide - edge.left - edge.right, height: tall - edge.top - edge.bottom });
  put("circle", { class: "best", cx: x(ball.laydown), cy: y(ball.arrows), r: 6 });
  put("text", { class: "letter halo", x: x(ball.laydown) + 9, y: y(ball.arrows) + 5 }, `${ball.side.toUpperCase()} ${ball.share.text}`);
  put("text", { class: "name", x: wide - edge.right, y: tall - 4, "text-anchor": "end" }, "laydown, board");
  put("text", { class: "name", x: 2, y: 11 }, `board at the arrows; full colour: ${(100 * most).toFixed(0)} % hit`);
  return root;
}
