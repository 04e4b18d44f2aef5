package design

import "polewright/material"

// meaning says what a key is for, and which names are known there.
type meaning struct {
	text  string
	names func() []string
}

func gradeNames() (names []string) {
	for _, g := range material.Grades() {
		names = append(names, g.Name)
	}
	return names
}

func steelNames() (names []string) {
	for _, s := range material.Steels() {
		names = append(names, s.Name)
	}
	return names
}

func plainNames() (names []string) {
	for _, p := range material.Plains() {
		names = append(names, p.Name)
	}
	return names
}

// meanings holds what each table and key is for, by its path; "*" stands for any part. The lengths of layouts and the spreads of [tolerance] say
// it where they are defined.
var meanings = map[string]meaning{
	"":       {text: "A design file of polewright: quantities stand in quotes with their units, axes are right-handed x, y, z, the gap field points along +z."},
	"format": {text: "the version of the format of this file: 1"},
	"title":  {text: "what the design is, printed over every answer"},

	"target":                     {text: "what the builder needs; answers are judged by it, and polewright size works from it"},
	"target.field":               {text: "flux density wanted in the gap"},
	"target.uniformity":          {text: "highest less lowest field over the region, as a part of the mean"},
	"target.region":              {text: "where the field is wanted even: free space in the gap"},
	"target.region.shape":        {text: "what the region looks like"},
	"target.region.center":       {text: "middle of the region; the origin if it is left out"},
	"target.region.diameter":     {text: "diameter of the sphere or cylinder"},
	"target.region.length":       {text: "length of the cylinder along its axis"},
	"target.region.axis":         {text: "axis of the cylinder; z if it is left out"},
	"target.region.size":         {text: "edges of the box along x, y and z"},
	"target.gap":                 {text: "free height along z that the gap has to have"},
	"target.mass":                {text: "mass at most"},
	"target.cost":                {text: "cost at most; prices come from a stock list"},
	"target.stray":               {text: "how far the stray field may reach"},
	"target.stray.limit":         {text: "flux density of the stray field that may be reached"},
	"target.stray.distance":      {text: "distance from the middle beyond which the field has to stay below the limit"},
	"target.temperature":         {text: "at which temperatures the magnets work"},
	"target.temperature.working": {text: "temperature for which the field is computed; 20 degC if it is left out"},
	"target.temperature.max":     {text: "highest temperature, at which loss for good is looked for"},
	"target.temperature.min":     {text: "lowest temperature, at which loss for good is looked for: ferrite loses in the cold"},

	"layout":               {text: "an arrangement that expands to parts from a few lengths, each of which sweeps and searches can vary"},
	"layout.kind":          {text: "which arrangement"},
	"layout.grade":         {text: "grade of all its magnets", names: gradeNames},
	"layout.material":      {text: "steel of the yoke, or of its wire", names: steelNames},
	"layout.wire":          {text: "wire of the winding: a gauge or a diameter"},
	"layout.wire.gauge":    {text: "number and kind of a wire gauge: AWG, SWG or steel-wire"},
	"layout.wire.diameter": {text: "measured diameter of the wire, which is better than a gauge"},
	"layout.packing":       {text: "part of the winding's section that is steel"},
	"layout.lay":           {text: "how the wires lie, in place of packing"},

	"tolerance":              {text: "how builds stray from the design; every value is one standard deviation"},
	"tolerance.accept_field": {text: "by how much the field of a build may differ from the target's"},

	"magnet": {text: "a magnet"},
	"steel":  {text: "a part of soft steel"},
	"wound":  {text: "a yoke wound from wire, as a racetrack round a rectangular core"},
	"spacer": {text: "a part that is not magnetic: it is shown, weighed, cut and drawn, and has no effect on the field"},
	"coil":   {text: "a coil of uniform current density"},

	"*.name":            {text: "its name, used once in a file; messages, joints and sections call it by it"},
	"*.shape":           {text: "what it looks like"},
	"*.center":          {text: "where its middle stands"},
	"*.rotate":          {text: "angles by which it is turned about x, then y, then z, about its centre"},
	"*.size":            {text: "edges along x, y and z"},
	"magnet.size":       {text: "edges along x, y and z, over the coating"},
	"*.axis":            {text: "the axis it lies along; z if it is left out"},
	"*.diameter":        {text: "diameter"},
	"*.outer_diameter":  {text: "diameter outside"},
	"*.inner_diameter":  {text: "diameter of the hole"},
	"*.thickness":       {text: "extent along the axis"},
	"*.from":            {text: "angle at which the ring sector begins, about the axis"},
	"*.to":              {text: "angle at which the ring sector ends"},
	"*.bottom_diameter": {text: "diameter of the lower end, towards the negative axis"},
	"*.top_diameter":    {text: "diameter of the upper end, towards the positive axis"},
	"*.height":          {text: "extent along the axis"},
	"*.material":        {text: "its steel", names: steelNames},
	"*.curve_file":      {text: "a file beside the design with the columns H_A_per_m,B_T, in place of material"},
	"*.density":         {text: "mass over volume; needed with a curve file only where it is not that of steel"},

	"magnet.magnetized":             {text: "direction of its magnetization before it is turned"},
	"magnet.grade":                  {text: "grade as makers call it", names: gradeNames},
	"magnet.remanence":              {text: "remanence at the reference temperature, in place of a grade"},
	"magnet.recoil":                 {text: "recoil permeability"},
	"magnet.coercivity":             {text: "intrinsic coercivity HcJ"},
	"magnet.knee":                   {text: "field strength at which loss for good begins"},
	"magnet.squareness":             {text: "Hk/HcJ of the demagnetization curve"},
	"magnet.remanence_coefficient":  {text: "change of the remanence per kelvin"},
	"magnet.coercivity_coefficient": {text: "change of the coercivity per kelvin"},
	"magnet.reference_temperature":  {text: "temperature at which remanence and coercivity hold; 20 degC if it is left out"},
	"magnet.max_temperature":        {text: "highest temperature that the maker allows"},
	"magnet.density":                {text: "mass over volume"},
	"magnet.coating":                {text: "thickness of plating or lacquer on a side; the size is measured over it"},

	"spacer.material": {text: "what it is made of", names: plainNames},

	"wound.core":               {text: "the rectangular core round which the wire is wound"},
	"wound.core.size":          {text: "edges of the core along x, y and z"},
	"wound.core.center":        {text: "where the core's middle stands; the origin if it is left out"},
	"wound.core.corner_radius": {text: "radius of the innermost wire at the core's corners; 0 if it is left out"},
	"wound.axis":               {text: "the spool's axis; the wire runs round it"},
	"wound.width":              {text: "width between the flanges, along the axis"},
	"wound.wire":               {text: "the wire: a gauge or a diameter"},
	"wound.wire.gauge":         {text: "number and kind of a wire gauge: AWG, SWG or steel-wire"},
	"wound.wire.diameter":      {text: "measured diameter of the wire, which is better than a gauge"},
	"wound.packing":            {text: "part of the winding's section that is steel"},
	"wound.lay":                {text: "how the wires lie, in place of packing"},
	"wound.turns":              {text: "number of turns"},
	"wound.build":              {text: "radial thickness of the winding, in place of turns"},

	"coil.ampere_turns": {text: "current times turns, positive right-handed about the positive axis"},
	"coil.shape":        {text: "what its section across the axis looks like"},
	"coil.outer":        {text: "outer edges along the two axes that follow the coil's axis cyclically"},
	"coil.inner":        {text: "inner edges along the same"},
	"coil.outer_radius": {text: "radius of the outer corners; 0 if it is left out"},
	"coil.inner_radius": {text: "radius of the inner corners; 0 if it is left out"},

	"joint":           {text: "the film of glue, paint or air between two faces that touch in the file"},
	"joint.between":   {text: "the names of the two parts"},
	"joint.thickness": {text: "thickness of the film"},

	"probe":    {text: "a point at which the field is reported"},
	"probe.at": {text: "the point"},

	"section":       {text: "a cut through a part whose mean flux density is reported"},
	"section.part":  {text: "the name of the part"},
	"section.plane": {text: "the axis across which the cut lies"},
	"section.at":    {text: "where the cut lies along that axis"},
}
