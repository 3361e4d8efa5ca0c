package lint

// ConfigSchema is the JSON Schema (2020-12) of a configuration, made from the
// registry: what editors complete and check .workeven.toml by.
func ConfigSchema() []byte { return configSchema(Rules()) }

type schema = map[string]any

func configSchema(rules []*Rule) []byte {
	byRule := schema{}
	for _, r := range rules {
		byRule[r.Name] = schema{"$ref": "#/$defs/level", "description": r.Summary, "default": r.Severity.String()}
	}
	names := schema{
		"anyOf": []schema{{"type": "string", "minLength": 1}, {"type": "array", "items": schema{"type": "string", "minLength": 1}}},
	}
	described := func(ref, text string) schema { return schema{"$ref": "#/$defs/" + ref, "description": text} }
	return encodeJSON(schema{
		"$schema":              "https://json-schema.org/draft/2020-12/schema",
		"title":                ConfigName,
		"description":          "How workeven checks the crochet patterns in this folder and those below.",
		"type":                 "object",
		"additionalProperties": false,
		"properties": schema{
			"extends":  described("names", "Configurations to start from, by their paths from this file; what is said here wins."),
			"include":  described("names", "File names that count as patterns in a folder; all that end in "+Extension+" unless said."),
			"exclude":  described("names", "File names to leave alone when a folder is looked through."),
			"error-on": schema{"enum": thresholdNames, "default": Warning.String(), "description": "The least severity that makes a run fail."},
			"rules":    described("rules", "How severe each rule is here, or off."),
			"per-file": schema{
				"type": "object", "additionalProperties": schema{"$ref": "#/$defs/rules"},
				"description": "Rules for some of the files, by a pattern of their names.",
			},
		},
		"$defs": schema{
			"level": schema{"enum": levelNames},
			"names": names,
			"rules": schema{"type": "object", "additionalProperties": false, "properties": byRule},
		},
	}, "  ")
}
