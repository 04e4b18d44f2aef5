//go:build long

package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/nats-io/nats-server/v2/server"
)

// Three workers in network namespaces of their own share a sweep. One of them is killed, the server restarts, another worker is cut off for a while;
// all designs are solved, each once but for those that a cut or a kill interrupted. It needs root and iproute2.
func TestThreeMachines(t *testing.T) {
	machines(t)
	dir := t.TempDir()
	program := filepath.Join(dir, "polewright")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	s := serverIn(t, dir)
	defer func() { s.Shutdown(); s.WaitForShutdown() }()
	const url = "nats://10.213.77.1:4299"
	workers := threeWorkers(t, program, url)
	design := filepath.Join(dir, "pair.toml")
	text := "format = 1\n[layout]\nkind = \"framed-pair\"\n"
	if err := os.WriteFile(design, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	const count = 120
	sweep := exec.Command(program, "sweep", design, "--nats", url, "--workers", "0", "--figures", "gap field", "--vary", fmt.Sprintf("layout.gap = 10..30 mm in %d", count), "--json")
	sweep.Stderr = os.Stderr
	pipe, err := sweep.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := sweep.Start(); err != nil {
		t.Fatal(err)
	}
	seen := map[int]int{}
	by := map[string]bool{}
	var again sync.WaitGroup
	lines := bufio.NewScanner(pipe)
	for lines.Scan() {
		var row struct {
			Index  int
			Error  string
			Worker string
		}
		if err := json.Unmarshal(lines.Bytes(), &row); err != nil || row.Error != "" {
			t.Errorf("%v: %s", err, lines.Text())
		}
		seen[row.Index]++
		by[row.Worker] = true
		switch len(seen) {
		case count / 6:
			t.Logf("a worker is killed after %d", len(seen))
			workers[0].Process.Kill()
		case count / 3:
			t.Logf("the server restarts after %d", len(seen))
			s.Shutdown()
			s.WaitForShutdown()
			time.Sleep(2 * time.Second)
			s = serverIn(t, dir)
		case count / 2:
			t.Logf("a worker is cut off after %d", len(seen))
			ip(t, "link set pw-out2 down")
			again.Go(func() { time.Sleep(8 * time.Second); ip(t, "link set pw-out2 up") })
		}
	}
	again.Wait()
	if err := sweep.Wait(); err != nil {
		t.Fatal(err)
	}
	for i := range count {
		if seen[i] != 1 {
			t.Errorf("design %d has %d rows", i, seen[i])
		}
	}
	if len(by) != 3 {
		t.Errorf("%d workers took part, not 3", len(by))
	}
}

// machines makes three network namespaces behind a bridge, 10.213.77.11 to .13, or skips the test where that cannot be.
func machines(t *testing.T) {
	t.Helper()
	if out, err := exec.Command("ip", "netns", "add", "pw-try").CombinedOutput(); err != nil {
		t.Skipf("NOT CHECKED: three workers on three machines. Network namespaces cannot be made here (%v: %s); run it as root with iproute2", err, out)
	}
	ip(t, "netns del pw-try")
	ip(t, "link add pw-bridge type bridge")
	t.Cleanup(func() { exec.Command("ip", "link", "del", "pw-bridge").Run() })
	ip(t, "addr add 10.213.77.1/24 dev pw-bridge")
	ip(t, "link set pw-bridge up")
	for i := 1; i <= 3; i++ {
		name := fmt.Sprintf("pw-%d", i)
		ip(t, "netns add "+name)
		t.Cleanup(func() { exec.Command("ip", "netns", "del", name).Run() })
		ip(t, fmt.Sprintf("link add pw-out%d type veth peer name eth0 netns %s", i, name))
		ip(t, fmt.Sprintf("link set pw-out%d master pw-bridge up", i))
		ip(t, fmt.Sprintf("-n %s addr add 10.213.77.%d/24 dev eth0", name, 10+i))
		ip(t, fmt.Sprintf("-n %s link set eth0 up", name))
	}
}

// serverIn starts the server on the bridge, with its store in a folder.
func serverIn(t *testing.T, dir string) *server.Server {
	t.Helper()
	s, err := server.NewServer(&server.Options{Host: "10.213.77.1", Port: 4299, JetStream: true, StoreDir: filepath.Join(dir, "server"), NoSigs: true, NoLog: true, PingInterval: 2 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	s.Start()
	if !s.ReadyForConnections(20 * time.Second) {
		t.Fatal("the server did not start")
	}
	return s
}

// threeWorkers start one on each machine.
func threeWorkers(t *testing.T, program, url string) (workers []*exec.Cmd) {
	t.Helper()
	for i := 1; i <= 3; i++ {
		c := exec.Command("ip", "netns", "exec", fmt.Sprintf("pw-%d", i), program, "worker", "--nats", url, "--workers", "1")
		c.Stderr = os.Stderr
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { c.Process.Kill(); c.Wait() })
		workers = append(workers, c)
	}
	return workers
}

func ip(t *testing.T, args string) {
	t.Helper()
	if out, err := exec.Command("ip", strings.Fields(args)...).CombinedOutput(); err != nil {
		t.Errorf("ip %s: %v: %s", args, err, out)
	}
}
