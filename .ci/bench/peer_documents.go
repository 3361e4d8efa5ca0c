package main

// documents are the texts by name of server; each is made of small blocks like
// those that the server's users write, and has its slip in the middle.
var documents = map[string]func(lines int) document{
	"workeven":    crochet,
	"gopls":       goSource,
	"oxlint":      javascript,
	"biome":       javascript,
	"vscode-json": jsonList,
	"yaml":        yamlList,
}

func goSource(lines int) document {
	d := document{language: "go", file: "bench.go", beside: map[string]string{"go.mod": "module bench\n\ngo 1.26\n"}}
	text, middle := numbered(lines, "package bench\n\nimport \"strings\"\n", `
type part%[1]d struct {
	name   string
	rounds []int
}

// stitches is how many there are in all.
func (p *part%[1]d) stitches(first, last int) int {
	total := 0
	for i := first; i < last && i < len(p.rounds); i++ {
		total += p.rounds[i]
	}
	if strings.HasPrefix(p.name, "body") {
		total += last
	}
	return total
}

func count%[1]d() int {
	p := part%[1]d{name: "body", rounds: []int{6, 12, 18}}
	return p.stitches(0, 2)
}
`, "")
	d.lines = text
	d.slip = d.find(middle, "total += last", "last").change("lasts")
	d.hover = d.find(middle, "return p.stitches", "stitches")
	d.complete = d.find(middle, "total += p.rounds", "rounds")
	return d
}

func javascript(lines int) document {
	d := document{language: "javascript", file: "bench.js"}
	text, middle := numbered(lines, "", `
export function count%[1]d(a, b) {
  let c = a;
  const part = { name: "body", rounds: [6, 12, 18] };
  for (const n of part.rounds) {
    c += n;
  }
  if (c > b) {
    a = b;
    return a;
  }
  return part.name.length + c;
}
`, "")
	d.lines = text
	d.slip = d.find(middle, "a = b;", "b").change("a")
	d.hover = d.find(middle, "return part", "part")
	d.complete = d.find(middle, "return part", "name")
	return d
}

// schema describes the JSON and the YAML documents, so that their servers have
// something to check against, to explain and to propose.
const schema = `{
  "$schema": "http://json-schema.org/draft-07/schema#",
  "type": "array",
  "items": {
    "type": "object",
    "properties": {
      "name": {"type": "string", "description": "What the part is called."},
      "make": {"type": "integer", "description": "How many are made."},
      "color": {"enum": ["fern", "oat", "slate"], "description": "The yarn it is worked with."},
      "rounds": {"type": "array", "items": {"type": "integer"}, "description": "The stitches of each round."},
      "note": {"type": "string", "description": "What else a maker should know."}
    },
    "required": ["name", "make"],
    "additionalProperties": false
  }
}
`

func jsonList(lines int) document {
	d := document{language: "json", file: "bench.json", beside: map[string]string{"schema.json": schema}}
	text, middle := numbered(lines, "[\n", `  {
    "name": "part %[1]d",
    "make": 2,
    "color": "fern",
    "rounds": [6, 12, 18, 24],
    "note": "Sew it on last."
  },
`, `  {
    "name": "the last one",
    "make": 1
  }
]
`)
	d.lines = text
	d.slip = d.find(middle, `"make"`, "2").change("2.5")
	d.hover = d.find(middle, `"color"`, "color")
	d.complete = d.find(middle, `"color"`, "fern")
	return d
}

func yamlList(lines int) document {
	d := document{language: "yaml", file: "bench.yaml", beside: map[string]string{"schema.json": schema}}
	text, middle := numbered(lines, "", `- name: part %[1]d
  make: 2
  color: fern
  rounds: [6, 12, 18, 24]
  note: Sew it on last.
`, "")
	d.lines = text
	d.slip = d.find(middle, "make:", "2").change("2.5")
	d.hover = d.find(middle, "color:", "color")
	d.complete = d.find(middle, "color:", "fern")
	return d
}

// workflow is what actionlint reads: jobs of a few steps each.
func workflow(lines int) document {
	text, _ := numbered(lines, "name: bench\non: push\njobs:\n", `  job%[1]d:
    runs-on: ubuntu-latest
    steps:
      - uses: actions/checkout@v4
      - name: Count the rounds of part %[1]d
        run: go test ./part%[1]d
        env:
          PART: ${{ github.event.repository.name }}
      - run: echo "part %[1]d is made"
        if: ${{ success() && github.ref == 'refs/heads/main' }}
`, "")
	return document{language: "yaml", file: "workflow.yml", lines: text}
}
