// Command measure makes a big shop to measure with:
//
//	go run ./cmd/measure shop 20000 FOLDER
package main

import (
	"errors"
	"fmt"
	"os"
	"strconv"

	"faultleaf/internal/bigshop"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "measure:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) != 3 || args[0] != "shop" {
		return errors.New("say shop, a number of notes and a new folder")
	}
	n, err := strconv.Atoi(args[1])
	if err != nil {
		return fmt.Errorf("%q is no number of notes", args[1])
	}
	if _, err := os.Stat(args[2]); err == nil {
		return fmt.Errorf("%s is there already; name a new folder", args[2])
	}
	return bigshop.Write(args[2], os.DirFS("."), n, 1)
}
