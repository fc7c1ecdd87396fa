package session

import (
	"context"
	"fmt"
	"image"

	"stowright/labels/scan"
	"stowright/store"
)

// Reading is a code that was seen in a picture, with what it names.
type Reading struct {
	Code scan.Code
	store.Resolution
}

// Eye finds the codes of a picture: a scan.Reader, or a scan.Follower for the
// pictures of a camera, one after another. One serves one goroutine at a time.
type Eye interface {
	Read(ctx context.Context, picture image.Image, options scan.Options) (scan.Report, error)
}

// ReadPicture reads all codes of a picture and resolves each one.
func (s *Session) ReadPicture(ctx context.Context, eye Eye, picture image.Image) ([]Reading, error) {
	issued, err := s.issuedTags()
	if err != nil {
		return nil, err
	}
	report, err := eye.Read(ctx, picture, scan.Options{Issued: issued})
	if err != nil {
		return nil, fmt.Errorf("reading the picture: %w", err)
	}
	readings := make([]Reading, 0, len(report.Codes))
	err = s.Shop.Read(func(r *store.Reader) error {
		for _, code := range report.Codes {
			is, err := r.Resolve(code.Text)
			if err != nil {
				return err
			}
			readings = append(readings, Reading{Code: code, Resolution: is})
		}
		return nil
	})
	return readings, err
}

// issuedTags are the tags in use, prepared for the reader once and again after a
// place was made or retired.
func (s *Session) issuedTags() (*scan.Issued, error) {
	s.tags.Lock()
	defer s.tags.Unlock()
	if s.issued != nil {
		return s.issued, nil
	}
	tags, err := s.Shop.Tags()
	if err != nil {
		return nil, err
	}
	s.issued = scan.Issue(tags)
	return s.issued, nil
}

func (s *Session) forgetTags() {
	s.tags.Lock()
	defer s.tags.Unlock()
	s.issued = nil
}
