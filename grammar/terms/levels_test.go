package terms

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Present names: fiatfiberarts.com (2018), whose author confirmed them with the
// Craft Yarn Council. Older ones: shop.thechillydog.com. "Advanced": common practice.
func TestLevelByName(t *testing.T) {
	tests := []struct{ name, level, suggest string }{
		{"basic", "basic", ""}, {"Easy", "easy", ""}, {"INTERMEDIATE", "intermediate", ""}, {"complex", "complex", ""},
		{"beginner", "basic", "basic"}, {"Experienced", "complex", "complex"}, {"advanced", "complex", "complex"},
	}
	for _, tt := range tests {
		l, suggest, ok := LevelByName(tt.name)
		assert.True(t, ok, tt.name)
		assert.Equal(t, tt.level, l.Name, tt.name)
		assert.Equal(t, tt.suggest, suggest, tt.name)
		assert.NotEmpty(t, l.Says)
	}
	for _, name := range []string{"", "hard", "easier"} {
		_, _, ok := LevelByName(name)
		assert.False(t, ok, name)
	}
	assert.Len(t, Levels(), 4)
}
