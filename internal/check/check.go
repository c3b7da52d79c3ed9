// Package check collects the faults of a value's fields, so that all are reported at once:
// lanes, balls, releases and racks have a Validate that returns a [units.FieldError] for
// each fault, joined.
package check

import (
	"errors"

	"lanesim/units"
)

// Fields collects the faults of the fields of a package's values.
type Fields struct {
	of   string
	list []error
}

// Of returns a collection for a package.
func Of(name string) Fields { return Fields{of: name} }

// That records a fault of a field unless ok. It allocates only for a fault.
func (f *Fields) That(ok bool, field string, value float64, rule string) {
	if !ok {
		f.Refuse(field, value, rule)
	}
}

// Refuse records that a field's value breaks a rule.
func (f *Fields) Refuse(field string, value any, rule string) {
	f.list = append(f.list, &units.FieldError{Package: f.of, Field: field, Value: value, Rule: rule})
}

// Add records another fault; nil is none.
func (f *Fields) Add(err error) {
	if err != nil {
		f.list = append(f.list, err)
	}
}

// Err is nil or all faults, joined.
func (f *Fields) Err() error { return errors.Join(f.list...) }
