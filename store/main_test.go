package store_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"stowright/store"
)

// childRole in the environment makes the test binary another program: one that
// plays the role on the file that its argument names.
const childRole = "STOWRIGHT_TEST_ROLE"

func TestMain(m *testing.M) {
	role := os.Getenv(childRole)
	if role == "" {
		os.Exit(m.Run())
	}
	play, ok := roles()[role]
	if !ok {
		fmt.Println("no such role:", role)
		os.Exit(2)
	}
	if err := play(os.Args[1]); err != nil {
		fmt.Printf("%s: %s\n", store.KindOf(err), err)
		os.Exit(1)
	}
}

func roles() map[string]func(file string) error {
	return map[string]func(string) error{
		"hold": holdOpen, "look": look, "toil": toil, "add": add,
	}
}

// holdOpen has the file open until its standard input ends.
func holdOpen(file string) error {
	shop, err := store.Open(file, store.Options{Create: true})
	if err != nil {
		return err
	}
	fmt.Println("open")
	_, _ = io.Copy(io.Discard, os.Stdin)
	return shop.Close()
}

// look opens the file and says how many places it has.
func look(file string) error {
	shop, err := store.Open(file, store.Options{})
	if err != nil {
		return err
	}
	places, err := shop.Places()
	fmt.Println(len(places))
	return errors.Join(err, shop.Close())
}

// add opens the file and adds a place.
func add(file string) error {
	shop, err := store.Open(file, store.Options{})
	if err != nil {
		return err
	}
	_, _, err = shop.AddPlace(store.Place{Kind: store.Bin, Name: "Bin"})
	return errors.Join(err, shop.Close())
}

// child is another program at work.
type child struct {
	*exec.Cmd
	stdin io.WriteCloser
	lines *bufio.Scanner
}

// startChild starts the test binary in a role on a file.
func startChild(t *testing.T, role, file string, change ...func(*exec.Cmd)) child {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	t.Cleanup(cancel)
	c := child{Cmd: exec.CommandContext(ctx, os.Args[0], file)}
	c.Env = append(os.Environ(), childRole+"="+role)
	c.Stderr = os.Stderr
	for _, f := range change {
		f(c.Cmd)
	}
	var err error
	if c.stdin, err = c.StdinPipe(); err != nil {
		t.Fatal(err)
	}
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	c.lines = bufio.NewScanner(out)
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	return c
}

func (c child) line(t *testing.T) string {
	t.Helper()
	if !c.lines.Scan() {
		t.Fatalf("the other program said nothing more: %v", c.lines.Err())
	}
	return c.lines.Text()
}

// finish lets the program end by itself.
func (c child) finish(t *testing.T) {
	t.Helper()
	_ = c.stdin.Close()
	if err := c.Wait(); err != nil {
		t.Errorf("the other program: %v", err)
	}
}

func TestSecondProgram(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "shop.stow")
	want := "busy: Another program has the shop file " + file + " open: close it there, then try again."

	first := startChild(t, "hold", file)
	if got := first.line(t); got != "open" {
		t.Fatalf("the first program says %q", got)
	}
	for name, open := range map[string]func() string{
		"this program": func() string {
			_, err := store.Open(file, store.Options{})
			return fmt.Sprintf("%s: %v", store.KindOf(err), err)
		},
		"a third program": func() string {
			c := startChild(t, "look", file)
			line := c.line(t)
			if err := c.Wait(); err == nil {
				t.Error("the third program is content")
			}
			return line
		},
	} {
		start := time.Now()
		if got := open(); got != want {
			t.Errorf("%s is told %q, want %q", name, got, want)
		}
		if took := time.Since(start); took > time.Second {
			t.Errorf("%s waited %s, want less than a second", name, took)
		}
	}
	first.finish(t)
	c := startChild(t, "look", file)
	if got := c.line(t); got != "0" {
		t.Errorf("after the first has ended the file says %q", got)
	}
	c.finish(t)
}

// A program that just ends is waited for: whoever closes and opens at once is not refused.
func TestSecondProgramEndsJustThen(t *testing.T) {
	file := filepath.Join(t.TempDir(), "shop.stow")
	first := startChild(t, "hold", file)
	first.line(t)
	opened := make(chan error)
	go func() {
		shop, err := store.Open(file, store.Options{})
		if err == nil {
			err = shop.Close()
		}
		opened <- err
	}()
	first.finish(t)
	if err := <-opened; err != nil {
		t.Errorf("opening while the other program ends: %v", err)
	}
}

// While another program writes, the file is busy and never taken for damaged,
// whatever moment it is looked at.
func TestBusyIsNotDamaged(t *testing.T) {
	file := filepath.Join(t.TempDir(), "shop.stow")
	t.Setenv(seedName, "7")
	c := startChild(t, "toil", file)
	for range 5 {
		c.line(t)
	}
	go func() {
		for c.lines.Scan() { // so that it goes on
		}
	}()
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() {
			if _, err := store.Open(file, store.Options{}); store.KindOf(err) != store.Busy {
				t.Errorf("opening while another program writes: %v", err)
			}
		})
	}
	all.Wait()
	if err := c.Process.Kill(); err != nil {
		t.Error(err)
	}
	_ = c.Wait()
}

// Whoever has a damaged file open has to close it first, before anything else is said.
func TestBusyComesBeforeDamaged(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "shop.stow")
	c := startChild(t, "hold", file)
	c.line(t)
	f, err := os.OpenFile(file, os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.WriteAt(make([]byte, 4096), 0); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := store.Open(file, store.Options{}); store.KindOf(err) != store.Busy {
		t.Errorf("while it is open: %v", err)
	}
	c.finish(t)
	if _, err := store.Open(file, store.Options{}); store.KindOf(err) != store.Corrupt {
		t.Errorf("when it is closed: %v", err)
	}
}
