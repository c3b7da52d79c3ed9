package scenario

import (
	"path"
	"regexp"
	"strconv"
	"strings"
)

// yamlLine finds the line in an error of the YAML reader.
var yamlLine = regexp.MustCompile(`^line (\d+): `)

// parserMessages matches the errors of the YAML reader that count lines from 0.
var parserMessages = regexp.MustCompile(`^did not find expected (key|node content|'-' indicator|',' or '[\]}]'|<)`)

// syntax adds an error of the YAML reader with its place, of which the reader gives at best
// the line.
func (p *problems) syntax(err error, start place) {
	if strings.EqualFold(path.Ext(start.source.name), ".json") && p.jsonSyntax(start.source) {
		return
	}
	message := strings.TrimPrefix(err.Error(), "yaml: ")
	line := 1
	if m := yamlLine.FindStringSubmatch(message); m != nil {
		line, _ = strconv.Atoi(m[1])
		message = message[len(m[0]):]
		if parserMessages.MatchString(message) {
			line++
		}
	}
	src := start.source
	at := start.plus(line, 1)
	at.line = min(at.line, len(src.lines))
	text := []rune(src.lines[at.line-1])
	if line > 1 {
		at.column = 1 + blanks(text)
	}
	hint := ""
	switch {
	case strings.Contains(message, "tab character"), strings.Contains(message, "cannot start any token"):
		if tab, ok := src.tab(at); ok {
			p.add(tab, "", "a tab cannot indent: use spaces", "")
			return
		}
		for i := at.column - 1; i < len(text); i++ {
			if strings.ContainsRune("@`%", text[i]) {
				at.column = i + 1
				hint = "put a text that starts with " + string(text[i]) + " in quotes"
				break
			}
		}
	case strings.HasPrefix(message, "mapping values are not allowed"):
		for i, r := range text {
			if r == ':' && i >= at.column-1 && (i+1 == len(text) || text[i+1] == ' ') {
				at.column = i + 1 // the last one
			}
		}
		hint = "check the indentation, and put a text that holds a colon in quotes"
	}
	p.add(at, "", "this is not YAML: "+message, hint)
}

// blanks counts the spaces that a line starts with.
func blanks(line []rune) int {
	return len(line) - len([]rune(strings.TrimLeft(string(line), " ")))
}

// tab finds the first tab that indents a line, from the line before the given one.
func (s *source) tab(from place) (place, bool) {
	for i := max(from.line-2, 0); i < len(s.lines); i++ {
		indent := s.lines[i][:len(s.lines[i])-len(strings.TrimLeft(s.lines[i], " \t"))]
		if j := strings.Index(indent, "\t"); j >= 0 {
			return place{s, i + 1, j + 1}, true
		}
	}
	return place{}, false
}
