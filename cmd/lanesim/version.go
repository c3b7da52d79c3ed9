package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"

	"lanesim/report"
)

func ownVersion() string {
	info, _ := debug.ReadBuildInfo()
	return versionText(info)
}

// versionText prints a version without dates, so that equal builds print the
// same. The information may be nil.
func versionText(info *debug.BuildInfo) string {
	version, revision := "(unknown)", ""
	if info != nil {
		if info.Main.Version != "" {
			version = info.Main.Version
		}
		for _, s := range info.Settings {
			switch {
			case s.Key == "vcs.revision":
				revision = s.Value + revision
			case s.Key == "vcs.modified" && s.Value == "true":
				revision += ", modified"
			}
		}
	}
	var b strings.Builder
	fmt.Fprintf(&b, "lanesim %s\n", version)
	if revision != "" {
		fmt.Fprintf(&b, "revision %s\n", revision)
	}
	fmt.Fprintf(&b, "model %d\n", report.Model)
	fmt.Fprintf(&b, "%s %s/%s\n", runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return b.String()
}
