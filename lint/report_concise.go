package lint

import "strconv"

// AppendConcise adds one line for each finding of a report:
// `file:line:column: severity message [rule]`.
func AppendConcise(dst []byte, r Report) []byte {
	if len(r.Findings) == 0 {
		return dst
	}
	places, file := NewPlaces(r.Text), printable(r.File, false)
	for _, f := range r.Findings {
		dst = appendPlace(dst, file, places.At(f.Start))
		dst = append(dst, " "+f.Severity.String()+" "+printable(f.Message, false)+" ["+f.Rule+"]\n"...)
	}
	return dst
}

// appendPlace adds "file:line:column:".
func appendPlace(dst []byte, file string, p Place) []byte {
	dst = append(append(dst, file...), ':')
	dst = append(strconv.AppendInt(dst, int64(p.Line), 10), ':')
	return append(strconv.AppendInt(dst, int64(p.Column), 10), ':')
}
