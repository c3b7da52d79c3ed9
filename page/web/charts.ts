// Charts as SVG, so that they follow the page's colours in the dark and in print.

import { h, svg } from "./dom";
import type { Share } from "./protocol/studies";

export interface Curve {
  letter: string;
  points: [number, number][];
  /** Limits of each point, where it has some. */
  band?: [number, number, number][]; // x, low, high
}

export interface Chart {
  label: string; // for screen readers
  x: { from: number; to: number; ticks: number[]; name: string; words?: string[] }; // words stand for the ticks' numbers
  y: { from: number; to: number; ticks: number[]; name: string };
  curves?: Curve[];
  /** Points of A and B: circles and triangles. */
  clouds?: { letter: string; points: [number, number][] }[];
  /** A range of x or y that is marked, with its word. */
  mark?: { axis: "x" | "y"; from: number; to: number; word: string };
  height?: number;
}

const wide = 340;
const edge = { left: 34, right: 20, top: 16, bottom: 30 };

/** Ticks at round numbers between two limits. */
export function ticks(from: number, to: number, most = 6): number[] {
  const raw = (to - from) / most || 1;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 2.5, 5, 10].map((m) => m * power).find((s) => s >= raw) ?? raw;
  const made: number[] = [];
  for (let at = Math.ceil(from / step - 1e-9) * step; at <= to + step * 1e-6; at += step) made.push(Number(at.toPrecision(6)));
  return made;
}

const shown = (value: number): string => String(value).replace("-", "−");

export function chart(c: Chart): SVGElement {
  const tall = c.height ?? 170;
  const x = (v: number) => edge.left + ((v - c.x.from) / (c.x.to - c.x.from)) * (wide - edge.left - edge.right);
  const y = (v: number) => tall - edge.bottom - ((v - c.y.from) / (c.y.to - c.y.from || 1)) * (tall - edge.top - edge.bottom);
  const root = svg("svg", { class: "chart", viewBox: `0 0 ${wide} ${tall}`, role: "img", "aria-label": c.label });
  const put = (tag: string, properties: Record<string, string | number>, words?: string) => root.append(svg(tag, properties, words));
  if (c.mark) {
    const [u, v] = c.mark.axis === "x" ? [x(c.mark.from), x(c.mark.to)] : [y(c.mark.to), y(c.mark.from)];
    if (c.mark.axis === "x") {
      put("rect", { class: "mark", x: u, y: edge.top, width: v - u, height: tall - edge.top - edge.bottom });
      put("text", { x: (u + v) / 2, y: edge.top - 4, "text-anchor": "middle" }, c.mark.word);
    } else put("rect", { class: "mark", x: edge.left, y: u, width: wide - edge.left - edge.right, height: v - u });
  }
  for (const at of c.y.ticks) {
    put("line", { class: at === 0 ? "zero" : "grid", x1: edge.left, x2: wide - edge.right, y1: y(at), y2: y(at) });
    put("text", { x: edge.left - 4, y: y(at) + 4, "text-anchor": "end" }, shown(at));
  }
  c.x.ticks.forEach((at, i) => {
    put("line", { class: "grid", x1: x(at), x2: x(at), y1: tall - edge.bottom, y2: tall - edge.bottom + 3 });
    put("text", { x: x(at), y: tall - edge.bottom + 14, "text-anchor": "middle" }, c.x.words?.[i] ?? shown(at));
  });
  put("text", { class: "name", x: wide - edge.right, y: tall - 3, "text-anchor": "end" }, c.x.name);
  put("text", { class: "name", x: 2, y: 10 }, c.y.name);
  for (const cloud of c.clouds ?? []) {
    const which = cloud.letter.toLowerCase();
    let d = "";
    for (const [px, py] of cloud.points) {
      const u = x(px).toFixed(1);
      const v = y(py);
      if (which === "a") d += `M${u} ${v.toFixed(1)}m-1.6 0a1.6 1.6 0 1 0 3.2 0a1.6 1.6 0 1 0-3.2 0`;
      else d += `M${u} ${(v - 2.2).toFixed(1)}l2 3.6h-4z`;
    }
    if (d) put("path", { class: `cloud ${which}`, d });
  }
  const ends: { y: number; letter: string; x: number }[] = [];
  for (const curve of c.curves ?? []) {
    const which = /^[AB]$/.test(curve.letter) ? curve.letter.toLowerCase() : "";
    if (curve.band && curve.band.length > 1) {
      const up = curve.band.map(([px, , high]) => `${x(px).toFixed(1)},${y(high).toFixed(1)}`);
      const down = curve.band.map(([px, low]) => `${x(px).toFixed(1)},${y(low).toFixed(1)}`).reverse();
      put("polygon", { class: `band ${which}`, points: [...up, ...down].join(" ") });
    }
    put("polyline", { class: `curve ${which}`, points: curve.points.map(([px, py]) => `${x(px).toFixed(1)},${y(py).toFixed(1)}`).join(" ") });
    const last = curve.points.at(-1);
    if (last) ends.push({ x: x(last[0]), y: y(last[1]), letter: curve.letter });
  }
  ends.sort((a, b) => a.y - b.y);
  ends.forEach((end, i) => {
    const before = ends[i - 1];
    if (before && end.y - before.y < 13) end.y = before.y + 13;
    if (/^[AB]$/.test(end.letter)) put("text", { class: "letter", x: end.x + 4, y: end.y + 4 }, end.letter);
  });
  return root;
}

/** A share as a bar with its 95 % interval. */
export function bar(letter: string, share: Share, words = share.text): HTMLElement {
  const percent = (v: number) => `${(100 * v).toFixed(2)}%`;
  return h("div", { class: `bar ${letter.toLowerCase()}` },
    h("b", {}, letter),
    h("span", { class: "rail", "aria-hidden": "true" },
      h("span", { class: "fill", style: `width:${percent(share.share)}` }),
      h("span", { class: "range", style: `left:${percent(share.low)};width:${percent(share.high - share.low)}` })),
    h("span", { class: "amount" }, words));
}

/** Shares of a whole as bars. */
export function shareBars(rows: { label: string; share: number; text: string }[]): HTMLElement {
  return h("div", { class: "causes" }, ...rows.map((row) => h("div", { class: "cause" }, h("span", {}, row.label),
    h("span", { class: "rail", "aria-hidden": "true" }, h("span", { class: "fill", style: `width:${(100 * row.share).toFixed(2)}%` })), h("span", { class: "amount" }, row.text))));
}

/** Bars to both sides of zero, with their numbers. */
export function signedBars(rows: { label: string; value: number | null }[], digits: number, explain: (label: string) => void): HTMLElement {
  const most = Math.max(1e-9, ...rows.map((r) => Math.abs(r.value ?? 0)));
  return h("div", { class: "causes" }, ...rows.map((row) => {
    const value = row.value ?? 0;
    const width = (Math.abs(value) / most) * 50;
    const sign = Number(value.toFixed(digits)) === 0 ? "" : value > 0 ? "+" : "−";
    return h("div", { class: "cause" }, h("button", { type: "button", class: "term", click: () => explain(row.label) }, row.label),
      h("span", { class: "axis", "aria-hidden": "true" }, h("span", { class: "fill", style: `left:${value < 0 ? 50 - width : 50}%;width:${width}%` })),
      h("span", { class: "amount" }, row.value === null ? "–" : `${sign}${Math.abs(value).toFixed(digits)}`));
  }));
}
