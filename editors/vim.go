package editors

import (
	"fmt"
	"slices"
	"strings"
)

// Vim's look behind is given how many bytes to look at, which makes it quick.
const (
	vimInWord = `[A-Za-zÀ-ſ]`
	vimStart  = vimInWord + `\@4<!`
	vimWord   = `[A-Za-zÀ-ſ0-9]\@!`
	vimCount  = `\%(` + vimWord + `\|\%([0-9]\+` + vimWord + `\)\@=\)`
	vimOn     = `\_$\%(\n[ \t]\+\S\)\@!`
	vimBehind = `\S\@1<!`
)

func vimEnd(e ending) string { return [...]string{wordEnd: vimWord, countEnd: vimCount}[e] }

func vimGroup(c class) string {
	if c == plain {
		return "crochetPlain"
	}
	return "crochet" + strings.ToUpper(string(c[:1])) + string(c[1:])
}

// vimSyntax is the syntax file of Vim, which Neovim reads too. Statements are
// regions, the rules are matches that regions contain, and the parts of a rule
// follow each other by nextgroup. Of two items that fit Vim takes the one defined
// last, so rules are written from the last to the first.
func vimSyntax() []byte {
	v := &vimFile{links: map[string]class{}, written: map[string]bool{}}
	v.line(`" Vim syntax file of crochet patterns. ` + madeBy)
	v.line(`if exists("b:current_syntax")`)
	v.line(`  finish`)
	v.line(`endif`)
	v.line(`scriptencoding utf-8`)
	v.line(`let s:cpo_save = &cpo`)
	v.line(`set cpo&vim`)
	v.line(`syntax case ignore`)
	v.line(`syntax sync minlines=20`)
	v.line("")
	for _, r := range slices.Backward(ruleOrder()) {
		v.rule(r)
	}
	for _, k := range slices.Backward(kinds()) {
		v.statement(k)
	}
	v.comment()
	v.line("")
	for _, l := range looks {
		v.line("highlight default link " + vimGroup(l.class) + " " + l.link)
	}
	for _, g := range v.order {
		v.line("highlight default link " + g + " " + vimGroup(v.links[g]))
	}
	v.line("")
	v.line(`let b:current_syntax = "crochet"`)
	v.line(`let &cpo = s:cpo_save`)
	v.line(`unlet s:cpo_save`)
	return []byte(v.out.String())
}

// vimFile is the syntax file so far.
type vimFile struct {
	out strings.Builder
	// links are the groups that belong to classes, order the same as written.
	links   map[string]class
	order   []string
	written map[string]bool
}

func (v *vimFile) line(s string) { v.out.WriteString(s + "\n") }

// match writes one item of a group.
func (v *vimFile) match(group string, c class, pattern, options string) {
	v.line("syntax match " + group + ` /\%#=1` + pattern + "/ contained" + options)
	if _, ok := v.links[group]; !ok && c != plain {
		v.links[group] = c
		v.order = append(v.order, group)
	}
}

// rule writes a rule's parts, each followed by the next.
func (v *vimFile) rule(r rule) {
	if v.written[r.name] {
		return
	}
	v.written[r.name] = true
	ahead := vim.write(r.ahead)
	if ahead != "" {
		ahead = vim.open + ahead + vim.close
	}
	ahead = vimEnd(r.ends) + `\ze` + ahead
	for i := len(r.parts) - 1; i >= 0; i-- {
		p, options := r.parts[i], ""
		body := vim.open + vim.write(p.pattern) + vim.close
		pattern := body + ahead
		if i == 0 && r.starts {
			pattern = vimStart + pattern
		}
		if i+1 < len(r.parts) {
			options = " nextgroup=" + vimPart(r, i+1)
		}
		if r.exact {
			pattern = `\C` + pattern
		}
		v.match(vimPart(r, i), p.class, pattern, options)
		ahead = `\ze` + body + strings.Replace(ahead, `\ze`, "", 1)
	}
}

// vimPart is the group of a rule's part.
func vimPart(r rule, i int) string {
	name := "crochet_" + r.name
	if i > 0 {
		name += fmt.Sprint("_", i)
	}
	return name
}

// statement writes a kind of statement: a region, and the head that begins it.
func (v *vimFile) statement(k kind) {
	for _, r := range slices.Backward(k.lead) {
		v.rule(r)
	}
	labels := vim.write(`^[ \t]*`) + `\zs` + vim.open + vim.write(phrases(k.labels)) + vim.close
	head, _ := k.head(&vim)
	inHead := []string{"crochetLabel_" + k.name}
	v.match(inHead[0], [...]class{label, action}[btoi(k.action)], labels+vimWordOrDigits(k), nextIf(k.key, "crochetKey"))
	if k.key {
		v.match("crochetKey", yarn, `[^ \t:]\+`, "")
	}
	if k.ranged {
		v.match("crochetRange", number, `[0-9]\+`, "")
		v.match("crochetSide", setting, vim.write(`(?:RS|WS|right side|wrong side)`), "")
		inHead = append(inHead, "crochetRange", "crochetSide")
	}
	next := ""
	if len(k.lead) > 0 {
		var names []string
		for _, r := range k.lead {
			names = append(names, vimPart(r, 0))
		}
		next = " skipwhite nextgroup=" + strings.Join(names, ",")
	}
	v.match("crochetHead_"+k.name, plain, head, " contains="+strings.Join(inHead, ",")+next)
	inside := []string{"crochetComment", "crochetHead_" + k.name}
	for _, r := range k.rules {
		inside = append(inside, vimPart(r, 0))
	}
	region := "crochetStatement_" + k.name
	v.line("syntax region " + region + ` start=/\%#=1` + head + "/ end=/" + vimOn + "/ keepend contains=" + strings.Join(inside, ","))
	if k.content != plain {
		v.links[region] = k.content
		v.order = append(v.order, region)
	}
}

// vimWordOrDigits is the end of a label, behind which a number may stand at once.
func vimWordOrDigits(k kind) string {
	if k.ranged {
		return vimInWord + `\@!`
	}
	return vimWord
}

func nextIf(is bool, group string) string {
	if is {
		return " skipwhite nextgroup=" + group
	}
	return ""
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

func (v *vimFile) comment() {
	v.line(`syntax match crochetComment /` + vimBehind + `\/\/.*$/ contains=crochetDirective,@Spell`)
	v.line(`syntax match crochetDirective /` + vimBehind + `\/\/\+\s*\zsallow\%(\s\+file\)\=\ze\s*:/ contained nextgroup=crochetAllowed`)
	v.line(`syntax match crochetAllowed /\s*:\s*/ contained nextgroup=crochetRule`)
	v.line(`syntax match crochetRule /[a-z0-9-]\+\%(\s*,\s*[a-z0-9-]\+\)*/ contained`)
}

// ruleOrder is every rule of every kind once, in an order that is each kind's own.
func ruleOrder() []rule {
	var out []rule
	for _, k := range kinds() {
		at := 0
		for _, r := range k.rules {
			if i := slices.IndexFunc(out, func(x rule) bool { return x.name == r.name }); i >= 0 {
				at = i + 1
				continue
			}
			out = slices.Insert(out, at, r)
			at++
		}
	}
	return out
}
