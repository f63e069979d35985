package record

// NewSchema names the shape of what new answers.
const NewSchema = "loudfor/new/1"

// New is a folder that was made to start from.
type New struct {
	Schema  string   `json:"schema"`
	Folder  string   `json:"folder" doc:"the folder that was made"`
	Files   []string `json:"written" doc:"its files"`
	Samples bool     `json:"samples,omitempty" doc:"true where the parts are samples"`
	Parts   int      `json:"parts,omitempty" doc:"how many of the list"`
}
