package trade_test

import (
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/trade"
)

// Headings as lists of eight countries have them. Common practice, no source.
func TestHeading(t *testing.T) {
	for text, want := range map[string]string{
		"Fréquence de résonance (Hz)":   "resonance frequency ( hz )",
		"Leistung RMS @ 2 Ohm":          "rms power @ 2 ohm",
		"Vermogen RMS bij 2 ohm":        "rms power at 2 ohm",
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
		"Bezeichnung / Nombre":          "name",
		"Preis / Bestand":               "price / stock",
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
		trade.Beginning(text)
		if n := trade.Channels(text); n < 0 || n > 8 {
			t.Errorf("%q has %d channels", text, n)
		}
		if count, known, ok := trade.Pieces(text); known && (!ok || strings.Trim(count, "0123456789") != "" || count == "") {
			t.Errorf("%q: %q pieces", text, count)
		}
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

func TestPieces(t *testing.T) {
	for text, want := range map[string]string{
		"3": "3", "2 Stk": "2", "2 Stk.": "2", "3 pcs": "3", "2 uds": "2", "1 szt.": "1", "2 st.": "2", "4 un.": "4", "12 x": "12", "5 Stück auf Lager": "?",
		"ausverkauft": "0", "épuisé": "0", "brak": "0", "nein": "0", "nie": "0", "ja": "some", "auf Lager": "some", "op=op": "some", ">10": "some", "10+": "some", "5-10": "some",
		"-3": "?", "2.5": "?", "2 boxes": "?", "A4": "?",
	} {
		count, known, ok := trade.Pieces(text)
		got := count
		switch {
		case !ok:
			got = "?"
		case !known:
			got = "some"
		}
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

func TestBeginning(t *testing.T) {
	for text, want := range map[string]bool{
		"ab 99,00": true, "dès 79 €": true, "à partir de 79": true, "desde 79,00 €": true, "od 249,00": true, "from $99": true, "vanaf € 99,-": true, "a partir de 199,00": true, "~99": true,
		"99,00 €": false, "AUD 99": false, "DKK 99": false, "99": false, "odd 4": false, "CA$129": false, "CAD 99": false,
	} {
		if got := trade.Beginning(text); got != want {
			t.Errorf("%q: %v", text, got)
		}
	}
}

func TestChannels(t *testing.T) {
	for text, want := range map[string]int{
		"Sonel A4, 4 canaux": 4, "Vierkanalverstärker": 4, "4-channel amplifier": 4, "Wzmacniacz 4-kanałowy": 4, "czterokanałowy": 4, "KR-M mono, 1-kanaals": 1, "monoblok": 1,
		"Endstufe 2-Kanal": 2, "quattro canali": 4, "amp 5ch": 5, "2 canais": 2, "vierkanaals": 4, "W1": 0, "4 canaux ou 2 canaux": 0, "mono, 4 ohm": 1, "14 canaux": 0, "4 kabels": 0, "Monaro 500": 0, "KR 2K": 0,
	} {
		if got := trade.Channels(text); got != want {
			t.Errorf("%q: %d, want %d", text, got, want)
		}
	}
}
