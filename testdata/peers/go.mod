module stowright/testdata/peers

go 1.26.0

require (
	github.com/mattn/go-sqlite3 v1.14.53
	stowright v0.0.0
)

require golang.org/x/text v0.44.0 // indirect

replace stowright => ../..
