package main

import (
	"cmp"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"polewright/mistake"
	"polewright/quantity"
	"polewright/stock"
)

func stockCommand() *cobra.Command {
	var asJSON, example bool
	c := &cobra.Command{
		Use:   "stock [FILE.csv] [flags]",
		Short: "Check and print a list of magnets, bar and wire with prices",
		Long: `Read your own list of what you have or can buy, as CSV text: a line for each magnet (block, disc,
ring), bar or plate (flat, round, tube) and spool of wire, with its sizes, material and price. The
header names the columns with their units and the currency, as in length_mm and price_EUR. All
mistakes are told at once. An invented list to begin with comes from --example.
parts, report and size take such a list with --stock. FILE.csv may be - for standard input.`,
		Example: `  polewright stock --example > my-stock.csv
  polewright stock my-stock.csv`,
		Args: func(c *cobra.Command, args []string) error {
			if example {
				return noArguments(c, args)
			}
			return oneArgument("list FILE.csv, or --example", "polewright stock my-stock.csv")(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			if example && asJSON {
				return mistake.Of("--example and --json", "keep one: the example is CSV text")
			}
			if example {
				_, err := c.OutOrStdout().Write(stock.Starter())
				return err
			}
			list, err := readStock(args[0], c.InOrStdin())
			if err != nil {
				return err
			}
			return show(c, asJSON, list, stockText)
		},
	}
	c.Flags().BoolVar(&example, "example", false, "write an invented list to begin one's own from")
	c.Flags().BoolVar(&asJSON, "json", false, jsonUsage)
	return c
}

const stockUsage = "`FILE.csv` with what you have or can buy, and prices; see polewright stock"

// flagStock reads the list that --stock names; nil for none.
func flagStock(path string) (*stock.List, error) {
	switch path {
	case "":
		return nil, nil
	case "-":
		return nil, mistake.Of("--stock -: standard input is for the design", "name a file: --stock my-stock.csv")
	}
	return readStock(path, nil)
}

// readStock reads the list at path, or stdin for "-".
func readStock(path string, stdin io.Reader) (*stock.List, error) {
	if path == "-" {
		return stock.Read(stdin, "standard input")
	}
	list, err := stock.ReadFile(path)
	return list, nearbyFile(path, err)
}

func stockText(w io.Writer, list *stock.List) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "name\tshape\tmaterial\tsize mm\tmass kg\tprice "+list.Currency+"\tunit\tavailable\treference")
	for _, l := range list.Lines {
		available := "as wanted"
		if l.Limited {
			available = fmt.Sprint(l.Available)
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\n", l.Name, l.Shape, l.Material, l.Size(), figure(l.MassKg), amount(list.Money(l.Price)), l.Unit(), available, l.Reference)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "%d lines, no mistakes found\n", len(list.Lines))
	return err
}

// figure is a mass in kg to three figures, without the unit.
func figure(kg float64) string { return strings.TrimSuffix(quantity.Format(kg, "kg", 3), " kg") }

// amount is money without its currency, for a column that names it.
func amount(m quantity.Money) string { return strings.TrimSuffix(m.String(), " "+m.Currency) }

// billText prints what the parts are made from, what to buy and what is missing.
func billText(out io.Writer, list *stock.List, b *stock.Bill) error {
	w := new(strings.Builder)
	fmt.Fprintf(w, "\nMade from the stock of %s\n", list.File)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "  part\tnumber\tshape, size\tmaterial\tmass kg\tfrom\twork")
	for _, r := range b.Parts {
		from := cmp.Or(r.Stock, "NOT IN STOCK")
		fmt.Fprintf(t, "  %s\t%d\t%s\t%s\t%s\t%s\t%s\n", r.Letter, len(r.Names), r.What, r.Material, figure(r.MassKg), from, r.Work)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if len(b.Buy) > 0 {
		fmt.Fprintf(w, "\nTo buy; cuts with %g mm for facing and %g mm for the saw, wire with %g %% spare\n", 1e3*stock.FacingM, 1e3*stock.KerfM, 100*stock.WireSpare)
		fmt.Fprintln(t, "  number\tunit\tname\treference\tprice "+b.Currency+"\tcost "+b.Currency+"\tcuts")
		for _, p := range b.Buy {
			fmt.Fprintf(t, "  %d\t%s\t%s\t%s\t%s\t%s\t%s\n", p.Number, p.Unit(), p.Name, p.Reference, amount(list.Money(p.Price)), amount(list.Money(p.Cost)), p.Offcuts())
		}
		if err := t.Flush(); err != nil {
			return err
		}
		for _, p := range b.Buy {
			for i, bar := range p.Bars {
				fmt.Fprintf(w, "  %s, bar %d: %s\n", p.Name, i+1, cutsText(bar))
			}
		}
	}
	fmt.Fprintf(w, "\nCost %s, parts %s\n", list.Money(b.Cost), quantity.Format(b.MassKg, "kg", 4))
	if b.Limit != nil {
		verdict := "met"
		if !b.Limit.Met {
			verdict = "NOT MET"
		}
		fmt.Fprintf(w, "Target: at most %s: %s\n", list.Money(b.Limit.Most), verdict)
	}
	for i, m := range b.Missing {
		if i == 0 {
			fmt.Fprintln(w, "Missing; what is not in stock is not in the cost:")
		}
		fmt.Fprintf(w, "  %s\n", m)
	}
	for line := range strings.Lines(w.String()) {
		if _, err := fmt.Fprintln(out, strings.TrimRight(line, " \n")); err != nil {
			return err
		}
	}
	return nil
}

// cutsText lists the cuts of a bar in mm.
func cutsText(b stock.Bar) string {
	var list []string
	for _, c := range b.Cuts {
		list = append(list, fmt.Sprintf("%s (%s)", strings.TrimSuffix(quantity.Format(c.LengthM, "mm", 6), " mm"), strings.Join(c.Parts, " beside ")))
	}
	return strings.Join(list, ", ") + " mm"
}
