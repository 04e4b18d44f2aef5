package material

// The built-in grades, sheet by sheet. The rule where vendors disagree: the table of chinamagnetfactory.com, which covers
// the plain, M and H grades in one place; a row of it that cannot be (N48, with HcB above HcJ) or that it lacks comes from
// the next vendor that has it. Rows no table was seen for are from memory.

const (
	familyNdFeB   = "NdFeB sintered"
	familySmCo5   = "SmCo 1:5"
	familySmCo17  = "SmCo 2:17"
	familyFerrite = "hard ferrite"
	familyAlnico  = "AlNiCo"
)

const (
	shanghaiPhysics = "; temperature coefficients, recoil permeability and density shanghaimagnet.com"
	betaRecalled    = "; temperature coefficient of HcJ from memory, that of the remanence, recoil permeability and density shanghaimagnet.com"
	recalledNdFeB   = "from memory: usual trade minima; compare with the maker's sheet"
	smcoSource      = "magnetsales.com SmCo table; temperature coefficient of HcJ from memory"
	mmpaSmCo        = "from memory: MMPA 0100-00, Table IV-1"
	ferriteSource   = "aomagnet.com ferrite table, temperature coefficient of the remanence neomagnetsupplier.com; that of HcJ (positive: cold is the demagnetizing side), recoil permeability, density and temperature limit from memory"
	mmpaFerrite     = "from memory: MMPA 0100-00, Table III-1"
	alnicoSource    = "tmcmagnetics.com table; temperature limit from memory; no straight recoil line from remanence: the recoil line holds for a magnet let back from its lowest working point"
	mmpaAlnico      = "from memory: MMPA 0100-00, Table II-1; recoil permeability that of tmcmagnetics.com for Alnico 5; no straight recoil line from remanence"
)

// sheet is a run of grades of one table with the properties they share.
type sheet struct {
	family, source             string
	fromMemory                 bool
	alphaPercent, betaPercent  float64 // per kelvin, of the remanence and of HcJ
	recoil, density, classMaxC float64 // relative, kg/m³, °C
	rows                       []row
}

// row is a grade: its other names, the remanence from and to (T; to is the typical value where no upper limit is known), and
// the least HcB and HcJ (kA/m, 0 unknown).
type row struct {
	name, aliases string // aliases divided by commas
	brLeast, brTo float64
	hcb, hcj      float64
}

var sheets = []sheet{
	{familyNdFeB, "vormagelectronics.com and nblihe.com grade tables" + shanghaiPhysics, false, -0.12, -0.76, 1.05, 7500, 80, []row{
		{"N30", "", 1.08, 1.13, 796, 960},
		{"N33", "", 1.13, 1.18, 836, 960},
	}},
	{familyNdFeB, "chinamagnetfactory.com magnet standards" + shanghaiPhysics, false, -0.12, -0.76, 1.05, 7500, 80, []row{
		{"N35", "", 1.17, 1.22, 868, 955},
		{"N38", "", 1.22, 1.25, 899, 955},
		{"N40", "", 1.25, 1.28, 907, 955},
		{"N42", "", 1.28, 1.32, 915, 955},
		{"N45", "", 1.32, 1.38, 923, 955},
	}},
	{familyNdFeB, "shanghaimagnet.com grade table", false, -0.12, -0.76, 1.05, 7500, 80, []row{
		{"N48", "", 1.37, 1.42, 892, 955},
	}},
	{familyNdFeB, "chinamagnetfactory.com magnet standards" + shanghaiPhysics, false, -0.12, -0.76, 1.05, 7500, 80, []row{
		{"N50", "", 1.40, 1.45, 796, 876},
		{"N52", "", 1.43, 1.48, 796, 876},
	}},
	{familyNdFeB, "shanghaimagnet.com grade table", false, -0.12, -0.76, 1.05, 7500, 80, []row{
		{"N54", "", 1.44, 1.48, 892, 955},
	}},
	{familyNdFeB, "vormagelectronics.com and nblihe.com grade tables" + shanghaiPhysics, false, -0.12, -0.76, 1.05, 7500, 70, []row{
		{"N55", "", 1.47, 1.52, 860, 876},
	}},
	{familyNdFeB, "chinamagnetfactory.com magnet standards" + shanghaiPhysics, false, -0.12, -0.68, 1.05, 7500, 100, []row{
		{"N33M", "", 1.13, 1.17, 836, 1114},
		{"N35M", "", 1.17, 1.22, 868, 1114},
		{"N38M", "", 1.22, 1.25, 899, 1114},
		{"N40M", "", 1.25, 1.28, 923, 1114},
		{"N42M", "", 1.28, 1.32, 955, 1114},
		{"N45M", "", 1.32, 1.38, 955, 1114},
		{"N48M", "", 1.36, 1.43, 1027, 1114},
		{"N50M", "", 1.40, 1.45, 1033, 1114},
	}},
	{familyNdFeB, "shanghaimagnet.com grade table", false, -0.12, -0.68, 1.05, 7500, 100, []row{
		{"N52M", "", 1.42, 1.46, 1035, 1114},
	}},
	{familyNdFeB, "chinamagnetfactory.com magnet standards" + betaRecalled, false, -0.12, -0.58, 1.05, 7500, 120, []row{
		{"N35H", "", 1.17, 1.22, 868, 1353},
		{"N38H", "", 1.22, 1.25, 899, 1353},
		{"N40H", "", 1.25, 1.28, 923, 1353},
		{"N42H", "", 1.28, 1.32, 955, 1353},
		{"N45H", "", 1.30, 1.36, 963, 1353},
		{"N48H", "", 1.37, 1.43, 955, 1353},
	}},
	{familyNdFeB, "hgtmagnets.com grade table" + betaRecalled, false, -0.12, -0.58, 1.05, 7500, 110, []row{
		{"N50H", "", 1.39, 1.44, 1035, 1273},
	}},
	{familyNdFeB, recalledNdFeB, true, -0.11, -0.55, 1.05, 7500, 150, []row{
		{"N35SH", "", 1.17, 1.21, 876, 1592},
		{"N38SH", "", 1.22, 1.25, 907, 1592},
		{"N40SH", "", 1.25, 1.28, 939, 1592},
		{"N42SH", "", 1.28, 1.32, 963, 1592},
		{"N45SH", "", 1.32, 1.37, 979, 1592},
	}},
	{familyNdFeB, "hgtmagnets.com grade table; temperature coefficients, recoil permeability and density from memory", false, -0.11, -0.55, 1.05, 7500, 150, []row{
		{"N48SH", "", 1.37, 1.42, 1019, 1592},
	}},
	{familyNdFeB, recalledNdFeB, true, -0.11, -0.51, 1.05, 7500, 180, []row{
		{"N30UH", "", 1.08, 1.13, 812, 1990},
		{"N33UH", "", 1.13, 1.17, 819, 1990},
		{"N35UH", "", 1.17, 1.21, 852, 1990},
		{"N38UH", "", 1.22, 1.25, 876, 1990},
		{"N40UH", "", 1.25, 1.28, 899, 1990},
		{"N42UH", "", 1.28, 1.32, 915, 1990},
	}},
	{familyNdFeB, recalledNdFeB, true, -0.11, -0.48, 1.05, 7500, 200, []row{
		{"N30EH", "", 1.08, 1.13, 812, 2388},
		{"N33EH", "", 1.13, 1.17, 819, 2388},
		{"N35EH", "", 1.17, 1.21, 836, 2388},
		{"N38EH", "", 1.22, 1.25, 899, 2388},
	}},
	{familyNdFeB, recalledNdFeB, true, -0.11, -0.45, 1.05, 7500, 220, []row{
		{"N30AH", "", 1.08, 1.13, 812, 2785},
		{"N33AH", "", 1.13, 1.17, 819, 2785},
	}},

	{familySmCo5, smcoSource, false, -0.04, -0.28, 1.05, 8300, 250, []row{
		{"SmCo5-18", "SmCo18", 0.860, 0.860, 573, 716},
	}},
	{familySmCo5, mmpaSmCo, true, -0.045, -0.28, 1.05, 8300, 250, []row{
		{"SmCo5-18/30", "MMPA 18/30", 0.87, 0.87, 640, 2400},
		{"SmCo5-20", "SmCo20,MMPA 20/16", 0.90, 0.90, 680, 1270},
		{"SmCo5-22", "MMPA 22/16", 0.95, 0.95, 720, 1270},
	}},
	{familySmCo17, smcoSource, false, -0.03, -0.25, 1.05, 8300, 250, []row{
		{"SmCo17-22", "SmCo22", 0.985, 0.985, 696, 955},
	}},
	{familySmCo17, smcoSource, false, -0.03, -0.25, 1.05, 8300, 350, []row{
		{"SmCo17-26", "SmCo26", 1.050, 1.050, 732, 796},
		{"SmCo17-26H", "SmCo26H", 1.060, 1.060, 736, 915},
		{"SmCo17-26HS", "SmCo26HS", 1.060, 1.060, 780, 1432},
		{"SmCo17-27H", "SmCo27H", 1.100, 1.100, 820, 2069},
		{"SmCo17-28", "SmCo28", 1.070, 1.070, 820, 1432},
		{"SmCo17-32H", "SmCo32H,SmCo32", 1.160, 1.160, 756, 1114},
	}},
	{familySmCo17, mmpaSmCo, true, -0.035, -0.25, 1.08, 8400, 300, []row{
		{"SmCo17-24/7", "MMPA 24/7", 1.00, 1.00, 480, 557},
		{"SmCo17-24/18", "MMPA 24/18,SmCo24", 1.02, 1.02, 730, 1430},
		{"SmCo17-28/7", "MMPA 28/7", 1.09, 1.09, 520, 557},
	}},

	{familyFerrite, ferriteSource, false, -0.2, 0.3, 1.1, 4900, 250, []row{
		{"Y10T", "C1,Ceramic 1", 0.200, 0.218, 125, 210},
		{"Y25", "", 0.360, 0.370, 135, 140},
		{"Y30", "C5,Ceramic 5", 0.380, 0.385, 191, 199},
		{"Y30BH", "", 0.380, 0.390, 223, 231},
		{"Y33", "", 0.410, 0.420, 220, 225},
		{"Y35", "", 0.400, 0.410, 175, 180},
		{"C8", "C8A,Ceramic 8,Ceramic 8A", 0.385, 0.390, 235, 242},
	}},
	{familyFerrite, mmpaFerrite, true, -0.2, 0.3, 1.1, 4900, 250, []row{
		{"C7", "Ceramic 7", 0.34, 0.34, 259, 318},
		{"C8B", "Ceramic 8B", 0.42, 0.42, 232, 236},
		{"C11", "Ceramic 11", 0.43, 0.43, 200, 204},
	}},

	{familyAlnico, alnicoSource, false, -0.02, 0, 3.6, 7300, 525, []row{
		{"Alnico5", "", 1.25, 1.30, 47.7, 0},
		{"Alnico8", "", 0.83, 0.90, 110, 0},
	}},
	{familyAlnico, mmpaAlnico, true, -0.02, 0, 3.6, 7300, 525, []row{
		{"Alnico2", "", 0.75, 0.75, 45, 46},
		{"Alnico5DG", "", 1.33, 1.33, 53, 53},
		{"Alnico5-7", "", 1.35, 1.35, 59, 59},
		{"Alnico6", "", 1.05, 1.05, 62, 64},
		{"Alnico8HC", "", 0.72, 0.72, 151, 174},
		{"Alnico9", "", 1.06, 1.06, 119, 119},
	}},
}

// magnet puts a row into SI. Vendors' tables are for 20 °C.
func (s sheet) magnet(r row) Magnet {
	m := Magnet{
		Name: r.name, Family: s.family,
		RemanenceT: (r.brLeast + r.brTo) / 2, RemanenceMinT: r.brLeast,
		RecoilPermeability:     s.recoil,
		IntrinsicCoercivityApm: r.hcj * 1e3, CoercivityApm: r.hcb * 1e3,
		RemanencePerK: s.alphaPercent / 100, CoercivityPerK: s.betaPercent / 100,
		ReferenceC: 20, MaxTemperatureC: s.classMaxC, DensityKgPerM3: s.density,
		Source: s.source, FromMemory: s.fromMemory,
	}
	m.Squareness = m.squarenessOf(s.family)
	return m
}
