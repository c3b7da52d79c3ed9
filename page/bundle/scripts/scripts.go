// Package scripts bundles the page's TypeScript with esbuild: the scripts of the page and of
// its workers, and the style. It is separate from the command that writes them, so that a
// test can compare the stored scripts with their sources.
package scripts

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"lanesim/internal/theme"
)

// Steps make files from the sources in a folder, by their names in it: first the theme's
// colours, which are sources themselves, then the scripts.
var Steps = []func(folder string) (map[string][]byte, error){colours, bundle}

// Entries are the entry points of the scripts and the style, by their names in dist.
var Entries = map[string]string{"page.js": "main.ts", "worker.js": "worker.ts", "page.css": "page.css"}

// colours makes the sources with the theme's colours.
func colours(folder string) (map[string][]byte, error) {
	sheet, err := os.ReadFile(filepath.Join(folder, "page.css"))
	return map[string][]byte{"colours.ts": []byte(theme.TypeScript()), "colours.css": []byte(theme.Style(string(sheet)))}, err
}

// bundle makes the scripts.
func bundle(folder string) (map[string][]byte, error) {
	absolute, err := filepath.Abs(folder)
	if err != nil {
		return nil, err
	}
	made := map[string][]byte{}
	for name, entry := range Entries {
		r := api.Build(api.BuildOptions{
			EntryPoints: []string{filepath.Join(absolute, entry)}, AbsWorkingDir: absolute,
			Bundle: true, Format: api.FormatIIFE, Target: api.ES2022, Charset: api.CharsetUTF8,
			MinifyWhitespace: true, MinifySyntax: true, MinifyIdentifiers: true, LegalComments: api.LegalCommentsInline,
			TsconfigRaw: "{}", LogLevel: api.LogLevelSilent,
		})
		if len(r.Errors) > 0 {
			texts := api.FormatMessages(r.Errors, api.FormatMessagesOptions{Kind: api.ErrorMessage})
			return nil, errors.New(strings.Join(texts, ""))
		}
		made["dist/"+name] = r.OutputFiles[0].Contents
	}
	return made, nil
}
