package quantity

// Names lists every name under which Parse knows the units of d, Units and their other spellings, the customary one first. The empty name stands
// for the plain number that a Ratio may be. It is nil for an unknown dimension.
func Names(d Dimension) (names []string) {
	if d < 0 || d >= dimensions {
		return nil
	}
	for _, u := range table[d].units {
		names = append(append(names, u.name), u.aliases...)
	}
	return names
}
