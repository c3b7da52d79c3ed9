// Racks hit by both shots: the shares of their leaves, and one rack in motion.

import type { App } from "./app";
import { bar } from "./charts";
import { h, list } from "./dom";
import { Deck } from "./deck";
import { letters } from "./theme";
import type { Racks } from "./protocol/studies";
import { choices, study } from "./study";

export function falls(app: App): HTMLElement {
  const count = choices("racks-count", [["50", "50"], ["200", "200"], ["1000", "1,000"]], "200");
  return study<Racks>(app, {
    id: "racks", is: "racks", title: "What falls?", button: "Hit the pins", about: "Both shots hit many racks, whose pins stand and bounce a little differently each time.",
    choices: [{ label: "Racks", select: count }],
    ask: (state) => ({ do: "racks", state, racks: Number(count.value), seed: 1 }),
    show: (r) => {
      const reached = r.balls.filter((b) => b.strike);
      const decks = r.balls.map((b, i) => ({ b, letter: letters[i]! })).filter(({ b }) => b.fall).map(({ b, letter }) => {
        const deck = new Deck(b.fall!, `${letter} ${b.name}: ${b.fall!.leave ? `leaves ${b.fall!.leave}` : "strike"}`, app.shots?.shots[0].radius ?? 0.109);
        return deck;
      });
      const all = () => decks.forEach((deck) => deck.play());
      return [
        h("h4", {}, "strikes"),
        ...r.balls.map((b, i) => (b.strike ? bar(letters[i]!, b.strike, `${b.strike.text} strikes`) : h("p", {}, `${letters[i]} ${b.name} does not reach the pins.`))),
        reached.length > 0 ? h("p", {}, r.balls.map((b, i) => (b.pinsDown === null ? "" : `${letters[i]} knocks down ${b.pinsDown.toFixed(2)} pins a rack`)).filter(Boolean).join("; "), ".") : null,
        decks.length > 0 ? h("div", { class: "buttons" }, h("button", { type: "button", id: "play-fall", click: all }, "Play the commonest rack, slowly")) : null,
        h("div", { class: "deck" }, ...decks.map((deck) => deck.figure)),
        ...r.balls.flatMap((b, i) => (b.leaves.length > 0 ? [h("h4", {}, `${letters[i]} leaves`), list(b.leaves.map((l) => `${l.pins}: ${l.text}`))] : [])),
        h("details", { class: "more" }, h("summary", {}, "What is assumed about the pins"), list(r.assumed)),
      ];
    },
  });
}
