package safety

import "polewright/material"

// Flux densities, T, of the limits that the rest of this package and its callers ask for by name.
const (
	ImplantLimitT       = 0.5e-3 // pacemakers and other implants; the 5 gauss line
	ImplantOptionT      = 0.9e-3 // the same contour for scanners under IEC 60601-2-33:2022
	ProjectileLimitT    = 3e-3   // loose steel may start to fly
	CardLimitT          = 1e-3   // bank cards, watches with hands
	PublicLimitT        = 400e-3 // general public, any part of the body
	OccupationalLimitT  = 2.0    // at work, head and trunk
	airDeclaredApm      = 0.159  // at airDeclaredM
	airForbiddenApm     = 0.418  // at airForbiddenM
	airDeclaredM        = 2.1
	airForbiddenM       = 4.6
	HandLimitN          = 140.0   // quasi-static force on a hand or finger, ISO/TS 15066:2016 table A.2, from memory
	standardGravityMps2 = 9.80665 // newtons per kilogram-force, exact by definition (3rd CGPM 1901)
)

// Limit is one published limit or caution level for a static magnetic field.
type Limit struct {
	Code   string  `json:"code"` // short and fixed, "implant"
	What   string  `json:"what"` // who or what is at risk
	FieldT float64 `json:"field_T"`
	AtM    float64 `json:"at_m,omitempty"` // the distance from the package at which it holds, m; 0 when it holds wherever the person or thing is
	Stated string  `json:"stated"`         // as its source prints it
	Source string  `json:"source"`
	// FromMemory says that the value was recalled and not compared with a printed page; a Source that says
	// "secondary" was read in a text that quotes the original.
	FromMemory bool `json:"from_memory,omitempty"`
}

// Limits returns the published limits, the most sensitive first.
func Limits() []Limit {
	const apm = material.Mu0 // T per A/m in air
	return []Limit{
		{Code: "air-not-regulated", What: "air freight: below this it is not regulated as magnetized material", FieldT: airDeclaredApm * apm, AtM: airDeclaredM,
			Stated: "0.159 A/m (200 nT) at 2.1 m", Source: "IATA Dangerous Goods Regulations, packing instruction 953 (secondary)"},
		{Code: "air-forbidden", What: "air freight: above this it is forbidden", FieldT: airForbiddenApm * apm, AtM: airForbiddenM,
			Stated: "0.418 A/m (525 nT, 0.00525 gauss) at 4.6 m", Source: "49 CFR 173.21(d); IATA Dangerous Goods Regulations, packing instruction 953 (secondary)"},
		{Code: "electron-optics", What: "disturbs electron microscopes and image intensifiers", FieldT: 0.1e-3,
			Stated: "1 gauss", Source: "NRC 2011, Prudent Practices in the Laboratory, table 7.1"},
		{Code: "implant", What: "pacemakers and other implants: generally no adverse effect below", FieldT: ImplantLimitT,
			Stated: "0.5 mT", Source: "ICNIRP 2009, Health Phys. 96:504 (sentence quoted); NRC 2011, table 7.1 (5 gauss); ACGIH 2015 for wearers of medical devices (secondary)"},
		{Code: "implant-action", What: "action level at work for active implants", FieldT: ImplantLimitT,
			Stated: "0.5 mT", Source: "Directive 2013/35/EU, Annex II, table B4", FromMemory: true},
		{Code: "implant-0.9", What: "controlled-access contour of magnetic-resonance scanners since edition 4; 0.5 mT before", FieldT: ImplantOptionT,
			Stated: "0.9 mT", Source: "IEC 60601-2-33:2022 (secondary)"},
		{Code: "implant-immunity", What: "static field that an implant must stand without its magnet mode", FieldT: 1e-3,
			Stated: "1 mT", Source: "ISO 14117:2012, clause 4.6 (title); ISO 14117:2019 as quoted in studies of telephone magnets (secondary)"},
		{Code: "cards-watches", What: "erases bank cards, stops watches with hands", FieldT: CardLimitT,
			Stated: "10 gauss", Source: "NRC 2011, Prudent Practices in the Laboratory, table 7.1; ICNIRP 1994 (secondary)"},
		{Code: "magnetic-storage", What: "destroys magnetic storage", FieldT: 2e-3,
			Stated: "20 gauss", Source: "NRC 2011, Prudent Practices in the Laboratory, table 7.1"},
		{Code: "projectile", What: "loose steel may be drawn in and fly", FieldT: ProjectileLimitT,
			Stated: "3 mT (30 gauss)", Source: "ICNIRP 1994 (secondary)"},
		{Code: "projectile-action", What: "action level at work: attraction and flying parts near sources over 100 mT", FieldT: ProjectileLimitT,
			Stated: "3 mT", Source: "Directive 2013/35/EU, Annex II, table B4", FromMemory: true},
		{Code: "transformers", What: "saturates transformers and amplifiers", FieldT: 5e-3,
			Stated: "50 gauss", Source: "NRC 2011, Prudent Practices in the Laboratory, table 7.1"},
		{Code: "stripe-low", What: "coercivity of low-coercivity magnetic stripes", FieldT: 30e-3,
			Stated: "300 Oe", Source: "ISO/IEC 7811-2 (secondary, teaching value)"},
		{Code: "implant-recovery", What: "static field that an implant must recover from", FieldT: 50e-3,
			Stated: "50 mT", Source: "ISO 14117, clause 4.7", FromMemory: true},
		{Code: "stripe-high", What: "coercivity of high-coercivity magnetic stripes, lower end", FieldT: 275e-3,
			Stated: "2750 Oe", Source: "ISO/IEC 7811-6", FromMemory: true},
		{Code: "public", What: "general public, any part of the body", FieldT: PublicLimitT,
			Stated: "400 mT", Source: "ICNIRP 2009, Health Phys. 96:504 (secondary)"},
		{Code: "work-trunk", What: "at work, head and trunk", FieldT: OccupationalLimitT,
			Stated: "2 T", Source: "ICNIRP 2009, Health Phys. 96:504; ACGIH 2015 (secondary)"},
		{Code: "work-limbs", What: "at work, limbs", FieldT: 8,
			Stated: "8 T", Source: "ICNIRP 2009, Health Phys. 96:504 (secondary)"},
	}
}
