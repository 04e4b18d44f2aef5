package quantity

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseMoney(t *testing.T) {
	for _, c := range []struct {
		text string
		want Money
		say  string
	}{
		{"500 EUR", Money{500, "EUR"}, "500.00 EUR"},
		{" 12.5USD ", Money{12.5, "USD"}, "12.50 USD"},
		// ISO 4217: the yen has no minor unit, the dinar of Kuwait three decimals.
		{"1250 JPY", Money{1250, "JPY"}, "1250 JPY"},
		{"0.1234 KWD", Money{0.1234, "KWD"}, "0.123 KWD"},
		{"0 EUR", Money{0, "EUR"}, "0.00 EUR"},
	} {
		m, err := ParseMoney(c.text)
		if err != nil || m != c.want || m.String() != c.say {
			t.Errorf("%q: %v, %v, want %v, %q", c.text, m, err, c.want, c.say)
		}
	}
	for text, want := range map[string]string{
		"": "no number", "500": "no currency", "500 eur": "no code", "500 XQQ": "no code", "EUR 500": "no number", "1,000 EUR": "comma",
		"-1 EUR": "no amount", "1e400 EUR": "no amount", "NaN EUR": "no number", "500 €": "no code", strings.Repeat("1", 300) + " EUR": "too long",
	} {
		if m, err := ParseMoney(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, %v, want %q", text, m, err, want)
		}
	}
}

// What is printed is read again as the same to half of the last decimal.
func TestMoneyRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Money{rapid.Float64Range(0, 1e6).Draw(t, "amount"), rapid.SampledFrom([]string{"EUR", "USD", "CHF"}).Draw(t, "currency")}
		again, err := ParseMoney(m.String())
		if err != nil || again.Currency != m.Currency || math.Abs(again.Amount-m.Amount) > 0.005+1e-9 {
			t.Fatalf("%v becomes %v: %v", m, again, err)
		}
	})
}

func FuzzParseMoney(f *testing.F) {
	for _, s := range []string{"500 EUR", "1e3JPY", "", "5,5 EUR", "\xff EUR"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if m, err := ParseMoney(s); err == nil && !(m.Amount >= 0 && m.Amount <= mostMoney && IsCurrency(m.Currency)) {
			t.Fatalf("%q is taken as %+v", s, m)
		}
	})
}
