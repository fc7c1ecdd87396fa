// Command stowright keeps the hardware and parts of a kit-built aircraft in order.
// Without a subcommand it opens the desktop; every subcommand does the work of a
// screen in a terminal, through the same calls.
package main

import (
	"context"
	"os"
	"os/signal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
