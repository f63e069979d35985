package build

import "loudfor/catalog"

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
	RequireKinds      // a kind of part is missing from the catalogue
	RequireMostStores // how many shops are gone to
)

func (k RequirementKind) String() string {
	return [...]string{
		"cap", "stock", "stores", "must", "never", "space", "boot opening", "front", "minimum load",
		"drivers", "boxes", "amplifiers", "signal path", "cable current", "parts", "most stores",
	}[k]
}

// Fix is one way for a requirement to give way just far enough. Words says it;
// of the other fields only those that it changes are set.
type Fix struct {
	Words string

	Cap        catalog.Money // the new cap
	Space      catalog.Size3 // the new space
	Boot       [2]float64    // the opening that it would have to be, m
	Load       float64       // ohm: the load that would have to be allowed
	Amps       float64       // A that the kit would have to carry
	FrontWatts float64       // W a side that may be asked for
	Front      catalog.FrontRule
	Stores     []string // to be allowed besides
	Count      int      // the new number of boxes, drivers, amplifiers or shops; of pieces that must be in
	Stock      []catalog.Mention
}
