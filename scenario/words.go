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

// spelled lists words of a type of their own.
func spelled[T ~string](list []T) []string {
	return input.Each(list, func(v T) string { return string(v) })
}
