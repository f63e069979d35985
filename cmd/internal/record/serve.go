package record

// ServeSchema names the shape of what serve says when it has started.
const ServeSchema = "loudfor/serve/1"

// Serve is where the page is.
type Serve struct {
	Schema      string `json:"schema"`
	URL         string `json:"url" doc:"where the page is"`
	Parts       int    `json:"parts" doc:"of the catalogue"`
	Warnings    int    `json:"warnings" doc:"about it"`
	TokenNeeded bool   `json:"token_needed" doc:"true where other machines can reach it"`
	Token       string `json:"token,omitempty" doc:"the token, if one was drawn"`
}
