package main

import (
	_ "github.com/google/go-cmp/cmp"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/spf13/cobra"
	_ "github.com/spf13/pflag"
)
