package pdftext

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	_ "unsafe" // for the name of a variable elsewhere

	_ "github.com/klippa-app/go-pdfium/webassembly" // has the module in the program
	"github.com/klippa-app/go-pdfium/webassembly/imports"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"
)

// pdfium is PDFium as a module of WebAssembly. go-pdfium lets a program give it another
// module, but keeps its own to itself.
//
//go:linkname pdfium github.com/klippa-app/go-pdfium/internal/pdfium_wasm.Module
var pdfium []byte

// mostMemory is what an engine may have that reads, in bytes.
const mostMemory = 72 << 20

// work is how many steps an engine may go before it is ended: so many at first, and so many
// more for each page, and never more than most. They are counted, so that a slow machine reads
// what a quick one reads.
type work struct{ first, page, most int64 }

// slice is how many steps an engine goes until it is looked at: some milliseconds.
const slice = 1 << 20

// errWork is that an engine went all the steps it may.
var errWork = errors.New("went all its steps")

// machine is the engine as the processor has it, of which each file gets a new one.
type machine struct {
	runtime wazero.Runtime
	code    wazero.CompiledModule
	memory  int     // bytes that an engine may have
	running *engine // whose steps are counted
}

// newMachine translates the engine for the processor, which takes seconds the first time on
// a computer; after that it is in the user's folder for caches.
func newMachine(memory int) (*machine, error) {
	module, err := metered(pdfium)
	if err != nil {
		return nil, fmt.Errorf("meter PDFium: %w", err)
	}
	config := wazero.NewRuntimeConfig().WithMemoryLimitPages(uint32(2 * memory >> 16)). // the engine is refused more than memory, and asks again, by reserve

												WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling)
	if dir, err := os.UserCacheDir(); err == nil {
		if cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(dir, "stowright", "pdf")); err == nil {
			config = config.WithCompilationCache(cache)
		}
	}
	ctx := context.Background()
	m := &machine{memory: memory, runtime: wazero.NewRuntimeWithConfig(ctx, config)}
	if err := m.load(ctx, module); err != nil {
		m.close()
		return nil, err
	}
	return m, nil
}

// load has the module, and what it imports, in the runtime.
func (m *machine) load(ctx context.Context, module []byte) (err error) {
	if _, err := wasi_snapshot_preview1.Instantiate(ctx, m.runtime); err != nil {
		return err
	}
	if m.code, err = m.runtime.CompileModule(ctx, module); err != nil {
		return err
	}
	env := m.runtime.NewHostModuleBuilder("env")
	imports.NewFunctionExporter().ExportFunctions(env)
	env.NewFunctionBuilder().WithGoModuleFunction(api.GoModuleFunc(m.pause), []api.ValueType{api.ValueTypeI32}, []api.ValueType{api.ValueTypeI32}).Export(pauseName)
	env.NewFunctionBuilder().WithFunc(func(uint32) {}).Export("emscripten_notify_memory_growth")
	_, err = env.Instantiate(ctx)
	return err
}

func (m *machine) close() { _ = m.runtime.Close(context.Background()) }

// pause counts the steps of the running engine, and ends it where they are all gone or
// nobody waits for it any more.
func (m *machine) pause(_ context.Context, module api.Module, stack []uint64) {
	stack[0] = 0
	e := m.running
	steps := module.ExportedGlobal(stepsName).(api.MutableGlobal)
	e.gone, e.given = e.gone+e.given-int64(int32(steps.Get())), 0
	steps.Set(0)
	if e.gone > e.may {
		panic(errWork)
	}
	if err := e.ctx.Err(); err != nil {
		panic(err)
	}
	e.given = slice
	steps.Set(slice)
}

// engine is PDFium at work on one file. Its methods panic with the error that ended it: what
// is done in the engine is done to the end, or not at all.
type engine struct {
	ctx       context.Context
	module    api.Module
	functions map[string]api.Function
	stack     [8]uint64
	figures   uint64 // where there is room for four numbers
	may, gone int64  // steps
	given     int64  // of them, the last ones that were given

	memory int  // bytes that it may have
	short  bool // it was refused more: what it made may lack something
}

// begin is a new engine. It is to be closed.
func (m *machine) begin(ctx context.Context, steps int64) (*engine, error) {
	e := &engine{ctx: ctx, functions: map[string]api.Function{}, may: steps, memory: m.memory}
	m.running = e
	config := wazero.NewModuleConfig().WithName("").WithStartFunctions("_initialize").
		WithStdout(io.Discard).WithStderr(io.Discard).WithFSConfig(wazero.NewFSConfig())
	var err error
	e.module, err = m.runtime.InstantiateModule(experimental.WithMemoryAllocator(context.Background(), experimental.MemoryAllocatorFunc(e.reserve)), m.code, config)
	return e, err
}

// open is the document in a file, or why there is none that can be read.
func (e *engine) open(data []byte) (doc uint64, err error) {
	e.call("FPDF_InitLibrary")
	e.figures = e.put(make([]byte, 32))
	doc = e.call("FPDF_LoadMemDocument", e.put(data), uint64(len(data)), 0)
	switch {
	case doc != 0:
		return doc, nil
	case e.call("FPDF_GetLastError") == passwordAsked:
		return 0, ErrLocked
	}
	return 0, ErrDamaged
}

// steps is how many steps the engine went.
func (e *engine) steps() int64 {
	return e.gone + e.given - int64(int32(e.module.ExportedGlobal(stepsName).Get()))
}

func (e *engine) close() { _ = e.module.Close(context.Background()) }

// call calls a function of PDFium.
func (e *engine) call(name string, params ...uint64) uint64 {
	f := e.functions[name]
	if f == nil {
		f = e.module.ExportedFunction(name)
		e.functions[name] = f
	}
	copy(e.stack[:], params)
	if err := f.CallWithStack(context.Background(), e.stack[:]); err != nil {
		panic(err)
	}
	return e.stack[0]
}

// count is what a function says a number of things is; below 0 it cannot say.
func (e *engine) count(name string, params ...uint64) int { return int(int32(e.call(name, params...))) }

// put is a copy of data in the memory of the engine.
func (e *engine) put(data []byte) uint64 {
	at := e.call("malloc", uint64(len(data)))
	if at == 0 || !e.module.Memory().Write(uint32(at), data) {
		panic(ErrDamaged)
	}
	return at
}

// numbers are what a function says that writes as many numbers as there are places for.
func (e *engine) numbers(name string, of, index uint64, places ...int) (n [4]float64) {
	params := [6]uint64{of, index}
	for i := range places {
		params[2+i] = e.figures + uint64(8*i)
	}
	e.call(name, params[:2+len(places)]...)
	for i, place := range places {
		n[place], _ = e.module.Memory().ReadFloat64Le(uint32(e.figures) + uint32(8*i))
	}
	return n
}

// small is what a function says that returns one number of 32 bits.
func (e *engine) small(name string, params ...uint64) float64 {
	return float64(math.Float32frombits(uint32(e.call(name, params...))))
}

// reserved is the memory of an engine: as much as it may have at once, since growing it would
// copy it each time. The system gives what of it is used.
type reserved struct {
	engine *engine
	bytes  []byte
}

func (e *engine) reserve(_, _ uint64) experimental.LinearMemory {
	return reserved{e, make([]byte, 0, e.memory)}
}

// Reallocate is more of it; nil ends what asks for more than there may be.
func (r reserved) Reallocate(size uint64) []byte {
	if size > uint64(cap(r.bytes)) {
		r.engine.short = true
		return nil
	}
	return r.bytes[:size]
}

// Free leaves it to the collector.
func (reserved) Free() {}
