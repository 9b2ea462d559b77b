//go:build !small

package engine

import (
	"fmt"

	"github.com/geocoris/geocoris/internal/spraying/spray"
)

// A Product is what was typed off the label: a name, and an amount for each acre or
// hectare.
type Product struct{ spray.Product }

func (p Product) String() string {
	return fmt.Sprintf("%s=%g%s/%s", p.Name, p.Amount, p.Unit, p.Per)
}

// UnmarshalText takes a text such as "product A=3lb/ac".
func (p *Product) UnmarshalText(text []byte) (err error) {
	p.Product, err = spray.ParseProduct(string(text))
	return err
}

// MarshalText writes what [Product.UnmarshalText] reads.
func (p Product) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// Products are what was typed off the label.
type Products []Product

// Set adds one.
func (p *Products) Set(text string) error {
	var one Product
	err := one.UnmarshalText([]byte(text))
	if err == nil {
		*p = append(*p, one)
	}
	return err
}

func (p *Products) String() string { return spaced(*p) }
func (p *Products) Type() string   { return "NAME=AMOUNT" }

func (p Products) plain() (out []spray.Product) {
	for _, one := range p {
		out = append(out, one.Product)
	}
	return out
}
