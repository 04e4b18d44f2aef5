package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
	"polewright/mistake"
	"polewright/quantity"
)

func sizeCommand() *cobra.Command {
	var asJSON, force, quiet bool
	var out, prices string
	var pick, solve int
	var gain float64
	c := &cobra.Command{
		Use:   "size FILE [flags]",
		Short: "Find layouts, grades and sizes for a target",
		Long: `Read the [target] of a file (field, gap or region; if wanted uniformity, stray, temperature, mass)
and rank layouts with grades, magnet sizes and yoke sections for it, the lightest first. A magnetic
circuit finds them; the best few are then solved in full at draft accuracy and corrected. Where the
target is out of reach it says what bounds it. The file needs no parts; those that it has are not
looked at. With --stock magnets and bars of your list are taken as they are where they do, the gap
opened until the field is right, the cheapest first; cost = "500 EUR" in [target] is then a limit.
FILE may be - for standard input.`,
		Example: `  polewright size my-target.toml
  polewright size my-target.toml --stock my-stock.csv --gain 10
  polewright size my-target.toml -o my-magnet.toml --pick 2`,
		Args: oneArgument("FILE with a [target]", "polewright size my-target.toml"),
		RunE: func(c *cobra.Command, args []string) error {
			switch {
			case solve < 0 || solve > 20:
				return mistake.Of(fmt.Sprintf("--solve %d", solve), "give 0 to 20 candidates to solve")
			case pick < 1:
				return mistake.Of(fmt.Sprintf("--pick %d", pick), "candidates are numbered from 1")
			case !(gain > 0 && gain <= 100):
				return mistake.Of(fmt.Sprintf("--gain %g", gain), "give per cent of the field above zero and up to 100")
			case out == "" && c.Flags().Changed("pick"):
				return mistake.Of("--pick goes with -o", "name the file to write: -o my-magnet.toml")
			}
			if err := canWrite(out, force); err != nil {
				return err
			}
			shelf, err := flagStock(prices)
			if err != nil {
				return err
			}
			d, err := readTarget(c.Context(), args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			s, err := answered(c, quiet, func(progress func(string, float64)) (*polewright.Sizing, error) {
				return polewright.RunSize(c.Context(), d, polewright.SizeOptions{Solve: solve, GainPercent: gain, Stock: shelf, Progress: progress})
			})
			if err != nil {
				return err
			}
			if out != "" {
				if err := writeCandidate(c.ErrOrStderr(), d, s, pick, out, force); err != nil {
					return err
				}
			}
			return show(c, asJSON, s, func(w io.Writer, s *polewright.Sizing) error { return sizeText(w, s, gain) })
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "`FILE` to write a candidate to, as a design file")
	f.IntVar(&pick, "pick", 1, "which candidate to write")
	f.BoolVar(&force, "force", false, forceUsage)
	f.StringVar(&prices, "stock", "", stockUsage)
	f.IntVar(&solve, "solve", 3, "how many of the best candidates to solve in full")
	f.Float64Var(&gain, "gain", 5, "list the changes that gain this many `PER CENT` of the field")
	f.BoolVar(&asJSON, "json", false, jsonUsage)
	f.BoolVar(&quiet, "quiet", false, quietUsage)
	return c
}

func writeCandidate(stderr io.Writer, d *design.Design, s *polewright.Sizing, pick int, out string, force bool) error {
	all := append(slices.Clone(s.Candidates), s.Others...)
	if pick > len(all) {
		return mistake.Of(fmt.Sprintf("--pick %d: there are %d candidates", pick, len(all)), "run without -o to see them")
	}
	text, err := all[pick-1].DesignFile(d)
	if err != nil {
		return err
	}
	if err := writeWhole(out, text, force); err != nil {
		return err
	}
	fmt.Fprintf(stderr, "wrote %s; next: polewright predict %s\n", out, quoted(out))
	return nil
}

// readTarget is readDesign for a file that needs no parts.
func readTarget(ctx context.Context, path string, stdin io.Reader) (*design.Design, error) {
	return readBy(ctx, path, stdin, design.ReadTarget)
}

func sizeText(w io.Writer, s *polewright.Sizing, gain float64) error {
	var b strings.Builder
	if s.Title != "" {
		fmt.Fprintf(&b, "%s\n\n", s.Title)
	}
	fmt.Fprintf(&b, "Wanted: %.4g T over a gap of %.4g mm, magnets at %g °C\n", s.FieldT, 1e3*s.GapM, s.TempC)
	candidatesText(&b, s)
	if len(s.OutOfReach) > 0 {
		fmt.Fprintf(&b, "\nOut of reach\n")
		for _, r := range s.OutOfReach {
			most := ""
			if r.MostT > 0 {
				most = fmt.Sprintf(", at most %.3f T", r.MostT)
			}
			fmt.Fprintf(&b, "  %s%s: %s\n", r.Layout, most, r.Why)
		}
	}
	changesText(&b, s.Changes, gain)
	for _, n := range s.Notes {
		fmt.Fprintf(&b, "\nNote: %s.\n", n)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// candidatesText prints the candidates, with what is to be known of each, and those with other magnets.
func candidatesText(b *strings.Builder, s *polewright.Sizing) {
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	if len(s.Candidates) > 0 {
		fmt.Fprintf(b, "\nCandidates\n")
		fmt.Fprintln(t, "  no\tlayout\tgrade\tmass kg\tmagnets kg\tcircuit T\tsolved T\tcircuit off\tlegs T\tbacks T"+costHead(s.Candidates))
	}
	for i, c := range s.Candidates {
		solved, off := "", ""
		if c.Solved != nil {
			solved, off = fmt.Sprintf("%.4f", c.Solved.GapT), fmt.Sprintf("%+.1f %%", c.Solved.CircuitError)
		}
		fmt.Fprintf(t, "  %d\t%s\t%s\t%.3g\t%.3g\t%.4f\t%s\t%s\t%s\t%s%s\n", i+1, c.Layout, c.Grade, c.MassKg, c.MagnetKg, c.GapT, solved, off, tesla(c.LegT), tesla(c.BackT), costCells(c))
	}
	t.Flush()
	for i, c := range s.Candidates {
		fmt.Fprintf(b, "\n%d %s: %s\n", i+1, c.Layout, lengthsText(c.Lengths))
		if c.GapM > s.GapM+1e-9 {
			fmt.Fprintf(b, "  the gap is opened to %.4g mm, as the magnets give more than is wanted at %.4g mm\n", 1e3*c.GapM, 1e3*s.GapM)
		}
		for _, m := range c.NotInStock {
			fmt.Fprintf(b, "  missing: %s\n", m)
		}
		if c.Uniformity > 0 {
			fmt.Fprintf(b, "  about %.2g %% from lowest to highest over the region, by the circuit\n", c.Uniformity/1e4)
		}
		if c.Solved != nil && len(c.Solved.Missed) == 0 {
			fmt.Fprintf(b, "  solved at draft: all met (%d solves)\n", c.Solved.Solves)
		} else if c.Solved != nil {
			fmt.Fprintf(b, "  NOT MET after %d solves: %s\n", c.Solved.Solves, strings.Join(c.Solved.Missed, "; "))
		}
	}
	if len(s.Others) == 0 {
		return
	}
	fmt.Fprintf(b, "\nWith other magnets, by the circuit\n")
	fmt.Fprintln(t, "  no\tlayout\tgrade\tmass kg\tmagnets kg"+costHead(s.Others))
	for i, c := range s.Others[:min(12, len(s.Others))] {
		fmt.Fprintf(t, "  %d\t%s\t%s\t%.3g\t%.3g%s\n", len(s.Candidates)+i+1, c.Layout, c.Grade, c.MassKg, c.MagnetKg, costCells(c))
	}
	t.Flush()
}

// changesText prints what gains a share of the field, per cent.
func changesText(b *strings.Builder, list []polewright.Change, gain float64) {
	if len(list) > 0 {
		fmt.Fprintf(b, "\nWhat gains %g %% of the field in candidate 1, by the circuit\n", gain)
	}
	for _, c := range list {
		short, cost := "", ""
		if !c.Full {
			short = ", no more"
		}
		if c.Cost != nil {
			cost = ", about " + plus(*c.Cost)
		}
		fmt.Fprintf(b, "  %+.1f %%%s, %+.3f kg%s: %s\n", c.Gain, short, c.MassKg, cost, c.What)
	}
}

// costHead names the columns of costCells.
func costHead(list []polewright.Candidate) string {
	if list[0].Cost == nil {
		return ""
	}
	return "\tcost " + list[0].Cost.Currency + "\tmagnets from"
}

// costCells are the cost of a candidate, marked where some of it is not known, and the magnets of the list that it takes.
func costCells(c polewright.Candidate) string {
	if c.Cost == nil {
		return ""
	}
	cost, from := amount(*c.Cost), "not in stock"
	if len(c.NotInStock) > 0 {
		cost = "over " + cost
	}
	if c.Stock != "" {
		from = c.Stock
		if c.Stacked > 1 {
			from += fmt.Sprintf(", %d put together", c.Stacked)
		}
	}
	return "\t" + cost + "\t" + from
}

// plus is money with its sign.
func plus(m quantity.Money) string {
	if s := m.String(); strings.HasPrefix(s, "-") {
		return s
	}
	return "+" + m.String()
}

// tesla is a flux density, empty for none.
func tesla(b float64) string {
	if b == 0 {
		return ""
	}
	return fmt.Sprintf("%.2f", b)
}

// lengthsText lists lengths in mm by name.
func lengthsText(lengths map[string]float64) string {
	var list []string
	for name, x := range lengths {
		list = append(list, fmt.Sprintf("%s %.4g", name, 1e3*x))
	}
	slices.Sort(list)
	return strings.Join(list, ", ") + " mm"
}
