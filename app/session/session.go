package session

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
	"sync/atomic"
	"time"

	"stowright/app/bell"
	"stowright/app/folders"
	"stowright/app/loop"
	"stowright/app/photos"
	"stowright/app/region"
	"stowright/labels"
	"stowright/labels/scan"
	"stowright/store"
	"stowright/store/copies"
	"stowright/store/hardware"
	"stowright/store/measure"
	"stowright/store/search"
)

// Inline is the loop of a program without a window: everything happens at once.
func Inline() loop.Loop {
	call := func(f func()) { f() }
	return loop.Loop{Run: call, Post: call, After: func(_ time.Duration, do func()) { do() }}
}

// Session is an open shop. Its methods may be called from any goroutine, and
// those that touch the file should be called from Run.
type Session struct {
	Shop  *store.Shop
	Index *search.Index
	Loop  loop.Loop
	// Photos are the pictures of the shop's photographs, as they are looked at.
	Photos *photos.Seen
	// Copies keeps the shop's safe copies.
	Copies *copies.Keeper
	// Folders are where files are looked for, and where something was chosen last.
	Folders *folders.Ways
	// Log is the file of the program's log, for the page that says so; empty for none.
	Log string
	// Bell rings at a wrong drawer; nil rings never.
	Bell *bell.Bell
	// Sheet is what papers are laid out for; of no size: US Letter.
	Sheet labels.Stock
	// Region is how figures and days are typed here; its zero value is nowhere in particular.
	Region region.Region
	// OnLengths is told, by SwitchLengths, in what unit lengths are typed and read now; nil for
	// nobody.
	OnLengths func(measure.System)

	lengths  atomic.Int64  // a measure.System
	followed atomic.Uint64 // the newest entry that what is kept here knows of
	indexing sync.Mutex    // one entry at a time goes into the index
	waste    waste         // what was scrapped because it was spoiled
	backlog  backlog       // entries that go into it in the background
	indexed  indexing      // how far the index is

	tags   sync.Mutex // guards issued
	issued *scan.Issued

	lists  lists // lines of the packing lists, as read
	boards kept  // how the sub-assemblies stand

	perishables perishables // which items may have a lot with a life

	figures sync.Mutex // guards catalog
	catalog *hardware.Catalog

	mu        sync.Mutex // guards listeners
	listeners []func(store.Entry)
}

// Open makes a session of an open shop: it builds the index, and keeps it current
// from then on. Progress is called with how many items were taken in; it may be nil.
func Open(ctx context.Context, shop *store.Shop, l loop.Loop, progress func(done int)) (*Session, error) {
	s := newSession(shop, l)
	defer close(s.indexed.ended)
	if err := s.build(ctx, progress); err != nil {
		return nil, err
	}
	return s, nil
}

// Start is Open that does not wait for the index: it is built in the background,
// and until it is there Find answers with what is asked for by its whole number.
// Indexing says how far it is, and what WhenIndexed was given is called at its end.
// Close ends the building.
func Start(ctx context.Context, shop *store.Shop, l loop.Loop) *Session {
	s := newSession(shop, l)
	ctx, s.indexed.stop = context.WithCancel(ctx)
	s.indexed.running.Store(true)
	l.Run(func() {
		defer close(s.indexed.ended)
		s.finishIndex(s.build(ctx, nil))
		// What the building needed is several times what it leaves behind, and nothing
		// else in the program will need that much again.
		debug.FreeOSMemory()
	})
	return s
}

func newSession(shop *store.Shop, l loop.Loop) *Session {
	s := &Session{Shop: shop, Loop: l, Photos: photos.NewSeen(shop), Copies: copies.NewKeeper(shop, ""), Folders: folders.New(l, shop.File()), Index: search.New(l.Run), indexed: indexing{ended: make(chan struct{})}}
	shop.Listen(s.follow)
	if newest, err := shop.Newest(); err == nil {
		s.followed.Store(newest)
	}
	return s
}

func (s *Session) build(ctx context.Context, progress func(done int)) error {
	if err := s.Index.Build(ctx, s.documents(), progress); err != nil {
		return fmt.Errorf("building the index: %w", err)
	}
	return nil
}

// Close ends what runs in the background and closes the shop.
func (s *Session) Close() error {
	if s.indexed.stop != nil {
		s.indexed.stop()
		<-s.indexed.ended
	}
	return s.Shop.Close()
}

// Listen has f posted to the window's loop after every entry, once the index knows it.
func (s *Session) Listen(f func(store.Entry)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.listeners = append(s.listeners, f)
}

// follow keeps the index current with an entry and tells the listeners.
func (s *Session) follow(e store.Entry) {
	if len(e.Places()) > 0 {
		s.forgetTags()
	}
	s.lists.forget(e)
	s.boards.mark(e)
	s.forgetFigures(e)
	s.followTo(e.Seq)
	s.index(e)
	s.notify(e)
}

// followTo notes that nothing is kept any more that an entry changed.
func (s *Session) followTo(seq uint64) {
	for {
		newest := s.followed.Load()
		if newest >= seq || s.followed.CompareAndSwap(newest, seq) {
			return
		}
	}
}

// notify posts an entry to the listeners.
func (s *Session) notify(e store.Entry) {
	s.mu.Lock()
	listeners := s.listeners
	s.mu.Unlock()
	s.Loop.Post(func() {
		for _, f := range listeners {
			f(e)
		}
	})
}

// Do does work away from the window and brings its result back to it.
func Do[T any](s *Session, work func() (T, error), back func(T, error)) {
	loop.Do(s.Loop, work, back)
}
