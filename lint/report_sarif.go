package lint

import (
	"encoding/hex"
	"net/url"
	"path"
	"strconv"
	"strings"
)

// The SARIF reports follow the OASIS standard "Static Analysis Results
// Interchange Format (SARIF) Version 2.1.0", with its Errata 01.
const (
	sarifVersion = "2.1.0"
	sarifSchema  = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
	sarifRoot    = "%SRCROOT%"
)

type sarifLog struct {
	Schema  string     `json:"$schema"`
	Version string     `json:"version"`
	Runs    []sarifRun `json:"runs"`
}

type sarifRun struct {
	Tool struct {
		Driver sarifDriver `json:"driver"`
	} `json:"tool"`
	Invocations []sarifInvocation       `json:"invocations"`
	BaseIDs     map[string]sarifBaseURI `json:"originalUriBaseIds"`
	Artifacts   []sarifArtifact         `json:"artifacts"`
	Results     []sarifResult           `json:"results"`
	ColumnKind  string                  `json:"columnKind"`
}

type sarifInvocation struct {
	Successful bool `json:"executionSuccessful"`
}

type sarifBaseURI struct {
	Description sarifMessage `json:"description"`
}

type sarifDriver struct {
	Name    string      `json:"name"`
	Version string      `json:"version,omitempty"`
	Rules   []sarifRule `json:"rules"`
}

type sarifRule struct {
	ID               string       `json:"id"`
	Name             string       `json:"name"`
	ShortDescription sarifMessage `json:"shortDescription"`
	FullDescription  sarifMessage `json:"fullDescription"`
	Help             sarifHelp    `json:"help"`
	Default          struct {
		Level string `json:"level"`
	} `json:"defaultConfiguration"`
}

type sarifMessage struct {
	Text string `json:"text"`
}

type sarifHelp struct {
	Text     string `json:"text"`
	Markdown string `json:"markdown"`
}

type sarifArtifact struct {
	Location sarifArtifactLocation `json:"location"`
}

type sarifArtifactLocation struct {
	URI    string `json:"uri"`
	BaseID string `json:"uriBaseId,omitempty"`
	Index  *int   `json:"index,omitempty"`
}

type sarifResult struct {
	RuleID       string             `json:"ruleId"`
	RuleIndex    *int               `json:"ruleIndex,omitempty"`
	Level        string             `json:"level"`
	Message      sarifMessage       `json:"message"`
	Locations    []sarifLocation    `json:"locations"`
	Related      []sarifLocation    `json:"relatedLocations,omitempty"`
	Fingerprints map[string]string  `json:"partialFingerprints"`
	Suppressions []sarifSuppression `json:"suppressions,omitempty"`
	Fixes        []sarifFix         `json:"fixes,omitempty"`
}

type sarifLocation struct {
	Physical struct {
		Artifact sarifArtifactLocation `json:"artifactLocation"`
		Region   sarifRegion           `json:"region"`
	} `json:"physicalLocation"`
	Message *sarifMessage `json:"message,omitempty"`
}

type sarifRegion struct {
	StartLine   int           `json:"startLine"`
	StartColumn int           `json:"startColumn"`
	EndLine     int           `json:"endLine"`
	EndColumn   int           `json:"endColumn"`
	Snippet     *sarifMessage `json:"snippet,omitempty"`
}

type sarifSuppression struct {
	Kind          string `json:"kind"`
	Justification string `json:"justification"`
}

type sarifFix struct {
	Description sarifMessage  `json:"description"`
	Changes     []sarifChange `json:"artifactChanges"`
}

type sarifChange struct {
	Artifact     sarifArtifactLocation `json:"artifactLocation"`
	Replacements []sarifReplacement    `json:"replacements"`
}

type sarifReplacement struct {
	Deleted  sarifRegion   `json:"deletedRegion"`
	Inserted *sarifMessage `json:"insertedContent,omitempty"`
}

// SARIF gives reports as one SARIF 2.1.0 log with one run. The version is the
// command's own; it may be empty. Columns count code points.
func SARIF(reports []Report, version string) []byte { return sarifOf(reports, version, Rules()) }

func sarifOf(reports []Report, version string, rules []*Rule) []byte {
	run := sarifRun{
		Invocations: []sarifInvocation{{Successful: true}},
		BaseIDs:     map[string]sarifBaseURI{sarifRoot: {sarifMessage{"the folder that the command ran in"}}},
		Artifacts:   make([]sarifArtifact, 0, len(reports)),
		Results:     []sarifResult{},
		ColumnKind:  "unicodeCodePoints",
	}
	run.Tool.Driver = sarifDriver{Name: "workeven", Version: version, Rules: make([]sarifRule, 0, len(rules))}
	index := make(map[string]int, len(rules))
	for i, r := range rules {
		index[r.Name] = i
		run.Tool.Driver.Rules = append(run.Tool.Driver.Rules, sarifRuleOf(r))
	}
	for i, r := range reports {
		at := sarifArtifactOf(r.File)
		run.Artifacts = append(run.Artifacts, sarifArtifact{at})
		at.Index = &i
		run.Results = appendSarifResults(run.Results, r, at, index)
	}
	return encodeJSON(sarifLog{sarifSchema, sarifVersion, []sarifRun{run}}, "  ")
}

func sarifRuleOf(r *Rule) sarifRule {
	out := sarifRule{
		ID: r.Name, Name: pascal(r.Name),
		ShortDescription: sarifMessage{r.Summary}, FullDescription: sarifMessage{r.Why},
		Help: sarifHelp{
			Text:     r.Why + "\n\nFound:\n" + r.Bad + "\n\nRight:\n" + r.Good + "\n",
			Markdown: r.Why + "\n\nFound:\n\n```\n" + r.Bad + "\n```\n\nRight:\n\n```\n" + r.Good + "\n```\n",
		},
	}
	out.Default.Level = sarifLevel(r.Severity)
	return out
}

// pascal turns a rule's name into the form that SARIF viewers show: "StitchesLeft".
func pascal(name string) string {
	var b strings.Builder
	for word := range strings.SplitSeq(name, "-") {
		if word != "" {
			b.WriteString(strings.ToUpper(word[:1]) + word[1:])
		}
	}
	return b.String()
}

func sarifLevel(s Severity) string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	}
	return "note"
}

// sarifArtifactOf makes a URI of a file's name: relative to the root where the
// name is below it, else as it stands.
func sarifArtifactOf(file string) sarifArtifactLocation {
	file = strings.ReplaceAll(file, `\`, "/")
	switch {
	case path.IsAbs(file):
		return sarifArtifactLocation{URI: (&url.URL{Scheme: "file", Path: file}).String()}
	case len(file) > 2 && file[1:3] == ":/": // a drive
		return sarifArtifactLocation{URI: (&url.URL{Scheme: "file", Path: "/" + file}).String()}
	}
	at := sarifArtifactLocation{URI: (&url.URL{Path: file}).String()}
	if file != ".." && !strings.HasPrefix(file, "../") {
		at.BaseID = sarifRoot
	}
	return at
}

func appendSarifResults(dst []sarifResult, r Report, at sarifArtifactLocation, index map[string]int) []sarifResult {
	if len(r.Findings)+len(r.Known) == 0 {
		return dst
	}
	places, seen := NewPlaces(r.Text), map[string]int{}
	add := func(f Finding, suppressed []sarifSuppression) {
		res := sarifResult{
			RuleID: f.Rule, Level: sarifLevel(f.Severity), Message: sarifMessage{f.Message},
			Locations:    []sarifLocation{places.sarifLocation(at, f.Start, f.End, "")},
			Fingerprints: map[string]string{"workeven/v1": places.fingerprint(f, seen)},
			Suppressions: suppressed, Fixes: places.sarifFixes(at, f.Fixes),
		}
		if i, ok := index[f.Rule]; ok {
			res.RuleIndex = &i
		}
		for _, rel := range f.Related {
			res.Related = append(res.Related, places.sarifLocation(at, rel.Start, rel.End, rel.Message))
		}
		dst = append(dst, res)
	}
	for _, f := range r.Findings {
		add(f, nil)
	}
	for _, f := range r.Known {
		add(f, []sarifSuppression{{"external", "held by the baseline"}})
	}
	return dst
}

func (p *Places) sarifRegion(start, end int) sarifRegion {
	from, to := p.At(start), p.At(end)
	return sarifRegion{StartLine: from.Line, StartColumn: from.Column, EndLine: to.Line, EndColumn: to.Column}
}

func (p *Places) sarifLocation(at sarifArtifactLocation, start, end int, message string) sarifLocation {
	var l sarifLocation
	l.Physical.Artifact = at
	l.Physical.Region = p.sarifRegion(start, end)
	if start >= 0 && start < end && end <= len(p.text) && end-start <= excerptBytes {
		l.Physical.Region.Snippet = &sarifMessage{p.text[start:end]}
	}
	if message != "" {
		l.Message = &sarifMessage{message}
	}
	return l
}

func (p *Places) sarifFixes(at sarifArtifactLocation, fixes []Fix) []sarifFix {
	var out []sarifFix
	for _, x := range fixes {
		change := sarifChange{Artifact: at}
		for _, e := range x.Edits {
			rep := sarifReplacement{Deleted: p.sarifRegion(e.Start, e.End)}
			if e.New != "" {
				rep.Inserted = &sarifMessage{e.New}
			}
			change.Replacements = append(change.Replacements, rep)
		}
		if len(change.Replacements) > 0 { // the standard wants one at least
			out = append(out, sarifFix{sarifMessage{x.Title}, []sarifChange{change}})
		}
	}
	return out
}

// fingerprint tells a finding from others through edits elsewhere in the file:
// by its rule, its line's words and how many like it came before.
func (p *Places) fingerprint(f Finding, seen map[string]int) string {
	line, _ := p.Line(p.At(f.Start).Line)
	sum := hashOf(f.Rule + "\x00" + strings.Join(strings.Fields(line), " "))
	key := hex.EncodeToString(sum[:])
	seen[key]++
	return key + ":" + strconv.Itoa(seen[key])
}
