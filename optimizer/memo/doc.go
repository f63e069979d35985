// Package memo remembers what many questions have in common: cards of drivers
// completed, and what a car does to the sound at one place of it. It depends on
// package model alone.
package memo
