package handout

import (
	"bytes"
	"encoding/json"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Inputs are inputs under a heading, in the JSON of a scenario.
type Inputs struct {
	Heading string
	JSON    json.RawMessage // an object
}

// inputs returns a table of inputs with a row for each value; values of an inner object have its name before
// theirs.
func (m *marker) inputs(in Inputs) table {
	t := table{Label: in.Heading, Pair: true}
	rows := group{Columns: 2}
	for _, v := range valuesOf("", in.JSON) {
		rows.Rows = append(rows.Rows, []cell{{Pieces: m.mark(v.name), Scope: "row"}, {Pieces: []piece{{Text: v.text}}}})
	}
	t.Groups = []group{rows}
	return t
}

// named is a value with its name.
type named struct{ name, text string }

// valuesOf returns the values of an object in their order; nil if the JSON is not an object.
func valuesOf(before string, object json.RawMessage) []named {
	d := json.NewDecoder(bytes.NewReader(object))
	d.UseNumber()
	if start, err := d.Token(); err != nil || start != json.Delim('{') {
		return nil
	}
	var list []named
	for d.More() {
		key, err := d.Token()
		var value json.RawMessage
		if err != nil || d.Decode(&value) != nil {
			return list
		}
		name := before + keyWords(fmt.Sprint(key))
		if inner := valuesOf(name+": ", value); inner != nil {
			list = append(list, inner...)
			continue
		}
		list = append(list, named{name, valueText(value)})
	}
	return list
}

// abbreviations are words of keys that are written in capitals.
var abbreviations = map[string]string{"pap": "PAP", "rg": "RG", "val": "VAL", "psa": "PSA"}

// keyWords returns a key as words.
func keyWords(key string) string {
	words := strings.Split(key, "_")
	for i, w := range words {
		if a, ok := abbreviations[w]; ok {
			words[i] = a
		}
	}
	return strings.Join(words, " ")
}

// longNumber matches a number with more digits than are meaningful to people.
var longNumber = regexp.MustCompile(`-?\d+\.\d{5,}(e-?\d+)?`)

// shortened formats a number to six digits.
func shortened(number string) string {
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return number
	}
	return strconv.FormatFloat(v, 'g', 6, 64)
}

// valueText formats a value that is not an object; for long lists only their size.
func valueText(raw json.RawMessage) string {
	d := json.NewDecoder(bytes.NewReader(raw))
	d.UseNumber()
	var v any
	if d.Decode(&v) != nil {
		return ""
	}
	return shown(v)
}

func shown(v any) string {
	const most = 12 // longest list shown in a table
	list, ok := v.([]any)
	switch {
	case !ok && v == nil:
		return ""
	case !ok:
		return signs(longNumber.ReplaceAllStringFunc(fmt.Sprint(v), shortened))
	case len(list) == 0:
		return "none"
	case len(list) > most:
		return fmt.Sprintf("%d values", len(list))
	}
	words := make([]string, len(list))
	for i, e := range list {
		if row, ok := e.([]any); ok && len(row) > most {
			return fmt.Sprintf("%d rows of %d values", len(list), len(row))
		}
		words[i] = shown(e)
	}
	return strings.Join(words, ", ")
}
