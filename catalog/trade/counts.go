package trade

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"loudfor/catalog/expression"
)

// What cells say of numbers in words: how many pieces there are, how many channels,
// that a price is only where prices begin. Common practice, no source.

const (
	// pieceWords stand behind how many there are.
	pieceWords = `pair,pairs,paar,paare,paire,paires,par,pares,paio,paia,paren,para,pary,pcs,pc,pieces,piece,units,unit,left,stk,stck,stuck,st,pce,pces,ex,uds,ud,unidades,unidad,unid,uni,un,pz,pezzi,pezzo,stuks,stuk,pecas,peca,szt,sztuk,sztuki,sztuka,in stock,auf lager,en stock,op voorraad,em stock,na stanie`
	// soldOut are words for none.
	soldOut = `no,nein,non,nee,nao,nie,sold out,out of stock,none,no stock,not in stock,ausverkauft,nicht auf lager,nicht lieferbar,vergriffen,epuise,rupture,en rupture,rupture de stock,indisponible,non disponible,agotado,sin stock,no disponible,sin existencias,esaurito,esaurita,non disponibile,terminato,uitverkocht,niet op voorraad,niet leverbaar,op,esgotado,sem stock,indisponivel,brak,brak w magazynie,niedostepny,niedostepne,wyprzedane`
	// inStock are words for some.
	inStock = `in stock,yes,available,on stock,auf lager,lagernd,lieferbar,verfugbar,sofort lieferbar,ja,en stock,disponible,oui,dispo,si,en existencia,disponibile,in magazzino,pronta consegna,op voorraad,leverbaar,beschikbaar,op=op,op op,sim,em stock,disponivel,tak,dostepny,dostepne,dostepna,jest,na stanie,last ones,few left,plenty,wenige`
	// beginnings stand before the lowest of several prices.
	beginnings = `from,ab,starting at,as from,a partir de,des,a partir du,desde,a contar de,da,a partire da,vanaf,v a,va,od,juz od,ca,circa,env,environ,aprox,ok,approx,about,etwa,ungefahr`
)

// sets has the phrases of each of these lists.
var sets = sync.OnceValue(func() map[string]map[string]int {
	out := map[string]map[string]int{}
	for _, list := range []string{pieceWords, soldOut, inStock, beginnings} {
		out[list] = dictionaryOf(map[int]string{1: list}).of
	}
	return out
})

func oneOf(text, list string) bool { return sets()[list][text] > 0 }

// counted is a number with words behind it or without.
var counted = expression.Late(`^(\d{1,9})\s*(?:x\s*)?(\pL[\pL ]*)?$`)

// Pieces is how many pieces a cell says there are, as a number; known is false
// where it says that there are some, and not how many; ok is false where it says
// neither.
func Pieces(text string) (count string, known, ok bool) {
	folded := strings.TrimSpace(strings.Trim(Fold(text), "()!"))
	if strings.HasPrefix(strings.TrimSpace(text), "-") {
		return "", false, false
	}
	if m := counted().FindStringSubmatch(folded); m != nil && (m[2] == "" || oneOf(strings.TrimSpace(m[2]), pieceWords)) {
		return m[1], true, true
	}
	if oneOf(folded, soldOut) {
		return "0", true, true
	}
	if oneOf(folded, inStock) || someOf().MatchString(folded) {
		return "", false, true
	}
	return "", false, false
}

// someOf is a bound in place of a count: ">10", "10+", "5-10".
var someOf = expression.Late(`^(?:[<>≥≤]=?|uber|mehr als|plus de|mas de|oltre|meer dan|mais de|ponad|over|more than)\s*\d+\s*(?:\pL+)?$|^\d+\s*\+\s*(?:\pL+)?$|^\+\s*\d+$|^\d+ \d+$`)

// Beginning tells whether a price says that it is only the lowest of several, or
// about what it is: "ab 99", "dès 79,00 €".
func Beginning(text string) bool {
	folded := Fold(text)
	for word := range sets()[beginnings] {
		if rest, ok := strings.CutPrefix(folded, word); ok && rest != "" && strings.ContainsAny(rest[:1], " 0123456789~") {
			return true
		}
	}
	return strings.HasPrefix(folded, "~") || strings.HasPrefix(folded, ">") || strings.HasPrefix(folded, "<")
}

// channelled is a count before a word for channels, in digits or in words.
var channelled = sync.OnceValue(func() *regexp.Regexp {
	var words []string
	for word := range numbers {
		words = append(words, word)
	}
	slices.Sort(words)
	return regexp.MustCompile(`(?:^|[^\pL\d.,])([1-8]|` + strings.Join(words, "|") + `) ?(?:ch|chan|channels?|kan|kanaa?l(?:e|en|s|ig|ige|er)?|kanalow\pL*|kanaly?|canal|canaux|canales|canali|canale|canais|voies)(?:$|[^\pL\d])` +
		`|(?:^|[^\pL])(` + strings.Join(words, "|") + `)(?:kanal|kanaal|kanalow)`)
})

// numbers are the counts that names of amplifiers have in words.
var numbers = map[string]int{
	"mono": 1, "one": 1, "two": 2, "four": 4, "five": 5, "six": 6, "ein": 1, "zwei": 2, "vier": 4, "funf": 5, "sechs": 6, "un": 1, "deux": 2, "quatre": 4, "cinq": 5,
	"dos": 2, "cuatro": 4, "cinco": 5, "due": 2, "quattro": 4, "cinque": 5, "sei": 6, "twee": 2, "vijf": 5, "zes": 6, "dois": 2, "quatro": 4, "seis": 6, "jedno": 1, "dwu": 2, "cztero": 4, "piecio": 5, "szescio": 6,
}

// monos are words for an amplifier of one channel.
var monos = expression.Late(`(?:^|[^\pL])(?:mono|monoblocks?|monobloks?|monoendstufe|monoblocco|mono endstufe|monofonico|monofoniczny|monokanal|monocanal|monocanale|enkelkanaals)(?:$|[^\pL])`)

// Channels is how many channels the words of a text say; 0 where they say none, or
// two numbers.
func Channels(text string) int {
	folded := Fold(text)
	found := 0
	for _, m := range channelled().FindAllStringSubmatch(folded, -1) {
		n, err := strconv.Atoi(m[1])
		if err != nil {
			n = numbers[m[1]+m[2]]
		}
		if found != 0 && found != n {
			return 0
		}
		found = n
	}
	if monos().MatchString(folded) {
		if found > 1 {
			return 0
		}
		return 1
	}
	return found
}
