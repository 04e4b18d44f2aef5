package design

import (
	"strings"
	"testing"

	"polewright/quantity"
)

func TestTargetCost(t *testing.T) {
	read := func(cost string) (*Design, error) {
		return ReadTarget(strings.NewReader("format = 1\n[target]\nfield = \"0.5 T\"\ngap = \"10 mm\"\ncost = "+cost+"\n"), "t.toml")
	}
	d, err := read(`"500 EUR"`)
	if err != nil || d.Target.Cost == nil || *d.Target.Cost != (quantity.Money{Amount: 500, Currency: "EUR"}) {
		t.Errorf("%+v, %v", d, err)
	}
	for given, want := range map[string]string{
		`500`:        `t.toml:5: target.cost: 500: no amount with a currency`,
		`"500"`:      `t.toml:5: target.cost: "500": no currency`,
		`"500 euro"`: `t.toml:5: target.cost: "500 euro": "euro" is no code of a currency`,
		`"0 EUR"`:    `t.toml:5: target.cost: "0 EUR": zero`,
		`"-5 EUR"`:   `t.toml:5: target.cost: "-5 EUR": no amount from 0 to 1e12`,
		`"1,5 EUR"`:  `t.toml:5: target.cost: "1,5 EUR": a comma in the number`,
	} {
		if _, err := read(given); err == nil || !strings.HasPrefix(err.Error(), want+"\n  hint: write an amount") && !strings.HasPrefix(err.Error(), want+"\n  hint: write a decimal point") {
			t.Errorf("%s: got\n%v\nwant\n%s", given, err, want)
		}
	}
}
