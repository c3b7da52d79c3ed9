package report

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
)

// Model is the version of the format and of the physics.
const Model = 1

// Object is a JSON object whose members keep their order. Numbers that are not finite and nil objects are
// null.
type Object []Member

// Member is a key with its value: an Object, a Page, a List, Lines, numbers, or any value that encoding/json
// accepts.
type Member struct {
	Key   string
	Value any
}

// ObjectOf returns an object of keys, each followed by its value. The members of objects among the parts are
// added.
func ObjectOf(parts ...any) Object {
	o := make(Object, 0, len(parts)/2)
	for len(parts) > 0 {
		if members, object := parts[0].(Object); object {
			o, parts = append(o, members...), parts[1:]
		} else {
			o, parts = append(o, Member{parts[0].(string), parts[1]}), parts[2:]
		}
	}
	return o
}

// With returns the object with more keys, each followed by its value.
func (o Object) With(keysAndValues ...any) Object { return append(o, ObjectOf(keysAndValues...)...) }

// Other types of JSON values, with defined line breaks, so that results can be compared line by line.
type (
	Page  Object // an object with a line for each member
	List  []any  // an array on one line
	Lines []any  // an array with a line for each element
)

// Each returns the list of the objects of elements.
func Each[T any](list []T, of func(T) Object) List {
	made := make(List, len(list))
	for i, v := range list {
		made[i] = of(v)
	}
	return made
}

// JSON returns a value as JSON without a line end.
func JSON(v any) ([]byte, error) { return appendJSON(nil, v) }

// WriteJSON writes a value and a line end.
func WriteJSON(to io.Writer, v any) error {
	b, err := appendJSON(nil, v)
	if err != nil {
		return err
	}
	_, err = to.Write(append(b, '\n'))
	return err
}

// WriteResult writes a result with a line for each member, after the version of the model and the warnings.
func WriteResult(to io.Writer, warnings []string, members ...Member) error {
	return WriteJSON(to, append(Page{{"model", Model}, {"warnings", Texts(warnings)}}, members...))
}

// Texts returns a list that is never nil, so that JSON has an empty array rather than null.
func Texts(list []string) []string { return append([]string{}, list...) }

func appendJSON(b []byte, v any) ([]byte, error) {
	switch v := v.(type) {
	case Object:
		return appendMembers(b, v, ",")
	case Page:
		return appendMembers(b, v, ",\n")
	case List:
		return appendElements(b, v, "")
	case Lines:
		return appendElements(b, v, "\n")
	case []Object:
		return appendElements(b, v, "")
	case []float64:
		return appendElements(b, v, "")
	case [][]float64:
		return appendElements(b, v, "")
	case string:
		if plain(v) {
			return append(append(append(b, '"'), v...), '"'), nil
		}
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return append(b, "null"...), nil
		}
		return appendExact(b, v), nil
	}
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false) // results are not embedded in web pages
	err := e.Encode(v)
	return append(b, bytes.TrimRight(text.Bytes(), "\n")...), err
}

// plain reports whether a text needs no escapes in JSON.
func plain(text string) bool {
	for i := range len(text) {
		if c := text[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return false
		}
	}
	return true
}

func appendMembers[M ~[]Member](b []byte, members M, separator string) ([]byte, error) {
	if members == nil {
		return append(b, "null"...), nil
	}
	b = append(b, '{')
	for i, m := range members {
		if i > 0 {
			b = append(b, separator...)
		}
		var err error
		if b, err = appendJSON(b, m.Key); err != nil {
			return b, err
		}
		if b, err = appendJSON(append(b, ':'), m.Value); err != nil {
			return b, err
		}
	}
	return append(b, '}'), nil
}

func appendElements[T any](b []byte, list []T, before string) ([]byte, error) {
	b = append(b, '[')
	for i, v := range list {
		if i > 0 {
			b = append(b, ',')
		}
		var err error
		if b, err = appendJSON(append(b, before...), v); err != nil {
			return b, err
		}
	}
	return append(b, ']'), nil
}
