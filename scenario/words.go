package scenario

import "strings"

// either lists words as "a, b or c".
func either(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	}
	return strings.Join(words, "")
}

// texts lists a text of each element.
func texts[T any, S ~string](list []T, of func(T) S) []S {
	all := make([]S, len(list))
	for i, v := range list {
		all[i] = of(v)
	}
	return all
}

// spelled lists words of a type of their own.
func spelled[T ~string](list []T) []string { return texts(list, func(v T) string { return string(v) }) }
