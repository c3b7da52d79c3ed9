package scenario

import (
	"strings"

	"lanesim/internal/input"
)

// either lists words as "a, b or c".
func either(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	}
	return strings.Join(words, "")
}

// spelled converts words of a string type to strings.
func spelled[T ~string](list []T) []string {
	return input.Each(list, func(v T) string { return string(v) })
}
