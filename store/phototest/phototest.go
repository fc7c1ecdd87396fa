// Package phototest makes pictures for tests, such as a shop keeps of photographs.
package phototest

import (
	"bytes"
	"image"
	"image/jpeg"
	"math/rand/v2"
)

// JPEG is a JPEG file of that many pixels: noise, which takes the most room. The same
// seed gives the same bytes, and another seed others.
func JPEG(width, height int, seed uint64) []byte {
	r := rand.New(rand.NewPCG(seed, 0))
	p := image.NewRGBA(image.Rect(0, 0, width, height))
	for i := range p.Pix {
		p.Pix[i] = byte(r.Uint32())
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, p, &jpeg.Options{Quality: 85}); err != nil {
		panic(err) // to memory, within the limits of JPEG
	}
	return out.Bytes()
}
