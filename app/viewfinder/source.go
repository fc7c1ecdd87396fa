package viewfinder

import (
	"context"
	"image"
	"io"
	"os"

	"stowright/labels/camera"
	"stowright/labels/scan"
)

// Opener opens a source of pictures: the first camera for "", or a camera, the address of
// a stream, a folder of pictures, or one picture.
type Opener func(ctx context.Context, where string) (camera.Source, error)

// single is a source of one picture.
type single struct{ picture image.Image }

// Next returns the picture once, then io.EOF.
func (s *single) Next(context.Context) (image.Image, error) {
	p := s.picture
	s.picture = nil
	if p == nil {
		return nil, io.EOF
	}
	return p, nil
}

// Close does nothing.
func (s *single) Close() error { return nil }

// OpenSource opens what the user named: one picture, or what camera.Open accepts.
func OpenSource(ctx context.Context, where string) (camera.Source, error) {
	info, err := os.Stat(where)
	if where != "" && err == nil && info.Mode().IsRegular() {
		picture, err := scan.Open(where)
		if err != nil {
			return nil, err
		}
		return &single{picture}, nil
	}
	return camera.Open(ctx, where)
}
