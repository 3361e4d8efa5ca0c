package lint

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestMaterialIn(t *testing.T) {
	for text, want := range map[string]Material{
		"2 safety eyes, 6 mm":            {Name: "eyes", Small: true},
		"5 Buttons, 18 mm":               {Name: "buttons", Small: true},
		"toy stuffing":                   {Name: "toy stuffing"},
		"yarn needle with a large eye":   {Name: "a yarn needle", Tool: true},
		"60 cm of ribbon for the collar": {Name: "cords", Cord: true},
	} {
		got, ok := MaterialIn(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, got, text)
	}
	_, ok := MaterialIn("a lantern")
	assert.False(t, ok)
}
