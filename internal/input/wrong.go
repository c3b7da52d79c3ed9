package input

import "fmt"

// Error is something wrong with what a program was given, where other errors are
// failures of a run.
type Error struct{ error }

// Unwrap returns what is wrong.
func (e Error) Unwrap() error { return e.error }

// Wrong returns an [Error] with a text, as [fmt.Errorf] has it.
func Wrong(format string, values ...any) error { return Error{fmt.Errorf(format, values...)} }

// AsWrong makes an error one of what was given; nil stays nil.
func AsWrong(err error) error {
	if err == nil {
		return nil
	}
	return Error{err}
}
