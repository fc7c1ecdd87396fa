package demo

import (
	"stowright/app/session"
	"stowright/assets/demo"
	"stowright/store"
	"stowright/store/hardware"
)

// StowAll puts what was found of a shipment into the places where the demo keeps
// it, one entry a line, and returns how many lines that were.
func StowAll(shop *store.Shop, shipment string) (lines int, err error) {
	lies, err := placesByName(shop)
	if err != nil {
		return 0, err
	}
	done := map[string]bool{}
	for _, to := range demo.Stow() {
		l, err := shop.LineNumbered(shipment, to.Line)
		if err != nil {
			return lines, err
		}
		transfers, err := fromBag(shop, l, session.Canonical(hardware.Standard(), to.Designation), lies[to.Place])
		if err != nil {
			return lines, err
		}
		key := l.Place + to.Designation
		if len(transfers) == 0 || done[key] {
			continue
		}
		done[key] = true
		if _, err := shop.Stow(transfers...); err != nil {
			return lines, err
		}
		lines++
	}
	return lines, nil
}

// fromBag is what of an item lies in the bag of a line, on its way to a place.
func fromBag(shop *store.Shop, l store.Line, item, to string) ([]store.Transfer, error) {
	holdings, err := shop.Contents(l.Place)
	if err != nil {
		return nil, err
	}
	var transfers []store.Transfer
	for _, h := range holdings {
		if h.Item == item {
			transfers = append(transfers, store.Transfer{StockKey: h.StockKey, To: to, Meeting: store.PourLots})
		}
	}
	return transfers, nil
}

func placesByName(shop *store.Shop) (map[string]string, error) {
	places, err := shop.Places()
	if err != nil {
		return nil, err
	}
	ids := map[string]string{}
	for _, p := range places {
		if p.Kind.Storage() && !p.Retired {
			ids[p.Name] = p.ID
		}
	}
	return ids, nil
}
