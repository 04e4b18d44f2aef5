// Package freefield gives the exact field, flux density and scalar potential of uniformly polarized bodies in free space, without steel, the field of
// coils, and the forces among them. An [Assembly] holds many of them ready for many points.
//
// A body of polarization J (tesla, the same all through) is a pair of charged surfaces of density J.n. With the Newtonian potential of its
// volume, u(r) = integral over the body of dV'/|r-r'|,
//
//	phi = -M . grad u / (4 pi)      scalar potential, A
//	H   = M . grad grad u / (4 pi)  = -grad phi, A/m
//	B   = mu0 H + J inside, mu0 H outside
//
// where M = J/mu0. So each shape needs the first and second derivatives of u only, and any direction of J costs the same:
//
//   - block: logarithms and arctangents of its corners (Akoun and Yonnet, IEEE Trans. Magn. 20 (1984) 1962; Furlani, Permanent Magnet
//     and Electromechanical Devices (2001));
//   - disc and ring: complete elliptic integrals (Derby and Olbert, Am. J. Phys. 78 (2010) 229 for the axial part; the same reduction,
//     derived in the comments, for the diametral part);
//   - ring sector: closed forms for the flat sides and for all that is singular on the faces, a Gauss rule along the arcs for the smooth
//     rest.
//
// # On the surface
//
// A point within 1e-12 of the body's size from a face, an edge or an axis is taken to lie on it. On a face H and B are the mean of both
// sides: the normal part of H jumps there, that of B does not. On an edge and at a corner they are the mean over all directions of
// approach as far as that is finite; the part that grows with the logarithm of the distance is that at 1e-12 of the body's size
// from the edge, large (4.4 times the surface charge over mu0, ln(1e12)/(2 pi)) but finite. The potential is continuous everywhere.
//
// # Digits
//
// Far from a body its closed form is the small difference of large terms: that of a block has an error of some 8e-16 of J, while the field falls as
// J V/(4 pi R^3). Where this would be more than 1e-11 of the field the block goes over to a Gauss rule through its volume,
// discs and rings to a multipole series, the sector to a Gauss rule in cylinder coordinates, all without cancellation. B, H and the potential
// agree with an independent quadrature of Coulomb's law, relative to the field at the point, to (the quadrature's own error included)
//
//	1e-11  stout, flat (1:50), long (1:20) and thin-walled (1:300) bodies, from 1e-4 sizes off the surface to 2e4 sizes
//	4e-11  plates, discs, bars, rods and tubes of 1:1000, from 0.02 to 2e4 sizes
//	2e-9   a tube with a wall of 1e-5 of its radius
//
// Closer to an edge the error is that of the coordinates: 1e-16 of the size over the distance.
package freefield
