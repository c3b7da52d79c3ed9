package scenario

// AssumedLevel is the skill level that stands in for a bowler of whom a scenario
// does not say how alike the deliveries are. It is assumed.
const AssumedLevel = "league"

// SkillLevels lists the names of the skill levels.
func SkillLevels() []string { return texts(levels, func(l level) string { return l.name }) }

// SkillLevel returns the deviations that a named skill level stands for, which
// are assumed, and whether there is such a level.
func SkillLevel(name string) (*Repeatability, bool) {
	for _, l := range levels {
		if l.name == name {
			return (&reader{}).repeatability(&value{word: name, path: "repeatability"}), true
		}
	}
	return nil, false
}
