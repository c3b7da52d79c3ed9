package scenario

import (
	"encoding/json"
	"fmt"
	"regexp"
	"strings"
	"testing"
)

// eachField calls f for every field of a shape and of the shapes in it.
func eachField(s *shape, f func(*field)) {
	if s.items != nil {
		eachField(s.items, f)
	}
	for i := range s.forms {
		for j := range s.forms[i].fields {
			g := &s.forms[i].fields[j]
			f(g)
			eachField(g.shape, f)
		}
	}
}

// Every default and every limit can be read, and every field has a meaning.
func TestTheFieldsAreInOrder(t *testing.T) {
	n := 0
	eachField(scenarioShape, func(f *field) {
		n++
		if f.fallback != "" {
			(&decoder{}).fallback(f, f.key) // panics if it cannot be read
		}
		if num := f.shape.number; num != nil {
			for _, b := range []bound{num.least, num.most} {
				if b.text != "" {
					num.must(b.text)
				}
			}
			if f.listed != nil {
				for _, text := range []string{f.listed.least, f.listed.most} {
					if text != "" {
						num.must(text)
					}
				}
			}
		}
		if f.fallback == "" && !f.required && f.note == "" && f.key != "lane" {
			t.Errorf("%s: what if it is absent?", f.key)
		}
		if f.meaning == "" || strings.HasSuffix(f.meaning, ".") {
			t.Errorf("%s means %q", f.key, f.meaning)
		}
	})
	for _, l := range levels {
		(&reader{}).repeatability(&value{word: l.name, path: "repeatability"})
	}
	if n < 60 {
		t.Errorf("only %d fields", n)
	}
}

// The schema is JSON, names every key, and states the defaults.
func TestSchema(t *testing.T) {
	text := Schema()
	var schema map[string]any
	if err := json.Unmarshal(text, &schema); err != nil {
		t.Fatal(err)
	}
	if schema["$schema"] != "https://json-schema.org/draft/2020-12/schema" || schema["type"] != "object" {
		t.Errorf("it starts with %v, %v", schema["$schema"], schema["type"])
	}
	keys, descriptions := map[string]bool{}, []string{}
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, item := range v {
				walk(item)
			}
		case map[string]any:
			if p, ok := v["properties"].(map[string]any); ok {
				for key := range p {
					keys[key] = true
				}
			}
			if d, ok := v["description"].(string); ok {
				descriptions = append(descriptions, d)
			}
			if p, ok := v["pattern"].(string); ok {
				if _, err := regexp.Compile(p); err != nil {
					t.Error(err)
				}
			}
			for _, item := range v {
				walk(item)
			}
		}
	}
	walk(schema)
	all := strings.Join(descriptions, "\n")
	eachField(scenarioShape, func(f *field) {
		if !keys[f.key] {
			t.Errorf("the schema lacks %s", f.key)
		}
		if f.assumed && !strings.Contains(all, f.meaning+". Default "+f.fallback+", assumed.") {
			t.Errorf("the schema does not say that %s = %s is assumed", f.key, f.fallback)
		}
	})
}

// Quantities of the valid files match the schema's patterns.
func TestSchemaPatternsTakeQuantities(t *testing.T) {
	for _, c := range []struct {
		s    *shape
		text string
		ok   bool
	}{
		{anyLength, "4 1/2 in", true}, {anyLength, "½ in", true}, {anyLength, "2.5e-7 m", true}, {anyLength, "−3 mm", true}, {anyLength, "25 µin", true},
		{anyLength, "4 1/2", false}, {anyLength, "4 lb", false}, {anyLength, "in", false}, {anyAngle, "60°", true}, {launchAngle, "2 deg", true},
	} {
		pattern := ""
		for _, m := range c.s.schema() {
			if m.Key == "pattern" {
				pattern = fmt.Sprint(m.Value)
			}
		}
		if got := regexp.MustCompile(pattern).MatchString(c.text); got != c.ok {
			t.Errorf("%q matches %s: %v", c.text, pattern, got)
		}
	}
}

// The reference names every key with its meaning and its default.
func TestReference(t *testing.T) {
	page := Reference()
	eachField(scenarioShape, func(f *field) {
		row := "| `" + f.key + "` | " + f.meaning + " |"
		_, rest, found := strings.Cut(page, row)
		if !found {
			t.Errorf("the reference lacks %s", row)
			return
		}
		line, _, _ := strings.Cut(rest, "\n")
		if f.assumed && !strings.Contains(line, "assumed") {
			t.Errorf("the reference does not say that %s is assumed: %s", f.key, line)
		}
		if f.fallback != "" && f.fallback != "{}" && !strings.Contains(line, "`"+f.fallback+"`") {
			t.Errorf("the reference lacks the default of %s: %s", f.key, line)
		}
	})
	if strings.Contains(strings.ToLower(page), "legal") {
		t.Error("the reference judges what is legal")
	}
	for i, line := range strings.Split(page, "\n") {
		if strings.HasPrefix(line, "| `") && strings.Count(line, " | ") != strings.Count(line, "|")-2 {
			t.Errorf("line %d: a cell holds a bar: %s", i+1, line)
		}
	}
}
