// The page's side of the engine: starts the workers and turns messages into promises.
// One worker throws while sliders move; the other does what takes long.

import type { Progress, Reply, Request, Failed } from "./protocol/messages";
import type { Shots } from "./protocol/shots";
import type { State } from "./protocol/state";
import type { Answered, Booted } from "./worker";

/** A request without its id. */
type Ask = Request extends infer R ? (R extends Request ? Omit<R, "id"> : never) : never;

export interface Study {
  reply: Promise<Reply>;
  stop(): void;
}

interface Waiting {
  resolve(reply: Reply): void;
  progress?: ((p: Progress) => void) | undefined;
}

let lastID = 0;

/** One worker with the engine in it. */
class Desk {
  private readonly waiting = new Map<number, Waiting>();

  constructor(
    private readonly worker: Worker,
    private readonly booted: (module: WebAssembly.Module) => void,
  ) {
    worker.onmessage = (event: MessageEvent<Answered | Booted | Progress | { broken: string }>) => {
      const message = event.data;
      if ("answered" in message) {
        this.settle(message.answered, unpack(message.text, message.packed));
      } else if ("booted" in message) {
        this.booted(message.booted);
      } else if ("broken" in message) {
        this.fail(message.broken);
      } else {
        this.waiting.get(message.id)?.progress?.(message);
      }
    };
    worker.onerror = (event) => {
      event.preventDefault();
      this.fail(event.message || "the engine could not be started");
    };
  }

  boot(code: string | WebAssembly.Module): void {
    this.worker.postMessage({ boot: code });
  }

  ask(request: Ask, progress?: (p: Progress) => void): Study {
    const id = ++lastID;
    const reply = new Promise<Reply>((resolve) => this.waiting.set(id, { resolve, progress }));
    this.worker.postMessage({ ...request, id });
    return { reply, stop: () => this.worker.postMessage({ stop: id }) };
  }

  private settle(id: number, reply: Reply): void {
    this.waiting.get(id)?.resolve(reply);
    this.waiting.delete(id);
  }

  private fail(message: string): void {
    for (const id of [...this.waiting.keys()]) this.settle(id, { id, is: "failed", message } satisfies Failed);
  }
}

/** Replaces references to packed numbers by the numbers. */
function unpack(text: string, packed: Float32Array): Reply {
  const fill = (value: unknown): unknown => {
    if (typeof value !== "object" || value === null) return value;
    const range = (value as { $packed?: [number, number] }).$packed;
    if (range) return packed.subarray(range[0], range[1]);
    const members = value as Record<string, unknown>;
    for (const key in members) {
      const member = members[key];
      if (typeof member === "object") members[key] = fill(member);
    }
    return value;
  };
  const reply = fill(JSON.parse(text)) as Reply; // much quicker than JSON.parse with a reviver
  if (reply.is === "shots") (reply as Shots).packed = packed;
  return reply;
}

export class Engine {
  private constructor(
    private readonly live: Desk,
    private readonly long: Desk,
  ) {}

  /**
   * Starts the engine that the page carries: in an element #engine its code, compressed and as base64, in #worker the
   * script of its workers. Requests may be sent at once; they are answered when the engine runs.
   */
  static start(): Engine {
    const read = (id: string) => document.getElementById(id)?.textContent ?? "";
    const script = URL.createObjectURL(new Blob([read("worker")], { type: "text/javascript" }));
    const long = new Desk(new Worker(script), () => undefined);
    const live = new Desk(new Worker(script), (module) => long.boot(module));
    live.boot(read("engine"));
    return new Engine(live, long);
  }

  /** The scenario that the page was made with: "" for none. */
  hello(): Promise<Reply> {
    const start = document.getElementById("start")?.textContent ?? "";
    return this.live.ask({ do: "hello", start: start ? (JSON.parse(start) as string) : "" }).reply;
  }

  /** Both shots. A newer call replaces a waiting one, whose reply is then `superseded` (or `stopped`). */
  throw(state: State, rest: boolean): Promise<Reply> {
    return this.live.ask({ do: "throw", state, rest }).reply;
  }

  /** Short requests: open, file, terms. */
  ask(request: Ask): Promise<Reply> {
    return this.live.ask(request).reply;
  }

  /** Long ones: compare, spread, aim, move, wear, racks. They follow one another. */
  study(request: Ask, progress?: (p: Progress) => void): Study {
    return this.long.ask(request, progress);
  }
}
