package rows

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"lanesim/report"
)

func contents(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// A damaged file gives only its sound rows, and the damage is reported: fifty random
// damages for each size of block.
func TestRandomDamagesAreNoticed(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, block := range []int{1, 0} {
		h := Header{Columns: []Column{{"row", report.CountKind}, {"x", report.NumberKind}}, Rows: 700, Fingerprint: "f", Of: 1, Block: block}
		path := filepath.Join(t.TempDir(), "rows")
		j, err := Create(path, h)
		if err != nil {
			t.Fatal(err)
		}
		var rows [][]byte
		for k := range h.Rows - 50 {
			rows = append(rows, fmt.Appendf(nil, "%d,%d\n", k, random.Uint64()))
			if err := j.Row(rows[k]); err != nil {
				t.Fatal(err)
			}
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		sound := contents(t, path)
		for n := range 50 {
			damaged := bytes.Clone(sound)
			at, length := random.IntN(len(damaged)), 1+random.IntN(40)
			end := min(at+length, len(damaged))
			what := []string{"a bit", "a byte", "bytes lost", "bytes more", "bytes repeated", "zeros", "an end"}[n%7]
			switch what {
			case "a bit":
				damaged[at] ^= 1 << random.IntN(8)
			case "a byte":
				damaged[at] += byte(1 + random.IntN(255))
			case "bytes lost":
				damaged = append(damaged[:at], damaged[end:]...)
			case "bytes more":
				damaged = append(damaged[:at], append([]byte("7,12345\n"), damaged[at:]...)...)
			case "bytes repeated":
				damaged = append(damaged[:end], append(bytes.Clone(damaged[at:end]), damaged[end:]...)...)
			case "zeros":
				clear(damaged[at:end])
			case "an end":
				damaged = damaged[:at]
			}
			if bytes.Equal(damaged, sound) {
				t.Fatal("nothing was damaged")
			}
			if err := os.WriteFile(path, damaged, 0o666); err != nil {
				t.Fatal(err)
			}
			j, err := Resume(path, h)
			if err != nil {
				continue // refused as a whole
			}
			kept := 0
			keep := func(line []byte) error {
				if kept >= len(rows) || !bytes.Equal(line, rows[kept]) {
					t.Fatalf("%s at %d: row %d is %q", what, at, kept, line)
				}
				kept++
				return nil
			}
			if err := j.Each(keep); err != nil {
				t.Fatal(err)
			}
			if j.inBlock > 0 {
				j.mark("") // the rows of a block that was short
			}
			kept = 0
			if err := j.Each(keep); err != nil || uint64(kept) != j.Rows() {
				t.Fatalf("%s at %d: %d of %d rows, %v", what, at, kept, j.Rows(), err)
			}
			j.Release()
			if cutAtMark := bytes.HasPrefix(sound, damaged) && damaged[len(damaged)-1] == '\n'; !cutAtMark && j.Dropped() == 0 {
				t.Errorf("%s at %d of %d: nothing is said, %d rows are kept", what, at, len(sound), kept)
			}
		}
	}
}

// Resuming completes the file, wherever a partial file is cut off.
func TestJournalCutAnywhere(t *testing.T) {
	h := Header{Columns: []Column{{"row", report.CountKind}, {"x", report.NumberKind}}, Rows: 3*defaultBlock + 11, Fingerprint: "f", Of: 1}
	folder := t.TempDir()
	path := filepath.Join(folder, "rows")
	fill := func(j *Journal, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		for j.Rows() < h.Count() {
			if err := j.Row(fmt.Appendf(nil, "%d,%d\n", j.Rows(), j.Rows()*j.Rows())); err != nil {
				t.Fatal(err)
			}
		}
		if err := errors.Join(j.Finish(), j.Release()); err != nil {
			t.Fatal(err)
		}
	}
	fill(Create(path, h))
	whole := contents(t, path)
	// At every byte of the header and the end, and now and then between them.
	for at := 0; at <= len(whole); at++ {
		if at > 300 && at < len(whole)-100 && at%29 != 0 {
			continue
		}
		if err := os.WriteFile(path, whole[:at], 0o666); err != nil {
			t.Fatal(err)
		}
		fill(Resume(path, h))
		if !bytes.Equal(contents(t, path), whole) {
			t.Fatalf("cut off at %d of %d: the file differs", at, len(whole))
		}
	}
	// A block of an interrupted run, short of rows, is filled up.
	for _, rows := range []int{0, 1, defaultBlock - 1, defaultBlock, defaultBlock + 7} {
		os.Remove(path)
		j, err := Create(path, h)
		if err != nil {
			t.Fatal(err)
		}
		for range rows {
			if err := j.Row(fmt.Appendf(nil, "%d,%d\n", j.Rows(), j.Rows()*j.Rows())); err != nil {
				t.Fatal(err)
			}
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		j, err = Resume(path, h)
		if err == nil && j.Rows() != uint64(rows) {
			t.Errorf("%d rows are kept of %d", j.Rows(), rows)
		}
		fill(j, err)
		if !bytes.Equal(contents(t, path), whole) {
			t.Errorf("after %d rows: the file differs", rows)
		}
	}
}

// No two runs write one partial file.
func TestJournalIsTaken(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("files are not locked everywhere")
	}
	h := Header{Columns: []Column{{"row", report.CountKind}}, Rows: 5, Of: 1}
	path := filepath.Join(t.TempDir(), "rows")
	j, err := Create(path, h)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Resume(path, h); !errors.Is(err, ErrInUse) {
		t.Errorf("taken twice: %v", err)
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	if j, err = Resume(path, h); err != nil {
		t.Fatal(err)
	}
	j.Release()
}

func TestWhichShard(t *testing.T) {
	for _, c := range []struct {
		flag, environment string
		shard, of         uint64
		bad               string
	}{
		{flag: "0/1", of: 1},
		{flag: "3/8", shard: 3, of: 8},
		{flag: "auto", environment: "SLURM_ARRAY_TASK_ID=7 SLURM_ARRAY_TASK_COUNT=4 SLURM_ARRAY_TASK_MIN=1 SLURM_ARRAY_TASK_STEP=2", shard: 3, of: 4},
		{flag: "auto", environment: "SLURM_ARRAY_TASK_ID=2 SLURM_ARRAY_TASK_COUNT=4 SLURM_ARRAY_TASK_MIN=0", shard: 2, of: 4},
		{flag: "auto", environment: "JOB_COMPLETION_INDEX=2 LANESIM_SHARDS=3", shard: 2, of: 3},
		{flag: "/8", environment: "JOB_COMPLETION_INDEX=2", shard: 2, of: 8},
		{flag: "/8", environment: "SLURM_ARRAY_TASK_ID=5 SLURM_ARRAY_TASK_MIN=5", shard: 0, of: 8},
		{flag: "8/8", bad: "not one of 0 to 7"},
		{flag: "-1/8", bad: "not one of"},
		{flag: "1/0", bad: "not a number of parts"},
		{flag: "1", bad: "it can be i/n"},
		{flag: "auto", bad: "neither SLURM_ARRAY_TASK_COUNT nor LANESIM_SHARDS"},
		{flag: "/8", bad: "neither SLURM_ARRAY_TASK_ID nor JOB_COMPLETION_INDEX"},
		{flag: "/2", environment: "JOB_COMPLETION_INDEX=2", bad: "not one of 0 to 1"},
		{flag: "/8", environment: "SLURM_ARRAY_TASK_ID=5 SLURM_ARRAY_TASK_MIN=0 SLURM_ARRAY_TASK_STEP=2", bad: "is not in its Slurm job array"},
		{flag: "/8", environment: "SLURM_ARRAY_TASK_ID=five", bad: `SLURM_ARRAY_TASK_ID is "five"`},
	} {
		values := map[string]string{}
		for _, pair := range strings.Fields(c.environment) {
			key, value, _ := strings.Cut(pair, "=")
			values[key] = value
		}
		shard, of, err := Shard(c.flag, func(key string) string { return values[key] })
		switch {
		case c.bad != "":
			if err == nil || !strings.Contains(err.Error(), c.bad) {
				t.Errorf("%s with %q: %v, want %q", c.flag, c.environment, err, c.bad)
			}
		case err != nil || shard != c.shard || of != c.of:
			t.Errorf("%s with %q: %d of %d, %v", c.flag, c.environment, shard, of, err)
		}
	}
}
