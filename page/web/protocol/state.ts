// The state, which determines the shots, and its inputs, as page and engine exchange them.

/** Everything that determines the shots: a scenario with one lane, one bowler and two balls, A and B. */
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
  /** How a value is written after `--set path=`; % stands for the value with its unit. Usually "%". */
  write: string;
  /** Path below balls[i], bowler or lane, if it differs from the key: target writes "target", its key is "bowler.target.board". */
  path: string;
  /** Keys of inputs whose sets are removed when this one is set: laws, ways to give a line. */
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

// The link. The fragment is  #<mark><payload>  with mark "1." and payload base64url, without
// padding, of deflate-raw ("deflate-raw" of CompressionStream) of JSON
//   {"b": base text, "s": sets, "a": "each"}
// where what equals the standard state is left out: "b" if the base is that of STANDARD mark 1
// (examples[0] of `ready`; its text never changes under this mark), "s" if empty, "a" if "same".
// Further members are the page's own (view, chosen tab) and may be unknown: ignore them.
// An unknown mark, a payload that does not unpack or a state with problems gives a message
// and the standard state. The link is written after a `shots` reply at rest.

export const LINK_MARK = "1.";
