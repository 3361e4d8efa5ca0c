package main

import (
	"slices"

	"workeven/lint"
)

// printer writes the findings of a run in the format that is asked for.
type printer struct {
	*linting
	colour bool
	// toErr is set where the standard output is taken by the mended text.
	toErr bool
	// reports are kept for the formats that are one object.
	reports         []lint.Report
	totals          lint.Totals
	files           int
	repairs, mended int
}

func (l *linting) printer(targets []target) *printer {
	p := &printer{linting: l, colour: l.colour(l.color.value)}
	p.toErr = l.fix && slices.ContainsFunc(targets, func(t target) bool { return t.stdin })
	return p
}

// add takes one file's report, in the order of the files.
func (p *printer) add(r lint.Report) {
	p.files++
	p.totals.Add(r)
	if p.diff {
		return
	}
	switch p.format.value {
	case "text":
		p.put(lint.AppendText(nil, r, p.colour))
	case "concise":
		p.put(lint.AppendConcise(nil, r))
	case "github":
		p.put(lint.AppendGitHub(nil, r))
	default:
		p.reports = append(p.reports, r)
	}
}

func (p *printer) repaired(n int) {
	if n > 0 {
		p.repairs += n
		p.mended++
	}
}

func (p *printer) put(data []byte) {
	if p.toErr {
		_, _ = p.app.err.Write(data)
		return
	}
	p.write(data)
}

// close writes what comes last.
func (p *printer) close() {
	switch {
	case p.diff:
		p.note("%s; --fix would make %s.", p.totals.String(), p.repairsSaid())
		return
	case p.format.value == "json":
		p.put(lint.JSON(p.reports))
		return
	case p.format.value == "sarif":
		p.put(lint.SARIF(p.reports, version()))
		return
	case p.format.value == "github":
		p.put(lint.AppendGitHubTotal(nil, &p.totals))
		return
	}
	if p.repairs > 0 {
		p.note("%s made.", p.repairsSaid())
	}
	switch {
	case p.files == 0: // why, is told already
	case p.totals.Files == 0:
		p.note("%s: nothing found.", lint.Number(p.files, "file", "files"))
	default:
		p.note("%s.", p.totals.String())
	}
	if p.totals.Safe > 0 && !p.fix {
		p.note("--fix mends %d of them; --diff shows how.", p.totals.Safe)
	}
}

func (p *printer) repairsSaid() string {
	said := lint.Number(p.repairs, "repair", "repairs")
	if p.mended > 1 {
		said += " in " + lint.Number(p.mended, "file", "files")
	}
	return said
}
