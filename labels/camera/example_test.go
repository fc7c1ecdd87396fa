package camera_test

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"

	"stowright/labels/camera"
)

// A folder of pictures is played like a camera: over and over, in the order of names.
func ExampleOpenFolder() {
	dir, err := os.MkdirTemp("", "pictures-*")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	for name, width := range map[string]int{"shelf.png": 32, "drawer.png": 16} {
		f, err := os.Create(filepath.Join(dir, name))
		if err != nil {
			fmt.Println(err)
			return
		}
		if err := errors.Join(png.Encode(f, image.NewGray(image.Rect(0, 0, width, 8))), f.Close()); err != nil {
			fmt.Println(err)
			return
		}
	}
	source, err := camera.OpenFolder(dir, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer source.Close()
	fmt.Println("live:", camera.Live(source))
	for range 3 {
		picture, err := source.Next(context.Background())
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(picture.Bounds().Size())
	}
	// Output:
	// live: false
	// (16,8)
	// (32,8)
	// (16,8)
}

// What is named is a stream by its address, a camera by its device, or a folder.
func ExampleOpen() {
	for _, where := range []string{"no/such/folder", "ftp://camera/stream"} {
		if _, err := camera.Open(context.Background(), where); err != nil {
			fmt.Println(err)
		}
	}
	// Output:
	// camera "no/such/folder": there is no such camera or folder
	// camera "ftp://camera/stream": there is no such camera or folder
}
