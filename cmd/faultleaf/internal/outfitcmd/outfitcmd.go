// Package outfitcmd is the command outfit.
package outfitcmd

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"faultleaf/calc/all"
	"faultleaf/calc/quantity"
	"faultleaf/cmd/faultleaf/internal/env"
	"faultleaf/internal/note"
	"faultleaf/internal/outfit"
)

// Options of the command.
type Options struct {
	outfit.Shop
	Dir  string
	Bare bool // content/ alone
}

// usual is taken where nothing is said and nobody can be asked.
var usual = outfit.Usual

// New makes the command.
func New(e *env.Env) *cobra.Command {
	var o Options
	c := &cobra.Command{
		Use:   "outfit DIR",
		Short: "Begin a shop of your own",
		Long: `Outfit makes the folder as a git repository with a shop's first notes: the
parts that devices are made of, what owners say, the checklists that every job
needs, and a table lamp as an example. Beside them lie a README for the shop, a
hook that refuses to commit a mistake, a script for a build service, and what
an editor needs to know the keys of the notes. It asks for name, mains and
money where they are not given and somebody is there to answer. A folder that
holds content/ already is left alone.`,
		Example: "  faultleaf outfit our-shop --mains 120V --hertz 60 --currency USD",
		Args:    env.Words(1, 1),
		RunE: func(_ *cobra.Command, args []string) error {
			o.Dir = args[0]
			return Run(e, o)
		},
	}
	c.Flags().StringVar(&o.Name, "name", "", "the shop's name ("+usual.Name+")")
	c.Flags().StringVar(&o.Mains, "mains", "", "the mains voltage ("+usual.Mains+")")
	c.Flags().StringVar(&o.Hertz, "hertz", "", "the mains frequency ("+usual.Hertz+")")
	c.Flags().StringVar(&o.Currency, "currency", "", "the currency ("+usual.Currency+")")
	c.Flags().StringVar(&o.Rate, "rate", "", "what an hour at the bench costs ("+usual.Rate+")")
	c.Flags().BoolVar(&o.Bare, "bare", false, "content/ alone, without a repository around it")
	return c
}

// Run puts the shop together beside its place and moves content/ there at the end,
// all or nothing.
func Run(e *env.Env, o Options) error {
	to := filepath.Join(o.Dir, "content")
	if _, err := os.Lstat(to); err == nil {
		return env.Bad(to + " is there already, and is left alone; choose another folder")
	}
	o.ask(e)
	if err := o.tidy(); err != nil {
		return err
	}
	made := false
	if _, err := os.Lstat(o.Dir); errors.Is(err, fs.ErrNotExist) {
		made = true
	}
	if err := os.MkdirAll(o.Dir, 0o755); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return env.Bad("no folder can be made at " + o.Dir + "; choose another place")
		}
		return err
	}
	half, err := os.MkdirTemp(o.Dir, ".outfit-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(half)
	fail := func(err error) error {
		if made {
			os.RemoveAll(half)
			_ = os.Remove(o.Dir) // only while it is empty
		}
		return err
	}
	if err := o.Content(filepath.Join(half, "content")); err != nil {
		return fail(err)
	}
	if _, mistakes := note.LoadShop(os.DirFS(half), all.Find); len(mistakes) > 0 {
		var says []string
		for _, m := range mistakes {
			says = append(says, m.Says+" ("+m.Do+")")
		}
		return fail(env.Bad(strings.Join(says, "; ")))
	}
	if !o.Bare {
		if err := o.Beside(o.Dir); err != nil {
			return fail(err)
		}
	}
	if err := os.Chmod(filepath.Join(half, "content"), 0o755); err != nil {
		return fail(err)
	}
	if err := os.Rename(filepath.Join(half, "content"), to); err != nil {
		return fail(err)
	}
	git := "its commits are not checked, as there is no git here"
	if !o.Bare && o.repository() == nil {
		git = "a commit with a mistake is refused"
	}
	fmt.Fprintf(e.Out, "%s begins in %s, with mains of %s and %s Hz and sums in %s", o.Name, o.Dir, o.Mains, o.Hertz, o.Currency)
	if !o.Bare {
		fmt.Fprintf(e.Out, "; %s", git)
	}
	fmt.Fprintf(e.Out, ".\nAll of it stands in %s and may be changed there. Go on with:\n  cd %s\n  faultleaf host\n  faultleaf note device NAME --blocks \"mains-plug mains-cord ...\"\n", filepath.Join(to, "shop.yaml"), o.Dir)
	return nil
}

// ask asks for what was not given, if a person is there.
func (o *Options) ask(e *env.Env) {
	var in *bufio.Scanner
	if f, ok := e.In.(*os.File); ok {
		nobody, _ := os.Stat(os.DevNull)
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 && !os.SameFile(info, nobody) {
			in = bufio.NewScanner(f)
		}
	}
	for _, q := range []struct {
		at          *string
		says, usual string
	}{
		{&o.Name, "The shop's name", usual.Name}, {&o.Mains, "Mains voltage", usual.Mains}, {&o.Hertz, "Mains frequency", usual.Hertz},
		{&o.Currency, "Currency", usual.Currency}, {&o.Rate, "An hour at the bench costs", usual.Rate},
	} {
		if *q.at != "" {
			continue
		}
		if in != nil {
			fmt.Fprintf(e.Out, "%s [%s]: ", q.says, q.usual)
			if in.Scan() {
				*q.at = strings.TrimSpace(in.Text())
			}
		}
		if *q.at == "" {
			*q.at = q.usual
		}
	}
}

// tidy brings what was given into the form in which it stands in the file; the reader of
// shop.yaml judges it.
func (o *Options) tidy() error {
	if v, err := quantity.Parse(quantity.Voltage, o.Mains); err == nil && v.Low == v.High {
		o.Mains = v.Text()
		if x := quantity.Number(v.Num); len(x) <= 5 {
			o.Mains = x + " V"
		}
	}
	if v, err := quantity.Parse(quantity.Frequency, o.Hertz); err == nil {
		o.Hertz = quantity.Number(v.Num)
	}
	for _, text := range []string{o.Name, o.Mains, o.Hertz, o.Currency, o.Rate} {
		if strings.ContainsAny(text, "\r\n\"\\") {
			return env.Bad("“" + text + "” holds a quotation mark, a backslash or a line end; leave it out")
		}
	}
	return nil
}

// repository makes the folder a repository whose commits are checked. One that is there, or
// that the folder is a part of, stays as it is.
func (o Options) repository() error {
	git := func(words ...string) error {
		return exec.Command("git", append([]string{"-C", o.Dir}, words...)...).Run()
	}
	if git("rev-parse", "--show-toplevel") == nil {
		if _, err := os.Stat(filepath.Join(o.Dir, ".git")); err != nil {
			return errors.New("the folder is part of another repository")
		}
	} else if err := git("init", "-q", "-b", "main"); err != nil {
		return err
	}
	return git("config", "core.hooksPath", "hooks")
}
