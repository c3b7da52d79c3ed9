// Canvases on the page: still parts are drawn once, on a canvas of their own below the one for
// moving parts.

import type { Context } from "./drawing";

export interface Size {
  width: number;
  height: number;
}

const printing = () => document.documentElement.classList.contains("printing");

export class View {
  readonly size: Size = { width: 0, height: 0 };
  private readonly still: HTMLCanvasElement;
  private readonly moving: HTMLCanvasElement;

  /** place holds the canvases; changed is called when their size changes. */
  constructor(
    readonly place: HTMLElement,
    changed: () => void,
  ) {
    const canvas = () => {
      const made = document.createElement("canvas");
      made.setAttribute("aria-hidden", "true");
      place.append(made);
      return made;
    };
    this.still = canvas();
    this.moving = canvas();
    new ResizeObserver(() => {
      if (this.fit()) changed();
    }).observe(place);
    this.fit();
  }

  get shown(): boolean {
    return this.size.width > 0 && this.size.height > 0;
  }

  /** Adopts the place's size; reports whether it changed. */
  private fit(): boolean {
    const { clientWidth: width, clientHeight: height } = this.place;
    if (width === this.size.width && height === this.size.height) return false;
    this.size.width = width;
    this.size.height = height;
    const scale = Math.max(printing() ? 3 : 1, devicePixelRatio);
    for (const canvas of [this.still, this.moving]) {
      canvas.width = Math.round(width * scale);
      canvas.height = Math.round(height * scale);
    }
    return true;
  }

  /** Adopts the place's size at once, for print, where waiting for the next layout is too late. */
  refit(): void {
    this.fit();
  }

  drawStill(draw: (c: Context, size: Size) => void): void {
    this.draw(this.still, draw);
  }

  drawMoving(draw: (c: Context, size: Size) => void): void {
    this.draw(this.moving, draw);
  }

  private draw(canvas: HTMLCanvasElement, draw: (c: Context, size: Size) => void): void {
    if (!this.shown) return;
    if (printing()) canvas.width = Math.round(this.size.width * 3); // empties it
    const c = canvas.getContext("2d")!;
    const scale = canvas.width / this.size.width;
    c.setTransform(scale, 0, 0, scale, 0, 0);
    // Chromium prints the commands again, and clearing would clear the canvas below, too.
    if (!printing()) c.clearRect(0, 0, this.size.width, this.size.height);
    draw(c, this.size);
  }
}
