package trade_test

import (
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/trade"
)

// Headings as lists of eight countries have them. Common practice, no source.
func TestHeading(t *testing.T) {
	for text, want := range map[string]string{
		"Fréquence de résonance (Hz)":   "resonance frequency ( hz )",
		"Leistung RMS @ 2 Ohm":          "rms power @ 2 ohm",
		"RMS a 4 ohmios":                "rms at 4 ohm",
		"Sicherung (A)":                 "fuse ( a )",
		"Potenza RMS":                   "rms power",
		"Moc max":                       "max power",
		"Prix d'achat":                  "cost to the shop",
		"Artikel-Nr.":                   "sku",
		"ŚREDNICA":                      "size",
		"Preis (€)":                     "price ( € )",
		"Leistung gebrückt 4 Ohm":       "power bridged 4 ohm",
		"Prix de la main d'œuvre":       "price de la main d oeuvre",
		"2.5 Ω":                         "2.5 ohm",
		"Vermogen RMS 4 ohm per kanaal": "rms power 4 ohm",
	} {
		if got := trade.Heading(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Whatever a heading holds: folding twice is folding once, and English stays.
func FuzzHeading(f *testing.F) {
	for _, text := range []string{"Fréquence (Hz)", "ŁÓDŹ_a-b", "RMS @ 2 Ω", "\u0345\u1e9e", "A.b.1.5"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if once := trade.Fold(text); trade.Fold(once) != once {
			t.Errorf("%q folds to %q, and that to %q", text, once, trade.Fold(once))
		}
		trade.Heading(text)
		trade.Kinds(text)
		trade.BoxType(text)
		trade.OnRequest(text)
	})
}

func TestKinds(t *testing.T) {
	for text, want := range map[string][]catalog.Kind{
		"Verstärker":                      {catalog.KindAmplifier},
		"Vierkanalverstärker":             {catalog.KindAmplifier},
		"Kit de cables para amplificador": {catalog.KindKit},
		"Amp wiring kit":                  {catalog.KindKit},
		"Subwoofer box 12\"":              {catalog.KindEnclosure},
		"Loaded box with 12\" subwoofer":  {catalog.KindLoaded},
		"Cajón sellado para un 12\"":      {catalog.KindEnclosure},
		"12\" subwoofer":                  {catalog.KindSubwoofer},
		"high/low converter 4ch":          {catalog.KindConverter},
		"Amplifiers and subs":             {catalog.KindSubwoofer, catalog.KindAmplifier},
		"T-shirt, black, L":               nil,
		"Lautsprecherkabel":               nil,
		"Gehäuse":                         {catalog.KindEnclosure},
		"Basluidspreker":                  {catalog.KindSubwoofer},
		"Einbau-Basslautsprecher":         {catalog.KindSubwoofer},
		"Voorluidsprekers":                {catalog.KindFront},
		"Haut-parleurs avant":             {catalog.KindFront},
		"HP de grave":                     {catalog.KindSubwoofer},
		"Głośniki przednie":               {catalog.KindFront},
		"Altifalantes dianteiros":         {catalog.KindFront},
		"Vierkanalverstärkern":            {catalog.KindAmplifier},
		"Caisson de grave":                {catalog.KindLoaded},
		"Convertisseur haut niveau":       {catalog.KindConverter},
		"Subwoofer grille 12\"":           nil,
		"Cavo RCA 5 m":                    nil,
		"Kondensator 1 F":                 nil,
		"Tweeter pair":                    nil,
		"Component set, tweeter 25 mm":    {catalog.KindFront},
		"Mono amp, bass remote":           {catalog.KindAmplifier},
		"Kabelset mit Cinchkabel":         {catalog.KindKit},
		"Wzmacniacz 4-kanałowy":           {catalog.KindAmplifier},
	} {
		if got := trade.Kinds(text); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}

func TestBoxTypeAndOnRequest(t *testing.T) {
	for text, want := range map[string]string{"Bassreflex": "vented", "Caixa selada 1 x 12": "sealed", "Passe-bande": "band-pass", "sealed or ported": "", "big": ""} {
		if got := trade.BoxType(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
	for text, want := range map[string]bool{"auf Anfrage": true, "P.O.A.": true, "call": true, "Nous consulter": true, "zapytaj o cenę": true, "39.00": false, "call of duty": false, "": false} {
		if got := trade.OnRequest(text); got != want {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}
