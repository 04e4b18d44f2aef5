package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"polewright/design"
	"polewright/mistake"
	"polewright/wholefile"
)

func newCommand() *cobra.Command {
	var out string
	var force, list, lengths bool
	layouts := strings.Join(design.Layouts(), ", ")
	c := &cobra.Command{
		Use:   "new LAYOUT [flags]",
		Short: "Write a commented design file to start from",
		Long: `Write a commented design file of a layout, every part written out, to change to your own magnet.
Layouts:
` + folded(design.Layouts()),
		Example: `  polewright new framed-pair -o my-magnet.toml
  polewright new --list`,
		Args: func(c *cobra.Command, args []string) error {
			if list {
				return noArguments(c, args)
			}
			return oneArgument("LAYOUT", "polewright new framed-pair -o my-magnet.toml; layouts: "+layouts)(c, args)
		},
		RunE: func(c *cobra.Command, args []string) error {
			if list {
				_, err := io.WriteString(c.OutOrStdout(), strings.Join(design.Layouts(), "\n")+"\n")
				return err
			}
			text, err := design.Template(args[0])
			if err != nil {
				return err
			}
			if lengths {
				text = fmt.Sprintf("# In place of the magnets and the steel: the layout from its lengths, each of which sweeps and searches can vary.\n[layout]\nkind = %q\n%s", args[0], design.DescribeLayout(args[0]))
			}
			if out == "" || out == "-" {
				_, err := io.WriteString(c.OutOrStdout(), text)
				return err
			}
			if err := writeWhole(out, []byte(text), force); err != nil {
				return err
			}
			fmt.Fprintf(c.ErrOrStderr(), "wrote %s; next: polewright predict %s\n", out, quoted(out))
			return nil
		},
	}
	f := c.Flags()
	f.StringVarP(&out, "output", "o", "", "`FILE` to write; standard output without it")
	f.BoolVar(&force, "force", false, forceUsage)
	f.BoolVar(&list, "list", false, "list the layouts, one name a line")
	f.BoolVar(&lengths, "lengths", false, "write only the short form, a [layout] table with the lengths it takes")
	return c
}

// folded lists words with commas between, some to a line.
func folded(words []string) string {
	var b strings.Builder
	width := 0
	for i, w := range words {
		switch {
		case i == 0 || width+len(w) > 90:
			if i > 0 {
				b.WriteString(",\n")
			}
			width = 2
			b.WriteString("  ")
		default:
			b.WriteString(", ")
		}
		width += len(w) + 2
		b.WriteString(w)
	}
	return b.String()
}

// writeWhole writes a file of data as [writeStream] does.
func writeWhole(path string, data []byte, force bool) error {
	return writeStream(path, force, func(w io.Writer) error { _, err := w.Write(data); return err })
}

// canWrite tells whether a file of that name may be written: its folder is there, and the name is free or, with force, an ordinary file's. "" stands for
// no file.
func canWrite(path string, force bool) error {
	if path == "" {
		return nil
	}
	fail := func(what, hint string) error { return mistake.Of(fmt.Sprintf("%s: %s", path, what), hint) }
	info, err := os.Lstat(path)
	switch {
	case err == nil && info.IsDir():
		return fail("is a folder", "name a file in it: -o "+quoted(filepath.Join(path, "my-magnet.toml")))
	case err == nil && !force:
		return fail("is there already", "choose another name, or overwrite it with --force")
	case err == nil && !info.Mode().IsRegular():
		return fail("is no ordinary file", "choose another name")
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return fail(reason(err), "choose another name")
	}
	folder := filepath.Dir(path)
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return fail(fmt.Sprintf("there is no folder %s", folder), "make the folder first, or name one that is there")
	}
	return nil
}

// writeStream writes a file as [wholefile.Write] does. A file that is there already is left alone unless force is set.
func writeStream(path string, force bool, write func(io.Writer) error) error {
	fail := func(what, hint string) error { return mistake.Of(fmt.Sprintf("%s: %s", path, what), hint) }
	if err := canWrite(path, force); err != nil {
		return err
	}
	folder, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return fail("cannot be written: "+reason(err), "check who may read the folder "+filepath.Dir(path))
	}
	defer folder.Close()
	switch err := wholefile.Write(folder, filepath.Base(path), force, write); {
	case errors.Is(err, fs.ErrExist):
		return fail("is there already", "choose another name, or overwrite it with --force")
	case err != nil:
		return fail("cannot be written: "+reason(err), "check the disk and who may write there")
	}
	return nil
}

// makeFolder makes a folder for what goes into it, unless it is there.
func makeFolder(folder, what string) error {
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return mistake.Of(fmt.Sprintf("%s: the folder cannot be made: %s", folder, reason(err)), "name another folder for the "+what)
	}
	return nil
}

// writeTold is writeStream that tells the user.
func writeTold(c *cobra.Command, path string, force bool, write func(io.Writer) error) error {
	if err := writeStream(path, force, write); err != nil {
		return err
	}
	_, err := fmt.Fprintf(c.ErrOrStderr(), "wrote %s\n", path)
	return err
}

// reason is an error without the path.
func reason(err error) string { return mistake.Cause(err).Error() }

// quoted puts quotes round a name with spaces.
func quoted(name string) string {
	if strings.ContainsAny(name, " \t") {
		return `"` + name + `"`
	}
	return name
}
