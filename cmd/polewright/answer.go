package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"polewright"
	"polewright/design"
)

// This file runs what a command is asked for and prints the answer.

// answered is what work finds, with a line of progress on a terminal meanwhile. It returns when the command is stopped, even in the midst of a step that
// does not look.
func answered[T any](c *cobra.Command, quiet bool, work func(progress func(what string, done float64)) (T, error)) (T, error) {
	line := newProgress(c.ErrOrStderr(), quiet)
	defer line.stop()
	return unlessStopped(c.Context(), func() (T, error) { return work(line.report) })
}

// solvedThen is answered for a solve, which takes a share of the progress, and of what is made from it.
func solvedThen[T any](c *cobra.Command, quiet bool, share float64, d *design.Design, o polewright.Options, then func(*polewright.Solved, func(what string, done float64)) (T, error)) (T, error) {
	return answered(c, quiet, func(progress func(string, float64)) (none T, err error) {
		o.Progress = func(what string, done float64) { progress(what, share*done) }
		s, err := polewright.Run(c.Context(), d, o)
		if err != nil {
			return none, err
		}
		return then(s, func(what string, done float64) { progress(what, share+(1-share)*done) })
	})
}

// show prints an answer as one JSON object or as text.
func show[T any](c *cobra.Command, asJSON bool, v T, text func(io.Writer, T) error) error {
	if asJSON {
		return writeJSON(c.OutOrStdout(), v)
	}
	return text(c.OutOrStdout(), v)
}

// writeJSON writes v as one indented object, or nothing when it holds what JSON cannot say.
func writeJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return fmt.Errorf("the answer holds a value that is not a number: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}

// unlessStopped returns when ctx ends, even in the midst of a step that does not look.
func unlessStopped[T any](ctx context.Context, f func() (T, error)) (T, error) {
	type answer struct {
		v   T
		err error
	}
	done := make(chan answer, 1)
	go func() {
		v, err := f()
		done <- answer{v, err}
	}()
	select {
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	case a := <-done:
		return a.v, a.err
	}
}
