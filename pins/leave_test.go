package pins

import (
	"strings"
	"testing"
)

// Every pair of pins without the head pin: the splits among them are listed.
func TestSplitsOfTwo(t *testing.T) {
	splits := map[string]bool{}
	for _, s := range strings.Fields("2-3 2-6 2-7 2-9 2-10 3-4 3-7 3-8 3-10 4-5 4-6 4-9 4-10 5-6 5-7 5-10 6-7 6-8 7-8 7-9 7-10 8-9 8-10 9-10") {
		splits[s] = true
	}
	for a := 2; a <= Count; a++ {
		for b := a + 1; b <= Count; b++ {
			l := Pins(a, b)
			if l.Split() != splits[l.String()] {
				t.Errorf("%v: split %v", l, l.Split())
			}
			if Pins(1, a, b).Split() {
				t.Errorf("%v with the head pin is a split", Pins(1, a, b))
			}
		}
	}
}

func TestSplitsOfMore(t *testing.T) {
	for text, split := range map[string]bool{
		"4-6-7-10": true, "4-7-10": true, "6-7-10": true, "3-6-7-10": true, "5-7-10": true, "4-6-7-8-10": true, "3-4-6-7-10": true,
		"4-5-7": true, "5-8-10": true, "6-7-9-10": true, "3-9-10": true, "2-4-8-10": true,
		"3-6-10": false, "2-4-7": false, "2-4-5-8": false, "3-5-6-9": false, "2-4-5": false, "3-5-6": false, "3-5-9": false, "6-9-10": false,
		"2-4-7-8": false, "5-8-9": false, "2-3-5": true, "7": false, "10": false, "1-2-10": false,
	} {
		l, err := ParseLeave(text)
		if err != nil || l.Split() != split || l.Mirror().Split() != split || l.Mirror().Mirror() != l || l.String() != text {
			t.Errorf("%s: %v, split %v, mirrored %v %v, %v", text, l, l.Split(), l.Mirror(), l.Mirror().Split(), err)
		}
	}
	if All.Split() || Leave(0).Split() || All.Mirror() != All || All.Len() != Count {
		t.Error("the full rack")
	}
}

func TestParseLeave(t *testing.T) {
	for text, want := range map[string]string{
		"3-6-11": "no pin 11", "0": "no pin 0", "3-6-3": "pin 3 is written twice", "three": `"three"`, "": `""`, "3--6": "not a number",
	} {
		if _, err := ParseLeave(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
	if l, err := ParseLeave("10-3 - 6"); err != nil || l != Pins(3, 6, 10) || l.String() != "3-6-10" {
		t.Errorf("%v, %v", l, err)
	}
	if Pins(7, 10).Name() != "bedposts" || Pins(2, 6).Name() != "" {
		t.Error("names of leaves")
	}
}

// The mirror image of a leave with a name has the same name, or is the leave itself.
func TestNamesMirror(t *testing.T) {
	for l, name := range names {
		if l == Pins(10) || l == Pins(7) {
			continue
		}
		if l.Mirror().Name() != name {
			t.Errorf("%v is a %s, %v is %q", l, name, l.Mirror(), l.Mirror().Name())
		}
	}
}
