package catalog

import (
	"fmt"
	"math"
	"slices"

	"loudfor/catalog/document"
)

// Some slips show only beside the other parts of the shelf: a price with a
// digit missing, one part under two numbers.

// fewestPrices is how many prices of a kind tell what is usual for it.
const fewestPrices = 8

// A price is out of line where its logarithm lies more than outlierScore
// robust standard deviations under the median (the modified z-score of
// Iglewicz and Hoaglin, "How to Detect and Handle Outliers", 1993, who advise
// 3.5; from memory), and the price is under the median by outlierRatio at
// least: a shelf where all cost much the same has no outliers.
const (
	outlierScore = 3.5
	outlierRatio = 4
	// normalMAD turns a median absolute deviation into the standard deviation
	// of a normal distribution.
	normalMAD = 1.4826
)

// checkPrices finds parts that are cheap enough to be a mistake. Dear ones need no
// word: the search does not buy them.
func (c *Catalogue) checkPrices() (found []Problem) {
	for k := range KindCount {
		var parts []*Part
		var logs []float64
		for _, p := range c.ByKind(k) {
			if p.Priced && p.Price.Minor > 0 {
				parts, logs = append(parts, p), append(logs, math.Log(float64(p.Price.Minor)))
			}
		}
		if len(parts) < fewestPrices {
			continue
		}
		middle := median(logs)
		away := make([]float64, len(logs))
		for i, l := range logs {
			away[i] = math.Abs(l - middle)
		}
		least := middle - max(outlierScore*normalMAD*median(away), math.Log(outlierRatio))
		for i, p := range parts {
			if logs[i] >= least {
				continue
			}
			usual := Money{Minor: int64(math.Round(math.Exp(middle))), Currency: c.Currency}
			found = append(found, c.problem(Warning, p, "price", fmt.Sprintf("%s: %s is very cheap for %s%s", p.SKU, p.Price, articles[k], kindWords[k]),
				fmt.Sprintf("check it: half of the %d others cost more than %s; as it stands, the search takes it at its price", len(parts)-1, usual)))
		}
	}
	return found
}

func median(values []float64) float64 {
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// checkTwins finds parts that differ in nothing but their number, price and
// shop. It may be one part at two shops, or an opened box: no mistake, but
// worth knowing before somebody wonders why one of them never wins.
func (c *Catalogue) checkTwins() (found []Problem) {
	first := map[string]*Part{}
	for _, p := range c.Parts {
		what, ok := description(p)
		if !ok {
			continue
		}
		twin := first[what]
		if twin == nil {
			first[what] = p
			continue
		}
		found = append(found, c.problem(Info, p, "sku", fmt.Sprintf("%s: every figure is that of %s", p.SKU, twin.SKU),
			"if they are one part, keep one number; the search takes the cheaper of the two first").Citing(twin.At("sku"), "the other one"))
	}
	return found
}

// plainKinds say so little about a part that two of them are often alike.
var plainKinds = []Kind{KindConverter, KindBlocker, KindKit, KindSheet, KindWorkshop}

// description is what a part is, without what it is called and what it costs.
func description(p *Part) (string, bool) {
	if slices.Contains(plainKinds, p.Kind) {
		return "", false
	}
	bare := *p
	bare.SKU, bare.Name, bare.Maker, bare.Store, bare.Note = "", "", "", "", ""
	bare.Priced, bare.Stock, bare.Limit = false, Unlimited, Unlimited
	w := document.NewWriter("", "")
	if err := writePart(w, &bare); err != nil {
		return "", false
	}
	text, err := w.Text()
	return text, err == nil
}
