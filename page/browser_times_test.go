//go:build !js

package page_test

import (
	"fmt"
	"os"
	"slices"
	"testing"
	"time"
)

// TestTimes measures, and asserts nothing: LANESIM_PAGE=1 LANESIM_PAGE_TIMES=1 go test
// ./page -run Times -v on a machine that does nothing else. From a movement of the speed's
// slider to the numbers and pictures of both shots on the page, and to the end of the frame
// that shows them, which waits for the display; how often that is the very next frame after a
// movement at the start of one, as a browser passes on a hand's; frames of the animation
// that come late; and how long the first numbers take.
func TestTimes(t *testing.T) {
	if os.Getenv("LANESIM_PAGE_TIMES") == "" {
		t.Skip("LANESIM_PAGE_TIMES=1 measures")
	}
	b := open(t, made(t, ""), 1280, 800)
	began := time.Now()
	b.ready()
	t.Logf("first numbers after %v", time.Since(began).Round(time.Millisecond))
	time.Sleep(3 * time.Second)
	start := standard(t)
	for _, line := range []struct {
		name string
		sets object
	}{{"line given", object{"bowler.target": "{board: 20.25, distance: 15 ft}"}}, {"line found", object{"bowler.axis_tilt": "12 deg"}}} {
		b.follow(with(start, line.sets))
		time.Sleep(3 * time.Second)
		times := eval[[][]float64](b, `(async () => {
			const slider = document.getElementById("both-bowler.speed"), cell = document.querySelector('#numbers tr[data-row="speed_at_pins"], #numbers tr[data-row="pins_speed_mph"]');
			const list = [];
			for (let k = 0; k < 80; k++) {
				const from = performance.now();
				const changed = new Promise((done) => { const o = new MutationObserver(() => { o.disconnect(); done(); }); o.observe(document.getElementById("numbers"), { subtree: true, childList: true, characterData: true }); });
				slider.value = 17 + 0.1 * ((k * 7) % 21);
				slider.dispatchEvent(new Event("input", { bubbles: true }));
				await Promise.race([changed, new Promise((d) => setTimeout(d, 2000))]);
				const numbers = performance.now() - from;
				await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
				const frame = performance.now() - from;
				await new Promise((done) => setTimeout(done, 20 + 16 * Math.random()));
				let seen = false, frames = 0;
				const watch = new MutationObserver(() => (seen = true));
				watch.observe(document.getElementById("numbers"), { subtree: true, childList: true, characterData: true });
				await new Promise(requestAnimationFrame);
				slider.value = 17.05 + 0.1 * ((k * 5) % 21);
				slider.dispatchEvent(new Event("input", { bubbles: true }));
				while (!seen && frames < 100) { await new Promise(requestAnimationFrame); frames++; }
				watch.disconnect();
				list.push([numbers, frame, frames]);
				await new Promise((done) => setTimeout(done, 20));
			}
			return list;
		})()`)
		next := 0
		for _, row := range times[10:] {
			if row[2] == 1 {
				next++
			}
		}
		t.Logf("%s: to the numbers %s, to the frame %s; %d of %d in the very next frame", line.name, quantiles(times[10:], 0), quantiles(times[10:], 1), next, len(times)-10)
	}
	time.Sleep(2 * time.Second)
	frames := eval[[][]float64](b, `(async () => {
		document.getElementById("play").click();
		const list = [];
		let last = await new Promise(requestAnimationFrame);
		for (let k = 0; k < 200; k++) { const now = await new Promise(requestAnimationFrame); list.push([now - last]); last = now; }
		return list;
	})()`)
	late := 0
	for _, f := range frames {
		if f[0] > 25 {
			late++
		}
	}
	t.Logf("animation: a frame in %s, %d of %d later than 25 ms", quantiles(frames, 0), late, len(frames))
}

// quantiles returns the median, the smallest value and the ninth decile of a column, in ms.
func quantiles(rows [][]float64, column int) string {
	var values []float64
	for _, r := range rows {
		values = append(values, r[column])
	}
	slices.Sort(values)
	return fmt.Sprintf("%.1f ms (least %.1f, 90 %%: %.1f)", values[len(values)/2], values[0], values[len(values)*9/10])
}
