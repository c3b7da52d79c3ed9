// The state in the link's fragment: only the differences from the standard state, compressed,
// after a mark of the format.

import type { Ready } from "./protocol/messages";
import { LINK_MARK, type State } from "./protocol/state";

interface Payload {
  b?: string; // base
  s?: Record<string, string>; // sets
  a?: State["aim"];
}

async function through(bytes: Uint8Array, by: ReadableWritablePair<Uint8Array, BufferSource>): Promise<Uint8Array> {
  const stream = new Blob([bytes as BlobPart]).stream().pipeThrough(by);
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** The fragment of a state, without "#"; "" for the standard one. */
export async function fragmentOf(state: State, ready: Ready): Promise<string> {
  const payload: Payload = {};
  if (state.base !== ready.examples[0]!.base) payload.b = state.base;
  if (Object.keys(state.sets).length > 0) payload.s = state.sets;
  if (state.aim !== "same") payload.a = state.aim;
  if (Object.keys(payload).length === 0) return "";
  const packed = await through(new TextEncoder().encode(JSON.stringify(payload)), new CompressionStream("deflate-raw"));
  let binary = "";
  for (const byte of packed) binary += String.fromCharCode(byte);
  return LINK_MARK + btoa(binary).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

/** The state of a fragment; throws an error with the reason if there is none. */
export async function stateOf(fragment: string, ready: Ready): Promise<State> {
  if (!fragment.startsWith(LINK_MARK)) throw new Error("this page cannot read its format");
  let payload: Payload;
  try {
    const binary = atob(fragment.slice(LINK_MARK.length).replaceAll("-", "+").replaceAll("_", "/"));
    const bytes = Uint8Array.from(binary, (character) => character.charCodeAt(0));
    const text = new TextDecoder("utf-8", { fatal: true }).decode(await through(bytes, new DecompressionStream("deflate-raw")));
    payload = JSON.parse(text) as Payload;
  } catch {
    throw new Error("part of it is missing or was changed");
  }
  const { b, s, a } = payload ?? {};
  const texts = s === undefined || (typeof s === "object" && s !== null && Object.values(s).every((v) => typeof v === "string"));
  if (!texts || (b !== undefined && typeof b !== "string") || (a !== undefined && a !== "same" && a !== "each")) throw new Error("it has unknown contents");
  return { base: b ?? ready.examples[0]!.base, sets: s ?? {}, aim: a ?? "same" };
}
