package camera

import (
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"mime"
	"mime/multipart"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"
)

// Bounds on a stream from the network.
const (
	maxFrameBytes = 8 << 20
	answerTime    = 10 * time.Second // to connect and to begin answering
	stallTime     = 10 * time.Second // between two pictures
)

// Stream is a motion JPEG stream over HTTP, as phones and network cameras send:
// a multipart/x-mixed-replace answer with one JPEG a part.
type Stream struct {
	address string
	stall   time.Duration
	cancel  context.CancelFunc
	body    io.Closer
	client  *http.Client
	done    chan struct{} // closed when the receiving goroutine has ended
	fresh   chan struct{} // has one token while latest was not taken yet

	mu     sync.Mutex
	latest []byte
	err    error // why the stream ended
}

var _ Source = (*Stream)(nil)

// Live reports true: successive pictures show nearly the same view.
func (s *Stream) Live() bool { return true }

// OpenStream connects to the address of a stream. ctx limits connecting only; Close ends
// the stream.
func OpenStream(ctx context.Context, address string) (*Stream, error) {
	client := &http.Client{Transport: &http.Transport{
		Proxy:                 http.ProxyFromEnvironment,
		DialContext:           (&net.Dialer{Timeout: answerTime}).DialContext,
		ResponseHeaderTimeout: answerTime,
		DisableCompression:    true,
	}}
	// The request must outlive ctx, but be cancelled with it while connecting.
	live, cancel := context.WithCancel(context.WithoutCancel(ctx))
	stop := context.AfterFunc(ctx, cancel)
	answer, boundary, err := connect(live, client, address)
	if !stop() && err == nil {
		answer.Body.Close()
		err = ctx.Err()
	}
	if err != nil {
		cancel()
		client.CloseIdleConnections()
		return nil, fmt.Errorf("stream %q: %w", address, err)
	}
	s := &Stream{
		address: address, stall: stallTime, cancel: cancel, body: answer.Body, client: client,
		done: make(chan struct{}), fresh: make(chan struct{}, 1),
	}
	go s.receive(multipart.NewReader(answer.Body, boundary))
	return s, nil
}

// connect requests the stream and checks that the response is one.
func connect(ctx context.Context, client *http.Client, address string) (*http.Response, string, error) {
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, address, nil)
	if err != nil {
		return nil, "", fmt.Errorf("is not an address: %w", err)
	}
	answer, err := client.Do(request)
	var attempt *url.Error // repeats the address in its message
	if errors.As(err, &attempt) {
		err = attempt.Err
	}
	if err != nil {
		return nil, "", fmt.Errorf("does not answer; check the address and that the camera is on: %w", err)
	}
	boundary, err := streamBoundary(answer)
	if err != nil {
		answer.Body.Close()
		return nil, "", err
	}
	return answer, boundary, nil
}

func streamBoundary(answer *http.Response) (string, error) {
	if answer.StatusCode != http.StatusOK {
		return "", fmt.Errorf("answers %q; check the address", answer.Status)
	}
	kind, parameters, err := mime.ParseMediaType(answer.Header.Get("Content-Type"))
	if err != nil || !strings.HasPrefix(kind, "multipart/") || parameters["boundary"] == "" {
		return "", fmt.Errorf("is not a motion JPEG stream but %q", answer.Header.Get("Content-Type"))
	}
	// Some cameras name the boundary with the dashes that come before it.
	return strings.TrimPrefix(parameters["boundary"], "--"), nil
}

// receive stores the newest picture until the stream ends.
func (s *Stream) receive(parts *multipart.Reader) {
	defer close(s.done)
	for {
		frame, err := nextPart(parts)
		s.mu.Lock()
		s.latest, s.err = frame, err
		s.mu.Unlock()
		if err != nil {
			return
		}
		select {
		case s.fresh <- struct{}{}:
		default: // the previous one was not taken and is replaced
		}
	}
}

func nextPart(parts *multipart.Reader) ([]byte, error) {
	part, err := parts.NextRawPart()
	if err != nil {
		return nil, err
	}
	frame, err := io.ReadAll(io.LimitReader(part, maxFrameBytes+1))
	if err != nil {
		return nil, err
	}
	if len(frame) > maxFrameBytes {
		return nil, fmt.Errorf("a picture of the stream is over %d MB", maxFrameBytes>>20)
	}
	return frame, nil
}

// Next waits for the newest picture. A damaged picture is an error; the next call
// continues with the next one.
func (s *Stream) Next(ctx context.Context) (image.Image, error) {
	timer := time.NewTimer(s.stall)
	defer timer.Stop()
	select {
	case <-s.fresh:
	default:
		select {
		case <-s.fresh:
		case <-s.done:
			return nil, s.ended()
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-timer.C:
			return nil, fmt.Errorf("stream %q: no picture for %v; check the camera", s.address, s.stall)
		}
	}
	s.mu.Lock()
	frame := s.latest
	s.mu.Unlock()
	if frame == nil {
		return nil, s.ended()
	}
	picture, err := decodeJPEG(frame)
	if err != nil {
		return nil, fmt.Errorf("stream %q: %w", s.address, err)
	}
	return picture, nil
}

// ended is why the stream ended: io.EOF when the camera ended it or Close did.
func (s *Stream) ended() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if errors.Is(s.err, io.EOF) || errors.Is(s.err, context.Canceled) {
		return io.EOF
	}
	return fmt.Errorf("stream %q: was interrupted: %w", s.address, s.err)
}

// Close ends the stream and waits for its goroutine.
func (s *Stream) Close() error {
	s.cancel()
	s.body.Close()
	<-s.done
	s.client.CloseIdleConnections()
	return nil
}
