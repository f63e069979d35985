// Package pricing tells what a set of parts costs one customer, and bounds it.
// A Book is the catalogue under a brief: which parts may be in a build and how
// many of each (the shelf), with taxes, labour, deals, and shops that ask
// different prices for one part. It knows nothing of levels or of the search.
//
// A part in a deal has three figures instead of a price; the page of package
// optimizer has the proofs of
//
//	(A) Exact(S) >= the sum of Lower over S
//	(B) Exact(S + q) <= Exact(S) + List(q)
//	(C) Exact(S + p) >= Exact(S) + Marginal(p)
//
// for every set of parts S. Without deals all three are one.
//
// Terms:
//
//   - weighted: a price in millionths of a minor unit with its tax in it, in the
//     greatest unit that all rates have in common, so that sums are exact.
//   - Set: parts with how many of each, in the order of SKUs.
//   - deal DP: the dynamic programme that finds the best way of applying the
//     deals to a set.
package pricing
