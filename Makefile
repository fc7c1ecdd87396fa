# make demo    build, and open the desktop on a fresh copy of the demo shop
# make test    everything that can fail: vet, linters, unit tests, scripts, real windows
# make deb     a Debian package; make tar, make windows: the same for others
# The rest is described in DEVELOPERS.md.

# x11: the desktop talks X11 (on Wayland through XWayland), which needs the fewest libraries.
TAGS := x11
GO   := go
BIN  := bin/stowright

# What "stowright version" says: without git, or out of a checkout, that it is unknown.
VERSION := $(shell git describe --tags --always --dirty 2>/dev/null)
LDFLAGS := -X main.stamped=$(VERSION)

.DEFAULT_GOAL := build
.PHONY: build install-build install-test demo test lint others unit race window vuln bench pictures fuzz torture golden notices icon deb tar chroot windows wine clean

build: install-build
	$(GO) build -tags $(TAGS) -ldflags "$(LDFLAGS)" -o $(BIN) ./cmd/stowright

install-build:
	@.ci/install build

install-test:
	@.ci/install test

demo: build
	$(BIN) demo

test: install-test build lint others race unit vuln

lint:
	$(GO) vet -tags $(TAGS) ./...
	@out=$$($(GO) tool gofumpt -l $$(git ls-files '*.go')); test -z "$$out" || { echo "run 'go tool gofumpt -w' on: $$out"; exit 1; }
	$(GO) tool staticcheck -tags $(TAGS) ./...

# What needs no window is vetted, its tests too, for the systems that it is not tested on.
others:
	@for os in windows darwin; do \
	  quiet=$$(CGO_ENABLED=0 GOOS=$$os $(GO) list -test -f '{{if not .ForTest}}{{.ImportPath}} {{join .Deps " "}}{{end}}' ./store/... ./labels/... ./assets/... ./app/... | \
	    grep -v -e ' fyne.io/fyne' -e '\.test ' | cut -d' ' -f1) || exit 1; \
	  echo "$(GO) vet for $$os: $$(echo $$quiet | wc -w) packages"; \
	  CGO_ENABLED=0 GOOS=$$os $(GO) vet $$quiet || exit 1; done

# The packages without a window of their own, under the race detector.
race:
	$(GO) test -race -short -tags $(TAGS) ./store/... ./labels/... ./assets/...

# Everything once more as it is built for use, with real windows under Xvfb.
unit:
	STOWRIGHT_WALK=must SCAN_FRAMES=500 $(GO) test -tags $(TAGS) ./...

# The database of known faults may be out of reach: then this says so, loudly, and goes on.
vuln:
	@$(GO) tool govulncheck -tags $(TAGS) ./... || { status=$$?; \
	  if [ $$status = 3 ]; then exit 1; fi; \
	  echo "######## NOT CHECKED: govulncheck could not reach its database ########"; }

# What a person waits for, on the demo shop and on a generated one of BENCH_ITEMS items,
# which is made once (minutes) and kept in bin; then Find beside a peer.
BENCH_ITEMS := 100000
BENCH_SHOP  := bin/shop-$(BENCH_ITEMS)

bench: build $(BENCH_SHOP)/demo.stow
	STOWRIGHT_BIG=$(CURDIR)/$(BENCH_SHOP)/demo.stow $(GO) test -tags $(TAGS) -run '^$$' -bench . -benchmem -p 1 ./store/... ./labels/... ./app/...
	cd testdata/peers && $(GO) run -tags sqlite_fts5 ./find

$(BENCH_SHOP)/demo.stow: | build
	$(BIN) demo --size $(BENCH_ITEMS) --no-window --dir $(BENCH_SHOP).part
	mv $(BENCH_SHOP).part $(BENCH_SHOP)

# The pictures that README.md shows, drawn without a display. All of them, in light,
# dark and large, are in bin/pictures then; the list of their sums shows in a review which
# of them have changed.
SHOWN := find-light unpack-light photographs-light places-dark labels-light build-light order-light today-light handbook-light

pictures: build
	HOME=/home/builder XDG_CACHE_HOME=$$(mktemp -d) XDG_CONFIG_HOME=$$(mktemp -d) $(BIN) gallery --replace --widgets bin/pictures
	mkdir -p testdata/pictures
	for p in $(SHOWN); do cp bin/pictures/$$p.png testdata/pictures/; done
	cd bin/pictures && sha256sum *.png > ../../testdata/pictures/SHA256SUMS

golden:
	$(GO) test -tags $(TAGS) ./labels ./store/hardware ./app/logfile -update

# The licences of all that the program is built of, after go.mod has changed.
notices:
	$(GO) test ./assets/notices -update

# The picture of the program, after its drawing has changed (needs librsvg2-bin).
icon:
	rsvg-convert -w 256 -h 256 assets/icons/stowright.svg -o assets/icons/stowright.png

# A Debian package, checked by lintian where nothing is wrong with it; an archive of the same files.
deb: install-build
	@.ci/install package
	@rm -f bin/*.deb
	.ci/package deb
	desktop-file-validate assets/linux/*.desktop
	appstreamcli validate --no-net assets/linux/*.metainfo.xml
	lintian --fail-on error --suppress-tags $(UNFIT) bin/*.deb

# What does not fit a package that is not part of Debian: no bug of theirs asks for it.
UNFIT := initial-upload-closes-no-bugs

tar: install-build
	@.ci/install package
	.ci/package tar

# The package in a Debian that has nothing else (as root).
chroot: deb
	@.ci/install chroot
	.ci/chroot bin/*.deb

# The program for Windows, and what can be tried of it under wine.
windows:
	@.ci/install windows
	.ci/windows

wine: windows
	@.ci/install wine
	.ci/wine

fuzz:
	@for p in $$($(GO) list -tags $(TAGS) ./...); do \
	  for f in $$($(GO) test -tags $(TAGS) -list '^Fuzz' $$p | grep '^Fuzz'); do \
	    $(GO) test -tags $(TAGS) -run '^$$' -fuzz "^$$f$$" -fuzztime 30s $$p || exit 1; done; done

torture:
	$(GO) test -tags $(TAGS),torture -run Torture -timeout 2h -v ./store/... ./labels/...

clean:
	rm -rf bin demo pictures
