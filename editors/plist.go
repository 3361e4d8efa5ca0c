package editors

import (
	"bytes"
	"maps"
	"slices"
)

// writePlist writes what JSON may hold, but numbers and the like, as a property list.
func writePlist(b *bytes.Buffer, value any, indent string) {
	switch v := value.(type) {
	case string:
		b.WriteString(indent + "<string>" + xmlText.Replace(v) + "</string>\n")
	case []any:
		b.WriteString(indent + "<array>\n")
		for _, x := range v {
			writePlist(b, x, indent+"  ")
		}
		b.WriteString(indent + "</array>\n")
	case map[string]any:
		b.WriteString(indent + "<dict>\n")
		for _, k := range slices.Sorted(maps.Keys(v)) {
			b.WriteString(indent + "  <key>" + xmlText.Replace(k) + "</key>\n")
			writePlist(b, v[k], indent+"  ")
		}
		b.WriteString(indent + "</dict>\n")
	}
}
