package camera

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// sender is a camera on loopback: what is put in frames is sent as a part.
type sender struct {
	*httptest.Server
	frames chan []byte
}

// newSender starts a camera that ends its stream when frames is closed.
func newSender(t *testing.T, boundary string) *sender {
	t.Helper()
	s := &sender{frames: make(chan []byte)}
	s.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "multipart/x-mixed-replace; boundary="+boundary)
		fmt.Fprint(w, "--frame\r\n")
		w.(http.Flusher).Flush()
		for {
			select {
			case <-r.Context().Done():
				return
			case frame, ok := <-s.frames:
				if !ok {
					fmt.Fprint(w, "--\r\n")
					return
				}
				fmt.Fprintf(w, "Content-Type: image/jpeg\r\nContent-Length: %d\r\n\r\n%s\r\n--frame", len(frame), frame)
				fmt.Fprint(w, "\r\n")
				w.(http.Flusher).Flush()
			}
		}
	}))
	t.Cleanup(s.Close)
	return s
}

func openStream(t *testing.T, address string) *Stream {
	t.Helper()
	s, err := OpenStream(t.Context(), address)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func TestStream(t *testing.T) {
	for _, boundary := range []string{"frame", "--frame"} {
		t.Run(boundary, func(t *testing.T) {
			camera := newSender(t, boundary)
			s := openStream(t, camera.URL)
			camera.frames <- jpegOf(t, 40)
			wantShade(t, s, 40)
			camera.frames <- withoutTables(jpegOf(t, 80))
			wantShade(t, s, 80)
			if _, err := s.Next(over()); !errors.Is(err, context.Canceled) {
				t.Errorf("Next with an ended context: %v, want context.Canceled", err)
			}
			s.Close()
			if _, err := s.Next(t.Context()); !errors.Is(err, io.EOF) {
				t.Errorf("Next after Close: %v, want io.EOF", err)
			}
		})
	}
}

func TestStreamBadFrameThenGood(t *testing.T) {
	camera := newSender(t, "frame")
	s := openStream(t, camera.URL)
	camera.frames <- []byte("no picture")
	if _, err := s.Next(t.Context()); err == nil || errors.Is(err, io.EOF) {
		t.Errorf("Next on a damaged frame: %v, want an error that is not the end", err)
	}
	camera.frames <- jpegOf(t, 40)
	wantShade(t, s, 40)
}

func TestStreamEnds(t *testing.T) {
	camera := newSender(t, "frame")
	s := openStream(t, camera.URL)
	close(camera.frames)
	if _, err := s.Next(t.Context()); err == nil {
		t.Error("Next after the camera ended the stream: no error")
	}
}

func TestStreamStalls(t *testing.T) {
	s := openStream(t, newSender(t, "frame").URL)
	s.stall = time.Millisecond
	if _, err := s.Next(t.Context()); err == nil || !strings.Contains(err.Error(), "no picture for 1ms") {
		t.Errorf("Next on a silent camera: %v, want it to say so", err)
	}
}

func TestStreamOversized(t *testing.T) {
	camera := newSender(t, "frame")
	s := openStream(t, camera.URL)
	select {
	case camera.frames <- make([]byte, maxFrameBytes+1):
	case <-t.Context().Done():
	}
	if _, err := s.Next(t.Context()); err == nil || !strings.Contains(err.Error(), "over 8 MB") {
		t.Errorf("Next on an oversized frame: %v, want it to say so", err)
	}
}

func TestOpenStreamRefuses(t *testing.T) {
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/page" {
			fmt.Fprint(w, "<html>a page</html>")
			return
		}
		http.NotFound(w, r)
	}))
	defer server.Close()
	for _, row := range []struct{ name, address, want string }{
		{"a page", server.URL + "/page", "is not a motion JPEG stream"},
		{"missing", server.URL + "/none", "404"},
		{"nobody answers", "http://127.0.0.1:1/", "does not answer"},
	} {
		t.Run(row.name, func(t *testing.T) {
			s, err := OpenStream(t.Context(), row.address)
			if err == nil {
				s.Close()
			}
			if err == nil || !strings.Contains(err.Error(), row.want) {
				t.Errorf("OpenStream(%q): %v, want %q", row.address, err, row.want)
			}
		})
	}
	t.Run("ended context", func(t *testing.T) {
		if _, err := OpenStream(over(), server.URL); !errors.Is(err, context.Canceled) {
			t.Errorf("OpenStream: %v, want context.Canceled", err)
		}
	})
}
