package catalog

// Money is an exact sum in minor units (cents) of one currency.
type Money struct {
	Minor    int64
	Currency string // ISO 4217 code
}
