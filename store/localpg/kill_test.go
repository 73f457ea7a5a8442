//go:build linux || darwin

package localpg

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"strconv"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"
)

// How often the kill test kills: 5 for a developer, more by the flag or, where
// flags cannot be passed, by the environment.
var kills = flag.Int("kills", killsFromEnv(), "how often the kill tests kill")

func killsFromEnv() int {
	if n, err := strconv.Atoi(os.Getenv("SCAPEROUND_KILLS")); err == nil && n > 0 {
		return n
	}
	return 5
}

// programEnv makes the test binary the program that is killed: it starts the
// database of the folder named and inserts until it dies.
const programEnv = "SCAPEROUND_LOCALPG_PROGRAM"

func TestMain(m *testing.M) {
	if data := os.Getenv(programEnv); data != "" {
		if err := hammer(data); err != nil {
			fmt.Fprintln(os.Stderr, "program:", err)
			os.Exit(1)
		}
		return
	}
	flag.Parse()
	code := m.Run()
	if pristineRoot != "" {
		os.RemoveAll(pristineRoot)
	}
	os.Exit(code)
}

const writers = 4

// hammer says each id on standard output after its insert was acknowledged.
func hammer(data string) error {
	ctx := context.Background()
	s, err := Start(ctx, Options{Data: data})
	if err != nil {
		return err
	}
	pool, err := pgxpool.New(ctx, s.URL())
	if err != nil {
		return err
	}
	// No unique key: a row that came twice must be seen.
	if _, err := pool.Exec(ctx, `CREATE TABLE IF NOT EXISTS ack (id text NOT NULL)`); err != nil {
		return err
	}
	fmt.Println("writing")
	var out sync.Mutex
	var wg sync.WaitGroup
	for w := range writers {
		wg.Go(func() {
			for n := 0; ; n++ {
				id := fmt.Sprintf("%d-%d-%d", os.Getpid(), w, n)
				if _, err := pool.Exec(ctx, `INSERT INTO ack (id) VALUES ($1)`, id); err != nil {
					time.Sleep(5 * time.Millisecond) // not acknowledged; the next has its own id
					continue
				}
				out.Lock()
				fmt.Println(id)
				out.Unlock()
			}
		})
	}
	wg.Wait()
	return nil
}

// program is a running hammer and what it has acknowledged.
type program struct {
	cmd     *exec.Cmd
	writing chan struct{}
	over    chan struct{}
	mu      sync.Mutex
	acked   []string
}

func run(t *testing.T, data string) *program {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	p := &program{cmd: exec.Command(self), writing: make(chan struct{}), over: make(chan struct{})}
	p.cmd.Env = append(os.Environ(), programEnv+"="+data)
	p.cmd.Stderr = os.Stderr
	out, err := p.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	go func() {
		defer close(p.over)
		r := bufio.NewReader(out)
		for {
			line, err := r.ReadString('\n')
			if err != nil {
				return // the rest of a line that was cut is no acknowledgement
			}
			if line == "writing\n" {
				close(p.writing)
				continue
			}
			p.mu.Lock()
			p.acked = append(p.acked, line[:len(line)-1])
			p.mu.Unlock()
		}
	}()
	t.Cleanup(func() { _ = p.cmd.Process.Kill() })
	return p
}

func (p *program) count() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return len(p.acked)
}

// kill ends the program without warning and returns what it acknowledged.
func (p *program) kill() []string {
	_ = p.cmd.Process.Kill()
	<-p.over
	_ = p.cmd.Wait()
	return p.acked
}

// check starts the database of a killed program and looks for each row.
func check(t *testing.T, data string, acked []string) {
	t.Helper()
	s, err := Start(context.Background(), Options{Data: data})
	if err != nil {
		t.Fatalf("the next start failed: %v", err)
	}
	defer stop(t, s)
	conn := connect(t, s.URL())
	var lost, twice int
	if err := conn.QueryRow(context.Background(), `
		SELECT count(*) FILTER (WHERE n = 0), count(*) FILTER (WHERE n > 1)
		FROM (SELECT said.id, count(ack.id) AS n FROM unnest($1::text[]) AS said (id) LEFT JOIN ack USING (id) GROUP BY said.id) AS each`,
		acked).Scan(&lost, &twice); err != nil {
		t.Fatal(err)
	}
	if lost > 0 || twice > 0 {
		t.Errorf("of %d acknowledged rows %d are lost and %d are there twice", len(acked), lost, twice)
	}
}

func TestKilledWhileWriting(t *testing.T) {
	t.Parallel()
	data := oldFolder(t)
	f := files{data: data}
	var acked []string
	for round := range *kills {
		p := run(t, data)
		select {
		case <-p.writing:
		case <-p.over:
			t.Fatalf("round %d: the program ended by itself", round)
		case <-time.After(60 * time.Second):
			t.Fatalf("round %d: the program does not write", round)
		}
		time.Sleep(rand.N(300 * time.Millisecond))
		server := readPidFile(f.pidFile()).pid
		switch round % 3 {
		case 0: // the program alone
		case 1: // the server alone: the program starts it again and writes on
			if err := syscall.Kill(server, syscall.SIGKILL); err != nil {
				t.Fatal(err)
			}
			before := p.count()
			for start := time.Now(); p.count() < before+50; time.Sleep(5 * time.Millisecond) {
				if time.Since(start) > 60*time.Second {
					t.Fatalf("round %d: the program does not write after its server was killed", round)
				}
			}
		case 2: // both
			_ = p.cmd.Process.Signal(syscall.SIGSTOP) // so that it cannot answer the first kill
			_ = syscall.Kill(server, syscall.SIGKILL)
		}
		acked = append(acked, p.kill()...)
		check(t, data, acked)
		if t.Failed() {
			t.FailNow()
		}
	}
	t.Logf("%d kills, %d acknowledged rows", *kills, len(acked))
	if len(acked) < *kills {
		t.Errorf("only %d rows were acknowledged: nothing was tried", len(acked))
	}
}

func TestKilledWhileStarting(t *testing.T) {
	t.Parallel()
	need(t)
	var data string
	var writing atomic.Int64
	for round := range *kills {
		if round%3 == 0 {
			data = dataFolder(t) // from nothing; the rounds after go on with what is there
		}
		p := run(t, data)
		select {
		case <-p.writing:
			writing.Add(1)
		case <-time.After(rand.N(1200 * time.Millisecond)):
		}
		acked := p.kill()
		s, err := Start(context.Background(), Options{Data: data})
		if err != nil {
			t.Fatalf("round %d: the next start failed: %v", round, err)
		}
		connect(t, s.URL())
		stop(t, s)
		if len(acked) > 0 {
			check(t, data, acked)
		}
	}
	t.Logf("%d kills, %d of them after the start was over", *kills, writing.Load())
}
