package logfile

import (
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"time"
)

// crash is the file that the runtime writes to when the program dies of a panic, on
// whatever goroutine. Only then is anything in it; the next program to start takes it into
// the log and removes it.
type crash struct{ file *os.File }

const crashPrefix, crashSuffix = "crash-", ".txt"

// crashAfter is how old an empty one has to be before it is removed: its program ended
// without a chance to do it, and did not crash.
const crashAfter = 30 * 24 * time.Hour

func openCrash(folder string, log *slog.Logger) *crash {
	takeCrashes(folder, log, time.Now())
	if os.MkdirAll(folder, folderPerm) != nil {
		return &crash{}
	}
	file, err := os.OpenFile(filepath.Join(folder, fmt.Sprint(crashPrefix, os.Getpid(), crashSuffix)), os.O_WRONLY|os.O_CREATE|os.O_TRUNC, filePerm)
	if err != nil || debug.SetCrashOutput(file, debug.CrashOptions{}) != nil {
		return &crash{}
	}
	return &crash{file}
}

func (c *crash) close() {
	if c.file == nil {
		return
	}
	_ = errors.Join(debug.SetCrashOutput(nil, debug.CrashOptions{}), c.file.Close(), os.Remove(c.file.Name()))
}

// takeCrashes puts what earlier programs died of into the log.
func takeCrashes(folder string, log *slog.Logger, now time.Time) {
	names, _ := filepath.Glob(filepath.Join(folder, crashPrefix+"*"+crashSuffix))
	for _, name := range names {
		data, err := os.ReadFile(name)
		info, err2 := os.Stat(name)
		if err := errors.Join(err, err2); err != nil {
			continue
		}
		if len(data) == 0 && now.Sub(info.ModTime()) < crashAfter {
			continue // of a program that runs
		}
		if os.Remove(name) != nil && !errors.Is(err, fs.ErrNotExist) || len(data) == 0 {
			continue
		}
		cause, stack, _ := strings.Cut(string(data), "\n\n")
		log.Error("crashed", "when", info.ModTime(), "cause", cause, "stack", stackText(stack))
	}
}

// stackText is a stack as the runtime writes it: names of functions, files of the source
// and numbers, none of which is of a shop.
type stackText string
