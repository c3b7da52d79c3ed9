// The meaning of terms, in the program's own texts.

import type { App } from "./app";
import { byID, h } from "./dom";

interface Term {
  term: string;
  also: string[];
  unit: string;
  meaning: string;
  from: string;
}

export class Terms {
  private topics: { name: string; terms: Term[] }[] | undefined;

  constructor(private readonly app: App) {
    const dialog = byID<HTMLDialogElement>("terms");
    const search = byID<HTMLInputElement>("term-search");
    byID("open-terms").addEventListener("click", () => {
      dialog.showModal();
      void this.fill(search.value);
    });
    search.addEventListener("input", () => void this.fill(search.value));
    // A click outside a dialog closes it.
    for (const one of document.querySelectorAll("dialog")) {
      one.addEventListener("click", (event) => {
        if (event.target === one) one.close();
      });
    }
  }

  /** Explains a word: its meaning here, and the text of its term. */
  async explain(word: string, title: string, meaning: string): Promise<void> {
    const dialog = byID<HTMLDialogElement>("term");
    byID("head-term").textContent = title;
    const place = byID("term-text");
    place.replaceChildren(...(meaning ? [h("p", {}, meaning.replaceAll("`", ""))] : []));
    if (!dialog.open) dialog.showModal();
    const term = await this.find(word);
    if (term && term.meaning !== meaning) place.append(h("p", {}, term.meaning), ...(term.from ? [h("p", { class: "note" }, `From: ${term.from}`)] : []));
  }

  private async all(): Promise<{ name: string; terms: Term[] }[]> {
    if (!this.topics) {
      const reply = await this.app.engine.ask({ do: "terms" });
      this.topics = reply.is === "terms" ? reply.topics : [];
    }
    return this.topics;
  }

  private async find(word: string): Promise<Term | undefined> {
    const terms = (await this.all()).flatMap((topic) => topic.terms);
    const named = (name: string) => terms.find((t) => t.term.toLowerCase() === name) ?? terms.find((t) => t.also.some((a) => a.toLowerCase() === name));
    const wanted = word.toLowerCase();
    // "breakpoint, board" and "speed at pins" are of the breakpoint and of the speed.
    return named(wanted) ?? named(wanted.replace(/,.*$/, "")) ?? named(wanted.replace(/ at (the )?(pins|release)$/, ""));
  }

  private async fill(search: string): Promise<void> {
    const wanted = search.trim().toLowerCase();
    const found = (await this.all()).map((topic) => ({
      name: topic.name,
      terms: topic.terms.filter((t) => !wanted || [t.term, ...t.also, t.meaning].some((text) => text.toLowerCase().includes(wanted))),
    })).filter((topic) => topic.terms.length > 0);
    byID("terms-list").replaceChildren(...found.flatMap((topic) => [h("h3", {}, topic.name), h("dl", {}, ...topic.terms.flatMap(described))]),
      ...(found.length ? [] : [h("p", {}, "No term has this word.")]));
  }
}

function described(term: Term): HTMLElement[] {
  const names = [term.term, ...term.also].join(", ");
  return [h("dt", {}, term.unit ? `${names} (${term.unit})` : names), h("dd", {}, term.meaning, term.from && h("small", {}, `From: ${term.from}`))];
}
