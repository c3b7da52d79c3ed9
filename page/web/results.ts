// The numbers of both shots, the program's cautions, and the assumed values.

import type { App } from "./app";
import { byID, h, list, write } from "./dom";
import type { Row, Shots } from "./protocol/shots";
import type { Compared, Change } from "./protocol/studies";

/** Rows of a comparison over phases, by the key of the shots' row in which they are shown. */
const overPhases: Record<string, keyof Change> = {
  entry_board: "at_pins_boards",
  friction_read_distance_ft: "friction_read_ft",
  breakpoint_distance_ft: "breakpoint_ft",
  hook_start_distance_ft: "hook_start_ft",
  entry_angle_deg: "entry_angle_deg",
};

interface Cells {
  a: HTMLElement;
  b: HTMLElement;
  change: HTMLElement;
  phases: HTMLElement;
}

export class Results {
  private readonly cells = new Map<string, Cells>();
  private built = "";
  private spoken = 0;

  constructor(app: App, explain: (word: string, meaning: string) => void) {
    app.on("shots", (shots) => {
      this.build(shots.rows, explain);
      for (const row of shots.rows) {
        const cells = this.cells.get(row.key)!;
        write(cells.a, row.a);
        write(cells.b, row.b);
        write(cells.change, row.change || "–");
      }
      if (shots.rest) this.rest(shots);
    });
  }

  /** Shows the spread over phases next to the differences; without a comparison removes it. */
  phases(compared: Compared | undefined): void {
    for (const [key, cells] of this.cells) {
      const row = compared?.rows.find((r) => r.key === overPhases[key]);
      write(cells.phases, row?.text ?? "");
    }
  }

  private build(rows: Row[], explain: (word: string, meaning: string) => void): void {
    const keys = rows.map((r) => r.key).join();
    if (keys === this.built) return;
    this.built = keys;
    this.cells.clear();
    const body = (some: Row[]) =>
      h("tbody", {}, ...some.map((row) => {
        const cells = { a: h("td", { class: "a" }), b: h("td", { class: "b" }), change: h("span", { class: "change" }), phases: h("small", { class: "phases" }) };
        this.cells.set(row.key, cells);
        const name = row.unit ? `${row.label}, ${row.unit}` : row.label;
        const button = h("button", { type: "button", class: "term", click: () => explain(row.label, row.meaning) }, name);
        return h("tr", { "data-row": row.key }, h("th", { scope: "row" }, button), cells.a, cells.b, h("td", {}, cells.change, cells.phases));
      }));
    const head = () => h("thead", {}, h("tr", {}, h("td", {}, h("span", { class: "hidden" }, "quantity")), h("th", { scope: "col", class: "a" }, "A"), h("th", { scope: "col", class: "b" }, "B"), h("th", { scope: "col" }, "B − A")));
    byID("numbers").replaceChildren(
      h("table", { class: "numbers" }, h("caption", { class: "hidden" }, "Both shots and their difference"), head(), body(rows.filter((r) => r.first))),
      h("p", { class: "note", id: "phases-note", hidden: true }, "± : mean and standard deviation over the phase of the core at release, which is not known."),
      h("details", { class: "more" }, h("summary", {}, "All numbers"), h("table", { class: "numbers" }, h("caption", { class: "hidden" }, "All numbers of both shots"), head(), body(rows.filter((r) => !r.first)))),
    );
  }

  private rest(shots: Shots): void {
    const cautions = byID("cautions");
    cautions.hidden = shots.cautions.length === 0;
    byID("cautions-list").replaceChildren(...shots.cautions.map((text) => h("li", {}, text)));
    byID("assumed-list").replaceChildren(list(shots.assumed));
    write(byID("assumed-count"), String(shots.assumed.length));
    write(byID("title"), shots.title);
    const text = (key: string, side: "a" | "b") => {
      const row = shots.rows.find((r) => r.key === key);
      return row && row[side] !== "–" ? `${row.label} ${row[side]}${row.unit === "deg" ? "°" : row.unit && ` ${row.unit}`}` : "";
    };
    const one = (side: "a" | "b") => ["entry_board", "entry_angle_deg", "hit"].map((key) => text(key, side)).filter(Boolean).join(", ") || shots.shots[side === "a" ? 0 : 1].status;
    // For screen readers, when nothing moves any more.
    clearTimeout(this.spoken);
    this.spoken = window.setTimeout(() => write(byID("status"), `A: ${one("a")}. B: ${one("b")}.`), 500);
  }
}
