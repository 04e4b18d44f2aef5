package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"polewright/mistake"
)

func manCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "man -o DIR",
		Short: "Write the manual pages",
		Long: `Write a manual page of the program and one of each command, in the format of man, into a folder: put
them where man looks, such as ~/.local/share/man/man1.`,
		Example: `  polewright man -o ~/.local/share/man/man1
  man polewright-predict`,
		Args: noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			if out == "" {
				return mistake.Of("man needs a folder", "for example: polewright man -o ~/.local/share/man/man1")
			}
			if err := os.MkdirAll(out, 0o777); err != nil {
				return mistake.Of(fmt.Sprintf("%s: cannot be made: %s", out, reason(err)), "name another folder")
			}
			root := c.Root()
			for _, k := range append([]*cobra.Command{root}, root.Commands()...) {
				if err := writeWhole(filepath.Join(out, manName(k)+".1"), manPage(k), true); err != nil {
					return err
				}
			}
			_, err := fmt.Fprintf(c.ErrOrStderr(), "wrote %d pages into %s\n", 1+len(root.Commands()), out)
			return err
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "`DIR` to write into; made if it is not there")
	return c
}

func manName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

// roff keeps letters that troff would take for its own, or set as others than somebody may copy to a shell: groff_char(7).
var roff = strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "^", `\(ha`, "~", `\(ti`)

// roffPage is a page in the language of man.
type roffPage struct{ bytes.Buffer }

func (b *roffPage) section(name string) { fmt.Fprintf(b, ".SH %s\n", name) }

// text writes lines as they are; none of them is a command.
func (b *roffPage) text(text string) {
	for line := range strings.Lines(text) {
		line = roff.Replace(strings.TrimSuffix(line, "\n"))
		if strings.HasPrefix(line, ".") {
			line = `\&` + line
		}
		fmt.Fprintln(b, line)
	}
}

// prose writes paragraphs; indented lines keep their ends.
func (b *roffPage) prose(text string) {
	asItIs, first, apart := false, true, false
	for line := range strings.Lines(text) {
		indented := strings.HasPrefix(line, "  ")
		switch {
		case strings.TrimSpace(line) == "":
			apart = true
			continue
		case indented && !asItIs:
			fmt.Fprintln(b, ".PP\n.EX")
		case !indented && asItIs:
			fmt.Fprintln(b, ".EE\n.PP")
		case indented && apart:
			fmt.Fprintln(b)
		case apart && !first:
			fmt.Fprintln(b, ".PP")
		}
		asItIs, first, apart = indented, false, false
		b.text(line)
	}
	if asItIs {
		fmt.Fprintln(b, ".EE")
	}
}

// flag writes what a flag does, with its default.
func (b *roffPage) flag(f *pflag.Flag) {
	name, usage := pflag.UnquoteUsage(f)
	tag := `\fB` + roff.Replace("--"+f.Name) + `\fR`
	if f.Shorthand != "" {
		tag = `\fB` + roff.Replace("-"+f.Shorthand) + `\fR, ` + tag
	}
	if name != "" {
		tag += ` \fI` + roff.Replace(name) + `\fR`
	}
	switch f.DefValue {
	case "", "false", "0", "[]", "0s":
	default:
		if !strings.Contains(usage, "(default") {
			usage += " (default " + f.DefValue + ")"
		}
	}
	fmt.Fprintf(b, ".TP\n%s\n", tag)
	b.text(usage)
}

// manPage is the page of one command, in the macros of man(7); the same program writes the same page. It says what --help says: in the text a line
// with spaces before it stands as it is.
func manPage(c *cobra.Command) []byte {
	var b roffPage
	fmt.Fprintf(&b, ".TH %q 1 \"\" %q %q\n", strings.ToUpper(manName(c)), "polewright "+version(), "polewright")
	fmt.Fprintln(&b, ".nr HY 0") // no hyphens: paths of parameters and names of files would be parted
	b.section("NAME")
	b.text(manName(c) + " - " + c.Short)
	b.section("SYNOPSIS")
	usage := c.Use
	if c.HasParent() {
		usage = c.Parent().Name() + " " + usage
	} else {
		usage += " COMMAND [flags]"
	}
	b.text(usage)
	b.section("DESCRIPTION")
	text := c.Long
	if text == "" {
		text = c.Short + "."
	}
	b.prose(text)
	if !c.HasParent() {
		b.section("COMMANDS")
		for _, k := range c.Commands() {
			fmt.Fprintf(&b, ".TP\n.B %s\n", roff.Replace(k.Name()))
			b.text(k.Short)
		}
	}
	b.section("OPTIONS")
	c.Flags().VisitAll(b.flag)
	if c.Example != "" {
		b.section("EXAMPLES")
		b.prose(c.Example)
	}
	b.section("SEE ALSO")
	var others []string
	if c.HasParent() {
		others = append(others, manName(c.Parent())+"(1)")
	}
	for _, k := range c.Commands() {
		others = append(others, manName(k)+"(1)")
	}
	b.text(strings.Join(others, ", "))
	return b.Bytes()
}
