// Package verify holds a finished build against its brief once more, from the
// catalogue's own figures and by the shortest way that can be read. It knows
// nothing of shelves, lists and bounds: it imports package build, the catalogue
// and the model, and nothing else of the optimizer, so that a fault of the
// search cannot be a fault here as well. The rules are written down a second
// time on purpose. Only the cabin's response is taken over.
package verify
