package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"polewright/design"
)

func schemaCommand() *cobra.Command {
	var out string
	var force bool
	c := &cobra.Command{
		Use:   "schema [flags]",
		Short: "Write the JSON Schema of the design file, for editors",
		Long: `Write the JSON Schema (draft 7) of the design file. An editor of TOML that knows schemas then
completes keys, explains them and marks mistakes while you write. Put the line

  #:schema ./polewright.schema.json

at the top of a design file, or name the file in your editor's settings. What takes more than one
table to see, such as parts that overlap, is for predict to say.`,
		Example: `  polewright schema -o polewright.schema.json`,
		Args:    noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			if out == "" || out == "-" {
				_, err := c.OutOrStdout().Write(design.Schema())
				return err
			}
			if err := writeWhole(out, design.Schema(), force); err != nil {
				return err
			}
			fmt.Fprintf(c.ErrOrStderr(), "wrote %s; next: put #:schema ./%s at the top of a design file beside it\n", out, filepath.Base(out))
			return nil
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "`FILE` to write; standard output without it")
	f.BoolVar(&force, "force", false, forceUsage)
	return c
}
