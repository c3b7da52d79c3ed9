// The differences of the shots over the phases of the release: their causes, in words, and in
// how many sets of assumed values they hold. They are computed again whenever the inputs rest
// and no other study runs.

import type { App } from "./app";
import { chart, signedBars, ticks } from "./charts";
import { byID, h, write } from "./dom";
import type { Study } from "./engine";
import type { State } from "./protocol/state";
import type { Change, Compared } from "./protocol/studies";
import type { Results } from "./results";

const quickAfter = 350; // ms of rest
const sureAfter = 1200;
const sets = 24;

const quantities: (keyof Change)[] = ["at_pins_boards", "friction_read_ft", "hook_start_ft", "breakpoint_ft", "entry_angle_deg"];
const digits = 2;

export class Comparison {
  private running: Study | undefined;
  private timer = 0;
  private shown: Compared | undefined;
  private complete: State | undefined; // whose comparison is complete
  private of: keyof Change = "at_pins_boards";

  constructor(
    private readonly app: App,
    private readonly results: Results,
    private readonly explain: (word: string) => void,
  ) {
    app.on("state", () => this.old());
    app.on("trouble", () => this.old());
    app.on("shots", (shots) => {
      this.drawApart(shots.apart);
      if (shots.rest) this.later(0, quickAfter);
    });
    app.on("study", (running) => {
      if (running) this.halt();
      else if (app.good === app.state && this.complete !== app.state) this.later(0, quickAfter);
    });
    const choice = byID<HTMLSelectElement>("cause-of");
    choice.addEventListener("change", () => {
      this.of = choice.value as keyof Change;
      this.drawCauses();
    });
  }

  private halt(): void {
    clearTimeout(this.timer);
    this.running?.stop();
    this.running = undefined;
  }

  private old(): void {
    this.halt();
    if (this.shown) byID("comparison").classList.add("old");
  }

  private later(of: number, after: number): void {
    this.halt();
    if (this.app.studying) return;
    this.timer = window.setTimeout(() => void this.run(of), after);
  }

  private async run(of: number): Promise<void> {
    const state: State = this.app.state;
    const study = this.app.engine.study({ do: "compare", state, sets: of }, (p) => {
      if (of > 0) write(byID("sure"), `Trying other assumed values: ${Math.round((100 * p.done) / p.of)} %`);
    });
    this.running = study;
    const reply = await study.reply;
    if (this.running !== study) return;
    this.running = undefined;
    if (reply.is !== "compared") {
      write(byID("sure"), reply.is === "failed" ? reply.message : "");
      return;
    }
    this.show(reply);
    if (of === 0 && !reply.identical) this.later(sets, sureAfter);
    else this.complete = state;
  }

  private show(c: Compared): void {
    this.shown = c;
    byID("comparison").classList.remove("old");
    this.results.phases(c);
    byID("phases-note").hidden = c.rows.length === 0;
    // The list below says in how many sets each conclusion holds.
    const paragraphs = sentences(c.explanation).filter((text) => c.holds.length === 0 || !/ holds in \d+ of \d+/.test(text));
    byID("explanation").replaceChildren(...paragraphs.map((text) => h("p", {}, text)), c.note && h("p", { class: "note" }, c.note));
    const held = c.holds.map((k) => h("li", { class: k.open ? "open" : "" }, `${k.conclusion}: ${k.open ? "open, " : ""}holds in ${k.in} of ${k.of}`));
    byID("holds").replaceChildren(...(held.length ? [h("ul", {}, ...held)] : []));
    write(byID("sure"), held.length ? "In how many sets of other assumed values each conclusion holds." : "");
    const choice = byID<HTMLSelectElement>("cause-of");
    if (choice.options.length === 0) {
      for (const key of quantities) {
        const row = c.rows.find((r) => r.key === key);
        if (row) choice.append(h("option", { value: key }, `${row.label}${row.unit && !row.label.includes(row.unit) ? `, ${row.unit}` : ""}`));
      }
      choice.value = this.of;
    }
    this.drawCauses();
  }

  private drawCauses(): void {
    const c = this.shown;
    if (!c) return;
    const rows = (causes: Compared["mechanisms"]) => causes.map((one) => ({ label: one.label, value: one[this.of] }));
    const some = c.mechanisms.length + c.inputs.length > 0;
    byID("causes-part").hidden = !some;
    byID("causes").replaceChildren(
      ...(c.mechanisms.length ? [h("h4", {}, "by what happens"), signedBars(rows(c.mechanisms), digits, this.explain)] : []),
      ...(c.inputs.length ? [h("h4", {}, "by what was changed"), signedBars(rows(c.inputs), digits, this.explain)] : []),
    );
  }

  /** Boards from A to B by distance. */
  private drawApart(pairs: Float32Array): void {
    const points: [number, number][] = [];
    for (let i = 0; i + 1 < pairs.length; i += 2) points.push([pairs[i]!, pairs[i + 1]!]);
    let low = -0.5;
    let high = 0.5;
    for (const [, boards] of points) {
      low = Math.min(low, boards);
      high = Math.max(high, boards);
    }
    const last = points.at(-1);
    const label = `Boards from A to B by distance: ${last ? `${last[1].toFixed(1)} at ${last[0].toFixed(0)} ft` : "none"}; + is inside.`;
    byID("apart").replaceChildren(chart({
      label, height: 150,
      x: { from: 0, to: 60, ticks: [0, 10, 20, 30, 40, 50, 60], name: "distance, ft" },
      y: { from: low, to: high, ticks: ticks(low, high, 4), name: "boards from A to B, + is inside" },
      curves: [{ letter: "B − A", points }],
    }));
  }
}

/** A text cut after each sentence, so that it can be read in lines. */
function sentences(text: string): string[] {
  return text.split(/(?<=\.) (?=[A-Z])/).filter(Boolean);
}
