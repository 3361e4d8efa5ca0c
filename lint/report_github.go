package lint

import (
	"strconv"
	"strings"
)

// githubEach is how many annotations of one kind GitHub shows for a step of a job.
const githubEach = 10

var (
	githubData     = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A")
	githubProperty = strings.NewReplacer("%", "%25", "\r", "%0D", "\n", "%0A", ":", "%3A", ",", "%2C")
)

// AppendGitHub adds a report as workflow commands of GitHub Actions, which
// show each finding beside its line.
func AppendGitHub(dst []byte, r Report) []byte {
	if len(r.Findings) == 0 {
		return dst
	}
	places := NewPlaces(r.Text)
	for _, f := range r.Findings {
		from, to := places.At(f.Start), places.At(f.End)
		dst = append(dst, "::"+githubKind(f.Severity)+" file="+githubProperty.Replace(r.File)...)
		dst = append(dst, ",line="+strconv.Itoa(from.Line)+",endLine="+strconv.Itoa(to.Line)...)
		dst = append(dst, ",col="+strconv.Itoa(from.Column)+",endColumn="+strconv.Itoa(to.Column)...)
		dst = append(dst, ",title="+githubProperty.Replace(f.Rule)+"::"+githubData.Replace(f.Message)+"\n"...)
	}
	return dst
}

// AppendGitHubTotal adds the last line, which tells what GitHub does not show:
// it drops all but the first annotations of a kind.
func AppendGitHubTotal(dst []byte, t *Totals) []byte {
	dst = append(dst, t.String()...)
	if t.By[Error] > githubEach || t.By[Warning] > githubEach || t.By[Information]+t.By[Hint] > githubEach {
		dst = append(dst, "; GitHub shows the first "+strconv.Itoa(githubEach)+" of each kind beside their lines, the others only in this log"...)
	}
	return append(dst, '\n')
}

func githubKind(s Severity) string {
	switch s {
	case Error:
		return "error"
	case Warning:
		return "warning"
	}
	return "notice"
}
