// A rack as it falls, seen from above the lane toward the pins.

import { text, type Context } from "./drawing";
import { h } from "./dom";
import { FALL, type Racks } from "./protocol/studies";
import { light, onTheme, theme, type Theme } from "./theme";
import { View, type Size } from "./view";

type Fall = NonNullable<Racks["balls"][number]["fall"]>;
type Vector = [number, number, number];

/** Height above the base and radius of a pin, in inches: its outline as bowling's rules list it. */
const outline: [number, number][] = [
  [0, 1.02], [0.75, 1.41], [2.25, 1.95], [3.375, 2.26], [4.5, 2.38], [5.875, 2.29], [7.25, 1.86], [8.625, 1.25], [9.375, 0.98], [10, 0.9], [10.875, 0.93], [11.75, 1.05], [12.625, 1.21], [13.5, 1.27], [14.3, 1.05], [14.85, 0.6],
];
const inch = 0.0254;
const massCentre = 5.8 * inch; // above the base
const slow = 0.25;

/** The viewer stands before the deck, 40° above it. */
const down = (40 * Math.PI) / 180;

export class Deck {
  readonly figure: HTMLElement;
  private readonly view: View;
  private time: number;
  private frame = 0;
  private last = 0;

  constructor(
    private readonly fall: Fall,
    label: string,
    private readonly radius: number,
  ) {
    const place = h("div", { class: "view", role: "img", "aria-label": label });
    this.figure = h("figure", { style: "margin:0" }, place, h("figcaption", { class: "note" }, label));
    this.time = this.end;
    this.view = new View(place, () => this.draw());
    onTheme(() => this.draw());
  }

  private get end(): number {
    return (this.fall.frames - 1) * this.fall.interval;
  }

  play(): void {
    cancelAnimationFrame(this.frame);
    this.time = 0;
    this.last = 0;
    const step = (now: number) => {
      if (this.last) this.time = Math.min(this.end, this.time + ((now - this.last) / 1000) * slow);
      this.last = now;
      this.draw();
      if (this.time < this.end && this.figure.isConnected) this.frame = requestAnimationFrame(step);
    };
    this.frame = requestAnimationFrame(step);
  }

  private draw(): void {
    if (!this.figure.isConnected) return;
    this.view.drawMoving((c, size) => this.paint(c, size, theme()));
  }

  private paint(c: Context, size: Size, of: Theme): void {
    const scale = Math.min(size.width / 1.75, size.height / 1.4);
    const at = ([x, y, z]: Vector): [number, number] => [size.width / 2 - y * scale, size.height * 0.86 - (x * Math.sin(down) + z * Math.cos(down)) * scale];
    // The deck, with the spots.
    c.fillStyle = of.gutter;
    c.strokeStyle = of.grid;
    c.beginPath();
    for (const [i, corner] of ([[-0.3, 0.527, 0], [0.95, 0.527, 0], [0.95, -0.527, 0], [-0.3, -0.527, 0]] as Vector[]).entries()) {
      if (i === 0) c.moveTo(...at(corner));
      else c.lineTo(...at(corner));
    }
    c.fill();
    const frame = Math.min(this.fall.frames - 1, Math.round(this.time / this.fall.interval));
    const start = frame * FALL.stride;
    const value = (i: number) => this.fall.packed[start + i]!;
    const things: { far: number; draw: () => void }[] = [];
    if (!Number.isNaN(value(0))) {
      const centre: Vector = [value(0), value(1), this.radius];
      things.push({ far: centre[0], draw: () => ball(c, at(centre), this.radius * scale, of) });
    }
    for (let pin = 0; pin < this.fall.pins; pin++) {
      const first = FALL.ball + pin * FALL.pin;
      const centre: Vector = [value(first), value(first + 1), value(first + 2)];
      const axis: Vector = [value(first + 3), value(first + 4), value(first + 5)];
      if (Number.isNaN(centre[0])) continue;
      things.push({ far: centre[0], draw: () => this.pin(c, at, scale, centre, axis, String(pin + 1), of) });
    }
    things.sort((a, b) => b.far - a.far);
    for (const thing of things) thing.draw();
  }

  /** A pin as discs along its axis, the farthest first; its outline is what sticks out of them. */
  private pin(c: Context, at: (v: Vector) => [number, number], scale: number, centre: Vector, axis: Vector, number: string, of: Theme): void {
    // Toward the viewer: from before the deck and above it.
    const toward = -axis[0] * Math.cos(down) + axis[2] * Math.sin(down);
    const discs = outline.map(([height, radius]) => {
      const along = height * inch - massCentre;
      const [x, y] = at([centre[0] + along * axis[0], centre[1] + along * axis[1], centre[2] + along * axis[2]]);
      return { x, y, radius: radius * inch * scale, height };
    });
    if (toward < 0) discs.reverse();
    c.fillStyle = of.soft;
    for (const d of discs) disc(c, d.x, d.y, d.radius + 1);
    c.fillStyle = of.pin;
    for (let i = 0; i < discs.length; i++) {
      const d = discs[i]!;
      const next = discs[i + 1];
      for (let k = 0; k < (next ? 3 : 1); k++) {
        const share = k / 3;
        disc(c, next ? d.x + share * (next.x - d.x) : d.x, next ? d.y + share * (next.y - d.y) : d.y, next ? d.radius + share * (next.radius - d.radius) : d.radius);
      }
    }
    const belly = discs.find((d) => d.height === 4.5)!;
    text(c, number, belly.x, belly.y, { size: Math.max(9, Math.round(belly.radius * 1.3)), colour: light.ink, bold: true, align: "center", baseline: "middle" });
  }
}

function disc(c: Context, x: number, y: number, radius: number): void {
  c.beginPath();
  c.arc(x, y, radius, 0, 2 * Math.PI);
  c.fill();
}

function ball(c: Context, [x, y]: [number, number], radius: number, of: Theme): void {
  const shade = c.createRadialGradient(x - radius * 0.3, y - radius * 0.4, radius * 0.1, x, y, radius);
  shade.addColorStop(0, of.ball[0]);
  shade.addColorStop(1, of.ball[1]);
  c.fillStyle = shade;
  disc(c, x, y, radius);
  c.strokeStyle = of.ink;
  c.lineWidth = 1.5;
  c.stroke();
}
