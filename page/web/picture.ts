// A picture of the moment on the stage, to save or send.

import { drawBalls } from "./ball";
import { text, type Context } from "./drawing";
import { drawInset, drawInsetBalls } from "./inset";
import { drawLane, drawLaneBalls } from "./lane";
import type { Stage } from "./stage";
import { light } from "./theme";

const width = 1000;
const height = 720;
const scale = 2;

/** Draws lane, last 20 ft, balls and the first numbers of the present shots; null without any. */
export function picture(stage: Stage): Promise<Blob | null> {
  const scene = stage.scene;
  if (!scene) return Promise.resolve(null);
  const canvas = document.createElement("canvas");
  canvas.width = width * scale;
  canvas.height = height * scale;
  const c = canvas.getContext("2d")!;
  c.scale(scale, scale);
  c.fillStyle = light.paper;
  c.fillRect(0, 0, width, height);
  const { shots } = scene;
  const [a, b] = shots.shots;
  text(c, shots.title, 20, 32, { size: 20, bold: true, colour: light.ink });
  text(c, `A ${a.ball} (full line), B ${b.ball} (dashed): ${a.line === b.line ? a.line : `A ${a.line}; B ${b.line}`}. Across, the lane is stretched.`, 20, 54, { size: 13, colour: light.soft });
  at(c, 16, 66, () => {
    const size = { width: width - 32, height: 230 };
    drawLane(c, size, scene, light);
    if (scene.time < scene.end) drawLaneBalls(c, size, scene, light);
  });
  at(c, 16, 306, () => {
    const size = { width: 520, height: 230 };
    drawInset(c, size, scene, light);
    if (scene.time < scene.end) drawInsetBalls(c, size, scene, light);
  });
  at(c, 560, 306, () => drawBalls(c, { width: 420, height: 216 }, scene, stage.sight, light, false));
  const rows = shots.rows.filter((r) => r.first);
  const column = (width - 40) / rows.length;
  rows.forEach((row, i) => {
    const x = 20 + i * column;
    wrapped(c, row.unit ? `${row.label}, ${row.unit}` : row.label, x, 572, column - 8);
    const line = (words: string, letter: string, y: number) => {
      text(c, letter, x, y, { size: 13, bold: true, colour: light.ink });
      text(c, words || "–", x + 47, y, { size: 14, colour: light.ink });
    };
    line(row.a, "A", 618);
    line(row.b, "B", 642);
    line(row.change, "B − A", 666);
  });
  text(c, `At ${scene.time.toFixed(2)} s. Computed by lanesim; some values are assumed.`, 20, height - 16, { size: 12, colour: light.soft });
  return new Promise((resolve) => canvas.toBlob(resolve, "image/png"));
}

function at(c: Context, x: number, y: number, draw: () => void): void {
  c.save();
  c.translate(x, y);
  draw();
  c.restore();
}

function wrapped(c: Context, words: string, x: number, y: number, room: number): void {
  c.font = "13px system-ui, sans-serif";
  let line = "";
  let down = y;
  for (const word of words.split(" ")) {
    const longer = line ? `${line} ${word}` : word;
    if (line && c.measureText(longer).width > room) {
      text(c, line, x, down, { size: 13, colour: light.soft });
      down += 16;
      line = word;
    } else line = longer;
  }
  text(c, line, x, down, { size: 13, colour: light.soft });
}
