package holder

import (
	"net"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"go.uber.org/goleak"
)

// TestMain fails when a test leaves a goroutine behind.
func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

// folder is one whose path is short enough for a socket.
func folder(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "holder")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	return filepath.Join(dir, "run")
}

// serve listens until the test ends; fronts gets a value each time somebody asks.
func serve(t *testing.T, in, shop string, me Holder) (fronts chan struct{}, l *Listener) {
	t.Helper()
	l, err := Listen(in, shop)
	if err != nil {
		t.Fatal(err)
	}
	fronts = make(chan struct{}, 10)
	ended := make(chan struct{})
	go func() {
		l.Serve(me, func() { fronts <- struct{}{} })
		close(ended)
	}()
	t.Cleanup(func() {
		_ = l.Close() // it may be closed already
		<-ended
	})
	return fronts, l
}

// Who asks about a shop that a window has hears who that is, and the window is called to
// the front each time; of another shop nobody answers.
func TestFront(t *testing.T) {
	in := folder(t)
	me := Holder{Process: 4711, Since: time.Date(2026, 3, 18, 9, 30, 0, 0, time.UTC)}
	fronts, l := serve(t, in, "/home/me/kit.stow", me)
	for range 2 {
		if who, ok := Front(in, "/home/me/kit.stow"); !ok || who.Process != me.Process || !who.Since.Equal(me.Since) {
			t.Errorf("it is held by %+v, %t; want %+v", who, ok, me)
		}
		<-fronts
	}
	if who, ok := Front(in, "/home/me/other.stow"); ok || len(fronts) > 0 {
		t.Errorf("another shop is held by %+v, and the window was called %d times", who, len(fronts))
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if who, ok := Front(in, "/home/me/kit.stow"); ok {
		t.Errorf("after it was closed it is held by %+v", who)
	}
	if info, err := os.Stat(in); err != nil || info.Mode().Perm()&0o077 != 0 {
		t.Errorf("the folder is %v, %v: others may look into it", info.Mode(), err)
	}
}

// What a killed program left is listened on anew.
func TestListenAfterAKill(t *testing.T) {
	in := folder(t)
	old, err := Listen(in, "kit.stow")
	if err != nil {
		t.Fatal(err)
	}
	old.sockets.(*net.UnixListener).SetUnlinkOnClose(false)
	if err := old.Close(); err != nil {
		t.Fatal(err)
	}
	if _, ok := Front(in, "kit.stow"); ok {
		t.Error("a socket that was left answers")
	}
	serve(t, in, "kit.stow", Holder{Process: 1})
	if _, ok := Front(in, "kit.stow"); !ok {
		t.Error("nobody answers where one was left")
	}
}

// An answer that is none, or too long, is nobody.
func TestStrangeAnswers(t *testing.T) {
	for name, answer := range map[string]string{
		"nothing": "", "text": "hello\n", "no process": "{}\n", "half a line": `{"process":5`,
		"too long": `{"process":5,"since":"` + strings.Repeat("x", longest) + "\n",
	} {
		t.Run(name, func(t *testing.T) {
			in := folder(t)
			l, err := Listen(in, "kit.stow")
			if err != nil {
				t.Fatal(err)
			}
			ended := make(chan struct{})
			go func() {
				defer close(ended)
				if c, err := l.sockets.Accept(); err == nil {
					_, _ = c.Write([]byte(answer))
					_ = c.Close()
				}
			}()
			if who, ok := Front(in, "kit.stow"); ok {
				t.Errorf("it is held by %+v", who)
			}
			_ = l.Close()
			<-ended
		})
	}
}

// Sockets are files in a folder of the user, and never reach a network.
func TestSocketsAreFiles(t *testing.T) {
	source, err := os.ReadFile("holder.go")
	if err != nil {
		t.Fatal(err)
	}
	calls := regexp.MustCompile(`net\.(Listen|Dial)\w*\([^,]*,`).FindAllString(string(source), -1)
	if len(calls) != 2 {
		t.Errorf("it listens or dials in %d places, want 2: %q", len(calls), calls)
	}
	for _, call := range calls {
		if !strings.HasSuffix(call, `("unix",`) {
			t.Errorf("%s... is not a file", call)
		}
	}
}

// Where no socket can be, there is none.
func TestListenNowhere(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, in := range []string{filepath.Join(file, "run"), filepath.Join(t.TempDir(), strings.Repeat("x", 120))} {
		if l, err := Listen(in, "kit.stow"); err == nil {
			t.Errorf("it listens in %s", in)
			_ = l.Close()
		}
	}
}
