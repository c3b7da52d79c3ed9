// Colours and type of drawings. Colour alone never carries a meaning: shots also have dashes
// and letters.

import { dark, light } from "./colours";
import type { Theme } from "./palette";

export { dashes, letters, light } from "./colours";
export type { Theme } from "./palette";

const preferred = matchMedia("(prefers-color-scheme: dark)");
let chosen: "auto" | "light" | "dark" = "auto";
let printing = false;
const listeners: (() => void)[] = [];
const redraw = () => listeners.forEach((draw) => draw());
preferred.addEventListener("change", redraw);

// Print has sizes of its own, which must be set before its layout.
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

/** Red, green and blue of a film by its share of the thickest. */
export function oilRamp({ oil }: Theme): (share: number) => [number, number, number] {
  const ends = [1, 3, 5].map((at) => oil.map((colour) => parseInt(colour.slice(at, at + 2), 16)) as [number, number]);
  return (share) => {
    const at = Math.min(1, Math.max(0, share));
    return ends.map(([thin, full]) => Math.round(thin + at * (full - thin))) as [number, number, number];
  };
}
