package jobs

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"fmt"
	"math/big"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/nats-io/jwt/v2"
	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nkeys"
)

// TestMain makes the test's program a worker when it is asked to.
func TestMain(m *testing.M) {
	if url := os.Getenv("QUEUE_TEST_WORKER"); url != "" {
		q, err := Open(context.Background(), Options{URL: url, Version: "test", AckWait: time.Second})
		if err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		err = q.Work(context.Background(), 1, func(ctx context.Context, p []byte) ([]byte, error) {
			switch {
			case bytes.HasPrefix(p, []byte("die")):
				os.Exit(9)
			case bytes.HasPrefix(p, []byte("slow")):
				fmt.Println("begun") // the test kills it now
				time.Sleep(time.Hour)
			}
			return answer(p), nil
		})
		fmt.Println(err)
		os.Exit(1)
	}
	os.Exit(m.Run())
}

func answer(p []byte) []byte { return fmt.Appendf(nil, "%q", "solved "+string(p)) }

func payloads(n int) [][]byte {
	var list [][]byte
	for i := range n {
		list = append(list, fmt.Appendf(nil, "job %d", i))
	}
	return list
}

func opened(t testing.TB, o Options) *Queue {
	t.Helper()
	if o.Version == "" {
		o.Version = "test"
	}
	if o.Dir == "" && o.URL == "" {
		o.Dir = t.TempDir()
	}
	q, err := Open(t.Context(), o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(q.Close)
	return q
}

// working keeps a worker in this process until the test ends or the function that it returns is called.
func working(t testing.TB, q *Queue, n int, solve Solve) (stop func()) {
	ctx, cancel := context.WithCancel(context.Background())
	var gone sync.WaitGroup
	gone.Go(func() {
		if err := q.Work(ctx, n, solve); err != nil {
			t.Errorf("worker: %v", err)
		}
	})
	stop = sync.OnceFunc(func() { cancel(); gone.Wait() })
	t.Cleanup(stop)
	return stop
}

// run is Run of a list, and checks that each has one outcome and, where it did not fail, the right answer.
func run(t testing.TB, q *Queue, list [][]byte, b Batch) []Outcome {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	out := make([]Outcome, len(list))
	count := make([]int, len(list))
	b.Payloads, b.Total = slices.Values(list), len(list)
	b.Each = func(o Outcome) { out[o.Index] = o; count[o.Index]++ }
	if err := q.Run(ctx, b); err != nil {
		t.Fatal(err)
	}
	for i, o := range out {
		if count[i] != 1 {
			t.Errorf("payload %d has %d outcomes", i, count[i])
		}
		if o.Error == "" && !bytes.Equal(o.Payload, answer(list[i])) {
			t.Errorf("payload %d: %q", i, o.Payload)
		}
	}
	return out
}

func counting(n *atomic.Int64) Solve {
	return func(_ context.Context, p []byte) ([]byte, error) {
		n.Add(1)
		return answer(p), nil
	}
}

func TestEachIsSolvedOnce(t *testing.T) {
	dir := t.TempDir()
	var solves atomic.Int64
	list := payloads(40)
	list = append(list, list...) // each twice
	var last Progress
	q := opened(t, Options{Dir: dir})
	working(t, q, 2, counting(&solves))
	run(t, q, list, Batch{Progress: func(p Progress) { last = p }})
	if solves.Load() != 40 {
		t.Errorf("%d solves of 40 different jobs", solves.Load())
	}
	if last.Done != 80 || last.Failed != 0 || last.Running != 0 || last.Total != 80 || last.Known != 40 {
		t.Errorf("progress at the end: %+v", last)
	}
	for _, o := range run(t, q, list, Batch{}) {
		if !o.Known || o.Attempts != 1 || o.Worker == "" {
			t.Errorf("the second time: %+v", o)
		}
	}
	q.Close()
	again := opened(t, Options{Dir: dir}) // the store lasts
	run(t, again, list, Batch{})          // and nobody works
	if solves.Load() != 40 {
		t.Errorf("%d solves after all were known", solves.Load())
	}
	other := opened(t, Options{Version: "newer"})
	if other.Key(list[0]) == again.Key(list[0]) {
		t.Error("another version has the same keys")
	}
}

// A run that is stopped goes on where it ended, in another process after this one.
func TestGoesOnAfterAStop(t *testing.T) {
	dir := t.TempDir()
	list := payloads(60)
	var ended, begun atomic.Int64
	first := opened(t, Options{Dir: dir})
	ctx, cancel := context.WithCancel(t.Context())
	stop := working(t, first, 2, func(ctx context.Context, p []byte) ([]byte, error) {
		begun.Add(1)
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(5 * time.Millisecond):
		}
		ended.Add(1)
		return answer(p), nil
	})
	err := first.Run(ctx, Batch{Payloads: slices.Values(list), Each: func(o Outcome) {
		if ended.Load() > 20 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("stopped with %v", err)
	}
	stop()
	first.Close()
	second := opened(t, Options{Dir: dir})
	var rest atomic.Int64
	working(t, second, 2, counting(&rest))
	for i, o := range run(t, second, list, Batch{}) {
		if o.Error != "" || o.Attempts != 1 {
			t.Errorf("%d: %+v", i, o)
		}
	}
	if n := ended.Load() + rest.Load(); n != 60 {
		t.Errorf("%d answers were found for 60 jobs", n)
	}
}

// A worker that is asked to stop just as it has the answer keeps it.
func TestTheLastAnswerIsKept(t *testing.T) {
	dir := t.TempDir()
	list := payloads(1)
	q := opened(t, Options{Dir: dir})
	working, stop := context.WithCancel(t.Context())
	begun := make(chan struct{})
	left := make(chan error, 1)
	go func() {
		left <- q.Work(working, 1, func(_ context.Context, p []byte) ([]byte, error) {
			close(begun)
			stop()
			return answer(p), nil
		})
	}()
	asked, forget := context.WithCancel(t.Context())
	go func() { <-begun; forget() }()
	if err := q.Run(asked, Batch{Payloads: slices.Values(list), Each: func(Outcome) {}}); err != nil && !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	if err := <-left; err != nil {
		t.Fatal(err)
	}
	q.Close()
	again := opened(t, Options{Dir: dir})
	if o := run(t, again, list, Batch{})[0]; !o.Known { // and nobody works
		t.Errorf("after the stop: %+v", o)
	}
}

func TestPoisonedJobsFail(t *testing.T) {
	q := opened(t, Options{})
	var solves atomic.Int64
	working(t, q, 2, func(_ context.Context, p []byte) ([]byte, error) {
		solves.Add(1)
		switch string(p) {
		case "job 3":
			panic("no such field")
		case "job 5":
			return nil, errors.New("parts overlap")
		}
		return answer(p), nil
	})
	for range 2 {
		for i, o := range run(t, q, payloads(8), Batch{}) {
			want := map[int]string{3: "the program failed on it: no such field", 5: "parts overlap"}[i]
			if (want == "") != (o.Error == "") || !strings.Contains(o.Error, want) {
				t.Errorf("%d: %q, want %q", i, o.Error, want)
			}
		}
	}
	if solves.Load() != 8 {
		t.Errorf("%d solves", solves.Load())
	}
	run(t, q, payloads(8), Batch{Again: true})
	if solves.Load() != 10 {
		t.Errorf("%d solves after the two that failed were asked for again", solves.Load())
	}
}

// The queue takes no more than it may hold; who fills it waits.
func TestQueueHoldsBack(t *testing.T) {
	q := opened(t, Options{Held: 5})
	var most atomic.Uint64
	over := make(chan struct{})
	go func() {
		defer close(over)
		time.Sleep(500 * time.Millisecond) // nobody works meanwhile
		info, err := q.stream.Info(context.Background())
		if err != nil {
			t.Error(err)
			return
		}
		most.Store(info.State.Msgs)
		var n atomic.Int64
		working(t, q, 2, counting(&n))
	}()
	run(t, q, payloads(50), Batch{Ahead: 100})
	<-over
	if most.Load() != 5 {
		t.Errorf("the queue held %d jobs, not 5", most.Load())
	}
}

func TestBytesThatAreNotJSON(t *testing.T) {
	q := opened(t, Options{})
	working(t, q, 1, func(context.Context, []byte) ([]byte, error) { return []byte{0, 0xff, '{'}, nil })
	var got []byte
	if err := q.Run(t.Context(), Batch{Payloads: slices.Values(payloads(1)), Each: func(o Outcome) { got = o.Payload }}); err != nil || !bytes.Equal(got, []byte{0, 0xff, '{'}) {
		t.Errorf("%q, %v", got, err)
	}
}

func TestAStoreHasOneUser(t *testing.T) {
	q := opened(t, Options{})
	_, err := Open(t.Context(), Options{Dir: q.o.Dir})
	if err == nil || !strings.Contains(err.Error(), "another study is using the store") {
		t.Errorf("a second user: %v", err)
	}
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(t.Context(), Options{Dir: file}); err == nil || !strings.Contains(err.Error(), "hint: name a folder that you may write to") {
		t.Errorf("a file as the store: %v", err)
	}
}

// serving starts a server on a port of this machine, as a cluster would be.
func serving(t *testing.T, o server.Options) *server.Server {
	t.Helper()
	o.Host, o.JetStream, o.NoSigs, o.NoLog = "127.0.0.1", true, true, true
	if o.Port == 0 {
		o.Port = -1
	}
	if o.StoreDir == "" {
		o.StoreDir = t.TempDir()
	}
	s, err := server.NewServer(&o)
	if err != nil {
		t.Fatal(err)
	}
	s.Start()
	if !s.ReadyForConnections(20 * time.Second) {
		t.Fatal("the server did not start")
	}
	t.Cleanup(func() { s.Shutdown(); s.WaitForShutdown() })
	return s
}

// process starts this test's program as a worker, and gives what it prints.
func process(t *testing.T, url string) (*exec.Cmd, *lines) {
	t.Helper()
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), "QUEUE_TEST_WORKER="+url)
	out := &lines{}
	c.Stdout, c.Stderr = out, out
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Process.Kill(); c.Wait() })
	return c, out
}

type lines struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lines) Write(p []byte) (int, error) { l.mu.Lock(); defer l.mu.Unlock(); return l.b.Write(p) }
func (l *lines) String() string              { l.mu.Lock(); defer l.mu.Unlock(); return l.b.String() }

// A worker process that is killed in the middle of a job loses nothing: another solves it.
func TestAKilledWorkerLosesNothing(t *testing.T) {
	s := serving(t, server.Options{})
	q := opened(t, Options{URL: s.ClientURL(), AckWait: time.Second})
	list := append(payloads(20), []byte("slow"))
	var known sync.Map
	var gone sync.WaitGroup
	gone.Go(func() {
		for i, o := range run(t, q, list, Batch{}) {
			known.Store(i, o)
		}
	})
	c, out := process(t, s.ClientURL())
	for start := time.Now(); !strings.Contains(out.String(), "begun"); time.Sleep(10 * time.Millisecond) {
		if time.Since(start) > 30*time.Second {
			t.Fatalf("the worker did not begin: %s", out)
		}
	}
	if err := c.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	var solves atomic.Int64
	working(t, q, 1, counting(&solves))
	gone.Wait()
	o, _ := known.Load(20)
	if o := o.(Outcome); o.Attempts != 2 || o.Error != "" {
		t.Errorf("the job of the killed worker: %+v", o)
	}
}

// A job that ends every process that takes it up ends as failed, and the others are solved.
func TestAJobThatKillsItsWorkers(t *testing.T) {
	s := serving(t, server.Options{})
	q := opened(t, Options{URL: s.ClientURL(), AckWait: time.Second})
	stop := make(chan struct{})
	var gone sync.WaitGroup
	gone.Go(func() { // whoever keeps the workers up starts them again
		for {
			select {
			case <-stop:
				return
			default:
			}
			c := exec.Command(os.Args[0])
			c.Env = append(os.Environ(), "QUEUE_TEST_WORKER="+s.ClientURL())
			if err := c.Start(); err != nil {
				t.Error(err)
				return
			}
			ended := make(chan struct{})
			go func() { c.Wait(); close(ended) }()
			select {
			case <-ended:
			case <-stop:
				c.Process.Kill()
				<-ended
			}
		}
	})
	out := run(t, q, append([][]byte{[]byte("die")}, payloads(10)...), Batch{})
	close(stop)
	gone.Wait()
	if o := out[0]; !strings.Contains(o.Error, "ended 3 times before there was an answer") || o.Attempts != 3 {
		t.Errorf("the job that kills: %+v", o)
	}
	for i, o := range out[1:] {
		if o.Error != "" {
			t.Errorf("%d: %+v", i, o)
		}
	}
}

func TestTheServerRestarts(t *testing.T) {
	dir := t.TempDir()
	s := serving(t, server.Options{StoreDir: dir})
	url, port := s.ClientURL(), s.Addr().(*net.TCPAddr).Port
	q := opened(t, Options{URL: url, AckWait: time.Second})
	var solves atomic.Int64
	restart := sync.OnceFunc(func() {
		s.Shutdown()
		s.WaitForShutdown()
		time.Sleep(300 * time.Millisecond)
		serving(t, server.Options{StoreDir: dir, Port: port})
	})
	var back sync.WaitGroup
	working(t, q, 2, func(_ context.Context, p []byte) ([]byte, error) {
		if solves.Add(1) == 15 {
			back.Go(restart)
		}
		time.Sleep(10 * time.Millisecond)
		return answer(p), nil
	})
	for i, o := range run(t, q, payloads(60), Batch{Ahead: 20}) {
		if o.Error != "" {
			t.Errorf("%d: %+v", i, o)
		}
	}
	back.Wait()
	// A job whose answer could not be stored before its worker was thought dead may be solved again, one for each worker.
	if n := solves.Load(); n < 60 || n > 62 {
		t.Errorf("%d solves of 60 jobs", n)
	}
}

func TestAnotherVersionDoesNotAnswer(t *testing.T) {
	s := serving(t, server.Options{})
	old := opened(t, Options{URL: s.ClientURL(), Version: "1"})
	young := opened(t, Options{URL: s.ClientURL(), Version: "2"})
	var olds, youngs atomic.Int64
	working(t, old, 1, counting(&olds))
	working(t, young, 1, counting(&youngs))
	run(t, young, payloads(10), Batch{})
	if olds.Load() != 0 || youngs.Load() != 10 {
		t.Errorf("%d solves by the old version, %d by the right one", olds.Load(), youngs.Load())
	}
}

func TestCredentials(t *testing.T) {
	user, err := nkeys.CreateUser()
	if err != nil {
		t.Fatal(err)
	}
	public, _ := user.PublicKey()
	seed, _ := user.Seed()
	dir := t.TempDir()
	file := func(name string, text []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	ca, cert, key := certificates(t, file)
	pair, err := tls.LoadX509KeyPair(cert, key)
	if err != nil {
		t.Fatal(err)
	}
	pool := x509.NewCertPool()
	text, _ := os.ReadFile(ca)
	pool.AppendCertsFromPEM(text)
	secured := &tls.Config{Certificates: []tls.Certificate{pair}, ClientAuth: tls.RequireAndVerifyClientCert, ClientCAs: pool}

	named := serving(t, server.Options{Username: "larkfield", Password: "secret"})
	host := strings.TrimPrefix(named.ClientURL(), "nats://")
	sealed := serving(t, server.Options{TLSConfig: secured, TLSTimeout: 5})
	tlsURL := "tls://" + sealed.Addr().String()
	signed := serving(t, server.Options{Nkeys: []*server.NkeyUser{{Nkey: public}}})
	nkey := file("user.nk", seed)
	for _, c := range []struct {
		name string
		o    Options
		want string // of the error
	}{
		{"user and password", Options{URL: "nats://larkfield:secret@" + host}, ""},
		{"wrong password", Options{URL: "nats://larkfield:guessed@" + host}, "no connection to nats://...@" + host},
		{"no user", Options{URL: "nats://" + host}, "the server asks for a user"},
		{"seed", Options{URL: signed.ClientURL(), NKey: nkey}, ""},
		{"no seed", Options{URL: signed.ClientURL()}, "the server asks for a user"},
		{"no such file", Options{URL: signed.ClientURL(), NKey: nkey + "s"}, "user.nks cannot be read"},
		{"no seed in the file", Options{URL: signed.ClientURL(), NKey: ca}, "is not what is due there"},
		{"certificates", Options{URL: tlsURL, CA: ca, Cert: cert, Key: key}, ""},
		{"no certificate of the client", Options{URL: tlsURL, CA: ca}, "no connection to tls://"},
		{"unknown authority", Options{URL: tlsURL, Cert: cert, Key: key}, "unknown authority"},
		{"certificate without key", Options{URL: tlsURL, CA: ca, Cert: cert}, "go together"},
		{"nobody there", Options{URL: "nats://127.0.0.1:1"}, "is the server there, and the port open?"},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.o.Version = "test"
			opens(t, c.o, c.want)
		})
	}
}

func keyPair(t *testing.T, make func() (nkeys.KeyPair, error)) (nkeys.KeyPair, string) {
	t.Helper()
	k, err := make()
	if err != nil {
		t.Fatal(err)
	}
	public, err := k.PublicKey()
	if err != nil {
		t.Fatal(err)
	}
	return k, public
}

// encoded are claims signed by a key.
func encoded(t *testing.T, c jwt.Claims, by nkeys.KeyPair) string {
	t.Helper()
	text, err := c.Encode(by)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// A cluster of an operator: the user's credentials are a JWT signed by its account and a seed, as the file of --nats-creds holds them, and the line is
// sealed with TLS.
func TestSignedCredentials(t *testing.T) {
	operator, operatorID := keyPair(t, nkeys.CreateOperator)
	account, accountID := keyPair(t, nkeys.CreateAccount)
	_, systemID := keyPair(t, nkeys.CreateAccount)
	ours := jwt.NewAccountClaims(accountID)
	ours.Limits.JetStreamLimits = jwt.JetStreamLimits{MemoryStorage: -1, DiskStorage: -1, Streams: -1, Consumer: -1}
	known := &server.MemAccResolver{}
	for id, text := range map[string]string{accountID: encoded(t, ours, operator), systemID: encoded(t, jwt.NewAccountClaims(systemID), operator)} {
		if err := known.Store(id, text); err != nil {
			t.Fatal(err)
		}
	}
	dir := t.TempDir()
	file := func(name string, text []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, text, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	creds := func(name string, by nkeys.KeyPair, change func(*jwt.UserClaims)) string {
		user, id := keyPair(t, nkeys.CreateUser)
		claims := jwt.NewUserClaims(id)
		change(claims)
		seed, _ := user.Seed()
		text, err := jwt.FormatUserConfig(encoded(t, claims, by), seed)
		if err != nil {
			t.Fatal(err)
		}
		return file(name, text)
	}
	ca, cert, key := certificates(t, file)
	own, err := tls.LoadX509KeyPair(cert, key)
	if err != nil {
		t.Fatal(err)
	}
	s := serving(t, server.Options{TrustedKeys: []string{operatorID}, AccountResolver: known, SystemAccount: systemID,
		TLSConfig: &tls.Config{Certificates: []tls.Certificate{own}}, TLSTimeout: 5})
	url := "tls://" + s.Addr().String()
	stranger, _ := keyPair(t, nkeys.CreateAccount)
	good := creds("good.creds", account, func(*jwt.UserClaims) {})
	for _, c := range []struct {
		name string
		o    Options
		want string // of the error
	}{
		{"signed by the account", Options{URL: url, CA: ca, Creds: good}, ""},
		{"none", Options{URL: url, CA: ca}, "the server asks for a user: a credentials file"},
		{"signed by a stranger", Options{URL: url, CA: ca, Creds: creds("strange.creds", stranger, func(*jwt.UserClaims) {})}, "the server asks for a user"},
		{"expired", Options{URL: url, CA: ca, Creds: creds("old.creds", account, func(u *jwt.UserClaims) { u.Expires = time.Now().Add(-time.Hour).Unix() })}, "no connection to tls://"},
		{"no right to streams", Options{URL: url, CA: ca, Creds: creds("small.creds", account, func(u *jwt.UserClaims) { u.Pub.Deny.Add("$JS.API.STREAM.CREATE.>") })}, "Permissions Violation"},
		{"a file of something else", Options{URL: url, CA: ca, Creds: key}, "no connection to tls://"},
		{"the server's certificate unknown", Options{URL: url, Creds: good}, "unknown authority"},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.o.Version = "test"
			opens(t, c.o, c.want)
		})
	}
}

// opens tries a queue with its work, which a server lets in, or refuses with what is wanted.
func opens(t *testing.T, o Options, want string) {
	t.Helper()
	q, err := Open(t.Context(), o)
	if err == nil {
		defer q.Close()
	}
	switch {
	case want != "":
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want %q", err, want)
		}
		if err != nil && strings.Contains(err.Error(), "guessed") {
			t.Errorf("the password is shown: %v", err)
		}
	case err != nil:
		t.Fatal(err)
	default:
		var n atomic.Int64
		defer working(t, q, 1, counting(&n))()
		run(t, q, payloads(3), Batch{})
	}
}

// certificates makes an authority and a certificate for this machine, as PEM files.
func certificates(t *testing.T, file func(string, []byte) string) (ca, cert, key string) {
	t.Helper()
	make := func(template, parent *x509.Certificate, signer *ecdsa.PrivateKey) (*x509.Certificate, *ecdsa.PrivateKey, []byte) {
		k, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
		if err != nil {
			t.Fatal(err)
		}
		if parent == nil {
			parent, signer = template, k
		}
		der, err := x509.CreateCertificate(rand.Reader, template, parent, &k.PublicKey, signer)
		if err != nil {
			t.Fatal(err)
		}
		c, err := x509.ParseCertificate(der)
		if err != nil {
			t.Fatal(err)
		}
		return c, k, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})
	}
	from, to := time.Now().Add(-time.Hour), time.Now().Add(time.Hour)
	authority, signer, caText := make(&x509.Certificate{SerialNumber: big.NewInt(1), Subject: pkix.Name{CommonName: "test"}, NotBefore: from, NotAfter: to,
		IsCA: true, BasicConstraintsValid: true, KeyUsage: x509.KeyUsageCertSign}, nil, nil)
	_, own, certText := make(&x509.Certificate{SerialNumber: big.NewInt(2), Subject: pkix.Name{CommonName: "bench"}, NotBefore: from, NotAfter: to,
		IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth, x509.ExtKeyUsageClientAuth}}, authority, signer)
	der, err := x509.MarshalECPrivateKey(own)
	if err != nil {
		t.Fatal(err)
	}
	return file("ca.pem", caText), file("cert.pem", certText), file("key.pem", pem.EncodeToMemory(&pem.Block{Type: "EC PRIVATE KEY", Bytes: der}))
}

func TestProgressInWords(t *testing.T) {
	p := Progress{Total: 40, Done: 12, Known: 3, Running: 2, Failed: 1, Left: 19.6}
	if got, want := p.String(), "12 of 40 done (3 known before), 2 running, 1 failed, about 20s left"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// BenchmarkQueue is what the queue costs a job, payload and answer as those of a build. The cheapest draft solve takes about 70 ms of processor time;
// two in a hundred of it are 1.4 ms.
func BenchmarkQueue(b *testing.B) {
	q := opened(b, Options{})
	figures := []byte(`{"field_T":0.7584329069352093,"uniformity_ppm":28542.937616971285,"pull_N":1190.5963186513172,"stray_field_T":0.000017408490878063227}`)
	working(b, q, 2, func(context.Context, []byte) ([]byte, error) { return figures, nil })
	filler := bytes.Repeat([]byte("x"), 5000) // as long as a design file
	list := make([][]byte, b.N)
	for i := range list {
		list[i] = fmt.Appendf(nil, "%d %d\n%s", b.N, i, filler)
	}
	b.ResetTimer()
	if err := q.Run(b.Context(), Batch{Payloads: slices.Values(list), Each: func(Outcome) {}}); err != nil {
		b.Fatal(err)
	}
}
