package hardware

import (
	"fmt"
	"strconv"
	"strings"

	"stowright/store/measure"
)

// ReadThread takes a thread as people write it: threads per inch alone, "32", or
// a size, "10-32", "#8-36", "1/4-28". It reports whether the text is a thread.
func (r *Readings) ReadThread(text string) bool {
	text = strings.TrimSpace(text)
	size, count := "", text
	if i := strings.LastIndexByte(text, '-'); i >= 0 {
		size, count = strings.TrimSpace(text[:i]), strings.TrimSpace(text[i+1:])
		if size == "" {
			return false
		}
	}
	n, err := strconv.Atoi(count)
	if err != nil || n < 4 || n > 200 {
		return false
	}
	if size != "" {
		l := sizeOfThread(size, n)
		if l == 0 {
			return false
		}
		r.ThreadSize = l
	}
	r.ThreadsPerInch = n
	return true
}

// sizeOfThread is the diameter that stands in front of the pitch, 0 for none: "10"
// is No. 10, and "1" an inch where the threads are as few as those of an inch.
func sizeOfThread(size string, tpi int) measure.Length {
	if n, err := strconv.Atoi(size); err == nil && (n > 1 || tpi >= 40) {
		size = "#" + size
	}
	l, err := measure.ParseLength(size)
	if err != nil || l <= 0 || l > 4*measure.Inch {
		return 0
	}
	return l
}

// threadOf is the diameter and the pitch of a thread of the tables, both 0 for none.
func threadOf(text string) (measure.Length, int) {
	size, n := pitch(text)
	if n == 0 {
		return 0, 0
	}
	return sizeOfThread(size, n), n
}

// sameThread reports whether a thread of the tables is the one that was read.
func (r *Readings) sameThread(size measure.Length, tpi int) bool {
	return tpi == r.ThreadsPerInch && (r.ThreadSize == 0 || size == r.ThreadSize)
}

func judgeThread(p *piece, r *Readings) Judged {
	j := Judged{Name: Thread}
	f := p.fact(Thread)
	if f == nil {
		j.Away, j.Text = wrongFeature, "it has no thread"
		return j
	}
	if f.Unknown {
		j.Unknown, j.blank, j.Text = true, true, fmt.Sprintf("%d threads per inch: no published thread to compare with", r.ThreadsPerInch)
		return j
	}
	size, n := threadOf(f.Text)
	if !r.sameThread(size, n) {
		j.Away = wrongFeature
	}
	if r.ThreadSize != 0 && n == r.ThreadsPerInch && size != r.ThreadSize {
		j.Text = "thread of " + short(r.ThreadSize) + ": it is " + f.Text
		return j
	}
	j.Text = fmt.Sprintf("%d threads per inch: it is %s", r.ThreadsPerInch, f.Text)
	return j
}
