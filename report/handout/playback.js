"use strict";
(() => {
  const source = document.getElementById("paths");
  if (!source) return;
  const data = JSON.parse(source.textContent);
  // Each path becomes lists of times, distances, lateral places, boards and speeds.
  const numbers = (lists, scale) => lists && lists.map((text, k) => {
    let sum = 0;
    return text.split(" ").map((d) => (sum += Number(d)) * scale[k]);
  });
  const balls = data.paths.map((lists) => numbers(lists, data.scale));
  const length = Math.max(...balls.map((b) => b[0][b[0].length - 1]));
  const figure = document.getElementById("playback");
  const play = document.getElementById("play"), slider = document.getElementById("time");
  const clock = document.getElementById("clock"), rate = document.getElementById("rate");
  const rows = document.querySelectorAll("#where tbody tr");
  slider.max = length; // the times of the data are rounded
  const ended = [...rows].map((r) => r.lastElementChild.textContent);

  const make = (name, parent, attributes) => {
    const e = document.createElementNS(parent.namespaceURI, name);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
    return parent.appendChild(e);
  };
  const stages = [["wide", 80], ["narrow", 80]].map(([name, radius]) => {
    const svg = figure.querySelector("." + name + " svg");
    const marks = balls.map((_, i) => {
      const g = make("g", svg, {});
      make("circle", g, { r: radius, fill: data.colors[i], stroke: "#fff", "stroke-width": 16 });
      make("text", g, { y: 36, "font-size": 100, "font-weight": "bold", fill: "#fff", "text-anchor": "middle" }).textContent = i + 1;
      return g;
    });
    return { at: data[name], marks };
  });

  // Balls that turn, seen from behind and above, with their tracks: faint what is still to come.
  const place = figure.querySelector(".balls");
  const up = [0.34, 0, 0.94], right = [0, -1, 0], toward = [-0.94, 0, 0.34];
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  const namespace = stages[0].marks[0].namespaceURI;
  const turning = balls.map((_, i) => {
    const turns = numbers(data.turns[i], [1e-3, 1e-3, 1e-3, 1e-3]), track = numbers(data.tracks[i], [1e-3, 1e-3, 1e-3, 1e-3]);
    if (!turns) return null;
    const svg = place.appendChild(document.createElementNS(namespace, "svg"));
    svg.setAttribute("viewBox", "-110 -110 220 220");
    make("circle", svg, { r: 100, fill: "#8882", stroke: "currentColor", "stroke-opacity": 0.5 });
    const line = (opacity) => make("path", svg, { fill: "none", stroke: data.colors[i], "stroke-width": 3, "stroke-opacity": opacity, "stroke-linejoin": "round" });
    const number = make("text", svg, { x: -98, y: -82, "font-size": 26, fill: "currentColor", "font-weight": "bold" });
    number.textContent = i + 1;
    return { turns, track, later: line(0.25), laid: line(1) };
  });
  const turn = (t) => turning.forEach((b, i) => {
    if (!b) return;
    let [w, x, y, z] = at([balls[i][0], ...b.turns], t).slice(1);
    const size = Math.hypot(w, x, y, z);
    [w, x, y, z] = [w / size, x / size, y / size, z / size];
    const rows = [[1 - 2 * (y * y + z * z), 2 * (x * y - w * z), 2 * (x * z + w * y)], [2 * (x * y + w * z), 1 - 2 * (x * x + z * z), 2 * (y * z - w * x)], [2 * (x * z - w * y), 2 * (y * z + w * x), 1 - 2 * (x * x + y * y)]];
    const paths = ["", ""], seen = [false, false];
    b.track[0].forEach((time, k) => {
      const body = [b.track[1][k], b.track[2][k], b.track[3][k]], point = rows.map((row) => dot(row, body));
      const which = time <= t ? 1 : 0;
      if (dot(point, toward) > 0) paths[which] += (seen[which] ? "L" : "M") + (100 * dot(point, right)).toFixed(1) + " " + (-100 * dot(point, up)).toFixed(1);
      seen[which] = dot(point, toward) > 0;
    });
    b.later.setAttribute("d", paths[0]);
    b.laid.setAttribute("d", paths[1]);
  });
  if (place) place.hidden = false;

  // What a path is at a time, along the straight lines between its states.
  const at = (b, t) => {
    const times = b[0], last = times.length - 1;
    let high = times.findIndex((v) => v >= t);
    if (high < 0) high = last;
    const low = Math.max(0, high - 1);
    const share = high === low ? 0 : Math.min(1, (t - times[low]) / (times[high] - times[low]));
    return b.map((list) => list[low] + share * (list[high] - list[low]));
  };
  const foot = 0.3048;
  const fixed = (v) => v.toFixed(1).replace("-", "−");
  let now = length;
  const show = () => {
    slider.value = now;
    clock.textContent = now.toFixed(2) + " s";
    slider.setAttribute("aria-valuetext", now.toFixed(2) + " seconds");
    balls.forEach((b, i) => {
      const [, distance, lateral, board, speed] = at(b, now);
      for (const { at: [x, perDistance, y, perLateral], marks } of stages) {
        marks[i].setAttribute("transform", `translate(${x + perDistance * distance} ${y + perLateral * lateral})`);
      }
      const cells = rows[i].querySelectorAll("td.number");
      [distance / foot, board, speed].forEach((v, k) => { cells[k].textContent = fixed(v); });
      cells[3].textContent = now < b[0][b[0].length - 1] - 5e-4 ? "" : ended[i];
    });
    turn(now);
  };
  let running = false, before = 0;
  const frame = (stamp) => {
    if (!running) return;
    now = Math.min(length, now + (stamp - before) / 1000 * Number(rate.value));
    before = stamp;
    if (now >= length) stop();
    show();
    if (running) requestAnimationFrame(frame);
  };
  const stop = () => { running = false; play.textContent = "Play"; };
  play.addEventListener("click", () => {
    if (running) return stop();
    if (now >= length) now = 0;
    running = true;
    play.textContent = "Pause";
    before = performance.now();
    requestAnimationFrame(frame);
  });
  slider.addEventListener("input", () => { stop(); now = Number(slider.value); show(); });
  figure.querySelector(".controls").hidden = false;
  show();
})();
