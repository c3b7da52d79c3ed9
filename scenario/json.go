package scenario

import (
	"encoding/json"
	"errors"
	"strings"
)

// isJSON reports whether a text is a JSON object or array.
func isJSON(text string) bool {
	text = strings.TrimLeft(strings.TrimPrefix(text, "\ufeff"), " \t\r\n")
	return (strings.HasPrefix(text, "{") || strings.HasPrefix(text, "[")) && json.Valid([]byte(text))
}

// parseJSON turns a JSON text into a tree. YAML reads JSON, too, except for some escapes
// in texts.
func (p *problems) parseJSON(text string, start place) *node {
	text = strings.TrimPrefix(text, "\ufeff")
	d := json.NewDecoder(strings.NewReader(text))
	d.UseNumber()
	j := jsonReader{problems: p, decoder: d, text: text, at: start}
	return j.value(j.next())
}

// jsonReader follows the tokens of a JSON text. The text is known to be valid.
type jsonReader struct {
	*problems
	decoder *json.Decoder
	text    string
	offset  int   // in bytes
	at      place // of the offset
}

// next returns the next token and where it starts.
func (j *jsonReader) next() (json.Token, place) {
	from := int(j.decoder.InputOffset())
	from += len(j.text[from:]) - len(strings.TrimLeft(j.text[from:], " \t\r\n:,"))
	for _, r := range strings.ReplaceAll(j.text[j.offset:from], "\r\n", "\n") {
		if r == '\n' || r == '\r' {
			j.at.line, j.at.column = j.at.line+1, 1
		} else {
			j.at.column++
		}
	}
	j.offset = from
	token, err := j.decoder.Token()
	if err != nil {
		return nil, j.at
	}
	return token, j.at
}

// value reads the value that a token starts.
func (j *jsonReader) value(token json.Token, at place) *node {
	n := &node{kind: scalar, at: at}
	switch t := token.(type) {
	case json.Delim:
		n.kind = sequence
		if t == '{' {
			n.kind = mapping
		}
		first := map[string]place{}
		for j.decoder.More() {
			value, from := j.next()
			if n.kind == sequence {
				n.items = append(n.items, j.value(value, from))
				continue
			}
			key := j.value(value, from)
			j.insert(n, key, j.value(j.next()), first)
		}
		j.next()
	case string:
		n.text = t
	case json.Number:
		n.text = t.String()
	case bool:
		n.text = map[bool]string{true: "true", false: "false"}[t]
	}
	if n.kind == scalar && n.text == "" {
		n.kind = nothing
	}
	return n
}

// jsonSyntax reports whether a text that should be JSON has a syntax error, and adds it
// with its place.
func (p *problems) jsonSyntax(s *source) bool {
	text := strings.Join(s.lines, "\n")
	var any json.RawMessage
	wrong := (*json.SyntaxError)(nil)
	if err := json.Unmarshal([]byte(text), &any); !errors.As(err, &wrong) {
		return false
	}
	// The offset counts the bytes read, the faulty one included.
	before := strings.Split(text[:min(max(int(wrong.Offset)-1, 0), len(text))], "\n")
	at := place{s, len(before), len([]rune(before[len(before)-1])) + 1}
	p.add(at, "", "this is not JSON: "+wrong.Error(), "")
	return true
}
