package labels

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"slices"
	"strconv"
)

// A file with hundreds of photographs is larger than what a program may take of the memory.
// So the PDF library is given a stub in the place of each, and the photographs are read one
// after the other while the file is written. All stubs are of different widths: the library
// orders pictures by nothing else, and the same document has to give the same bytes.

// pictures are the photographs of a document, each once, in the order of their stubs.
type pictures struct {
	names map[string]int
	read  []func() ([]byte, error)
}

// stubOf is the name of the stub of a photograph, and the stub itself where it is new.
func (p *pictures) stubOf(i Image) (name string, stub []byte) {
	key, read := i.Name, i.Read
	if read == nil {
		key, read = fmt.Sprintf("%x", sha256.Sum256(i.JPEG)), func() ([]byte, error) { return i.JPEG, nil }
	}
	n, known := p.names[key]
	if !known {
		if p.names == nil {
			p.names = map[string]int{}
		}
		n = len(p.read)
		p.names[key], p.read = n, append(p.read, read)
		stub = stubJPEG(n)
	}
	return fmt.Sprintf("picture %06d", n), stub
}

const stubMark = "stub of picture "

// stubJPEG is a JPEG file that is a header alone: of one row that is n+1 pixels long, with a
// remark by which it is found again. Source: ITU-T T.81 annex B.
func stubJPEG(n int) []byte {
	remark := fmt.Sprintf("%s%06d.", stubMark, n)
	out := binary.BigEndian.AppendUint16([]byte{0xff, 0xd8, 0xff, 0xfe}, uint16(len(remark)+2))
	out = append(out, remark...)
	out = append(out, 0xff, 0xc0, 0, 11, 8, 0, 1)
	out = binary.BigEndian.AppendUint16(out, uint16(n+1))
	return append(out, 1, 1, 0x11, 0, 0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0, 0xff, 0xd9)
}

// mostStubs is how many different widths there are.
const mostStubs = 65_535

// spot is the object of a stub in a PDF of the library.
type spot struct{ from, to, picture int }

// spots are the objects of the stubs, in the order of the file.
func spots(pdf []byte) ([]spot, error) {
	var list []spot
	for at := 0; ; {
		i := bytes.Index(pdf[at:], []byte(stubMark))
		if i < 0 {
			return list, nil
		}
		i += at
		begin := bytes.LastIndex(pdf[:i], []byte(" 0 obj\n"))
		end := bytes.Index(pdf[i:], []byte("endobj\n"))
		n, err := strconv.Atoi(string(pdf[i+len(stubMark) : i+len(stubMark)+6]))
		if begin < 0 || end < 0 || err != nil {
			return nil, errors.New("the PDF is not laid out as expected")
		}
		at = i + end
		list = append(list, spot{from: begin + len(" 0 obj\n"), to: at, picture: n})
	}
}

// writePictures writes a PDF of the library with the photographs in the place of their
// stubs. Written is called after each.
func writePictures(w io.Writer, pdf []byte, p pictures, written func(n int) error) error {
	list, err := spots(pdf)
	if err != nil {
		return err
	}
	if len(list) != len(p.read) {
		return fmt.Errorf("the PDF has %d photographs, not %d", len(list), len(p.read))
	}
	offsets, table, err := objectsOf(pdf)
	if err != nil {
		return err
	}
	at, shift := 0, 0
	moved := slices.Clone(offsets)
	for n, s := range list {
		object, err := p.object(s.picture)
		if err != nil {
			return err
		}
		if err := writeAll(w, pdf[at:s.from], object); err != nil {
			return err
		}
		at, shift = s.to, shift+len(object)-(s.to-s.from)
		for i, o := range offsets {
			if o >= s.to {
				moved[i] = o + shift
			}
		}
		if err := written(n + 1); err != nil {
			return err
		}
	}
	tail, err := tableOf(pdf[table:], moved, table+shift)
	if err != nil {
		return err
	}
	return writeAll(w, pdf[at:table], tail)
}

func writeAll(w io.Writer, parts ...[]byte) error {
	for _, part := range parts {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

// object is the object of a photograph: as it is, which all viewers read (ISO 32000-1, 7.4.8).
func (p pictures) object(n int) ([]byte, error) {
	if n >= len(p.read) {
		return nil, fmt.Errorf("the PDF has a stub of a photograph %d, which there is not", n)
	}
	data, err := p.read[n]()
	if err != nil {
		return nil, err
	}
	is, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("reading a photograph: %w", err)
	}
	head := fmt.Appendf(nil, "<</Type /XObject\n/Subtype /Image\n/Width %d\n/Height %d\n/ColorSpace /%s\n/BitsPerComponent 8\n/Filter /DCTDecode\n/Length %d>>\nstream\n",
		is.Width, is.Height, colours(is), len(data))
	return slices.Concat(head, data, []byte("\nendstream\n")), nil
}

// colours is how a PDF calls those of a JPEG file; of four inks they are upside down.
func colours(is image.Config) string {
	switch is.ColorModel {
	case color.GrayModel:
		return "DeviceGray"
	case color.CMYKModel:
		return "DeviceCMYK\n/Decode [1 0 1 0 1 0 1 0]"
	}
	return "DeviceRGB"
}

const (
	pdfTable   = "xref\n0 "
	tableEntry = 20 // bytes of a line of it
)

// objectsOf is where the objects of a PDF begin, as its list of them says, and where that
// list itself begins.
func objectsOf(pdf []byte) (offsets []int, table int, err error) {
	wrong := errors.New("the PDF has no list of its objects")
	i := bytes.LastIndex(pdf, []byte(pdfList))
	table = bytes.LastIndex(pdf, []byte("\n"+pdfTable)) + 1
	if i < 0 || table < 1 {
		return nil, 0, wrong
	}
	digits, rest, ok := bytes.Cut(pdf[table+len(pdfTable):], []byte("\n"))
	count, err := strconv.Atoi(string(digits))
	if !ok || err != nil || count < 1 || len(rest) < count*tableEntry {
		return nil, 0, wrong
	}
	for n := range count {
		o, err := strconv.Atoi(string(rest[n*tableEntry : n*tableEntry+10]))
		if err != nil || o >= table {
			return nil, 0, wrong
		}
		offsets = append(offsets, o)
	}
	return offsets, table, nil
}

// tableOf is the end of a PDF with other places in the list of its objects, and of the list.
func tableOf(tail []byte, offsets []int, table int) ([]byte, error) {
	digits, rest, _ := bytes.Cut(tail[len(pdfTable):], []byte("\n"))
	out := slices.Concat([]byte(pdfTable), digits, []byte("\n"))
	for n, o := range offsets {
		line := rest[n*tableEntry : (n+1)*tableEntry]
		out = append(fmt.Appendf(out, "%010d", o), line[10:]...)
	}
	rest = rest[len(offsets)*tableEntry:]
	before, after, ok := bytes.Cut(rest, []byte(pdfList))
	_, after, ended := bytes.Cut(after, []byte("\n"))
	if !ok || !ended {
		return nil, errors.New("the PDF does not say where the list of its objects is")
	}
	return slices.Concat(out, before, fmt.Appendf(nil, "%s%d\n", pdfList, table), after), nil
}
