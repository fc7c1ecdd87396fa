package pdftext

import (
	"bytes"
	"context"
	"errors"
	"testing"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
)

// section is a section of a module: its id, its length, and what is in it.
func section(id byte, inside ...byte) []byte { return append([]byte{id, byte(len(inside))}, inside...) }

// module is a module with a memory, a function (param i32) that is exported as "run", and the
// import that is asked. The body begins behind the local variables.
func module(body ...byte) []byte {
	name := append([]byte{1, 3, 'e', 'n', 'v', byte(len(pauseName))}, pauseName...)
	body = append(append([]byte{0}, body...), 0x0b)
	return bytes.Join([][]byte{
		[]byte("\x00asm\x01\x00\x00\x00"),
		section(1, 2, 0x60, 1, 0x7f, 1, 0x7f, 0x60, 1, 0x7f, 0), // (i32) -> i32, (i32)
		section(2, append(name, 0, 0)...),
		section(3, 1, 1),
		section(5, 1, 0, 1),
		section(6, 1, 0x7f, 1, 0x41, 0, 0x0b), // a global variable of its own
		section(7, 1, 3, 'r', 'u', 'n', 0, 1),
		section(10, append([]byte{1, byte(len(body))}, body...)...),
	}, nil)
}

// Bodies: a loop of as many turns as the parameter says, and as many bytes filled or copied.
var (
	turns  = []byte{0x03, 0x40, 0x20, 0, 0x41, 1, 0x6b, 0x22, 0, 0x0d, 0, 0x0b}
	filled = []byte{0x41, 0, 0x41, 0, 0x20, 0, 0xfc, 11, 0}
	copied = []byte{0x41, 0, 0x41, 0, 0x20, 0, 0xfc, 10, 0, 0}
)

// counted is how many steps a function goes, and how often it asks, with so many given.
func counted(t *testing.T, plain []byte, param, given int32) (steps, asks int) {
	t.Helper()
	code, err := metered(plain)
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	runtime := wazero.NewRuntime(ctx)
	defer runtime.Close(ctx)
	asked := func(_ context.Context, m api.Module, _ int32) int32 {
		asks++
		m.ExportedGlobal(stepsName).(api.MutableGlobal).Set(1 << 20)
		return 0
	}
	if _, err := runtime.NewHostModuleBuilder("env").NewFunctionBuilder().WithFunc(asked).Export(pauseName).Instantiate(ctx); err != nil {
		t.Fatal(err)
	}
	m, err := runtime.Instantiate(ctx, code)
	if err != nil {
		t.Fatal(err)
	}
	left := m.ExportedGlobal(stepsName).(api.MutableGlobal)
	left.Set(uint64(uint32(given)))
	if _, err := m.ExportedFunction("run").Call(ctx, uint64(uint32(param))); err != nil {
		t.Fatal(err)
	}
	return int(given) - int(int32(left.Get())), asks
}

// A step is the beginning of a function, the turn of a loop, or 64 bytes at once.
func TestMetered(t *testing.T) {
	for _, row := range []struct {
		name         string
		body         []byte
		param, given int32
		steps, asks  int
	}{
		{"nothing", nil, 0, 100, 1, 0},
		{"a loop", turns, 7, 100, 8, 0},
		{"a loop in a block with a table of branches", append([]byte{0x02, 0x40, 0x20, 0, 0x0e, 1, 0, 0, 0x0b}, turns...), 3, 100, 4, 0},
		{"all that was given", turns, 99, 100, 100, 0},
		{"one more", turns, 100, 100, 101 - 1<<20 - 1, 1},
		{"a kilobyte filled", filled, 1024, 100, 17, 0},
		{"less than a step of bytes", filled, 63, 100, 1, 0},
		{"a kilobyte copied", copied, 1024, 100, 17, 0},
		{"what looks like a loop in a number", []byte{0x41, 3, 0x1a, 0x43, 3, 3, 3, 3, 0x1a, 0x44, 3, 3, 3, 3, 3, 3, 3, 3, 0x1a}, 0, 100, 1, 0},
		{"what looks like a loop in a vector", append(append([]byte{0xfd, 12}, bytes.Repeat([]byte{3}, 16)...), 0xfd, 21, 3, 0x1a), 0, 100, 1, 0},
		{"what looks like a loop behind a lane in memory", append(append([]byte{0x41, 0, 0xfd, 12}, bytes.Repeat([]byte{3}, 16)...), 0xfd, 84, 0, 3, 3, 0x1a), 0, 100, 1, 0},
		{"a vector of memory", []byte{0x41, 0, 0xfd, 0, 3, 3, 0x1a}, 0, 100, 1, 0},
		{"select with its type", []byte{0x20, 0, 0x20, 0, 0x20, 0, 0x1c, 1, 0x7f, 0x1a}, 0, 100, 1, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			steps, asks := counted(t, module(row.body...), row.param, row.given)
			if steps != row.steps || asks != row.asks {
				t.Errorf("%d steps and asked %d times, want %d and %d", steps, asks, row.steps, row.asks)
			}
		})
	}
}

// What cannot be metered is refused, so that nothing runs uncounted.
func TestNotMetered(t *testing.T) {
	whole := module(turns...)
	for name, data := range map[string][]byte{
		"nothing":                nil,
		"another version":        bytes.Replace(whole, []byte("asm\x01"), []byte("asm\x02"), 1),
		"cut short":              whole[:len(whole)-3],
		"cut in a body":          append(whole[:len(whole)-2:len(whole)-2], 0x43, 0x0b),
		"nobody to ask":          bytes.Replace(whole, []byte(pauseName), bytes.ToLower([]byte(pauseName)), 1),
		"no global variable":     bytes.Replace(whole, section(6, 1, 0x7f, 1, 0x41, 0, 0x0b), nil, 1),
		"nothing exported":       bytes.Replace(whole, section(7, 1, 3, 'r', 'u', 'n', 0, 1), nil, 1),
		"a global imported":      bytes.Replace(whole, append([]byte(pauseName), 0, 0), append([]byte(pauseName), 3, 0), 1),
		"an instruction unknown": module(0xfe, 0),
		"one of memory unknown":  module(0xfc, 18),
	} {
		if _, err := metered(data); !errors.Is(err, errModule) {
			t.Errorf("%s: %v, want %v", name, err, errModule)
		}
	}
}

// Each kind of instruction is gone over to its end and no further: what stands behind it is
// read as the next one.
func TestInstructions(t *testing.T) {
	sixteen := bytes.Repeat([]byte{0x80}, 16)
	for _, row := range []struct {
		name  string
		bytes []byte
	}{
		{"nop", []byte{0x01}},
		{"a block with a type of its own", []byte{0x02, 0x81, 0x01}},
		{"throw", []byte{0x08, 0x00}},
		{"throw_ref", []byte{0x0a}},
		{"br_table", []byte{0x0e, 2, 0x80, 0x01, 1, 0}},
		{"call with a long number", []byte{0x10, 0xff, 0xff, 0x03}},
		{"call_indirect", []byte{0x11, 0x90, 0x01, 0x00}},
		{"select", []byte{0x1b}},
		{"select with its type", []byte{0x1c, 1, 0x7f}},
		{"try_table that catches by name and all", []byte{0x1f, 0x40, 4, 0, 0x85, 0x01, 1, 1, 5, 2, 2, 3, 3, 4}},
		{"a variable", []byte{0x23, 0x80, 0x02}},
		{"load", []byte{0x28, 2, 0xa0, 0x08}},
		{"memory.size", []byte{0x3f, 0}},
		{"i64.const", []byte{0x42, 0x80, 0x80, 0x80, 0x80, 0x78}},
		{"f32.const", []byte{0x43, 0x80, 0x80, 0x80, 0x80}},
		{"f64.const", []byte{0x44, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80}},
		{"i32.add", []byte{0x6a}},
		{"sign extension", []byte{0xc4}},
		{"ref.null", []byte{0xd0, 0x70}},
		{"ref.is_null", []byte{0xd1}},
		{"ref.func", []byte{0xd2, 0x80, 0x01}},
		{"truncation", []byte{0xfc, 7}},
		{"memory.init", []byte{0xfc, 8, 1, 0}},
		{"data.drop", []byte{0xfc, 9, 1}},
		{"memory.copy", []byte{0xfc, 10, 0, 0}},
		{"memory.fill", []byte{0xfc, 11, 0}},
		{"table.size", []byte{0xfc, 16, 0}},
		{"a vector loaded", []byte{0xfd, 11, 4, 0x80, 0x01}},
		{"a vector that is constant", append([]byte{0xfd, 12}, sixteen...)},
		{"a vector that is shuffled", append([]byte{0xfd, 13}, sixteen...)},
		{"a splat", []byte{0xfd, 20}},
		{"the first lane", []byte{0xfd, 21, 0x83}},
		{"the last lane", []byte{0xfd, 34, 0x83}},
		{"a comparison", []byte{0xfd, 35}},
		{"a lane loaded", []byte{0xfd, 84, 0, 0x80, 0x01, 0x83}},
		{"a lane stored", []byte{0xfd, 91, 0, 0, 0x83}},
		{"a vector loaded with noughts", []byte{0xfd, 93, 0, 0x80, 0x01}},
		{"an addition with a long number", []byte{0xfd, 0xae, 0x01}},
	} {
		r := reader{data: append(bytes.Clone(row.bytes), 0x01), at: 0}
		op, _, err := r.instruction()
		if err != nil || op != row.bytes[0] || r.at != len(row.bytes) {
			t.Errorf("%s: %x, %v, gone over %d bytes, want %d", row.name, op, err, r.at, len(row.bytes))
		}
	}
	for _, op := range []byte{0xc5, 0xcf, 0xd3, 0xfb, 0xfe, 0xff} {
		r := reader{data: []byte{op, 0, 0}}
		if _, _, err := r.instruction(); !errors.Is(err, errModule) {
			t.Errorf("%x: %v, want %v", op, err, errModule)
		}
	}
}
