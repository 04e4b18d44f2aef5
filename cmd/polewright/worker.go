package main

import (
	"context"
	"fmt"
	"runtime"
	"sync/atomic"

	"github.com/spf13/cobra"

	"polewright/mistake"
	"polewright/study"
)

func workerCommand() *cobra.Command {
	var queue queueFlags
	c := &cobra.Command{
		Use:   "worker --nats URL [flags]",
		Short: "Solve the studies of others, on this machine",
		Long: `Join the workers at a NATS server with JetStream: take designs from the queue that sweep and search
fill there, solve them, and put the answers back, until stopped with Ctrl-C. A worker that dies
loses nothing: another solves what it had begun. All must run the same version of polewright; those
of another version wait for studies of their own.`,
		Example: `  polewright worker --nats nats://lab-server:4222
  polewright worker --nats tls://lab-server:4222 --nats-creds my-user.creds --nats-ca lab-ca.pem`,
		Args: noArguments,
		RunE: func(c *cobra.Command, _ []string) error {
			if queue.url == "" {
				return mistake.Of("worker needs the server that it works for", "for example: polewright worker --nats nats://lab-server:4222")
			}
			q, err := queue.open(c.Context())
			if err != nil {
				return err
			}
			defer q.Close()
			n := queue.workers
			if n <= 0 {
				n = runtime.GOMAXPROCS(0)
			}
			fmt.Fprintf(c.ErrOrStderr(), "waiting for designs to solve, %d at a time; stop with Ctrl-C\n", n)
			var solved, failed atomic.Int64
			err = q.Work(c.Context(), n, func(ctx context.Context, payload []byte) ([]byte, error) {
				answer, err := study.Solve(ctx, payload)
				if err == nil {
					solved.Add(1)
				} else if ctx.Err() == nil {
					failed.Add(1)
				}
				return answer, err
			})
			fmt.Fprintf(c.ErrOrStderr(), "%d designs solved, %d failed\n", solved.Load(), failed.Load())
			return err
		},
	}
	f := c.Flags()
	queue.cluster(f)
	f.IntVar(&queue.workers, "workers", -1, "solve `N` designs at a time (default as many as there are processors)")
	f.Lookup("workers").DefValue = "0" // the help tells the default in words
	return c
}
