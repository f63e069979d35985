package record

// NewSchema names the shape of what new answers.
const NewSchema = "loudfor/new/1"

// New is a folder that was made to start from.
type New struct {
	Schema  string   `json:"schema"`
	Folder  string   `json:"folder"`
	Files   []string `json:"written"`
	Samples bool     `json:"samples,omitempty"` // the parts are samples
	Parts   int      `json:"parts,omitempty"`   // of the list that was read
}
