package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"lanesim/internal/figures"
)

const (
	galleryFile = "../../docs/gallery.md"
	pictures    = "../../examples/pictures"

	// mostPictures limits the size of all pictures together, in bytes.
	mostPictures = 2000e3
)

// shown is an example in the gallery.
type shown struct {
	file, command string // the command without the program's name and without outputs
	picture       string // file name of the picture that the command draws; empty for none
	others        string // further arguments for drawing the picture
	answer        func(found) string
	long          bool // checked only with LANESIM_GALLERY=1
}

// drawn reports whether the picture exists.
func (s shown) drawn() bool {
	_, err := os.Stat(filepath.Join(pictures, s.picture))
	return err == nil
}

// pictures lists the pictures that the command draws. The second one has a 2 in its name.
func (s shown) pictures() []string {
	if s.picture == "" {
		return nil
	}
	ending := filepath.Ext(s.picture)
	second := strings.TrimSuffix(s.picture, ending) + "-2" + ending
	if _, err := os.Stat(filepath.Join(pictures, second)); err != nil {
		return []string{s.picture}
	}
	return []string{s.picture, second}
}

// found is a part of the JSON that a command prints.
type found struct{ v any }

// at follows a path of keys and indices. Keys of sweeps can contain dots.
func (f found) at(path string) found {
	if m, ok := f.v.(map[string]any); ok && m[path] != nil {
		return found{m[path]}
	}
	v := f.v
	for key := range strings.SplitSeq(path, ".") {
		switch w := v.(type) {
		case map[string]any:
			v = w[key]
		case []any:
			i, err := strconv.Atoi(key)
			if err != nil || i >= len(w) {
				return found{}
			}
			v = w[i]
		default:
			return found{}
		}
	}
	return found{v}
}

// number returns the number at a path, NaN if there is none.
func (f found) number(path string) float64 {
	if v, ok := f.at(path).v.(float64); ok {
		return v
	}
	return math.NaN()
}

func (f found) text(path string) string { return fmt.Sprint(f.at(path).v) }

func (f found) list(path string) []found {
	items, _ := f.at(path).v.([]any)
	list := make([]found, len(items))
	for i, v := range items {
		list[i] = found{v}
	}
	return list
}

// percent prints a share and its interval.
func (f found) percent(share, interval string) string {
	return fmt.Sprintf("%.0f %% (%.0f to %.0f %%)", 100*f.number(share), 100*f.number(interval+".0"), 100*f.number(interval+".1"))
}

// rows returns the objects of JSON lines.
func (f found) rows() []found { return f.list("rows") }

// stated returns the answer in an example's comment, which another test checks.
func stated(file string) string {
	text, err := os.ReadFile(filepath.Join(examples, file))
	if err != nil {
		return err.Error()
	}
	_, after, _ := strings.Cut(string(text), answerMark)
	answer, _, _ := strings.Cut(after, "\n#\n")
	return strings.ReplaceAll(answer, "\n# ", " ")
}

// question returns the first paragraph of an example's comment.
func question(t *testing.T, file string) string {
	t.Helper()
	first, _, _ := strings.Cut(string(contents(t, filepath.Join(examples, file))), "\n#\n")
	return strings.TrimSpace(strings.ReplaceAll(strings.TrimPrefix(first, "#"), "\n#", ""))
}

// The gallery has the answers that its commands give, except for the last digits of
// numbers. -update writes it anew with pictures for changed answers, LANESIM_GALLERY=1 with
// all pictures. Only LANESIM_GALLERY=1 checks answers of commands that take long.
func TestGalleryIsTrue(t *testing.T) {
	t.Parallel()
	old := string(contents(t, galleryFile))
	var b strings.Builder
	b.WriteString(galleryHead)
	kept := 0
	for _, s := range gallery {
		line := "lanesim " + strings.ReplaceAll(strings.ReplaceAll(s.command, " "+s.file, " examples/"+s.file), " friction-tracks.csv", " examples/friction-tracks.csv")
		if s.picture != "" {
			line += s.others + " -o " + s.picture
		}
		heading := "\n## " + question(t, s.file) + "\n\n```sh\n" + line + "\n```\n\n"
		end := "\n\nScenario: [" + s.file + "](../examples/" + s.file + ")\n"
		_, after, _ := strings.Cut(old, heading)
		before, _, _ := strings.Cut(after, end)
		before = before[strings.LastIndex(before, "\n")+1:]
		long := s.long && !*update && os.Getenv("LANESIM_GALLERY") == ""
		answer := before
		if !long {
			answer = galleryAnswer(t, s)
		}
		// A picture is drawn again if its answer has changed by more than last digits.
		if *update && s.picture != "" && (!figures.Agree(answer, before) || !s.drawn() || os.Getenv("LANESIM_GALLERY") != "") {
			arguments, _ := inExamples(s.command+s.others, "")
			good(t, "", append(arguments, "-o", filepath.Join(pictures, s.picture))...)
		}
		b.WriteString(heading)
		for _, picture := range s.pictures() {
			fmt.Fprintf(&b, "![%s](../examples/pictures/%s)\n\n", question(t, s.file), picture)
		}
		b.WriteString(answer + end)
		if long {
			kept++
			if answer == "" {
				t.Errorf("%s: the gallery has no answer", s.file)
			}
		}
	}
	b.WriteString(galleryTail)
	t.Logf("%d of %d answers are checked with LANESIM_GALLERY=1 alone", kept, len(gallery))
	if kept > len(gallery)/4 {
		t.Errorf("%d of %d answers are not checked", kept, len(gallery))
	}
	if text := b.String(); *update {
		write(t, galleryFile, text)
	} else if !figures.Agree(text, old) {
		want, got := strings.Split(text, "\n"), strings.Split(old, "\n")
		for i := range want {
			if i >= len(got) || !figures.Agree(want[i], got[i]) {
				t.Fatalf("line %d of %s should be\n%s\nrun go test ./cmd/lanesim -run Gallery -update", i+1, galleryFile, want[i])
			}
		}
		t.Fatalf("%s is too long", galleryFile)
	}
}

// galleryAnswer runs a command and returns its answer in words.
func galleryAnswer(t *testing.T, s shown) string {
	t.Helper()
	if s.answer == nil {
		return stated(s.file)
	}
	arguments, _ := inExamples(s.command, "")
	text := ""
	if arguments[0] == "throw" && len(arguments) == 2 {
		text = thrownOnce(t, arguments[1]).json
	} else {
		text = goodOnce(t, append(arguments, "--json", "-q")...)
	}
	if arguments[0] == "sweep" {
		text = `{"rows":[` + strings.ReplaceAll(strings.TrimSpace(text), "\n", ",") + `]}`
	}
	var v any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatal(s.command, err)
	}
	answer := s.answer(found{v})
	if strings.Contains(answer, "NaN") || strings.Contains(answer, "<nil>") {
		t.Errorf("%s: %s", s.command, answer)
	}
	return answer
}

// The gallery shows every example and every command, with its pictures.
func TestGalleryShowsEverything(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(examples, "*.yaml"))
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	text := string(contents(t, galleryFile))
	for _, file := range files {
		if !strings.Contains(text, "](../examples/"+filepath.Base(file)+")") {
			t.Errorf("the gallery does not show %s", file)
		}
	}
	for _, c := range commands((&program{}).command()) {
		if c.Runnable() && !strings.Contains(text, c.CommandPath()) {
			t.Errorf("the gallery does not show %s", c.CommandPath())
		}
	}
	drawn := entriesOf(t, pictures)
	size, readme := int64(0), string(contents(t, "../../README.md"))
	for _, p := range drawn {
		info, err := p.Info()
		if err != nil {
			t.Fatal(err)
		}
		size += info.Size()
		isShown := slices.ContainsFunc(gallery, func(s shown) bool { return slices.Contains(s.pictures(), p.Name()) })
		if !isShown && !strings.Contains(readme, p.Name()) {
			t.Errorf("nothing shows the picture %s", p.Name())
		}
	}
	if size > mostPictures {
		t.Errorf("the pictures take %d bytes", size)
	}
	for _, s := range gallery {
		if s.picture != "" && !slices.ContainsFunc(drawn, func(d os.DirEntry) bool { return d.Name() == s.picture }) {
			t.Errorf("there is no picture %s", s.picture)
		}
	}
}
