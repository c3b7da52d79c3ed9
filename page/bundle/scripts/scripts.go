// Package scripts bundles the page's TypeScript with esbuild: what runs in the page, what
// runs in its workers, and its style. It stands beside the command that writes them down,
// so that a test can check whether what is kept is still what the sources make.
package scripts

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"lanesim/internal/theme"
)

// Steps make files from the sources in a folder, by their names in it: the colours that the
// sources take from the theme, and then the scripts.
var Steps = []func(folder string) (map[string][]byte, error){colours, bundle}

// Entries are the sources that become a script each, by the script's name in dist: what runs in
// the page, and what runs in its workers.
var Entries = map[string]string{"page.js": "main.ts", "worker.js": "worker.ts", "page.css": "page.css"}

// colours makes the sources that have the theme's.
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
