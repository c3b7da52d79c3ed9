// The long studies: each is a card with its question.

import type { App } from "./app";
import { bar, chart, shareBars, ticks } from "./charts";
import { byID, h } from "./dom";
import { falls } from "./falls";
import { letters } from "./theme";
import type { Lines, Moves, MoveResult, Spread, Wear } from "./protocol/studies";
import { lineMap } from "./linemap";
import { cautions, choices, levels, printed, study } from "./study";

export class Studies {
  constructor(private readonly app: App) {
    byID("studies").append(this.spread(), this.line(), this.move(), this.wear(), falls(app));
  }

  private spread(): HTMLElement {
    const level = levels(this.app, "spread-level");
    const count = choices("spread-count", [["200", "200"], ["1000", "1,000"], ["5000", "5,000"]], "1000");
    return study<Spread>(this.app, {
      id: "spread", is: "spread", title: "Where do my deliveries end?", button: "Throw them", about: "Both balls are thrown many times with a bowler’s usual misses.",
      choices: [{ label: "Misses of", select: level }, { label: "Deliveries", select: count }],
      ask: (state) => ({ do: "spread", state, deliveries: Number(count.value), level: level.value, seed: 1 }),
      show: (r) => [
        h("h4", {}, "in the pocket"), ...r.balls.map((b, i) => bar(letters[i]!, b.pocket, withRange(b.pocket))),
        this.cloud(r),
        h("table", { class: "hits" }, h("caption", { class: "hidden" }, "Where the deliveries hit"),
          h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "hit"), ...r.balls.map((_, i) => h("th", { scope: "col", class: i ? "b" : "a" }, letters[i]!)))),
          h("tbody", {}, ...(r.balls[0]?.hits ?? []).map((one, k) => h("tr", {}, h("th", { scope: "row" }, one.hit), ...r.balls.map((b) => h("td", {}, b.hits[k]!.share.text)))))),
        ...r.balls.flatMap((b, i) => [h("h4", {}, `${letters[i]} ${b.name}: what scatters the entry board`),
          shareBars(b.misses.filter((m) => (m.share ?? 0) > 0.005).slice(0, 4).map((m) => ({ label: m.label, share: m.share!, text: m.text })))]),
        h("p", {}, r.words), cautions(r.cautions), printed(r.blocks),
      ],
    });
  }

  /** Entries of all deliveries: board and angle. */
  private cloud(r: Spread): Node {
    const clouds = r.balls.map((b, i) => {
      const points: [number, number][] = [];
      for (let k = 0; k + 1 < b.ends.length; k += 2) if (!Number.isNaN(b.ends[k]!)) points.push([b.ends[k]!, b.ends[k + 1]!]);
      return { letter: letters[i] as string, points };
    });
    const angles = clouds.flatMap((c) => c.points.map((p) => p[1]));
    const low = Math.floor(Math.min(2, ...angles));
    const high = Math.ceil(Math.max(6, ...angles));
    const pocket = this.app.shots?.lane.pocket ?? [16.75, 18.25];
    return h("div", { class: "pair" }, ...clouds.map((cloud, i) => chart({
      label: `${cloud.letter}: mean entry board ${r.balls[i]!.mean?.toFixed(1) ?? "none"}, standard deviation ${r.balls[i]!.deviation?.toFixed(1) ?? "none"}`,
      height: 180, x: { from: 0, to: 40, ticks: ticks(0, 40, 8), name: `entry board of ${cloud.letter}` }, y: { from: low, to: high, ticks: ticks(low, high), name: "entry angle, deg" },
      clouds: [cloud], mark: { axis: "x", from: pocket[0], to: pocket[1], word: "pocket" },
    })));
  }

  private line(): HTMLElement {
    const level = levels(this.app, "aim-level");
    const by = choices("aim-by", [["good", "pocket at a good angle"], ["pocket", "pocket"], ["carry", "strikes"]], "good");
    return study<Lines>(this.app, {
      id: "aim", is: "lines", title: "Which line has the most room?", button: "Find it", about: "Lines over the whole lane are tried with a bowler’s usual misses. This takes a minute or more.",
      choices: [{ label: "Misses of", select: level }, { label: "Count", select: by }],
      ask: (state) => ({ do: "aim", state, level: level.value, by: by.value as "good" | "pocket" | "carry", seed: 1 }),
      show: (r) => [
        h("h4", {}, r.balls[0]?.by ?? ""),
        ...r.balls.map((b) => bar(b.side.toUpperCase(), b.share, withRange(b.share))),
        h("div", { class: "pair" }, ...r.balls.map((b) => h("div", {}, lineMap(b),
          h("p", {}, `${b.side.toUpperCase()} ${b.name}: from board ${b.laydown.toFixed(1)} over board ${b.arrows.toFixed(1)} at the arrows, ${b.angle.toFixed(2)}°.${b.own ? ` The present line: ${b.own.text}.` : ""}`),
          this.take(b.sets, "Throw both along it")))),
        cautions(r.cautions), printed(r.blocks),
      ],
    });
  }

  /** A button that puts a line into the state. */
  private take(sets: Record<string, string>, label: string): HTMLElement {
    return h("button", { type: "button", click: () => this.app.merge(sets, ["bowler.aim", "bowler.angle", "bowler.target"]) }, label);
  }

  private move(): HTMLElement {
    const way = choices("move-way", [["left", "left"], ["right", "right"]], "left");
    return study<Moves>(this.app, {
      id: "move", is: "moves", title: "What does a move do?", button: "Move", about: "Moves feet and target: “2 and 1” moves the feet by 2 boards and the target by 1.",
      choices: [{ label: "To the", select: way }],
      ask: (state) => ({ do: "move", state, moves: ["1", "2", "2 and 1", "3 and 2", "4 and 2"].map((m) => `${m} ${way.value}`) }),
      show: (r) => [this.moves(r)],
    });
  }

  private moves(r: Moves): Node {
    const cell = (m: MoveResult) => h("td", {}, m.entryBoard === null ? m.text : `${m.entryBoard.toFixed(1)} ${m.hit}`, m.entryAngle !== null && h("small", { class: "phases" }, `${m.entryAngle.toFixed(1)}°`));
    const boards = r.moves.flatMap((m) => [m.a.entryBoard, m.b.entryBoard]).filter((b): b is number => b !== null);
    const pocket = this.app.shots?.lane.pocket ?? [16.75, 18.25];
    const low = Math.floor(Math.min(pocket[0], ...boards)) - 1;
    const high = Math.ceil(Math.max(pocket[1], ...boards)) + 1;
    const curve = (side: "a" | "b") => ({ letter: side.toUpperCase(), points: r.moves.map((m, i) => [i, m[side].entryBoard] as [number, number | null]).filter((p): p is [number, number] => p[1] !== null) });
    return h("div", {},
      h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Moves" }, h("table", {},
        h("thead", {}, h("tr", {}, h("th", { scope: "col" }, "move"), h("th", { scope: "col", class: "a" }, "A enters"), h("th", { scope: "col", class: "b" }, "B enters"), h("td", {}))),
        h("tbody", {}, ...r.moves.map((m) => h("tr", {}, h("th", { scope: "row" }, m.move || "as it is"), cell(m.a), cell(m.b), h("td", {}, m.move ? this.take(m.sets, "Take it") : "")))))),
      chart({ label: `Entry boards after each move: ${r.moves.map((m) => `${m.move || "as it is"}: A ${m.a.text}, B ${m.b.text}`).join("; ")}`, height: 180,
        x: { from: 0, to: Math.max(1, r.moves.length - 1), ticks: r.moves.map((_, i) => i), words: r.moves.map((m) => m.move.replace(/ (left|right)$/, "") || "none"), name: "move" },
        y: { from: low, to: high, ticks: ticks(low, high, 6), name: "entry board; the band is the pocket" }, curves: [curve("a"), curve("b")], mark: { axis: "y", from: pocket[0], to: pocket[1], word: "pocket" } }));
  }

  private wear(): HTMLElement {
    const level = levels(this.app, "wear-level");
    const count = choices("wear-count", [["40", "40"], ["80", "80"], ["160", "160"]], "80");
    return study<Wear>(this.app, {
      id: "wear", is: "wear", title: "Which lasts longer?", button: "Play sessions", about: "Each ball is thrown again and again on a lane that wears under it, in twelve sessions.",
      choices: [{ label: "Misses of", select: level }, { label: "Deliveries", select: count }],
      ask: (state) => ({ do: "wear", state, deliveries: Number(count.value), sessions: 12, level: level.value, seed: 1 }),
      show: (r) => {
        const middle = (b: { from: number; to: number }) => (b.from + b.to) / 2;
        const last = Math.max(...r.balls.flatMap((b) => b.blocks.map((x) => x.to)));
        const most = Math.max(0.2, ...r.balls.flatMap((b) => b.blocks.map((x) => x.pocket.high)));
        return [
          ...r.balls.map((b, i) => h("p", {}, h("b", {}, `${letters[i]} ${b.name} `), b.text)),
          chart({ label: r.balls.map((b, i) => `${letters[i]}: ${b.blocks.map((x) => `${x.from} to ${x.to} ${x.pocket.text}`).join(", ")}`).join("; "), height: 190,
            x: { from: 0, to: last, ticks: ticks(0, last), name: "delivery" }, y: { from: 0, to: 100 * most, ticks: ticks(0, 100 * most, 5), name: "in the pocket, %, with 95 % interval" },
            curves: r.balls.map((b, i) => ({ letter: letters[i]!, points: b.blocks.map((x) => [middle(x), 100 * x.pocket.share] as [number, number]),
              band: b.blocks.map((x) => [middle(x), 100 * x.pocket.low, 100 * x.pocket.high] as [number, number, number]) })) }),
          h("p", {}, r.words), cautions(r.cautions), printed(r.blocks),
        ];
      },
    });
  }
}

function withRange(share: { text: string; low: number; high: number }): string {
  return `${share.text} (${(100 * share.low).toFixed(0)}–${(100 * share.high).toFixed(0)})`;
}
