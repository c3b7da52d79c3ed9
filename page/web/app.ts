// The page's state, and the shots that follow from it.

import { Engine, type Study } from "./engine";
import type { Failed, NoLine, Problems, Progress, Ready, Reply, Request } from "./protocol/messages";
import type { Shots } from "./protocol/shots";
import { withInput, type Side, type State, type Values } from "./protocol/state";

type Ask = Request extends infer R ? (R extends Request ? Omit<R, "id"> : never) : never;
export type Trouble = NoLine | Problems | Failed;

interface Listeners {
  /** New shots; at rest with all values. */
  shots: (shots: Shots) => void;
  /** The present state has no shots. */
  trouble: (trouble: Trouble) => void;
  /** The state was changed. */
  state: (state: State) => void;
  /** A long study begins or ends. */
  study: (running: boolean) => void;
}

/** How long after the last movement of a slider both shots are thrown as at rest, in ms. */
const restAfter = 250;

export class App {
  readonly engine = Engine.start();
  ready!: Ready;
  state!: State;
  values: Values = {};
  shots: Shots | undefined;
  /** The last state that had shots. */
  good: State | undefined;
  studying: Study | undefined;

  private readonly listeners: { [K in keyof Listeners]: Listeners[K][] } = { shots: [], trouble: [], state: [], study: [] };
  private flying: { rest: boolean } | undefined;
  private wanted: { rest: boolean } | undefined;
  private timer = 0;

  on<K extends keyof Listeners>(event: K, listener: Listeners[K]): void {
    this.listeners[event].push(listener);
  }

  private emit<K extends keyof Listeners>(event: K, ...of: Parameters<Listeners[K]>): void {
    for (const listener of this.listeners[event]) (listener as (...of: Parameters<Listeners[K]>) => void)(...of);
  }

  /** Sets an input to a text; rest is false while a slider is dragged. */
  set(key: string, side: Side, text: string, rest: boolean): void {
    this.become(withInput(this.state, this.ready.inputs, this.values, key, side, text), rest);
  }

  /** Takes another state. */
  become(state: State, rest = true): void {
    this.state = state;
    this.emit("state", state);
    this.throw(rest);
  }

  /** Takes another state in which sets are merged and those of some paths are gone. */
  merge(sets: Record<string, string>, without: string[] = []): void {
    const kept = Object.entries(this.state.sets).filter(([path]) => !(path in sets) && !without.some((w) => path === w || path.startsWith(`${w}.`)));
    this.become({ ...this.state, sets: { ...Object.fromEntries(kept), ...sets } });
  }

  /**
   * Throws both balls. One request is under way at a time, so that each is answered and the
   * picture follows the slider; only a throw at rest is replaced by a newer one.
   */
  throw(rest: boolean): void {
    clearTimeout(this.timer);
    if (!rest) this.timer = window.setTimeout(() => this.throw(true), restAfter);
    this.wanted = { rest: rest || !this.shots };
    this.next();
  }

  private next(): void {
    if (!this.wanted || (this.flying && !this.flying.rest)) return;
    const request = this.wanted;
    const state = this.state;
    this.wanted = undefined;
    this.flying = request;
    void this.engine.throw(state, request.rest).then((reply) => {
      if (this.flying !== request) return; // replaced by a newer one
      this.flying = undefined;
      this.answered(reply, state);
      this.next();
    });
  }

  private answered(reply: Reply, state: State): void {
    if (reply.is === "shots") {
      const before = this.shots;
      if (!reply.rest && before) reply.rows = reply.rows.map((row, i) => ({ ...before.rows[i]!, ...row }));
      this.shots = reply;
      if (reply.rest) {
        this.values = reply.values;
        this.good = state;
      }
      this.emit("shots", reply);
    } else if (reply.is === "noline" || reply.is === "problems" || reply.is === "failed") {
      this.emit("trouble", reply);
    }
  }

  /** Runs a long study, in place of the one before. */
  async study(request: Ask, progress: (p: Progress) => void): Promise<Reply> {
    this.studying?.stop();
    const study = this.engine.study(request, progress);
    this.studying = study;
    this.emit("study", true);
    const reply = await study.reply;
    if (this.studying === study) {
      this.studying = undefined;
      this.emit("study", false);
    }
    return reply;
  }
}

/** The message of a reply without shots. */
export function words(trouble: Trouble): string {
  switch (trouble.is) {
    case "noline":
      return trouble.message;
    case "problems":
      return trouble.problems.map((p) => p.message).join("; ");
    case "failed":
      return trouble.message;
  }
}
