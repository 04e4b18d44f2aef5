// Command polewright predicts, from a design file, what a permanent-magnet gap assembly will do.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"polewright"
	"polewright/magnetostatic"
	"polewright/mistake"
	"polewright/spelling"
)

// Exit codes that scripts rely on.
const (
	solved   = 0
	unmet    = 1 // with --strict: a target or a safety check is not met
	badInput = 2 // a design file, a flag, a file that cannot be read or written
	unsolved = 3 // no answer: not converged, stopped, or a fault
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is the program without the process: it returns the exit code.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop) // a second Ctrl-C ends the program at once
	root := commands(stdin, stdout, stderr)
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if err != nil {
		fmt.Fprintln(stderr, message(err))
	}
	return code(err)
}

// unmetError lists what --strict does not let pass.
type unmetError []string

func (e unmetError) Error() string { return "not met: " + strings.Join(e, "\nnot met: ") }

func code(err error) int {
	var bad *mistake.Error
	var missed unmetError
	var plane *polewright.PlaneError
	switch {
	case err == nil:
		return solved
	case errors.As(err, &missed):
		return unmet
	case errors.As(err, &bad) || errors.As(err, &plane):
		return badInput
	default:
		return unsolved
	}
}

func message(err error) string {
	var mistakes mistake.Errors
	var missed unmetError
	switch {
	case errors.As(err, &missed) || errors.As(err, &mistakes):
		return err.Error() // file and line come first, as editors expect
	case errors.Is(err, context.Canceled):
		return "polewright: stopped before there was an answer"
	case errors.Is(err, magnetostatic.ErrNotConverged):
		return fmt.Sprintf("polewright: %v\n  hint: look for parts far thinner than the rest and for a curve file with a kink; or try another --accuracy", err)
	default:
		return "polewright: " + err.Error()
	}
}

// commands builds the tree of commands.
func commands(stdin io.Reader, stdout, stderr io.Writer) *cobra.Command {
	root := &cobra.Command{
		Use:   "polewright",
		Short: "Predict what a permanent-magnet gap assembly will do",
		Long: `polewright predicts the field, the forces, the stray field and the losses of an assembly of
permanent magnets and a steel yoke round an air gap, from a design file in which every length has
its unit.

Exit status: 0 done; 1 with --strict, a target or a safety check is not met; 2 bad input;
3 no answer (not solved to tolerance, or stopped).`,
		Example: `  polewright demo
  polewright new framed-pair -o my-magnet.toml
  polewright predict my-magnet.toml`,
		SilenceErrors:     true,
		SilenceUsage:      true,
		Args:              cobra.ArbitraryArgs,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		RunE: func(c *cobra.Command, args []string) error {
			if asked, err := c.Flags().GetBool("version"); asked || err != nil {
				fmt.Fprintln(c.OutOrStdout(), "polewright", version())
				return err
			}
			if len(args) == 0 {
				return c.Help()
			}
			return unknownCommand(c, args[0])
		},
	}
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	root.SetFlagErrorFunc(flagError)
	root.AddCommand(demoCommand(), newCommand(), sizeCommand(), predictCommand(), approachCommand(), assembleCommand(), windCommand(), verifyCommand(), gapCommand(), strayCommand(), toleranceCommand(), safetyCommand(), sheetCommand(), inspectCommand(), shimCommand(), fieldCommand(), drawCommand(), partsCommand(), stockCommand(), sweepCommand(), searchCommand(), workerCommand(), reportCommand(), serveCommand(), checkCommand(), explainCommand(), schemaCommand(), completionCommand(), manCommand())
	root.SetHelpCommand(&cobra.Command{
		Use: "help [COMMAND]", Short: "Explain a command", Example: "  polewright help predict",
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return root.Help()
			}
			for _, k := range root.Commands() {
				if k.Name() == args[0] {
					k.InitDefaultHelpFlag()
					return k.Help()
				}
			}
			return unknownCommand(root, args[0])
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) (names []string, _ cobra.ShellCompDirective) {
			for _, k := range root.Commands() {
				if len(args) == 0 {
					names = append(names, k.Name()+"\t"+k.Short)
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
	})
	root.Flags().Bool("version", false, "print the version")
	for _, c := range append(root.Commands(), root) {
		c.Flags().BoolP("help", "h", false, "explain this command")
		c.Flags().SortFlags = false
		c.DisableFlagsInUseLine = true
	}
	complete(root)
	return root
}

// release and commit are written by the linker when a release is built (release/main.go).
var release, commit string

// version is that of the build: a release's tag, or what Go knows of where the source came from, and the commit.
func version() string {
	v, hash := release, commit
	if info, ok := debug.ReadBuildInfo(); ok {
		if v == "" && info.Main.Version != "(devel)" {
			v = info.Main.Version
		}
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" && hash == "" && len(s.Value) >= 12 {
				hash = s.Value[:12]
			}
		}
	}
	if v == "" {
		return "unreleased"
	}
	if hash == "" || strings.Contains(v, hash) {
		return v
	}
	return v + " (" + hash + ")"
}

func unknownCommand(root *cobra.Command, given string) error {
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	return mistake.Of(fmt.Sprintf("there is no command %q", given), spelling.Meant(given, names, "there are "+strings.Join(names, ", ")))
}

// flagError explains a flag that cobra could not take.
func flagError(c *cobra.Command, err error) error {
	hint := "see " + c.CommandPath() + " --help"
	var unknown *pflag.NotExistError
	if errors.As(err, &unknown) {
		var names []string
		c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		if best := spelling.Nearest(unknown.GetSpecifiedName(), names); best != "" {
			hint = fmt.Sprintf("did you mean --%s? %s", best, hint)
		}
	}
	return mistake.Of(err.Error(), hint)
}

// oneArgument says in our own words what a command takes; what is the argument's name in its usage line.
func oneArgument(what, example string) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		hint := "for example: " + example
		switch len(args) {
		case 0:
			return mistake.Of(fmt.Sprintf("%s needs a %s", c.Name(), what), hint)
		case 1:
			return nil
		}
		return mistake.Of(fmt.Sprintf("%s takes one %s, not %d", c.Name(), what, len(args)), hint+" (put quotes round a name with spaces)")
	}
}

func noArguments(c *cobra.Command, args []string) error {
	if len(args) > 0 {
		return mistake.Of(fmt.Sprintf("%s takes no %q", c.Name(), args[0]), "see "+c.CommandPath()+" --help")
	}
	return nil
}
