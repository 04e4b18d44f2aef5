package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"polewright/glossary"
	"polewright/mistake"
	"polewright/spelling"
)

func explainCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "explain [TERM] [flags]",
		Short: "Explain a term of the trade, a warning or a caution",
		Long: `Explain a term of the trade, or a warning or caution that the program prints: what it is, its unit,
where it matters, what to do. A whole line of an answer will do in place of a term. Without one all
terms are listed.`,
		Example: `  polewright explain remanence
  polewright explain Pc
  polewright explain "left leg is saturated (mean 1.95 T of 2.12 T)"`,
		Args: cobra.ArbitraryArgs,
		RunE: func(c *cobra.Command, args []string) error {
			w := c.OutOrStdout()
			if len(args) == 0 {
				if asJSON {
					return writeJSON(w, glossary.Entries())
				}
				return listTerms(w)
			}
			e, err := explained(strings.Join(args, " "))
			if err != nil {
				return err
			}
			if asJSON {
				return writeJSON(w, e)
			}
			return writeEntry(w, e)
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return glossary.Names(), cobra.ShellCompDirectiveNoFileComp
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON in place of text: an object, or without a term a list")
	return c
}

// explained is the entry of a term or of a printed line.
func explained(given string) (glossary.Entry, error) {
	if e, ok := glossary.Find(given); ok {
		return e, nil
	}
	if e, ok := glossary.Said(given); ok {
		return e, nil
	}
	return glossary.Entry{}, mistake.Of(fmt.Sprintf("there is nothing on %q", given), spelling.Meant(given, glossary.Names(), "polewright explain lists what there is"))
}

func writeEntry(w io.Writer, e glossary.Entry) error {
	var b strings.Builder
	b.WriteString(e.Term)
	if len(e.Also) > 0 {
		b.WriteString(" (also " + strings.Join(e.Also, ", ") + ")")
	}
	b.WriteString("\n")
	for _, part := range []struct{ head, text string }{{"", e.Text}, {"unit", e.Unit}, {"matters", e.Matters}, {"do", e.Do}} {
		if part.text != "" {
			b.WriteString(hanging(part.head, part.text))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// hanging sets a text at 100 columns beside its head.
func hanging(head, text string) string {
	const indent, most = 11, 100
	line := fmt.Sprintf("  %-*s", indent-2, head)
	var b strings.Builder
	width := 0
	for _, word := range strings.Fields(text) {
		n := len([]rune(word))
		if width > 0 && indent+width+1+n > most {
			b.WriteString(line + "\n")
			line, width = strings.Repeat(" ", indent), 0
		}
		if width > 0 {
			line += " "
			width++
		}
		line += word
		width += n
	}
	return b.String() + line + "\n"
}

func listTerms(w io.Writer) error {
	var terms, warnings, cautions []string
	for _, e := range glossary.Entries() {
		switch {
		case e.Caution != "":
			cautions = append(cautions, e.Term)
		case len(e.Says) > 0:
			warnings = append(warnings, e.Term)
		default:
			terms = append(terms, e.Term)
		}
	}
	_, err := fmt.Fprintf(w, "Terms:\n%s\n\nWarnings:\n%s\n\nCautions:\n%s\n\nNext: polewright explain TERM\n", folded(terms), folded(warnings), folded(cautions))
	return err
}
