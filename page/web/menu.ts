// Files and links: opening, saving, copying and printing, with their messages.

import { words, type App } from "./app";
import { byID, h, save, write } from "./dom";
import { picture } from "./picture";
import type { Failed, Opened, Pick, Problems } from "./protocol/messages";
import type { State } from "./protocol/state";
import type { Stage } from "./stage";
import { choose } from "./theme";

/** The largest file that is read. */
const mostBytes = 2_000_000;

export class Menu {
  private readonly dialog = byID<HTMLDialogElement>("menu");
  private readonly message = byID("message");
  private file: { name: string; text: string; state: State } | undefined; // and the state when it was read
  private toastTimer = 0;

  constructor(
    private readonly app: App,
    private readonly stage: Stage,
  ) {
    byID("open-menu").addEventListener("click", () => this.dialog.showModal());
    // Pressing closes the menu, so that what is said of it can be seen.
    const press = (id: string, act: () => void) => byID(id).addEventListener("click", () => {
      this.dialog.close();
      act();
    });
    for (const id of ["copy-link", "menu-link"]) press(id, () => void this.copy());
    for (const id of ["save-picture", "menu-picture"]) press(id, () => void this.savePicture());
    press("save-scenario", () => void this.saveScenario());
    press("print", () => print());
    press("reset", () => {
      byID("picks").hidden = true;
      app.become(app.ready.state);
    });
    this.examples();
    this.files();
    for (const radio of document.querySelectorAll<HTMLInputElement>("input[name=look]")) {
      radio.addEventListener("change", () => choose(radio.value as "auto" | "light" | "dark"));
    }
    if (app.ready.start) void this.offer(app.ready.start);
  }

  private examples(): void {
    const select = byID<HTMLSelectElement>("example");
    const about = byID("example-about");
    select.append(h("option", { value: "" }, "choose …"), ...this.app.ready.examples.map((one) => h("option", { value: one.name }, one.title)));
    select.addEventListener("change", () => {
      const one = this.app.ready.examples.find((x) => x.name === select.value);
      if (!one) return;
      write(about, one.question);
      byID("picks").hidden = true;
      this.app.become({ base: one.base, sets: {}, aim: "same" });
    });
  }

  private files(): void {
    const input = byID<HTMLInputElement>("file");
    input.addEventListener("change", () => {
      const file = input.files?.[0];
      input.value = "";
      if (file) void this.read(file);
    });
    const over = (event: DragEvent) => {
      if (![...(event.dataTransfer?.types ?? [])].includes("Files")) return;
      event.preventDefault();
      document.body.classList.toggle("dropping", event.type === "dragover");
    };
    addEventListener("dragover", over);
    addEventListener("dragleave", over);
    addEventListener("drop", (event) => {
      over(event);
      const file = event.dataTransfer?.files[0];
      if (file) void this.read(file);
    });
  }

  private async read(file: File): Promise<void> {
    if (file.size > mostBytes) return this.say(h("p", {}, `${file.name} is larger than 2 MB.`));
    this.file = { name: file.name, text: await file.text(), state: this.app.good ?? this.app.ready.state };
    await this.open();
  }

  /** Opens the file that was read last, with other picks. */
  private async open(pick?: Pick): Promise<void> {
    const file = this.file!;
    const reply = await this.app.engine.ask({ do: "open", ...file, ...(pick ? { pick } : {}) });
    if (reply.is === "problems" || reply.is === "failed") return this.refused(file.name, reply);
    if (reply.is !== "opened") return;
    this.message.hidden = true;
    this.picks(reply);
    this.app.become(reply.state);
    if (byID("picks").hidden) this.dialog.close();
    else if (!this.dialog.open) this.dialog.showModal();
    this.toast(`${file.name} is open.${reply.cautions.length ? ` ${reply.cautions.join(" ")}` : ""}`);
  }

  /** Offers the other lanes, bowlers and balls of the file that the page was made with. */
  private async offer(text: string): Promise<void> {
    this.file = { name: "file", text, state: this.app.ready.state };
    const reply = await this.app.engine.ask({ do: "open", ...this.file });
    if (reply.is === "opened") this.picks(reply);
  }

  /** Choices among several lanes, bowlers and balls of a file. */
  private picks(opened: Opened): void {
    const { names, picked } = opened;
    const place = byID("picks");
    const one = (label: string, from: string[], at: number, take: (index: number) => Pick) => {
      const id = `pick-${label}`;
      const select = h("select", { id }, ...from.map((name, i) => h("option", { value: i, selected: i === at }, name || `no. ${i + 1}`)));
      select.addEventListener("change", () => void this.open(take(Number(select.value))));
      return h("div", { class: "row choice" }, h("label", { for: id }, label), h("div", { class: "slide" }, select));
    };
    const rows: HTMLElement[] = [];
    if (names.balls.length > 2) {
      rows.push(one("Ball A", names.balls, picked.balls[0], (i) => ({ ...picked, balls: [i, picked.balls[1]] })));
      rows.push(one("Ball B", names.balls, picked.balls[1], (i) => ({ ...picked, balls: [picked.balls[0], i] })));
    }
    if (names.bowlers.length > 1) rows.push(one("Bowler", names.bowlers, picked.bowler, (i) => ({ ...picked, bowler: i })));
    if (names.lanes.length > 1) rows.push(one("Lane of the file", names.lanes, picked.lane, (i) => ({ ...picked, lane: i })));
    place.hidden = rows.length === 0;
    place.replaceChildren(...rows);
  }

  /** A file that could not be opened, with all its errors. */
  refused(name: string, why: Problems | Failed): void {
    this.dialog.close();
    const texts = why.is === "problems" ? why.problems.map((p) => p.text) : [why.message];
    this.say(h("p", {}, h("b", {}, `${name} could not be opened.`), " The previous shots are still shown."), ...texts.map((text) => h("pre", { tabindex: 0, role: "region", "aria-label": "Place of the error" }, text)));
  }

  /** Shows a message about a file or a link, until it is closed. */
  say(...parts: (Node | false | undefined)[]): void {
    this.message.hidden = false;
    const close = h("button", { type: "button", class: "close", "aria-label": "Close the message", click: () => (this.message.hidden = true) }, "×");
    this.message.replaceChildren(close, ...parts.filter((p): p is Node => !!p));
  }

  private toast(text: string): void {
    write(byID("toast"), text);
    clearTimeout(this.toastTimer);
    this.toastTimer = window.setTimeout(() => write(byID("toast"), ""), 5000);
  }

  private async copy(): Promise<void> {
    try {
      await navigator.clipboard.writeText(location.href);
      this.toast("The link is copied. It holds these two shots.");
    } catch {
      // From disk some browsers have no clipboard: then the link is shown.
      const field = h("input", { type: "text", readonly: true, value: location.href, "aria-label": "Link to these two shots" });
      this.say(h("p", {}, "Copy this link: it holds these two shots."), field);
      field.select();
    }
  }

  private async savePicture(): Promise<void> {
    const blob = await picture(this.stage);
    if (blob) save(blob, "two-shots.png");
  }

  private async saveScenario(): Promise<void> {
    const reply = await this.app.engine.ask({ do: "file", state: this.app.state });
    if (reply.is === "file") save(new Blob([reply.text], { type: "application/yaml" }), reply.name);
    else if (reply.is === "problems" || reply.is === "failed") this.say(h("p", {}, `There is no scenario to save: ${words(reply)}`));
  }
}
