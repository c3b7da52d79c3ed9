"use strict";
(() => {
  const source = document.getElementById("paths");
  if (!source) return;
  const data = JSON.parse(source.textContent);
  // Each path becomes lists of times, distances, lateral places, boards and speeds.
  const balls = data.paths.map((lists) => lists.map((text, k) => {
    let sum = 0;
    return text.split(" ").map((d) => (sum += Number(d)) * data.scale[k]);
  }));
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
