package editors

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the generated files")

func TestGeneratedFilesAreFresh(t *testing.T) {
	for path, want := range Files() {
		path = filepath.FromSlash(path)
		if *update {
			require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
			require.NoError(t, os.WriteFile(path, want, 0o644))
			continue
		}
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.True(t, string(got) == string(want), "%s is stale: run go generate ./editors", path)
	}
}
