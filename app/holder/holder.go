// Package holder tells a second start of the program which window has a shop file open, and
// has that window come to the front. A window listens on a socket in a folder of its user,
// one for each shop file; who finds nobody there is no worse off than without.
//
// It decides nothing: who may open a shop file, its lock alone says.
package holder

import (
	"bufio"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"time"
)

// Holder is who has a shop file open.
type Holder struct {
	Process int       `json:"process"` // its number on this machine
	Since   time.Time `json:"since"`
}

// patience is how long either side waits for the other: both are on one machine.
const patience = 2 * time.Second

// longest is more bytes than an answer has.
const longest = 1 << 10

// address is the socket of a shop file in a folder: its name says nothing of the file's,
// and is short, since the path of a socket may have about 100 bytes.
func address(folder, shop string) string {
	name := sha256.Sum256([]byte(shop))
	return filepath.Join(folder, fmt.Sprintf("%x.sock", name[:8]))
}

// Listener is where other starts ask. Serve answers them until Close.
type Listener struct{ sockets net.Listener }

// Listen begins to listen for a shop file, by its full name, which the program must hold: a
// socket that is there already was left by one that was killed.
func Listen(folder, shop string) (*Listener, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, err
	}
	path := address(folder, shop)
	_ = os.Remove(path) // where it may not be, listening fails
	sockets, err := net.Listen("unix", path)
	if err != nil {
		return nil, err
	}
	return &Listener{sockets}, nil
}

// Serve tells everyone who asks about the holder, and calls front for each of them. It
// returns when the listener is closed.
func (l *Listener) Serve(me Holder, front func()) {
	for {
		c, err := l.sockets.Accept()
		if err != nil {
			return
		}
		front()
		if c.SetDeadline(time.Now().Add(patience)) == nil {
			_ = json.NewEncoder(c).Encode(me) // who has gone meanwhile needs no answer
		}
		_ = c.Close()
	}
}

// Close ends listening.
func (l *Listener) Close() error { return l.sockets.Close() }

// Front asks who has a shop file open to come to the front, and reports who that is; ok is
// false where nobody answers.
func Front(folder, shop string) (who Holder, ok bool) {
	c, err := net.DialTimeout("unix", address(folder, shop), patience)
	if err != nil {
		return Holder{}, false
	}
	defer c.Close()
	if c.SetDeadline(time.Now().Add(patience)) != nil {
		return Holder{}, false
	}
	line, err := bufio.NewReader(io.LimitReader(c, longest)).ReadBytes('\n')
	if err != nil || json.Unmarshal(line, &who) != nil || who.Process <= 0 {
		return Holder{}, false
	}
	return who, true
}
