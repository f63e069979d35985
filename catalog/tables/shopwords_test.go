package tables

import (
	"fmt"
	"strings"
	"testing"

	"loudfor/catalog"
)

// What a shop's words say is read by general rules; what is unsure is left out with a
// word, and never guessed.
func TestShopWords(t *testing.T) {
	for name, c := range map[string]struct{ text, want, said string }{
		"a heading Typ with kinds": {
			"Artikelnr;Typ;Bezeichnung;Preis in EUR;Zoll\nA;Gehäuse;geschlossen 30 l;49,00;12\n",
			"A enclosure 49.00 EUR", "volume taken from the words of the row"},
		"a heading Typ with models": {
			"Art;Marke;Typ;Preis (EUR);Kapazität\nBassblocker;Holter;HB 1;9,90;220 uF\n",
			"HOLTER-HB-1 bass blocker 9.90 EUR", ""},
		"titles between rows": {
			"SKU,Name,Price (USD),Capacitance,Gauge,Length\nBASS BLOCKERS\nA,x,5,220 uF,,\nWIRING KITS,,,,,\nB,y,6,,8 AWG,5 m\nSUMMER\nC,z,7,100 uF,,\n",
			"A bass blocker 5.00 USD; B wiring kit 6.00 USD; C bass blocker 7.00 USD", ""},
		"a cable is no kit": {
			"SKU,Name,Price (USD),Gauge,Length\nA,Speaker cable,5,4 mm2,10 m\nB,RCA cable 5 m,6,8 AWG,5 m\nC,Amp kit,7,8 AWG,5 m\n",
			"C wiring kit 7.00 USD", "what kind of part the row is"},
		"channels alone are no converter": {
			"SKU,Name,Price (USD),Channels\nA,TX 4,5,4\nB,TX 4 line converter,6,4\n",
			"B line converter 6.00 USD", "what kind of part the row is"},
		"a total in a list of one kind": {
			"Bass blockers\nSKU,Price (USD),Capacitance\nA,5,220 uF\nTotal,5,\n", "A bass blocker 5.00 USD", "states nothing that the kind bass blocker needs"},
		"prices that are none": {
			"SKU,Kind,Price (EUR),Capacitance\nA,blocker,ab 5,220 uF\nB,blocker,\"9,00 7,00\",220 uF\nC,blocker,5 - 7,220 uF\nD,blocker,259 219,220 uF\nE,blocker,1 299.00,220 uF\n",
			"A bass blocker none; B bass blocker none; C bass blocker none; D bass blocker none; E bass blocker 1299.00 EUR", "more than one price"},
		"all in the name": {
			"Art.-Nr.;Bezeichnung;VK brutto €\n1;Kabelset 20mm² 5m;39,00\n2;Adapterkabel Autoradio;9,00\n3;Bassblocker Paar 220 µF;7,00\n4;Subwoofergitter 12 Zoll;9,00\n5;Koax 16,5 cm 4 Ohm 60 W RMS;49,00\n",
			"1 wiring kit 39.00 EUR; 3 bass blocker 7.00 EUR; 5 front speakers 49.00 EUR", "may be source, but states nothing"},
		"a price of nothing": {"SKU,Kind,Price (EUR),Capacitance\nA,blocker,\"0,00\",220 uF\n", "A bass blocker 0.00 EUR", "the part costs nothing"},
		"a column of currencies": {
			"Art Nr;Bezeichnung;Preis;Währung;Kapazität\nA;Bassblocker;1.299,-;EUR;220 uF\nB;Bassblocker;1.299,00 €*;;220 uF\n", "A bass blocker 1299.00 EUR; B bass blocker 1299.00 EUR", ""},
		"outputs in a heading": {
			"SKU,Kind,Channels,Price (USD),4x4Ω,2 x 2 Ω\nA,amp,4,5,75 W,\nB,amp,3,5,,75 W\n", "A amplifier 5.00 USD", "not each of 3 channels"},
		"a currency in the title": {
			"\"Prices in PLN, in ALL shops\"\nSKU,Kind,Price,Capacitance\nA,blocker,5,220 uF\n", "A bass blocker 5.00 PLN", ""},
		"a woofer among speakers": {
			"Front speakers\nSKU,Name,Price (EUR)\nA,\"Orvane 13 cm 4 ohm, 40 W RMS\",50\nB,\"Subwoofer 4 ohm, 300 W RMS\",60\n", "A front speakers 50.00 EUR", "the row may be subwoofer, but a subwoofer needs the key \"size\""},
		"list prices in a list of several kinds": {
			"SKU,Kind,UVP (EUR),Listino (EUR),Prezzo (EUR),Capacitance\nA,blocker,9,8,5,220 uF\n", "A bass blocker 5.00 EUR", ""},
		"counts before powers": {
			"SKU,Kind,Channels,Price (EUR),RMS 4 ohm,RMS 2 ohm\nA,amp,4,5,4 x 75 W,110\nB,amp,5,5,4 x 75 W,110\n", "A amplifier 5.00 EUR", "4 times a power is not each of 5 channels"},
		"the most in Spanish": {
			"SKU,Kind,Precio (EUR),Tamaño,Bobinas,Potencia RMS\nA,sub,5,30 cm,D4,máx. 400 W\n", "A subwoofer 5.00 EUR", "\"máx. 400 W\" is not taken as rms"},
		"two values in the words": {
			"SKU,Kind,Name,Price (USD)\nA,kit,\"8 AWG, 5 m and 1 m\",5\nB,kit,\"8 AWG, 5 m\",6\n", "B wiring kit 6.00 USD", "needs the key \"length\""},
		"a column goes before the words": {
			"SKU,Kind,Name,Price (USD),Gauge,Length\nA,kit,\"8 AWG, 5 m\",5,4 AWG,6 m\n", "A wiring kit 5.00 USD 21.2 mm2 6 m", ""},
	} {
		t.Run(name, func(t *testing.T) {
			l, report := Read("list.csv", []byte(c.text), Options{Kind: catalog.KindCount, SkipBad: true})
			var got []string
			for _, p := range l.Parts {
				price := "none"
				if p.Priced {
					price = p.Price.String()
				}
				text := fmt.Sprintf("%s %s %s", p.SKU, p.Kind, price)
				if p.Kit != nil && strings.Contains(c.want, "mm2") {
					text += fmt.Sprintf(" %.1f mm2 %g m", p.Kit.Area*1e6, p.Kit.Length)
				}
				got = append(got, text)
			}
			var said strings.Builder
			for _, p := range append(report.Problems, l.Skipped...) {
				said.WriteString(p.Summary + "\n" + p.Detail + "\n")
			}
			if strings.Join(got, "; ") != c.want || !strings.Contains(said.String(), c.said) {
				t.Errorf("%s, want %s\n%s", strings.Join(got, "; "), c.want, &said)
			}
		})
	}
}

// What the words of a row state is taken only where it is that value, whole.
func TestValuesInWords(t *testing.T) {
	for words, want := range map[string]string{
		"30 cm, 4 Ohm DVC, 300 W RMS":                   "0.30 m, 2 x 4, 300",
		"30 cm DVC, 4 Ohm":                              "0.30 m, 2 x 4, 0",
		"30 cm Doppelschwingspule 2 Ohm":                "0.30 m, 2 x 2, 0",
		"30 cm doble bobina 4 ohmios, 600 W, 300 W RMS": "0.30 m, 2 x 4, 300",
		"30 cm bobina dupla 4+4 ohms":                   "0.30 m, 2 x 4, 0",
		"2 x 30 cm, 4 Ohm":                              "",
		"30 cm 2 x 4 Ohm DVC":                           "0.30 m, 2 x 4, 0",
		"30 cm 4 Ohm, 300/600 W RMS":                    "0.30 m, 1 x 4, 0",
		"30 cm 4 Ohm, 100-300 W RMS":                    "0.30 m, 1 x 4, 0",
		"30 cm 4 Ohm, 1 200 W RMS":                      "0.30 m, 1 x 4, 0",
		"30 cm 4 Ohm, 2 x 300 W RMS":                    "0.30 m, 1 x 4, 0",
		"30 cm 4 Ohm, Einbautiefe 12 cm":                "0.30 m, 1 x 4, 0",
		"Einbautiefe 12 cm, 4 Ohm":                      "",
		"60 cm x 40 x 35 cm, 4 Ohm":                     "",
		"30 cm, 4 Ohm, doppelte Schwingspule":           "0.30 m, 2 x 4, 0",
		"30 cm, 4 Ohm, Subwoofer DVC":                   "",
		"30 cm dual voice coil, Re 3.4 Ohm":             "",
	} {
		l, _ := Read("list.csv", []byte("SKU;Name;Price (EUR)\nS;Subwoofer "+words+";99,00\n"), Options{Kind: catalog.KindCount, SkipBad: true})
		got := ""
		if len(l.Parts) == 1 {
			c := l.Parts[0].Subwoofer.Card
			got = fmt.Sprintf("%.2f m, %d x %g, %g", c.Size, c.Coils, c.CoilLoad, c.Power)
		}
		if got != want {
			t.Errorf("%s: %q, want %q", words, got, want)
		}
	}
}

// A power in a column of its own, where it can be one thing only.
func TestPowersInACell(t *testing.T) {
	for text, want := range map[string]string{
		"300 W RMS": "300 W", "RMS 300 / max 600": "300", "max 600 W / RMS 300 W": "300 W", "1 200 W RMS": "1200 W",
		"100-300 W RMS": "100-300 W RMS", "RMS 100 - 300 W": "RMS 100 - 300 W", "RMS 100-300 W": "RMS 100-300 W", "2 x 300 W RMS": "2 x 300 W RMS", "RMS 2 x 300 W": "RMS 2 x 300 W",
	} {
		if got, lost := power(text); got != want || lost != "" {
			t.Errorf("%q: %q %s, want %q", text, got, lost, want)
		}
	}
}

// Coils as eight languages count them.
func TestCoilsInWords(t *testing.T) {
	for text, want := range map[string]string{
		"Dual 4": "2 x 4 ohm", "doppia 4+4": "2 x 4 ohm", "singola 4 Ω": "1 x 4 ohm", "doble bobina 4 ohm": "2 x 4 ohm", "dubbele spoel 2": "2 x 2 ohm", "Doppelschwingspule 2 x 2 Ohm": "2 x 2 ohm",
		"podwójna 4": "2 x 4 ohm", "bobine double 2": "2 x 2 ohm", "DVC 2 Ohm": "2 x 2 ohm", "einfach 4 Ohm": "1 x 4 ohm", "doppia 4+2": "doppia 4+2", "single 2x4": "single 2x4", "dual": "dual",
		"4 Ω DVC": "2 x 4 ohm", "4Ω dual": "2 x 4 ohm", "2 Ω x2": "2 x 2 ohm", "4 ohm (single)": "1 x 4 ohm", "D2/D4": "D2/D4",
	} {
		if got := coils(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
