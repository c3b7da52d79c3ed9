// The page: starts the engine, and connects inputs, stage, results and studies.

import { App, words } from "./app";
import { Comparison } from "./comparison";
import { byID, h, write } from "./dom";
import { Inputs } from "./inputs";
import { fragmentOf, stateOf } from "./link";
import { Menu } from "./menu";
import type { Ready } from "./protocol/messages";
import type { State } from "./protocol/state";
import { Results } from "./results";
import { Stage } from "./stage";
import { Studies } from "./studies";
import { Terms } from "./terms";

const app = new App();

async function start(): Promise<void> {
  let hello = await app.engine.hello();
  const refused = hello.is === "ready" ? undefined : hello;
  // A file that cannot be opened leaves the standard shots; an engine that does not run leaves nothing.
  if (refused && byID("start").textContent !== '""') hello = await app.engine.ask({ do: "hello", start: "" });
  if (hello.is !== "ready") {
    write(byID("status"), hello.is === "failed" ? `The engine could not be started: ${hello.message}` : "The engine could not be started.");
    return;
  }
  app.ready = hello;
  app.state = hello.state;
  write(byID("version"), `Computed on this device by the engine of lanesim, ${hello.version}. Nothing is sent anywhere.`);
  const terms = new Terms(app);
  const stage = new Stage();
  new Inputs(app, (input) => void terms.explain(input.term, input.label, input.meaning));
  const results = new Results(app, (word, meaning) => void terms.explain(word, word, meaning));
  new Comparison(app, results, (word) => void terms.explain(word, word, ""));
  new Studies(app);
  const menu = new Menu(app, stage);
  app.on("shots", (shots) => {
    stage.show(shots);
    if (shots.rest && app.good) void writeLink(app.good, hello);
  });
  app.on("trouble", (trouble) => {
    const good = app.good;
    const whose = trouble.is === "noline" ? `${trouble.side.toUpperCase()}: ` : "";
    stage.stale(`${whose}${words(trouble)}. The picture shows the previous shots.`, good ? () => app.become(good) : undefined);
    write(byID("status"), whose + words(trouble));
  });
  fold();
  addEventListener("beforeprint", () => (byID<HTMLDetailsElement>("assumed").open = true));
  await follow(hello, menu);
  if (refused && (refused.is === "problems" || refused.is === "failed")) menu.refused("The file that this page was made with", refused);
  addEventListener("hashchange", () => {
    if (location.hash.slice(1) !== written) void follow(hello, menu);
  });
}

/** The fragment that was written last. */
let written = "";

async function writeLink(state: State, ready: Ready): Promise<void> {
  const before = location.hash;
  const fragment = await fragmentOf(state, ready);
  // A link that was followed meanwhile stays.
  if (state !== app.good || fragment === written || location.hash !== before) return;
  written = fragment;
  history.replaceState(null, "", fragment ? `#${fragment}` : location.pathname + location.search);
}

/** Throws the state in the link; if it is broken, shows a message and throws the standard state. */
async function follow(ready: Ready, menu: Menu): Promise<void> {
  const fragment = location.hash.slice(1);
  if (/^part-/.test(fragment)) return;
  if (!fragment) return app.become(app.state);
  try {
    const state = await stateOf(fragment, ready);
    const reply = await app.engine.throw(state, true);
    if (reply.is === "problems" || reply.is === "failed") throw new Error(words(reply));
    app.become(state);
  } catch (error) {
    app.become(ready.state);
    menu.say(h("p", {}, h("b", {}, "The link could not be read: "), `${(error as Error).message}. These are the shots to start from.`));
  }
}

/** Height of the stage, and which of its panels a narrow screen shows. */
function fold(): void {
  const stage = byID("stage");
  new ResizeObserver(() => document.documentElement.style.setProperty("--stage", `${stage.offsetHeight + 4}px`)).observe(stage);
  const flip = byID("flip");
  const panels = document.querySelector<HTMLElement>(".panels")!;
  flip.addEventListener("click", () => {
    const balls = panels.dataset["panel"] === "inset";
    panels.dataset["panel"] = balls ? "balls" : "inset";
    write(flip, balls ? "lane" : "balls");
    flip.setAttribute("aria-label", balls ? "Show the last 20 ft" : "Show the balls");
  });
  // A part is scrolled to by its link, without a mark in the address, which holds the state.
  byID("jump").addEventListener("click", (event) => {
    const link = (event.target as Element).closest("a");
    if (!link) return;
    event.preventDefault();
    const part = byID(link.hash.slice(1));
    part.scrollIntoView();
    part.querySelector<HTMLElement>("input,button,select")?.focus({ preventScroll: true });
  });
}

void start();
