package lint

import (
	"bytes"
	"encoding/json"
)

type jsonReport struct {
	Files []jsonFile `json:"files"`
}

type jsonFile struct {
	File     string        `json:"file"`
	Findings []jsonFinding `json:"findings"`
}

// jsonRange is a range of text; lines and columns from 1, columns in
// characters, the end not included.
type jsonRange struct {
	Line      int `json:"line"`
	Column    int `json:"column"`
	EndLine   int `json:"endLine"`
	EndColumn int `json:"endColumn"`
}

type jsonFinding struct {
	Rule     string `json:"rule"`
	Severity string `json:"severity"`
	jsonRange
	Message string    `json:"message"`
	Fixes   []jsonFix `json:"fixes"`
}

type jsonFix struct {
	Title string     `json:"title"`
	Safe  bool       `json:"safe"`
	Edits []jsonEdit `json:"edits"`
}

type jsonEdit struct {
	jsonRange
	NewText string `json:"newText"`
}

// JSON gives reports as one object, with every file that was looked at.
func JSON(reports []Report) []byte {
	out := jsonReport{Files: make([]jsonFile, 0, len(reports))}
	for _, r := range reports {
		file := jsonFile{r.File, make([]jsonFinding, 0, len(r.Findings))}
		if len(r.Findings) > 0 {
			places := NewPlaces(r.Text)
			for _, f := range r.Findings {
				file.Findings = append(file.Findings, jsonFinding{
					f.Rule, f.Severity.String(), places.jsonRange(f.Start, f.End), f.Message, places.jsonFixes(f.Fixes),
				})
			}
		}
		out.Files = append(out.Files, file)
	}
	return encodeJSON(out, "")
}

func (p *Places) jsonRange(start, end int) jsonRange {
	from, to := p.At(start), p.At(end)
	return jsonRange{from.Line, from.Column, to.Line, to.Column}
}

func (p *Places) jsonFixes(fixes []Fix) []jsonFix {
	out := make([]jsonFix, 0, len(fixes))
	for _, x := range fixes {
		edits := make([]jsonEdit, 0, len(x.Edits))
		for _, e := range x.Edits {
			edits = append(edits, jsonEdit{p.jsonRange(e.Start, e.End), e.New})
		}
		out = append(out, jsonFix{x.Title, x.Safe, edits})
	}
	return out
}

// encodeJSON writes a value of this package's own, which always encodes. It
// leaves <, > and & as they are: the output is no web page.
func encodeJSON(v any, indent string) []byte {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", indent)
	if err := enc.Encode(v); err != nil {
		panic(err)
	}
	return b.Bytes()
}
