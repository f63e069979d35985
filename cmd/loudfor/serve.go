package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/netip"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"runtime/debug"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"loudfor/catalog/letterhead"
	"loudfor/cmd/internal/counter"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
)

// tokenVariable holds the token of a page that other machines can reach. The
// command line would show it to everybody who lists the processes.
const tokenVariable = "LOUDFOR_TOKEN"

// standing is what serve is asked for besides the question.
type standing struct {
	addr, book string
	shop       string
	open       bool
	limits     limits
	hosts      []string
	lists      priceLists
}

func serveCommand(c *console) *cobra.Command {
	var w wishes
	var s standing
	cmd := &cobra.Command{
		Use:   "serve [BRIEF]",
		Short: "Open the page on which builder and customer look together",
		Long: `serve answers on an address of this machine with a page: the ranked builds, what
every price buys, one build in full, two or three side by side, why not a part,
the customer's quote for printing, the catalogue, the job book, uploads of parts
and prices, readings in the car. Each view has an address that can be bookmarked.
It needs no network and nothing else installed.

It reads a brief as pick does; everything about it can be changed on the page.
When a file of the catalogue or the brief changes, open pages follow.

Without --addr only this machine can reach it. With an address that others can
reach it asks for a token: the one in ` + tokenVariable + ` (at least 12 characters), or
one that it draws and prints. The connection is not encrypted: use it in a
network that you trust. An interrupt ends it; answers under way are finished.`,
		Example: `  loudfor serve --open
  loudfor serve brief.yaml --catalog parts/ --prices lists/ --book jobs.db
  ` + tokenVariable + `=... loudfor serve --catalog parts/ --cap 500 --addr 0.0.0.0:7250`,
		Args:              atMost(1, "one brief"),
		ValidArgsFunction: completeDemo(inputs.DemoBriefs),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			w.request.Brief = first(args)
			return serve(cmd, c, &w, s)
		},
	}
	w.flags(cmd)
	cmd.Flags().StringVar(&s.addr, "addr", "127.0.0.1:7250", "`address` to answer on; port 0 takes a free one")
	cmd.Flags().StringVar(&s.book, "book", "", "`file` of the job book, in which quotes are booked; made if there is none")
	cmd.Flags().StringVar(&s.shop, "shop", "", "`file` of the shop's own settings, for the head of its quotes (default: shop.yaml of the folder, if there is one)")
	s.lists.flags(cmd, true)
	cmd.Flags().BoolVar(&s.open, "open", false, "open the page in the browser")
	cmd.Flags().StringVar(&s.limits.memory, "memory", "300 MB", "about how `much` the program may take; half of it is for answers that are kept")
	cmd.Flags().StringArrayVar(&s.hosts, "host", nil, "`name` under which the page may be asked for besides addresses; may be given several times")
	return cmd
}

// usualShop is the file of the shop's own settings in the working folder, if there
// is one. A list of parts may have had that name for years.
func usualShop() string {
	text, err := os.ReadFile(letterhead.Usual)
	if errors.Is(err, fs.ErrNotExist) || bytes.Contains(append([]byte("\n"), text...), []byte("\nparts:")) {
		return ""
	}
	return letterhead.Usual
}

func serve(cmd *cobra.Command, c *console, w *wishes, s standing) error {
	beyond, err := beyondThisMachine(s.addr)
	if err != nil {
		return usageError{text: fmt.Sprintf("--addr %s: %v; write an address and a port, such as 127.0.0.1:7250", s.addr, err), command: cmd.CommandPath()}
	}
	if err := s.limits.check(cmd); err != nil {
		return err
	}
	if os.Getenv("GOMEMLIMIT") == "" { // who set it knows better
		debug.SetMemoryLimit(s.limits.bytes)
	}
	token, drawn := "", false
	if beyond {
		if token = os.Getenv(tokenVariable); token == "" {
			token, drawn = counter.NewToken(), true
		} else if len(token) < counter.LeastToken {
			return usageError{text: fmt.Sprintf("%s needs at least %d characters", tokenVariable, counter.LeastToken), command: cmd.CommandPath()}
		}
	}
	w.request.Stdin = c.in
	w.request = w.request.Settled()
	if w.request.Brief == "-" {
		return usageError{text: "serve reads its brief again when it changes, so it cannot come from standard input", command: cmd.CommandPath()}
	}
	if s.shop == "" && !w.request.Demo {
		s.shop = usualShop()
	}
	log := c.err
	if c.quiet {
		log = io.Discard
	}
	page, err := counter.Open(counter.Options{Request: w.request, Book: s.book, Shop: s.shop, Now: time.Now, Log: log,
		Lists: s.lists.load, Strict: s.lists.strict, Watch: s.lists.paths, Token: token, Hosts: s.hosts, Keep: s.limits.bytes / 2, Workers: w.workers, Seed: w.seed})
	if err != nil {
		return err
	}
	defer page.Close()
	listener, err := net.Listen("tcp", s.addr)
	if err != nil {
		return fmt.Errorf("nothing can be served on %s: %w; choose another address with --addr", s.addr, err)
	}
	url := "http://" + reachable(listener.Addr().String()) + "/"
	if err := c.announce(page, url, w.request, token, drawn); err != nil {
		return err
	}
	if s.open {
		if err := openBrowser(url); err != nil {
			fmt.Fprintf(c.err, "the browser does not open: %v\n", err)
		}
	}
	ctx, stop := signal.NotifyContext(cmd.Context(), syscall.SIGTERM)
	defer stop()
	return page.Serve(ctx, listener)
}

// announce says where the page is.
func (c *console) announce(page *counter.Counter, url string, r inputs.Request, token string, drawn bool) error {
	parts, warnings := page.Problems()
	if c.json {
		return c.writeJSON(record.Serve{Schema: record.ServeSchema, URL: url, Parts: parts, Warnings: warnings, TokenNeeded: token != "", Token: shown(token, drawn)})
	}
	from := "of the catalogue"
	if len(r.Catalog) == 0 {
		from = "of the built-in demo, which is invented"
	}
	c.origin.From = r.From
	if err := c.page().Close(); err != nil {
		return err
	}
	fmt.Fprintf(c.out, "The page is at %s\n%d parts %s, %d warnings. An interrupt (Ctrl-C) ends it.\n", c.style.Bold(url), parts, from, warnings)
	if token != "" {
		fmt.Fprintf(c.out, "Other machines can reach it, so it asks for a token: %s\nThe connection is not encrypted: use it in a network that you trust.\n", tokenWords(token, drawn))
	}
	return nil
}

func shown(token string, drawn bool) string {
	if drawn {
		return token
	}
	return ""
}

func tokenWords(token string, drawn bool) string {
	if drawn {
		return token
	}
	return "the one in " + tokenVariable
}

// beyondThisMachine tells whether an address can be reached from others.
func beyondThisMachine(addr string) (bool, error) {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return false, fmt.Errorf("not an address with a port")
	}
	if _, err := net.LookupPort("tcp", port); err != nil {
		return false, fmt.Errorf("%q is no port", port)
	}
	if host == "localhost" {
		return false, nil
	}
	ip, err := netip.ParseAddr(host)
	if host != "" && err != nil {
		return true, nil // a name: it may point anywhere
	}
	return host == "" || !ip.Unmap().IsLoopback(), nil
}

// reachable is the address to type where the program listens on all of them.
func reachable(addr string) string {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return addr
	}
	if ip, err := netip.ParseAddr(host); err == nil && ip.IsUnspecified() {
		return net.JoinHostPort("127.0.0.1", port)
	}
	return addr
}

// openBrowser hands the page to the desktop.
func openBrowser(url string) error {
	ctx, stop := context.WithTimeout(context.Background(), 10*time.Second)
	defer stop()
	switch runtime.GOOS {
	case "darwin":
		return exec.CommandContext(ctx, "open", url).Run()
	case "windows":
		return exec.CommandContext(ctx, "rundll32", "url.dll,FileProtocolHandler", url).Run()
	}
	return exec.CommandContext(ctx, "xdg-open", url).Run()
}
