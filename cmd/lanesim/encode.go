package main

import (
	"bytes"
	"encoding/json"
)

// encodeJSON prints a value as JSON on one line without a line end. Letters
// that matter only inside web pages stay as they are.
func encodeJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimRight(b.Bytes(), "\n"), nil
}

// csvCell prints a number for CSV: what does not exist is an empty cell.
func csvCell(n number) string {
	if !n.finite() {
		return ""
	}
	text, _ := n.MarshalJSON() // of a finite number, which has no error
	return string(text)
}
