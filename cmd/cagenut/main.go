// Command cagenut keeps racks as text in a git repository: it lints them,
// draws them, compares commits by unit, and turns a difference into change
// windows.
//
// main.go and program.go are the frame: the world a command sees, and how an
// error becomes an exit status. Each command is a file of its own, and
// root.go lists them.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"cagenut/lang"
)

func main() {
	lang.CollectLate()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	status := run(ctx, realProgram(), os.Args[1:])
	stop()
	os.Exit(status)
}
