package scenario

import (
	"fmt"
	"strings"
)

// BowlerBlock writes the bowler for a scenario, with what stands on no
// measurement in comments above it.
func BowlerBlock(all map[string]string, b Bowler) []byte {
	var text strings.Builder
	groups := map[string][]string{}
	var order []string
	for _, key := range []string{"hand", "pap", "speed", "rev_rate", "axis_rotation", "axis_tilt", "phase", "laydown", "laydown_distance", "angle"} {
		source, taken := all[key]
		if key == "angle" && b.AimAtPocket {
			key, source = "aim", "no line is known: it aims at the pocket"
		}
		if !taken {
			continue
		}
		if groups[source] == nil {
			order = append(order, source)
		}
		groups[source] = append(groups[source], key)
	}
	text.WriteString("# For a scenario. Measured but for these:\n")
	for _, source := range order {
		fmt.Fprintf(&text, "#   %s: %s\n", strings.Join(groups[source], ", "), source)
	}
	text.Write(BowlerYAML(b))
	return []byte(text.String())
}
