// Command boltplate draws threaded fasteners as layered DXF files and shows
// how each of their dimensions came about. Run it with --help.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"

	"boltplate/cmd/boltplate/internal/command"
)

func main() { os.Exit(run()) }

func run() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	defer stop()
	go func() {
		<-ctx.Done()
		stop() // a second signal ends the process at once
	}()
	return command.Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
}
