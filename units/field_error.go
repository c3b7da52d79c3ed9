package units

import "fmt"

// FieldError reports a field whose value allows no computation. Validate of lanes,
// balls, releases and racks returns one for each fault, joined.
type FieldError struct {
	Package string // of the value's type: "lane"
	Field   string // "Friction.Film"
	Value   any
	Rule    string // "must lie between 0 and 2"
}

func (e *FieldError) Error() string {
	return fmt.Sprintf("%s: %s is %v: it %s", e.Package, e.Field, e.Value, e.Rule)
}
