package optimizer

// Requirement is one rule of the brief, the vehicle or the trade, as a member
// of a conflict. See Result.Conflicts.
type Requirement struct {
	Kind    RequirementKind
	Subject string // SKU, store ... that the rule is about; may be empty
	Words   string // the rule, as it stands
	Remedy  string // what would have to change for a build to exist, with the exact amount
	// Fixes are ways in which it could give way just far enough, each by
	// itself; empty where it can only go altogether. They are exact where the
	// requirement is Alone. Otherwise other sets block as well, and a fix is
	// what this set needs with everything outside it set aside: the least that
	// can be enough.
	Fixes []Fix
	// Alone says that dropping this one, and keeping everything else of the
	// brief, is enough.
	Alone bool
}

// RequirementKind tells the requirements apart.
type RequirementKind int

const (
	RequireCap RequirementKind = iota
	RequireStock
	RequireStores
	RequireMust
	RequireNever
	RequireSpace
	RequireBoot // boxes go through the opening of the boot
	RequireFront
	RequireLoad
	RequireDrivers
	RequireBoxes
	RequireAmplifiers
	RequireSignal
	RequireCable
	RequireKinds // a kind of part is missing from the catalogue
)

func (k RequirementKind) String() string {
	return [...]string{
		"cap", "stock", "stores", "must", "never", "space", "boot opening", "front", "minimum load",
		"drivers", "boxes", "amplifiers", "signal path", "cable current", "parts",
	}[k]
}
