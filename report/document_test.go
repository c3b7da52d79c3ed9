package report

import "testing"

func TestDocumentIsPrintedWithEmptyLinesBetweenBlocks(t *testing.T) {
	doc := Document{Title: "title"}
	doc.HeadOf("of ", "heading", " after")
	doc.Table(Grid{Left: []bool{true}, Rows: [][]string{{"a", "1"}, {"bc", "23"}}})
	doc.Note("right below")
	doc.SayWrapped("apart")
	const want = "title\n\nof heading after\n\na    1\nbc  23\nright below\n\napart\n"
	if got := doc.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got := doc.Print(true); got == want {
		t.Error("no color")
	}
	if got := (Document{}).String(); got != "" {
		t.Errorf("nothing is %q", got)
	}
}
