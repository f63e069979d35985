package readings

import (
	"fmt"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/units"
)

// A build in words, for a reading whose build has no file of its own, and for
// the job book, which must not depend on files that may be gone:
//
//	HU-STOCK, OR-M3, TM-12V x 2, KE-D12; mono; 2 ohm

// Parts reads a build in words: parts parted by commas, then the amplifier's
// mode and the load at each output if they are stated.
func Parts(text string) (parts []catalog.Mention, mode string, load float64, err error) {
	list, rest, _ := strings.Cut(text, ";")
	for item := range strings.SplitSeq(list, ",") {
		m := catalog.Mention{SKU: strings.TrimSpace(item), Count: 1}
		if k := max(strings.LastIndex(m.SKU, " x "), strings.LastIndex(m.SKU, " X ")); k > 0 {
			if n, bad := strconv.Atoi(strings.TrimSpace(m.SKU[k+3:])); bad == nil {
				if n < 1 || n > mostPieces {
					return nil, "", 0, fmt.Errorf("%d pieces of %s: name between 1 and %d", n, m.SKU[:k], mostPieces)
				}
				m.SKU, m.Count = strings.TrimSpace(m.SKU[:k]), n
			}
		}
		if m.SKU == "" {
			return nil, "", 0, fmt.Errorf("a part without a SKU in %q", text)
		}
		parts = append(parts, m)
	}
	for word := range strings.SplitSeq(rest, ";") {
		if word = strings.TrimSpace(word); word == "" {
			continue
		}
		if q, bad := units.Parse(word, units.Resistance); bad == nil && q.SI > 0 {
			load = q.SI
			continue
		}
		switch mode = strings.ToLower(word); mode {
		case "mono", "stereo", "bridged", "paralleled":
		default:
			return nil, "", 0, fmt.Errorf("%q is neither a mode (mono, stereo, bridged, paralleled) nor a load such as 2 ohm", word)
		}
	}
	return parts, mode, load, nil
}

// Words is the inverse of Parts.
func Words(parts []catalog.Mention, mode string, load float64) string {
	words := make([]string, len(parts))
	for i, m := range parts {
		words[i] = m.SKU
		if m.Count > 1 {
			words[i] = fmt.Sprintf("%s x %d", m.SKU, m.Count)
		}
	}
	out := strings.Join(words, ", ")
	if mode != "" {
		out += "; " + mode
	}
	if load > 0 {
		out += fmt.Sprintf("; %g ohm", load)
	}
	return out
}

const mostPieces = 99
