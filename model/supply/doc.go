// Package supply is the electrical supply of the car as the amplifier meets it.
package supply
