// Messages between the page and its engine: requests and replies. state.ts has the state that each request
// carries, shots.ts and studies.ts what replies hold.
//
// The engine is the project's Go code, compiled to WebAssembly, in a worker. Two workers
// run it: one throws while sliders move, one does the long studies. engine.ts starts both
// and turns messages into promises; nothing else of the page posts to a worker.
//
// Every request that computes carries the whole State, so that the engine needs no memory of
// earlier requests and a newer request can replace an older one. The engine keeps the parsed
// tree of the last base text, so that new sets on it are quick.

import type { Shots } from "./shots";
import type { State, Side, Input, Values } from "./state";
import type { Compared, Spread, Lines, Moves, Wear, Racks } from "./studies";

// Requests.

export type Request = { id: number } & (
  /** start: the scenario file that the page was made with; "" for the standard state. */
  | { do: "hello"; start: string }
  /**
   * Read a file: a scenario, an oil pattern or tape readings (.csv), or balls, bowlers or lanes alone, completed from
   * `state`. `pick` chooses among several lanes, bowlers and balls by index; default 0, 0, and the first two balls.
   */
  | { do: "open"; text: string; name: string; state: State; pick?: Pick }
  /** Both shots. While a slider is dragged: rest false, at a loose tolerance. At rest: as `lanesim throw`, bit for bit. */
  | { do: "throw"; state: State; rest: boolean }
  /** The difference over 12 phases of the release, its causes, in words. sets: 0 is quick, 24 shows how sure it is. */
  | { do: "compare"; state: State; sets: number }
  /** Deliveries of each ball with the bowler's scatter. level "" takes the scenario's, or else `league`. */
  | { do: "spread"; state: State; deliveries: number; level: string; seed: number }
  /** The line with the most room, for each ball. */
  | { do: "aim"; state: State; level: string; by: "good" | "pocket" | "carry"; seed: number }
  /** The effect of moves of the line, each written as "2 left" or "3 and 2 left". */
  | { do: "move"; state: State; moves: string[] }
  /** How long the line stays in the pocket, ball by ball, on a lane that wears. */
  | { do: "wear"; state: State; deliveries: number; sessions: number; level: string; seed: number }
  /** Racks of pins hit by both shots; the motion of the first rack with the commonest outcome. */
  | { do: "racks"; state: State; racks: number; seed: number }
  /** The scenario as a file to save; reading it gives the same shots. */
  | { do: "file"; state: State }
  /** All terms with their texts. */
  | { do: "terms" }
);

export interface Pick {
  lane: number;
  bowler: number;
  balls: [number, number];
}

/** Stop a request. Its reply is `stopped`, or that of fewer deliveries (spread), which the cautions say. */
export interface Stop {
  stop: number; // id of the request
}

// Replies. Each has the id of its request; progress may come before.

export type Reply =
  | Ready
  | Opened
  | Shots
  | Compared
  | Spread
  | Lines
  | Moves
  | Wear
  | Racks
  | SavedFile
  | Terms
  | Problems
  | NoLine
  | Failed
  | { id: number; is: "stopped" }
  | { id: number; is: "superseded" }; // replaced by a newer throw

export interface Progress {
  id: number;
  is: "progress";
  what: string; // "shot", "line", "set of assumed values"
  done: number;
  of: number;
}

/** The engine runs. */
export interface Ready {
  id: number;
  is: "ready";
  version: string; // of the model
  inputs: Input[];
  /** Scenarios to start from, the standard one first; `base` of a state. */
  examples: { name: string; title: string; question: string; base: string }[];
  /** Bowlers and patterns that come with the program: sets to be merged into State.sets. */
  bowlers: { name: string; about: string; sets: Record<string, string> }[];
  /** Skill levels for spread, aim and wear. */
  levels: { name: string; about: string }[];
  state: State; // to start from: that of the file that the page was made with, or the standard one
  /** The file that the page was made with, "" for none. If it has more lanes, bowlers or balls, `open` it to pick others. */
  start: string;
}

export interface Opened {
  id: number;
  is: "opened";
  state: State;
  values: Values;
  title: string;
  names: { lanes: string[]; bowlers: string[]; balls: string[] }; // of the file, to pick from
  picked: Pick;
  cautions: string[];
}

/** All errors of a file or an input, as the program prints them. */
export interface Problems {
  id: number;
  is: "problems";
  problems: {
    text: string; // whole, with source line and caret: for a monospaced block
    message: string;
    hint: string;
    line: number; // 0 for a set
    column: number;
    path: string; // "balls[1].layout.pin_to_pap"
    key: string; // of the input that it belongs to; "" for none
    side: Side | "";
  }[];
}

/** No line reaches the pocket (or the pins). Keep the old picture, greyed. */
export interface NoLine {
  id: number;
  is: "noline";
  side: Side; // whose
  message: string;
  nearest: number | null; // board
}

/** The run failed: a reason in words. */
export interface Failed {
  id: number;
  is: "failed";
  message: string;
}

export interface SavedFile {
  id: number;
  is: "file";
  text: string; // YAML
  name: string; // to save it under
}

export interface Terms {
  id: number;
  is: "terms";
  topics: { name: string; terms: { term: string; also: string[]; unit: string; meaning: string; from: string }[] }[];
}
