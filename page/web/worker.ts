// The worker that runs the engine. Go's wasm_exec.js, which defines `Go`, comes before this
// script. Requests are answered one after the other; of waiting throws only the newest is kept.

import type { Request, Stop } from "./protocol/messages";

/** First message: the engine as compressed base64, or compiled already. */
export interface Boot {
  boot: string | WebAssembly.Module;
}
/** Answer to it: the compiled module for the other worker. */
export interface Booted {
  booted: WebAssembly.Module;
}
/** A reply: its text, and the packed numbers to which it refers. */
export interface Answered {
  answered: number; // id
  text: string;
  packed: Float32Array;
}

declare const Go: new () => { importObject: WebAssembly.Imports; run(instance: WebAssembly.Instance): Promise<void> };
interface Engine {
  answer(text: string, progress: (what: string, done: number, of: number) => void, reply: (text: string, packed: Float32Array) => void): void;
  stop(): void;
}
interface Scope {
  lanesim: Engine;
  lanesimReady: () => void;
  onmessage: ((event: MessageEvent) => void) | null;
  postMessage(message: unknown, transfer?: Transferable[]): void;
}
const scope = self as unknown as Scope;

let waiting: Request[] = [];
let working: Request | undefined;

scope.onmessage = (event: MessageEvent<Boot | Request | Stop>) => {
  const message = event.data;
  if ("boot" in message) {
    start(message.boot).catch((error: unknown) => scope.postMessage({ broken: String(error) }));
  } else if ("stop" in message) {
    if (working?.id === message.stop) scope.lanesim.stop();
    const index = waiting.findIndex((r) => r.id === message.stop);
    if (index >= 0) reply(waiting.splice(index, 1)[0]!, "stopped");
  } else {
    if (message.do === "throw") {
      for (const old of waiting.filter((r) => r.do === "throw")) reply(old, "superseded");
      waiting = waiting.filter((r) => r.do !== "throw");
      if (working?.do === "throw") scope.lanesim.stop();
    }
    waiting.push(message);
    next();
  }
};

/** Ends a request that was not answered. */
function reply(request: Request, is: "stopped" | "superseded"): void {
  answered(request.id, JSON.stringify({ id: request.id, is }), new Float32Array());
}

function answered(id: number, text: string, packed: Float32Array): void {
  scope.postMessage({ answered: id, text, packed } satisfies Answered, [packed.buffer]);
}

/** Starts on the next request. */
function next(): void {
  if (working || waiting.length === 0 || !scope.lanesim) return;
  const request = waiting.shift()!;
  working = request;
  scope.lanesim.answer(
    JSON.stringify(request),
    (what, done, of) => scope.postMessage({ id: request.id, is: "progress", what, done, of }),
    (text, packed) => {
      working = undefined;
      answered(request.id, text, packed);
      next();
    },
  );
}

async function start(code: string | WebAssembly.Module): Promise<void> {
  const module = typeof code === "string" ? await compile(code) : code;
  scope.postMessage({ booted: module } satisfies Booted);
  const go = new Go();
  const ready = new Promise<void>((resolve) => (scope.lanesimReady = resolve));
  const instance = await WebAssembly.instantiate(module, go.importObject);
  void go.run(instance);
  await ready;
  next();
}

/** Unpacks and compiles the engine. */
async function compile(base64: string): Promise<WebAssembly.Module> {
  const binary = atob(base64.trim());
  const bytes = new Uint8Array(binary.length);
  for (let i = 0; i < binary.length; i++) bytes[i] = binary.charCodeAt(i);
  const unpacked = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  return WebAssembly.compile(await new Response(unpacked).arrayBuffer());
}
