// All inputs: those of A, those of B, and what both are thrown with.

import type { App } from "./app";
import { control, type Control } from "./controls";
import { byID, h, uncapital, write } from "./dom";
import type { Problems } from "./protocol/messages";
import { withInput, type Input, type Side, type State } from "./protocol/state";

export class Inputs {
  private readonly controls: Control[] = [];
  private readonly aims: HTMLInputElement[] = [];

  constructor(
    private readonly app: App,
    private readonly explain: (input: Input) => void,
  ) {
    const inputs = app.ready.inputs;
    for (const side of ["a", "b"] as const) this.group(byID(`inputs-${side}`), inputs.filter((i) => i.of === "each"), side);
    this.group(byID("inputs-release"), inputs.filter((i) => i.group === "release"), "a", this.bowlers());
    this.group(byID("inputs-line"), inputs.filter((i) => i.group === "line"), "a", undefined, this.lines());
    this.group(byID("inputs-lane"), inputs.filter((i) => i.group === "lane"), "a");
    byID("inputs-b").append(h("div", { class: "buttons" }, h("button", { type: "button", id: "b-like-a", click: () => this.alike() }, "Make B like A")));
    app.on("shots", (shots) => {
      this.right();
      if (shots.rest) this.show();
      for (const [i, side] of (["a", "b"] as const).entries()) write(byID(`name-${side}`), shots.shots[i]!.ball);
    });
    app.on("state", (state) => this.aimed(state));
    app.on("trouble", (trouble) => {
      this.right();
      if (trouble.is === "problems") this.wrong(trouble);
    });
    this.aimed(app.state);
  }

  /** Shows the present values. */
  private show(): void {
    for (const c of this.controls) {
      const value = this.app.values[c.key];
      if (!value) continue;
      c.show(value[c.side]);
      // Values of B that differ from A are marked, to show what is compared.
      if (c.row.dataset["side"] === "b") c.row.classList.toggle("differs", value.a.text !== value.b.text);
    }
    byID("whose").hidden = this.app.values["bowler.aim"]?.a.text !== "pocket";
  }

  /** Places the inputs shown from the start, and the others behind "more". */
  private group(place: HTMLElement, inputs: Input[], side: Side, before?: HTMLElement, after?: HTMLElement): void {
    if (before) place.append(before);
    const more = h("div", { class: "rows" });
    const first = h("div", { class: "rows" });
    for (const input of inputs) {
      const made = control(this.app, input, side, this.explain);
      this.controls.push(made);
      (input.first ? first : more).append(made.row);
    }
    place.append(first);
    if (after) place.append(after);
    if (more.childElementCount === 0) return;
    const names = inputs.filter((i) => !i.first).map((i) => uncapital(i.label).split(",")[0]!);
    place.append(h("details", { class: "more" }, h("summary", {}, `More: ${names.slice(0, 3).join(", ")}${names.length > 3 ? " …" : ""}`), more));
  }

  private bowlers(): HTMLElement {
    const about = h("span", { class: "about" });
    const select = h("select", { id: "bowler-preset" }, h("option", { value: "" }, "as set below"), ...this.app.ready.bowlers.map((b) => h("option", { value: b.name }, b.name)));
    select.addEventListener("change", () => {
      const bowler = this.app.ready.bowlers.find((b) => b.name === select.value);
      write(about, bowler?.about ?? "");
      if (bowler) this.app.merge(bowler.sets, Object.keys(bowler.sets));
    });
    this.app.on("state", (state) => {
      const same = this.app.ready.bowlers.find((b) => b.name === select.value && Object.entries(b.sets).every(([path, text]) => state.sets[path] === text));
      if (!same) {
        select.value = "";
        write(about, "");
      }
    });
    return h("div", { class: "row choice" }, h("label", { for: select.id }, "Built-in bowler"), h("div", { class: "slide" }, select), about);
  }

  /** Whose line is found. */
  private lines(): HTMLElement {
    const one = (value: State["aim"], label: string) => {
      const radio = h("input", { type: "radio", name: "aim", value, id: `aim-${value}`, change: () => this.app.become({ ...this.app.state, aim: value }) });
      this.aims.push(radio);
      return h("label", { class: "radio" }, radio, label);
    };
    return h("fieldset", { class: "radios", id: "whose" }, h("legend", {}, "The line that is found"), one("same", "A’s line, for both"), one("each", "for each ball its own"));
  }

  private aimed(state: State): void {
    for (const radio of this.aims) radio.checked = radio.value === state.aim;
  }

  private alike(): void {
    let state = this.app.state;
    for (const input of this.app.ready.inputs) {
      const values = this.app.values[input.key];
      if (input.of !== "each" || !values || values.a.text === "" || values.a.text === values.b.text) continue;
      state = withInput(state, this.app.ready.inputs, this.app.values, input.key, "b", values.a.text);
    }
    this.app.become(state);
  }

  private right(): void {
    for (const c of this.controls) c.wrong("");
  }

  private wrong(problems: Problems): void {
    for (const p of problems.problems) {
      const at = this.controls.find((c) => c.key === p.key && (c.row.dataset["side"] === "both" || p.side === "" || c.side === p.side));
      at?.wrong(p.hint ? `${p.message} (${p.hint})` : p.message);
      const hidden = at?.row.closest("details");
      if (hidden) hidden.open = true;
    }
  }
}
