package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"os"
	"time"

	"github.com/spf13/cobra"

	"polewright/mistake"
	"polewright/web"
)

// benchAddr is where the bench is as long as nothing else is there, so that a page that is left open finds a bench that was started anew.
const benchAddr = "127.0.0.1:7461"

func serveCommand() *cobra.Command {
	var addr string
	c := &cobra.Command{
		Use:   "serve [FOLDER] [flags]",
		Short: "Open the bench: design, see and decide in a browser",
		Long: `Serve the bench, a page in which a magnet is designed, seen and decided on, and print its address. It
works on the design files of FOLDER, the present one without it; nothing is fetched from elsewhere
and nothing is sent. It answers this machine alone, unless --addr says else: then the address that
is printed holds a token, and whoever has it may read and write the design files of FOLDER. The
connection is not encrypted. Ctrl-C ends it.`,
		Example: `  polewright serve
  polewright serve my-magnets --addr 127.0.0.1:8080`,
		Args: func(c *cobra.Command, args []string) error {
			if len(args) > 1 {
				return mistake.Of(fmt.Sprintf("serve takes one FOLDER, not %d", len(args)), "put quotes round a name with spaces")
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			folder := "."
			if len(args) == 1 {
				folder = args[0]
			}
			if info, err := os.Stat(folder); err != nil || !info.IsDir() {
				return mistake.Of(fmt.Sprintf("there is no folder %s", folder), "make it first, or name one that is there")
			}
			l, err := listen(addr)
			if err != nil {
				return err
			}
			defer l.Close()
			bench, err := web.New(web.Options{Folder: folder, Version: version(), Program: programKey(), Addr: l.Addr().String(), Today: func() string { return time.Now().Format(time.DateOnly) }})
			if err != nil {
				return mistake.Of(err.Error(), "name another folder")
			}
			defer bench.Close()
			if _, err := fmt.Fprintln(c.OutOrStdout(), bench.URL()); err != nil {
				return err
			}
			return serve(c.Context(), l, bench, c.ErrOrStderr())
		},
	}
	c.Flags().StringVar(&addr, "addr", "", "`HOST:PORT` to listen at; "+benchAddr+" without it, or any free port if that is taken")
	return c
}

// listen takes the address asked for, or the bench's own, or any on this machine.
func listen(addr string) (net.Listener, error) {
	if addr == "" {
		if l, err := net.Listen("tcp", benchAddr); err == nil {
			return l, nil
		}
		return net.Listen("tcp", "127.0.0.1:0")
	}
	l, err := net.Listen("tcp", addr)
	var fault *net.OpError
	if errors.As(err, &fault) {
		err = fault.Err
	}
	if err != nil {
		return nil, mistake.Of(fmt.Sprintf("--addr %q: %v", addr, err), "for example --addr 127.0.0.1:8080; leave it out for any free port")
	}
	return l, nil
}

// serve answers until ctx ends.
func serve(ctx context.Context, l net.Listener, bench http.Handler, stderr io.Writer) error {
	s := &http.Server{Handler: bench, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 64 << 10,
		ErrorLog: log.New(stderr, "polewright: ", 0), BaseContext: func(net.Listener) context.Context { return ctx }}
	done := make(chan error, 1)
	go func() { done <- s.Serve(l) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	wait, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	if s.Shutdown(wait) != nil {
		s.Close()
	}
	return nil
}
