package counter

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"fmt"
	"net/http"
	"strings"
	"time"
)

// The gate stands where the page can be reached from other machines: it asks
// for a token once, and knows the browser by a cookie afterwards.
//
// The cookie is a stamp under a secret that is drawn at each start: it does
// not hold the token, cannot be made from it, and ends with the program.
// Everything is compared in constant time, by its hash, so that not even its
// length shows.

// LeastToken is the shortest token that may be chosen.
const LeastToken = 12

const cookieName = "loudfor-entered"

// wrongDelay makes guessing slow, and guessers wait for each other. Whoever has
// entered never waits for them: see bounded.
var wrongDelay = 500 * time.Millisecond

type gate struct {
	token [sha256.Size]byte
	open  bool // no token is asked for
	stamp string
	slow  chan struct{}
}

// NewToken draws a token that nobody guesses: 128 bits.
func NewToken() string { return strings.ToLower(rand.Text()) }

func newGate(token string) *gate {
	g := &gate{open: token == "", token: sha256.Sum256([]byte(token)), slow: make(chan struct{}, 1)}
	secret := make([]byte, sha256.Size)
	if _, err := rand.Read(secret); err != nil {
		panic(err) // documented never to happen
	}
	mac := hmac.New(sha256.New, secret)
	mac.Write([]byte(cookieName))
	g.stamp = hex.EncodeToString(mac.Sum(nil))
	return g
}

func (g *gate) fits(token string) bool {
	sum := sha256.Sum256([]byte(token))
	return subtle.ConstantTimeCompare(sum[:], g.token[:]) == 1
}

// entered tells whether a request comes from someone who had the token.
func (g *gate) entered(r *http.Request) bool {
	if g.open {
		return true
	}
	if cookie, err := r.Cookie(cookieName); err == nil && subtle.ConstantTimeCompare([]byte(cookie.Value), []byte(g.stamp)) == 1 {
		return true
	}
	token, ok := bearer(r)
	return ok && g.fits(token)
}

// bearer is the token that a script sends along (RFC 6750).
func bearer(r *http.Request) (token string, ok bool) {
	return strings.CutPrefix(r.Header.Get("Authorization"), "Bearer ")
}

// guard lets nothing through but the door itself and what it looks like.
func (g *gate) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if _, guessed := bearer(r); guessed && !g.entered(r) && g.linger(r) != nil {
			return
		}
		switch {
		case g.entered(r), r.URL.Path == pathEnter, strings.HasPrefix(r.URL.Path, pathAssets):
			next.ServeHTTP(w, r)
		case r.Method == http.MethodGet && strings.Contains(r.Header.Get("Accept"), "text/html"):
			http.Redirect(w, r, pathEnter, http.StatusSeeOther)
		default:
			w.Header().Set("WWW-Authenticate", `Bearer realm="loudfor"`)
			http.Error(w, "a token is needed: Authorization: Bearer ...", http.StatusUnauthorized)
		}
	})
}

// linger is what a wrong token costs: the time of all that came before it, and
// its own. The error is for who does not wait for it.
func (g *gate) linger(r *http.Request) error {
	select {
	case g.slow <- struct{}{}:
		defer func() { <-g.slow }()
	case <-r.Context().Done():
		return r.Context().Err()
	}
	select {
	case <-time.After(wrongDelay):
	case <-r.Context().Done():
	}
	return r.Context().Err()
}

// try compares what a visitor typed; a wrong one takes its time.
func (g *gate) try(w http.ResponseWriter, r *http.Request, token string) error {
	if !g.fits(token) {
		if err := g.linger(r); err != nil {
			return err
		}
		return fmt.Errorf("that is not the token which the program printed, or was given in its environment")
	}
	http.SetCookie(w, &http.Cookie{Name: cookieName, Value: g.stamp, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
	return nil
}
