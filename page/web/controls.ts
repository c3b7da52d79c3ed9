// A control of an input: a slider with its value as text and a field to type in, or a
// choice, each with what the program says about it.

import type { App } from "./app";
import { h, uncapital, write } from "./dom";
import { textOf, type Input, type Side, type Value } from "./protocol/state";

export interface Control {
  key: string;
  side: Side;
  row: HTMLElement;
  /** Shows a value, unless it is the one that is being changed. */
  show(value: Value): void;
  /** Shows an error of the value; "" for none. */
  wrong(message: string): void;
}

const units: Record<string, string> = { deg: "°", uin: " µin" };

/** A value for display, with fractions of an inch if it is written so. */
export function readable(input: Input, number: number): string {
  const unit = units[input.unit] ?? (input.unit ? ` ${input.unit}` : "");
  const eighths = number * 8;
  if (input.unit === "in" && input.step === 0.125 && Math.abs(eighths - Math.round(eighths)) < 1e-9) {
    const whole = Math.trunc(number);
    const rest = Math.abs(Math.round(eighths)) % 8;
    if (rest === 0) return `${whole}${unit}`;
    const down = rest % 4 === 0 ? 2 : rest % 2 === 0 ? 4 : 8;
    const fraction = `${(rest * down) / 8}/${down}`;
    return `${whole !== 0 ? `${whole} ` : number < 0 ? "−" : ""}${fraction}${unit}`;
  }
  return `${plain(input, number)}${unit}`;
}

/** A number with no more digits than its slider has. */
function plain(input: Input, number: number): string {
  const digits = Math.max(0, Math.min(input.decimals, Math.ceil(-Math.log10(input.step || 1)) + 1));
  return String(Number(number.toFixed(digits)));
}

/** The number at the start of a text with its unit, e.g. a fallback. */
const numberIn = (text: string): number => Number.parseFloat(text) || 0;

export function control(app: App, input: Input, side: Side, explain: (input: Input) => void): Control {
  const id = `${input.of === "each" ? side : "both"}-${input.key}`;
  const of = input.of === "each" ? `, ${side.toUpperCase()}` : "";
  const problem = h("p", { class: "wrong", id: `${id}-wrong`, hidden: true });
  const what = h("button", { type: "button", class: "what", "aria-label": `What is ${uncapital(input.label)}?`, click: () => explain(input) }, "?");
  const row = h("div", { class: `row ${input.kind}`, "data-key": input.key, "data-side": input.of === "each" ? side : "both" });
  let wrongWith = "";
  const made = input.kind === "number" ? slider() : choice();
  row.append(problem);
  return {
    key: input.key,
    side,
    row,
    show: made,
    wrong(message) {
      if (message === wrongWith) return;
      wrongWith = message;
      problem.hidden = message === "";
      write(problem, message);
      for (const element of row.querySelectorAll("input,select")) {
        element.toggleAttribute("aria-invalid", message !== "");
        if (message) element.setAttribute("aria-describedby", problem.id);
        else element.removeAttribute("aria-describedby");
      }
    },
  };

  function slider(): (value: Value) => void {
    const shown = h("output", { class: "value", for: id });
    const range = h("input", { type: "range", id, min: input.min, max: input.max, step: input.step });
    const typed = h("input", { type: "text", id: `${id}-field`, class: "field", "aria-label": `${input.label}${of}, value${input.unit ? ` in ${input.unit}` : ""}`, inputmode: "decimal", autocomplete: "off", spellcheck: "false" });
    let dragged = false;
    const print = (number: number) => {
      const text = readable(input, number);
      write(shown, text);
      range.setAttribute("aria-valuetext", text);
    };
    const moved = (rest: boolean) => {
      const number = Number(range.value);
      print(number);
      typed.value = plain(input, number);
      app.set(input.key, side, textOf(input, number), rest);
    };
    range.addEventListener("input", () => {
      dragged = true;
      moved(false);
    });
    range.addEventListener("change", () => {
      dragged = false;
      moved(true);
    });
    typed.addEventListener("change", () => {
      const text = typed.value.trim().replace(",", ".");
      if (text === "") return;
      const bare = !/[a-z°"']/i.test(text); // "3 1/2" has the unit shown next to it
      app.set(input.key, side, bare && input.unit ? `${text} ${input.unit}` : text, true);
    });
    row.append(h("label", { for: id }, input.label, of && h("span", { class: "hidden" }, of)), shown, h("div", { class: "slide" }, range, typed, what));
    return (value) => {
      if (dragged) return;
      const given = value.number;
      const number = given ?? numberIn(input.fallback);
      if (document.activeElement !== range || Math.abs(Number(range.value) - number) > input.step) range.value = String(number);
      print(number);
      if (given === null) write(shown, "not given");
      if (document.activeElement !== typed || typed.value === "") typed.value = given === null ? "" : plain(input, number);
      else if (given !== null) typed.value = plain(input, number);
    };
  }

  function choice(): (value: Value) => void {
    const about = h("span", { class: "about", id: `${id}-about` });
    const select = h("select", { id }, ...input.choices.map((one) => h("option", { value: one.value }, one.label)));
    select.addEventListener("change", () => {
      showAbout();
      app.set(input.key, side, select.value, true);
    });
    const showAbout = () => write(about, input.choices.find((one) => one.value === select.value)?.about ?? "");
    row.append(h("label", { for: id }, input.label, of && h("span", { class: "hidden" }, of)), h("div", { class: "slide" }, select, what), about);
    return (value) => {
      // A value of the file that is not among the choices is shown as "as in the file".
      const known = input.choices.some((one) => one.value === value.text);
      select.value = known ? value.text : "";
      const asInFile = [...select.options].find((o) => o.value === "");
      if (asInFile && input.key !== "bowler.aim") asInFile.hidden = asInFile.disabled = select.value !== "";
      showAbout();
    };
  }
}
