package scenario

import (
	"fmt"
	"strings"

	"lanesim/report/thrown"
)

// SweepReference returns a page in Markdown that lists every field of a sweep
// file and every column that a sweep can have.
func SweepReference() string {
	r := &page{seen: map[*shape]bool{scenarioStandIn: true, varyStandIn: true}}
	r.WriteString("# Fields of a sweep file\n\n")
	r.mapping("Sweep", "", sweepShape)
	r.mapping("`vary`: a range", "", rangeShape(anyNumber))
	r.mapping("`want`, in a file for seek", wantKey, wantShape)
	r.WriteString("## Columns of a sweep\n\n| column | meaning | unit |\n| --- | --- | --- |\n")
	for _, c := range thrown.ShotColumns() {
		fmt.Fprintf(r, "| `%s` | %s | %s |\n", c.Key, c.Meaning, c.Unit.Name)
	}
	return strings.TrimRight(r.String(), "\n") + "\n"
}
