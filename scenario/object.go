package scenario

import (
	"bytes"
	"encoding/json"
)

// object is a JSON object whose members keep their order.
type object []member

type member struct {
	key   string
	value any
}

// with appends a member.
func (o object) with(key string, value any) object { return append(o, member{key, value}) }

// MarshalJSON writes the members in order.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := marshal(m.key)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		value, err := marshal(m.value)
		if err != nil {
			return nil, err
		}
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// marshal writes a value as JSON, with <, > and & as they are.
func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimRight(b.Bytes(), "\n"), nil
}

// indented writes a value as JSON on many lines.
func indented(v any) []byte {
	text, err := marshal(v)
	if err != nil {
		panic("scenario: " + err.Error()) // only what is made of plain values is written
	}
	var b bytes.Buffer
	if err := json.Indent(&b, text, "", "  "); err != nil {
		panic("scenario: " + err.Error())
	}
	b.WriteByte('\n')
	return b.Bytes()
}
