package counter

import (
	"fmt"
	"html/template"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"

	"github.com/piglig/go-qr"
)

// A link for other screens in the same network, with a code to scan. The link
// holds the question and no token: who opens it for the first time is asked.

type shareBody struct {
	To    string // the view, on this machine
	Links []sharedLink
	Alone bool // only this machine can reach the page
	Token bool
}

type sharedLink struct {
	Address string
	Code    template.HTML // an SVG of squares
}

func (c *Counter) showShare(v *visit) error {
	to := one(v.URL.Query(), "to")
	if !ownAddress(to) {
		to = pathBuilds
	}
	body := &shareBody{To: to, Token: c.options.Token != "", Alone: c.options.Token == ""}
	if !body.Alone {
		for _, host := range shareHosts(v.Request, c.options.Hosts) {
			address := "http://" + host + to
			code, err := codeOfLink(address)
			if err != nil {
				return unknownError{"the address of this view is too long for a code to scan"}
			}
			body.Links = append(body.Links, sharedLink{address, code})
		}
	}
	p := c.page(v, nil, "share", "Show it on another screen")
	p.Body = body
	return c.show(v, p, "share")
}

// ownAddress tells a view of this page from anything else.
func ownAddress(to string) bool {
	u, err := url.Parse(to)
	return err == nil && len(to) <= mostQuery && !u.IsAbs() && u.Host == "" && strings.HasPrefix(u.Path, "/") && !strings.HasPrefix(to, "//") && !strings.Contains(to, `\`)
}

// shareHosts are the names under which others reach the page: the one by which
// this visitor does, if it is not this machine's own, the names that were allowed,
// and the machine's addresses in private networks.
func shareHosts(r *http.Request, names []string) (hosts []string) {
	name, port, err := net.SplitHostPort(r.Host)
	if err != nil {
		name, port = r.Host, "80"
	}
	add := func(host string) {
		if host = net.JoinHostPort(host, port); !slices.Contains(hosts, host) {
			hosts = append(hosts, host)
		}
	}
	if ip, err := netip.ParseAddr(name); err == nil && !ip.IsLoopback() && !ip.IsUnspecified() {
		add(name)
	}
	for _, name := range names {
		add(name)
	}
	all, err := net.InterfaceAddrs()
	if err != nil {
		return hosts
	}
	for _, one := range all {
		if prefix, err := netip.ParsePrefix(one.String()); err == nil && prefix.Addr().Is4() && prefix.Addr().IsPrivate() {
			add(prefix.Addr().String())
		}
	}
	return hosts
}

// quietZone is the white edge that a scanner needs, in squares (ISO/IEC 18004,
// section 5.3.8, from memory).
const quietZone = 4

// codeOfLink draws a QR code (ISO/IEC 18004): black squares on white in every
// scheme of colours, as scanners want them.
func codeOfLink(address string) (template.HTML, error) {
	code, err := go_qr.EncodeText(address, go_qr.Medium)
	if err != nil {
		return "", err
	}
	side := code.Size() + 2*quietZone
	var squares strings.Builder
	for y := range code.Size() {
		for x := range code.Size() {
			if code.Module(x, y) {
				fmt.Fprintf(&squares, "M%d %dh1v1h-1z", x+quietZone, y+quietZone)
			}
		}
	}
	return template.HTML(fmt.Sprintf(`<svg class="code" viewBox="0 0 %d %d" role="img" aria-label="Code to scan" shape-rendering="crispEdges"><path class="ground" d="M0 0h%dv%dH0z"/><path class="squares" d="%s"/></svg>`,
		side, side, side, side, squares.String())), nil
}
