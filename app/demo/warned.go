package demo

import (
	"stowright/store"
	"stowright/store/build"
	"stowright/store/measure"
)

// Warned adds an alert on washers, of which one lot is named for certain and of another nobody
// knows when it was sent, and a can that expires soon, to a shop that has unpacked them. It is for pictures, as Fleet is.
func Warned(shop *store.Shop) error {
	const washers = "NAS1149F0332P"
	places, err := shop.Places()
	if err != nil {
		return err
	}
	shelf := map[string]string{} // ids by name
	for _, p := range places {
		shelf[p.Name] = p.ID
	}
	lots, err := shop.Lots(washers)
	if err != nil {
		return err
	}
	for _, l := range lots {
		if _, err := shop.DescribeLot(l.Number, store.LotFacts{Shipped: on(2026, 3, 9), Origin: build.FromKitMaker}); err != nil {
			return err
		}
	}
	if _, err := shop.PutIn(store.StockKey{Item: washers, Place: shelf["S4"]}, store.Exact(measure.Pieces(12)), store.LotsApart); err != nil {
		return err
	}
	bulletin, _, err := shop.AddPaper(store.Paper{Kind: store.BulletinPaper, Title: "SB-14", Issuer: "the maker", Date: on(2026, 3, 16), Kept: "binder 2"})
	if err != nil {
		return err
	}
	if _, _, err := shop.Alert(0, "Thin washers too soft", store.Issue{Day: on(2026, 3, 16), Item: washers, From: on(2026, 3, 1), Until: on(2026, 3, 31), Paper: bulletin.Name()}); err != nil {
		return err
	}
	const primer = "OT-PRIMER"
	if _, err := shop.PutIn(store.StockKey{Item: primer, Place: shelf["S4"]}, store.Exact(measure.Of(1, measure.Quart)), store.LotsApart); err != nil {
		return err
	}
	cans, err := shop.Lots(primer)
	if err != nil {
		return err
	}
	_, err = shop.MarkLot(cans[0].Number, "B-17", store.LotFacts{Expiry: &store.Expiry{Day: on(2026, 4, 2), Source: "on the can"}, Origin: build.OutsideAviation})
	return err
}
