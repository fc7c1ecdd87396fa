package scan_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"strings"
	"time"

	"github.com/skip2/go-qrcode"

	"stowright/labels/scan"
)

// paper is white paper with a symbol printed on it, at four pixels a module.
func paper(text string, at image.Point) *image.Gray {
	sheet := image.NewGray(image.Rect(0, 0, 320, 240))
	draw.Draw(sheet, sheet.Rect, image.White, image.Point{}, draw.Src)
	code, err := qrcode.New(text, qrcode.Highest)
	if err != nil {
		panic(err)
	}
	for y, row := range code.Bitmap() {
		for x, dark := range row {
			if dark {
				box := image.Rect(4*x, 4*y, 4*x+4, 4*y+4).Add(at)
				draw.Draw(sheet, box, image.NewUniform(color.Black), image.Point{}, draw.Src)
			}
		}
	}
	return sheet
}

// A picture is read into the codes in it: what each says and where it is.
func ExampleReader_Read() {
	report, err := scan.New().Read(context.Background(), paper("SP7K3M9QXY", image.Pt(100, 40)), scan.Options{Budget: time.Minute})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, code := range report.Codes {
		corner := code.Corners[0]
		fmt.Printf("%s: tag %v, %v, top left corner at %.0f, %.0f\n", code.Text, code.Tag, code.How, corner.X, corner.Y)
	}
	// Output: SP7K3M9QXY: tag true, read, top left corner at 116, 56
}

// The pictures of a camera are read one after another: a tag that is known is found
// again where the camera has moved to.
func ExampleFollower() {
	follower := scan.NewFollower()
	for _, x := range []int{100, 104, 110} {
		picture := paper("SP7K3M9QXY", image.Pt(x, 40))
		report, err := follower.Read(context.Background(), picture, scan.Options{TagsOnly: true, Budget: time.Minute})
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, code := range report.Codes {
			fmt.Println(code.Text, "in view:", image.Pt(int(code.Corners[0].X), int(code.Corners[0].Y)).In(picture.Rect))
		}
	}
	// Output:
	// SP7K3M9QXY in view: true
	// SP7K3M9QXY in view: true
	// SP7K3M9QXY in view: true
}

// The tags that a shop has issued, each once; what is no tag is left out.
func ExampleIssue() {
	issued := scan.Issue([]string{"SP7K3M9QXY", "SP7K3M9QXY", "HELLO"})
	fmt.Println(issued.Len())
	// Output: 1
}

// A tag has ten characters, the last of which proves the others.
func ExampleIsTag() {
	for _, text := range []string{"SP7K3M9QXY", "SP7K3M9QXZ", "SX7K3M9QXY", "SP-7K3M9QX", "sp7k3m9qxy"} {
		fmt.Println(text, scan.IsTag(text))
	}
	// Output:
	// SP7K3M9QXY true
	// SP7K3M9QXZ false
	// SX7K3M9QXY false
	// SP-7K3M9QX false
	// sp7k3m9qxy false
}

// What is no picture is refused with a sentence that says what to do.
func ExampleDecode() {
	var file bytes.Buffer
	if err := png.Encode(&file, paper("SP7K3M9QXY", image.Pt(100, 40))); err != nil {
		fmt.Println(err)
		return
	}
	picture, err := scan.Decode(&file)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(picture.Bounds().Size())
	_, err = scan.Decode(strings.NewReader("designation,quantity"))
	fmt.Println(err)
	// Output:
	// (320,240)
	// picture: is not a PNG, JPEG or GIF picture; save it as one of these
}
