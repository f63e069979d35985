// Package optimizer finds the loudest builds for a brief, exactly.
package optimizer
