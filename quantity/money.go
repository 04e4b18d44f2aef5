package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"golang.org/x/text/currency"

	"polewright/mistake"
)

// Money is an amount of a currency, by its ISO 4217 code.
type Money struct {
	Amount   float64 `json:"amount"`
	Currency string  `json:"currency"`
}

// mostMoney is more than any bench costs, in the smallest of currencies.
const mostMoney = 1e12

const moneyHint = `write an amount and the three letters of a currency: "500 EUR"`

// ParseMoney reads an amount of zero or more with the code of its currency behind it, such as "500 EUR" or "12.50USD".
func ParseMoney(s string) (Money, error) {
	fail := func(what, hint string) (Money, error) {
		return Money{}, mistake.Of(fmt.Sprintf("%q: %s", mistake.Quote(s), what), hint)
	}
	text := strings.TrimSpace(s)
	if len(text) > longest {
		return fail("too long for an amount", moneyHint)
	}
	digits, code := split(text)
	if digits == "" {
		return fail("no number at the start", moneyHint)
	}
	if strings.HasPrefix(code, ",") {
		return fail("a comma in the number", "write a decimal point and no commas between thousands")
	}
	amount, err := strconv.ParseFloat(digits, 64)
	if err != nil || !(amount >= 0 && amount <= mostMoney) {
		return fail("no amount from 0 to 1e12", moneyHint)
	}
	if code == "" {
		return fail("no currency", moneyHint)
	}
	if !IsCurrency(code) {
		return fail(fmt.Sprintf("%q is no code of a currency", strings.ToValidUTF8(code, "?")), moneyHint)
	}
	return Money{amount, code}, nil
}

// IsCurrency tells whether a word is the code of a currency by ISO 4217, in capitals.
func IsCurrency(code string) bool {
	unit, err := currency.ParseISO(code)
	return err == nil && unit.String() == code
}

// String is the amount with the decimals that its currency has: "12.50 EUR", "1250 JPY".
func (m Money) String() string {
	decimals := 2
	if unit, err := currency.ParseISO(m.Currency); err == nil {
		decimals, _ = currency.Standard.Rounding(unit)
	}
	p := math.Pow(10, float64(decimals))
	s := strconv.FormatFloat(math.Round(m.Amount*p)/p+0, 'f', decimals, 64)
	return strings.TrimSpace(s + " " + m.Currency)
}
