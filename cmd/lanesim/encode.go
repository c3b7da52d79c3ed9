package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"reflect"
	"strings"
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

// encodeThrow prints shots as JSON: a line for each part of a shot and for each
// of its states, so that two results can be compared line by line.
func encodeThrow(warnings []string, shots []thrown) ([]byte, error) {
	var b bytes.Buffer
	put := func(before string, v any) error {
		text, err := encodeJSON(v)
		b.WriteString(before)
		b.Write(text)
		return err
	}
	if warnings == nil {
		warnings = []string{}
	}
	if err := put(`{"model":`, model); err != nil {
		return nil, err
	}
	if err := put(",\n\"warnings\":", warnings); err != nil {
		return nil, err
	}
	b.WriteString(",\n\"shots\":[")
	for i, t := range shots {
		if i > 0 {
			b.WriteString(",")
		}
		v := reflect.ValueOf(recordShot(t))
		for k := range v.NumField() {
			before := ",\n"
			if k == 0 {
				before = "\n{"
			}
			key := before + `"` + v.Type().Field(k).Tag.Get("json") + `":`
			states, long := v.Field(k).Interface().([]stateRecord)
			if !long {
				if err := put(key, v.Field(k).Interface()); err != nil {
					return nil, err
				}
				continue
			}
			b.WriteString(key + "[")
			separator := "\n"
			for _, s := range states {
				if err := put(separator, s); err != nil {
					return nil, err
				}
				separator = ",\n"
			}
			b.WriteString("]")
		}
		b.WriteString("}")
	}
	b.WriteString("]}\n")
	return b.Bytes(), nil
}

// pathColumns names the columns of a path in CSV.
func pathColumns() []string {
	columns := []string{"lane", "ball", "bowler"}
	t := reflect.TypeFor[stateRecord]()
	for k := range t.NumField() {
		name, parts := t.Field(k).Tag.Get("json"), t.Field(k).Tag.Get("parts")
		if parts == "" {
			columns = append(columns, name)
			continue
		}
		for part := range strings.SplitSeq(parts, ",") {
			columns = append(columns, name+"_"+part)
		}
	}
	return columns
}

// encodePaths prints the shots' paths as CSV, a row for each point. What does
// not exist is an empty cell.
func encodePaths(shots []thrown) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write(pathColumns()); err != nil {
		return nil, err
	}
	cell := func(v reflect.Value) string { return csvCell(v.Interface().(number)) }
	for _, t := range shots {
		for _, s := range t.shot.Path {
			row := []string{t.lane, t.ball, t.bowler}
			v := reflect.ValueOf(recordState(s))
			for k := range v.NumField() {
				f := v.Field(k)
				if f.Kind() != reflect.Array {
					row = append(row, cell(f))
					continue
				}
				for i := range f.Len() {
					row = append(row, cell(f.Index(i)))
				}
			}
			if err := w.Write(row); err != nil {
				return nil, err
			}
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// csvCell prints a number for CSV: what does not exist is an empty cell.
func csvCell(n number) string {
	if !n.finite() {
		return ""
	}
	text, _ := n.MarshalJSON() // of a finite number, which has no error
	return string(text)
}
