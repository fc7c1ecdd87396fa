package store

import (
	"slices"
	"strings"
)

// quarantine begins the condition of stock that alerts set apart, which names them.
const quarantine = "quarantined ("

// Quarantined is the condition of stock that alerts set apart: "quarantined (A-1, A-3)".
// For none it is Good.
func Quarantined(alerts ...string) Condition {
	if len(alerts) == 0 {
		return Good
	}
	return Condition(quarantine + strings.Join(alerts, ", ") + ")")
}

// Alerts are the alerts that set stock apart; none where its condition is another.
func (c Condition) Alerts() []string {
	inside, ok := strings.CutPrefix(string(c), quarantine)
	inside, closed := strings.CutSuffix(inside, ")")
	if !ok || !closed {
		return nil
	}
	return strings.Split(inside, ", ")
}

// lockStock sets stock of items apart that alerts name, and releases what they do not any
// more. It goes by what an entry is about to change: the alerts, a lot and what is known of
// it, or good stock that has come.
func (w *writer) lockStock() error {
	b, err := w.ledger.tx.Bucket(tableAlerts)
	if err != nil {
		return err
	}
	last, err := b.Last()
	if err != nil || last == nil || w.undoes != 0 { // an undo has the stock as it was
		return err
	}
	var alerts []Alert
	err = scan(w.ledger.tx, tableAlerts, "", func(_ string, a Alert) error {
		if !a.Undone {
			alerts = append(alerts, a)
		}
		return nil
	})
	if err != nil {
		return err
	}
	items, err := itemsToLock(w.changes)
	for _, item := range items {
		if named := func(a Alert) bool { return a.ever(item) }; err == nil && slices.ContainsFunc(alerts, named) {
			err = w.lockItem(item, alerts)
		}
	}
	return err
}

// ever reports whether an issue of an alert is of an item.
func (a Alert) ever(item string) bool {
	return slices.ContainsFunc(a.Issues, func(i Issue) bool { return i.Item == item })
}

func itemsToLock(changes []Change) ([]string, error) {
	var items []string
	note := func(item string) {
		if item != "" && !slices.Contains(items, item) {
			items = append(items, item)
		}
	}
	for _, c := range changes {
		switch c.Table {
		case tableLots:
			is, err := lotTable.touches(c)
			if err != nil {
				return nil, err
			}
			note(is.item)
		case tableStock:
			k, err := parseStockKey(c.Key)
			if err != nil {
				return nil, err
			}
			if k.Condition == Good && c.Delta != nil && c.Delta.Quantity.Sign() > 0 {
				note(k.Item)
			}
		case tableAlerts:
			a, err := decode[Alert](c.After)
			if err != nil {
				return nil, err
			}
			for _, i := range a.Issues {
				note(i.Item)
			}
		}
	}
	return items, nil
}

// lockItem brings the condition of all stock of an item up to the alerts.
func (w *writer) lockItem(item string, alerts []Alert) error {
	lots, err := lotsOf(w.ledger.tx, item)
	if err != nil {
		return err
	}
	byName := map[string]Lot{}
	for _, l := range lots {
		byName[l.Name()] = l
	}
	var heaps []Holding
	err = scan(w.ledger.tx, tableStock, item+keySeparator, func(key string, a Amount) error {
		k, err := parseStockKey(key)
		if k.Condition == Good || k.Condition.Alerts() != nil {
			heaps = append(heaps, Holding{k, a})
		}
		return err
	})
	if err != nil {
		return err
	}
	for _, h := range heaps {
		lot, recorded := byName[h.Lot]
		if !recorded {
			lot = unrecorded(item, h.Lot)
		}
		var by []string
		for _, a := range alerts {
			if a.locks(lot, byName) {
				by = append(by, a.Name())
			}
		}
		to := h.StockKey
		if to.Condition = Quarantined(by...); to == h.StockKey {
			continue
		}
		if err := w.carryCounted(h.StockKey, to, true); err != nil {
			return err
		}
		if err := w.stock(h.StockKey, h.Amount.Neg()); err != nil {
			return err
		}
		if err := w.stock(to, h.Amount); err != nil {
			return err
		}
	}
	return nil
}
