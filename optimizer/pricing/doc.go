// Package pricing tells what a set of parts costs one customer, and bounds it.
// A Book is the catalogue under a brief: which parts may be in a build and how
// many of each (the Shelf), with taxes, labour, deals, and shops that ask
// different prices for one part. It knows nothing of levels or of the search.
//
// Terms:
//
//   - weighted: a price in millionths of a minor unit with its tax in it, in the
//     greatest unit that all rates have in common, so that sums are exact.
//   - Set: parts with how many of each, in the order of SKUs.
//   - saving: what a deal takes off the list prices each time that it is had. The
//     share of a piece is the part of it that is laid to that piece.
//   - deal DP: the dynamic programme that finds the best way of applying the
//     deals to a set, from a table for each part in deals of its own, and by
//     trying every deal of several parts every number of times, each state of
//     what is left once.
//
// # Three figures instead of a price
//
// Tax and labour add up piece by piece, deals do not. So a piece that is bought has
// three figures:
//
//	Lower    = list price less the greatest share that a deal could give it
//	List     = list price
//	Marginal = list price less the greatest saving of a deal that it could be in
//
// Let Exact(S) be what a set of parts S costs. Then
//
//	(A) Exact(S) >= the sum of Lower over S. Split what each applied deal saves
//	    over its pieces, in any fixed way; a piece is in one deal at most, so it
//	    gets one part at most, and the greatest part that any deal could give it
//	    is its share.
//	(B) Exact(S + q) <= Exact(S) + List(q). Buy q by itself.
//	(C) Exact(S + p) >= Exact(S) + Marginal(p). Take the best way for S + p and p
//	    out of it: at most the one deal that p is in fails, and its other pieces
//	    pay their list price.
//
// So Marginal <= Lower <= List, and with no deals all three are one.
package pricing
