// The page.

import { Engine } from "./engine";

const engine = Engine.start();
const ready = await0();
async function await0(): Promise<void> {
  const hello = await engine.hello();
  if (hello.is !== "ready") return;
  const shots = await engine.throw(hello.state, true);
  document.getElementById("page")!.textContent = shots.is === "shots" ? shots.rows.map((r) => `${r.label}: ${r.a} ${r.b} ${r.change}`).join("; ") : JSON.stringify(shots);
}
void ready;
