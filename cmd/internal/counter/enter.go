package counter

import "net/http"

// The door of a page that can be reached from other machines.

type enterBody struct{ Wrong string }

func (c *Counter) showEnter(v *visit) error {
	if c.login.entered(v.Request) {
		return v.seeOther(pathBuilds)
	}
	return c.door(v, "", http.StatusOK)
}

func (c *Counter) enter(v *visit) error {
	if err := v.ParseForm(); err != nil {
		status, words := unread(err)
		return c.door(v, words[0], status)
	}
	if err := c.login.try(v.w, v.Request, v.PostForm.Get("token")); err != nil {
		return c.door(v, err.Error(), http.StatusForbidden)
	}
	return v.seeOther(pathBuilds)
}

func (c *Counter) door(v *visit, wrong string, status int) error {
	p := c.page(v, nil, "", "Token")
	p.Bare, p.News, p.Invented, p.Tabs = true, nil, false, nil
	p.status = status
	p.Body = enterBody{wrong}
	return c.show(v, p, "enter")
}
