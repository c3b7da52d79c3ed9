package units

import "fmt"

// FieldError says that a field has a value with which nothing can be computed. Validate
// of lanes, balls, releases and racks returns one for each fault, joined.
type FieldError struct {
	Package string // that of the value: "lane"
	Field   string // "Friction.Film"
	Value   any
	Rule    string // "must lie between 0 and 2"
}

func (e *FieldError) Error() string {
	return fmt.Sprintf("%s: %s is %v: it %s", e.Package, e.Field, e.Value, e.Rule)
}
