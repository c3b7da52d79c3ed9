// Results of studies, as the engine sends them.

import type { Side } from "./state";

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
  visible: boolean; // false: "no visible difference"
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

/** A part of the program's output, in its order: a heading, a table, or a text. */
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
    /** The causes of the scatter of the entry board: the share that each deviation explains alone, the largest first. */
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
    by: string; // the measure of the share: "in the pocket at a good angle"
    laydown: number;
    arrows: number;
    angle: number; // deg
    share: Share;
    own: Share | null; // of the present line, where it is given
    /** Shares of all lines, interpolated: a row of arrows for each laydown, packed; 0 where none was tried. */
    map: { laydown: number[]; arrows: number[]; share: Float32Array };
    /** Sets that give the state this line; remove those of bowler.aim and bowler.angle. */
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
