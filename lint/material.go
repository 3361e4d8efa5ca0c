package lint

// Material is a thing besides yarn and hook, as the rules know it.
type Material struct {
	// Name is what messages call several of it: "eyes", "toy stuffing".
	Name string
	// Small is set for what a small child can choke on or be hurt by, Cord for
	// what can wind round a neck, Tool for what does not stay in the work.
	Small, Cord, Tool bool
}

// MaterialIn is the thing that a text is chiefly about: "2 safety eyes, 6 mm"
// is about eyes. False where it names none that is known.
func MaterialIn(text string) (Material, bool) {
	found := thingsIn(text)
	if len(found) == 0 {
		return Material{}, false
	}
	t := found[0]
	return Material{t.name, t.small, t.cord, t.tool}, true
}
