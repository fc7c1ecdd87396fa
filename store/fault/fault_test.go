package fault_test

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"stowright/store/fault"
)

func TestIsByKind(t *testing.T) {
	sentinels := map[fault.Kind]error{
		fault.Invalid: fault.ErrInvalid, fault.NotFound: fault.ErrNotFound, fault.Conflict: fault.ErrConflict,
		fault.Busy: fault.ErrBusy, fault.Corrupt: fault.ErrCorrupt, fault.Internal: fault.ErrInternal,
	}
	for kind := range sentinels {
		err := fmt.Errorf("reading: %w", fault.Wrap(io.ErrUnexpectedEOF, kind, "shop.stow", "%s is short: look again.", "shop.stow"))
		for other, sentinel := range sentinels {
			if got := errors.Is(err, sentinel); got != (kind == other) {
				t.Errorf("an error of kind %q is %v: %t", kind, sentinel, got)
			}
		}
		if fault.KindOf(err) != kind || !fault.Known(err) || !errors.Is(err, io.ErrUnexpectedEOF) {
			t.Errorf("%v: kind %q, known %t, want %q with its cause", err, fault.KindOf(err), fault.Known(err), kind)
		}
	}
	if fault.KindOf(io.EOF) != fault.Internal || fault.Known(io.EOF) || errors.Is(io.EOF, fault.ErrInternal) {
		t.Error("an error of another package is taken for one of ours")
	}
}

func TestErrorText(t *testing.T) {
	plain := fault.New(fault.Busy, "a.stow", "%s is open: close it.", "a.stow")
	if got, want := plain.Error(), "a.stow is open: close it."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := fault.Wrap(io.EOF, fault.Corrupt, "", "It is damaged: keep it.").Error(), "It is damaged: keep it. (EOF)"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// A hidden name is shown nowhere, neither in the sentence nor in its causes.
func TestRename(t *testing.T) {
	inner := fmt.Errorf("write /d/.x-unfinished-1/x: %w", io.ErrShortWrite)
	for name, err := range map[string]error{
		"of another package": inner,
		"ours":               fault.Wrap(inner, fault.Corrupt, "/d/.x-unfinished-1/x", "%s is damaged: keep it.", "/d/.x-unfinished-1/x"),
		"wrapped":            fmt.Errorf("copying: %w", inner),
	} {
		got := fault.Rename(err, "/d/.x-unfinished-1/x", "/d/x.stow")
		if strings.Contains(got.Error(), "unfinished") || !strings.Contains(got.Error(), "/d/x.stow") || !errors.Is(got, io.ErrShortWrite) || fault.KindOf(got) != fault.KindOf(err) {
			t.Errorf("%s: %v", name, got)
		}
		var e *fault.Error
		if errors.As(got, &e) && e.Where != "/d/x.stow" {
			t.Errorf("%s: it is about %s", name, e.Where)
		}
	}
	if fault.Rename(nil, "a", "b") != nil || fault.Rename(io.EOF, "a", "b") != io.EOF {
		t.Error("what names nothing is changed")
	}
}
