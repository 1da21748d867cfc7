// Command measure makes a big shop, and measures what publishing, looking up and
// inspecting it cost, beside the goals:
//
//	go run ./cmd/measure shop 20000 FOLDER    makes a shop
//	go run ./cmd/measure 20000                prints the table
//	go run ./cmd/measure browser 20000        prints what the search costs in Chromium
//	go run ./cmd/measure proof                prints what is proved of loss and of intruders
//	go run ./cmd/measure host 1000000         prints the table of the host, beside nginx
//
// Each step is a process of its own; its processor time and its largest memory
// are what the system counted for it. On a machine that does other work too,
// processor time is somewhat more than on a quiet one.
package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"faultleaf/internal/bigshop"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "measure:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) == 1 && args[0] == "proof" {
		return proof()
	}
	if len(args) == 2 && args[0] == "browser" {
		n, err := strconv.Atoi(args[1])
		if err != nil || n < 1 {
			return fmt.Errorf("%q is no number of notes", args[1])
		}
		return browsers(n)
	}
	if len(args) == 2 && args[0] == "host" {
		n, err := strconv.Atoi(args[1])
		if err != nil || n < 1 {
			return fmt.Errorf("%q is no number of requests", args[1])
		}
		return hosts(n)
	}
	if len(args) == 3 && args[0] == "floor" { // a step of the table, a process of its own
		return floor(args[1], args[2])
	}
	making := len(args) == 3 && args[0] == "shop"
	if making {
		args = args[1:]
	} else if len(args) != 1 {
		return errors.New("say a number of notes; or shop, a number of notes and a new folder; or browser and a number of notes; or proof; or host and a number of requests")
	}
	n, err := strconv.Atoi(args[0])
	if err != nil || n < 1 {
		return fmt.Errorf("%q is no number of notes", args[0])
	}
	if making {
		if _, err := os.Stat(args[1]); err == nil {
			return fmt.Errorf("%s is there already; name a new folder", args[1])
		}
		return bigshop.Write(args[1], os.DirFS("."), n, 1)
	}
	dir, err := os.MkdirTemp("", "measure-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	return table(n, dir)
}

// bench is the shop that is measured, its site and the program.
type bench struct{ shop, site, program string }

// cost is what a process took.
type cost struct {
	seconds float64 // of the processors, user and system
	system  float64 // of these, the system's
	mega    float64 // largest memory, MB
}

func (b *bench) do(args ...string) (cost, error) { return took(b.program, args...) }

// took runs a program, and gives what the system counted for it.
func took(program string, args ...string) (cost, error) {
	cmd := exec.Command(program, args...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		return cost{}, fmt.Errorf("%s: %w\n%s", strings.Join(args, " "), err, out[:min(len(out), 2000)])
	}
	system := cmd.ProcessState.SystemTime()
	c := cost{seconds: (cmd.ProcessState.UserTime() + system).Seconds(), system: system.Seconds()}
	if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		c.mega = float64(u.Maxrss) / 1024 // Linux counts in KB
	}
	return c, nil
}

func (b *bench) publish() (cost, error) { return b.do("publish", "--from", b.shop, "--to", b.site) }

// table prints the goals beside what is measured. The goals are those of 20,000
// notes.
func table(n int, dir string) error {
	b := &bench{filepath.Join(dir, "shop"), filepath.Join(dir, "site"), filepath.Join(dir, "faultleaf")}
	if out, err := exec.Command("go", "build", "-o", b.program, "./cmd/faultleaf").CombinedOutput(); err != nil {
		return fmt.Errorf("%w\n%s", err, out)
	}
	if err := bigshop.Write(b.shop, os.DirFS("."), n, 1); err != nil {
		return err
	}
	notes, err := filepath.Glob(filepath.Join(b.shop, "content", "*", "*.md"))
	if err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	rows := &rows{}
	if err := rows.floor(self, b.shop, filepath.Join(dir, "floor1")); err != nil {
		return err
	}
	if _, err := b.do("publish", "--from", ".", "--to", filepath.Join(dir, "starter")); err != nil { // builds the browser binary
		return err
	}
	c, err := b.do("publish", "--from", ".", "--to", filepath.Join(dir, "starter2"))
	if err != nil {
		return err
	}
	rows.add("the starter shop, published whole", 3, 0, c)
	faults, err := filepath.Glob(filepath.Join(b.shop, "content/faults/*-1[0-9][0-9]-*.md"))
	if err != nil || len(faults) < 10 {
		return fmt.Errorf("%d notes are too few to measure with", n)
	}
	for _, step := range []struct {
		what          string
		seconds, mega float64 // the goals; 0: none
		change        func() error
	}{
		{"published whole", 24, 600, func() error { return nil }},
		{"nothing changed", 1, 0, func() error { return nil }},
		{"one changed fault", 1, 300, func() error { return add(faults[0], "\nOne line more.\n") }},
		{"one new sheet", 1, 300, func() error { return sheet(b.shop, faults[1], "new") }},
		{"one new sheet of a common fault", 5, 0, func() error { return common(b.shop) }},
		{"one new fault", 1, 300, func() error { return fault(faults[2]) }},
		{"the shop comes into git", 0, 0, func() error { return commit(b.shop) }},
		{"one changed fault, committed", 1, 300, func() error {
			return errors.Join(add(faults[3], "\nOne line more.\n"), commit(b.shop))
		}},
		{"a changed common block", 0, 0, func() error {
			return replace(filepath.Join(b.shop, "content/blocks/mains-cord.md"), "minutes: 15", "minutes: 16")
		}},
	} {
		if err := step.change(); err != nil {
			return err
		}
		c, err := b.publish()
		if err != nil {
			return err
		}
		rows.add(step.what, step.seconds, step.mega, c)
	}
	if c, err = b.do(append([]string{"inspect", "--quiet", "--from", b.shop}, faults[:10]...)...); err != nil {
		return err
	}
	rows.add("inspect of 10 notes", 1, 0, c)
	if c, err = b.do("lookup", "--from", b.shop, "--to", b.site, "kettle does not heat"); err != nil {
		return err
	}
	rows.add("lookup", .3, 0, c)
	if err := rows.floor(self, b.shop, filepath.Join(dir, "floor2")); err != nil {
		return err
	}
	fmt.Printf("%d notes in files, %s\n\n", len(notes), time.Now().Format(time.DateOnly))
	rows.print()
	site, own, err := sizes(b.site)
	fmt.Printf("\nThe site takes %.0f MB on disk (goal 800), and beside it what publishing keeps for itself %.0f MB.\n", site, own)
	return err
}

// rows are the table: what was done, what it was to cost, and what it cost.
type rows struct {
	floors []cost // before and after all others
	done   []struct {
		what          string
		seconds, mega float64 // the goals; 0: none
		cost
	}
}

func (r *rows) floor(self, shop, to string) error {
	c, err := took(self, "floor", shop, to)
	r.floors = append(r.floors, c)
	return err
}

func (r *rows) add(what string, seconds, mega float64, c cost) {
	r.done = append(r.done, struct {
		what          string
		seconds, mega float64
		cost
	}{what, seconds, mega, c})
}

// floorThen is what the floor of 20,000 notes took, in seconds, on the machine and at
// the hour at which the goals were set; so a goal is also a multiple of it. Here it is counted without
// the system's part, which is three times as long where a disk has just been cleared, so that the
// multiples are rather too high than too low.
const floorThen = 1.2

func (r *rows) print() {
	mean := 0.0
	for _, c := range r.floors {
		mean += (c.seconds - c.system) / float64(len(r.floors))
	}
	fmt.Println("| | goal | seconds of processor, and of them the system's | goal | times the floor without the system | MB |\n|---|---|---|---|---|---|")
	for _, c := range r.floors {
		fmt.Printf("| the floor: goldmark and writing alone | | %.2f, %.2f | | | %.0f |\n", c.seconds, c.system, c.mega)
	}
	for _, x := range r.done {
		goal, times := "", ""
		if x.seconds > 0 {
			goal, times = fmt.Sprintf("%g s", x.seconds), fmt.Sprintf("%.2g", x.seconds/floorThen)
		}
		if x.mega > 0 {
			goal += fmt.Sprintf(", %g MB", x.mega)
		}
		fmt.Printf("| %s | %s | %.2f, %.2f | %s | %.2f | %.0f |\n", x.what, goal, x.cost.seconds, x.system, times, x.cost.seconds/mean, x.cost.mega)
	}
}

// sizes of a site in MB: what is served, and what publishing keeps.
func sizes(dir string) (site, own float64, err error) {
	err = filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		if strings.Contains(filepath.ToSlash(p), "/.faultleaf/") {
			own += float64(info.Size()) / 1e6
		} else {
			site += float64(info.Size()) / 1e6
		}
		return nil
	})
	return site, own, err
}

func add(file, text string) error {
	b, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	return os.WriteFile(file, append(b, text...), 0o644)
}

// fault adds a fault like another one.
func fault(like string) error {
	b, err := os.ReadFile(like)
	if err != nil {
		return err
	}
	return os.WriteFile(strings.TrimSuffix(like, ".md")+"-again.md", []byte(strings.Replace(string(b), "title: ", "title: Again ", 1)), 0o644)
}

// commit puts all notes as they are into a repository, which it makes where there is none.
func commit(shop string) error {
	git := func(args ...string) error {
		cmd := exec.Command("git", append([]string{"-c", "user.name=measure", "-c", "user.email=measure@example.invalid", "-c", "commit.gpgsign=false", "-c", "gc.auto=0"}, args...)...)
		cmd.Dir = shop
		if out, err := cmd.CombinedOutput(); err != nil {
			return fmt.Errorf("git %s: %w\n%s", args[0], err, out)
		}
		return nil
	}
	if _, err := os.Stat(filepath.Join(shop, ".git")); err != nil {
		if err := git("init", "-q"); err != nil {
			return err
		}
	}
	if err := git("add", "content"); err != nil {
		return err
	}
	return git("commit", "-q", "-m", "notes")
}

func replace(file, old, new string) error {
	b, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	return os.WriteFile(file, []byte(strings.Replace(string(b), old, new, 1)), 0o644)
}

// proofs are those that a mended device of class II must show.
const proofs = "[{proof: visual, pass: ok}, {proof: insulation, value: 200 MΩ, limit: limit 2.00 MΩ, pass: ok}, {proof: function, pass: ok}]"

// sheet adds a job sheet that found a fault.
func sheet(shop, fault, name string) error {
	id := strings.TrimSuffix(filepath.Base(fault), ".md")
	b, err := os.ReadFile(fault)
	if err != nil {
		return err
	}
	device := ""
	for line := range strings.Lines(string(b)) {
		if d, ok := strings.CutPrefix(line, "device: "); ok {
			device = strings.TrimSpace(d)
		}
	}
	return write(shop, device, id, name)
}

func write(shop, device, cause, name string) error {
	today := time.Now().Format(time.DateOnly) // as sheets are: later than the others
	text := fmt.Sprintf("---\ndevice: %s\ndate: %s\nowner_says: It is dead\ncause: %s\nminutes: 20\nproofs: %s\noutcome: mended\n---\n\nAn invented job.\n", device, today, cause, proofs)
	return os.WriteFile(filepath.Join(shop, "content/jobs", today+"-"+device+"-"+name+".md"), []byte(text), 0o644)
}

// common adds a sheet that found the cord broken on a device made of common
// blocks; it counts a little on all others.
func common(shop string) error {
	devices, err := filepath.Glob(filepath.Join(shop, "content/devices/*-1[0-9][0-9].md"))
	if err != nil {
		return err
	}
	for _, file := range devices {
		b, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		if strings.Contains(string(b), "is: mains-cord") {
			device := strings.TrimSuffix(filepath.Base(file), ".md")
			return write(shop, device, device+"-cord-broken", "common")
		}
	}
	return errors.New("no device of the shop is made of common blocks")
}
