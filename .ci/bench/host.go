package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// machine is where a run took place, and how busy it was before.
type machine struct {
	cpu, memory, system, load, date string
}

func host() machine {
	return machine{
		cpu:    fmt.Sprintf("%s, %d cores", field("/proc/cpuinfo", "model name"), runtime.NumCPU()),
		memory: field("/proc/meminfo", "MemTotal"),
		system: fmt.Sprintf("%s, Linux %s, %s", strings.Trim(fieldBy("/etc/os-release", "PRETTY_NAME", "="), `"`), line("/proc/sys/kernel/osrelease"), runtime.GOARCH),
		load:   strings.Join(strings.Fields(line("/proc/loadavg"))[:3], ", "),
		date:   time.Now().UTC().Format("2006-01-02 15:04 UTC"),
	}
}

func line(path string) string {
	text, err := os.ReadFile(path)
	if err != nil {
		return "not known"
	}
	first, _, _ := strings.Cut(string(text), "\n")
	return first
}

func field(path, key string) string { return fieldBy(path, key, ":") }

// fieldBy is the first value of a key in a file of keys and values.
func fieldBy(path, key, by string) string {
	text, _ := os.ReadFile(path)
	for l := range strings.Lines(string(text)) {
		if k, v, ok := strings.Cut(l, by); ok && strings.TrimSpace(k) == key {
			return strings.TrimSpace(v)
		}
	}
	return "not known"
}

// packageVersion is that of an installed npm package.
func packageVersion(modules, name string) string {
	var p struct{ Version string }
	text, err := os.ReadFile(filepath.Join(modules, name, "package.json"))
	if err != nil || json.Unmarshal(text, &p) != nil {
		return "not installed"
	}
	return p.Version
}
