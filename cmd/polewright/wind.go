package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
	"polewright/mistake"
	"polewright/quantity"
	"polewright/report"
	"polewright/spelling"
	"polewright/winding"
)

// sheet is a winding sheet with the name of its yoke.
type sheet struct {
	Name string `json:"name"`
	Wire string `json:"wire"`
	// The wire's diameter, m.
	DiameterM float64 `json:"wire_diameter_m"`
	winding.Sheet
	winding.Preparation
	Outlook *winding.Outlook  `json:"outlook,omitempty"` // with --solve or --log
	Log     *winding.Progress `json:"log,omitempty"`     // with --log

	index int // of the yoke in the design
}

// windFlags are what the command line asks of the sheet.
type windFlags struct {
	json, solve, quiet      bool
	log, yoke, spool, crank string
	leastGain, looser       string
	pace                    float64
}

func windCommand() *cobra.Command {
	var f windFlags
	c := &cobra.Command{
		Use:   "wind FILE [flags]",
		Short: "Print the winding sheet of each wound yoke",
		Long: `Print the sheet for winding each [[wound]] yoke of a design: turns, wire and outside size layer by
layer, spools to buy, time, the pull on wire and crank, the bobbin. Nothing is solved for it.

With --solve it also gives, at draft accuracy, the field in the gap and the reach of the stray
field against the number of turns, where more turns stop paying, looser packing and other wires;
that takes one to several minutes. With --log LOG.csv it fits the packing to what was read while
winding, and says whether to go on. The log has the columns turns (all so far) or layer (full
ones), the field as B_T, B_mT or B_G, and, if taken, outer_mm, the outside size along the core's
longer side, and u_mT, the uncertainty; lines that begin with # are notes.
FILE may be - for standard input.`,
		Example: `  polewright new wound-pair -o my-magnet.toml
  polewright wind my-magnet.toml --spool "5 kg" --pace 8
  polewright wind my-magnet.toml --solve --least-gain "0.5 %"
  polewright wind my-magnet.toml --log my-log.csv`,
		Args: oneArgument("design FILE", "polewright wind my-magnet.toml"),
		RunE: func(c *cobra.Command, args []string) error { return wind(c, args[0], f) },
	}
	l := c.Flags()
	l.BoolVar(&f.solve, "solve", false, "also solve the field against turns, looser packing and other wires")
	l.StringVar(&f.log, "log", "", "fit the packing to the readings in `LOG.csv`; solves, too")
	l.StringVar(&f.yoke, "yoke", "", "only the yoke of this `NAME`")
	l.StringVar(&f.spool, "spool", "", fmt.Sprintf("wire on a spool, `MASS` or length (\"%g kg\" is common practice, no source)", winding.SpoolDefaultKg))
	l.Float64Var(&f.pace, "pace", 0, "pace in `TURNS` a minute (by hand 6 to 10)")
	l.StringVar(&f.crank, "crank", "150 mm", "`RADIUS` of the crank's handle")
	l.StringVar(&f.leastGain, "least-gain", "1 %", "the least `SHARE` that a further hundred turns should gain")
	l.StringVar(&f.looser, "looser", "0.05", "how much lower the looser `PACKING` is")
	l.BoolVar(&f.json, "json", false, jsonUsage)
	l.BoolVar(&f.quiet, "quiet", false, quietUsage)
	return c
}

func wind(c *cobra.Command, file string, f windFlags) error {
	if file == "-" && f.log == "-" {
		return mistake.Of("design and log cannot both come from standard input", "for example: polewright wind my-magnet.toml --log my-log.csv")
	}
	shop, options, err := f.parse()
	if err != nil {
		return err
	}
	d, err := readDesign(c.Context(), file, c.InOrStdin())
	if err != nil {
		return err
	}
	sheets, err := sheetsOf(d, f.yoke, shop)
	if err != nil {
		return err
	}
	var log []winding.Reading
	if f.log != "" {
		if len(sheets) > 1 {
			return mistake.Of("--log: the design has more than one wound yoke", "say which with --yoke "+fmt.Sprintf("%q", sheets[0].Name))
		}
		if log, err = readLog(c, f.log, polewright.WindingPlan(&d.Wounds[sheets[0].index])); err != nil {
			return err
		}
	}
	for i, s := range sheets {
		if !f.solve && f.log == "" {
			break
		}
		sheets[i], err = answered(c, f.quiet, func(progress func(string, float64)) (sheet, error) {
			options.Progress = progress
			return s.solved(c.Context(), d, options, log, f.log)
		})
		if err != nil {
			return err
		}
	}
	switch {
	case f.json && len(sheets) == 1:
		return writeJSON(c.OutOrStdout(), sheets[0])
	case f.json:
		return writeJSON(c.OutOrStdout(), map[string]any{"windings": sheets})
	}
	for i, s := range sheets {
		if i > 0 {
			fmt.Fprintln(c.OutOrStdout())
		}
		if err := s.write(c.OutOrStdout(), polewright.WindingPlan(&d.Wounds[s.index])); err != nil {
			return err
		}
	}
	return nil
}

// parse reads the quantities among the flags.
func (f *windFlags) parse() (shop winding.Workshop, o polewright.WindingOptions, err error) {
	if _, e := quantity.Parse(f.spool, quantity.Length); e == nil {
		shop.SpoolM, err = flagQuantity("spool", f.spool, quantity.Length, 0.1, 1e6, `--spool "100 m"`)
	} else if f.spool != "" {
		shop.SpoolKg, err = flagQuantity("spool", f.spool, quantity.Mass, 0.01, 1e5, `--spool "5 kg"`)
	}
	if err != nil {
		return shop, o, err
	}
	if shop.CrankM, err = flagQuantity("crank", f.crank, quantity.Length, 0.01, 2, `--crank "150 mm"`); err != nil {
		return shop, o, err
	}
	if o.LeastGain, err = flagQuantity("least-gain", f.leastGain, quantity.Ratio, 1e-5, 0.5, `--least-gain "1 %"`); err != nil {
		return shop, o, err
	}
	if o.Looser, err = flagQuantity("looser", f.looser, quantity.Ratio, 0.005, 0.3, "--looser 0.05"); err != nil {
		return shop, o, err
	}
	if shop.Pace = f.pace; !(f.pace >= 0 && f.pace <= 1e5) {
		err = mistake.Of(fmt.Sprintf("--pace %g is out of reach", f.pace), "by hand it is 6 to 10 turns a minute")
	}
	o.Wires, o.Log = f.solve, f.log != ""
	return shop, o, err
}

// sheetsOf works out the sheets of all wound yokes, or of one by its name.
func sheetsOf(d *design.Design, yoke string, shop winding.Workshop) (sheets []sheet, err error) {
	if len(d.Wounds) == 0 {
		return nil, mistake.Errors{{File: d.File, What: "there is no [[wound]] yoke in it", Hint: "see one with: polewright new wound-pair"}}
	}
	var names []string
	for i := range d.Wounds {
		w := &d.Wounds[i]
		if names = append(names, w.Name); yoke != "" && w.Name != yoke {
			continue
		}
		plan := polewright.WindingPlan(w)
		s, err := winding.Wind(plan)
		var p winding.Preparation
		if err == nil {
			p, err = plan.Prepare(s, shop)
		}
		if err != nil {
			return nil, mistake.At(d.File, w.Line, "wound."+w.Name, err)
		}
		sheets = append(sheets, sheet{Name: w.Name, Wire: w.Wire, DiameterM: w.WireDiameterM, Sheet: s, Preparation: p, index: i})
	}
	if sheets == nil {
		return nil, mistake.Of(fmt.Sprintf("--yoke: there is no wound yoke %q", yoke), spelling.Meant(yoke, names, "there are "+strings.Join(names, ", ")))
	}
	return sheets, nil
}

func readLog(c *cobra.Command, path string, p winding.Plan) ([]winding.Reading, error) {
	list, err := readTable(c.Context(), path, c.InOrStdin(), "winding log", func(r io.Reader, name string) ([]winding.Reading, error) {
		return winding.ReadLog(r, name, p)
	})
	if err == nil && len(list) < 2 {
		return nil, mistake.Errors{{File: path, What: fmt.Sprintf("there are %d readings, and a fit takes two", len(list)), Hint: "read the field before the first turn and after each layer"}}
	}
	return list, err
}

// solved adds what more and fewer turns give, and what the log says.
func (s sheet) solved(ctx context.Context, d *design.Design, o polewright.WindingOptions, log []winding.Reading, logFile string) (sheet, error) {
	outlook, forecast, err := polewright.OutlookOf(ctx, d, s.index, o)
	s.Outlook = outlook
	if err != nil || log == nil {
		return s, err
	}
	g, err := outlook.Follow(polewright.WindingPlan(&d.Wounds[s.index]), log, forecast)
	if err != nil {
		return s, mistake.At(logFile, log[len(log)-1].Line, "", err)
	}
	s.Log = &g
	return s, nil
}

func (s *sheet) write(w io.Writer, p winding.Plan) error {
	if err := report.WindingSheet(w, s.Name, s.Wire, p, s.Sheet); err != nil {
		return err
	}
	if err := report.WindingPreparation(w, s.Preparation); err != nil {
		return err
	}
	if s.Outlook == nil {
		return report.WindingAsk(w)
	}
	if err := report.WindingOutlook(w, s.Outlook); err != nil || s.Log == nil {
		return err
	}
	return report.WindingProgress(w, s.Outlook, *s.Log)
}
