package input

import "fmt"

// Error is an error in the input of a program; other errors are failures of a run.
type Error struct{ error }

// Unwrap returns the cause.
func (e Error) Unwrap() error { return e.error }

// Wrong returns an [Error] with a text formatted as by [fmt.Errorf].
func Wrong(format string, values ...any) error { return Error{fmt.Errorf(format, values...)} }

// AsWrong wraps an error as an [Error]; nil stays nil.
func AsWrong(err error) error {
	if err == nil {
		return nil
	}
	return Error{err}
}
