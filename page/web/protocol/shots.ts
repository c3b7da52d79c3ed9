// Shots, as the engine sends them. Numbers come as text, from the program's own columns, and
// exact; paths and tracks come packed.

import type { Values } from "./state";

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
  ballOil: 12, // um of oil that the ball carried into the contact
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
  found: 6, // um of film that was on the ball there
  left: 7, // um that the contact left on the ball
  stride: 8,
} as const;

export interface Lane {
  name: string;
  length: number; // m to the head pin
  width: number; // m
  boards: number; // 39
  oilEnd: number; // m; 0 for a dry lane
  /** Film in um: a row of 39 boards from the right for each distance in m, the rows one after the other. Linear between them; dry beyond the last. */
  oil: { distances: number[]; film: Float32Array };
  pocket: [number, number]; // boards at the pins
  left: boolean; // the bowler's hand: boards count from the left then
}
