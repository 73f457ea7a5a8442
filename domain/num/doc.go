// Package num is the arithmetic that must come out alike wherever the program
// runs: on a server, in a command and in a browser.
//
// The compiler's own exponential and logarithm differ between targets in the
// last bits, and on some targets it fuses a product and a sum into one
// rounding. Everything here is plain float64 arithmetic in which each product
// that is added to something is rounded explicitly by a conversion, which the
// language forbids to fuse. The largest error seen against references of 60
// digits is below one unit in the last place.
package num
