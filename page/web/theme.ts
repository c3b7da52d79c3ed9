// Colours and type of what is drawn. Text and controls have theirs from page.css.
//
// The paths have colours of the palette for the colour-blind by Okabe and Ito (Color
// Universal Design, 2008), and dashes and letters besides: no meaning is in a colour alone.

export interface Theme {
  ground: string;
  ink: string;
  soft: string;
  faint: string;
  gutter: string;
  casing: string; // beside a path, keeps it off the oil
  paths: [string, string];
  oilThin: [number, number, number];
  oilFull: [number, number, number];
  ball: [string, string]; // lit and shaded
  hole: string;
  pin: string;
  pocket: string;
}

export const light: Theme = {
  ground: "#ffffff",
  ink: "#22262b",
  soft: "#555c64",
  faint: "#d9dde1",
  gutter: "#e3e5e8",
  casing: "rgba(255,255,255,0.82)",
  paths: ["#0072b2", "#d55e00"],
  oilThin: [236, 242, 246],
  oilFull: [134, 163, 186],
  ball: ["#ffffff", "#c6ccd3"],
  hole: "#22262b",
  pin: "#ffffff",
  pocket: "rgba(0,158,115,0.20)",
};

export const dark: Theme = {
  ground: "#16191d",
  ink: "#eef0f2",
  soft: "#aab2bb",
  faint: "#343a42",
  gutter: "#2a2f36",
  casing: "rgba(16,18,22,0.82)",
  paths: ["#56b4e9", "#e69f00"],
  oilThin: [28, 35, 42],
  oilFull: [70, 96, 117],
  ball: ["#4a525c", "#23282e"],
  hole: "#0b0d0f",
  pin: "#e6e8ea",
  pocket: "rgba(0,158,115,0.34)",
};

/** Lengths on and off along a path, in its widths. */
export const dashes: [number[], number[]] = [[], [3.2, 1.5]];

export const letters = ["A", "B"] as const;

const preferred = matchMedia("(prefers-color-scheme: dark)");
let chosen: "auto" | "light" | "dark" = "auto";
let printing = false;
const listeners: (() => void)[] = [];
const redraw = () => listeners.forEach((draw) => draw());
preferred.addEventListener("change", redraw);

// Print has sizes of its own, which must be there before it is laid out.
const print = (now: boolean) => {
  printing = now;
  document.documentElement.classList.toggle("printing", now);
  redraw();
};
addEventListener("beforeprint", () => print(true));
addEventListener("afterprint", () => print(false));

/** The theme to draw with now. */
export function theme(): Theme {
  if (printing) return light;
  return chosen === "dark" || (chosen === "auto" && preferred.matches) ? dark : light;
}

/** Chooses how the page looks. */
export function choose(choice: "auto" | "light" | "dark"): void {
  chosen = choice;
  document.documentElement.dataset["theme"] = choice;
  redraw();
}

/** Calls back whenever the theme changes: by the device, by choice, or for print. */
export function onTheme(draw: () => void): void {
  listeners.push(draw);
}

export function font(size: number, bold = false): string {
  return `${bold ? "600 " : ""}${size}px system-ui, -apple-system, "Segoe UI", Roboto, "Liberation Sans", sans-serif`;
}

/** The colour of a film that is the share t of the thickest. */
export function oilColour(of: Theme, t: number): [number, number, number] {
  const at = Math.min(1, Math.max(0, t));
  return [0, 1, 2].map((i) => Math.round(of.oilThin[i]! + at * (of.oilFull[i]! - of.oilThin[i]!))) as [number, number, number];
}
