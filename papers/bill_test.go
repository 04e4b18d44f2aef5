package papers

import (
	"bytes"
	"strings"
	"testing"

	"polewright/design"
	"polewright/draw"
	"polewright/stock"
)

// With a list of stock the bill says what each item is made from, what to buy, what it costs in all and what is missing; without one nothing.
func TestPurchases(t *testing.T) {
	d, err := design.Read(strings.NewReader("format = 1\n[target]\nfield = \"0.5 T\"\ncost = \"50 EUR\"\n[layout]\nkind = \"c-frame\"\n"), "")
	if err != nil {
		t.Fatal(err)
	}
	items := draw.Items(draw.Parts(d))
	if blocks, err := purchases(Source{Design: d}, items); err != nil || blocks != nil {
		t.Errorf("%v, %v", blocks, err)
	}
	l, err := stock.Read(bytes.NewReader(stock.Starter()), "dir/starter.csv")
	if err != nil {
		t.Fatal(err)
	}
	blocks, err := purchases(Source{Design: d, Stock: l}, items)
	if err != nil {
		t.Fatal(err)
	}
	bill, err := stock.BillOf(d, l)
	if err != nil {
		t.Fatal(err)
	}
	from, buy := blocks[0].(Table), blocks[1].(Table)
	if len(from.Rows) != len(items) || from.Rows[0][0] != items[0].Letter || len(buy.Rows) != len(bill.Buy)+1 || buy.Caption != "What to buy, by the prices of starter.csv" {
		t.Errorf("%+v\n%+v", from, buy)
	}
	if last := buy.Rows[len(buy.Rows)-1]; last[5]+" EUR" != l.Money(bill.Cost).String() {
		t.Errorf("%q, the bill has %v", last, bill.Cost)
	}
	// Two arms of 90 mm from one bar of 500 mm: 500 - 2 (90 + 2 + 3) = 310 mm.
	if cells := buy.Rows[1]; cells[6] != "2 of 90 (310)" {
		t.Errorf("%q", cells)
	}
	if box := blocks[3].(Box); len(box.Texts) != 1 || !strings.HasPrefix(box.Texts[0], "leg: not in stock; nearest is ") {
		t.Errorf("%+v", box)
	}
	if text := blocks[4].(Text); text != "The target allows 50.00 EUR: not met." {
		t.Errorf("%q", text)
	}
	for _, table := range []Table{from, buy} {
		for _, r := range table.Rows {
			if len(r) != len(table.Head) {
				t.Errorf("%d cells under %d heads: %q", len(r), len(table.Head), r)
			}
		}
	}
}
