package pdftext

import (
	"bytes"
	"compress/zlib"
	"errors"
	"io"
)

// ErrBomb is that a PDF is a small file that becomes a large one.
var ErrBomb = errors.New("is a PDF that unpacks to far more than a packing list has; save the pages of the list alone")

// mostUnpacked is what all packed streams of a PDF may come to. The content of a page of a
// list is about 50 kB, and a typeface that is printed with it less than 4 MB.
const mostUnpacked = 48 << 20

// mostStreams is how many packed streams there may be: a page has one or two.
const mostStreams = 20_000

// checkUnpacked refuses a PDF whose streams unpack to more than that many bytes in sum. It
// looks at whatever follows the word stream, whether it is in use or not, and unpacks what is
// packed as ISO 32000-1, 7.4.4 says. What is packed otherwise the engine's memory bounds.
func checkUnpacked(data []byte, most int64) error {
	left := most
	var r io.ReadCloser // one for all streams: each has its own window to go back to
	word := []byte("stream")
	for streams := 0; streams <= mostStreams; {
		at := bytes.Index(data, word)
		if at < 0 {
			return nil
		}
		data = data[at+len(word):]
		begins := bytes.TrimPrefix(bytes.TrimPrefix(data, []byte("\r")), []byte("\n"))
		if len(begins) < 2 || begins[0]&0x0f != 8 || (int(begins[0])<<8|int(begins[1]))%31 != 0 { // RFC 1950, 2.2
			continue
		}
		streams++
		var err error
		if r == nil {
			r, err = zlib.NewReader(bytes.NewReader(begins))
		} else {
			err = r.(zlib.Resetter).Reset(bytes.NewReader(begins), nil)
		}
		if err != nil {
			r = nil
			continue
		}
		n, _ := io.Copy(io.Discard, io.LimitReader(r, left+1)) // what is damaged is for the engine to say
		if left -= n; left < 0 {
			break
		}
	}
	return ErrBomb
}
