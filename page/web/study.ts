// A card for a long study: a question, a button, progress with a stop, and the answer.

import { words, type App } from "./app";
import { h, list, write } from "./dom";
import type { Progress, Reply, Request } from "./protocol/messages";
import type { State } from "./protocol/state";
import type { Block } from "./protocol/studies";

type Ask = Request extends infer R ? (R extends Request ? Omit<R, "id"> : never) : never;

interface Kind<R extends Reply> {
  id: string;
  title: string;
  /** What pressing the button does, in a sentence. */
  about: string;
  button: string;
  /** Choices beside the button, each with its label. */
  choices: { label: string; select: HTMLSelectElement }[];
  ask: (state: State) => Ask;
  is: R["is"];
  show: (reply: R) => (Node | null)[];
}

/** Makes a card. When the inputs change, its answer is marked as that of the earlier inputs. */
export function study<R extends Reply>(app: App, kind: Kind<R>): HTMLElement {
  const button = h("button", { type: "button", class: "main", id: `run-${kind.id}` }, kind.button);
  const stop = h("button", { type: "button" }, "Stop");
  const meter = h("progress", { max: 1, "aria-label": `Progress: ${kind.title}` });
  const share = h("span", {});
  const progress = h("div", { class: "progress", hidden: true }, meter, share, stop);
  const old = h("p", { class: "note", hidden: true }, "The inputs have changed; this answer is for the earlier ones.");
  const outcome = h("div", { class: "outcome", "aria-live": "polite" });
  const card = h("div", { class: "study", id: `study-${kind.id}` }, h("h3", {}, kind.title), h("p", { class: "note" }, kind.about),
    h("div", { class: "asks" }, ...kind.choices.map((c) => h("label", {}, c.label, c.select)), button), progress, old, outcome);
  let of: State | undefined;
  app.on("state", (state) => {
    const changed = of !== undefined && of !== state;
    card.classList.toggle("old", changed);
    old.hidden = !changed;
  });
  button.addEventListener("click", () => void run());
  stop.addEventListener("click", () => {
    write(share, "stopping …");
    app.studying?.stop();
  });
  return card;

  async function run(): Promise<void> {
    of = app.state;
    button.disabled = true;
    progress.hidden = false;
    meter.removeAttribute("value");
    write(share, "");
    const reply = await app.study(kind.ask(of), showProgress);
    button.disabled = false;
    progress.hidden = true;
    card.classList.toggle("old", of !== app.state);
    old.hidden = of === app.state;
    if (reply.is === kind.is) outcome.replaceChildren(...kind.show(reply as R).filter((node): node is Node => node !== null));
    else if (reply.is === "stopped") outcome.replaceChildren(h("p", {}, "Stopped before there was an answer."));
    else if (reply.is === "noline" || reply.is === "problems" || reply.is === "failed") outcome.replaceChildren(h("p", {}, words(reply)));
  }

  function showProgress(p: Progress): void {
    meter.value = p.of > 0 ? p.done / p.of : 0;
    write(share, `${p.what} ${p.done} of ${p.of}`);
  }
}

/** A choice with an id. */
export function choices(id: string, options: [value: string, label: string][], chosen: string): HTMLSelectElement {
  return h("select", { id }, ...options.map(([value, label]) => h("option", { value, selected: value === chosen }, label)));
}

/** Skill levels to scatter deliveries by. */
export function levels(app: App, id: string): HTMLSelectElement {
  return choices(id, [["", "as in the scenario"], ...app.ready.levels.map((l) => [l.name, l.name] as [string, string])], "");
}

/** The program's full output, folded. */
export function printed(blocks: Block[]): HTMLElement {
  const parts = blocks.flatMap((block) => [
    block.heading && h("h4", {}, block.heading),
    block.text && h("p", {}, block.text.replaceAll("\n", " ")),
    block.rows.length > 0 && table(block),
  ]);
  return h("details", { class: "more" }, h("summary", {}, "The program's full output"), ...parts);
}

function table(block: Block): HTMLElement {
  const heads = block.rows.slice(0, block.heads);
  return h("div", { class: "scroll", tabindex: 0, role: "region", "aria-label": "Table" }, h("table", {},
    heads.length > 0 && h("thead", {}, ...heads.map((row) => h("tr", {}, ...row.map((cell) => (cell ? h("th", { scope: "col" }, cell) : h("td", {})))))),
    h("tbody", {}, ...block.rows.slice(block.heads).map((row) => h("tr", {}, ...row.map((cell, i) => (i === 0 && cell ? h("th", { scope: "row" }, cell) : h("td", {}, cell))))))));
}

export function cautions(texts: string[]): HTMLElement | null {
  return texts.length > 0 ? h("div", { class: "note" }, list(texts)) : null;
}
