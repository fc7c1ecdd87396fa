// Command stowright keeps the hardware and parts of a kit-built aircraft in order.
// Without a subcommand it opens the desktop; every subcommand does the work of a
// screen in a terminal, through the same calls.
package main

import (
	"context"
	"log/slog"
	"os"
	"os/signal"
	"time"

	_ "stowright/app/hush" // before Fyne is initialised
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	closeLog, began := startLog(), time.Now()
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	stop()
	slog.Info("ended", "code", code, "took", time.Since(began).Round(time.Millisecond))
	closeLog()
	os.Exit(code)
}
