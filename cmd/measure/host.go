package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"time"
)

// The host is measured beside nginx, where that is installed, as a yardstick of serving
// files: both serve one and the same published starter, in turns, to the same clients on the
// same machine. What is compared is requests a second, and processor time a request, which
// other work on the machine moves less. nginx finds its compressed forms ready on the disk.

const (
	clients = 50
	rounds  = 4
	turn    = time.Second // of each, in a round
)

// server is a process that serves, and the address it is asked at.
type server struct {
	name, address string
	process       *os.Process
}

// question is a file that is asked for.
type question struct {
	what, name string
	packed     bool
}

func (q question) request() []byte {
	accept := ""
	if q.packed {
		accept = "Accept-Encoding: gzip\r\n"
	}
	return []byte("GET /" + q.name + " HTTP/1.1\r\nHost: 127.0.0.1\r\n" + accept + "\r\n")
}

// hosts prints the table of the host; n is how many requests it has to answer without an
// error.
func hosts(n int) error {
	dir, err := os.MkdirTemp("", "measure-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	program, site := filepath.Join(dir, "faultleaf"), filepath.Join(dir, "site")
	if out, err := exec.Command("go", "build", "-o", program, "./cmd/faultleaf").CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	if out, err := exec.Command(program, "publish", "--from", ".", "--to", site).CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	binary, err := filepath.Glob(filepath.Join(site, "run", "trace.*.bin"))
	if err != nil || len(binary) != 1 {
		return errors.New("the starter's site has no binary of the trace")
	}
	questions := []question{
		{"a small page, as it is", "find.html", false},
		{"a small page, packed", "find.html", true},
		{"a device's page, packed", "devices/kettle.html", true},
		{"the binary of the trace", "run/" + filepath.Base(binary[0]), false},
	}
	ours, err := startOurs(program, site)
	if err != nil {
		return err
	}
	defer ours.stop()
	yard, err := startNginx(dir, site)
	if err != nil {
		fmt.Printf("Not compared: %v.\n\n", err)
	} else {
		defer yard.stop()
	}

	fmt.Printf("%d clients on %d processors, load %s\n\n| | goal | measured |\n|---|---|---|\n", clients, runtime.NumCPU(), load())
	for _, q := range questions {
		if err := compare(ours, yard, q); err != nil {
			return err
		}
	}
	if err := endure(ours, questions[1], n); err != nil {
		return err
	}
	if err := slow(ours, questions); err != nil {
		return err
	}
	fmt.Printf("| largest memory of the host, MB | 100 | %.0f |\n", float64(status(ours.process.Pid, "VmHWM"))/1024)
	return nil
}

// compare asks both servers in turns. Of all rounds the best counts for either, as what else
// the machine does takes from one or the other.
func compare(ours, yard *server, q question) error {
	var rate, cost [2]float64
	for range rounds {
		for i, s := range []*server{ours, yard} {
			if s == nil {
				continue
			}
			before := s.cpu()
			r, err := ask(s, q, clients, 0, time.Now().Add(turn))
			if err != nil {
				return fmt.Errorf("%s, %s: %w", s.name, q.what, err)
			}
			rate[i] = max(rate[i], float64(r.answers)/r.seconds)
			if each := (s.cpu() - before) / float64(r.answers) * 1e6; cost[i] == 0 || each < cost[i] {
				cost[i] = each
			}
		}
	}
	if yard == nil {
		fmt.Printf("| %s | | %.0f a second, %.0f µs of processor each |\n", q.what, rate[0], cost[0])
		return nil
	}
	fmt.Printf("| %s | 0.6 x nginx | %.2f x by requests a second (%.0f to %.0f), %.2f x by processor time (%.0f to %.0f µs each) |\n",
		q.what, rate[0]/rate[1], rate[0], rate[1], cost[1]/cost[0], cost[0], cost[1])
	return nil
}

// endure asks until n answers came.
func endure(s *server, q question, n int) error {
	r, err := ask(s, q, clients, n, time.Now().Add(time.Hour))
	if err != nil {
		return err
	}
	fmt.Printf("| %d requests without an error | 1000000 | %d answers, none wrong, %.0f a second |\n", n, r.answers, float64(r.answers)/r.seconds)
	fmt.Printf("| %d clients: 99 of 100 answered within, ms | 50 | %.1f (median %.1f), load %s |\n", clients, r.percent(99), r.percent(50), load())
	return nil
}

// slow opens 2,000 connections that send a request letter by letter, or ask for the
// binary and do not read it, and asks beside them.
func slow(s *server, questions []question) error {
	const many = 2000
	stop := make(chan struct{})
	var opened atomic.Int64
	var all sync.WaitGroup
	for i := range many {
		all.Go(func() {
			c, err := net.Dial("tcp", s.address)
			if err != nil {
				return
			}
			defer c.Close()
			opened.Add(1)
			request := questions[len(questions)-1].request()
			if i%2 == 0 { // never reads
				_, _ = c.Write(request)
				<-stop
				return
			}
			for k := 0; ; k++ {
				if _, err := c.Write(request[k%len(request):][:1]); err != nil {
					<-stop
					return
				}
				select {
				case <-stop:
					return
				case <-time.After(time.Second):
				}
			}
		})
	}
	defer all.Wait()
	defer close(stop)
	for end := time.Now().Add(10 * time.Second); opened.Load() < many && time.Now().Before(end); {
		time.Sleep(50 * time.Millisecond)
	}
	r, err := ask(s, questions[1], clients, 0, time.Now().Add(3*turn))
	if err != nil {
		return err
	}
	fmt.Printf("| beside %d slow clients: 99 of 100 answered within, ms | 50 | %.1f (median %.1f), none wrong, %.0f a second, load %s |\n", opened.Load(), r.percent(99), r.percent(50), float64(r.answers)/r.seconds, load())
	return nil
}

// result is what clients got.
type result struct {
	answers int
	seconds float64
	took    []float64 // ms, sorted
}

func (r *result) percent(p int) float64 { return r.took[min(len(r.took)*p/100, len(r.took)-1)] }

// ask has clients ask for one thing, each again as soon as it has the answer, until a time
// or until n answers came (0: any number). An answer that is not 200, is cut off or is not as
// long as the others is an error.
func ask(s *server, q question, clients, n int, until time.Time) (result, error) {
	var mu sync.Mutex
	var out result
	var wrong error
	var given atomic.Int64
	length := int64(-1)
	begun := time.Now()
	var all sync.WaitGroup
	for range clients {
		all.Go(func() {
			var took []float64
			err := func() error {
				c, err := net.Dial("tcp", s.address)
				if err != nil {
					return err
				}
				defer c.Close()
				r := bufio.NewReaderSize(c, 64<<10)
				request := q.request()
				for time.Now().Before(until) && (n == 0 || given.Add(1) <= int64(n)) {
					t := time.Now()
					if _, err := c.Write(request); err != nil {
						return err
					}
					size, err := answer(r)
					if err != nil {
						return err
					}
					if was := atomic.SwapInt64(&length, size); was >= 0 && was != size {
						return fmt.Errorf("an answer of %d bytes, where others have %d", size, was)
					}
					took = append(took, float64(time.Since(t).Microseconds())/1000)
				}
				return nil
			}()
			mu.Lock()
			defer mu.Unlock()
			out.took = append(out.took, took...)
			wrong = errors.Join(wrong, err)
		})
	}
	all.Wait()
	out.answers, out.seconds = len(out.took), time.Since(begun).Seconds()
	slices.Sort(out.took)
	if wrong == nil && out.answers == 0 {
		wrong = errors.New("no answer came")
	}
	return out, wrong
}

// answer reads one answer and gives the bytes of its body. It is simpler than a library, so
// that the clients leave the processors to the server.
func answer(r *bufio.Reader) (int64, error) {
	line, err := r.ReadSlice('\n')
	if err != nil {
		return 0, err
	}
	if !bytes.Contains(line, []byte(" 200 ")) {
		return 0, fmt.Errorf("the answer was %s", bytes.TrimSpace(line))
	}
	size := int64(-1)
	for {
		if line, err = r.ReadSlice('\n'); err != nil {
			return 0, err
		}
		line = bytes.TrimSpace(line)
		if len(line) == 0 {
			break
		}
		if name, value, ok := bytes.Cut(line, []byte(":")); ok && bytes.EqualFold(name, []byte("content-length")) {
			if size, err = strconv.ParseInt(string(bytes.TrimSpace(value)), 10, 64); err != nil {
				return 0, err
			}
		}
	}
	if size < 0 {
		return 0, errors.New("an answer without its length")
	}
	_, err = io.CopyN(io.Discard, r, size)
	return size, err
}

func startOurs(program, site string) (*server, error) {
	port, err := freePort()
	if err != nil {
		return nil, err
	}
	return begin("ours", port, exec.Command(program, "host", "--as-is", "--from", ".", "--to", site, "--port", strconv.Itoa(port)))
}

// startNginx starts one that serves a copy of the site with compressed forms beside it.
func startNginx(dir, site string) (*server, error) {
	program, err := exec.LookPath("nginx")
	if err != nil {
		return nil, errors.New("nginx is not installed (on Debian, apt-get install nginx-light)")
	}
	port, err := freePort()
	if err != nil {
		return nil, err
	}
	copied := filepath.Join(dir, "copy")
	if err := os.CopyFS(copied, os.DirFS(site)); err != nil {
		return nil, err
	}
	if err := filepath.WalkDir(copied, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(p) != ".html" {
			return err
		}
		b, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		var z bytes.Buffer
		w := gzip.NewWriter(&z)
		_, _ = w.Write(b)
		_ = w.Close()
		return os.WriteFile(p+".gz", z.Bytes(), 0o644)
	}); err != nil {
		return nil, err
	}
	if err := os.Chmod(dir, 0o755); err != nil { // its workers may be another user
		return nil, err
	}
	conf := fmt.Sprintf(`daemon off; worker_processes auto; pid %[1]s/nginx.pid; error_log %[1]s/nginx.log;
events { worker_connections 4096; }
http {
	types { text/html html; } default_type application/octet-stream;
	access_log off; sendfile on; tcp_nopush on; keepalive_requests 100000000; open_file_cache max=2000;
	client_body_temp_path %[1]s/b; proxy_temp_path %[1]s/p; fastcgi_temp_path %[1]s/f; uwsgi_temp_path %[1]s/u; scgi_temp_path %[1]s/s;
	server { listen 127.0.0.1:%[2]d; root %[3]s; gzip_static on; }
}
`, dir, port, copied)
	file := filepath.Join(dir, "nginx.conf")
	if err := os.WriteFile(file, []byte(conf), 0o644); err != nil {
		return nil, err
	}
	return begin("nginx", port, exec.Command(program, "-p", dir, "-c", file))
}

// begin starts a server and waits until it answers.
func begin(name string, port int, cmd *exec.Cmd) (*server, error) {
	var said bytes.Buffer
	cmd.Stderr = &said
	if err := cmd.Start(); err != nil {
		return nil, err
	}
	s := &server{name, "127.0.0.1:" + strconv.Itoa(port), cmd.Process}
	for range 200 {
		if c, err := net.Dial("tcp", s.address); err == nil {
			c.Close()
			return s, nil
		}
		time.Sleep(50 * time.Millisecond)
	}
	s.stop()
	return nil, fmt.Errorf("%s does not start: %s", name, bytes.TrimSpace(said.Bytes()))
}

func (s *server) stop() {
	_ = s.process.Signal(syscall.SIGTERM)
	_, _ = s.process.Wait()
}

// cpu is the processor time of the server and its workers so far, in seconds.
func (s *server) cpu() float64 {
	sum := 0.0
	list, _ := filepath.Glob("/proc/[0-9]*/stat")
	for _, file := range list {
		b, err := os.ReadFile(file)
		if err != nil {
			continue
		}
		id, _ := strconv.Atoi(filepath.Base(filepath.Dir(file)))
		_, rest, _ := strings.Cut(string(b), ") ") // the name may hold spaces
		f := strings.Fields(rest)
		if len(f) < 13 {
			continue
		}
		parent, _ := strconv.Atoi(f[1])
		if id == s.process.Pid || parent == s.process.Pid {
			user, _ := strconv.ParseFloat(f[11], 64)
			system, _ := strconv.ParseFloat(f[12], 64)
			sum += (user + system) / 100 // clock ticks
		}
	}
	return sum
}

// status is a value of a process, in kB.
func status(pid int, name string) int {
	b, _ := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	for line := range strings.Lines(string(b)) {
		if v, ok := strings.CutPrefix(line, name+":"); ok {
			n, _ := strconv.Atoi(strings.Fields(v)[0])
			return n
		}
	}
	return 0
}

func freePort() (int, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return 0, err
	}
	defer l.Close()
	return l.Addr().(*net.TCPAddr).Port, nil
}

func load() string {
	b, _ := os.ReadFile("/proc/loadavg")
	one, _, _ := strings.Cut(string(b), " ")
	return one
}
