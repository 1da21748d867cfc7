package env

import (
	"errors"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"faultleaf/internal/note"
)

// What the libraries below say of a command's words and of files is put into a sentence of the house
// here, so that nobody meets "accepts 1 arg(s)" or "strconv.ParseInt".

// Words is the check of a command that takes from least to most words besides its flags.
func Words(least, most int) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		called := c.CommandPath()
		_, takes, _ := strings.Cut(strings.TrimSuffix(c.UseLine(), " [flags]"), called)
		takes = strings.TrimSpace(takes)
		switch {
		case len(args) > most && most == 0:
			return Bad(called + " takes no words of its own, so “" + args[0] + "” is too much; " + called + " --help says what it takes")
		case len(args) > most:
			return Bad("“" + args[most] + "” is a word too much, as " + called + " takes " + takes + "; a name with a space in it goes between quotes")
		case len(args) < least:
			says := called + " needs " + takes + " behind it"
			if example, _, _ := strings.Cut(strings.TrimSpace(c.Example), "\n"); example != "" {
				says += ", like: " + example
			}
			return Bad(says)
		}
		return nil
	}
}

var invalid = regexp.MustCompile(`^invalid argument "(.*)" for "(?:-., )?(--[a-z-]+)" flag: `)

// Flag is the failure of a flag that cannot be followed.
func Flag(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	help := "; " + c.CommandPath() + " --help lists them"
	switch m := invalid.FindStringSubmatch(err.Error()); {
	case errors.As(err, &unknown) && len(unknown.GetSpecifiedName()) > 1:
		var names []string
		c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
		says := "there is no flag --" + unknown.GetSpecifiedName()
		if near := note.Nearest(unknown.GetSpecifiedName(), names); near != "" {
			return Bad(says + "; did you mean --" + near)
		}
		return Bad(says + help)
	case errors.As(err, &unknown):
		return Bad("there is no flag -" + unknown.GetSpecifiedName() + help)
	case errors.As(err, &bare):
		return Bad("--" + bare.GetSpecifiedName() + " needs something behind it; " + c.CommandPath() + " --help says which")
	case m != nil:
		says := m[2] + " cannot be “" + m[1] + "”"
		if f := c.Flag(strings.TrimPrefix(m[2], "--")); f != nil {
			switch f.Value.Type() {
			case "int":
				says = m[2] + " should be a whole number, not “" + m[1] + "”"
			case "float64":
				says = m[2] + " should be a number, not “" + m[1] + "”"
			case "bool":
				says = m[2] + " stands by itself, without “=" + m[1] + "”"
			}
		}
		return Bad(says)
	}
	return Bad(err.Error())
}

// Plain is what an error says, with what the machine says of a file in the words of a person.
func Plain(err error) string {
	says := err.Error()
	put := func(whole, path string, why error) {
		if s := ofFile(path, why); s != "" {
			says = strings.Replace(says, whole, s, 1)
		}
	}
	var at *fs.PathError
	var link *os.LinkError
	var line *net.OpError
	var address *net.AddrError
	switch {
	case !errors.As(err, &line):
	case errors.Is(line, syscall.EADDRINUSE):
		says = strings.Replace(says, line.Error(), "another program has it, perhaps a faultleaf that runs already", 1)
	case errors.Is(line, fs.ErrPermission):
		says = strings.Replace(says, line.Error(), "this user may not open it, as ports below 1024 are the machine's own", 1)
	case errors.As(line, &address):
		says = strings.Replace(says, line.Error(), "ports go from 0 to 65535", 1)
	}
	if errors.As(err, &at) {
		put(at.Error(), at.Path, at.Err)
	}
	if errors.As(err, &link) {
		put(link.Error(), link.New, link.Err)
	}
	return says
}

func ofFile(path string, why error) string {
	switch {
	case errors.Is(why, fs.ErrPermission):
		if strings.HasPrefix(filepath.Base(path), ".") { // a half-written file of our own
			path = filepath.Dir(path)
		}
		return "this user may not read or change " + path + "; ask whose it is, or take another folder"
	case errors.Is(why, syscall.ENOTDIR):
		return path + " is a file where a folder is needed; take another name"
	case errors.Is(why, syscall.EISDIR):
		return path + " is a folder, not a file"
	case errors.Is(why, fs.ErrNotExist):
		return "there is no " + path
	case errors.Is(why, fs.ErrExist):
		return path + " is there already"
	case errors.Is(why, syscall.ENOSPC), errors.Is(why, syscall.EDQUOT):
		return "the disk is full; make room and try again"
	case errors.Is(why, syscall.EROFS):
		return "the disk with " + path + " can only be read; take another folder"
	}
	return ""
}
