package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"strings"
	"sync"
	"time"
)

// What is longer than a screen comes page by page, a section each, where somebody sits
// at a terminal; and work that takes long says there what it is.

// turn writes an answer; paged asks for a form feed between its sections.
func (c *console) turn(write func(w io.Writer, paged bool) error) error {
	if c.keys == nil {
		return write(c.out, false)
	}
	var text bytes.Buffer
	if err := write(&text, true); err != nil {
		return err
	}
	return c.turnPages(strings.Split(text.String(), "\f"))
}

// turnPages shows pages, and waits for a key line between them: q ends.
func (c *console) turnPages(pages []string) error {
	keys := bufio.NewReader(c.keys)
	for i, page := range pages {
		if _, err := io.WriteString(c.out, page); err != nil || i == len(pages)-1 {
			return err
		}
		fmt.Fprintf(c.err, "\n-- page %d of %d: Enter turns it, q ends --", i+1, len(pages))
		answer, err := heard(c.interrupted, func() (string, error) {
			line, err := keys.ReadString('\n')
			if err == io.EOF {
				err = context.Canceled // nobody is there
			}
			return line, err
		})
		if err != nil || strings.HasPrefix(strings.ToLower(strings.TrimSpace(answer)), "q") {
			fmt.Fprintln(c.err)
			return nil
		}
	}
	return nil
}

// working says on the terminal what takes longer than one has patience for, until what
// it gives is called.
func (c *console) working(what string) (done func()) {
	if c.terminal == nil || c.quiet {
		return func() {}
	}
	var mutex sync.Mutex
	said, over := false, false
	timer := time.AfterFunc(patience, func() {
		mutex.Lock()
		defer mutex.Unlock()
		if said = !over; said {
			fmt.Fprintf(c.terminal, "%s ...", what)
		}
	})
	return func() {
		timer.Stop()
		mutex.Lock()
		defer mutex.Unlock()
		if over = true; said {
			fmt.Fprintf(c.terminal, "\r%*s\r", len(what)+len(" ..."), "")
		}
	}
}
