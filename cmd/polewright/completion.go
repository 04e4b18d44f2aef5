package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"polewright"
	"polewright/design"
	"polewright/mistake"
)

// This file holds what the shell and its reader of manual pages take from the tree of commands.

// shells are those that can complete commands, and how a script for one is written.
var shells = []struct {
	name  string
	write func(root *cobra.Command, w io.Writer) error
}{
	{"bash", func(root *cobra.Command, w io.Writer) error { return root.GenBashCompletionV2(w, true) }},
	{"zsh", func(root *cobra.Command, w io.Writer) error { return root.GenZshCompletion(w) }},
	{"fish", func(root *cobra.Command, w io.Writer) error { return root.GenFishCompletion(w, true) }},
}

func completionCommand() *cobra.Command {
	var names []string
	for _, s := range shells {
		names = append(names, s.name)
	}
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "Write the script by which a shell completes commands",
		Long: `Write the script by which bash, zsh or fish completes the commands, flags, layouts and terms of
polewright when the tabulator key is pressed.`,
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
	accuracies := []string{polewright.Draft.Name, polewright.Standard.Name, polewright.Fine.Name}
	for _, c := range root.Commands() {
		if c.Flags().Lookup("accuracy") != nil {
			_ = c.RegisterFlagCompletionFunc("accuracy", cobra.FixedCompletions(accuracies, cobra.ShellCompDirectiveNoFileComp)) // fails when registered twice
		}
		switch {
		case c.Name() == "new":
			c.ValidArgsFunction = cobra.FixedCompletions(design.Layouts(), cobra.ShellCompDirectiveNoFileComp)
		case strings.HasPrefix(strings.TrimPrefix(c.Use, c.Name()+" "), "FILE"):
			c.ValidArgsFunction = cobra.FixedCompletions([]string{"toml"}, cobra.ShellCompDirectiveFilterFileExt)
		}
	}
}

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
				var page bytes.Buffer
				if err := manPage(k, &page); err != nil {
					return err
				}
				name := strings.ReplaceAll(k.CommandPath(), " ", "-") + ".1"
				if err := writeWhole(filepath.Join(out, name), page.Bytes(), true); err != nil {
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

// manPage writes the page of one command; the same program writes the same page.
func manPage(c *cobra.Command, w io.Writer) error {
	c.DisableAutoGenTag = true
	never := time.Unix(0, 0).UTC()
	var page bytes.Buffer
	if err := doc.GenMan(c, &doc.GenManHeader{Section: "1", Manual: "polewright", Source: "polewright " + version(), Date: &never}, &page); err != nil {
		return err
	}
	_, err := w.Write(bytes.Replace(page.Bytes(), []byte(`"Jan 1970"`), []byte(`""`), 1))
	return err
}
