package record

// ServeSchema names the shape of what serve says when it has started.
const ServeSchema = "loudfor/serve/1"

// Serve is where the page is.
type Serve struct {
	Schema      string `json:"schema"`
	URL         string `json:"url"`
	Parts       int    `json:"parts"`
	Warnings    int    `json:"warnings"`
	TokenNeeded bool   `json:"token_needed"`
	Token       string `json:"token,omitempty"` // if it was drawn
}

// ServeHelp is the part of Help about the page.
const ServeHelp = `
loudfor serve --json (one document when the page can be reached)
  schema        "loudfor/serve/1"
  url           where the page is
  parts, warnings  of the catalogue
  token_needed  true where other machines can reach it
  token         the token, if one was drawn
  The page itself answers requests with "Accept: application/json":
    /  as pick, /ladder as ladder, /build and /quote as predict,
    /book  {schema: "loudfor/page-book/1", jobs: [{job, name, customer, quoted,
           state, differs, waiting}]}: what became of each last quote
`
