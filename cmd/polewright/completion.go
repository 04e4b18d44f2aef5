package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
	"polewright/mistake"
)

// bashScript is our own, for the one that cobra writes cannot complete within quotes, where most values of --vary stand.
//
//go:embed completion.bash
var bashScript string

// shells are those that can complete commands, and how a script for one is written.
var shells = []struct {
	name  string
	write func(root *cobra.Command, w io.Writer) error
}{
	{"bash", func(_ *cobra.Command, w io.Writer) error { _, err := io.WriteString(w, bashScript); return err }},
	{"zsh", func(root *cobra.Command, w io.Writer) error {
		return mended(w, root.GenZshCompletion,
			"out=$(eval ${requestComp} 2>/dev/null)", `out=$(eval "${requestComp}" 2>/dev/null || eval "${requestComp}\"" 2>/dev/null || eval "${requestComp}'" 2>/dev/null)`)
	}},
	{"fish", func(root *cobra.Command, w io.Writer) error {
		return mended(w, func(w io.Writer) error { return root.GenFishCompletion(w, true) },
			"(commandline -opc)", "(commandline -opc | string escape)",
			"(commandline -ct)", `(commandline -ct | string trim --left --chars "\"'")`,
			"(commandline -t |", `(commandline -t | string trim --left --chars "\"'" |`)
	}},
}

// mended writes a script of cobra with some of its text replaced, so that it completes within quotes that are still open, too.
func mended(w io.Writer, write func(io.Writer) error, oldnew ...string) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	script := b.String()
	for i := 0; i < len(oldnew); i += 2 {
		if !strings.Contains(script, oldnew[i]) {
			return fmt.Errorf("the script of cobra has no longer %q", oldnew[i])
		}
		script = strings.ReplaceAll(script, oldnew[i], oldnew[i+1])
	}
	_, err := io.WriteString(w, script)
	return err
}

func completionCommand() *cobra.Command {
	var names []string
	for _, s := range shells {
		names = append(names, s.name)
	}
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "Write the script by which a shell completes commands",
		Long: `Write the script by which bash, zsh or fish completes commands, flags, files, layouts, terms and the
parameters of a design when the tabulator key is pressed. bash needs its package bash-completion.`,
		Example: `  polewright completion bash > ~/.local/share/bash-completion/completions/polewright
  polewright completion zsh > ~/.zfunc/_polewright       (a folder of $fpath)
  polewright completion fish > ~/.config/fish/completions/polewright.fish`,
		ValidArgs: names,
		Args:      oneArgument("SHELL", "polewright completion bash; shells: "+strings.Join(names, ", ")),
		RunE: func(c *cobra.Command, args []string) error {
			for _, s := range shells {
				if s.name == args[0] {
					return s.write(c.Root(), c.OutOrStdout())
				}
			}
			return mistake.Of(fmt.Sprintf("no completion for the shell %q", args[0]), "there are "+strings.Join(names, ", "))
		},
	}
}

// complete tells the shell what stands behind commands and flags beside files.
func complete(root *cobra.Command) {
	words := map[string][]string{
		"accuracy":   {polewright.Draft.Name, polewright.Standard.Name, polewright.Fine.Name},
		"paper":      {"A4", "letter"},
		"projection": {"first", "third"},
	}
	for _, c := range root.Commands() {
		offer := func(flag string, f cobra.CompletionFunc) {
			if c.Flags().Lookup(flag) != nil {
				_ = c.RegisterFlagCompletionFunc(flag, f) // fails when registered twice
			}
		}
		for flag, list := range words {
			offer(flag, cobra.FixedCompletions(list, cobra.ShellCompDirectiveNoFileComp))
		}
		for _, flag := range []string{"stock", "log"} {
			offer(flag, cobra.FixedCompletions([]string{"csv"}, cobra.ShellCompDirectiveFilterFileExt))
		}
		offer("vary", completeParameter)
		if c.ValidArgs == nil && c.ValidArgsFunction == nil {
			c.ValidArgsFunction = completeArgument
		}
	}
}

// completeArgument completes what the usage line of the command asks for.
func completeArgument(c *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
	asked := ""
	if words := strings.Fields(c.Use)[1:]; len(args) < len(words) {
		asked = strings.Trim(words[len(args)], "[]")
	}
	switch {
	case asked == "LAYOUT":
		return design.Layouts(), cobra.ShellCompDirectiveNoFileComp
	case asked == "FILE" || asked == "DESIGN":
		return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
	case strings.HasSuffix(asked, ".csv"):
		return []string{"csv"}, cobra.ShellCompDirectiveFilterFileExt
	case asked == "FOLDER":
		return nil, cobra.ShellCompDirectiveFilterDirs
	}
	return nil, cobra.ShellCompDirectiveNoFileComp
}

// completeParameter completes the path of a parameter of the design that was named before, one word of it at a time, and tells the present value.
func completeParameter(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	const directive = cobra.ShellCompDirectiveNoSpace | cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
	if len(args) == 0 || args[0] == "-" {
		return nil, directive
	}
	_, text, err := readKept(c.Context(), args[0], nil)
	if err != nil {
		return nil, directive
	}
	list, err := design.Parameters(text)
	if err != nil {
		return nil, directive
	}
	known := typed[:strings.LastIndex(typed, ".")+1]
	var found []string
	for _, p := range list {
		rest, ok := strings.CutPrefix(p.Path, known)
		if !ok || !p.Given && p.Value == "" {
			continue
		}
		word, _, more := strings.Cut(rest, ".")
		choice := known + word
		if more {
			choice += "."
		} else {
			choice += "\t" + p.Value
		}
		if strings.HasPrefix(choice, typed) && !slices.Contains(found, choice) {
			found = append(found, choice)
		}
	}
	return found, directive
}
