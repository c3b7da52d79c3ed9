// From internal/theme, by go run ./page/bundle.

import type { Shots, Theme } from "./palette";

export const light: Theme = {
  "aInk": "#005f96",
  "bInk": "#a34600",
  "bad": "#a33100",
  "ball": [
    "#ffffff",
    "#c6ccd3"
  ],
  "casing": "#ffffffd0",
  "faint": "#e6e9ec",
  "good": "#00633f",
  "grid": "#d9dde1",
  "ground": "#f4f5f6",
  "gutter": "#e9eaec",
  "hole": "#22262b",
  "ink": "#22262b",
  "line": "#c9ced4",
  "notable": "#7a4b00",
  "oil": [
    "#ecf2f6",
    "#86a3ba"
  ],
  "paper": "#ffffff",
  "paths": [
    "#0072b2",
    "#d55e00",
    "#000000",
    "#009e73"
  ],
  "pin": "#ffffff",
  "pocket": "#009e7333",
  "soft": "#555c64"
};

export const dark: Theme = {
  "aInk": "#7cc5ef",
  "bInk": "#f0b53a",
  "bad": "#ff9d73",
  "ball": [
    "#4a525c",
    "#23282e"
  ],
  "casing": "#101216d0",
  "faint": "#262b31",
  "good": "#6fd6a8",
  "grid": "#343a42",
  "ground": "#0f1114",
  "gutter": "#2a2f36",
  "hole": "#0b0d0f",
  "ink": "#eef0f2",
  "line": "#4a525c",
  "notable": "#f0c36a",
  "oil": [
    "#1c232a",
    "#466075"
  ],
  "paper": "#16191d",
  "paths": [
    "#56b4e9",
    "#e69f00",
    "#eef0f2",
    "#009e73"
  ],
  "pin": "#e6e8ea",
  "pocket": "#009e7359",
  "soft": "#aab2bb"
};

export const dashes: Shots<number[]> = [
  [],
  [
    3.2,
    1.4
  ],
  [
    1.1,
    1.1
  ],
  [
    4.5,
    1,
    1.1,
    1
  ]
];

export const letters: Shots<string> = [
  "A",
  "B",
  "C",
  "D"
];
