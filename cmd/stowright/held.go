package main

import (
	"crypto/sha256"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"

	"stowright/app/holder"
	"stowright/app/userdirs"
	"stowright/app/volume"
	"stowright/store"
	"stowright/store/fault"
)

// fullName is a shop file as every start of the program has it, wherever it runs and by
// whatever link it was told.
func fullName(shop string) string {
	if real, err := filepath.EvalSymlinks(shop); err == nil {
		shop = real
	}
	if full, err := filepath.Abs(shop); err == nil {
		shop = full
	}
	return shop
}

// listen has other starts of the program told that this window has the shop, and calls
// front for each. Where that cannot be, they say that some program has it.
func listen(shop string, front func()) (end func()) {
	folder, err := userdirs.Here().Runtime()
	if err != nil {
		return func() {}
	}
	l, err := holder.Listen(folder, fullName(shop))
	if err != nil {
		slog.Info("not listening", "err", err)
		return func() {}
	}
	go l.Serve(holder.Holder{Process: os.Getpid(), Since: time.Now()}, front)
	return func() { _ = l.Close() } // the program ends
}

// heldBy asks the window that has a shop file to come to the front, and says which one it is;
// where none answers, it is the error as it was.
func heldBy(shop string, busy error) error {
	folder, err := userdirs.Here().Runtime()
	if err != nil {
		return busy
	}
	who, ok := holder.Front(folder, fullName(shop))
	if !ok {
		return busy
	}
	return fault.Wrap(busy, store.Busy, shop, "A window of Stowright has %s open since %s (process %d). It was asked to come to the front: work there, or close it first.",
		shop, who.Since.Local().Format("15:04 on 2 January"), who.Process)
}

// cautionOnce says what can go wrong where a shop file lies, once for each place.
func cautionOnce(shop string, settings fyne.Preferences) string {
	full := fullName(shop)
	caution := volume.Of(full).Caution()
	if caution == "" {
		return ""
	}
	said := fmt.Sprintf("cautioned.%x", sha256.Sum256([]byte(filepath.Dir(full))))
	if settings.Bool(said) {
		return ""
	}
	settings.SetBool(said, true)
	return caution
}
