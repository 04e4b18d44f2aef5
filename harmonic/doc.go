// Package harmonic expands fields in free space in solid harmonics: the regular ones within a ball free of bodies, such as a gap, and the
// irregular ones outside a ball that holds all bodies. Both are exact solutions of Laplace's equation, so an expansion is smooth however
// rough the data that it was fitted to, and its derivatives of any order are exact.
package harmonic
