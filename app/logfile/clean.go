package logfile

import (
	"context"
	_ "embed" // the words
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"time"
	"unicode"
)

// handler cleans all texts of a record before they are written.
type handler struct{ to slog.Handler }

func (h handler) Enabled(ctx context.Context, l slog.Level) bool { return h.to.Enabled(ctx, l) }

func (h handler) Handle(ctx context.Context, r slog.Record) error {
	clean := slog.NewRecord(r.Time, r.Level, Clean(r.Message), r.PC)
	r.Attrs(func(a slog.Attr) bool {
		clean.AddAttrs(slog.Attr{Key: a.Key, Value: cleanValue(a.Value)})
		return true
	})
	return h.to.Handle(ctx, clean)
}

func (h handler) WithAttrs(attrs []slog.Attr) slog.Handler {
	var clean []slog.Attr
	for _, a := range attrs {
		clean = append(clean, slog.Attr{Key: a.Key, Value: cleanValue(a.Value)})
	}
	return handler{h.to.WithAttrs(clean)}
}

func (h handler) WithGroup(name string) slog.Handler { return handler{h.to.WithGroup(name)} }

// cleanValue keeps numbers and times, and cleans all that is or holds a text.
func cleanValue(v slog.Value) slog.Value {
	switch v = v.Resolve(); v.Kind() {
	case slog.KindBool, slog.KindDuration, slog.KindFloat64, slog.KindInt64, slog.KindTime, slog.KindUint64:
		return v
	case slog.KindString:
		return slog.StringValue(Clean(v.String()))
	case slog.KindGroup:
		var attrs []slog.Attr
		for _, a := range v.Group() {
			attrs = append(attrs, slog.Attr{Key: a.Key, Value: cleanValue(a.Value)})
		}
		return slog.GroupValue(attrs...)
	}
	switch v := v.Any().(type) {
	case error:
		return slog.StringValue(chain(v))
	case stackText:
		return slog.StringValue(string(v))
	case time.Time:
		return slog.TimeValue(v)
	default:
		return slog.StringValue(fmt.Sprintf("%T", v))
	}
}

// chain is an error with its causes, each by its type and its text; what the system said
// is in full.
func chain(err error) string {
	var steps []string
	var walk func(err error)
	walk = func(err error) {
		steps = append(steps, fmt.Sprintf("%T: %s", err, errorText(err)))
		switch err := err.(type) {
		case interface{ Unwrap() error }:
			if cause := err.Unwrap(); cause != nil {
				walk(cause)
			}
		case interface{ Unwrap() []error }:
			for _, cause := range err.Unwrap() {
				walk(cause)
			}
		}
	}
	walk(err)
	return strings.Join(steps, " <- ")
}

// errorText is the text of one error of a chain.
func errorText(err error) string {
	var path *fs.PathError
	var link *os.LinkError
	switch number, system := err.(syscall.Errno); {
	case system:
		return fmt.Sprintf("%d %s", uintptr(number), number.Error())
	case errors.As(err, &path) && error(path) == err:
		return path.Op + " …"
	case errors.As(err, &link) && error(link) == err:
		return link.Op + " …"
	}
	return Clean(err.Error())
}

//go:embed words.txt
var wordList string

// words are those that the program says itself. A test keeps the list, of all texts in its
// source, and of what Go and the libraries say when something is wrong.
var words = sync.OnceValue(func() map[string]bool {
	all := map[string]bool{}
	for word := range strings.Lines(wordList) {
		all[strings.TrimSpace(word)] = true
	}
	return all
})

const gap = "…"

var (
	// quoted is what a message has in quotation marks: always something of a person's.
	quoted = regexp.MustCompile(`"(?:[^"\\]|\\.)*"|“[^”]*”|` + "`[^`]*`" + `|(?:^|\s)'[^']*'`)
	// ulid is an id of the shop's own making.
	ulid = regexp.MustCompile(`^[0-7][0-9A-HJKMNP-TV-Z]{25}$`)
)

// Clean is a text without anything of a shop: only words that the program says itself,
// and ids. All else, figures and names and paths, stands as "…".
func Clean(text string) string {
	var out []string
	for _, word := range strings.Fields(quoted.ReplaceAllString(text, " "+gap+" ")) {
		bare := strings.TrimFunc(word, unicode.IsPunct)
		switch {
		case bare != "" && (words()[strings.ToLower(bare)] || ulid.MatchString(bare)):
			out = append(out, word)
		case len(out) == 0 || out[len(out)-1] != gap:
			out = append(out, gap)
		}
	}
	return strings.Join(out, " ")
}
