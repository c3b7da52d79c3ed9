// What the page and its engine say to each other.
//
// The engine is the project's Go code, compiled to WebAssembly, in a worker. Two workers
// run it: one throws while sliders move, one does the long studies. engine.ts starts both
// and turns messages into promises; nothing else of the page posts to a worker.
//
// Every request that computes carries the whole State, so that an engine has nothing to
// forget and a newer request can take the place of an older one. The engine keeps what
// it parsed for the last base text; sets on top of it are quick.

/** All that the shots follow from: a scenario with one lane, one bowler and two balls, A and B. */
export interface State {
  /** A scenario in YAML, as `opened` returns it: keys lane, balls (two: A is balls[0], B balls[1]), bowler, settings. */
  base: string;
  /**
   * What was moved since: a path as after `--set` and the text of its value with its unit,
   * {"bowler.speed": "18.5 mph", "balls[1].layout.pin_to_pap": "6 in"}. Use withInput to add one.
   */
  sets: Record<string, string>;
  /**
   * Where the line is to be found (aim: pocket): "same" finds that of A and throws B along it,
   * "each" finds one for each, as `lanesim throw` does. Without an aim it has no effect.
   */
  aim: "same" | "each";
}

export type Side = "a" | "b";

// ---------------------------------------------------------------------------------------
// Inputs. The list comes from the engine with `ready`, so that labels, units and limits are
// the program's own.

export interface Input {
  /** Names the input: "ball.layout.pin_to_pap", "bowler.speed", "lane.oil". */
  key: string;
  /** "each" has a value for A and one for B, "both" has one. */
  of: "each" | "both";
  /** Heading under which the input stands: "layout", "surface", "ball", "release", "line", "lane". */
  group: string;
  label: string;
  /** What it means, a sentence; from the program's reference. */
  meaning: string;
  /** Word to look up among the terms for the longer text; "" for none. */
  term: string;
  /** "number": slider and field. "choice": one of `choices`. */
  kind: "number" | "choice";
  unit: string; // as it stands after the number: "in", "deg", "mph", ""; shown and written
  min: number; // of the slider; the field takes what the program takes
  max: number;
  step: number;
  decimals: number; // of the value as text
  fallback: string; // value for a scenario that has none, with its unit
  choices: Choice[];
  /** How a value is written after `--set path=`; % stands for the value with its unit. "%" as a rule. */
  write: string;
  /** Path below balls[i], bowler or lane, where it is not the key's own: target writes "target", its key is "bowler.target.board". */
  path: string;
  /** Keys of inputs whose sets go when this one is set: laws, ways to give a line. */
  excludes: string[];
  /** Keys of inputs that are set along with this one, with the values they have, if they are not set yet: the three numbers of a layout. */
  together: string[];
  /** Shown from the start; the others stand behind "more". */
  first: boolean;
}

export interface Choice {
  value: string; // "" where it stands for "as in the file"
  label: string;
  about: string;
}

/** Present values: by key, of A and B; of an input of both they are equal. null: the scenario has none. */
export type Values = Record<string, { a: Value; b: Value }>;
export interface Value {
  /** In the input's unit; null where it is no number. */
  number: number | null;
  /** As the scenario writes it, with its unit: exact. "" for none. */
  text: string;
}

/** The path of an input's value in State.sets. */
export function pathOf(input: Input, side: Side): string {
  const part = input.path || input.key.slice(input.key.indexOf(".") + 1);
  switch (input.key.split(".")[0]) {
    case "ball":
      return `balls[${side === "a" ? 0 : 1}].${part}`;
    case "bowler":
      return `bowler.${part}`;
    case "lane":
      return `lane.${part}`;
  }
  return part;
}

/** The text of a number for State.sets: shortest, with the input's unit. */
export function textOf(input: Input, number: number): string {
  const rounded = Number(number.toFixed(Math.max(input.decimals, 0)));
  return input.unit ? `${rounded} ${input.unit}` : String(rounded);
}

/**
 * The state with an input set to a text ("18.5 mph", "flat"). Sets that exclude it go, and what belongs together
 * with it is set with the values it has.
 */
export function withInput(state: State, inputs: Input[], values: Values, key: string, side: Side, text: string): State {
  const input = inputs.find((i) => i.key === key);
  if (!input) throw new Error(`no input ${key}`);
  const sets = { ...state.sets };
  for (const other of input.excludes) {
    const o = inputs.find((i) => i.key === other);
    if (o) delete sets[pathOf(o, side)];
  }
  if (key === "bowler.aim" && text === "") {
    // As set by hand: on the line that was found.
    return withInput({ ...state, sets }, inputs, values, "bowler.target.board", side, values["bowler.target.board"]?.[side].text || "12");
  }
  if (text === "") return state; // "as in the file" cannot be chosen again
  const path = pathOf(input, side);
  for (const other of input.together) {
    const o = inputs.find((i) => i.key === other);
    if (!o) continue;
    const at = pathOf(o, side);
    if (at !== path && !(at in sets)) sets[at] = o.write.replace("%", values[other]?.[side].text || o.fallback);
  }
  delete sets[path]; // the last one set stands last
  sets[path] = input.write.replace("%", text);
  return { ...state, sets };
}

// ---------------------------------------------------------------------------------------
// Requests.

export type Request = { id: number } & (
  /** start: the scenario file that the page was made with; "" for the standard state. */
  | { do: "hello"; start: string }
  /**
   * Read a file: a scenario, an oil pattern or tape readings (.csv), or balls, bowlers or lanes alone, which take the rest
   * from `state`. `pick` chooses among several lanes, bowlers and balls by index; default 0, 0, and the first two balls.
   */
  | { do: "open"; text: string; name: string; state: State; pick?: Pick }
  /** Both shots. While a slider is dragged: rest false, at a loose tolerance. At rest: as `lanesim throw`, bit for bit. */
  | { do: "throw"; state: State; rest: boolean }
  /** The difference over 12 phases of the release, the causes, the words. sets: 0 is quick, 24 says how sure. */
  | { do: "compare"; state: State; sets: number }
  /** Deliveries of each ball with the bowler's scatter. level "" takes the scenario's, or else `league`. */
  | { do: "spread"; state: State; deliveries: number; level: string; seed: number }
  /** The line with the most room, for each ball. */
  | { do: "aim"; state: State; level: string; by: "good" | "pocket" | "carry"; seed: number }
  /** What moves of the line do: each as "2 left" or "3 and 2 left". */
  | { do: "move"; state: State; moves: string[] }
  /** How long the line stays in the pocket, ball by ball, on a lane that wears. */
  | { do: "wear"; state: State; deliveries: number; sessions: number; level: string; seed: number }
  /** Racks of pins hit by both shots; the motion of the first rack that falls in the most usual way. */
  | { do: "racks"; state: State; racks: number; seed: number }
  /** The scenario as a file to be saved; reading it again gives the same shots. */
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

// ---------------------------------------------------------------------------------------
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
  | { id: number; is: "superseded" }; // a newer throw took its place

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

/** What is wrong with a file or an input, as the program says it. All of it at once. */
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

// ---------------------------------------------------------------------------------------
// Shots. Numbers come as text to be shown, from the program's own columns, and exact; paths
// and tracks come packed.

export interface Shots {
  id: number;
  is: "shots";
  rest: boolean;
  title: string;
  shots: [Shot, Shot];
  /** A, B and B − A of each quantity, as the program's table shows them. */
  rows: Row[];
  /** Boards from A to B by distance, + is inside, at every half foot: pairs of distance in ft and boards. */
  apart: Float32Array;
  lane: Lane;
  values: Values; // at rest; while dragging it is empty
  /** Paths and tracks of both: see PATH, TRACK and the offsets in Shot. */
  packed: Float32Array;
  cautions: string[]; // warnings of the program about this scenario
  assumed: string[]; // values that are assumed, a sentence each; at rest
  milliseconds: number; // that the engine took
}

export interface Row {
  key: string; // "entry_board", "friction_read_distance_ft": as in the program's JSON and --columns
  a: string; // as shown; "-" where there is none
  b: string;
  change: string; // B − A with its sign, "" for what has none
  // While a slider is dragged the engine leaves out what follows, and app.ts puts it in again.
  label: string;
  unit: string;
  meaning: string;
  first: boolean; // belongs to the few numbers to be seen first
}

export interface Shot {
  ball: string;
  status: string; // "pins", "gutter", "foul line", "stopped", "lifted", "time limit"
  hit: string; // "pocket", "light", …; "" if it does not get there
  line: string; // "feet 29.0, laydown 22.0, arrows 14.0"
  /** Exact, as `lanesim throw --json` prints a shot, but for its path. */
  exact: {
    status: string;
    inputs: unknown; // a scenario of this shot alone
    events: Record<string, ExactState | null>;
    summary: Record<string, number | boolean | string | null | Record<string, number>>;
    aimed: { angles_deg: number[]; used: number } | null;
  } | null; // null while dragging
  /** Events in their order down the lane, with the words for their ticks. */
  events: { key: string; label: string; time: number; distance: number; lateral: number; board: number; text: string }[];
  path: Packed;
  track: Packed;
  /** Marks on the ball, in body axes as packed orientations turn them; unit vectors. */
  marks: Mark[];
  radius: number; // m
  contactWidth: number; // m, of the track
  left: boolean; // hand
}

export type ExactState = Record<string, number | number[] | null>;

export interface Mark {
  kind: "pin" | "psa" | "pap" | "hole" | "grip";
  label: string; // "pin", "PSA", "PAP", "thumb", "middle", "ring"
  at: [number, number, number];
  radius: number; // rad on the ball's surface; 0 for a point
}

/** Where something lies in `packed`: `count` points of `stride` numbers from index `from` on. */
export interface Packed {
  from: number;
  count: number;
  stride: number;
}

/** Numbers of a point of a path, by index. Lateral is positive to the left, seen from the foul line. */
export const PATH = {
  time: 0, // s since release
  distance: 1, // m from the foul line
  lateral: 2, // m left of the lane's middle
  board: 3, // from the bowler's side
  heading: 4, // deg
  speed: 5, // m/s
  revRate: 6, // rad/s
  axisRotation: 7, // deg; NaN without spin
  axisTilt: 8, // deg
  slip: 9, // m/s
  friction: 10,
  oil: 11, // um in the contact
  ballOil: 12, // um of that which the ball brought
  qw: 13, // orientation, a unit quaternion that turns body axes into the lane's: x down-lane, y left, z up
  qx: 14,
  qy: 15,
  qz: 16,
  stride: 17,
} as const;

/** Numbers of a point of the track on the ball, by index. */
export const TRACK = {
  time: 0,
  distance: 1, // m
  turned: 2, // rad since release
  x: 3, // unit vector in body axes
  y: 4,
  z: 5,
  found: 6, // um of film that the ball brought there
  left: 7, // um that the contact left on the ball
  stride: 8,
} as const;

export interface Lane {
  name: string;
  length: number; // m to the head pin
  width: number; // m
  boards: number; // 39
  oilEnd: number; // m; 0 for a dry lane
  /** Film in um: a row of 39 boards from the right for each distance in m, the rows one after the other. Straight lines between; none beyond the last. */
  oil: { distances: number[]; film: Float32Array };
  pocket: [number, number]; // boards at the pins
  left: boolean; // the bowler's hand: boards count from the left then
}

// ---------------------------------------------------------------------------------------
// Studies.

export interface Change {
  at_pins_boards: number | null;
  friction_read_ft: number | null;
  breakpoint_ft: number | null;
  hook_start_ft: number | null;
  entry_angle_deg: number | null;
}

export interface Compared {
  id: number;
  is: "compared";
  a: string; // names
  b: string;
  difference: Change; // b − a, means over the phases
  deviation: Change; // standard deviations over the phases
  /** The same as text: "−3.0 ± 0.2". */
  rows: { key: keyof Change; label: string; unit: string; text: string }[];
  visible: boolean; // false: "no difference that could be seen"
  identical: boolean;
  /** Boards apart by distance, of the mean paths: pairs of ft and boards. */
  apart: Float32Array;
  parting: number | null; // ft from which on they are a board apart
  mechanisms: Cause[];
  inputs: Cause[];
  explanation: string; // sentences, from the program
  /** "22 of 24" for each conclusion; empty with sets: 0. */
  holds: { conclusion: string; in: number; of: number; open: boolean }[];
  note: string;
  blocks: Block[];
}
export type Cause = { cause: string; label: string } & Change;

/** A piece of what the program prints of a result, in its order: a heading, a table, or a text. */
export interface Block {
  heading: string;
  text: string;
  rows: string[][]; // of a table; the first cell of a row is its heading
  heads: number; // rows at the top that are headings of columns
}

export interface Spread {
  id: number;
  is: "spread";
  deliveries: number;
  balls: {
    name: string;
    pocket: Share;
    good: Share; // in the pocket at a good angle
    gutter: Share;
    hits: { hit: string; share: Share }[];
    /** Ends of the deliveries: board at the pins and entry angle in degrees, packed in pairs; NaN for lost ones. */
    ends: Float32Array;
    mean: number | null; // entry board
    deviation: number | null;
    /** What scatters the entry board: the share that each deviation explains alone, the largest first. */
    misses: { label: string; share: number | null; text: string }[];
  }[];
  blocks: Block[]; // all of it, as the program prints it
  words: string; // note of the program
  cautions: string[];
}

export interface Share {
  share: number;
  low: number; // 95 % interval
  high: number;
  text: string; // "62 %"
}

export interface Lines {
  id: number;
  is: "lines";
  /** A ball without a line is missing here and named in the cautions; without any the reply is `noline`. */
  balls: {
    side: Side;
    name: string;
    by: string; // what the share is: "in the pocket at a good angle"
    laydown: number;
    arrows: number;
    angle: number; // deg
    share: Share;
    own: Share | null; // of the present line, where it is given
    /** Shares of all lines, interpolated: a row of arrows for each laydown, packed; 0 where none was tried. */
    map: { laydown: number[]; arrows: number[]; share: Float32Array };
    /** Sets that put this line into the state; take out those of bowler.aim and bowler.angle. */
    sets: Record<string, string>;
  }[];
  blocks: Block[]; // all of it, as the program prints it
  words: string;
  cautions: string[];
}

export interface Moves {
  id: number;
  is: "moves";
  /** The present line first. */
  moves: { move: string; sets: Record<string, string>; a: MoveResult; b: MoveResult }[];
}
export interface MoveResult {
  line: string;
  entryBoard: number | null;
  entryAngle: number | null; // deg
  breakpoint: { board: number; distance: number } | null; // ft
  hit: string;
  text: string;
}

export interface Wear {
  id: number;
  is: "wear";
  balls: {
    name: string;
    /** Share of deliveries in the pocket, block by block. */
    blocks: { from: number; to: number; pocket: Share; mean: number | null }[]; // deliveries from 1
    lasts: number | null; // deliveries until the line is lost
    text: string;
  }[];
  blocks: Block[]; // all of it, as the program prints it
  words: string;
  cautions: string[];
}

export interface Racks {
  id: number;
  is: "racks";
  balls: {
    name: string;
    strike: Share | null; // null if the ball does not reach the pins
    pinsDown: number | null;
    leaves: { pins: string; share: number; text: string }[];
    /** Motion of one rack: frames of `stride` numbers at even times; see FALL. */
    fall: { frames: number; interval: number; pins: number; packed: Float32Array; leave: string } | null;
  }[];
  assumed: string[];
}

/**
 * Numbers of a frame of falling pins: the ball's x, y (m from the head pin's spot, down-lane and left; NaN without), then for
 * pins 1 to 10 each x, y, z of the mass centre (5.8 in above the base of a pin 15 in high, at most 4.77 in wide) and the unit
 * vector along the axis toward the head.
 */
export const FALL = { ball: 2, pin: 6, stride: 62 } as const;

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

// ---------------------------------------------------------------------------------------
// The link. The fragment is  #<mark><payload>  with mark "1." and payload base64url, without
// padding, of deflate-raw ("deflate-raw" of CompressionStream) of JSON
//   {"b": base text, "s": sets, "a": "each"}
// where what equals the standard state is left out: "b" if the base is that of STANDARD mark 1
// (examples[0] of `ready`; its text never changes under this mark), "s" if empty, "a" if "same".
// Further members are the page's own (view, chosen tab) and may be unknown: ignore them.
// An unknown mark, a payload that does not unpack or a state with problems gives a message
// and the standard state. The link is written after a `shots` reply at rest.

export const LINK_MARK = "1.";
