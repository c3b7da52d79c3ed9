// The stage: lane, last 20 ft, balls and play bar, all of one scene.

import { drawBalls, type Sight } from "./ball";
import { byID, h, write } from "./dom";
import { drawInset, drawInsetBalls } from "./inset";
import { drawLane, drawLaneBalls } from "./lane";
import { sceneOf, type Scene } from "./path";
import type { Shots } from "./protocol/shots";
import { onTheme, theme } from "./theme";
import { View } from "./view";

/** Where the choice of sight stands between the balls, as page.css has it. */
const narrow = matchMedia("(max-width: 699px), (max-height: 520px)");

export class Stage {
  scene: Scene | undefined;
  sight: Sight = "behind";
  private readonly lane: View;
  private readonly inset: View;
  private readonly balls: View;
  private readonly scrub = byID<HTMLInputElement>("scrub");
  private readonly button = byID<HTMLButtonElement>("play");
  private readonly clock = byID("clock");
  private readonly pace = byID<HTMLSelectElement>("pace");
  private playing = 0; // id of the requested frame
  private lastFrame = 0;

  constructor() {
    const all = () => this.draw();
    this.lane = new View(byID("lane"), all);
    this.inset = new View(byID("inset"), all);
    this.balls = new View(byID("balls"), all);
    onTheme(() => {
      for (const view of [this.lane, this.inset, this.balls]) view.refit();
      this.draw();
    });
    this.button.addEventListener("click", () => (this.playing ? this.pause() : this.play()));
    this.scrub.addEventListener("input", () => {
      this.pause();
      this.at(Number(this.scrub.value));
    });
    const sight = byID<HTMLSelectElement>("sight");
    sight.addEventListener("change", () => {
      this.sight = sight.value as Sight;
      this.drawMoving();
    });
  }

  /** Shows shots: at the end, or where the scene before was while it is not at its end. */
  show(shots: Shots): void {
    const before = this.scene;
    const scene = sceneOf(shots);
    if (before && before.time < before.end) scene.time = Math.min(before.time, scene.end);
    this.scene = scene;
    this.scrub.max = scene.end.toFixed(3);
    byID("stage").classList.remove("stale");
    byID("nopicture").hidden = true;
    this.describe();
    this.draw();
    this.showTime();
  }

  /** Greys the picture: it does not belong to the present inputs. */
  stale(message: string, back?: () => void): void {
    this.pause();
    byID("stage").classList.add("stale");
    const note = byID("nopicture");
    note.hidden = false;
    note.replaceChildren(h("p", {}, message), ...(back ? [h("button", { type: "button", click: back }, "Undo the last change")] : []));
  }

  play(): void {
    const scene = this.scene;
    if (!scene) return;
    if (scene.time >= scene.end) scene.time = 0;
    this.lastFrame = 0;
    this.playing = requestAnimationFrame((now) => this.frame(now));
    this.button.setAttribute("aria-label", "Pause");
    this.button.classList.add("playing");
  }

  pause(): void {
    if (!this.playing) return;
    cancelAnimationFrame(this.playing);
    this.playing = 0;
    this.button.setAttribute("aria-label", "Play");
    this.button.classList.remove("playing");
    this.drawMoving();
  }

  private frame(now: number): void {
    const scene = this.scene;
    if (!scene) return;
    const seconds = this.lastFrame ? (now - this.lastFrame) / 1000 : 0;
    this.lastFrame = now;
    scene.time = Math.min(scene.end, scene.time + seconds * Number(this.pace.value));
    this.drawMoving();
    this.showTime();
    if (scene.time >= scene.end) this.pause();
    else this.playing = requestAnimationFrame((next) => this.frame(next));
  }

  private at(time: number): void {
    if (!this.scene) return;
    this.scene.time = Math.min(time, this.scene.end);
    this.drawMoving();
    this.showTime();
  }

  private showTime(): void {
    const scene = this.scene!;
    this.scrub.value = String(scene.time);
    const words = `${scene.time.toFixed(2)} s`;
    write(this.clock, words);
    this.scrub.setAttribute("aria-valuetext", words);
  }

  draw(): void {
    const scene = this.scene;
    if (!scene) return;
    const of = theme();
    this.lane.drawStill((c, size) => drawLane(c, size, scene, of));
    this.inset.drawStill((c, size) => drawInset(c, size, scene, of));
    this.drawMoving();
  }

  private drawMoving(): void {
    const scene = this.scene;
    if (!scene) return;
    const of = theme();
    this.lane.drawMoving((c, size) => drawLaneBalls(c, size, scene, of));
    this.inset.drawMoving((c, size) => drawInsetBalls(c, size, scene, of));
    this.balls.drawMoving((c, size) => drawBalls(c, size, scene, this.sight, of, this.playing !== 0, narrow.matches));
  }

  /** Describes the pictures in words, for screen readers. */
  private describe(): void {
    const { shots } = this.scene!.shots;
    const words = shots.map((shot, i) => `Shot ${"AB"[i]}, ${shot.ball}: ${shot.line}; ${shot.events.map((e) => e.text).join("; ") || shot.status}.`);
    byID("lane").setAttribute("aria-label", `Lane from the foul line to the pins, with oil and both paths. ${words.join(" ")}`);
    byID("inset").setAttribute("aria-label", `The last 20 ft with stretched boards. ${shots.map((s, i) => `${"AB"[i]} ${s.events.at(-1)?.text ?? s.status}${s.hit ? `, ${s.hit}` : ""}`).join("; ")}.`);
    byID("balls").setAttribute("aria-label", `Both balls in their present orientation, with pin, PAP, holes and track. ${shots.map((s, i) => `${"AB"[i]} ${s.ball}`).join(", ")}.`);
  }
}
