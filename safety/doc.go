// Package safety says how far a magnet assembly is a danger and to whom: the published static-field limits and how far they reach, the pull on steel
// left lying about, the speed at which parts that snap together arrive, the rules for air freight, and from such facts a short list of cautions.
//
// It computes no field: callers hand in |B| along a line, an energy, or a moment. Units are SI: metre, tesla,
// ampere per metre, A·m², newton, joule, kilogram; temperatures are in degrees Celsius.
//
// The numbers help a careful person to plan. Local codes and licensed practice decide.
package safety
