package pdftext

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// What the metered module has besides its own: how many steps it may go before it asks, and
// what it asks. A step is the beginning of a function or a turn of a loop, or 64 bytes that
// are copied or filled at once: some nanoseconds, in whatever it is that is done in it.
const (
	stepsName = "steps"
	pauseName = "IFSDK_PAUSE_NeedToPauseNow_CB" // an import of PDFium, which nothing else here calls
)

// errModule is that a module is not one that can be metered.
var errModule = errors.New("is no module of the shape that is known")

// metered is a module of WebAssembly that counts its own steps down in an exported global
// variable, and calls its import pauseName wherever it finds it below zero. The runtime can
// end a module by itself, but asks whether it should at each turn of each loop, which takes
// longer than the work; and it counts nothing. The numbers of functions stay as they are.
//
// The format is that of the WebAssembly Core Specification 2.0, chapter 5, with the
// instructions of the proposals for exceptions that PDFium is translated to.
func metered(module []byte) (out []byte, err error) {
	defer func() { // an index beyond the module
		if recover() != nil {
			out, err = nil, errModule
		}
	}()
	if !slices.Equal(module[:min(8, len(module))], []byte("\x00asm\x01\x00\x00\x00")) {
		return nil, errModule
	}
	m := meter{}
	out = append(make([]byte, 0, len(module)*9/8), module[:8]...)
	for r := (reader{module, 8}); r.at < len(module); {
		id := r.byte()
		out = append(out, id, 0x80, 0x80, 0x80, 0x80, 0) // its length, in as many bytes as it may have
		begins := len(out)
		if out, err = m.section(out, id, r.part(r.number())); err != nil {
			return nil, err
		}
		for i, n := 0, len(out)-begins; i < 5; i, n = i+1, n>>7 {
			out[begins-5+i] |= byte(n & 0x7f)
		}
	}
	if !m.exported || m.pause < 0 {
		return nil, errModule
	}
	return out, nil
}

// meter is what is known of the module so far: its sections stand in order.
type meter struct {
	params   []int // by type: how many parameters a function has
	typeOf   []int // by function of its own: its type
	pause    int   // the number of the function that is asked; -1: none
	steps    uint64
	exported bool
}

// section appends a section with what is added to it.
func (m *meter) section(out []byte, id byte, r reader) ([]byte, error) {
	switch id {
	case 1:
		m.types(r)
	case 2:
		m.imports(r)
	case 3:
		m.functions(r)
	case 6: // (global $steps (mut i32) (i32.const 0))
		m.steps = r.number()
		out = append(binary.AppendUvarint(out, m.steps+1), r.rest()...)
		return append(out, 0x7f, 1, 0x41, 0, 0x0b), nil
	case 7: // (export "steps" (global $steps))
		out = binary.AppendUvarint(out, r.number()+1)
		out = append(append(out, r.rest()...), byte(len(stepsName)))
		m.exported = m.steps > 0
		return binary.AppendUvarint(append(append(out, stepsName...), 3), m.steps), nil
	case 10:
		return m.code(out, r)
	}
	return append(out, r.rest()...), nil
}

func (m *meter) types(r reader) {
	for range r.number() {
		r.byte() // 0x60: a function
		n := r.number()
		m.params = append(m.params, int(n))
		r.at += int(n)
		r.at += int(r.number())
	}
}

func (m *meter) imports(r reader) {
	m.pause = -1
	for i := range int(r.number()) {
		r.at += int(r.number())
		n := int(r.number())
		name := string(r.data[r.at : r.at+n])
		r.at += n
		if r.byte() != 0 { // not a function: numbers of globals would be others
			panic(errModule)
		}
		r.number()
		if name == pauseName {
			m.pause = i
		}
	}
}

func (m *meter) functions(r reader) {
	for range r.number() {
		m.typeOf = append(m.typeOf, int(r.number()))
	}
}

// code appends the functions, each with its steps.
func (m *meter) code(out []byte, r reader) ([]byte, error) {
	n := r.number()
	out = binary.AppendUvarint(out, n)
	var body []byte
	for i := range int(n) {
		var err error
		if body, err = m.function(body[:0], r.part(r.number()), m.params[m.typeOf[i]]); err != nil {
			return nil, fmt.Errorf("function %d: %w", i, err)
		}
		out = binary.AppendUvarint(out, uint64(len(body)))
		out = append(out, body...)
	}
	return out, nil
}

// function is a function with its steps, behind what stands in out; it gets one local
// variable more, for how much is copied.
func (m *meter) function(out []byte, r reader, params int) ([]byte, error) {
	groups := r.number()
	begins, local := r.at, uint64(params)
	for range groups {
		local += r.number()
		r.byte()
	}
	out = binary.AppendUvarint(out, groups+1)
	out = append(out, r.data[begins:r.at]...)
	out = append(out, 1, 0x7f)
	out = m.step(out)
	for r.at < len(r.data) {
		from := r.at
		op, sub, err := r.instruction()
		if err != nil {
			return nil, err
		}
		if op == 0xfc && (sub == 10 || sub == 11) { // memory.copy, memory.fill
			out = m.weigh(out, local)
		}
		out = append(out, r.data[from:r.at]...)
		if op == 0x03 { // loop
			out = m.step(out)
		}
	}
	return out, nil
}

// step counts one step, and asks where that is one too many.
func (m *meter) step(out []byte) []byte {
	out = binary.AppendUvarint(append(out, 0x23), m.steps) // global.get $steps
	out = append(out, 0x41, 1, 0x6b)                       // i32.const 1, i32.sub
	out = binary.AppendUvarint(append(out, 0x24), m.steps) // global.set $steps
	out = binary.AppendUvarint(append(out, 0x23), m.steps)
	out = append(out, 0x41, 0, 0x48, 0x04, 0x40, 0x41, 0, 0x10) // i32.const 0, i32.lt_s, if, i32.const 0, call
	out = binary.AppendUvarint(out, uint64(m.pause))
	return append(out, 0x1a, 0x0b) // drop, end
}

// weigh counts a step for each 64 bytes of what is on top of the stack, and leaves it there.
func (m *meter) weigh(out []byte, local uint64) []byte {
	out = binary.AppendUvarint(append(out, 0x21), local) // local.set
	out = binary.AppendUvarint(append(out, 0x23), m.steps)
	out = binary.AppendUvarint(append(out, 0x20), local) // local.get
	out = append(out, 0x41, 6, 0x76, 0x6b)               // i32.const 6, i32.shr_u, i32.sub
	out = binary.AppendUvarint(append(out, 0x24), m.steps)
	return binary.AppendUvarint(append(out, 0x20), local)
}

// reader reads a module from a place in it. What is beyond the end panics.
type reader struct {
	data []byte
	at   int
}

func (r *reader) rest() []byte { return r.data[r.at:] }

// part is a reader of so many bytes from here on, which are gone over.
func (r *reader) part(n uint64) reader {
	if n > uint64(len(r.data)-r.at) {
		panic(errModule)
	}
	p := reader{data: r.data[:r.at+int(n)], at: r.at}
	r.at += int(n)
	return p
}

func (r *reader) byte() byte {
	r.at++
	return r.data[r.at-1]
}

// number is a number in LEB128; of one with a sign only the length is right.
func (r *reader) number() (n uint64) {
	for shift := 0; ; shift += 7 {
		b := r.byte()
		n |= uint64(b&0x7f) << shift
		if b < 0x80 {
			return n
		}
	}
}

// immediates is how many numbers stand behind an instruction of one byte that has nothing
// else behind it.
var immediates = [256]int{
	0x02: 1, 0x03: 1, 0x04: 1, 0x06: 1, 0x07: 1, 0x08: 1, 0x09: 1, 0x18: 1, // blocks and exceptions
	0x0c: 1, 0x0d: 1, 0x10: 1, 0x11: 2, 0x12: 1, 0x13: 2, // branches and calls
	0x20: 1, 0x21: 1, 0x22: 1, 0x23: 1, 0x24: 1, 0x25: 1, 0x26: 1, // variables and tables
	0x28: 2, 0x29: 2, 0x2a: 2, 0x2b: 2, 0x2c: 2, 0x2d: 2, 0x2e: 2, 0x2f: 2, 0x30: 2, 0x31: 2, 0x32: 2, 0x33: 2,
	0x34: 2, 0x35: 2, 0x36: 2, 0x37: 2, 0x38: 2, 0x39: 2, 0x3a: 2, 0x3b: 2, 0x3c: 2, 0x3d: 2, 0x3e: 2, // memory
	0x3f: 1, 0x40: 1, 0x41: 1, 0x42: 1, 0xd0: 1, 0xd2: 1,
}

// ofMemory is how many numbers stand behind an instruction that begins with 0xfc.
var ofMemory = []int{0, 0, 0, 0, 0, 0, 0, 0, 2, 1, 2, 1, 2, 1, 2, 1, 1, 1}

// instruction goes over an instruction and what stands behind it.
func (r *reader) instruction() (op byte, sub uint64, err error) {
	op = r.byte()
	switch {
	case op == 0x0e: // br_table
		r.numbers(r.number() + 1)
	case op == 0x1c: // select, with its types
		r.numbers(r.number())
	case op == 0x1f: // try_table
		r.catches()
	case op == 0x43:
		r.at += 4
	case op == 0x44:
		r.at += 8
	case op == 0xfc:
		if sub = r.number(); sub >= uint64(len(ofMemory)) {
			return op, sub, errModule
		}
		r.numbers(uint64(ofMemory[sub]))
	case op == 0xfd:
		sub = r.number()
		r.vector(sub)
	case op < 0xc5 || op >= 0xd0 && op <= 0xd2: // 0xfe would be threads
		r.numbers(uint64(immediates[op]))
	default:
		return op, 0, errModule
	}
	if r.at > len(r.data) {
		return op, sub, errModule
	}
	return op, sub, nil
}

// catches goes over what a block catches.
func (r *reader) catches() {
	r.number()
	for range r.number() {
		if r.byte() < 2 { // names what it catches
			r.number()
		}
		r.number()
	}
}

// vector goes over what stands behind an instruction for vectors.
func (r *reader) vector(sub uint64) {
	switch {
	case sub < 12, sub == 92, sub == 93: // load and store
		r.numbers(2)
	case sub == 12, sub == 13: // sixteen bytes
		r.at += 16
	case sub >= 21 && sub <= 34: // a lane
		r.at++
	case sub >= 84 && sub <= 91: // a lane in memory
		r.numbers(2)
		r.at++
	}
}

func (r *reader) numbers(n uint64) {
	for range n {
		r.number()
	}
}
