package counter

import (
	"fmt"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// The way back: from a question to its address, and from a build to the code
// that stands for it in one.

// canonical fills in the values that differ from the base.
func (q *question) canonical() {
	b, base := &q.job.Brief, &q.base
	for _, s := range catalog.BriefSpecs() {
		now := b.Said(s.Key)
		switch {
		case s.Key == keyCap || s.Key == "stores" || slices.Equal(now, base.Said(s.Key)):
		case s.Key == "steps":
			switch then := laterSums(b); {
			case len(then) == 0:
				q.values.Set(keyThen, "")
			case !slices.Equal(then, laterSums(base)): // else only the cap is another one
				q.values[keyThen] = then
			}
		case len(now) == 0:
			q.values[s.Key] = []string{s.Default}
		default:
			q.values[s.Key] = now
		}
	}
	if b.Cap != base.Cap {
		q.values.Set(keyCap, b.Cap.Decimal())
	}
	if !slices.Equal(b.Stores, base.Stores) {
		q.values[keyStore] = b.Stores
		if b.Stores == nil {
			q.values[keyStore] = q.stores
		}
	}
	if q.worth != nil {
		q.values.Set(keyWorth, q.worth.Decimal())
	}
}

// link is the address of a view for this question; more are names and values
// besides. An empty value takes a name out.
func (q *question) link(path string, more ...string) string {
	values := url.Values{}
	for name, list := range q.values {
		values[name] = list
	}
	for i := 0; i+1 < len(more); i += 2 {
		if more[i+1] == "" {
			values.Del(more[i])
		} else {
			values.Set(more[i], more[i+1])
		}
	}
	if len(values) == 0 {
		return path
	}
	return path + "?" + values.Encode()
}

// key names what a search for this question answers.
func (q *question) key() string {
	values := url.Values{}
	for name, list := range q.values {
		if name != keyWorth && name != keyLanguage {
			values[name] = list
		}
	}
	return fmt.Sprintf("%d?%s", q.generation, values.Encode())
}

// reach is the price up to which the ladder is climbed: well above the base's
// cap, so that a slider has room, and for a higher cap the next round sum. It
// does not depend on where below it the cap stands: one ladder serves a slider
// from end to end.
func (q *question) reach() catalog.Money {
	const room = 1.6
	base, now := q.base.Cap, q.job.Brief.Cap
	top := roundUp(float64(base.Minor) * room)
	if now.Minor > top {
		top = roundUp(float64(now.Minor))
	}
	return catalog.Money{Minor: min(top, mostCap), Currency: now.Currency}
}

// roundUp is the next of 1, 1.5, 2, 3, 4, 5, 6, 8 in any power of ten.
func roundUp(value float64) int64 {
	if value <= 1 {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(value)))
	for _, step := range []float64{1, 1.5, 2, 3, 4, 5, 6, 8, 10} {
		if step*power >= value {
			return int64(math.Ceil(step * power))
		}
	}
	return int64(math.Ceil(value))
}

// ladderQuestion is the same question with the cap at the reach, and its key.
// Which boxes are worth building depends on the cap: each has a ladder of its own
// then, as in the command.
func (q *question) ladderQuestion() (catalog.Brief, string) {
	b := q.job.Brief
	b.Cap = q.reach()
	values := url.Values{}
	for name, list := range q.values {
		if name != keyWorth && name != keyLanguage && (name != keyCap || b.BuildBoxes) {
			values[name] = list
		}
	}
	return b, fmt.Sprintf("%d/%d?%s", q.generation, b.Cap.Minor, values.Encode())
}

// A build is named by its parts: "TM-12V~KE-M3~KE-D12*2". What else than
// letters, digits and . - _ is in a SKU is escaped, so that any SKU can stand
// between the signs.

const mostParts = 40 // kinds of part of one build, far more than any has

func codeOf(lines []optimizer.Line) string {
	var words []string
	for _, line := range lines {
		word := strings.ReplaceAll(url.QueryEscape(line.Part.SKU), "~", "%7E")
		if line.Count > 1 {
			word += "*" + strconv.Itoa(line.Count)
		}
		words = append(words, word)
	}
	return strings.Join(words, "~")
}

// partsOf reads a code; the error names what is not in the catalogue.
func partsOf(c *catalog.Catalogue, code string) ([]catalog.Mention, error) {
	if code == "" {
		return nil, fmt.Errorf("the address names no parts")
	}
	words := strings.Split(code, "~")
	if len(words) > mostParts {
		return nil, fmt.Errorf("the address names %d parts; a build has no more than %d", len(words), mostParts)
	}
	var parts []catalog.Mention
	for _, word := range words {
		escaped, times, several := strings.Cut(word, "*")
		count := 1
		if several {
			n, err := strconv.Atoi(times)
			if err != nil || n < 1 || n > 99 {
				return nil, fmt.Errorf("%q is not a number of pieces", clipped(times))
			}
			count = n
		}
		sku, err := url.QueryUnescape(escaped)
		if err != nil || c.Part(sku) == nil {
			return nil, fmt.Errorf("no part is called %q; it may have left the catalogue", clipped(escaped))
		}
		if slices.ContainsFunc(parts, func(m catalog.Mention) bool { return m.SKU == sku }) {
			return nil, fmt.Errorf("%s is named twice", sku)
		}
		parts = append(parts, catalog.Mention{SKU: sku, Count: count})
	}
	return parts, nil
}
