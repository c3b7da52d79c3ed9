/** A value for each shot that a panel distinguishes; the page uses the first two. */
export type Shots<T> = [T, T, T, T];

/** Colours by purpose, as in internal/theme. */
export interface Theme {
  ground: string;
  paper: string;
  ink: string;
  soft: string;
  line: string;
  faint: string;
  grid: string;
  gutter: string;
  casing: string;
  pocket: string;
  oil: [string, string];
  paths: Shots<string>;
  aInk: string;
  bInk: string;
  good: string;
  bad: string;
  notable: string;
  ball: [string, string];
  hole: string;
  pin: string;
}
