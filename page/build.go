package page

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// modulePath is this project's module path.
const modulePath = "lanesim"

// enginePackage is the package of the engine's command.
const enginePackage = "./page/engine/wasm"

// NoGoError says that there is no go command.
type NoGoError struct{ err error }

func (e *NoGoError) Error() string {
	return "the page's engine is built by Go, but there is no go command: install Go (https://go.dev/dl)"
}

// Unwrap returns the error of looking for the command.
func (e *NoGoError) Unwrap() error { return e.err }

// NoSourceError says that the project's source was not found.
type NoSourceError struct{ From string }

func (e *NoSourceError) Error() string {
	return fmt.Sprintf("the page's engine is built from this project's source, but %s is not in it: run the command there, or give --source FOLDER", e.From)
}

// FindSource returns the root of the project's source: the folder itself or one above it.
func FindSource(folder string) (string, error) {
	from, err := filepath.Abs(folder)
	if err != nil {
		return "", err
	}
	for root := from; ; root = filepath.Dir(root) {
		if text, err := os.ReadFile(filepath.Join(root, "go.mod")); err == nil && moduleOf(text) == modulePath {
			return root, nil
		}
		if root == filepath.Dir(root) {
			return "", &NoSourceError{from}
		}
	}
}

func moduleOf(text []byte) string {
	for line := range bytes.Lines(text) {
		if name, ok := strings.CutPrefix(strings.TrimSpace(string(line)), "module "); ok {
			return strings.TrimSpace(name)
		}
	}
	return ""
}

// Builder builds the engine from the project's source.
type Builder struct {
	Source string // root of the source

	// Cache is a folder that keeps engines by the hash of their sources; "" keeps none.
	Cache string

	// Notice, if not nil, is called with the name of a step that may take long.
	Notice func(what string)
}

// Build returns the engine. It is an error if there is no Go, if the source does not
// compile, or if the context ends.
func (b Builder) Build(ctx context.Context) (Engine, error) {
	if _, err := exec.LookPath("go"); err != nil {
		return Engine{}, &NoGoError{err}
	}
	glue, err := b.glue(ctx)
	if err != nil {
		return Engine{}, err
	}
	sum, err := b.hash(ctx, glue)
	if err != nil {
		return Engine{}, err
	}
	kept := ""
	if b.Cache != "" {
		kept = filepath.Join(b.Cache, "engine-"+sum+".gz")
		if code, err := os.ReadFile(kept); err == nil && whole(code) {
			return Engine{code, glue}, nil
		}
	}
	if b.Notice != nil {
		b.Notice("building the engine (seconds; about a minute the first time)")
	}
	folder, err := os.MkdirTemp("", "lanesim-engine-")
	if err != nil {
		return Engine{}, err
	}
	defer os.RemoveAll(folder)
	file := filepath.Join(folder, "engine.wasm")
	arguments := append([]string{"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w"}, smaller()...)
	if _, err := b.run(ctx, append(arguments, "-o", file, enginePackage)...); err != nil {
		return Engine{}, err
	}
	code, err := os.ReadFile(file)
	if err != nil {
		return Engine{}, err
	}
	var packed bytes.Buffer
	w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err == nil {
		_, err = w.Write(code)
	}
	if err = errors.Join(err, w.Close()); err != nil {
		return Engine{}, err
	}
	if kept != "" {
		keep(kept, packed.Bytes())
	}
	return Engine{packed.Bytes(), glue}, ctx.Err()
}

// inlined are the packages whose functions the compiler may inline, for speed. All others
// are not inlined, which makes the engine a tenth smaller. Inlining in the runtime makes a
// throw a sixth faster.
var inlined = []string{"lanesim/physics", "lanesim/physics/film", "lanesim/pins", "lanesim/internal/portable", "lanesim/internal/root", "lanesim/internal/vector", "math", "math/bits",
	"runtime", "internal/abi", "internal/goarch", "internal/runtime/atomic", "internal/runtime/sys", "internal/runtime/math"}

// smaller returns the compiler's flags for that.
func smaller() []string {
	flags := []string{"-gcflags=all=-l"}
	for _, p := range inlined {
		flags = append(flags, "-gcflags="+p+"=")
	}
	return flags
}

// keep stores an engine in the cache. Failure is no error: the engine is then built again.
func keep(path string, code []byte) {
	if os.MkdirAll(filepath.Dir(path), 0o755) != nil {
		return
	}
	old, _ := filepath.Glob(filepath.Join(filepath.Dir(path), "engine-*.gz"))
	f, err := os.CreateTemp(filepath.Dir(path), ".engine-")
	if err != nil {
		return
	}
	_, err = f.Write(code)
	if errors.Join(err, f.Sync(), f.Close()) != nil || os.Rename(f.Name(), path) != nil {
		os.Remove(f.Name())
		return
	}
	for _, other := range old { // of another source
		if other != path {
			os.Remove(other)
		}
	}
}

// whole reports whether a stored engine can be unpacked.
func whole(code []byte) bool {
	r, err := gzip.NewReader(bytes.NewReader(code))
	if err != nil {
		return false
	}
	n, err := io.Copy(io.Discard, r)
	return err == nil && n > 0
}

// glue returns Go's script that runs a program in a browser.
func (b Builder) glue(ctx context.Context) (string, error) {
	root, err := b.run(ctx, "env", "GOROOT")
	if err != nil {
		return "", err
	}
	text, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		return "", fmt.Errorf("wasm_exec.js of the Go installation is missing: %w", err)
	}
	return string(text), nil
}

// hash returns the hash of everything from which the engine is built.
func (b Builder) hash(ctx context.Context, glue string) (string, error) {
	sum := sha256.New()
	version, err := b.run(ctx, "version")
	if err != nil {
		return "", err
	}
	fmt.Fprintf(sum, "%s\n%q\n%d %s\n", version, smaller(), len(glue), glue)
	list, err := b.run(ctx, "list", "-deps", "-json=Dir,ImportPath,Standard,Module,GoFiles,EmbedFiles", enginePackage)
	if err != nil {
		return "", err
	}
	for d := json.NewDecoder(bytes.NewReader(list)); ; {
		var p struct {
			Dir, ImportPath     string
			Standard            bool
			Module              *struct{ Path, Version string }
			GoFiles, EmbedFiles []string
		}
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return hex.EncodeToString(sum.Sum(nil))[:20], nil
		} else if err != nil {
			return "", err
		}
		if p.Standard {
			continue // determined by the version
		}
		if p.Module != nil && p.Module.Path != modulePath {
			fmt.Fprintf(sum, "%s %s %s\n", p.ImportPath, p.Module.Path, p.Module.Version)
			continue
		}
		for _, name := range append(p.GoFiles, p.EmbedFiles...) {
			text, err := os.ReadFile(filepath.Join(p.Dir, name))
			if err != nil {
				return "", err
			}
			fmt.Fprintf(sum, "%s %s %d\n", p.ImportPath, name, len(text))
			sum.Write(text)
		}
	}
}

// run runs the go command in the source folder, for the browser.
func (b Builder) run(ctx context.Context, arguments ...string) ([]byte, error) {
	c := exec.CommandContext(ctx, "go", arguments...)
	c.Dir = b.Source
	c.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOWORK=off", "GOFLAGS=-mod=readonly")
	c.Cancel = func() error { return c.Process.Signal(os.Interrupt) } // so that it tidies up
	var problems bytes.Buffer
	c.Stderr = &problems
	out, err := c.Output()
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, fmt.Errorf("go %s: %w\n%s", arguments[0], err, strings.TrimSpace(problems.String()))
	}
	return out, nil
}
