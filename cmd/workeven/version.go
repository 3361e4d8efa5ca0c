package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// stamped is the release, set by `-ldflags "-X main.stamped=1.2.3"`.
var stamped string

// version is the release, or what the Go command knows of the module.
func version() string {
	if stamped != "" {
		return stamped
	}
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "0.0.0-dev"
	}
	return info.Main.Version
}

func (a *app) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Say which release this is",
		Example: `  workeven version    name it when you ask about a finding in snail.crochet`,
		Args:    cobra.NoArgs,
		Run: func(*cobra.Command, []string) {
			a.write([]byte("workeven " + version() + built() + "\n"))
		},
	}
}

// built says what the binary was made from and for.
func built() string {
	at := ""
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" && len(s.Value) >= 12 {
				at = s.Value[:12] + ", "
			}
		}
	}
	return fmt.Sprintf(" (%s%s, %s/%s)", at, runtime.Version(), runtime.GOOS, runtime.GOARCH)
}
